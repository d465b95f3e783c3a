"""
Which jobs are alike, so that a plan may exchange them, and when can each be done?

A batch of fifty devices has perhaps twenty-five classes of jobs that differ in nothing
a plan can see. Counting how many of a class go where, instead of placing each device,
spares the search all plans that are the same but for the numbers of the devices.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from turnscrew.core.schedule.problem import LAST_DAY, TICKS, Bench, Job, ScheduleProblem

Time = tuple[int, int]
"""A workshop day and ticks from its opening."""


@dataclass(frozen=True)
class Alike:
    """
    Jobs that differ only in their number.

    Parameters
    ----------
    jobs
        The jobs, by number.
    ticks
        What one of them takes each person, in the order of the benches; ``None`` where
        that person may not do it or has no day long enough. [ticks]
    before
        Classes of which every job must have ended first, by place in the list.
    is_awaited
        Whether other jobs wait for these.
    earliest
        When one of them can end at the earliest, as if nothing else were to be done.
    """

    jobs: tuple[Job, ...]
    ticks: tuple[int | None, ...]
    before: tuple[int, ...] = ()
    is_awaited: bool = False
    earliest: Time = (1, 0)

    @property
    def job(self) -> Job:
        """
        Give one of the jobs.

        Returns
        -------
        Job
            The one with the lowest number.
        """
        return self.jobs[0]

    @property
    def able(self) -> frozenset[int]:
        """
        Give who can do these jobs.

        Returns
        -------
        frozenset[int]
            Places in the list of the benches.
        """
        return frozenset(i for i, ticks in enumerate(self.ticks) if ticks is not None)


def classes_in(problem: ScheduleProblem, names: Collection[int]) -> tuple[Alike, ...]:
    """
    Sort jobs into classes.

    Parameters
    ----------
    problem
        The problem.
    names
        The jobs that are planned; none of them waits for one that is not.

    Returns
    -------
    tuple[Alike, ...]
        The classes; each stands behind those it waits for. Their order does not depend
        on the order of the jobs.
    """
    jobs = sorted((j for j in problem.jobs if j.name in names), key=lambda j: j.name)
    followers: dict[int, set[int]] = {job.name: set() for job in jobs}
    for job in jobs:
        for name in job.after:
            followers[name].add(job.name)
    grouped: dict[tuple[object, ...], list[Job]] = {}
    for job in jobs:
        seen = replace(job, name=0, rank_day=0, after=tuple(sorted(set(job.after))))
        key = (seen, frozenset(followers[job.name]))
        grouped.setdefault(key, []).append(job)
    ordered = _in_order(list(grouped.values()))
    place = {job.name: i for i, group in enumerate(ordered) for job in group}
    classes: list[Alike] = []
    for group in ordered:
        one = Alike(
            jobs=tuple(group),
            ticks=tuple(_ticks(bench, group[0]) for bench in problem.benches),
            before=tuple(sorted({place[name] for name in group[0].after})),
            is_awaited=bool(followers[group[0].name]),
        )
        classes.append(replace(one, earliest=_earliest(problem, one, classes)))
    return tuple(classes)


def first_fit(
    problem: ScheduleProblem, bench: Bench, ticks: int, ready: Time
) -> Time | None:
    """
    Find the first time at which somebody has room for a job.

    Parameters
    ----------
    problem
        The problem.
    bench
        The person.
    ticks
        How long it takes. [ticks]
    ready
        Not before this day and time.

    Returns
    -------
    tuple or None
        Day and beginning; ``None`` if there is no such day.
    """
    day, at = ready
    while day < LAST_DAY:
        start, there = max(at, problem.taken_on(bench, day)), bench.ticks_on(day)
        if there and start + ticks <= there:
            return day, start
        day, at = day + 1, 0
    return None


def _ticks(bench: Bench, job: Job) -> int | None:
    ticks, there = bench.ticks_for(job), bench.minutes_a_day * TICKS
    fits = there and ticks <= there
    return ticks if bench.may_do(job) and fits else None


def _in_order(groups: list[list[Job]]) -> list[list[Job]]:
    """Put every group behind those it waits for, lowest number first."""
    placed: set[int] = set()
    ordered: list[list[Job]] = []
    while groups:
        free = [group for group in groups if placed.issuperset(group[0].after)]
        ordered += free
        placed |= {job.name for group in free for job in group}
        groups = [group for group in groups if group[0].name not in placed]
    return ordered


def _earliest(problem: ScheduleProblem, one: Alike, before: Sequence[Alike]) -> Time:
    ready = max(
        [(max(one.job.release_day, 1), 0), *(before[i].earliest for i in one.before)]
    )
    ends: list[Time] = []
    for bench, ticks in zip(problem.benches, one.ticks, strict=True):
        found = None if ticks is None else first_fit(problem, bench, ticks, ready)
        if found and ticks is not None:
            ends.append((found[0], found[1] + ticks))
    return min(ends)
