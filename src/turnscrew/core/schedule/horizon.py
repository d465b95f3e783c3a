"""
By when is everything done, in whatever order it is taken?

Begun as early as its order allows, a plan is never worse, so only such plans count. On
a day with everybody there, all day long, somebody is at work until no job that could be
begun fits into the rest of the day; that job is then begun the next such morning. So
the days of the shortest bench hold no more than all work once and, as gaps, once again;
and each such day ends one job at least. A due day after that day stands for that day.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import count, islice

from turnscrew.core.schedule.alike import Alike
from turnscrew.core.schedule.problem import TICKS, ScheduleProblem


def due_in_reach(
    problem: ScheduleProblem, classes: Sequence[Alike]
) -> tuple[Alike, ...]:
    """
    Draw far due days in to the day by which everything is done in any case.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs that are planned.

    Returns
    -------
    tuple[Alike, ...]
        The same classes, each due no later than that day; what is in time or late in a
        plan begun as early as its order allows stays so, by as many days.
    """
    last = done_at_most(problem, classes)
    return tuple(_due_by(one, last) for one in classes)


def done_at_most(problem: ScheduleProblem, classes: Sequence[Alike]) -> int:
    """
    Give the day by which every plan is done and charged, if begun as early as can be.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs that are planned.

    Returns
    -------
    int
        Workshop day.
    """
    able = frozenset[int]().union(*(one.able for one in classes))
    shortest = min(problem.benches[who].minutes_a_day for who in able) * TICKS
    slowest = (max(filter(None, one.ticks), default=0) for one in classes)
    work = sum(n * len(one.jobs) for n, one in zip(slowest, classes, strict=True))
    n_jobs = sum(len(one.jobs) for one in classes)
    n_days = min(n_jobs, -(-2 * work // max(1, shortest)))
    released = max(one.job.release_day for one in classes)
    # One day more for what goes on charge over night.
    return next(islice(_whole_days(problem, max(1, released)), n_days, None))


def _whole_days(problem: ScheduleProblem, first: int) -> Iterator[int]:
    """Give the days on which everybody is there and no time is spoken for."""
    away = {day for bench in problem.benches for day in bench.away}
    taken = {day for (_, day), ticks in problem.taken.items() if ticks}
    return (day for day in count(first) if day not in away | taken)


def _due_by(one: Alike, last: int) -> Alike:
    if one.job.due_day is None or one.job.due_day <= last:
        return one
    return replace(one, jobs=tuple(replace(job, due_day=last) for job in one.jobs))
