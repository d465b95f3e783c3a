"""
What is the mean cumulative function of a fleet that is kept in parts?

Twice around: first every part gives its sums by age, then, with the steps of the whole
at hand, what the robust variance is made of. Both are sums over units.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from turnscrew.core.reliability.age_sums import AgeSums
from turnscrew.core.reliability.lives import Floats, Recurrences
from turnscrew.core.reliability.mean_steps import steps_at
from turnscrew.core.reliability.recurrence import (
    ROBUST,
    MeanCurve,
    mean_limits,
    robust_sums,
    robust_variance,
)


@dataclass(frozen=True, eq=False)
class WholeSteps:
    """
    The steps of the mean of a whole fleet.

    Parameters
    ----------
    age
        Ages at which anything failed, rising. [d], shape (n_steps,)
    at_risk
        Units watched at each. [1], shape (n_steps,)
    total
        What failed, or what it cost, at each. [1], shape (n_steps,)
    n_units
        Units, with their weights. [1]
    n_events
        Failures, with the weights of their units. [1]
    """

    age: Floats
    at_risk: Floats
    total: Floats
    n_units: float
    n_events: float

    @property
    def step(self) -> Floats:
        """Give the steps of the mean. [1], shape (n_steps,)."""
        return self.total / self.at_risk

    def between(self, start: float, end: float) -> Floats:
        """
        Give what each step counts of the mean between two ages.

        Parameters
        ----------
        start
            The one age; what failed then is not counted. [d]
        end
            The other; what failed then is counted. [d]

        Returns
        -------
        ndarray
            1 between them, else 0. [1], shape (n_steps,)
        """
        return ((self.age > start) & (self.age <= end)).astype(np.float64)


def whole_steps(
    entries: AgeSums, ends: AgeSums, events: AgeSums, n_events: float
) -> WholeSteps:
    """
    Give the steps of a whole fleet from its sums.

    Parameters
    ----------
    entries
        Units by the age of entry.
    ends
        Units by the age at the end of the watch.
    events
        What failed, or what it cost, by age.
    n_events
        Failures, with the weights of their units. [1]

    Returns
    -------
    WholeSteps
        The steps.
    """
    age = events.age
    at_risk = entries.before(age) - ends.before(age)
    return WholeSteps(age, at_risk, events.weight, ends.total, n_events)


def part_sums(
    part: Recurrences, whole: WholeSteps, share: Floats | None = None
) -> Floats:
    """
    Give what a part adds to the robust variance of the whole.

    Parameters
    ----------
    part
        The units of the part and their failures.
    whole
        The steps of the whole.
    share
        What each step counts, 1 if not said. [1], shape (n_steps,)

    Returns
    -------
    ndarray
        Its sums, to be added to those of the other parts. [1], shape (3, n_steps)
    """
    if part.event_cost is not None:
        # What cost nothing moves nothing, and has no step of its own.
        paid = part.event_cost != 0
        part = replace(
            part, event_unit=part.event_unit[paid], event_age=part.event_age[paid],
            event_cost=part.event_cost[paid],
        )  # fmt: skip
    steps = steps_at(part, age=whole.age, at_risk=whole.at_risk, total=whole.total)
    return robust_sums(part, steps, np.ones(len(whole.age)) if share is None else share)


def mean_of_parts(
    whole: WholeSteps, parts: Iterable[Floats], *, confidence: float = 0.95
) -> MeanCurve:
    """
    Give the mean cumulative function with robust variance and log-normal limits.

    Parameters
    ----------
    whole
        The steps of the whole.
    parts
        The sums of every part. [1], shape (3, n_steps) each
    confidence
        Share of limits that hold the truth, at one age. [1]

    Returns
    -------
    MeanCurve
        What ``mean_cumulative`` gives of the whole, but for the last bits.

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1.
    """
    step = whole.step
    sums = _added(parts, len(step))
    mean = np.cumsum(step)
    square = robust_variance(whole.at_risk, step, np.ones(len(step)), sums)
    low, high = mean_limits(
        mean, square, limits="log-normal", confidence=confidence, sided=2
    )
    return MeanCurve(
        whole.age, whole.at_risk, mean, square, low, high, confidence, 2, ROBUST,
        "log-normal", "joint", whole.n_units, whole.n_events,
    )  # fmt: skip


def gain_of_parts(
    whole: WholeSteps, share: Floats, parts: Iterable[Floats]
) -> tuple[float, float]:
    """
    Give how much the mean gains at some of its steps, and the robust variance of that.

    What a unit needs at one age may tell of what it needs at another: a renewed part
    does not fail soon again. So what each unit adds at these steps is squared, and no
    variance by one age is taken from that by another.

    Parameters
    ----------
    whole
        The steps of the whole; at least one.
    share
        What each step counts. [1], shape (n_steps,)
    parts
        The sums of every part with the same shares. [1], shape (3, n_steps) each

    Returns
    -------
    tuple
        The gain and its variance. [1]
    """
    step = share * whole.step
    sums = _added(parts, len(step))
    square = robust_variance(whole.at_risk, step, share, sums)
    return float(step.sum()), float(square[-1])


def _added(parts: Iterable[Floats], n_steps: int) -> Floats:
    sums = np.zeros((3, n_steps))
    for one in parts:
        sums += one
    return sums
