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

from turnscrew.core.reliability.curves import weight_before
from turnscrew.core.reliability.fit import refuse_confidence
from turnscrew.core.reliability.lives import Floats, Indices, Recurrences
from turnscrew.errors import BadArgumentError

MeanVariance = Literal[
    "robust (Lawless-Nadeau)", "unbiased (Nelson)", "Poisson", "independent increments"
]
MeanTies = Literal["joint", "sequential"]
MeanLimits = Literal["normal", "log-normal"]

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
        The law the limits suppose for the mean.
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
    variance_rule: MeanVariance
    limits: MeanLimits
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
        Probability of a larger |z| if the means were equal, two-sided, normal. [1]
    """

    age: Floats
    difference: Floats
    variance: Floats
    low: Floats
    high: Floats
    confidence: float
    z: float | None
    p_value: float | None


@dataclass(frozen=True, eq=False)
class _Steps:
    """Steps of the mean by age, and the failures by unit and age."""

    age: Floats
    at_risk: Floats
    total: Floats
    squares: Floats
    own_squares: Floats
    unit: Indices
    place: Indices
    amount: Floats
    weight: Floats

    @property
    def mean(self) -> Floats:
        return self.total / self.at_risk


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
    steps = _steps(recurrences)
    mean = np.cumsum(steps.mean)
    square = _variance(recurrences, steps, variance, ties)
    error = np.sqrt(np.where(square < 0, np.nan, square))
    width = NormalDist().inv_cdf(1 - (1 - confidence) / sided) * error
    low, high = mean - width, mean + width
    if limits == "log-normal":
        with np.errstate(divide="ignore", invalid="ignore"):
            factor = np.exp(width / mean)
            low, high = mean / factor, mean * factor
    return MeanCurve(
        steps.age, steps.at_risk, mean, square, low, high, confidence, sided, variance,
        limits, ties, recurrences.n_units,
        float(np.sum(_weights(recurrences)[recurrences.event_unit])),
    )  # fmt: skip


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
    steps = [_steps(fleet) for fleet in (one, other)]
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


def _weights(fleet: Recurrences) -> Floats:
    return np.ones(len(fleet.end)) if fleet.weight is None else fleet.weight


def _at_risk(fleet: Recurrences, age: Floats) -> Floats:
    entered: Floats = np.full(len(age), fleet.n_units)
    if fleet.entry is not None:
        entered = weight_before(fleet.entry, fleet.weight, age)
    return np.subtract(entered, weight_before(fleet.end, fleet.weight, age))


def _steps(fleet: Recurrences) -> _Steps:
    """Gather failures by age, and by unit and age, in the order of units."""
    age, at = np.unique(fleet.event_age, return_inverse=True)
    n_ages = max(len(age), 1)
    weights = _weights(fleet)
    cost = np.ones(len(at)) if fleet.event_cost is None else fleet.event_cost
    each = weights[fleet.event_unit]
    key, pair = np.unique(fleet.event_unit * n_ages + at, return_inverse=True)
    unit, place = np.divmod(key, n_ages)

    def by_age(amounts: Floats) -> Floats:
        return np.bincount(at, amounts, len(age)).astype(np.float64)

    return _Steps(
        age,
        _at_risk(fleet, age),
        by_age(each * cost),
        by_age(each * cost**2),
        by_age((each * cost) ** 2),
        unit,
        place,
        np.bincount(pair, cost, len(key)).astype(np.float64),
        weights[unit],
    )


def _variance(
    fleet: Recurrences, steps: _Steps, rule: MeanVariance, ties: MeanTies
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


def _pair_sums(steps: _Steps, by: Floats) -> Floats:
    """Sum weight, amount and one more figure of each unit and age by age."""
    amounts = steps.weight * steps.amount * by
    return np.bincount(steps.place, amounts, len(steps.age)).astype(np.float64)


def _shares(fleet: Recurrences, steps: _Steps, share: Floats) -> tuple[Floats, Floats]:
    """Sum amount / at risk of a unit before each of its ages, and over all of them."""
    adds = share[steps.place] * steps.amount / steps.at_risk[steps.place]
    total = np.bincount(steps.unit, adds, len(fleet.end)).astype(np.float64)
    # Summed from the first unit on; what the units before have is taken off again.
    before = np.cumsum(adds) - adds
    begins = np.cumsum(total) - total
    return before - begins[steps.unit], total


def _robust(fleet: Recurrences, steps: _Steps, share: Floats) -> Floats:
    """
    Square what each unit adds to the mean beyond its part, and sum, for every age.

    A unit at risk moves by its amount / Y less the mean step / Y. The squares of all
    units at risk change together, so that their sums are carried from age to age.
    """
    risk = steps.at_risk
    step = share * steps.mean
    drift = step / risk
    drifted = np.concatenate(([0.0], np.cumsum(drift)))
    weights = _weights(fleet)
    start = np.zeros(len(fleet.end))
    if fleet.entry is not None:
        start = drifted[np.searchsorted(steps.age, fleet.entry, side="right")]
    before, total = _shares(fleet, steps, share)
    own = before - (drifted[steps.place] - start[steps.unit])
    # Over the units at risk: what was added before, less what has drifted since entry.
    left = weight_before(fleet.end, weights * (total + start), steps.age)
    begun = np.full(len(risk), float(weights @ start))
    if fleet.entry is not None:
        begun = weight_before(fleet.entry, weights * start, steps.age)
    sums = np.cumsum(step) - step + begun - left - risk * drifted[:-1]
    own_share = share / risk
    change = -2 * drift * sums + 2 * own_share * _pair_sums(steps, own)
    change += risk * drift**2 - 2 * drift * step
    change += own_share**2 * _pair_sums(steps, steps.amount)
    return np.asarray(np.maximum(np.cumsum(change), 0.0), dtype=np.float64)


def _unbiased(fleet: Recurrences, steps: _Steps) -> Floats:
    """Sum Nelson's variances of the steps and covariances with those before."""
    risk, mean = steps.at_risk, steps.mean
    before, total = _shares(fleet, steps, np.ones(len(risk)))
    left = weight_before(fleet.end, _weights(fleet) * total, steps.age)
    own = (_pair_sums(steps, steps.amount) - risk * mean**2) / risk
    joint = _pair_sums(steps, before) - mean * (np.cumsum(mean) - mean - left)
    # One unit alone tells nothing about the spread between units, nor does later age.
    below = np.where(risk > 1, risk - 1, np.nan)
    return np.cumsum((own + 2 * joint) / below)
