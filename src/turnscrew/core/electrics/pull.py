"""
Which voltage does a pull-up or a current source make on a CC pin of a USB-C port?

Resistors, currents and tolerances read in an evaluation kit's manual and on a
distributor's answer page; the 10 % of the pull-down are from memory.
"""

from turnscrew.core.electrics.ranges import (
    CURRENT_A,
    RESISTOR_OHM,
    TOLERANCE,
    VOLTAGE_V,
)
from turnscrew.core.model.quantities import refuse_outside

RD_OHM = 5100.0
VBUS_5V = (4.75, 5.5)
"""Smallest and largest VBUS behind a pull-up to 5 V. [V]"""


def cc_divider_v(
    pull_up_ohm: float, supply_v: float = 5.0, pull_down_ohm: float = RD_OHM
) -> float:
    """
    Say which voltage a pull-up resistor makes on a CC pin.

    Equation: V = Vbus Rd / (Rp + Rd).

    Parameters
    ----------
    pull_up_ohm
        Pull-up Rp. [ohm]
    supply_v
        Voltage behind it. [V]
    pull_down_ohm
        Pull-down Rd of the sink. [ohm]

    Returns
    -------
    float
        CC voltage. [V]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Voltage divider, with the resistors of an evaluation kit's manual.
    """
    refuse_outside("pull_up_ohm", pull_up_ohm, RESISTOR_OHM)
    refuse_outside("supply_v", supply_v, VOLTAGE_V)
    refuse_outside("pull_down_ohm", pull_down_ohm, RESISTOR_OHM)
    return supply_v * pull_down_ohm / (pull_up_ohm + pull_down_ohm)


def cc_source_v(current_a: float, pull_down_ohm: float = RD_OHM) -> float:
    """
    Say which voltage a current source makes on a CC pin.

    Equation: V = I Rd.

    Parameters
    ----------
    current_a
        Current of the source. [A]
    pull_down_ohm
        Pull-down Rd of the sink. [ohm]

    Returns
    -------
    float
        CC voltage. [V]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Ohm's law, with the currents of a distributor's answer page.
    """
    refuse_outside("current_a", current_a, CURRENT_A)
    refuse_outside("pull_down_ohm", pull_down_ohm, RESISTOR_OHM)
    return current_a * pull_down_ohm


def cc_worst_case_v(
    pull_up_ohm: float, pull_up_tolerance: float, pull_down_tolerance: float = 0.10
) -> tuple[float, float]:
    """
    Say how far the CC voltage may stray with all tolerances against it.

    Equation: V = Vbus Rd / (Rp + Rd) at 4.75 V, largest Rp, smallest Rd, and at 5.5 V,
    smallest Rp, largest Rd.

    Parameters
    ----------
    pull_up_ohm
        Pull-up Rp to VBUS. [ohm]
    pull_up_tolerance
        Its tolerance. [1]
    pull_down_tolerance
        Tolerance of Rd; 10 % is from memory. [1]

    Returns
    -------
    tuple
        Lowest and highest voltage. [V]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Reckoned here from the tolerances of an evaluation kit's manual.
    """
    refuse_outside("pull_up_tolerance", pull_up_tolerance, TOLERANCE)
    refuse_outside("pull_down_tolerance", pull_down_tolerance, TOLERANCE)
    low_v, high_v = VBUS_5V
    up, down = pull_up_tolerance, pull_down_tolerance
    return (
        cc_divider_v(pull_up_ohm * (1 + up), low_v, RD_OHM * (1 - down)),
        cc_divider_v(pull_up_ohm * (1 - up), high_v, RD_OHM * (1 + down)),
    )
