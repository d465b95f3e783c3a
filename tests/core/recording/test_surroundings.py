"""Is what an opening shows beside its removals added once, and nothing known lost?"""

from dataclasses import replace

from core.recording.small_box import COVER, LEAD_ASIDE, PLUG, SCREWS, opening
from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import EmptyHole, View
from turnscrew.core.model.posture import Posture, Tool
from turnscrew.core.model.proof import Arrived, Release
from turnscrew.core.model.refit import BARE_HAND
from turnscrew.core.recording.described import described
from turnscrew.core.recording.surroundings import with_surroundings

PICK = Tool()
FACED = View((300, 200))


def box(**facts) -> Device:
    return Device(name="Box", **facts)


def with_tool(name: str):
    return opening(1, replace(PLUG, tool=name))


def test_it_adds_each_tool_used_once_to_those_listed() -> None:
    listed = box(tools={"spudger": PICK})
    told = (with_tool("plastic pick"), with_tool("spudger"), with_tool("plastic pick"))

    assert ["spudger", "plastic pick"] == list(with_surroundings(listed, told).tools)


def test_it_lists_neither_bare_hands_nor_nothing() -> None:
    listed = box(tools={"spudger": PICK})

    assert listed == with_surroundings(listed, (with_tool(BARE_HAND), with_tool("")))


def test_it_begins_no_list_of_tools_where_the_description_has_none() -> None:
    assert box() == with_surroundings(box(), (with_tool("plastic pick"),))


def test_it_adds_the_postures_that_things_are_undone_in() -> None:
    found = described("Box", (opening(1, SCREWS, COVER),)).device

    assert {"base up": Posture()} == dict(found.postures)


def test_it_keeps_the_pieces_missing_as_told_last() -> None:
    first = opening(1, SCREWS, COVER, missing={"screws 1": 2})
    again = opening(1, SCREWS, COVER, missing={"screws 1": 1})
    found_after_all = opening(1, SCREWS, COVER, missing={"screws 1": 0})
    other = opening(2, SCREWS, COVER, missing={"screws 1": 2})

    def missing(*told) -> list[tuple[str, int]]:
        arrived = described("Box", told).device.arrived
        return [(one.serial, one.missing) for one in arrived]

    assert [("S1", 2)] == missing(first)
    assert [("S1", 2), ("S2", 2)] == missing(first, other)
    assert [] == missing(found_after_all)
    assert [("S1", 1)] == missing(again)


def test_it_names_what_is_missing_though_no_joint_is_called_so() -> None:
    told = opening(1, SCREWS, COVER, missing={"foot": 1})
    (arrived,) = described("Box", (told,)).device.arrived

    assert Arrived("S1", "foot missing on arrival", missing=1) == arrived


def test_it_keeps_the_most_holes_never_used_and_says_one_alone_as_one() -> None:
    told = tuple(
        opening(n, SCREWS, COVER, holes_never_used={"base": holes, "lid": 1})
        for n, holes in ((1, 2), (2, 3), (3, 1))
    )

    words = "3 holes never used on base; 1 hole never used on lid"
    assert words == with_surroundings(box(), told).variation
    before = box(variation="two makes of fan; 2 holes never used on base")
    assert f"two makes of fan; {words}" == with_surroundings(before, told).variation


def test_it_places_holes_on_a_face_that_is_known_unless_some_are_there() -> None:
    told = opening(1, SCREWS, holes_never_used={"base": 2, "lid": 0})
    known = box(views={"base": FACED, "lid": FACED})
    placed = replace(known, empty_holes=(EmptyHole("base", why="for a rack", n=1),))

    (hole,) = with_surroundings(known, (told,)).empty_holes
    assert ("base", "empty when recorded", 2) == (hole.view, hole.why, hole.n)
    assert "" == with_surroundings(known, (told,)).variation
    assert placed == with_surroundings(placed, (told,))


def test_a_move_seen_anew_is_draft_while_the_rest_stays_released() -> None:
    stated = described("Box", (opening(1, SCREWS, COVER),)).device
    released = replace(stated, release=Release("released", "L1"))
    device = described("Box", (opening(1, SCREWS, LEAD_ASIDE, COVER),), released).device

    assert released.release == device.release
    assert Release() == device.moves["lead 1"].release
