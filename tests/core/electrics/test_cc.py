"""What does the voltage on a CC pin say?"""

import pytest

from turnscrew.core.electrics.cc import LEVELS, cc_level, cc_pair, source_sees_rd
from turnscrew.core.electrics.pull import cc_source_v, cc_worst_case_v
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("cc_v", "name"),
    [(0, "none"), (0.199, "none"), (0.20, "default"), (0.66, "1.5A"), (1.23, "3A"),
     (2.04, "3A"), (2.05, "above"), (5.0, "above"), (1000, "above")],
)  # fmt: skip
def test_it_gives_a_level_its_lower_end(cc_v, name) -> None:
    """Levels read on a distributor's answer page; 2.04 V is from memory."""
    assert name == cc_level(cc_v).name


def test_it_leaves_no_gap_between_levels() -> None:
    """Each level begins where the one before it ends."""
    assert [level.high_v for level in LEVELS[:-1]] == [x.low_v for x in LEVELS[1:]]


@pytest.mark.parametrize("level", LEVELS[1:4], ids=lambda level: level.name)
def test_it_keeps_every_worst_case_within_its_level(level) -> None:
    """No tolerance of pull-up, pull-down or VBUS reaches into the next level."""
    low_v, high_v = cc_worst_case_v(level.pull_up_5v_ohm, level.pull_up_tolerance)

    assert level.low_v < low_v < high_v < level.high_v
    for side in (-1, 1):
        source_a = level.source_a * (1 + side * level.source_tolerance)
        assert level.name == cc_level(cc_source_v(source_a)).name


@pytest.mark.parametrize(
    ("cc1_v", "cc2_v", "side", "level"),
    [
        (0.41, 0.0, "CC1", "default"),
        (0.0, 1.68, "CC2", "3A"),
        (0.1, 0.1, "none", "none"),
        (0.41, 0.92, "both", "1.5A"),
        (0.92, 0.41, "both", "1.5A"),
    ],
)
def test_it_says_by_which_pin_a_source_is_attached(cc1_v, cc2_v, side, level) -> None:
    """Only one pin is pulled up by a cable."""
    pair = cc_pair(cc1_v, cc2_v)

    assert (side, level) == (pair.side, pair.level.name)
    assert pair.why


@pytest.mark.parametrize(
    ("cc_v", "sees"), [(0.84, False), (0.85, True), (2.45, True), (2.46, False)]
)
def test_it_says_what_a_strong_source_takes_for_a_sink(cc_v, sees) -> None:
    """0.85 to 2.45 V at a 3 A source; a distributor's answer page."""
    assert sees is source_sees_rd(cc_v)


@pytest.mark.parametrize("reckon", [cc_level, source_sees_rd])
def test_it_refuses_a_voltage_below_zero(reckon) -> None:
    """A pin below ground is a slip of the leads."""
    with pytest.raises(BadArgumentError, match="^cc_v: found -0.1"):
        reckon(-0.1)
