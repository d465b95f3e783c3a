"""
What do recurrent failures add up to, step by step, in a fleet or in a part of it?

A step is an age at which something failed.
"""

from dataclasses import dataclass

import numpy as np

from turnscrew.core.reliability.curves import steps_up_to, sum_before
from turnscrew.core.reliability.lives import Floats, Indices, Recurrences


@dataclass(frozen=True, eq=False)
class Steps:
    """
    Steps of the mean by age, and the failures by unit and age.

    A unit is at risk at the steps from ``entered`` to just before ``left``.
    """

    age: Floats
    at_risk: Floats
    entered: Indices | None
    left: Indices
    total: Floats
    squares: Floats
    own_squares: Floats
    unit: Indices
    place: Indices
    amount: Floats
    weight: Floats

    @property
    def mean(self) -> Floats:
        """Give the steps of the mean. [1], shape (n_ages,)."""
        return self.total / self.at_risk


def weights_of(fleet: Recurrences) -> Floats:
    """
    Give the weight of each unit.

    Parameters
    ----------
    fleet
        The units.

    Returns
    -------
    ndarray
        Weights. [1], shape (n_units,)
    """
    return np.ones(len(fleet.end)) if fleet.weight is None else fleet.weight


def steps_of(fleet: Recurrences) -> Steps:
    """
    Gather failures by age, and by unit and age, in the order of units.

    Parameters
    ----------
    fleet
        The units and their failures.

    Returns
    -------
    Steps
        The steps.
    """
    order = np.argsort(fleet.event_age)
    ages = fleet.event_age[order]
    is_new = np.diff(ages, prepend=0.0) > 0
    at = np.cumsum(is_new) - 1
    age = ages[is_new]
    weights = weights_of(fleet)
    unit = fleet.event_unit[order]
    cost = np.ones(len(at)) if fleet.event_cost is None else fleet.event_cost[order]
    each = weights[unit] * cost

    def by_age(amounts: Floats) -> Floats:
        return np.bincount(at, amounts, len(age)).astype(np.float64)

    left = steps_up_to(fleet.end, age)
    at_risk = np.full(len(age), fleet.n_units)
    entered = None
    if fleet.entry is not None:
        entered = steps_up_to(fleet.entry, age)
        at_risk = sum_before(entered, fleet.weight, len(age))
    at_risk = at_risk - sum_before(left, fleet.weight, len(age))
    unit, place, amount = _by_unit(unit, at, cost)
    return Steps(
        age, at_risk, entered, left,
        by_age(each), by_age(each * cost), by_age(each**2),
        unit, place, amount, weights[unit],
    )  # fmt: skip


def steps_at(
    fleet: Recurrences, *, age: Floats, at_risk: Floats, total: Floats
) -> Steps:
    """
    Gather the failures of a part of a fleet by the steps of the whole.

    Parameters
    ----------
    fleet
        The units of the part.
    age
        Ages at which anything failed in the whole fleet, rising. [d], shape (n_steps,)
    at_risk
        Units of the whole fleet watched at each. [1], shape (n_steps,)
    total
        What failed, or what it cost, at each in the whole fleet. [1], shape (n_steps,)

    Returns
    -------
    Steps
        The steps of the whole with the failures of the part; without sums of squares.
    """
    n = max(len(age), 1)
    # One number holds unit and step: plain numbers are sorted fastest.
    key = fleet.event_unit * n + np.searchsorted(age, fleet.event_age)
    amount = np.ones(len(key))
    if fleet.event_cost is None:
        key.sort()
    else:
        order = np.argsort(key)
        key, amount = key[order], fleet.event_cost[order]
    begins = np.flatnonzero(np.diff(key, prepend=-1))
    if len(begins) < len(key):
        key, amount = key[begins], np.add.reduceat(amount, begins)
    unit, place = np.divmod(key, n)
    nothing = np.zeros(len(age))
    return Steps(
        age, at_risk,
        None if fleet.entry is None else steps_up_to(fleet.entry, age),
        steps_up_to(fleet.end, age),
        total, nothing, nothing, unit, place, amount, weights_of(fleet)[unit],
    )  # fmt: skip


def _by_unit(
    unit: Indices, at: Indices, cost: Floats
) -> tuple[Indices, Indices, Floats]:
    """Turn failures in the order of age into amounts of each unit and step."""
    n = max(len(unit), 1)
    # One number holds unit and order of age: plain numbers are sorted fastest.
    unit, rank = np.divmod(np.sort(unit * n + np.arange(len(unit))), n)
    place, amount = at[rank], cost[rank]
    is_new = (np.diff(unit, prepend=-1) != 0) | (np.diff(place, prepend=-1) != 0)
    if is_new.all():
        return unit, place, amount
    begins = np.flatnonzero(is_new)
    return unit[begins], place[begins], np.add.reduceat(amount, begins)
