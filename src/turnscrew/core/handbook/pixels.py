"""
How many pixel faults does a display class allow?

ISO 13406-2 read on an encyclopaedia page; its class names against those of ISO 9241-307
on a community page. The two standards give the same name to different classes.
"""

from dataclasses import dataclass

from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside

PER_MILLION = {
    "I": (0, 0, 0),
    "II": (2, 2, 5),
    "III": (5, 15, 50),
    "IV": (50, 150, 500),
}
"""Faults by class of ISO 13406-2: bright, dark, sub-pixel. [1/million pixels]"""

OLD_CLASS = {"0": "I", "II": "II", "III": "III", "IV": "IV"}
"""Class of ISO 9241-307 against that of ISO 13406-2; the new class I has no like."""

_PIXELS = Bounds(1, 20_000, "1")


@dataclass(frozen=True, slots=True)
class PixelLimits:
    """
    Most faults of each type.

    Parameters
    ----------
    bright
        Type 1: pixels always bright. [1]
    dark
        Type 2: pixels always dark. [1]
    sub_pixel
        Type 3: faulty sub-pixels. [1]
    """

    bright: int
    dark: int
    sub_pixel: int


def pixel_limits(n_across: int, n_down: int, old_class: str = "II") -> PixelLimits:
    """
    Say how many faults of each type a display may show.

    Equation: limit = floor(million pixels x faults per million).

    Parameters
    ----------
    n_across
        Pixels across. [1]
    n_down
        Pixels down. [1]
    old_class
        Class of ISO 13406-2.

    Returns
    -------
    PixelLimits
        Most faults of each type.

    Raises
    ------
    BadFieldError
        If a count is outside its range, or the class unknown.

    References
    ----------
    ISO 13406-2, read on an encyclopaedia page.
    """
    refuse_outside("n_across", n_across, _PIXELS)
    refuse_outside("n_down", n_down, _PIXELS)
    if old_class not in PER_MILLION:
        raise BadFieldError("old_class", old_class, "one of " + ", ".join(PER_MILLION))
    return PixelLimits(
        *(n_across * n_down * n // 1_000_000 for n in PER_MILLION[old_class])
    )


def n_sub_pixels(n_across: int, n_down: int) -> int:
    """
    Say how many sub-pixels a display has.

    Equation: n = 3 x across x down.

    Parameters
    ----------
    n_across
        Pixels across. [1]
    n_down
        Pixels down. [1]

    Returns
    -------
    int
        Sub-pixels. [1]

    Raises
    ------
    BadFieldError
        If a count is outside its range.

    References
    ----------
    A product manual, for three colours a pixel.
    """
    refuse_outside("n_across", n_across, _PIXELS)
    refuse_outside("n_down", n_down, _PIXELS)
    return 3 * n_across * n_down


def old_class_of(new_class: str) -> str:
    """
    Say which class of ISO 13406-2 a class of ISO 9241-307 stands for.

    Rule: 0 is the old I, II to IV kept their names; the new I has no like.

    Parameters
    ----------
    new_class
        Class of ISO 9241-307.

    Returns
    -------
    str
        Class of ISO 13406-2.

    Raises
    ------
    BadFieldError
        If there is no such class, or the old standard has no like of it.

    References
    ----------
    A community page; III and IV from memory.
    """
    if new_class not in OLD_CLASS:
        wanted = "one of " + ", ".join(OLD_CLASS) + "; the new I has no like"
        raise BadFieldError("new_class", new_class, wanted)
    return OLD_CLASS[new_class]
