"""
By which day is everything done with a stated probability?

Method: the whole plan is played many times with real times drawn for every job, from a
lognormal distribution whose median is the planned time; repair times are most commonly
taken as lognormal (MIL-HDBK-338B, maintainability). Each time the people follow the
hand rule; what runs over the end of a day is finished first thing the next day. The
day promised is the earliest by which the wanted share of the plays was done. Days at
which single jobs would be done with that probability are never added up: sums spread
less than their parts.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import exp

from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import LAST_DAY, Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule
from turnscrew.errors import BadArgumentError


@dataclass(frozen=True)
class Promise:
    """
    What can be promised.

    Parameters
    ----------
    probability
        Share of the plays in which everything was done by then. [1]
    day
        Workshop day promised for the whole batch; ``None`` if in too many plays there
        was work left after the last day of all.
    by_due
        Share of the plays in which every device due on a day was done by its end, by
        due day. [1]
    n_plays
        Number of plays.
    """

    probability: float
    day: int | None
    by_due: tuple[tuple[int, float], ...]
    n_plays: int


def promised(
    problem: ScheduleProblem,
    probability: float,
    spread: float,
    draw: Callable[[], float],
    n_plays: int,
) -> Promise:
    """
    Reckon the day that can be promised.

    Parameters
    ----------
    problem
        What is to be planned.
    probability
        Probability wanted. [1]
    spread
        Standard deviation of the logarithm of real times. [1]
    draw
        Gives the next standard normal number.
    n_plays
        Number of plays. [1]

    Returns
    -------
    Promise
        The day, and how sure each due day is.

    Raises
    ------
    BadArgumentError
        If there are no plays, or the probability is not between 0 and 1.
    """
    if n_plays < 1 or not 0 < probability < 1:
        raise BadArgumentError(
            f"plays {n_plays}, probability {probability}: wanted at least 1, and 0 to 1"
        )
    last: list[int] = []
    late: list[set[int]] = []
    left_out = problem.impossible()
    due = {job.name: job.due_day for job in problem.jobs}
    for _ in range(n_plays):
        stretch = {job.name: exp(spread * draw()) for job in problem.jobs}
        plan = _played(problem, stretch)
        last.append(_last_day(plan, left_out))
        done = {slot.job: slot.done_day for slot in plan.slots}
        late.append(
            {
                day
                for job, day in due.items()
                # What cannot be planned at all is in time for no day.
                if day is not None and done.get(job, day + 1) > day
            }
        )
    days = sorted({day for day in due.values() if day is not None})
    day = quantile_day(last, probability)
    return Promise(
        probability=probability,
        day=day if day < LAST_DAY else None,
        by_due=tuple((d, sum(d not in one for one in late) / n_plays) for d in days),
        n_plays=n_plays,
    )


def quantile_day(days: Sequence[int], probability: float) -> int:
    """
    Give the earliest day by which a share of the plays was done.

    Parameters
    ----------
    days
        Last day of each play.
    probability
        The share. [1]

    Returns
    -------
    int
        Workshop day.
    """
    in_order = sorted(days)
    needed = -(-len(in_order) * round(probability * 1_000_000) // 1_000_000)
    return in_order[max(needed, 1) - 1]


def _last_day(plan: Plan, left_out: Mapping[int, str]) -> int:
    """Give the day on which all was done, or the last of all: then it was not."""
    was_cut_off = any(name not in left_out for name in plan.impossible)
    return LAST_DAY if was_cut_off else plan.last_day


def _played(problem: ScheduleProblem, stretch: Mapping[int, float]) -> Plan:
    def lasts(bench: Bench, job: Job) -> int:
        return max(1, round(bench.ticks_for(job) * stretch[job.name]))

    return planned_by_rule(problem, lasts)
