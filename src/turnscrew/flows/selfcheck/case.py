"""How is one reckoning laid beside a published figure?"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

Figure = float | bool | str | None | Sequence["Figure"]


@dataclass(frozen=True)
class Within:
    """
    How far a figure may lie from the published one.

    Parameters
    ----------
    by
        The distance.
    kind
        ``abs``: in the unit of the figure; ``rel``: as a share of it. [1]
    """

    by: float
    kind: Literal["abs", "rel"] = "abs"


EXACT = Within(0.0)


@dataclass(frozen=True, kw_only=True)
class Case:
    """
    One published figure, or a few of one table, with what we reckon.

    Parameters
    ----------
    name
        Short name, such as A1.
    title
        What it is.
    source
        Where the figures are printed; "computed" where they are not.
    reckon
        Gives our figures by name.
    expected
        The published figures by name.
    within
        How near ours must be, by name; exact where none is said.
    """

    name: str
    title: str
    source: str
    reckon: Callable[[], Mapping[str, Figure]]
    expected: Mapping[str, Figure]
    within: Mapping[str, Within] = field(default_factory=dict)


@dataclass(frozen=True)
class Miss:
    """
    One figure that is not as published.

    Parameters
    ----------
    case
        Name of the case.
    figure
        Name of the figure.
    found
        What we reckon.
    wanted
        What is printed.
    """

    case: str
    figure: str
    found: Figure
    wanted: Figure

    def __str__(self) -> str:
        """Say where, what was found, what was wanted."""
        return f"{self.case}, {self.figure}: found {self.found}, wanted {self.wanted}"


def misses(case: Case) -> tuple[Miss, ...]:
    """
    Reckon a case and tell what is not as published.

    Parameters
    ----------
    case
        The case.

    Returns
    -------
    tuple
        What is off; empty if all agrees.
    """
    found = case.reckon()
    return tuple(
        Miss(case.name, name, found.get(name), wanted)
        for name, wanted in case.expected.items()
        if not _agrees(found.get(name), wanted, case.within.get(name, EXACT))
    )


def _agrees(found: Figure, wanted: Figure, within: Within) -> bool:
    if isinstance(wanted, (str, bool)) or wanted is None:
        return bool(found == wanted)
    if isinstance(wanted, (int, float)):
        if isinstance(found, (bool, str)) or not isinstance(found, (int, float)):
            return False
        return _is_near(float(found), float(wanted), within)
    if found is None or isinstance(found, (str, bool, int, float)):
        return False
    return len(found) == len(wanted) and all(
        _agrees(one, other, within) for one, other in zip(found, wanted, strict=True)
    )


def _is_near(found: float, wanted: float, within: Within) -> bool:
    if math.isinf(wanted) or math.isinf(found):
        return found == wanted
    limit = within.by * (abs(wanted) if within.kind == "rel" else 1.0)
    # A figure typed in must not fail by the last bit of a float.
    return abs(found - wanted) <= limit + 1e-12 * max(1.0, abs(wanted))
