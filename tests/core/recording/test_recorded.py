"""A recording that could not stand in a description is refused."""

from dataclasses import replace

import pytest

from core.recording.small_box import COVER, LEAD_ASIDE, SCREWS, opening
from turnscrew.core.model.quantities import BadFieldError
from turnscrew.core.recording.recorded import Recorded


@pytest.mark.parametrize(
    "name", ["", " plug", "plug\n1", "plug to board", "a or b", "a, b", "lid aside"]
)
def test_it_refuses_a_name_that_reads_as_something_else(name: str) -> None:
    with pytest.raises(BadFieldError, match="(?s)^name: found .*, wanted a name"):
        Recorded(name, "joint", "plug")


def test_it_refuses_an_unknown_kind() -> None:
    with pytest.raises(BadFieldError, match="kind"):
        Recorded("plug 1", "joint", "battery")
    with pytest.raises(BadFieldError, match="kind"):
        Recorded("plug 1", "part", "plug")


def test_it_refuses_a_length_out_of_range() -> None:
    with pytest.raises(BadFieldError, match="length_mm"):
        replace(SCREWS, length_mm=350)


def test_it_refuses_one_thing_undone_twice() -> None:
    with pytest.raises(BadFieldError, match="removals"):
        opening(1, SCREWS, SCREWS)
    with pytest.raises(BadFieldError, match="removals"):
        opening(1, COVER, Recorded("cover 1", "joint", "clip"))


def test_it_takes_a_part_aside_and_then_off() -> None:
    told = opening(1, LEAD_ASIDE, replace(LEAD_ASIDE, removal="part"))

    assert 2 == len(told.removals)


def test_it_says_how_the_device_lay() -> None:
    assert "base up" == SCREWS.lay
    assert "on its side" == replace(SCREWS, posture="on its side").lay
    assert "" == COVER.lay
