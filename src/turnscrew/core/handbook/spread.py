"""
How widely do times of the same work spread, once slips are left out?

The cleaning of an open study of 60 orders taken apart: what lies more than one and a
half quartile widths beyond the quartiles is left out. Its toys and learners are not our
bench: take the spread from it, not the minutes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from turnscrew.core.handbook.ranges import PRESENT_S, TIME_S
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.quantities import BadFieldError, refuse_outside

FENCE = 1.5
"""Quartile widths beyond the quartiles that still count. [1]"""


@dataclass(frozen=True, slots=True)
class Spread:
    """
    What a sample of times shows.

    Parameters
    ----------
    n
        Times in it. [1]
    mean_s
        Mean. [s]
    sd_s
        Standard deviation of the sample. [s]
    """

    n: int
    mean_s: float
    sd_s: float

    @property
    def variation(self) -> float:
        """Give the coefficient of variation. [1]."""
        return self.sd_s / self.mean_s


def spread_of(times_s: Sequence[float]) -> Spread:
    """
    Say how many times there are, their mean and their deviation.

    Equations: m = sum t / n; s^2 = sum (t - m)^2 / (n - 1).

    Parameters
    ----------
    times_s
        The times. [s]

    Returns
    -------
    Spread
        Number, mean and deviation.

    Raises
    ------
    BadFieldError
        If there are fewer than two times, or one is outside its range.

    References
    ----------
    Definition.
    """
    _refuse_few(times_s)
    mean_s = sum(times_s) / len(times_s)
    if not mean_s:
        raise BadFieldError("times_s", "no time above 0 s", "at least one")
    squares = sum((time_s - mean_s) ** 2 for time_s in times_s)
    return Spread(len(times_s), mean_s, sqrt(squares / (len(times_s) - 1)))


def cleaned(times_s: Sequence[float]) -> tuple[float, ...]:
    """
    Leave out the times that lie far beyond the quartiles.

    Rule: Q1 - 1.5 (Q3 - Q1) <= t <= Q3 + 1.5 (Q3 - Q1), quartiles interpolated.

    Parameters
    ----------
    times_s
        The times. [s]

    Returns
    -------
    tuple
        Those that stay, in their order. [s]

    Raises
    ------
    BadFieldError
        If there are fewer than two times, or one is outside its range.

    References
    ----------
    Raw data and tables 5 and 6 of an open disassembly study, reproduced.
    """
    _refuse_few(times_s)
    ordered = sorted(times_s)
    low_s, high_s = _quantile(ordered, 0.25), _quantile(ordered, 0.75)
    width_s = FENCE * (high_s - low_s)
    return tuple(t for t in times_s if low_s - width_s <= t <= high_s + width_s)


def mean_ratio(pairs: Sequence[tuple[float, float]]) -> float:
    """
    Say how many times the second of each pair is the first, on average.

    Equation: mean of (second / first).

    Parameters
    ----------
    pairs
        Pairs of times of the same step; with mean and deviation of each step it gives
        the mean coefficient of variation. [s]

    Returns
    -------
    float
        Mean ratio. [1]

    Raises
    ------
    BadFieldError
        If there is no pair, or a time is outside its range.

    References
    ----------
    Definition; used on tables 5 and 6 of an open disassembly study.
    """
    if not pairs:
        raise BadFieldError("pairs", "none", "at least one pair")
    for first_s, second_s in pairs:
        refuse_outside("pairs", first_s, PRESENT_S)
        refuse_outside("pairs", second_s, TIME_S)
    return sum(second_s / first_s for first_s, second_s in pairs) / len(pairs)


def _refuse_few(times_s: Sequence[float]) -> None:
    if len(times_s) < 2:
        raise BadFieldError("times_s", counted(len(times_s), "time"), "at least two")
    for time_s in times_s:
        refuse_outside("times_s", time_s, TIME_S)


def _quantile(ordered: Sequence[float], share: float) -> float:
    place = share * (len(ordered) - 1)
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (place - below) * (ordered[above] - ordered[below])
