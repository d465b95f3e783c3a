"""
What will the next terms bring, and how much of a part covers the next one?

Where age matters, each part in service is taken at its own age, and a renewed part
starts anew and may fail again. What is not known of the law widens the count as an
unknown rate does: the law of the count is gamma and Poisson in both cases.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from turnscrew.core.fleet.advice import TERMS_BEYOND
from turnscrew.core.fleet.answer import (
    YEAR_DAYS,
    CauseAnswer,
    Fan,
    Shelf,
)
from turnscrew.core.reliability.age_sums import AgeSums
from turnscrew.core.reliability.fit import LifeFit
from turnscrew.core.reliability.lives import Floats
from turnscrew.core.reliability.prediction import (
    JEFFREYS,
    CountPrediction,
    GammaLaw,
    predict_count,
)
from turnscrew.core.reliability.renewal import MOST_STEPS, renewals
from turnscrew.core.stock.laws import Counted
from turnscrew.core.stock.service import Measure, stock_level

STEPS = 12
"""Places along a fan. [1]"""

WIDE, NARROW = 0.9, 0.5
"""Levels of the two bands of a fan. [1]"""

_STEP = 1e-4
_LEAST_SPREAD = 1e-9
"""Least relative variance of a mean: below it a law counts as known. [1]"""

_STEPS_OF_A_LIFE = 24
"""Steps within the scale of the law of a life, a choice, no source. [1]"""


@dataclass(frozen=True, eq=False)
class Outlook:
    """
    What foretells the failures of one cause.

    Parameters
    ----------
    of
        Gives for a number of days the mean of the failures, and how many failures would
        tell as much of the rate as is known of it.
    """

    of: Callable[[float], tuple[float, float]]

    def predicted(self, days: float, confidence: float = 0.9) -> CountPrediction:
        """
        Foretell the failures of some days.

        Parameters
        ----------
        days
            Time from now. [d]
        confidence
            Level of both limits together. [1]

        Returns
        -------
        CountPrediction
            Mean, limits and chances.
        """
        mean, size = self.of(days)
        # All that is known stands in the prior; no time is added to it.
        return predict_count(
            failures=[0],
            exposure=[0],
            future_exposure=[mean],
            prior=GammaLaw(size, size),
            confidence=confidence,
        )


def steady(failures: float, device_years: float, n_running: float) -> Outlook:
    """
    Foretell by one rate.

    Parameters
    ----------
    failures
        Failures so far. [1]
    device_years
        Time in which they came. [years]
    n_running
        Devices in service. [1]

    Returns
    -------
    Outlook
        The outlook.
    """
    size = failures + JEFFREYS.shape
    rate = size / (device_years + JEFFREYS.rate)
    return Outlook(lambda days: (rate * n_running * days / YEAR_DAYS, size))


def by_age(ages: AgeSums, fit: LifeFit, *, days: float) -> Outlook:
    """
    Foretell by the ages of the parts in service and a Weibull law.

    Parameters
    ----------
    ages
        The parts in service by their age.
    fit
        The law of their life; it must have been found.
    days
        The farthest that is asked for. [d]

    Returns
    -------
    Outlook
        The outlook; how sure it is follows from the covariance of the law.

    References
    ----------
    W. Q. Meeker and L. A. Escobar, Statistical Methods for Reliability Data (1998),
    chapter 12 (from memory): failures foretold from units of different ages. That a
    renewed part is like a new one is common practice.
    """
    assert fit.mu is not None and fit.sigma is not None and fit.covariance is not None
    at, covariance = (fit.mu, math.log(fit.sigma)), np.array(fit.covariance)
    n_steps = _n_steps(days, math.exp(fit.mu))
    grid = np.linspace(0.0, days, n_steps + 1)

    @cache
    def curves() -> tuple[Floats, ...]:
        """Give the means by the law, and by laws a little to each side of it."""
        moved = ((0, 0), (_STEP, 0), (-_STEP, 0), (0, _STEP), (0, -_STEP))
        return tuple(
            _mean_by(ages, at[0] + a, at[1] + b, days, n_steps) for a, b in moved
        )

    def of(asked: float) -> tuple[float, float]:
        mean, *moved = (float(np.interp(asked, grid, one)) for one in curves())
        if not mean:
            return 0.0, 1.0
        by = np.array([moved[0] - moved[1], moved[2] - moved[3]]) / (2 * _STEP * mean)
        return mean, 1 / max(float(by @ covariance @ by), _LEAST_SPREAD)

    return Outlook(of)


def _n_steps(days: float, scale: float) -> int:
    """Give so many steps that each place of both fans is one, and a life is many."""
    finest = math.ceil(days * _STEPS_OF_A_LIFE / scale / (TERMS_BEYOND * STEPS))
    most = MOST_STEPS // (TERMS_BEYOND * STEPS)
    return TERMS_BEYOND * STEPS * min(max(2, finest), most)


def _mean_by(
    ages: AgeSums, mu: float, log_sigma: float, days: float, n_steps: int
) -> Floats:
    shape = math.exp(-log_sigma)
    gone = _hazard(ages.age, mu, shape)

    def first(times: Floats) -> Floats:
        ahead = np.empty(len(times))
        for k, time in enumerate(times):
            later = _hazard(ages.age + time, mu, shape)
            ahead[k] = -ages.weight @ np.expm1(gone - later)
        return ahead

    def renewed(times: Floats) -> Floats:
        return -np.expm1(-_hazard(times, mu, shape))

    return renewals(first, renewed, days=days, n_steps=n_steps)


def _hazard(age: Floats, mu: float, shape: float) -> Floats:
    """Give the cumulative hazard of a Weibull law. [1]."""
    return np.asarray((age * math.exp(-mu)) ** shape)


def fan_of(outlook: Outlook, days: float) -> Fan:
    """
    Draw out what is to come of one cause.

    Parameters
    ----------
    outlook
        What foretells it.
    days
        How far to look ahead. [d]

    Returns
    -------
    Fan
        Medians and limits.
    """
    at = tuple(days * step / STEPS for step in range(STEPS + 1))
    levels = ((1 - WIDE) / 2, (1 - NARROW) / 2, 0.5, (1 + NARROW) / 2, (1 + WIDE) / 2)
    rows = [tuple(map(outlook.predicted(day).quantile, levels)) for day in at]
    low, lower, middle, upper, high = zip(*rows, strict=True)
    return Fan(at, low, lower, middle, upper, high)


def shelf_of(
    cause: CauseAnswer,
    outlook: Outlook,
    *,
    days: float,
    target: float,
    measure: Measure = "P(X<=s)",
) -> Shelf | None:
    """
    Say how many pieces to hold for one cause.

    Parameters
    ----------
    cause
        The cause.
    outlook
        What foretells it.
    days
        Time to be covered, such as a term or a lead time. [d]
    target
        Service wanted. [1]
    measure
        What is meant by service.

    Returns
    -------
    Shelf
        The pieces; ``None`` if no device is left in service.
    """
    if not outlook.of(days)[0]:
        return None
    chances = outlook.predicted(days).chances
    law = Counted(tuple((chances / chances.sum()).tolist()))
    return Shelf(
        model=cause.model,
        cause=cause.cause,
        level=stock_level(law, target=target, measure=measure),
        fan=fan_of(outlook, days),
        beyond=fan_of(outlook, TERMS_BEYOND * days),
        days=days,
    )
