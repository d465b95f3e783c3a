"""Does a look name what shows that a thing is right, while it can be seen?"""

from dataclasses import replace

import pytest

from flows.bench.bench_cases import devices
from turnscrew.core.bench.looks import USUAL_LOOKS, look_at
from turnscrew.core.model.blocking import waits_of
from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Behind, Drive, Nut, Screw, Thread
from turnscrew.core.model.holding import Bond, Cover, Hook, Pin, Seal
from turnscrew.core.model.joint import HOW_KINDS, Joint
from turnscrew.core.model.lying_open import is_reachable
from turnscrew.core.model.part import Move, Orientation, Part, Twin
from turnscrew.core.model.refit import Refit, SeatCheck


def screw(length_mm: float | None, **facts) -> Screw:
    return Screw(Drive("type H", 0), Thread(2.0, 0.4), length_mm, **facts)


def box(**joints: Joint) -> Device:
    parts = {"case": Part(fixed=True), "lid": Part(), "board": Part()}
    return Device(name="box", parts=parts, joints=joints)


def joint(how, **facts) -> Joint:
    return Joint(how=how, holds=("lid", "case"), **facts)


@pytest.mark.parametrize(
    ("taken", "words"),
    [
        (
            {"long", "short"},
            "short: 4 mm pan, not 5 mm pan: none stands proud or sinks",
        ),
        ({"short"}, ""),
    ],
)
def test_it_looks_at_a_screw_that_could_be_mistaken_for_one_undone(
    taken, words
) -> None:
    device = box(long=joint(screw(5.0)), short=joint(screw(4.0)))

    assert words == look_at(device, "short", taken)


def test_it_looks_for_one_too_long_where_something_is_behind() -> None:
    device = box(short=joint(screw(4.0, behind=Behind("cells", 5.0))))

    assert "short: none longer: cells is behind" == look_at(device, "short", {"short"})


def test_it_leaves_plain_screws_to_the_count() -> None:
    assert "" == look_at(box(plain=joint(screw(4.0))), "plain", {"plain"})


@pytest.mark.parametrize(
    ("how", "words"),
    [
        (screw(4.0, captive=True), "each one tight"),
        (Nut(captive=True), "tight"),
        (Nut(), ""),
        (Pin(), ""),
        (
            Socket(seated="line level", lugs="lugs in", latch="front flip"),
            "line level; lugs in; latch shut",
        ),
        (Socket(seated="line level"), "line level; home, tail straight"),
        (Plug(key="up"), "key up; down along its whole length"),
        (Hook(in_first="left tab"), "left tab in first; hooked under"),
        (Seal(no_twist=True), "no twist; in its groove"),
        (Cover(way="mark up"), "mark up; flat"),
        (Bond(), "new, stuck all round"),
        (None, "as it was"),
    ],
)
def test_it_says_how_a_joint_looks_when_it_is_right(how, words) -> None:
    told = look_at(box(it=joint(how)), "it", {"it"})

    assert words in told
    assert bool(words) == bool(told)


def test_it_knows_a_look_of_every_kind_of_joint_that_leaves_no_loose_piece() -> None:
    kinds = {kind for kind, _ in HOW_KINDS} | {"unknown"}

    # Screws say it by their lengths, pins by the count.
    assert kinds - set(USUAL_LOOKS) == {"screw", "pin"}


def test_it_leaves_no_joint_out_that_is_neither_counted_nor_looked_at() -> None:
    blind = [
        (device.name, name)
        for device in devices()
        for name, one in device.joints.items()
        if not one.goes_in_tray and not look_at(device, name, {name})
    ]

    assert [] == blind


def test_it_says_which_way_round_a_part_is_right() -> None:
    part = Part(
        orientation=Orientation("notch left", "stands proud"),
        twins=(Twin("lid", "lid is longer"),),
        loose=("felt dot",),
        refit=Refit(seat=SeatCheck(looks="flush", gap_mm=0.2)),
    )
    device = replace(box(), parts={"trim": part, "lid": Part()})

    assert (
        "trim: flush; gap 0.2 mm; notch left; not so: stands proud; "
        "not lid: lid is longer; in place: felt dot"
    ) == look_at(device, "trim", set())


def test_it_says_which_way_round_what_sticks_is_right() -> None:
    skirt = Joint(how=Bond(kind="foam gasket"), holds=("skirt", "case"))
    part = Part(kind="seal", orientation=Orientation("notch at the camera"))
    device = box(skirt=skirt)
    device = replace(device, parts={**device.parts, "skirt": part})

    assert "notch at the camera" in look_at(device, "skirt", {"skirt"})


def test_it_says_which_way_round_every_part_of_the_families_is_right() -> None:
    untold = [
        (device.name, name)
        for device in devices()
        for name, part in device.parts.items()
        if part.orientation
        and part.orientation.right not in look_at(device, name, {name})
    ]

    assert [] == untold


def test_it_reaches_a_thing_only_while_what_lies_over_it_is_away() -> None:
    device = replace(
        box(tail=Joint(how=Socket(), holds=("board", "case"))),
        parts={
            "case": Part(fixed=True),
            "lid": Part(covers=("tail",)),
            "board": Part(),
        },
        moves={"lid": Move(frees=("tail",))},
    )
    waits = waits_of(device)

    assert not is_reachable(waits, "tail", set(), set())
    assert is_reachable(waits, "tail", {"lid"}, set())
    assert is_reachable(waits, "tail", set(), {"lid"})
    assert not is_reachable(waits, "board", {"lid"}, set())
    assert is_reachable(waits, "board", {"lid", "tail"}, set())
    assert is_reachable(waits, "no such thing", set(), set())
