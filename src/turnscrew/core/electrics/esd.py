"""
Does a reading at the bench keep to a static-control programme?

Limits read in a summary of ANSI/ESD S20.20 in its text of 2007 and of EN 61340-5-1;
later editions differ. Humidity is no limit in them. No standard is claimed to be met.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.ranges import RESISTANCE_OHM, RESISTOR_OHM, VOLTAGE_V
from turnscrew.core.model.quantities import BadFieldError, refuse_outside

STRAP_OHM = 1e6
"""Resistor in the cord of a wrist strap; from memory. [ohm]"""

Path = Literal["wrist strap", "floor and footwear", "work surface"]

LIMIT_OHM: dict[Path, float] = {
    "wrist strap": 3.5e7,
    "floor and footwear": 1e9,
    "work surface": 1e9,
}
"""A path to ground must read below this. [ohm]"""


@dataclass(frozen=True, slots=True)
class EsdReading:
    """
    One path to ground against its limit.

    Parameters
    ----------
    is_below
        The reading is below the limit.
    limit_ohm
        The limit. [ohm]
    why
        The comparison, as a sentence.
    """

    is_below: bool
    limit_ohm: float
    why: str


def strap_current_a(voltage_v: float, resistance_ohm: float = STRAP_OHM) -> float:
    """
    Say how much current the resistor of a wrist strap lets through.

    Equation: I = V / R.

    Parameters
    ----------
    voltage_v
        Voltage touched. [V]
    resistance_ohm
        Resistor in the cord. [ohm]

    Returns
    -------
    float
        Current. [A]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Ohm's law; the resistor of 1 megohm is from memory.
    """
    refuse_outside("voltage_v", voltage_v, VOLTAGE_V)
    refuse_outside("resistance_ohm", resistance_ohm, RESISTOR_OHM)
    return voltage_v / resistance_ohm


def esd_reading(path: Path, resistance_ohm: float) -> EsdReading:
    """
    Say whether a path to ground reads below its limit.

    Rule: wrist strap system below 3.5e7 ohm, floor with footwear and work surface
    below 1e9 ohm; a floor also wants the body below 100 V.

    Parameters
    ----------
    path
        What was measured to ground.
    resistance_ohm
        Reading. [ohm]

    Returns
    -------
    EsdReading
        The comparison.

    Raises
    ------
    BadFieldError
        If the path is unknown or the reading outside its range.

    References
    ----------
    Summary of ANSI/ESD S20.20 (2007) and EN 61340-5-1.
    """
    if path not in LIMIT_OHM:
        raise BadFieldError("path", path, "one of " + ", ".join(LIMIT_OHM))
    refuse_outside("resistance_ohm", resistance_ohm, RESISTANCE_OHM)
    limit_ohm = LIMIT_OHM[path]
    is_below = resistance_ohm < limit_ohm
    words = "below" if is_below else "not below"
    more = "; body voltage below 100 V too" if path == "floor and footwear" else ""
    why = f"{path}: {resistance_ohm:.3g} Ω is {words} {limit_ohm:.2g} Ω{more}"
    return EsdReading(is_below, limit_ohm, why)
