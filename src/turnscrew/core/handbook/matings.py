"""
How often may a connector be mated, and how much of that is left?

Ratings read in a selection guide for flex connectors, on a USB-C summary page and in
two drawings of barrel connectors; micro coaxial and wire-to-board from memory. Every
opening is booked against the low end.
"""

from dataclasses import dataclass

from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside

_GUIDE = "a selection guide for flex connectors"
_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Matings:
    """
    How often a kind of connector may be mated.

    Parameters
    ----------
    low
        Low end of the ratings; the budget. [1]
    high
        High end of them. [1]
    release
        How it is let go.
    source
        Where the figures come from.
    """

    low: int
    high: int
    release: str
    source: str


MATINGS = {
    "zif": Matings(10, 30, "lift the latch, or slide it out at both ends", _GUIDE),
    "lif": Matings(50, 100, "pull straight", _GUIDE),
    "board_to_board": Matings(30, 100, "lift straight", _GUIDE),
    "usb_c": Matings(10_000, 10_000, "pull straight", "a USB-C summary page"),
    "barrel": Matings(5_000, 5_000, "pull straight", "two drawings"),
    "micro_coax": Matings(30, 30, "lift square with a tool, not by the lead", _MEMORY),
    "wire_to_board": Matings(30, 30, "by the housing, not by the wires", _MEMORY),
}
"""Ratings by kind of connector."""


def rated_matings(kind: str) -> Matings:
    """
    Say how often a kind of connector may be mated.

    Rule: table of ``MATINGS``.

    Parameters
    ----------
    kind
        Such as ``zif``.

    Returns
    -------
    Matings
        Low and high end, how it is let go, and the source.

    Raises
    ------
    BadFieldError
        If the table has no such kind.

    References
    ----------
    As each row says.
    """
    if kind not in MATINGS:
        raise BadFieldError("kind", kind, "one of " + ", ".join(MATINGS))
    return MATINGS[kind]


def matings_left(kind: str, n_done: int) -> int:
    """
    Say how many matings are left in the budget.

    Equation: left = low end - done, at least 0.

    Parameters
    ----------
    kind
        Such as ``zif``.
    n_done
        Matings so far. [1]

    Returns
    -------
    int
        Matings left. [1]

    Raises
    ------
    BadFieldError
        If the table has no such kind, or the count is below zero.

    References
    ----------
    Ratings as each row says; the low end is common practice, no source.
    """
    refuse_outside("n_done", n_done, Bounds(0, 1_000_000, "1"))
    return max(0, rated_matings(kind).low - n_done)
