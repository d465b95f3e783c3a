"""
How far would the mean cumulative function move with other units of the same kind?

The bootstrap: as many units as there are, each with its whole history, are drawn from
the fleet again and again. Nothing is assumed but that units are independent. Chance is
an argument, so that a seed repeats the answer.
"""

from dataclasses import replace
from typing import Literal

import numpy as np

from turnscrew.core.model.wanted import refuse, unlike, unlike_any
from turnscrew.core.reliability.curves import steps_up_to, sum_before
from turnscrew.core.reliability.fit import refuse_confidence
from turnscrew.core.reliability.lives import Floats, Recurrences
from turnscrew.core.reliability.recurrence import MeanCurve, mean_cumulative

MOST_FIGURES = 100_000_000
"""Draws times ages that are held at once; 800 MB. [practice]"""


def mean_cumulative_bootstrap(
    recurrences: Recurrences,
    *,
    n_draws: int,
    rng: np.random.Generator,  # noqa: TID251  only the type: chance is an argument
    confidence: float = 0.95,
    sided: Literal[1, 2] = 2,
) -> MeanCurve:
    """
    Give the mean cumulative function with its variance and limits by resampling units.

    A row of several equal units is drawn as so many units. Where a draw has nobody at
    risk at an age, its mean does not move there.

    Parameters
    ----------
    recurrences
        The units and their failures; those with costs give the mean cost.
    n_draws
        Fleets drawn. [1]
    rng
        The source of chance.
    confidence
        Share of limits that hold the truth, at one age. [1]
    sided
        2 for limits on both sides together, 1 for each alone. [1]

    Returns
    -------
    MeanCurve
        The function of the fleet itself; the variance is that of the draws, divisor
        draws - 1, the limits are their quantiles.

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1, there are less than 2 draws or more
        than can be held with so many ages, or a weight is no whole number.

    References
    ----------
    B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap (1993), sections 6.2
    and 13.3.
    """
    refuse_confidence(confidence)
    refuse(unlike("n_draws", n_draws, least=2, is_whole=True))
    if recurrences.weight is not None:
        refuse(unlike_any("weight", recurrences.weight, above=0, is_whole=True))
    curve = mean_cumulative(recurrences, confidence=confidence, sided=sided)
    refuse(unlike("n_draws x ages", n_draws * len(curve.age), most=MOST_FIGURES))
    means = _drawn_means(recurrences, curve.age, int(n_draws), rng)
    p_out = (1 - confidence) / sided
    low, high = np.quantile(means, [p_out, 1 - p_out], axis=0)
    return replace(
        curve,
        variance=means.var(axis=0, ddof=1),
        low=low,
        high=high,
        variance_rule="bootstrap",
        limits="percentile",
    )


def _drawn_means(
    fleet: Recurrences,
    age: Floats,
    n_draws: int,
    rng: np.random.Generator,  # noqa: TID251  only the type: chance is an argument
) -> Floats:
    """Give the mean by each age of each fleet drawn. [1], shape (n_draws, n_ages)."""
    n_units, n_ages = len(fleet.end), len(age)
    weight = np.ones(n_units) if fleet.weight is None else fleet.weight
    cost = np.ones(len(fleet.event_age))
    cost = cost if fleet.event_cost is None else fleet.event_cost
    place = np.searchsorted(age, fleet.event_age)
    left = steps_up_to(fleet.end, age)
    entry = np.zeros(n_units) if fleet.entry is None else fleet.entry
    entered = steps_up_to(entry, age)
    means = np.zeros((n_draws, n_ages))
    for row in means if n_units else ():
        times = rng.multinomial(int(weight.sum()), weight / weight.sum()).astype(float)
        total = np.bincount(place, times[fleet.event_unit] * cost, n_ages)
        at_risk = sum_before(entered, times, n_ages) - sum_before(left, times, n_ages)
        # Sums of whole numbers are exact: nobody at risk is 0.
        np.divide(total, at_risk, out=row, where=at_risk > 0)
        np.cumsum(row, out=row)
    return means
