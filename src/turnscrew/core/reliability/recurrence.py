"""
How many failures has a unit had by each age, on average, and at what cost?

The mean cumulative function: at each age the failures divided by the units then
watched. It assumes nothing about how the failures of one unit hang together; the robust
variance does not either.
"""

from dataclasses import dataclass
from statistics import NormalDist
from typing import Literal

import numpy as np

from turnscrew.core.reliability.curves import (
    sum_before,
    weight_before,
)
from turnscrew.core.reliability.fit import refuse_confidence
from turnscrew.core.reliability.lives import Floats, Recurrences
from turnscrew.core.reliability.mean_steps import Steps, steps_of, weights_of
from turnscrew.errors import BadArgumentError

MeanVariance = Literal[
    "robust (Lawless-Nadeau)", "unbiased (Nelson)", "Poisson", "independent increments"
]
MeanTies = Literal["joint", "sequential"]
MeanLimits = Literal["normal", "log-normal"]
BootstrapVariance = Literal["bootstrap"]
BootstrapLimits = Literal["percentile"]

ROBUST: MeanVariance = "robust (Lawless-Nadeau)"


@dataclass(frozen=True, eq=False)
class MeanCurve:
    """
    The mean number, or cost, of failures of a unit by each age.

    Parameters
    ----------
    age
        Ages with failures. [d], shape (n_ages,)
    n_at_risk
        Units watched at each. [1], shape (n_ages,)
    mean
        Mean number or cost by each age. [1], shape (n_ages,)
    variance
        Of the mean; not a number where it cannot be told. [1], shape (n_ages,)
    low
        Lower limit. [1], shape (n_ages,)
    high
        Upper limit. [1], shape (n_ages,)
    confidence
        Share of such limits that hold the truth, at one age. [1]
    sided
        2: the share lies between the limits; 1: each limit alone has the confidence.
        [1]
    variance_rule
        How the variance was reckoned.
    limits
        The law the limits suppose for the mean; ``percentile``: none, they are taken
        from the draws of a bootstrap.
    ties
        Whether failures of several units at one age are one step or follow one another;
        only the variance of independent increments differs.
    n_units
        Units, with their weights. [1]
    n_events
        Failures, with the weights of their units. [1]
    """

    age: Floats
    n_at_risk: Floats
    mean: Floats
    variance: Floats
    low: Floats
    high: Floats
    confidence: float
    sided: Literal[1, 2]
    variance_rule: MeanVariance | BootstrapVariance
    limits: MeanLimits | BootstrapLimits
    ties: MeanTies
    n_units: float
    n_events: float

    @property
    def standard_error(self) -> Floats:
        """Give the standard error of the mean. [1], shape (n_ages,)."""
        return np.sqrt(self.variance)

    def mean_at(self, age: float) -> float:
        """
        Give the mean by an age.

        Parameters
        ----------
        age
            Age. [d]

        Returns
        -------
        float
            Mean number or cost; the last one beyond the last failure. [1]
        """
        place = int(np.searchsorted(self.age, age, side="right"))
        return float(self.mean[place - 1]) if place else 0.0


@dataclass(frozen=True, eq=False)
class MeanDifference:
    """
    How two fleets differ in their mean cumulative functions.

    Parameters
    ----------
    age
        Ages with failures in either, as long as both are watched. [d], shape (n_ages,)
    difference
        Mean of the one less that of the other. [1], shape (n_ages,)
    variance
        Of the difference, robust. [1], shape (n_ages,)
    low
        Lower limit. [1], shape (n_ages,)
    high
        Upper limit. [1], shape (n_ages,)
    confidence
        Share of such limits that hold the truth, at one age. [1]
    z
        The whole difference, each age weighed by Y1 Y2 / (Y1 + Y2), in robust standard
        errors; ``None`` if its error is 0. [1]
    p_value
        Probability of a larger ``|z|`` if the means were equal, two-sided, normal. [1]
    """

    age: Floats
    difference: Floats
    variance: Floats
    low: Floats
    high: Floats
    confidence: float
    z: float | None
    p_value: float | None


def mean_cumulative(
    recurrences: Recurrences,
    *,
    variance: MeanVariance = ROBUST,
    ties: MeanTies = "joint",
    limits: MeanLimits = "log-normal",
    confidence: float = 0.95,
    sided: Literal[1, 2] = 2,
) -> MeanCurve:
    """
    Give the mean cumulative function with its limits.

    Parameters
    ----------
    recurrences
        The units and their failures; those with costs give the mean cost.
    variance
        Robust: squares of what each unit adds, divisor n. Unbiased: Nelson's, divisor
        n - 1, which may fall below 0. Poisson: sum of d / Y^2. Independent increments:
        sum of the variances of the steps.
    ties
        Whether failures of several units at one age are one step or follow one another.
    limits
        The law the limits suppose for the mean.
    confidence
        Share of limits that hold the truth, at one age. [1]
    sided
        2 for limits on both sides together, 1 for each alone. [1]

    Returns
    -------
    MeanCurve
        The function, without ages if nothing failed.

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1, or the unbiased variance is wanted
        where units entered late.

    References
    ----------
    J. F. Lawless and C. Nadeau, Some simple robust methods for the analysis of
    recurrent events, Technometrics 37 (1995). W. Nelson, Confidence limits for
    recurrence data, Technometrics 37 (1995).
    """
    refuse_confidence(confidence)
    if variance == "unbiased (Nelson)" and recurrences.entry is not None:
        raise BadArgumentError(
            "variance: found unbiased (Nelson) with ages of entry, wanted units "
            "watched from age 0"
        )
    steps = steps_of(recurrences)
    mean = np.cumsum(steps.mean)
    square = _variance(recurrences, steps, variance, ties)
    low, high = mean_limits(
        mean, square, limits=limits, confidence=confidence, sided=sided
    )
    return MeanCurve(
        steps.age, steps.at_risk, mean, square, low, high, confidence, sided, variance,
        limits, ties, recurrences.n_units,
        float(np.sum(weights_of(recurrences)[recurrences.event_unit])),
    )  # fmt: skip


def mean_limits(
    mean: Floats,
    variance: Floats,
    *,
    limits: MeanLimits,
    confidence: float,
    sided: Literal[1, 2],
) -> tuple[Floats, Floats]:
    """
    Set limits to a mean.

    Parameters
    ----------
    mean
        The mean. [1], shape (n_ages,)
    variance
        Its variance; below 0 where it cannot be told. [1], shape (n_ages,)
    limits
        The law the limits suppose.
    confidence
        Share of limits that hold the truth, at one age. [1]
    sided
        2 for limits on both sides together, 1 for each alone. [1]

    Returns
    -------
    tuple
        Lower and upper limits. [1], shape (n_ages,)

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1.
    """
    refuse_confidence(confidence)
    error = np.sqrt(np.where(variance < 0, np.nan, variance))
    width = NormalDist().inv_cdf(1 - (1 - confidence) / sided) * error
    if limits == "normal":
        return mean - width, mean + width
    with np.errstate(divide="ignore", invalid="ignore"):
        factor = np.exp(width / mean)
        return mean / factor, mean * factor


def mean_difference(
    one: Recurrences, other: Recurrences, *, confidence: float = 0.95
) -> MeanDifference:
    """
    Compare the mean cumulative functions of two fleets.

    Parameters
    ----------
    one
        The one fleet.
    other
        The other; no unit is in both.
    confidence
        Share of limits that hold the truth, at one age. [1]

    Returns
    -------
    MeanDifference
        The difference at each age, with normal limits, and a test of the whole.

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1.

    References
    ----------
    R. J. Cook and J. F. Lawless, The Statistical Analysis of Recurrent Events (2007),
    section 3.7.
    """
    refuse_confidence(confidence)
    steps = [steps_of(fleet) for fleet in (one, other)]
    both = np.union1d(steps[0].age, steps[1].age)
    risk = [_at_risk(fleet, both) for fleet in (one, other)]
    shared = (risk[0] > 0) & (risk[1] > 0)
    # Where one fleet has nobody left, nothing beyond can be compared.
    n_shared = int(np.argmin(shared)) if not shared.all() else len(both)
    age = both[:n_shared]
    means, squares, weighed, spreads = [], [], [], []
    for fleet, own, mine, theirs in zip(
        (one, other), steps, risk, reversed(risk), strict=True
    ):
        place = np.searchsorted(own.age, age, side="right")
        means.append(np.concatenate(([0.0], np.cumsum(own.mean)))[place])
        plain = _robust(fleet, own, np.ones(len(own.age)))
        squares.append(np.concatenate(([0.0], plain))[place])
        at = np.searchsorted(both, own.age)
        share = (mine * theirs / np.maximum(mine + theirs, 1e-300))[at]
        share = np.where(at < n_shared, share, 0.0)
        weighed.append(float(share @ own.mean))
        spreads.append(float(_robust(fleet, own, share)[-1]) if len(at) else 0.0)
    difference, square = means[0] - means[1], squares[0] + squares[1]
    normal = NormalDist()
    width = normal.inv_cdf((1 + confidence) / 2) * np.sqrt(square)
    spread = sum(spreads) ** 0.5
    z = (weighed[0] - weighed[1]) / spread if spread else None
    return MeanDifference(
        age, difference, square, difference - width, difference + width, confidence, z,
        None if z is None else 2 * normal.cdf(-abs(z)),
    )  # fmt: skip


def _at_risk(fleet: Recurrences, age: Floats) -> Floats:
    entered: Floats = np.full(len(age), fleet.n_units)
    if fleet.entry is not None:
        entered = weight_before(fleet.entry, fleet.weight, age)
    return np.subtract(entered, weight_before(fleet.end, fleet.weight, age))


def _variance(
    fleet: Recurrences, steps: Steps, rule: MeanVariance, ties: MeanTies
) -> Floats:
    risk = steps.at_risk
    if rule == ROBUST:
        return _robust(fleet, steps, np.ones(len(risk)))
    if rule == "unbiased (Nelson)":
        return _unbiased(fleet, steps)
    if rule == "Poisson":
        return np.cumsum(steps.squares / risk**2)
    if ties == "sequential":
        return np.cumsum((steps.squares - steps.own_squares / risk) / risk**2)
    return np.cumsum((_pair_sums(steps, steps.amount) - risk * steps.mean**2) / risk**2)


def _pair_sums(steps: Steps, by: Floats) -> Floats:
    """Sum weight, amount and one more figure of each unit and age by age."""
    amounts = steps.weight * steps.amount * by
    return np.bincount(steps.place, amounts, len(steps.age)).astype(np.float64)


def _shares(fleet: Recurrences, steps: Steps, share: Floats) -> tuple[Floats, Floats]:
    """Sum amount / at risk of a unit before each of its ages, and over all of them."""
    adds = share[steps.place] * steps.amount / steps.at_risk[steps.place]
    total = np.bincount(steps.unit, adds, len(fleet.end)).astype(np.float64)
    # Summed from the first unit on; what the units before have is taken off again.
    before = np.cumsum(adds) - adds
    begins = np.cumsum(total) - total
    return before - begins[steps.unit], total


def _robust(fleet: Recurrences, steps: Steps, share: Floats) -> Floats:
    return robust_variance(
        steps.at_risk, share * steps.mean, share, robust_sums(fleet, steps, share)
    )


def robust_sums(fleet: Recurrences, steps: Steps, share: Floats) -> Floats:
    """
    Sum over units what the robust variance is made of; sums of parts may be added.

    Parameters
    ----------
    fleet
        The units and their failures.
    steps
        Their steps, at the ages and with the units at risk of the whole fleet.
    share
        What each step counts. [1], shape (n_steps,)

    Returns
    -------
    ndarray
        For each step, over units: what those still watched had added before, less what
        those gone had; what those that fail had added; squares of what they add.
        [1], shape (3, n_steps)
    """
    n_steps = len(steps.age)
    drifted = np.concatenate(([0.0], np.cumsum(share * steps.mean / steps.at_risk)))
    weights = weights_of(fleet)
    before, total = _shares(fleet, steps, share)
    own = before - drifted[steps.place]
    begun: Floats | float = 0.0
    if steps.entered is not None:
        start = drifted[steps.entered]
        own += start[steps.unit]
        total += start
        begun = sum_before(steps.entered, weights * start, n_steps)
    left = sum_before(steps.left, weights * total, n_steps)
    return np.array(
        [begun - left, _pair_sums(steps, own), _pair_sums(steps, steps.amount)]
    )


def robust_variance(
    at_risk: Floats, step: Floats, share: Floats, sums: Floats
) -> Floats:
    """
    Square what each unit adds to the mean beyond its part, and sum, for every age.

    A unit at risk moves by its amount / Y less the mean step / Y. The squares of all
    units at risk change together, so that their sums are carried from age to age.

    Parameters
    ----------
    at_risk
        Units at risk. [1], shape (n_steps,)
    step
        Steps of the mean, each with its share. [1], shape (n_steps,)
    share
        What each step counts. [1], shape (n_steps,)
    sums
        What the units add up to. [1], shape (3, n_steps)

    Returns
    -------
    ndarray
        The variance at each step. [1], shape (n_steps,)
    """
    drift = step / at_risk
    drifted = np.cumsum(drift) - drift
    held, own, squares = sums
    # Over the units at risk: what was added before, less what has drifted since entry.
    before = np.cumsum(step) - step + held - at_risk * drifted
    own_share = share / at_risk
    change = -2 * drift * before + 2 * own_share * own
    change += at_risk * drift**2 - 2 * drift * step + own_share**2 * squares
    return np.asarray(np.maximum(np.cumsum(change), 0.0), dtype=np.float64)


def _unbiased(fleet: Recurrences, steps: Steps) -> Floats:
    """Sum Nelson's variances of the steps and covariances with those before."""
    risk, mean = steps.at_risk, steps.mean
    before, total = _shares(fleet, steps, np.ones(len(risk)))
    left = sum_before(steps.left, weights_of(fleet) * total, len(risk))
    own = (_pair_sums(steps, steps.amount) - risk * mean**2) / risk
    joint = _pair_sums(steps, before) - mean * (np.cumsum(mean) - mean - left)
    # One unit alone tells nothing about the spread between units, nor does later age.
    below = np.where(risk > 1, risk - 1, np.nan)
    return np.cumsum((own + 2 * joint) / below)
