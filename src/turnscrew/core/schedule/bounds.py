"""
What can no plan undercut, without searching for one?

Lateness: a job that is late even when it is done alone is late in every plan. Of the
others no more can be in time than fit, cut into minutes and shared at will, into the
minutes of those who may do them: leaving out the longest whenever a due day overflows
(Moore and Hodgson) leaves out the fewest. Days late: if the shortest jobs are done
first, the n-th is ended as early as can be, and set against the n-th due day. Both hold
whoever does what. Set-ups: one for each kind, and one more for each two of its classes
that no one person can do both.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappush, heappushpop
from itertools import accumulate, combinations

from turnscrew.core.schedule.alike import Alike
from turnscrew.core.schedule.problem import TICKS, Bench, Job, ScheduleProblem

_MANY_PEOPLE = 4
_MANY_JOBS = 2000


@dataclass(frozen=True, order=True)
class Figures:
    """
    What a plan is judged by; the first figure that differs decides.

    Parameters
    ----------
    n_late
        Number of devices done after their due day.
    late_days
        Sum of their tardiness. [days]
    n_set_ups
        Number of set-ups.
    """

    n_late: int
    late_days: int
    n_set_ups: int

    @property
    def lateness(self) -> tuple[int, int]:
        """
        Give the figures of lateness alone.

        Returns
        -------
        tuple[int, int]
            Late devices, and days late in all. [1, days]
        """
        return self.n_late, self.late_days


def bound_of(problem: ScheduleProblem, classes: Sequence[Alike]) -> Figures:
    """
    Bound the figures of every plan.

    Parameters
    ----------
    problem
        The problem.
    classes
        The jobs that are planned.

    Returns
    -------
    Figures
        Each figure by itself is at most that of any plan.
    """
    forced = [days for one in classes for days in _days_late_alone(problem, one)]
    hopeful = [one for one in classes if not any(_days_late_alone(problem, one))]
    minutes = _minutes_by_day(problem, classes)
    n_more = max(
        (_n_overflowing(group, total) for group, total in _groups(hopeful, minutes)),
        default=0,
    )
    n_late = sum(days > 0 for days in forced) + n_more
    full = sum(_standard_day(bench) for bench in problem.benches)
    shortest_first = _days_late_shortest_first(classes, minutes, full)
    days = max(sum(forced) + n_more, shortest_first)
    return Figures(n_late, days, _n_set_ups(classes))


def due_days_missed(problem: ScheduleProblem, job: Job, day: int, end: int) -> int:
    """
    Give the tardiness of a device whose work ends at a time.

    Parameters
    ----------
    problem
        The problem.
    job
        The job.
    day
        Day on which the work ends.
    end
        When it ends. [ticks]

    Returns
    -------
    int
        Days late, 0 if it is in time. [days]
    """
    if job.due_day is None:
        return 0
    return max(0, problem.done_day(job, day, end) - job.due_day)


def _days_late_alone(problem: ScheduleProblem, one: Alike) -> list[int]:
    return [due_days_missed(problem, one.job, *one.earliest)] * len(one.jobs)


def _minutes_by_day(
    problem: ScheduleProblem, classes: Sequence[Alike]
) -> list[list[int]]:
    """Give the standard minutes that jobs can fill, by person and day from day 1."""
    due = (one.job.due_day or 0 for one in classes)
    last = max([0, *due, *(day for _, day in problem.taken)])
    return [
        [
            _most_filled(reachable, _room(problem, bench, day))
            for day in range(1, last + 1)
        ]
        for who, bench in enumerate(problem.benches)
        for reachable in [_sums(classes, who, _standard_day(bench))]
    ]


def _standard_day(bench: Bench) -> int:
    return int(bench.minutes_a_day / bench.pace)


def _sums(classes: Sequence[Alike], who: int, most: int) -> int:
    """Give the sums of minutes one person's jobs can make, as the bits of a number."""
    mask = (1 << most + 1) - 1
    sums = 1
    for one in classes:
        if who in one.able:
            for _ in range(min(len(one.jobs), most // max(1, one.job.minutes))):
                sums |= (sums << one.job.minutes) & mask
    return sums


def _room(problem: ScheduleProblem, bench: Bench, day: int) -> int:
    ticks = max(0, bench.ticks_on(day) - problem.taken_on(bench, day))
    return int(ticks / bench.pace) // TICKS


def _most_filled(sums: int, room: int) -> int:
    return (sums & ((1 << room + 1) - 1)).bit_length() - 1


def _groups(
    classes: Sequence[Alike], minutes: Sequence[Sequence[int]]
) -> Iterator[tuple[list[Alike], list[int]]]:
    """Give jobs only some people may do from some day on, with those people's time."""
    everybody = range(len(minutes))
    teams = {one.able for one in classes} | {frozenset(everybody)}
    if len(minutes) <= _MANY_PEOPLE:
        sizes = range(1, len(minutes) + 1)
        teams = {frozenset(t) for n in sizes for t in combinations(everybody, n)}
    releases = sorted({one.job.release_day for one in classes})
    if sum(len(one.jobs) for one in classes) > _MANY_JOBS:
        releases = releases[:1]
    for team in teams:
        for release in releases:
            group = [
                one
                for one in classes
                if one.able <= team and one.job.release_day >= release
            ]
            by_day = [sum(day) for day in zip(*(minutes[i] for i in team), strict=True)]
            if group:
                open_days = (m * (d >= release) for d, m in enumerate(by_day, 1))
                yield group, list(accumulate(open_days, initial=0))


def _n_overflowing(group: Sequence[Alike], total: Sequence[int]) -> int:
    kept: list[int] = []
    work = n_out = 0
    due = [(one.job.due_day, one.job.minutes, len(one.jobs)) for one in group]
    for day, minutes, n in sorted((d, m, n) for d, m, n in due if d is not None):
        for _ in range(n):
            work += minutes
            if work <= total[max(0, day)]:
                heappush(kept, -minutes)
            else:
                work += heappushpop(kept, -minutes)
                n_out += 1
    return n_out


def _days_late_shortest_first(
    classes: Sequence[Alike], minutes: Sequence[Sequence[int]], full: int
) -> int:
    """Sum the tardiness; after the last day given a day has the full minutes."""
    due = [one for one in classes if one.job.due_day is not None]
    if not due or not minutes:
        return 0
    total = list(accumulate(map(sum, zip(*minutes, strict=True)), initial=0))
    work, day, days_late = 0, 0, 0
    in_order = sorted(m for one in due for m in [one.job.minutes] * len(one.jobs))
    due_days = sorted(d for one in due for d in [one.job.due_day or 0] * len(one.jobs))
    for job_minutes, due_day in zip(in_order, due_days, strict=True):
        work += job_minutes
        while day < len(total) - 1 and total[day] < work:
            day += 1
        over = max(0, work - total[day])
        days_late += max(0, day + -(-over // max(1, full)) - due_day)
    return days_late


def _n_set_ups(classes: Sequence[Alike]) -> int:
    teams: dict[str, list[frozenset[int]]] = {}
    for one in classes:
        teams.setdefault(one.job.kind, []).append(one.able)
    return sum(2 - bool(frozenset.intersection(*able)) for able in teams.values())
