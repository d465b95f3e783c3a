"""Does a fuse live through its pulses?"""

from collections.abc import Callable
from math import exp, pi, sin

import pytest

from turnscrew.core.electrics.pulse import (
    melting_needed_a2s,
    pulse_a2s,
    pulse_share,
    trapezoid_a2s,
)
from turnscrew.errors import BadArgumentError


def summed(current: Callable[[float], float], end_s: float) -> float:
    """Sum the square of a current by ten thousand thin slices."""
    n = 10_000
    return sum(current((k + 0.5) * end_s / n) ** 2 for k in range(n)) * end_s / n


@pytest.mark.parametrize(
    ("shape", "current", "end_s"),
    [
        ("square", lambda t: 8.0, 0.01),
        ("half-sine", lambda t: 8 * sin(pi * t / 0.01), 0.01),
        ("ramp", lambda t: 8 * t / 0.01, 0.01),
        ("squared ramp", lambda t: 8 * (t / 0.01) ** 2, 0.01),
        ("exponential", lambda t: 8 * exp(-t / 0.01), 0.2),
    ],
)
def test_it_agrees_with_thin_slices(shape, current, end_s) -> None:
    """The square of the current summed slice by slice, apart from any formula."""
    assert pytest.approx(summed(current, end_s), rel=1e-3) == pulse_a2s(shape, 8, 0.01)


def test_it_gives_a_trapezoid_between_square_and_ramp() -> None:
    """Its base may be its peak, or nothing, or anything between."""
    assert pytest.approx(pulse_a2s("square", 8, 0.01)) == trapezoid_a2s(8, 8, 0.01)
    assert pytest.approx(pulse_a2s("ramp", 8, 0.01)) == trapezoid_a2s(8, 0, 0.01)
    assert pytest.approx(
        summed(lambda t: 8 - 5 * t / 0.01, 0.01), rel=1e-6
    ) == trapezoid_a2s(8, 3, 0.01)


@pytest.mark.parametrize(
    ("n_pulses", "share"),
    [(1, 0.48), (100, 0.48), (101, 0.38), (1000, 0.38), (10_000, 0.29),
     (10_001, 0.22), (100_000, 0.22)],
)  # fmt: skip
def test_it_takes_the_lower_share_between_two_points(n_pulses, share) -> None:
    """Chart 2 of a maker's selection guide."""
    assert share == pulse_share(n_pulses)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: pulse_a2s("saw", 1, 1), "shape: found saw, wanted one of square"),
        (lambda: pulse_a2s("square", -1, 1), "peak_a: found -1"),
        (lambda: pulse_a2s("square", 1, -1), "time_s: found -1"),
        (lambda: trapezoid_a2s(-1, 1, 1), "peak_a: found -1"),
        (lambda: trapezoid_a2s(1, -1, 1), "base_a: found -1"),
        (lambda: trapezoid_a2s(1, 1, -1), "time_s: found -1"),
        (lambda: pulse_share(0), "n_pulses: found 0"),
        (lambda: pulse_share(100_001), "n_pulses: found 100001"),
        (lambda: melting_needed_a2s(-1, 1), "figure_a2s: found -1"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Beyond the chart there is no share."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
