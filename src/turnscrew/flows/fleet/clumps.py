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
    sums = _sums(name_of, groups, rows)
    return 1.0 if sums is None else dispersion_within(**sums)


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
    sums = _sums(place_of, groups, rows)
    if sums is None:
        return 1.0
    return chance_of_repeats(
        failures=sums["failures"],
        squares=sums["squares"],
        exposure=sums["exposure"],
        exposure_squares=sums["exposure_squares"],
    )


_OF_ROWS = {"failures": "n", "squares": "squares", "by_exposure": "by_years"}
_OF_GROUPS = {
    "exposure": "device_years", "exposure_squares": "years_squared",
    "n_units": "n_devices",
}  # fmt: skip


def _sums(
    name_of: Callable[[One], str],
    groups: Sequence[FleetGroup],
    rows: Sequence[FleetFailures],
) -> dict[str, Floats] | None:
    """Add up by name; nothing where nobody knows how failures share out."""
    is_known = all(one.n_devices and one.years_squared for one in groups)
    if not is_known or not all(one.squares for one in rows if one.n):
        return None
    names = dict.fromkeys(map(name_of, groups))

    def added(some: Sequence[One], figure: str) -> Floats:
        sums = dict.fromkeys(names, 0.0)
        for one in some:
            sums[name_of(one)] += getattr(one, figure)
        return np.array(list(sums.values()))

    return {name: added(rows, figure) for name, figure in _OF_ROWS.items()} | {
        name: added(groups, figure) for name, figure in _OF_GROUPS.items()
    }


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
