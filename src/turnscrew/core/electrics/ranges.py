"""Which figures may a reckoning of the power path start from?"""

from turnscrew.core.model.quantities import Bounds

CURRENT_A = Bounds(0, 1000, "A")
FLOWING_A = Bounds(1e-9, 1000, "A")
"""A current that something is divided by. [A]"""

VOLTAGE_V = Bounds(0, 1000, "V")
SIGNED_V = Bounds(-1000, 1000, "V")
PRESENT_V = Bounds(0.1, 1000, "V")
"""A voltage that something is divided by. [V]"""

RESISTANCE_OHM = Bounds(0, 1e12, "Ω")
RESISTOR_OHM = Bounds(1e-9, 1e12, "Ω")
"""A resistance that something is divided by. [ohm]"""

POWER_W = Bounds(0, 10_000, "W")
ENERGY_WH = Bounds(0, 1000, "Wh")
CHARGE_AH = Bounds(0.001, 1000, "Ah")
SHARE = Bounds(0, 1, "1")
PRESENT_SHARE = Bounds(0.01, 1, "1")
TOLERANCE = Bounds(0, 0.5, "1")
TEMPERATURE_C = Bounds(-60, 250, "°C")
