"""Which fuse value does a load want?"""

from itertools import pairwise

import pytest

from turnscrew.core.electrics.fuse import (
    STANDARD_A,
    fuse_choice,
    fuse_heat_w,
    next_standard_a,
    rating_needed_a,
)
from turnscrew.errors import BadArgumentError


def test_it_asks_more_of_one_family_than_of_the_other() -> None:
    """The same load wants a third more under UL than under IEC."""
    ratio = rating_needed_a(1.5, "UL", 0.9) / rating_needed_a(1.5, "IEC", 0.9)

    assert pytest.approx(4 / 3) == ratio


@pytest.mark.parametrize("value_a", STANDARD_A)
def test_it_takes_a_value_that_just_meets_the_need(value_a) -> None:
    """Even where a float is off in its last bit."""
    assert value_a == next_standard_a(value_a * (1 + 1e-12))


@pytest.mark.parametrize(("value_a", "next_a"), list(pairwise(STANDARD_A)))
def test_it_goes_to_the_next_value_just_above_one(value_a, next_a) -> None:
    """A need of one per cent more is no longer met."""
    assert next_a == next_standard_a(1.01 * value_a)


def test_it_says_how_it_was_reckoned() -> None:
    """Load, shares, need and family stand in one line."""
    assert "1.5 A / 0.75 / 0.9 = 2.222 A, UL family" == fuse_choice(1.5, "UL", 0.9).why
    assert "1.5 A / 0.9 = 1.667 A, IEC family" == fuse_choice(1.5, "IEC", 0.9).why


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: rating_needed_a(0, "UL"), "load_a: found 0"),
        (lambda: rating_needed_a(1, "UL", 0), "rerating: found 0"),
        (lambda: rating_needed_a(1, "UL", 1.1), "rerating: found 1.1"),
        (lambda: rating_needed_a(1, "ISO"), "family: found ISO, wanted UL or IEC"),
        (lambda: next_standard_a(0), "needed_a: found 0"),
        (lambda: next_standard_a(20.1), "needed_a: found 20.1, wanted 20 A at most"),
        (lambda: fuse_choice(20, "UL"), "needed_a: found 26.6667"),
        (lambda: fuse_heat_w(0, 1), "current_a: found 0"),
        (lambda: fuse_heat_w(1, -1), "dropped_v: found -1"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """A need beyond the largest value has no next value."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
