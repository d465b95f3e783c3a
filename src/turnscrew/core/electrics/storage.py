"""
What does a shelf, or a cycle, take from a lithium pack?

Both tables stand on many web pages that agree and likely have one origin: they guide,
they do not bind.
"""

from dataclasses import dataclass

from turnscrew.core.model.quantities import Bounds, refuse_outside

STORE_AT_SHARE = 0.40

STORAGE = (
    (0.0, 0.98, 0.94),
    (25.0, 0.96, 0.80),
    (40.0, 0.85, 0.65),
    (60.0, 0.75, 0.60),
)
"""Temperature [degC]; share left of a pack stored at 40 % and stored full [1]."""

CYCLES = (
    (0.10, 3750, 4700), (0.25, 2000, 2500), (0.50, 1200, 1500), (1.0, 300, 500)
)  # fmt: skip
"""Depth of discharge [1]; fewest and most cycles [1]."""


@dataclass(frozen=True, slots=True)
class ShelfLoss:
    """
    What is left of a pack after lying on the shelf.

    Parameters
    ----------
    left_share
        Capacity that can be had again. [1]
    months
        Time on the shelf. [months]
    row_c
        Row of the table that was taken. [degC]
    advice
        How to store it, as a sentence.
    """

    left_share: float
    months: int
    row_c: float
    advice: str = "Store at about 40 % charge and below 15 °C."


def shelf_loss(temperature_c: float, charge_share: float) -> ShelfLoss:
    """
    Say what is left of a pack after a year on the shelf.

    Rule: the next hotter row; the full column as soon as it is above 40 %. A full pack
    at 60 degrees is told after three months.

    Parameters
    ----------
    temperature_c
        Temperature of the shelf. [degC]
    charge_share
        State of charge when stored. [1]

    Returns
    -------
    ShelfLoss
        Share left, time and row taken.

    Raises
    ------
    BadFieldError
        If it is colder than -20 or hotter than 60 degrees, or the charge no share.

    References
    ----------
    Battery pages that agree and likely have one origin.
    """
    refuse_outside("temperature_c", temperature_c, Bounds(-20, 60, "°C"))
    refuse_outside("charge_share", charge_share, Bounds(0, 1, "1"))
    row = next(row for row in STORAGE if temperature_c <= row[0])
    row_c, part_full, full = row
    is_full = charge_share > STORE_AT_SHARE
    months = 3 if is_full and row_c == STORAGE[-1][0] else 12
    return ShelfLoss(full if is_full else part_full, months, row_c)


def cycles_at(depth_share: float) -> tuple[int, int]:
    """
    Say how many cycles a pack lives at a depth of discharge.

    Rule: the next deeper row of ``CYCLES``.

    Parameters
    ----------
    depth_share
        Share of the capacity that each cycle uses. [1]

    Returns
    -------
    tuple
        Fewest and most cycles. [1]

    Raises
    ------
    BadFieldError
        If the depth is outside 0.01 to 1.

    References
    ----------
    Battery pages of one origin.
    """
    refuse_outside("depth_share", depth_share, Bounds(0.01, 1, "1"))
    return next((low, high) for row, low, high in CYCLES if depth_share <= row)
