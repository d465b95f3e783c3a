"""
Which fuse value does a steady load want?

Derating read in a maker's selection guide and in a selection procedure for chip fuses.
The two families of standards are not interchangeable: see ``duty.py``.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.ranges import FLOWING_A, PRESENT_SHARE, VOLTAGE_V
from turnscrew.core.model.quantities import BadFieldError, refuse_outside

Family = Literal["UL", "IEC"]

UL_SHARE = 0.75
"""Share of its rating that a fuse of the UL family carries for good at 25 degrees."""

STANDARD_A = (
    0.125, 0.2, 0.25, 0.315, 0.375, 0.5, 0.63, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5,
    3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 15.0, 20.0,
)  # fmt: skip
"""Values usual among chip fuses of both families; common practice, no source. [A]"""

# A need that meets a value exactly must not fall to the next by a bit of a float.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class FuseChoice:
    """
    The value a load wants.

    Parameters
    ----------
    needed_a
        Smallest rating that will do. [A]
    standard_a
        The next value to be had. [A]
    why
        How it was reckoned, as a sentence.
    """

    needed_a: float
    standard_a: float
    why: str


def rating_needed_a(load_a: float, family: Family, rerating: float = 1.0) -> float:
    """
    Say how large a fuse a steady load needs.

    Equations: UL family In >= I / 0.75 / K; IEC family In >= I / K.

    Parameters
    ----------
    load_a
        Steady current I of the load. [A]
    family
        Family of standards the fuse is rated to.
    rerating
        Factor K for the ambient temperature, from the data page of the fuse. [1]

    Returns
    -------
    float
        Smallest rating In. [A]

    Raises
    ------
    BadFieldError
        If a figure is outside its range or the family is unknown.

    References
    ----------
    A maker's selection guide; a selection procedure for chip fuses, read on a web page.
    """
    refuse_outside("load_a", load_a, FLOWING_A)
    refuse_outside("rerating", rerating, PRESENT_SHARE)
    if family not in ("UL", "IEC"):
        raise BadFieldError("family", family, "UL or IEC")
    share = UL_SHARE if family == "UL" else 1.0
    return load_a / share / rerating


def next_standard_a(needed_a: float) -> float:
    """
    Say which value to be had comes next.

    Rule: the smallest of ``STANDARD_A`` that is not below the need.

    Parameters
    ----------
    needed_a
        Smallest rating that will do. [A]

    Returns
    -------
    float
        The value. [A]

    Raises
    ------
    BadFieldError
        If the need is no current, or above the largest value.

    References
    ----------
    Common practice, no source.
    """
    refuse_outside("needed_a", needed_a, FLOWING_A)
    for value_a in STANDARD_A:
        if value_a >= needed_a - _SLACK:
            return value_a
    raise BadFieldError("needed_a", needed_a, f"{STANDARD_A[-1]:g} A at most")


def fuse_choice(load_a: float, family: Family, rerating: float = 1.0) -> FuseChoice:
    """
    Say which fuse value a steady load wants; the pulses are another question.

    Equations: as for ``rating_needed_a``, then the next value.

    Parameters
    ----------
    load_a
        Steady current of the load. [A]
    family
        Family of standards the fuse is rated to.
    rerating
        Factor for the ambient temperature. [1]

    Returns
    -------
    FuseChoice
        The need, the value and how it was reckoned.

    Raises
    ------
    BadFieldError
        If a figure is outside its range, or the need above the largest value.

    References
    ----------
    As for ``rating_needed_a`` and ``next_standard_a``.
    """
    needed_a = rating_needed_a(load_a, family, rerating)
    share = " / 0.75" if family == "UL" else ""
    why = f"{load_a:g} A{share} / {rerating:g} = {needed_a:.4g} A, {family} family"
    return FuseChoice(needed_a, next_standard_a(needed_a), why)


def fuse_heat_w(current_a: float, dropped_v: float) -> float:
    """
    Say how much heat a fuse makes.

    Equation: P = I V.

    Parameters
    ----------
    current_a
        Current through it. [A]
    dropped_v
        Voltage across it at that current. [V]

    Returns
    -------
    float
        Heat. [W]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Definition, with the drops of published chip-fuse tables.
    """
    refuse_outside("current_a", current_a, FLOWING_A)
    refuse_outside("dropped_v", dropped_v, VOLTAGE_V)
    return current_a * dropped_v
