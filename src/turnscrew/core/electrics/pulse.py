"""
Does a fuse live through the pulses of its circuit?

Shapes and shares read in a maker's selection guide. The pulse figure may be only a
share of the nominal melting figure, smaller the more pulses there are; between two
pulses the fuse wants 10 s to cool.
"""

from typing import Literal

from turnscrew.core.electrics.ranges import CURRENT_A
from turnscrew.core.model.quantities import BadFieldError, Bounds, refuse_outside

Shape = Literal["square", "half-sine", "ramp", "squared ramp", "exponential"]

SHAPE_FACTOR: dict[Shape, float] = {
    "square": 1.0,
    "half-sine": 1 / 2,
    "ramp": 1 / 3,
    "squared ramp": 1 / 5,
    "exponential": 1 / 2,
}
"""Factor by shape; an exponential pulse takes its time constant as its time. [1]"""

PULSE_SHARE = ((100, 0.48), (1_000, 0.38), (10_000, 0.29), (100_000, 0.22))
"""Number of pulses, and share of the melting figure each may use. [1]"""


_TIME_S = Bounds(0, 1e4, "s")
_I2T_A2S = Bounds(0, 1e9, "A²s")


def pulse_a2s(shape: Shape, peak_a: float, time_s: float) -> float:
    """
    Say how much melting a pulse does.

    Equations: square ip^2 t; half-sine ip^2 t / 2; ramp ip^2 t / 3; i = k t^2 gives
    ip^2 t / 5; exponential ip^2 tau / 2.

    Parameters
    ----------
    shape
        Shape of the pulse.
    peak_a
        Peak current ip. [A]
    time_s
        Length t, or time constant tau of an exponential pulse. [s]

    Returns
    -------
    float
        Pulse figure. [A2 s]

    Raises
    ------
    BadFieldError
        If the shape is unknown or a figure outside its range.

    References
    ----------
    A maker's selection guide, chart 1.
    """
    if shape not in SHAPE_FACTOR:
        raise BadFieldError("shape", shape, "one of " + ", ".join(SHAPE_FACTOR))
    refuse_outside("peak_a", peak_a, CURRENT_A)
    refuse_outside("time_s", time_s, _TIME_S)
    return SHAPE_FACTOR[shape] * peak_a**2 * time_s


def trapezoid_a2s(peak_a: float, base_a: float, time_s: float) -> float:
    """
    Say how much melting a pulse does that falls from its peak to a lower current.

    Equation: (ip^2 + ip ib + ib^2) t / 3.

    Parameters
    ----------
    peak_a
        Current ip at one end. [A]
    base_a
        Current ib at the other end. [A]
    time_s
        Length t. [s]

    Returns
    -------
    float
        Pulse figure. [A2 s]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    A maker's selection guide, chart 1.
    """
    refuse_outside("peak_a", peak_a, CURRENT_A)
    refuse_outside("base_a", base_a, CURRENT_A)
    refuse_outside("time_s", time_s, _TIME_S)
    return (peak_a**2 + peak_a * base_a + base_a**2) * time_s / 3


def pulse_share(n_pulses: int) -> float:
    """
    Say which share of its melting figure a fuse lends to each of so many pulses.

    Rule: 48 % up to 100 pulses, 38 % to 1000, 29 % to 10 000, 22 % to 100 000.

    Parameters
    ----------
    n_pulses
        Pulses in the life of the fuse. [1]

    Returns
    -------
    float
        Share. [1]

    Raises
    ------
    BadFieldError
        If there is no pulse, or more than 100 000.

    References
    ----------
    A maker's selection guide, chart 2; between its points the lower share is taken.
    """
    refuse_outside("n_pulses", n_pulses, Bounds(1, 100_000, "1"))
    return next(share for most, share in PULSE_SHARE if n_pulses <= most)


def melting_needed_a2s(figure_a2s: float, n_pulses: int) -> float:
    """
    Say how large the melting figure of a fuse must be for its pulses.

    Equation: I2t of the fuse >= I2t of the pulse / share.

    Parameters
    ----------
    figure_a2s
        Pulse figure. [A2 s]
    n_pulses
        Pulses in the life of the fuse. [1]

    Returns
    -------
    float
        Smallest nominal melting figure. [A2 s]

    Raises
    ------
    BadFieldError
        If a figure is outside its range.

    References
    ----------
    A maker's selection guide, chart 2.
    """
    refuse_outside("figure_a2s", figure_a2s, _I2T_A2S)
    return figure_a2s / pulse_share(n_pulses)
