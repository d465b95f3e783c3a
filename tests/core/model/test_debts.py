"""Which facts are lacking, and which come first?"""

from dataclasses import replace

import pytest

from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.debts import debts
from turnscrew.core.model.device import Device, FunctionTest, Revision
from turnscrew.core.model.doing import Risk
from turnscrew.core.model.fastener import Drive, Screw, Thread
from turnscrew.core.model.geometry import Places, View
from turnscrew.core.model.holding import Bond
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Orientation, Pack, Part
from turnscrew.core.model.proof import Photo, Release
from turnscrew.core.model.refit import Refit, Renew, SeatCheck, Survival

AT = (Places("top", ((1, 1),)),)
FULL = Screw(Drive("type H", 0), Thread(2, 0.4), 3.0)


def device(**facts) -> Device:
    return Device(
        name="X",
        views={"top": View((9, 9))},
        tests={"keys": FunctionTest()},
        release=Release("released"),
        **facts,
    )


def test_it_lists_each_layer_that_no_photo_shows() -> None:
    parts = {
        "back": Part(covers=("board",)),
        "Shield": Part(covers=("radio",)),
        "board": Part(),
    }
    wanted = "a photo of the layer it covers"
    shown = Photo("p-1", layer="the shield off, radio seen")

    assert {("parts.back", wanted), ("parts.Shield", wanted)} == {
        (debt.where, debt.lacks) for debt in debts(device(parts=parts))
    }
    (left,) = debts(device(parts=parts, photos=(shown, Photo("p-2"))))
    assert ("parts.back", wanted) == (left.where, left.lacks)


@pytest.mark.parametrize(
    ("joint", "lacks"),
    [
        (Joint(), ["what it holds", "what kind of joint it is"]),
        (Joint(holds=("a", "b"), how=FULL, at=AT), []),
        (
            Joint(holds=("a", "b"), how=Screw()),
            ["length under the head", "drive", "thread", "places"],
        ),
        (Joint(holds=("a", "b"), how=FULL, at=AT, n=9), ["1 of 9 places"]),
        (
            Joint(holds=("a", "b"), how=Bond()),
            ["whether it can be made again", "what takes its place at refit"],
        ),
        (
            Joint(holds=("a", "b"), how=Bond(), survives=Survival("never")),
            ["what takes its place at refit"],
        ),
        (
            Joint(
                holds=("a",), how=Bond(), survives=Survival("never"), renew=Renew("T")
            ),
            [],
        ),
        (Joint(holds=("a",), how=Socket()), ["what a mated one looks like"]),
        (Joint(holds=("a",), how=Socket(seated="line level")), []),
        (Joint(holds=("a",), how=Plug()), ["what a mated one looks like"]),
        (Joint(holds=("a",), how=Plug(), refit=Refit(seat=SeatCheck("flush"))), []),
        (
            Joint(holds=("a",), how=replace(FULL, drive=Drive("type H", 1)), at=AT),
            ["a second measurement: recess 1; ISO 7045 has 0 at M2"],
        ),
    ],
)
def test_it_tells_what_a_joint_lacks(joint: Joint, lacks) -> None:
    found = debts(device(joints={"j": joint}))

    assert lacks == [debt.lacks for debt in found]


@pytest.mark.parametrize(
    ("part", "lacks"),
    [
        (Part(), []),
        (Part(kind="battery"), ["what to do when it has swollen"]),
        (Part(kind="battery", pack=Pack(if_swollen="box")), []),
        (Part(kind="trim"), ["whether it fits in more than one way"]),
        (
            Part(kind="trim", orientation=Orientation("arrow up")),
            ["what a wrong one looks like"],
        ),
    ],
)
def test_it_tells_what_a_part_lacks(part: Part, lacks) -> None:
    found = debts(device(parts={"p": part}))

    assert lacks == [debt.lacks for debt in found]


def test_it_tells_what_the_whole_lacks() -> None:
    revisions = {"A": Revision(), "B": Revision("two vents")}
    found = debts(Device(name="X", revisions=revisions))

    assert ["tests", "revisions.A", "views", "release"] == [d.where for d in found]


def test_it_trusts_a_draft_that_was_rebuilt() -> None:
    tried = Release("draft", tried_by="somebody else")

    assert "release" not in [d.where for d in debts(Device(name="X", release=tried))]


def test_it_puts_the_dearest_risk_first() -> None:
    socket = Joint(holds=("a", "b"), how=Socket())
    risky = Joint(holds=("a", "b"), how=Socket(), risk=Risk(0.5, 10_000))
    found = debts(device(joints={"plain": socket, "risky": risky}))

    assert ["joints.risky", "joints.plain"] == [debt.where for debt in found]
    assert pytest.approx(2 + 50) == found[0].weight
