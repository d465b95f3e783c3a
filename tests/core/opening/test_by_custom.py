"""Does a custom of the trade give way where the way back would not work with it?"""

import random
from dataclasses import replace

import pytest

from core.model.test_customary import drawn_device
from turnscrew.core.model.connection import Plug
from turnscrew.core.model.device import Device, FunctionTest
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.holding import Clip
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Need
from turnscrew.core.model.part import Part
from turnscrew.core.model.refit import Refit
from turnscrew.core.opening import compile as compiling
from turnscrew.core.opening.compile import pose
from turnscrew.core.opening.solve.refitting import refit_knot
from turnscrew.flows.opening import opening_path, what_cannot_go_back

PARTS = {
    "tub": Part(fixed=True), "cover": Part(), "fan": Part(),
    "pack": Part(kind="battery"),
}  # fmt: skip
SCREWS = Joint(holds=("cover", "tub"), how=Screw())
CLIPS = Joint(holds=("cover", "tub"), how=Clip())
UNDER = (Need.from_text("cover"),)
PLUG = Joint(holds=("pack", "tub"), how=Plug(), under=UNDER, first="electrical")
FAN_SCREWS = Joint(holds=("fan", "tub"), how=Screw(), under=UNDER)


def orders(device: Device, name: str) -> tuple[list[str], list[str]]:
    answer = opening_path(device, (name,), lambda: False)
    assert "optimal" == answer.status
    return (
        [line.name for line in answer.opening if line.verb == "undo"],
        [line.name for line in answer.refit if line.verb in ("make", "test")],
    )


def test_clips_that_are_said_to_be_pressed_last_are() -> None:
    device = Device(name="X", parts=PARTS, joints={"screws": SCREWS, "clips": CLIPS})
    assert (["screws", "clips"], ["clips", "screws"]) == orders(device, "cover")

    last = replace(CLIPS, refit=Refit(after=("screws",)))
    device = replace(device, joints={"screws": SCREWS, "clips": last})
    assert ["screws", "clips"] == orders(device, "cover")[1]
    assert () == what_cannot_go_back(device)


def test_a_test_with_the_pack_in_comes_before_what_it_is_said_to_come_before() -> None:
    joints = {"screws": SCREWS, "plug": PLUG, "fan screws": FAN_SCREWS}
    device = Device(name="X", parts=PARTS, joints=joints)
    assert ["fan screws", "plug", "screws"] == orders(device, "fan")[1]

    runs = FunctionTest(
        says="Run it.", while_open=True, needs_fitted=("plug",), before=("fan screws",)
    )
    device = replace(device, tests={"run": runs})
    assert ["run", "fan screws", "screws"] == orders(device, "fan")[1]
    assert () == what_cannot_go_back(device)


@pytest.mark.parametrize("seed", range(400))
def test_what_can_go_back_without_customs_can_with_them(seed, monkeypatch) -> None:
    rng = random.Random(seed)
    device = drawn_device(rng)
    joints = {
        name: replace(joint, refit=Refit(after=(rng.choice(list(device.joints)),)))
        if rng.random() < 0.3
        else joint
        for name, joint in device.joints.items()
    }
    device = replace(device, joints=joints)

    with_them = refit_knot(pose(device, ()).problem)
    monkeypatch.setattr(compiling, "with_customs", lambda _, waits: waits)
    without = refit_knot(pose(device, ()).problem)
    assert bool(with_them) == bool(without)
