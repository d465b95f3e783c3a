"""
What does the VBUS reading of a USB-C port say, and where to look next?

Levels read in an open header that quotes them (vSafe0V, vSafe5V and vSinkDisconnect are
names of the specification) and in a public note on the 5 % of fixed levels. What to
look at next is common practice, no source.
"""

from dataclasses import dataclass

from turnscrew.core.electrics.offers import EXTENDED_V
from turnscrew.core.electrics.ranges import PRESENT_V, VOLTAGE_V
from turnscrew.core.model.quantities import refuse_outside

OFF_V = 0.8
DISCONNECT_V = 3.67
FIVE_V = (4.75, 5.5)
CONTRACTS_V = (9.0, 15.0, 20.0, *EXTENDED_V)
LEVEL_TOLERANCE = 0.05


@dataclass(frozen=True, slots=True)
class VbusLevel:
    """
    What a VBUS voltage is by the specification.

    Parameters
    ----------
    name
        Name of the level.
    meaning
        What it says, as a sentence.
    """

    name: str
    meaning: str


@dataclass(frozen=True, slots=True)
class VbusRow:
    """
    One row of the table for a machine that will not charge.

    Parameters
    ----------
    reading
        What the meter shows.
    meaning
        What it says about the fault.
    next_look
        Where to look next.
    """

    reading: str
    meaning: str
    next_look: str


_ABSENT = VbusRow(
    "0.8 V or less, and the charger works elsewhere",
    "the charger sees no pull-down: CC open, port unsoldered, or cable; "
    "0 V on a charger with nothing attached is as it should be",
    "swap the cable; turn the plug; with all power off, CC1 and CC2 to ground: "
    "about 5.1 kΩ each",
)
_LOW = VbusRow(
    "0.8 to 4.75 V",
    "voltage drop or overload",
    "load current; cable; with all power off, a short on the input",
)
_FIVE = VbusRow(
    "4.75 to 5.5 V, and it stays",
    "attached, no contract: power controller, its supply, or its input path",
    "CC volts; the plug turned; current at 5 V",
)
_CONTRACT = VbusRow(
    "within 5 % of 9, 15, 20, 28, 36 or 48 V",
    "contract made: the fault lies past the port",
    "input switch; fuse; charger of the pack",
)
_HUNTS = VbusRow(
    "hunts between 0 and 5 V",
    "the charger tries again and again: a protection trips",
    "with all power off, input rail to ground for a short",
)
_OUTSIDE = VbusRow(
    "any other voltage",
    "no fixed level: an older or optional offer, such as 12 V, or no such charger",
    "label of the charger; the same charger at a machine that works",
)

VBUS_TABLE = (_ABSENT, _LOW, _FIVE, _CONTRACT, _HUNTS, _OUTSIDE)
"""VBUS reading at a machine that will not charge: reading, meaning, next look."""


def fixed_level_v(nominal_v: float) -> tuple[float, float]:
    """
    Say between which voltages a fixed level may lie at the source.

    Equation: 0.95 V to 1.05 V.

    Parameters
    ----------
    nominal_v
        Nominal voltage V. [V]

    Returns
    -------
    tuple
        Lowest and highest. [V]

    Raises
    ------
    BadFieldError
        If the voltage is outside its range.

    References
    ----------
    A public note that quotes the Power Delivery text, table 4.6.
    """
    refuse_outside("nominal_v", nominal_v, PRESENT_V)
    return (1 - LEVEL_TOLERANCE) * nominal_v, (1 + LEVEL_TOLERANCE) * nominal_v


def vbus_level(voltage_v: float) -> VbusLevel:
    """
    Say what a VBUS voltage is by the specification.

    Rule: 0.8 V at most is off; up to 3.67 V a sink counts as detached; 4.75 to 5.5 V is
    attached; within 5 % of a fixed level is a contract.

    Parameters
    ----------
    voltage_v
        VBUS to ground. [V]

    Returns
    -------
    VbusLevel
        Name and meaning.

    Raises
    ------
    BadFieldError
        If the voltage is outside 0 to 1000 V.

    References
    ----------
    An open header that quotes the levels; a public note on the 5 %.
    """
    refuse_outside("voltage_v", voltage_v, VOLTAGE_V)
    contract_v = _contract_v(voltage_v)
    if contract_v is not None:
        return VbusLevel(f"contract {contract_v:g} V", "charger and machine agreed")
    low_v, high_v = FIVE_V
    if voltage_v <= OFF_V:
        return VbusLevel("vSafe0V", "off: nothing is attached, or so it seems")
    if voltage_v <= DISCONNECT_V:
        meaning = "above off, and so low that a sink counts as detached"
        return VbusLevel("fault: neither off nor attached", meaning)
    if voltage_v < low_v:
        return VbusLevel("low: below vSafe5V", "attached, with volts lost on the way")
    if voltage_v <= high_v:
        return VbusLevel("vSafe5V", "attached; no contract above 5 V")
    return VbusLevel("outside every fixed level", _OUTSIDE.meaning)


def vbus_row(voltage_v: float, *, is_hunting: bool = False) -> VbusRow:
    """
    Say what a VBUS reading means at a machine that will not charge.

    Rule: the row of ``VBUS_TABLE`` in which the reading lies.

    Parameters
    ----------
    voltage_v
        VBUS to ground; the highest value seen, if it hunts. [V]
    is_hunting
        It rises and falls again and again.

    Returns
    -------
    VbusRow
        Meaning and next look.

    Raises
    ------
    BadFieldError
        If the voltage is outside 0 to 1000 V.

    References
    ----------
    Limits as for ``vbus_level``; next looks are common practice, no source.
    """
    refuse_outside("voltage_v", voltage_v, VOLTAGE_V)
    if is_hunting:
        return _HUNTS
    if _contract_v(voltage_v) is not None:
        return _CONTRACT
    if voltage_v <= OFF_V:
        return _ABSENT
    low_v, high_v = FIVE_V
    if voltage_v < low_v:
        return _LOW
    return _FIVE if voltage_v <= high_v else _OUTSIDE


def _contract_v(voltage_v: float) -> float | None:
    for level_v in CONTRACTS_V:
        low_v, high_v = fixed_level_v(level_v)
        if low_v <= voltage_v <= high_v:
            return level_v
    return None
