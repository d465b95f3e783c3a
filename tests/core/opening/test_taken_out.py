"""Does what is taken out beside the path come free, and go back, at its place?"""

from dataclasses import replace

import pytest

from example_files import example_text
from turnscrew.core.model.blocking import waits_of
from turnscrew.core.model.device import BeforeOpening
from turnscrew.core.opening.taken_out import TakenOut
from turnscrew.files.device_file import read_device

DEVICE = read_device(example_text("grondle-r50.device.yaml"), revision="K")
DOOR = frozenset({"door latch", "door slide", "door magnet", "battery door"})
LOOSE = ["hand strap", "private memory card"]


@pytest.fixture
def beside() -> TakenOut:
    return TakenOut(DEVICE, waits_of(DEVICE))


def out_of(beside: TakenOut, off: frozenset[str]) -> list[str]:
    return [one.what for one in beside.come_free(off, frozenset())]


def back_in(beside: TakenOut, name: str, off: frozenset[str]) -> list[str]:
    return [one.what for one in beside.go_back_before(name, off, frozenset())]


def test_what_lies_behind_a_door_comes_when_the_door_and_its_contacts_are_off(
    beside,
) -> None:
    assert LOOSE == out_of(beside, frozenset())
    assert [] == out_of(beside, DOOR)
    (battery,) = beside.come_free(DOOR | {"battery pins"}, frozenset())

    assert ("battery", True) == (battery.what, battery.says.startswith("Take out"))
    assert any("pierce" in words for words in battery.cautions)
    assert [] == out_of(beside, DOOR | {"battery pins"})


def test_it_goes_back_before_it_is_held_or_covered(beside) -> None:
    off = DOOR | {"battery pins"}
    assert {*LOOSE, "battery"} == {*out_of(beside, off)}
    # Nothing is in its way yet, and what is no part is nobody's to cover.
    assert [] == back_in(beside, "door magnet", off)
    assert ["battery"] == back_in(beside, "battery door", off - {"battery door"})
    assert {*LOOSE} == {one.what for one in beside.out}

    again = TakenOut(DEVICE, waits_of(DEVICE))
    out_of(again, off)
    assert ["battery"] == back_in(again, "battery pins", off - {"battery pins"})


def test_what_the_path_lifts_itself_has_no_line_of_its_own(beside) -> None:
    off = DOOR | {"battery pins", "battery"}

    assert LOOSE == out_of(beside, off)
    assert LOOSE == [one.what for one in beside.out]


def test_what_is_out_since_an_earlier_path_is_not_taken_out_again(beside) -> None:
    beside.are_out({"battery", "no such thing"})

    assert LOOSE == out_of(beside, DOOR | {"battery pins"})
    assert ["battery", *LOOSE] == [one.what for one in beside.out]


def test_two_things_come_out_in_the_order_of_the_description() -> None:
    more = replace(
        DEVICE, before_opening=(BeforeOpening("pen"), *DEVICE.before_opening)
    )

    assert ["pen", *LOOSE] == out_of(TakenOut(more, waits_of(more)), frozenset())
