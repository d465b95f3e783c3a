"""In which posture can a thing be done, and what does a turn cost?"""

import pytest

from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import Places, View
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Need
from turnscrew.core.model.part import Move, Part
from turnscrew.core.model.posture import Posture, Turn
from turnscrew.core.model.refit import Refit
from turnscrew.core.model.times import ElementTime
from turnscrew.core.model.turning import (
    end_posture,
    postures_for,
    postures_in,
    refit_postures_for,
    start_posture,
    turn_needs,
    turn_s,
)

LID = Need.from_text("lid")
SCREWS = Need.from_text("screws")
LAPTOP = Device(
    name="laptop",
    parts={"lid": Part(), "fan": Part(), "card": Part(postures=("open",))},
    joints={
        "screws": Joint(holds=("lid", "tub"), at=(Places("base", ((1, 1),)),)),
        "fan screws": Joint(holds=("fan", "tub"), at=(Places("inside", ((1, 1),)),)),
        "strap": Joint(holds=("lid", "tub"), refit=Refit(postures=("open",))),
    },
    postures={
        "base up": Posture(up=("base",)),
        "open": Posture(up=("deck", "inside"), needs=(LID,)),
        "flat": Posture(up=("inside",)),
    },
    turns=(
        Turn("base up", "open", 6, needs=(SCREWS,)),
        Turn("open", "flat", 2, one_way=True),
        Turn("base up", "flat"),
    ),
)


@pytest.mark.parametrize(
    ("name", "postures"),
    [
        ("screws", ("base up",)),
        ("fan screws", ("open", "flat")),
        ("strap", ("base up", "open", "flat")),
    ],
)
def test_it_undoes_a_joint_where_it_faces_up(name: str, postures) -> None:
    assert postures == postures_for(LAPTOP, name, LAPTOP.joints[name])


@pytest.mark.parametrize(
    ("name", "postures"),
    [
        ("lid", ("base up", "open", "flat")),
        ("fan", ("open", "flat")),
        ("card", ("open",)),
    ],
)
def test_it_lifts_a_part_where_its_joints_are_undone(name: str, postures) -> None:
    assert postures == postures_for(LAPTOP, name, LAPTOP.parts[name])


def test_it_puts_back_where_it_is_said() -> None:
    strap = LAPTOP.joints["strap"]

    assert ("open",) == refit_postures_for(LAPTOP, "strap", strap)
    assert ("base up",) == refit_postures_for(LAPTOP, "screws", LAPTOP.joints["screws"])


@pytest.mark.parametrize(
    ("start", "end", "seconds"),
    [
        ("base up", "open", 6),
        ("open", "base up", 6),
        ("open", "flat", 2),
        ("flat", "open", 4.5),
        ("base up", "flat", 4.5),
        ("open", "open", 0),
    ],
)
def test_it_knows_the_time_of_a_turn(start: str, end: str, seconds: float) -> None:
    assert seconds == turn_s(LAPTOP, start, end)


def test_it_takes_an_own_time_for_turns() -> None:
    device = Device(name="X", times={"turn": ElementTime(3, 3)})

    assert 3 == turn_s(device, "a", "b")


@pytest.mark.parametrize(
    ("start", "end", "needs"),
    [
        ("base up", "open", (SCREWS, LID)),
        ("open", "base up", (SCREWS,)),
        ("flat", "open", (LID,)),
        ("open", "flat", ()),
    ],
)
def test_it_asks_for_what_the_turn_and_the_posture_need(start, end, needs) -> None:
    assert needs == turn_needs(LAPTOP, start, end)


def test_it_lifts_what_nothing_ties_in_any_posture() -> None:
    assert tuple(LAPTOP.postures) == postures_for(LAPTOP, "loose", Part())


def test_it_moves_a_part_aside_in_any_posture() -> None:
    assert tuple(LAPTOP.postures) == postures_for(LAPTOP, "lid", Move())


def test_it_makes_a_posture_of_every_face() -> None:
    device = Device(name="X", views={"top": View((1, 1)), "base": View((1, 1))})

    assert ["top up", "base up"] == list(postures_in(device))
    assert ("top up", "top up") == (start_posture(device), end_posture(device))


def test_it_always_has_a_posture() -> None:
    assert ["as it lies"] == list(postures_in(Device(name="X")))


def test_it_begins_and_ends_as_stated() -> None:
    device = Device(name="X", start="a", end="b")

    assert ("a", "b") == (start_posture(device), end_posture(device))
