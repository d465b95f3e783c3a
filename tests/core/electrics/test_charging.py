"""How long does a pack charge?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.electrics.charging import (
    charge_time,
    charge_time_floor_h,
    charging_limits,
    switch_share,
)
from turnscrew.errors import BadArgumentError


def test_it_gives_the_limits_of_three_cells() -> None:
    """4.20 and 3.00 V a cell, 0.1 C before, 0.02 to 0.07 C at the end."""
    limits = charging_limits(3, 4.0)

    assert pytest.approx((12.6, 9.0, 0.4)) == (
        limits.full_v, limits.precharge_below_v, limits.precharge_a
    )  # fmt: skip
    assert pytest.approx((0.08, 0.28)) == limits.taper_a
    assert limits.cautions


@given(current_a=st.floats(0.5, 8), turn_share=st.floats(0.3, 0.95))
def test_it_fills_the_pack(current_a, turn_share) -> None:
    """The charge of both stretches, slice by slice, is the whole capacity."""
    time = charge_time(4.0, current_a, turn_share=turn_share, end_a=0.2)
    slices, taken_ah, now_a = 2000, current_a * time.cc_h, current_a
    # The current falls by the same factor in each slice.
    factor = (0.2 / current_a) ** (1 / slices)
    for _ in range(slices):
        taken_ah += now_a * (1 + factor) / 2 * time.cv_h / slices
        now_a *= factor

    assert pytest.approx(4.0, rel=1e-3) == taken_ah
    assert pytest.approx(time.cc_h + time.cv_h) == time.total_h


def test_it_needs_no_constant_current_from_the_switch_on() -> None:
    """A start at the switch leaves the taper alone."""
    assert 0 == charge_time(4.0, 2.8, 0.8).cc_h


def test_it_is_never_faster_than_all_energy_at_once() -> None:
    """A full pack takes no time; half the power takes twice as long."""
    assert 0 == charge_time_floor_h(57.75, 1.0, 30)
    assert pytest.approx(2 * charge_time_floor_h(57.75, 0.2, 30)) == (
        charge_time_floor_h(57.75, 0.2, 15)
    )


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: charging_limits(0, 4), "n_cells: found 0"),
        (lambda: charging_limits(3, 0), "charge_ah: found 0"),
        (lambda: switch_share(3, 2.6), "switch_ah: found 3"),
        (lambda: switch_share(1, 0), "full_ah: found 0"),
        (lambda: charge_time(0, 1), "charge_ah: found 0"),
        (lambda: charge_time(4, 0), "current_a: found 0"),
        (lambda: charge_time(4, 0.2), "current_a: found 0.2, wanted more than end_a"),
        (lambda: charge_time(4, 1, 0.9), "start_share: found 0.9"),
        (lambda: charge_time(4, 1, turn_share=1.1), "turn_share: found 1.1"),
        (lambda: charge_time(4, 1, end_a=0), "end_a: found 0"),
        (lambda: charge_time_floor_h(-1, 0, 1), "full_wh: found -1"),
        (lambda: charge_time_floor_h(1, 2, 1), "start_share: found 2"),
        (lambda: charge_time_floor_h(1, 0, 0), "power_w: found 0"),
        (lambda: charge_time_floor_h(1, 0, 1, 0), "efficiency: found 0"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """A charge that never ends is refused."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
