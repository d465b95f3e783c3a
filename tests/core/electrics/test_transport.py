"""By which rule may a pack travel by air?"""

import pytest

from turnscrew.core.electrics.cautions import PACK_WORDS, SWOLLEN_WORDS
from turnscrew.core.electrics.transport import air_rule, is_lighter
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("battery_wh", "cell_wh", "lighter"),
    [
        (100, None, True),
        (100.01, None, False),
        (100, 20, True),
        (100, 20.01, False),
        (0, 0, True),
    ],
)
def test_it_compares_before_rounding(battery_wh, cell_wh, lighter) -> None:
    """100 Wh a battery and 20 Wh a cell; transport pages."""
    assert lighter is is_lighter(battery_wh, cell_wh)


def test_it_takes_the_heavier_section_for_a_large_cell() -> None:
    """A small pack of one large cell is no small pack."""
    rule = air_rule(57, "packed with", is_damaged=False, cell_wh=28.5)

    assert "PI 966 Section I" == rule.rule


@pytest.mark.parametrize("packing", ["contained in", "packed with", "loose"])
def test_it_forbids_a_damaged_pack_however_packed(packing) -> None:
    """With the words for a swollen pack."""
    rule = air_rule(10, packing, is_damaged=True)

    assert ("forbidden by air", SWOLLEN_WORDS) == (rule.rule, rule.cautions)


def test_it_always_sends_to_edition_and_carrier() -> None:
    """And says why, with the usual cautions."""
    rule = air_rule(57.75, "contained in", is_damaged=False)

    assert "edition in force" in rule.first
    assert "57.75 Wh a pack: at most the limit of 100 Wh" in rule.why[0]
    assert PACK_WORDS == rule.cautions
    assert "above the limit" in air_rule(101, "packed with", is_damaged=False).why[0]


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: is_lighter(-1), "battery_wh: found -1"),
        (lambda: is_lighter(1, -1), "cell_wh: found -1"),
        (lambda: air_rule(1001, "loose", is_damaged=False), "battery_wh: found 1001"),
        (lambda: air_rule(1, "in a box", is_damaged=False), "packing: found in a box"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """An unknown packing is no packing."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()


def test_it_says_which_of_the_two_limits_is_passed() -> None:
    whole = air_rule(90, "contained in", is_damaged=False, cell_wh=22.5)
    bare = air_rule(100.001, "contained in", is_damaged=False)

    assert "90 Wh a pack: at most the limit of 100 Wh" == whole.why[0]
    assert "22.5 Wh a cell: above the limit of 20 Wh" == whole.why[1]
    assert "100.001 Wh a pack: above the limit of 100 Wh" == bare.why[0]
    assert not any("a cell" in words for words in bare.why)
