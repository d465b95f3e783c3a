"""How much is in a pack, and how healthy is it?"""

import pytest

from turnscrew.core.electrics.cautions import PACK_WORDS
from turnscrew.core.electrics.pack import (
    energy_wh,
    health_share,
    held_wh,
    inner_ohm,
    rate_c,
    voltage_limits,
)
from turnscrew.errors import BadArgumentError


def test_it_gives_health_as_a_share_of_the_design() -> None:
    """A new pack may be a little above its design, a dead one takes nothing."""
    assert pytest.approx(0.75) == health_share(3.0, 4.0)
    assert 1 < health_share(4.1, 4.0)
    assert 0 == health_share(0, 4.0)


def test_it_says_the_cautions_with_the_voltages() -> None:
    """Any answer about a pack carries them."""
    assert PACK_WORDS == voltage_limits(1).cautions
    assert 20 * 2.5 == voltage_limits(20).floor_v


def test_it_finds_no_resistance_where_nothing_sags() -> None:
    """The same voltage under both loads is allowed."""
    assert 0 == inner_ohm(11.3, 0.5, 11.3, 1.0)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: energy_wh(0, 1), "voltage_v: found 0"),
        (lambda: energy_wh(1, 0), "charge_ah: found 0"),
        (lambda: held_wh(1001, 0.3), "full_wh: found 1001"),
        (lambda: held_wh(50, 30), "charge_share: found 30"),
        (lambda: rate_c(-1, 4), "current_a: found -1"),
        (lambda: rate_c(1, 0), "charge_ah: found 0"),
        (lambda: health_share(-1, 4), "full_ah: found -1"),
        (lambda: health_share(4, 0), "design_ah: found 0"),
        (lambda: inner_ohm(11, 1, 10, 1), "heavy_a: found 1, wanted more than"),
        (lambda: inner_ohm(11, 1, 11.1, 2), "heavy_v: found 11.1, wanted at most"),
        (lambda: inner_ohm(0, 1, 10, 2), "light_v: found 0"),
        (lambda: inner_ohm(11, 1, 0, 2), "heavy_v: found 0"),
        (lambda: inner_ohm(11, -1, 10, 2), "light_a: found -1"),
        (lambda: inner_ohm(11, 1, 10, 2000), "heavy_a: found 2000"),
        (lambda: voltage_limits(0), "n_cells: found 0"),
        (lambda: voltage_limits(21), "n_cells: found 21"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Readings that contradict each other are refused too."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
