"""
Which plans does the hand rule give with other ranks than the day?

Where more is due than can be done, taking the earliest day first makes everything late.
Here those that can be in time by a rough reckoning come first, by due day and kind, and
the others follow, the shortest first, which keeps the sum of their tardiness low.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from heapq import heappush, heappushpop

from turnscrew.core.schedule.alike import Alike
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import LAST_DAY, TICKS, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule

_FILLINGS = (1.0, 0.95, 0.85)
"""Shares of the bench time taken to be filled. [1]"""


def ranked_plans(
    problem: ScheduleProblem, classes: Sequence[Alike], impossible: Mapping[int, str]
) -> Iterator[Plan]:
    """
    Plan by the hand rule with other ranks.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs that are planned.
    impossible
        Jobs left out, each with the reason.

    Yields
    ------
    Plan
        A plan.
    """
    awaited = {job.name for one in classes if one.is_awaited for job in one.jobs}
    jobs = [job for one in classes for job in one.jobs]
    for filling in _FILLINGS:
        in_time = _in_time(problem, jobs, filling)

        def rank(job: Job, in_time: set[int] = in_time) -> tuple[int, int, int, str]:
            is_late = job.name not in in_time and job.name not in awaited
            due = 0 if is_late or job.name in awaited else job.due_day or LAST_DAY
            return is_late, due, job.minutes, job.kind

        ranks = {key: i for i, key in enumerate(sorted({rank(job) for job in jobs}))}
        ranked = replace(
            problem, jobs=tuple(replace(j, rank_day=ranks[rank(j)]) for j in jobs)
        )
        plan = planned_by_rule(ranked)
        if len(plan.slots) == len(jobs):
            yield Plan(plan.slots, impossible)


def _in_time(problem: ScheduleProblem, jobs: Sequence[Job], filling: float) -> set[int]:
    """Keep as many jobs in time as fit, by leaving out the longest (Moore, Hodgson)."""
    due = sorted((j.due_day, j.minutes, j.name) for j in jobs if j.due_day is not None)
    kept: list[tuple[int, int]] = []
    work, room, day = 0, 0.0, 0
    for due_day, minutes, name in due:
        while day < due_day:
            day += 1
            room += filling * sum(
                max(0, bench.ticks_on(day) - problem.taken_on(bench, day))
                / (TICKS * float(bench.pace))
                for bench in problem.benches
            )
        work += minutes
        if work <= room:
            heappush(kept, (-minutes, name))
        else:
            work += heappushpop(kept, (-minutes, name))[0]
    return {name for _, name in kept}
