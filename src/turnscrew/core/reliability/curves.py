"""
Which share is still running at each age, without any law assumed?

The product-limit curve of Kaplan and Meier and the cumulative hazard of Nelson and
Aalen. Whoever entered late is at risk only from then on: entry < age <= exit.
"""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Literal

import numpy as np
import scipy

from turnscrew.core.reliability.fit import refuse_confidence
from turnscrew.core.reliability.lives import Floats, Indices, Lives
from turnscrew.errors import BadArgumentError

Estimator = Literal["product limit", "exponential of hazard"]
Transform = Literal["plain", "log", "log-log"]
HazardTransform = Literal["plain", "log"]
Variance = Literal["greenwood", "aalen"]
Ties = Literal["together", "one by one"]

# A share that should be one half may miss it by the last bits of a product.
_SLACK = 1e-12

_IN_CACHE = 16_384
"""Steps that lie in the inner cache, so that any order of look-ups is fast. [1]"""


@dataclass(frozen=True, eq=False)
class SurvivalCurve:
    """
    The share running after each age at which something failed.

    Parameters
    ----------
    age
        Ages with failures. [d], shape (n_ages,)
    n_at_risk
        Lives at risk at each. [1], shape (n_ages,)
    n_events
        Failures at each. [1], shape (n_ages,)
    survival
        Share running just after. [1], shape (n_ages,)
    standard_error
        Its standard error; not a number where nothing runs. [1], shape (n_ages,)
    low
        Lower limit, cut at 0. [1], shape (n_ages,)
    high
        Upper limit, cut at 1; not a number where nothing runs. [1], shape (n_ages,)
    last_age
        Last age at which a life was watched. [d]
    confidence
        Share of such limits that hold the truth, at one age. [1]
    estimator
        How the share was reckoned.
    variance
        How its variance was reckoned.
    limits
        The scale on which the limits are symmetric.
    is_cut_off
        Whether all lives at risk failed at an age before others entered: the curve then
        stays at 0 although it tells nothing about them.
    """

    age: Floats
    n_at_risk: Floats
    n_events: Floats
    survival: Floats
    standard_error: Floats
    low: Floats
    high: Floats
    last_age: float
    confidence: float
    estimator: Estimator
    variance: Variance
    limits: Transform
    is_cut_off: bool

    @property
    def median(self) -> float | None:
        """Give the first age with half or less running; ``None`` if none. [d]."""
        return self.quantile(0.5)[0]

    def quantile(self, share: float) -> tuple[float | None, float | None, float | None]:
        """
        Give the first age by which a share has failed, with its limits.

        Parameters
        ----------
        share
            Share failed. [1]

        Returns
        -------
        tuple
            Age, lower and upper limit, where the curve and its limits first reach the
            share; ``None`` where they never do. [d]

        Raises
        ------
        BadArgumentError
            If the share is not between 0 and 1.
        """
        if not 0 < share < 1:
            raise BadArgumentError(f"share: found {share:g}, wanted between 0 and 1")
        curves = (self.survival, self.low, self.high)
        age, low, high = (self._first(curve, 1 - share) for curve in curves)
        return age, low, high

    def survival_at(self, age: float) -> float | None:
        """
        Give the share running just after an age.

        Parameters
        ----------
        age
            Age. [d]

        Returns
        -------
        float
            Share; ``None`` beyond the last age watched, unless nothing runs. [1]
        """
        place = int(np.searchsorted(self.age, age, side="right"))
        share = float(self.survival[place - 1]) if place else 1.0
        return None if age > self.last_age and share > 0 else share

    def _first(self, curve: Floats, left: float) -> float | None:
        reached = np.flatnonzero(curve <= left + _SLACK)
        return float(self.age[reached[0]]) if len(reached) else None


@dataclass(frozen=True, eq=False)
class HazardCurve:
    """
    The cumulative hazard after each age at which something failed.

    Parameters
    ----------
    age
        Ages with failures. [d], shape (n_ages,)
    n_at_risk
        Lives at risk at each. [1], shape (n_ages,)
    n_events
        Failures at each. [1], shape (n_ages,)
    hazard
        Cumulative hazard. [1], shape (n_ages,)
    standard_error
        Its standard error. [1], shape (n_ages,)
    low
        Lower limit, cut at 0. [1], shape (n_ages,)
    high
        Upper limit. [1], shape (n_ages,)
    confidence
        Share of such limits that hold the truth, at one age. [1]
    ties
        Whether failures at one age count together, d / Y, or one after the other,
        1 / Y + 1 / (Y - 1) and so on.
    limits
        The scale on which the limits are symmetric.
    """

    age: Floats
    n_at_risk: Floats
    n_events: Floats
    hazard: Floats
    standard_error: Floats
    low: Floats
    high: Floats
    confidence: float
    ties: Ties
    limits: HazardTransform


def survival_curve(
    lives: Lives,
    *,
    confidence: float = 0.95,
    limits: Transform = "log-log",
    variance: Variance = "greenwood",
    estimator: Estimator = "product limit",
) -> SurvivalCurve:
    """
    Give the share running at each age.

    Parameters
    ----------
    lives
        The lives.
    confidence
        Share of limits that hold the truth, at one age. [1]
    limits
        The scale on which the limits are symmetric.
    variance
        ``greenwood``: sum of d / (Y (Y - d)); ``aalen``: sum of d / Y^2.
    estimator
        The product of 1 - d / Y, or exp(-sum of d / Y).

    Returns
    -------
    SurvivalCurve
        The curve, without ages if nothing failed.

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1.

    References
    ----------
    J. P. Klein and M. L. Moeschberger, Survival Analysis, 2nd ed. (2003), chapter 4.
    """
    refuse_confidence(confidence)
    age, at_risk, failed = at_risk_of(lives)
    left = at_risk - failed
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.asarray(np.cumprod(left / at_risk), dtype=np.float64)
        if estimator == "exponential of hazard":
            share = np.exp(-np.cumsum(failed / at_risk))
        below = left if variance == "greenwood" else at_risk
        spread: Floats = np.sqrt(np.cumsum(failed / (at_risk * below)))
        error: Floats = share * spread
        low, high = _share_limits(share, spread, confidence, limits)
    last = float(lives.exit.max()) if lives.n_rows else 0.0
    gone = age[left <= 0]
    is_cut_off = bool(len(gone)) and gone[0] < last
    return SurvivalCurve(
        age, at_risk, failed, share, error, low, high, last, confidence, estimator,
        variance, limits, is_cut_off,
    )  # fmt: skip


def cumulative_hazard(
    lives: Lives,
    *,
    confidence: float = 0.95,
    limits: HazardTransform = "log",
    ties: Ties = "together",
) -> HazardCurve:
    """
    Give the cumulative hazard at each age, with the variance of Aalen.

    Parameters
    ----------
    lives
        The lives.
    confidence
        Share of limits that hold the truth, at one age. [1]
    limits
        The scale on which the limits are symmetric.
    ties
        Whether failures at one age count together or one after the other.

    Returns
    -------
    HazardCurve
        The curve, without ages if nothing failed.

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1.

    References
    ----------
    W. Nelson, Theory and applications of hazard plotting for censored failure data,
    Technometrics 14 (1972). O. Aalen, Nonparametric inference for a family of counting
    processes, Annals of Statistics 6 (1978).
    """
    refuse_confidence(confidence)
    age, at_risk, failed = at_risk_of(lives)
    step, square = failed / at_risk, failed / at_risk**2
    tied = failed != 1
    if ties == "one by one" and tied.any():
        # Sums of 1 / j and 1 / j^2 from Y - d + 1 to Y, also for weights that are not
        # whole.
        top, bottom = at_risk[tied] + 1, at_risk[tied] - failed[tied] + 1
        step[tied] = scipy.special.digamma(top) - scipy.special.digamma(bottom)
        square[tied] = scipy.special.polygamma(1, bottom) - scipy.special.polygamma(
            1, top
        )
    hazard, error = np.cumsum(step), np.sqrt(np.cumsum(square))
    width = NormalDist().inv_cdf((1 + confidence) / 2) * error
    low, high = np.maximum(hazard - width, 0), hazard + width
    if limits == "log":
        factor = np.exp(width / hazard)
        low, high = hazard / factor, hazard * factor
    return HazardCurve(
        age, at_risk, failed, hazard, error, low, high, confidence, ties, limits
    )


def at_risk_of(lives: Lives) -> tuple[Floats, Floats, Floats]:
    """
    Count who is at risk and who fails at each age with failures.

    Parameters
    ----------
    lives
        The lives.

    Returns
    -------
    tuple
        Ages [d], lives at risk [1] and failures [1], each of shape (n_ages,).
    """
    if lives.weight is None:
        age, counts = np.unique(lives.exit[lives.is_event], return_counts=True)
        n_failed = counts.astype(np.float64)
        left = weight_before(lives.exit, None, age)
    else:
        age, n_failed, left = _weighed_exits(lives, lives.weight)
    entered = np.full(len(age), lives.n_units)
    if lives.entry is not None and lives.weight is None:
        entered = weight_before(lives.entry, None, age)
    elif lives.entry is not None and lives.weight is not None:
        # Those watched from age 0 need not be sorted.
        late = lives.entry > 0
        weight = lives.weight[late]
        entered += weight_before(lives.entry[late], weight, age) - weight.sum()
    return age, entered - left, n_failed


def _weighed_exits(lives: Lives, weights: Floats) -> tuple[Floats, Floats, Floats]:
    """Give ages with failures, what fails at each and what went before, in one sort."""
    order = np.argsort(lives.exit)
    exits, weight = lives.exit[order], weights[order]
    begins = np.flatnonzero(np.diff(exits, prepend=0.0))
    failed = np.add.reduceat(np.where(lives.is_event[order], weight, 0.0), begins)
    gone = np.concatenate(([0.0], np.cumsum(weight)))[begins]
    has_failed = failed > 0
    return exits[begins][has_failed], failed[has_failed], gone[has_failed]


def weight_before(ages: Floats, weight: Floats | None, at: Floats) -> Floats:
    """
    Sum what lies at ages strictly before each of some ages.

    Parameters
    ----------
    ages
        Ages. [d], shape (n_rows,)
    weight
        What each counts; ``None`` for 1. [1], shape (n_rows,)
    at
        Rising ages to look from. [d], shape (n_ages,)

    Returns
    -------
    ndarray
        The sums. [1], shape (n_ages,)
    """
    if weight is None:
        return np.searchsorted(np.sort(ages), at, side="left").astype(np.float64)
    order = np.argsort(ages)
    sums = np.concatenate(([0.0], np.cumsum(weight[order])))
    return np.asarray(sums[np.searchsorted(ages[order], at, side="left")])


def steps_up_to(ages: Floats, at: Floats) -> Indices:
    """
    Count the steps at or below each of some ages.

    Parameters
    ----------
    ages
        Ages, in any order. [d], shape (n_rows,)
    at
        Rising ages of the steps. [d], shape (n_steps,)

    Returns
    -------
    ndarray
        The counts. [1], shape (n_rows,)
    """
    if len(at) <= _IN_CACHE:
        return np.searchsorted(at, ages, side="right")
    # Sorted ages are looked up faster, since neighbours lie in the cache.
    order = np.argsort(ages)
    found = np.empty(len(ages), np.int64)
    found[order] = np.searchsorted(at, ages[order], side="right")
    return found


def sum_before(place: Indices, weight: Floats | None, n_steps: int) -> Floats:
    """
    Sum what lies at ages strictly before each of some steps.

    Parameters
    ----------
    place
        Steps at or below the age of each row. [1], shape (n_rows,)
    weight
        What each row counts; ``None`` for 1. [1], shape (n_rows,)
    n_steps
        Number of steps. [1]

    Returns
    -------
    ndarray
        The sums. [1], shape (n_steps,)
    """
    sums = np.cumsum(np.bincount(place, weight, n_steps + 1))
    return sums[:n_steps].astype(np.float64)


def _share_limits(
    share: Floats, spread: Floats, confidence: float, limits: Transform
) -> tuple[Floats, Floats]:
    width = NormalDist().inv_cdf((1 + confidence) / 2) * spread
    if limits == "plain":
        low, high = share - width * share, share + width * share
    elif limits == "log":
        low, high = share * np.exp(-width), share * np.exp(width)
    else:
        by = np.exp(width / -np.log(share))
        low, high = share**by, share ** (1 / by)
    # Where nothing runs the spread is endless: the lower limit is 0, the upper unknown.
    gone = share <= 0
    low, high = np.clip(low, 0, 1), np.clip(high, 0, 1)
    return np.where(gone, 0.0, low), np.where(gone, math.nan, high)
