"""Do failures of a cause clump on devices, and what do they tell that do?"""

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from turnscrew.core.fleet.answer import FleetAnswer
from turnscrew.core.fleet.question import FleetFailures, FleetGroup
from turnscrew.core.fleet.repeats import Repeats
from turnscrew.core.reliability.clumping import chance_of_repeats, dispersion_within
from turnscrew.core.reliability.lives import Floats

One = FleetGroup | FleetFailures


def place_of(one: One) -> str:
    """
    Name a group by its place.

    Parameters
    ----------
    one
        Devices or failures.

    Returns
    -------
    str
        The name.
    """
    return one.site


def year_of(one: One) -> str:
    """
    Name a group by its model-year.

    Parameters
    ----------
    one
        Devices or failures.

    Returns
    -------
    str
        The name.
    """
    return str(one.model_year)


def dispersion_by(
    name_of: Callable[[One], str],
    groups: Sequence[FleetGroup],
    rows: Sequence[FleetFailures],
) -> float:
    """
    Give the dispersion of failures between devices of the same name.

    Parameters
    ----------
    name_of
        Names the group of devices or of failures.
    groups
        The devices of one model.
    rows
        Failures of one cause in them.

    Returns
    -------
    float
        The dispersion; 1 where nobody knows how failures share out over devices. [1]
    """
    if not _are_shared_out(groups, rows):
        return 1.0
    return dispersion_within(
        failures=_added(name_of, groups, rows, "n"),
        squares=_added(name_of, groups, rows, "squares"),
        by_exposure=_added(name_of, groups, rows, "by_years"),
        exposure=_added(name_of, groups, groups, "device_years"),
        exposure_squares=_added(name_of, groups, groups, "years_squared"),
        n_units=_added(name_of, groups, groups, "n_devices"),
    )


def chance_of_clumps(
    groups: Sequence[FleetGroup], rows: Sequence[FleetFailures]
) -> float:
    """
    Give the chance that the same devices would fail so often, were all alike.

    Parameters
    ----------
    groups
        The devices of one model.
    rows
        Failures of one cause in them.

    Returns
    -------
    float
        The chance; 1 where nobody knows how failures share out over devices. [1]
    """
    if not _are_shared_out(groups, rows):
        return 1.0
    return chance_of_repeats(
        failures=_added(place_of, groups, rows, "n"),
        squares=_added(place_of, groups, rows, "squares"),
        exposure=_added(place_of, groups, groups, "device_years"),
        exposure_squares=_added(place_of, groups, groups, "years_squared"),
    )


def _are_shared_out(
    groups: Sequence[FleetGroup], rows: Sequence[FleetFailures]
) -> bool:
    is_known = all(one.n_devices and one.years_squared for one in groups)
    return is_known and all(one.squares for one in rows if one.n)


def _added(
    name_of: Callable[[One], str],
    groups: Sequence[FleetGroup],
    some: Sequence[One],
    figure: str,
) -> Floats:
    sums = dict.fromkeys(map(name_of, groups), 0.0)
    for one in some:
        sums[name_of(one)] += getattr(one, figure)
    return np.array(list(sums.values()))


def repeats_of(answer: FleetAnswer, q: float) -> Iterator[Repeats]:
    """
    Give the faults of which some devices fail again and again.

    Parameters
    ----------
    answer
        What is known of the fleet.
    q
        Chance that any one is told wrongly. [1]

    Yields
    ------
    Repeats
        One for each such fault, the most frequent first.
    """
    for one in answer.causes:
        chance = min(1.0, one.repeats_chance * len(answer.causes))
        if chance <= q:
            yield Repeats(
                one.model, one.cause, int(one.rate.failures),
                sum(one.devices_at["place"].values()), chance,
            )  # fmt: skip
