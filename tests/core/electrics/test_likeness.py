"""May this fuse stand in for the one that opened?"""

from dataclasses import replace

import pytest

from turnscrew.core.electrics.likeness import Fuse, like_for_like
from turnscrew.errors import BadArgumentError

OLD = Fuse(2, 32, "0603", "fast", "UL", melting_a2s=0.1, breaking_a=50)


def test_it_finds_a_fuse_like_itself() -> None:
    """And one that bears more volts and breaks more current."""
    assert "like" == like_for_like(OLD, OLD).verdict
    assert "like" == like_for_like(OLD, replace(OLD, rated_v=63)).verdict
    assert "like" == like_for_like(OLD, replace(OLD, breaking_a=100)).verdict


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"rated_a": 2.5}, "amps: 2.5 for 2"),
        ({"rated_a": 1.5}, "amps: 1.5 for 2"),
        ({"rated_v": 24}, "volts: 24 for 32"),
        ({"size": "1206"}, "size: 1206 for 0603"),
        ({"speed": "slow"}, "speed: slow for fast"),
        ({"family": "IEC"}, "family: IEC for UL"),
        ({"melting_a2s": 0.126}, "melting figure: 0.126 for 0.1"),
        ({"melting_a2s": 0.074}, "melting figure: 0.074 for 0.1"),
        ({"breaking_a": 35}, "interrupting rating: 35 for 50"),
    ],
)
def test_it_says_what_differs(change, words) -> None:
    """One difference is enough."""
    found = like_for_like(OLD, replace(OLD, **change))

    assert ("not like", (words,)) == (found.verdict, found.differs)


@pytest.mark.parametrize("melting_a2s", [0.075, 0.125])
def test_it_takes_melting_figures_within_a_quarter(melting_a2s) -> None:
    """Both ends belong to it; the quarter is common practice."""
    assert "like" == like_for_like(OLD, replace(OLD, melting_a2s=melting_a2s)).verdict


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"family": ""}, "family"),
        ({"melting_a2s": None}, "melting figure"),
        ({"breaking_a": None}, "interrupting rating"),
    ],
)
def test_it_proves_nothing_about_what_is_not_known(change, name) -> None:
    """On either side; a difference elsewhere still counts."""
    other = replace(OLD, **change)
    for found in (like_for_like(OLD, other), like_for_like(other, OLD)):
        assert ("not proven", (name,)) == (found.verdict, found.unknown)

    assert "not like" == like_for_like(OLD, replace(other, rated_a=5)).verdict


def test_it_always_asks_for_the_cause_first() -> None:
    """Never a higher value, never a bridge."""
    assert "Find why it opened" in like_for_like(OLD, OLD).first


def test_it_refuses_a_fuse_of_no_amps_or_volts() -> None:
    """A fuse is checked when it is made."""
    with pytest.raises(BadArgumentError, match="^rated_a: found 0"):
        replace(OLD, rated_a=0)
    with pytest.raises(BadArgumentError, match="^rated_v: found 0"):
        replace(OLD, rated_v=0)
