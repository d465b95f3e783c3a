"""Does a reading keep to a static-control programme?"""

import pytest

from turnscrew.core.electrics.esd import LIMIT_OHM, esd_reading, strap_current_a
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(("path", "limit_ohm"), LIMIT_OHM.items())
def test_it_wants_a_reading_below_the_limit(path, limit_ohm) -> None:
    """The limit itself is not below it."""
    below, at = esd_reading(path, 0.99 * limit_ohm), esd_reading(path, limit_ohm)

    assert (True, False) == (below.is_below, at.is_below)
    assert limit_ohm == at.limit_ohm
    assert "is not below" in at.why


def test_it_asks_a_floor_for_the_body_voltage_too() -> None:
    """A summary of ANSI/ESD S20.20 in its text of 2007."""
    assert "100 V" in esd_reading("floor and footwear", 1e8).why


def test_it_takes_the_usual_resistor_unless_told() -> None:
    """One megohm is from memory."""
    assert strap_current_a(250, 1e6) == strap_current_a(250)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: esd_reading("chair", 1e6), "path: found chair, wanted one of wrist"),
        (lambda: esd_reading("wrist strap", -1), "resistance_ohm: found -1"),
        (lambda: strap_current_a(-1), "voltage_v: found -1"),
        (lambda: strap_current_a(1, 0), "resistance_ohm: found 0"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Nothing is divided by zero."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
