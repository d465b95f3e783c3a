"""Up to which price does a repair pay, at which age?"""

from collections.abc import Iterator, Mapping
from statistics import NormalDist

import numpy as np

from turnscrew.core.fleet.answer import YEAR_DAYS, ModelTold, Paying
from turnscrew.core.price.replace import (
    Expected,
    RepairOrReplace,
    Replacement,
    repair_or_replace,
)
from turnscrew.core.reliability.recurrence import MeanCurve


def needs_between(told: ModelTold, start_d: float, end_d: float) -> Expected | None:
    """
    Give what a device needs between two ages.

    Steps at different ages are taken as independent, so that their variances add up.

    Parameters
    ----------
    told
        What is known of the model.
    start_d
        The one age. [d]
    end_d
        The other. [d]

    Returns
    -------
    Expected
        Mean and limits at the confidence of the curve; ``None`` where nobody was
        watched so young or so old, give or take a month.
    """
    if told.cost is None or told.watched_d is None:
        return None
    curve, (youngest, oldest) = told.cost, told.watched_d
    if start_d < youngest - YEAR_DAYS / 12 or end_d > oldest + YEAR_DAYS / 12:
        return None
    mean = curve.mean_at(end_d) - curve.mean_at(start_d)
    variance = max(0.0, _variance_at(curve, end_d) - _variance_at(curve, start_d))
    width = NormalDist().inv_cdf((1 + curve.confidence) / 2) * variance**0.5
    return Expected(mean, max(0.0, mean - width), mean + width)


def worth_of_repair(
    told: ModelTold,
    *,
    repair_minor: int,
    age_years: float,
    years_left: float,
    replacement: Replacement,
) -> RepairOrReplace | None:
    """
    Say whether a repair pays.

    Parameters
    ----------
    told
        What is known of the model.
    repair_minor
        What the repair costs. [minor units]
    age_years
        Age of the device. [years]
    years_left
        Years for which it is still wanted. [years]
    replacement
        The other device; taken to fail like this model when it was young.

    Returns
    -------
    RepairOrReplace
        What pays; ``None`` if no device was watched at such an age.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range, or the other device would not last as long.
    """
    start = age_years * YEAR_DAYS
    old = needs_between(told, start, start + years_left * YEAR_DAYS)
    new = needs_between(told, 0.0, years_left * YEAR_DAYS)
    if old is None or new is None:
        return None
    return repair_or_replace(
        repair_minor=repair_minor, years_left=years_left, needs_old=old, needs_new=new,
        replacement=replacement,
    )  # fmt: skip


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
        if other is None or told.watched_d is None:
            continue
        last = int(np.ceil(told.watched_d[1] / YEAR_DAYS))
        for age in range(last):
            made = worth_of_repair(
                told, repair_minor=0, age_years=age, years_left=min(1.0, other.years),
                replacement=other,
            )  # fmt: skip
            if made is not None:
                yield Paying(told.model, age, made.most)


def _variance_at(curve: MeanCurve, age: float) -> float:
    place = int(np.searchsorted(curve.age, age, side="right"))
    return float(curve.variance[place - 1]) if place else 0.0
