"""
What is the earliest plan in which everybody keeps a given order of jobs?

Beginning a job as early as its order allows never makes another one later, so the
orders alone decide how good a plan can be: of all plans with these orders none has a
device done earlier than this one.
"""

from collections.abc import Mapping, Sequence

from turnscrew.core.schedule.alike import Time, first_fit
from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import Job, ScheduleProblem

Orders = Sequence[Sequence[Job]]
"""The jobs of each person in order, in the order of the benches."""


def earliest_plan(
    problem: ScheduleProblem, orders: Orders, impossible: Mapping[int, str]
) -> Plan | None:
    """
    Lay orders out in time.

    Parameters
    ----------
    problem
        The problem.
    orders
        Who does what in which order.
    impossible
        Jobs left out, each with the reason.

    Returns
    -------
    Plan or None
        The plan; ``None`` if people would wait for each other for ever, or somebody has
        no day for a job.
    """
    ends: dict[int, Time] = {}
    slots: list[Slot] = []
    n_placed = [0] * len(orders)
    free = [(1, 0)] * len(orders)
    is_moving = True
    while is_moving:
        is_moving = False
        for who, order in enumerate(orders):
            for job in order[n_placed[who] :]:
                if any(name not in ends for name in job.after):
                    break
                ready = max([free[who], (job.release_day, 0)])
                ready = max([ready, *(ends[name] for name in job.after)])
                slot = _slot(problem, who, job, ready)
                if slot is None:
                    return None
                slots.append(slot)
                free[who] = ends[job.name] = (slot.day, slot.end_ticks)
                n_placed[who] += 1
                is_moving = True
    if len(slots) < sum(map(len, orders)):
        return None
    slots.sort(key=lambda slot: (slot.day, slot.start_ticks, slot.person))
    return Plan(tuple(slots), impossible)


def orders_in(problem: ScheduleProblem, plan: Plan) -> list[list[Job]]:
    """
    Give everybody's order of jobs in a plan.

    Parameters
    ----------
    problem
        The problem planned.
    plan
        The plan.

    Returns
    -------
    list[list[Job]]
        The jobs of each person, in the order of the benches.
    """
    jobs = {job.name: job for job in problem.jobs}
    return [
        [jobs[slot.job] for slot in plan.slots if slot.person == bench.person]
        for bench in problem.benches
    ]


def _slot(problem: ScheduleProblem, who: int, job: Job, ready: Time) -> Slot | None:
    bench = problem.benches[who]
    ticks = bench.ticks_for(job)
    found = first_fit(problem, bench, ticks, ready)
    if found is None:
        return None
    day, start = found
    done = problem.done_day(job, day, start + ticks)
    return Slot(bench.person, job.name, day, start, start + ticks, done)
