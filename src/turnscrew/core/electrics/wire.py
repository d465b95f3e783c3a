"""
How thick is a wire of a gauge, and how much voltage does a lead of it take?

Gauge by the equation of ASTM B258, read on web pages that cite it; copper by the
International Annealed Copper Standard, read on an encyclopaedia page. Commercial copper
has 97 to 101 % of that conductivity, so cables of one gauge differ by 3 to 4 %.
"""

from math import pi

from turnscrew.core.electrics.ranges import CURRENT_A, TEMPERATURE_C
from turnscrew.core.model.quantities import Bounds, refuse_outside

GAUGE = Bounds(-3, 50, "1")
"""Gauges reckoned with; 0, -1, -2 and -3 stand for 1/0, 2/0, 3/0 and 4/0. [1]"""

COPPER_OHM_MM2_PER_M = 1 / 58
"""Resistivity of annealed copper at 20 degrees. [ohm mm2/m]"""

COPPER_PER_C = 0.00393
"""Rise of its resistance by degree, at 20 degrees. [1/degC]"""

_LENGTH_M = Bounds(0, 1000, "m")
_DIAMETER_MM = Bounds(0.01, 50, "mm")
_SECTION_MM2 = Bounds(1e-4, 2000, "mm²")


def gauge_diameter_mm(gauge: int) -> float:
    """
    Say how thick the bare wire of a gauge is.

    Equation: d = 0.127 mm x 92^((36 - n) / 39).

    Parameters
    ----------
    gauge
        Gauge number n; 1 - m for a gauge m/0. [1]

    Returns
    -------
    float
        Diameter. [mm]

    Raises
    ------
    BadFieldError
        If the gauge is outside 4/0 to 50.

    References
    ----------
    ASTM B258, read on web pages that cite it.
    """
    refuse_outside("gauge", gauge, GAUGE)
    return float(0.127 * 92 ** ((36 - gauge) / 39))


def thickening(n_gauges: int) -> float:
    """
    Say how many times thicker the wire is so many gauge numbers further down.

    Equation: ratio = 92^(n / 39); one step is 1.1229322.

    Parameters
    ----------
    n_gauges
        Steps down; negative for thinner wire. [1]

    Returns
    -------
    float
        Ratio of diameters. [1]

    Raises
    ------
    BadFieldError
        If the steps are more than the table is long.

    References
    ----------
    ASTM B258, read on web pages that cite it.
    """
    refuse_outside("n_gauges", n_gauges, Bounds(-53, 53, "1"))
    return float(92 ** (n_gauges / 39))


def section_mm2(diameter_mm: float) -> float:
    """
    Say how much metal a round wire has across.

    Equation: A = pi d^2 / 4.

    Parameters
    ----------
    diameter_mm
        Diameter of the bare wire. [mm]

    Returns
    -------
    float
        Section. [mm2]

    Raises
    ------
    BadFieldError
        If the diameter is outside 0.01 to 50 mm.

    References
    ----------
    Geometry.
    """
    refuse_outside("diameter_mm", diameter_mm, _DIAMETER_MM)
    return pi / 4 * diameter_mm**2


def warm_ratio(temperature_c: float) -> float:
    """
    Say how many times the resistance of copper is what it was at 20 degrees.

    Equation: R_T / R_20 = 1 + 0.00393 (T - 20).

    Parameters
    ----------
    temperature_c
        Temperature of the metal. [degC]

    Returns
    -------
    float
        Ratio of resistances. [1]

    Raises
    ------
    BadFieldError
        If the temperature is outside -60 to 250 degrees.

    References
    ----------
    International Annealed Copper Standard, read on an encyclopaedia page.
    """
    refuse_outside("temperature_c", temperature_c, TEMPERATURE_C)
    return 1 + COPPER_PER_C * (temperature_c - 20)


def ohm_per_m(section_mm2: float, temperature_c: float = 20.0) -> float:
    """
    Say how much resistance one metre of one copper conductor has.

    Equation: r = 1 / (58 A) x (1 + 0.00393 (T - 20)).

    Parameters
    ----------
    section_mm2
        Section A. [mm2]
    temperature_c
        Temperature T of the metal. [degC]

    Returns
    -------
    float
        Resistance by length. [ohm/m]

    Raises
    ------
    BadFieldError
        If the section or the temperature is outside its range.

    References
    ----------
    International Annealed Copper Standard, read on an encyclopaedia page.
    """
    refuse_outside("section_mm2", section_mm2, _SECTION_MM2)
    return COPPER_OHM_MM2_PER_M / section_mm2 * warm_ratio(temperature_c)


def lead_drop_v(
    gauge: int, length_m: float, current_a: float, temperature_c: float = 20.0
) -> float:
    """
    Say how much voltage a lead takes on the way out and on the way back.

    Equation: V = 2 L r I; forgetting the return conductor would halve it.

    Parameters
    ----------
    gauge
        Gauge of both conductors. [1]
    length_m
        Length L of the lead, one way. [m]
    current_a
        Current I. [A]
    temperature_c
        Temperature of the metal. [degC]

    Returns
    -------
    float
        Voltage lost in both conductors. [V]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    Ohm's law, with the gauge and the copper above.
    """
    refuse_outside("length_m", length_m, _LENGTH_M)
    refuse_outside("current_a", current_a, CURRENT_A)
    each_ohm = ohm_per_m(section_mm2(gauge_diameter_mm(gauge)), temperature_c)
    return 2 * length_m * each_ohm * current_a
