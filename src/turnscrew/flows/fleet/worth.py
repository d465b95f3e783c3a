"""Up to which price does a repair pay, at which age?"""

from collections.abc import Iterator, Mapping

import numpy as np

from turnscrew.core.fleet.answer import YEAR_DAYS, ModelTold, Paying
from turnscrew.core.price.replace import Expected, Replacement, repair_or_replace
from turnscrew.core.reliability.rates import rate_limits
from turnscrew.core.reliability.recurrence import mean_limits
from turnscrew.core.reliability.sums import FleetSums

_NO_SPREAD = 1e-9
"""Relative variance below which devices are said to need all the same. [1]"""


def years_of(sums: FleetSums) -> list[tuple[float, float]]:
    """
    Give the years of age up to the oldest watched.

    Parameters
    ----------
    sums
        What the units of a model add up to.

    Returns
    -------
    list
        First and last age of each year. [d]
    """
    n = int(np.ceil(sums.ends.age[-1] / YEAR_DAYS))
    return [(k * YEAR_DAYS, (k + 1) * YEAR_DAYS) for k in range(n)]


def need_between(
    sums: FleetSums,
    ages: tuple[float, float],
    gain: float,
    variance: float,
    *,
    confidence: float,
) -> Expected | None:
    """
    Set limits to what a device needs between two ages.

    Where nothing failed, or all devices needed the same, their spread tells nothing:
    then the number of failures alone has limits, and each costs the mean of all.

    Parameters
    ----------
    sums
        What the units of the model add up to.
    ages
        The two ages. [d]
    gain
        What a device needed between them on average. [minor units]
    variance
        Robust variance of that. [minor units squared]
    confidence
        Level of both limits together. [1]

    Returns
    -------
    Expected
        Mean and limits; ``None`` where nobody was watched so young or so old, give or
        take a month.
    """
    start, end = ages
    youngest, oldest = float(sums.entries.age[0]), float(sums.ends.age[-1])
    if start < youngest - YEAR_DAYS / 12 or end > oldest + YEAR_DAYS / 12:
        return None
    days = _watched(sums, start, end)
    if days <= 0:
        return None
    if variance > _NO_SPREAD * gain**2:
        low, high = mean_limits(
            np.array([gain]), np.array([variance]), limits="log-normal",
            confidence=confidence, sided=2,
        )  # fmt: skip
        return Expected(gain, float(low[0]), float(high[0]))
    at = (sums.events.age > start) & (sums.events.age <= end)
    rate = rate_limits(
        failures=float(sums.events.weight[at].sum()), total_time=days,
        confidence=confidence,
    )  # fmt: skip
    if not gain:
        each = float(sums.cost.sum() / sums.n_costed.sum())
        return Expected(0.0, 0.0, rate.rate_upper * (end - start) * each)
    return Expected(
        gain, gain * rate.rate_lower / rate.rate, gain * rate.rate_upper / rate.rate
    )


def _watched(sums: FleetSums, start: float, end: float) -> float:
    """Give the time under watch between two ages. [d]."""
    left = sums.ends.weight @ np.clip(sums.ends.age, start, end)
    return float(left - sums.entries.weight @ np.clip(sums.entries.age, start, end))


def paying(
    models: tuple[ModelTold, ...], replacements: Mapping[str, Replacement]
) -> Iterator[Paying]:
    """
    Give, for one more year of service, what a repair may cost at each age.

    Parameters
    ----------
    models
        What is known of the models.
    replacements
        The other devices, by model.

    Yields
    ------
    Paying
        A model and an age in whole years.
    """
    for told in models:
        other = replacements.get(told.model)
        if other is None or not told.needs or told.needs[0] is None:
            continue
        # Taken to fail like this model when it was young.
        young = told.needs[0]
        for age, old in enumerate(told.needs):
            if old is not None:
                made = repair_or_replace(
                    repair_minor=0, years_left=1.0, needs_old=old, needs_new=young,
                    replacement=other,
                )  # fmt: skip
                yield Paying(told.model, age, made.most)
