"""
What will the next terms bring, and how much of a part covers the next one?

Where age matters, each part in service is taken at its own age: a new part starts anew.
What is not known of the law widens the count as an unknown rate does: the law of the
count is gamma and Poisson in both cases.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from turnscrew.core.fleet.answer import YEAR_DAYS, CauseAnswer, Fan, Shelf
from turnscrew.core.reliability.fit import LifeFit
from turnscrew.core.reliability.lives import Floats
from turnscrew.core.reliability.prediction import (
    JEFFREYS,
    CountPrediction,
    GammaLaw,
    predict_count,
)
from turnscrew.core.reliability.sums import FleetSums
from turnscrew.core.stock.laws import Counted
from turnscrew.core.stock.service import Measure, stock_level

STEPS = 12
"""Places along a fan. [1]"""

TERMS_BEYOND = 4
"""Terms of the far look ahead. [1]"""

WIDE, NARROW = 0.9, 0.5
"""Levels of the two bands of a fan. [1]"""

_STEP = 1e-4


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


def by_age(sums: FleetSums, cause: str, fit: LifeFit) -> Outlook:
    """
    Foretell by the ages of the parts in service and a Weibull law.

    Parameters
    ----------
    sums
        What the units of a model add up to.
    cause
        The cause.
    fit
        The law of the life to it.

    Returns
    -------
    Outlook
        The outlook; how sure it is follows from the covariance of the law.

    References
    ----------
    W. Q. Meeker and L. A. Escobar, Statistical Methods for Reliability Data (1998),
    chapter 12 (from memory): failures foretold from units of different ages. Renewal
    without memory is common practice.
    """
    assert fit.mu is not None and fit.sigma is not None and fit.covariance is not None
    ages, covariance = sums.part_ages[sums.causes.index(cause)], fit.covariance
    at = (fit.mu, math.log(fit.sigma))

    def mean_at(days: float, mu: float, log_sigma: float) -> float:
        shape = math.exp(-log_sigma)
        grown = _hazard(ages.age + days, mu, shape) - _hazard(ages.age, mu, shape)
        return float(ages.weight @ grown)

    def of(days: float) -> tuple[float, float]:
        mean = mean_at(days, *at)
        if not mean:
            return 0.0, 1.0
        moved = [
            mean_at(days, at[0] + a, at[1] + b)
            for a, b in ((_STEP, 0), (-_STEP, 0), (0, _STEP), (0, -_STEP))
        ]
        by = np.array([moved[0] - moved[1], moved[2] - moved[3]]) / (2 * _STEP * mean)
        return mean, 1 / float(by @ np.array(covariance) @ by)

    return Outlook(of)


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
