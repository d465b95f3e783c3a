"""Which figures may a reckoning of the handbook start from?"""

from turnscrew.core.model.quantities import Bounds

LENGTH_MM = Bounds(0.01, 1000, "mm")
AREA_MM2 = Bounds(0.01, 1000, "mm²")
STRENGTH_MPA = Bounds(1, 3000, "MPa")
FORCE_N = Bounds(0, 1e6, "N")
FRICTION_K = Bounds(0.05, 0.5, "1")
PRESENT_SHARE = Bounds(0.01, 1, "1")
WEAKNESS_J = Bounds(1, 10, "1")
TIME_S = Bounds(0, 1e7, "s")
PRESENT_S = Bounds(1e-3, 1e7, "s")
"""A time that something is divided by. [s]"""

N = Bounds(1, 10_000, "1")
