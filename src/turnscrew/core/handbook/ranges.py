"""Which figures may a reckoning of the handbook start from?"""

from turnscrew.core.model.quantities import BadFieldError, Bounds

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


def refuse_outside(name: str, value: float, bounds: Bounds) -> None:
    """
    Refuse a figure outside its bounds, or one that is no number.

    Parameters
    ----------
    name
        Name of the argument, with its unit.
    value
        The figure, in the unit of the bounds.
    bounds
        Smallest and largest figure, both allowed.

    Raises
    ------
    BadFieldError
        If the figure is outside.
    """
    # Engines never import one another, so the power path has a rule of its own.
    if not bounds.low <= value <= bounds.high:
        raise BadFieldError(name, value, str(bounds))
