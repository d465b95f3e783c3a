"""
Which units stand in two parts of a fleet?

Each part gives a mark of 64 bits for each of its units, so that no names of a large
fleet travel. Marks that two parts share are then held against the names themselves.
"""

from collections.abc import Mapping, Sequence
from hashlib import blake2b

import numpy as np
import numpy.typing as npt

from turnscrew.core.reliability.table import FleetTable
from turnscrew.flows.fleet.spread import Here, Spread

Marks = npt.NDArray[np.uint64]
_MARK_BYTES = 8
_Unit = tuple[str, str]


def units_in_two(
    parts: Sequence[Mapping[str, FleetTable]], spread: Spread | None = None
) -> tuple[tuple[str, int, int], ...]:
    """
    Find the units that stand in two parts, the model in any case.

    Parameters
    ----------
    parts
        The fleet in parts, each by model.
    spread
        Where the work on each part is done; here if not said.

    Returns
    -------
    tuple
        Name of the unit, and the places of the first part it stands in and of the
        other, from 0.
    """
    spread = spread or Here()
    marks = spread.gathered(spread.each(_marks, parts))
    found, counts = np.unique(
        np.concatenate([np.zeros(0, np.uint64), *marks]), return_counts=True
    )
    shared = found[counts > 1]
    if not shared.size:
        return ()
    seen: dict[_Unit, int] = {}
    twice: list[tuple[str, int, int]] = []
    named = spread.gathered(spread.each(_marked, parts, shared))
    for place, units in enumerate(named):
        for unit in units:
            first = seen.setdefault(unit, place)
            if first != place:
                twice.append((unit[1], first, place))
    return tuple(twice)


def _units(part: Mapping[str, FleetTable]) -> list[_Unit]:
    return [
        (model.casefold(), unit) for model in part for unit in part[model].unit.tolist()
    ]


def _marks(part: Mapping[str, FleetTable]) -> Marks:
    told = b"".join(
        blake2b(f"{model}\n{unit}".encode(), digest_size=_MARK_BYTES).digest()
        for model, unit in _units(part)
    )
    return np.frombuffer(told, np.uint64)


def _marked(part: Mapping[str, FleetTable], shared: Marks) -> list[_Unit]:
    """Give the units of a part whose marks are among those shared."""
    are_shared = np.isin(_marks(part), shared).tolist()
    units = _units(part)
    return [unit for unit, is_one in zip(units, are_shared, strict=True) if is_one]
