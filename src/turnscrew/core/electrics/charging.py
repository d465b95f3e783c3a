"""
How long does a lithium pack charge, and with which voltages and currents?

Constant current up to 4.20 V a cell, then constant voltage with a current taken to
fall exponentially: a model worked out here, real packs vary. Limits read in a forum
thread that quotes a cell's data page.
"""

from dataclasses import dataclass
from math import log

from turnscrew.core.electrics.cautions import PACK_WORDS
from turnscrew.core.electrics.pack import N_CELLS
from turnscrew.core.electrics.ranges import (
    CHARGE_AH,
    ENERGY_WH,
    FLOWING_A,
    POWER_W,
    PRESENT_SHARE,
    SHARE,
)
from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside

CELL_FULL_V = 4.20
CELL_PRECHARGE_V = 3.00
PRECHARGE_C = 0.1
TAPER_C = (0.02, 0.07)
"""The charge ends when the current has fallen to this rate, or after about 2 h."""


@dataclass(frozen=True, slots=True)
class ChargeTime:
    """
    How long a charge takes.

    Parameters
    ----------
    cc_h
        At constant current. [h]
    cv_h
        At constant voltage. [h]
    total_h
        Both. [h]
    """

    cc_h: float
    cv_h: float
    total_h: float


@dataclass(frozen=True, slots=True)
class ChargingLimits:
    """
    Voltages and currents of a charge.

    Parameters
    ----------
    full_v
        Voltage at which it turns from constant current to constant voltage. [V]
    precharge_below_v
        Below this only the pre-charge current may flow. [V]
    precharge_a
        Pre-charge current. [A]
    taper_a
        Smallest and largest current at which it may end. [A]
    cautions
        What is said with every answer about a pack.
    """

    full_v: float
    precharge_below_v: float
    precharge_a: float
    taper_a: tuple[float, float]
    cautions: tuple[str, ...] = PACK_WORDS


def charging_limits(n_cells: int, charge_ah: float) -> ChargingLimits:
    """
    Say with which voltages and currents a pack charges.

    Equations: 4.20 V and 3.00 V x cells; 0.1 C before; 0.02 to 0.07 C at the end.

    Parameters
    ----------
    n_cells
        Cells in a row. [1]
    charge_ah
        Rated capacity. [Ah]

    Returns
    -------
    ChargingLimits
        The figures.

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    A forum thread that quotes a cell's data page; the pack's own data come first.
    """
    refuse_outside("n_cells", n_cells, N_CELLS)
    refuse_outside("charge_ah", charge_ah, CHARGE_AH)
    low_c, high_c = TAPER_C
    return ChargingLimits(
        CELL_FULL_V * n_cells,
        CELL_PRECHARGE_V * n_cells,
        PRECHARGE_C * charge_ah,
        (low_c * charge_ah, high_c * charge_ah),
    )


def switch_share(switch_ah: float, full_ah: float) -> float:
    """
    Say how full a cell is when constant current ends.

    Equation: share = Ah at the switch / Ah when full; about 0.80 at 0.7 C.

    Parameters
    ----------
    switch_ah
        Charge taken in until then. [Ah]
    full_ah
        Charge taken in when full. [Ah]

    Returns
    -------
    float
        State of charge at the switch. [1]

    Raises
    ------
    BadFieldError
        If a figure is outside its range, or the first above the second.

    References
    ----------
    A forum thread that reads a cell's data page: 2.08 of 2.60 Ah at 0.7 C.
    """
    refuse_outside("full_ah", full_ah, CHARGE_AH)
    refuse_outside("switch_ah", switch_ah, Bounds(0, full_ah, "Ah"))
    return switch_ah / full_ah


def charge_time(
    charge_ah: float,
    current_a: float,
    start_share: float = 0.0,
    *,
    turn_share: float = 0.80,
    end_a: float = 0.2,
) -> ChargeTime:
    """
    Say how long a pack charges.

    Equations: t_cc = Q (s - s0) / I; tau = Q (1 - s) / (I - Ic);
    t_cv = tau ln(I / Ic).

    Parameters
    ----------
    charge_ah
        Capacity Q. [Ah]
    current_a
        Charging current I. [A]
    start_share
        State of charge s0 at the start. [1]
    turn_share
        State of charge s at which constant current ends. [1]
    end_a
        Current Ic at which the charge ends. [A]

    Returns
    -------
    ChargeTime
        Both stretches and their sum.

    Raises
    ------
    BadFieldError
        If a figure is outside its range, the start above the switch, or the current not
        above the one it ends with.

    References
    ----------
    Exponential taper, worked out here; a model only.
    """
    refuse_outside("charge_ah", charge_ah, CHARGE_AH)
    refuse_outside("current_a", current_a, FLOWING_A)
    refuse_outside("turn_share", turn_share, SHARE)
    refuse_outside("start_share", start_share, Bounds(0, turn_share, "1"))
    refuse_outside("end_a", end_a, FLOWING_A)
    if current_a <= end_a:
        raise BadFieldError("current_a", current_a, f"more than end_a {end_a:g} A")
    cc_h = charge_ah * (turn_share - start_share) / current_a
    tau_h = charge_ah * (1 - turn_share) / (current_a - end_a)
    cv_h = tau_h * log(current_a / end_a)
    return ChargeTime(cc_h, cv_h, cc_h + cv_h)


def charge_time_floor_h(
    full_wh: float, start_share: float, power_w: float, efficiency: float = 0.9
) -> float:
    """
    Say which time no charge can undercut with this power.

    Equation: t = Wh (1 - s0) / (P eta); there is no taper in it.

    Parameters
    ----------
    full_wh
        Energy when full. [Wh]
    start_share
        State of charge s0 at the start. [1]
    power_w
        Power P that reaches the pack. [W]
    efficiency
        Share eta of it that is stored; 0.9 is common practice, no source. [1]

    Returns
    -------
    float
        Shortest time. [h]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Energy balance.
    """
    refuse_outside("full_wh", full_wh, ENERGY_WH)
    refuse_outside("start_share", start_share, SHARE)
    refuse_outside("power_w", power_w, Bounds(0.01, POWER_W.high, "W"))
    refuse_outside("efficiency", efficiency, PRESENT_SHARE)
    return full_wh * (1 - start_share) / (power_w * efficiency)
