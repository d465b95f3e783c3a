"""
By when must each job of a plan begin, if nothing is to be late?

The walk goes backwards through the plan, as the backward pass of the critical path
method does: a job must end in time for its own due day, charged too, and before the
latest beginning of every job that waits for it. Each job is reckoned with the person
who has it in the plan and as if that person had nothing else to do on its last day.
"""

from collections.abc import Iterable

from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import TICKS, Bench, Job, ScheduleProblem

Moment = tuple[int, int]

TOO_LATE: Moment = (0, 0)
"""Stands where no workshop day is early enough."""


def latest_starts(problem: ScheduleProblem, plan: Plan) -> dict[int, Moment]:
    """
    Give the latest moment at which each job of a plan may begin.

    Parameters
    ----------
    problem
        The problem planned.
    plan
        The plan; whatever a job waits for stands before it.

    Returns
    -------
    dict[int, Moment]
        Workshop day and ticks after opening, by job; ``TOO_LATE`` where no day is early
        enough. A job that cannot be late, and that no such job waits for, is not in it.
    """
    jobs = {job.name: job for job in problem.jobs}
    benches = {bench.person: bench for bench in problem.benches}
    before: dict[int, list[Moment]] = {}
    latest: dict[int, Moment] = {}
    for slot in sorted(plan.slots, key=_ending, reverse=True):
        job, bench = jobs[slot.job], benches[slot.person]
        bounds = before.get(job.name, [])
        if job.due_day is None and not bounds:
            continue
        start = _latest_start(problem, bench, job, bounds)
        latest[job.name] = start
        for name in job.after:
            before.setdefault(name, []).append(start)
    return latest


def _ending(slot: Slot) -> tuple[int, int, int]:
    return slot.day, slot.end_ticks, slot.start_ticks


def _latest_start(
    problem: ScheduleProblem, bench: Bench, job: Job, bounds: Iterable[Moment]
) -> Moment:
    last_day, last_ticks = min(bounds, default=(job.due_day or 0, 0))
    by_others = {last_day: last_ticks} if bounds else {}
    due_day = last_day if job.due_day is None else job.due_day
    for day in range(min(last_day, due_day), 0, -1):
        end = _latest_end(problem, bench, job, day)
        start = min(end, by_others.get(day, end)) - bench.ticks_for(job)
        if bench.ticks_on(day) and start >= problem.taken_on(bench, day):
            return day, start
    return TOO_LATE


def _latest_end(problem: ScheduleProblem, bench: Bench, job: Job, day: int) -> int:
    """Give the latest ticks of a day at which the work may end, to be done in time."""
    end = bench.ticks_on(day)
    if job.due_day is None or problem.done_day(job, day, end) <= job.due_day:
        return end
    return min(end, problem.closing_ticks(day) - job.charge_minutes * TICKS)
