"""Who mends what on which day, what comes too late, and what can be promised?"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from turnscrew.core.batch.answer import Supply
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem, receiving
from turnscrew.core.schedule.rule import planned_by_rule
from turnscrew.core.stock.demand import FAR_DAY, Use
from turnscrew.flows.batch.supply import (
    DONOR_DAY,
    first_day,
    is_asked,
    is_worked_on,
    latest_answer,
    supplied,
)
from turnscrew.flows.batch.what_if import role_of

_MOST_TRIALS = 20_000
"""Beyond so many jobs to be planned again bench time is left out of answer-by days."""


def problem_by_rule(
    batch: BatchInput,
    devices: Sequence[DecidedDevice],
    supply: Supply,
    what_if: WhatIf,
) -> ScheduleProblem:
    """
    Pose the plan as the hand rule sees it: donor parts are free when all is stripped.

    Parameters
    ----------
    batch
        The batch.
    devices
        Its devices, decided.
    supply
        Where their parts come from.
    what_if
        Absences and answers.

    Returns
    -------
    ScheduleProblem
        The problem.
    """
    last_due = max((d.line.due_day or 0 for d in devices), default=DONOR_DAY)
    rank = DONOR_DAY if what_if.use_donors else last_due
    jobs: list[Job] = []
    for device in devices:
        if device.name in what_if.done:
            continue
        if not device.is_mended:
            jobs.append(_strip_job(device, rank, what_if))
        elif is_worked_on(device, what_if):
            own = supply.by_device.get(device.name, ())
            strips = tuple(n for n in supply.strips if n not in what_if.done)
            after = strips if any(_is_waited_for(use) for use in own) else ()
            jobs.append(_mending_job(device, own, after, what_if))
    benches = _benches(batch, what_if)
    minutes = sum(device.work.receive for device in devices)
    if what_if.is_received:
        minutes = 0
    return ScheduleProblem(tuple(jobs), benches, receiving(benches, minutes))


def problem_at_best(problem: ScheduleProblem, supply: Supply) -> ScheduleProblem:
    """
    Pose the plan with each donor part free when its own donor is stripped.

    Parameters
    ----------
    problem
        The plan as the hand rule sees it.
    supply
        Where the parts come from.

    Returns
    -------
    ScheduleProblem
        The problem; every plan by the rule that leaves nothing out fits it too.
    """
    uses = supply.by_device
    to_do = {job.name for job in problem.jobs}
    return replace(
        problem,
        jobs=tuple(
            replace(
                job,
                after=tuple(
                    sorted(
                        to_do
                        & {
                            use.donor
                            for use in uses.get(job.name, ())
                            if _is_waited_for(use)
                        }
                    )
                ),
            )
            for job in problem.jobs
        ),
    )


def _is_waited_for(use: Use) -> bool:
    """Say whether a donor must be stripped first: a piece given is out already."""
    return bool(use.donor) and use.given is None


def answer_days(
    batch: BatchInput,
    devices: Sequence[DecidedDevice],
    supply: Supply,
    what_if: WhatIf,
    problem: ScheduleProblem,
) -> dict[int, int | None]:
    """
    Give the answer-by day of every device that waits for an answer.

    Due day less the longest lead, and earlier where the hand rule would else not find
    the bench time. In a very large batch bench time is left out.

    Parameters
    ----------
    batch
        The batch.
    devices
        Its devices, decided.
    supply
        Where the parts of those in the plan come from.
    what_if
        Absences and late parcels.
    problem
        The plan as the hand rule sees it.

    Returns
    -------
    dict
        By device the workshop day at whose start the answer must be in hand; ``None``
        without a due day; below the first day if it is too late already.
    """
    days: dict[int, int | None] = {}
    asked = [device for device in devices if is_asked(device, what_if)]
    if asked and what_if.pending_day is None:
        # No plan waits for them: asked is until when a yes still helps, so one is
        # taken to come at once.
        what_if = replace(what_if, answers_on=what_if.start_day)
        supply = supplied(batch, devices, what_if)
        problem = problem_by_rule(batch, devices, supply, what_if)
    is_large = len(asked) * len(problem.jobs) > _MOST_TRIALS
    for device in asked:
        own = supply.by_device.get(device.name, ())
        latest = latest_answer(batch, device, own, what_if)
        days[device.name] = latest
        if latest is not None and is_worked_on(device, what_if) and not is_large:
            days[device.name] = _in_bench_time(problem, device, latest, what_if)
    return days


def _in_bench_time(
    problem: ScheduleProblem, device: DecidedDevice, latest: int, what_if: WhatIf
) -> int:
    """
    Go back from the latest day by parts to one the hand rule can keep.

    Where not even the first day would do, it is too late already.
    """
    first = what_if.start_day
    if _is_late(problem, device, latest, first):
        return min(latest, first - 1)
    days = range(latest, first, -1)
    in_time = (day for day in days if not _is_late(problem, device, latest, day))
    return next(in_time, min(latest, first))


def _is_late(
    problem: ScheduleProblem, device: DecidedDevice, latest: int, day: int
) -> bool:
    """Say whether a device is late by the hand rule if its answer comes on a day."""
    wait = (device.line.due_day or FAR_DAY) - latest
    moved = replace(
        problem,
        jobs=tuple(
            replace(job, release_day=day + wait) if job.name == device.name else job
            for job in problem.jobs
        ),
    )
    return device.name in planned_by_rule(moved).late(moved)


def _strip_job(device: DecidedDevice, rank: int, what_if: WhatIf) -> Job:
    return Job(
        name=device.name,
        kind=f"{device.line.model} strip",
        minutes=device.job_minutes,
        rank_day=rank,
        release_day=what_if.start_day,
        skills=device.skills,
    )


def _mending_job(
    device: DecidedDevice, uses: Sequence[Use], after: tuple[int, ...], what_if: WhatIf
) -> Job:
    parts_there = [use.ready_day for use in uses if not use.donor]
    line = device.line
    return Job(
        name=device.name,
        kind=f"{line.model} {'+'.join(line.found)}",
        minutes=device.job_minutes,
        rank_day=line.due_day or FAR_DAY,
        due_day=line.due_day,
        release_day=max([first_day(device, what_if), *parts_there]),
        after=after,
        skills=device.skills,
        charge_minutes=device.work.charge,
        never=next((h.says for h in device.holds if h.kind == "part gone"), ""),
    )


def _benches(batch: BatchInput, what_if: WhatIf) -> tuple[Bench, ...]:
    away = _away_days(batch, what_if)
    return tuple(
        Bench(
            person=role,
            minutes_a_day=person.minutes_a_day,
            pace=person.pace,
            skills=frozenset(person.skills),
            away=away[role],
        )
        for role, person in batch.people.items()
    )


def _away_days(batch: BatchInput, what_if: WhatIf) -> Mapping[str, frozenset[int]]:
    terms = batch.terms
    before = set(range(1, what_if.start_day))
    away: dict[str, set[int]] = {}
    for role, person in batch.people.items():
        away[role] = before | {
            terms.calendar.number_of(day, terms.received)
            for day in person.away
            if day >= terms.received and terms.calendar.is_open(day)
        }
    for absence in what_if.away:
        role = role_of(batch.people, absence.person)
        away[role] |= set(range(absence.first, absence.last + 1))
    return {role: frozenset(days) for role, days in away.items()}
