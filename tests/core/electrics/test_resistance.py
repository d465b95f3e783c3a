"""How much of a small reading is leads or thermal voltage?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.electrics.resistance import (
    lead_error,
    offset_free_ohm,
    reversal_ohm,
    smallest_two_wire_ohm,
)
from turnscrew.errors import BadArgumentError


def test_it_gives_the_usual_leads() -> None:
    """Leads of 0.2 ohm are 10 % off at 2 ohm; notes of a meter's maker."""
    assert pytest.approx(2.0) == smallest_two_wire_ohm(0.2)
    assert pytest.approx(0.1) == lead_error(2.0, 0.2).error_share


@given(
    resistance_ohm=st.floats(0.001, 90),
    current_a=st.floats(0.001, 10),
    offset_v=st.floats(-0.01, 0.01),
)
def test_it_finds_the_resistance_under_any_offset(
    resistance_ohm, current_a, offset_v
) -> None:
    """A voltage that is there both times drops out of both methods."""
    on_v = resistance_ohm * current_a + offset_v
    back_v = -resistance_ohm * current_a + offset_v
    wanted = pytest.approx(resistance_ohm, rel=1e-9, abs=1e-9)

    assert wanted == offset_free_ohm(on_v, offset_v, current_a)
    assert wanted == reversal_ohm(on_v, back_v, current_a)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: lead_error(0, 0.1), "resistance_ohm: found 0"),
        (lambda: lead_error(1, -0.1), "leads_ohm: found -0.1"),
        (lambda: smallest_two_wire_ohm(0.2, 0), "error_share: found 0"),
        (lambda: offset_free_ohm(0, 0, 0), "current_a: found 0"),
        (lambda: offset_free_ohm(2000, 0, 1), "on_v: found 2000"),
        (lambda: offset_free_ohm(0, 2000, 1), "off_v: found 2000"),
        (lambda: reversal_ohm(1, -1, 0), "current_a: found 0"),
        (lambda: reversal_ohm(1, -2000, 1), "reverse_v: found -2000"),
        (lambda: reversal_ohm(2000, 1, 1), "forward_v: found 2000"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Nothing is divided by zero."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
