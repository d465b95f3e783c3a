"""
How much is in a lithium pack, how healthy is it, and what does it resist?

Definitions, and the direct-current method of IEC 61960 as quoted on a web page.
"""

from dataclasses import dataclass

from turnscrew.core.electrics.cautions import PACK_WORDS
from turnscrew.core.electrics.ranges import (
    CHARGE_AH,
    CURRENT_A,
    ENERGY_WH,
    PRESENT_V,
    SHARE,
)
from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside

CELL_FLOOR_V = 2.50
CELL_DISCARD_V = 2.00

N_CELLS = Bounds(1, 20, "1")
"""Cells in a row. [1]"""


@dataclass(frozen=True, slots=True)
class VoltageLimits:
    """
    Voltages below which a pack must not fall.

    Parameters
    ----------
    floor_v
        It stays above this. [V]
    discard_v
        Below this for more than a week it is discarded. [V]
    cautions
        What is said with every answer about a pack.
    """

    floor_v: float
    discard_v: float
    cautions: tuple[str, ...] = PACK_WORDS


def energy_wh(voltage_v: float, charge_ah: float) -> float:
    """
    Say how much energy a pack holds when full.

    Equation: Wh = V x Ah. Compare before rounding: 14.8 V x 6.8 Ah is 100.64 Wh.

    Parameters
    ----------
    voltage_v
        Nominal voltage. [V]
    charge_ah
        Rated capacity. [Ah]

    Returns
    -------
    float
        Energy. [Wh]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Definition.
    """
    refuse_outside("voltage_v", voltage_v, PRESENT_V)
    refuse_outside("charge_ah", charge_ah, CHARGE_AH)
    return voltage_v * charge_ah


def held_wh(full_wh: float, charge_share: float) -> float:
    """
    Say how much energy a pack holds at a state of charge.

    Equation: E = Wh x share; air transport of loose packs allows a share of 0.30.

    Parameters
    ----------
    full_wh
        Energy when full. [Wh]
    charge_share
        State of charge. [1]

    Returns
    -------
    float
        Energy held. [Wh]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Definition; the share of 0.30 from transport pages.
    """
    refuse_outside("full_wh", full_wh, ENERGY_WH)
    refuse_outside("charge_share", charge_share, SHARE)
    return full_wh * charge_share


def rate_c(current_a: float, charge_ah: float) -> float:
    """
    Say how fast a current is for a pack of this capacity.

    Equation: C = I / Ah.

    Parameters
    ----------
    current_a
        Current. [A]
    charge_ah
        Rated capacity. [Ah]

    Returns
    -------
    float
        Rate; 1 empties or fills it in an hour. [1/h]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Definition.
    """
    refuse_outside("current_a", current_a, CURRENT_A)
    refuse_outside("charge_ah", charge_ah, CHARGE_AH)
    return current_a / charge_ah


def health_share(full_ah: float, design_ah: float) -> float:
    """
    Say how much of its design capacity a pack still takes.

    Equation: health = full-charge capacity / design capacity.

    Parameters
    ----------
    full_ah
        Full-charge capacity as the pack reports it. [Ah]
    design_ah
        Design capacity. [Ah]

    Returns
    -------
    float
        Health; a new pack may show a little above 1. [1]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Common practice, no source; rated capacity is taken at a discharge of 0.2 C.
    """
    refuse_outside("full_ah", full_ah, Bounds(0, CHARGE_AH.high, "Ah"))
    refuse_outside("design_ah", design_ah, CHARGE_AH)
    return full_ah / design_ah


def inner_ohm(light_v: float, light_a: float, heavy_v: float, heavy_a: float) -> float:
    """
    Say which internal resistance a pack has by two loads.

    Equation: R = (U1 - U2) / (I2 - I1), U1 after 10 s at 0.2 C, U2 after 1 s at 1 C.

    Parameters
    ----------
    light_v
        Voltage U1 under the light load. [V]
    light_a
        Light load I1. [A]
    heavy_v
        Voltage U2 under the heavy load. [V]
    heavy_a
        Heavy load I2. [A]

    Returns
    -------
    float
        Internal resistance. [ohm]

    Raises
    ------
    BadFieldError
        If a figure is outside its range, the heavy load not the heavier, or the voltage
        higher under it.

    References
    ----------
    IEC 61960, direct-current method, as quoted on a web page.
    """
    refuse_outside("light_v", light_v, PRESENT_V)
    refuse_outside("heavy_v", heavy_v, PRESENT_V)
    refuse_outside("light_a", light_a, CURRENT_A)
    refuse_outside("heavy_a", heavy_a, CURRENT_A)
    if heavy_a <= light_a:
        raise BadFieldError("heavy_a", heavy_a, f"more than light_a {light_a:g} A")
    if heavy_v > light_v:
        raise BadFieldError("heavy_v", heavy_v, f"at most light_v {light_v:g} V")
    return (light_v - heavy_v) / (heavy_a - light_a)


def voltage_limits(n_cells: int) -> VoltageLimits:
    """
    Say below which voltages a pack must not fall.

    Equations: 2.50 V x cells to stay above; 2.00 V x cells to discard after a week.

    Parameters
    ----------
    n_cells
        Cells in a row. [1]

    Returns
    -------
    VoltageLimits
        Both voltages.

    Raises
    ------
    BadFieldError
        If there are less than 1 or more than 20 cells.

    References
    ----------
    Battery pages that agree and likely have one origin; a guide, no limit of a maker.
    """
    refuse_outside("n_cells", n_cells, N_CELLS)
    return VoltageLimits(CELL_FLOOR_V * n_cells, CELL_DISCARD_V * n_cells)
