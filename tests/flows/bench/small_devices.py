"""
Small random devices, the same for the same seed.

The draws come in a fixed order; a change here changes every device.
"""

import random
from dataclasses import replace
from typing import Any

from turnscrew.core.model.cable import Cable, Pinch
from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.device import Device, FunctionTest
from turnscrew.core.model.fastener import Drive, Nut, Screw, Thread
from turnscrew.core.model.holding import Bond, Clip, Cover, Latch, Press, Thermal
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Blocker, Need
from turnscrew.core.model.part import Move, Orientation, Part
from turnscrew.core.model.posture import Posture
from turnscrew.core.model.power import MayRun, Power
from turnscrew.core.model.refit import Refit, Survival

PARTS = ("lid", "board", "pack")
"""From the outside in; each lies over the next."""


def small_device(rng: random.Random) -> Device:
    """Draw a device of five to nine joints in three layers."""
    way = rng.choice(PARTS[:2])
    parts = {"frame": Part(fixed=True)} | {name: Part() for name in PARTS}
    parts[way] = Part(
        orientation=Orientation("notch to the left", rng.choice(("", "stands proud")))
    )
    joints = _screws(rng) | _connections(rng) | _extras(rng)
    joints = dict(list(joints.items())[:9])
    if "skirt" in joints:
        parts["skirt"] = Part(kind="seal", orientation=Orientation("seam inwards"))
    parts["lid"] = replace(parts["lid"], covers=_covered(rng, joints))
    return Device(
        name="small",
        parts=parts,
        joints=joints,
        moves=_moves(rng),
        postures=_postures(rng),
        cables=_cables(rng, joints),
        power=Power(
            isolate="pack plug",
            cooling=tuple(rng.sample(PARTS[:2], rng.randint(0, 1))),
            may_run=_may_run(rng),
        ),
        tests=_tests(rng, joints),
    )


def _covered(rng: random.Random, joints: dict[str, Joint]) -> tuple[str, ...]:
    """Name what lies under the lid; now and then what holds it, which is a knot."""
    is_knot = rng.random() < 0.1
    inside = [
        name
        for name in ("short screws", "tail", "pack plug", "board nut", "pad")
        if name in joints and (is_knot or "lid" not in joints[name].holds)
    ]
    return (*(name for name in inside if rng.random() < 0.8), "pack")


def _screw(length_mm: float, **facts: Any) -> Screw:
    return Screw(Drive("type H", 0), Thread(2.0, 0.4), length_mm, **facts)


def _need(*names: str) -> tuple[Need, ...]:
    return tuple(Need((Blocker(name),)) for name in names)


def _screws(rng: random.Random) -> dict[str, Joint]:
    short_mm = rng.choice((3.0, 4.0))
    long_mm = short_mm + rng.choice((0.5, 1.0, 2.0))
    inner = rng.choice(("lid", "board"))
    is_captive = rng.random() < 0.15
    return {
        "long screws": Joint(
            how=_screw(long_mm), n=rng.randint(1, 4), holds=("lid", "frame")
        ),
        "short screws": Joint(
            how=_screw(short_mm, captive=is_captive),
            n=rng.randint(1, 3),
            holds=(inner, "frame"),
            refit=Refit(second_look=rng.random() < 0.2),
        ),
    }


def _connections(rng: random.Random) -> dict[str, Joint]:
    end = rng.choice(("lid", "frame"))
    return {
        "tail": Joint(
            how=Socket(latch=rng.choice(("slide", "back flip", "none"))),
            holds=("board", end),
            survives=Survival("always"),
        ),
        "pack plug": Joint(
            how=Plug(pull="up"),
            holds=("pack", "board"),
            first=rng.choice(("", "electrical")),
        ),
        "pack bond": Joint(how=Bond(), holds=("pack", "frame"), n=rng.randint(1, 2)),
    }


def _extras(rng: random.Random) -> dict[str, Joint]:
    known = {
        "badge": Joint(
            how=Cover(hides=("long screws",)), holds=("lid",), n=rng.randint(1, 2)
        ),
        "rim clips": Joint(how=Clip.from_text("3 front"), holds=("lid", "frame")),
        "lever": Joint(how=Latch(), holds=("lid", "frame")),
        "board nut": Joint(
            how=Nut(captive=rng.random() < 0.5), holds=("board", "frame")
        ),
        "board posts": Joint(how=Press(), holds=("board", "frame")),
        "skirt": Joint(
            how=Bond(kind="foam gasket"),
            holds=("skirt", "frame"),
            survives=Survival("always"),
            under=_need("lid"),
        ),
        "pad": Joint(how=Thermal(), holds=("board", "frame")),
        "unseen": Joint(holds=("lid", "board")),
    }
    names = rng.sample(list(known), rng.randint(0, 4))
    return {name: known[name] for name in names}


def _moves(rng: random.Random) -> dict[str, Move]:
    if rng.random() < 0.4:
        return {}
    return {"lid": Move(aside="hinged open", frees=("tail", "pack plug"))}


def _postures(rng: random.Random) -> dict[str, Posture]:
    names = ("front up", "back up")[: rng.randint(1, 2)]
    return {name: Posture() for name in names}


def _cables(rng: random.Random, joints: dict[str, Joint]) -> dict[str, Cable]:
    over = ["lid", *(name for name in ("rim clips", "long screws") if name in joints)]
    gaps = tuple(
        Pinch(between=f"boss {i} and rib", before=(rng.choice(over),))
        for i in range(rng.randint(1, 2))
    )
    return {"tail lead": Cable(ends=("tail",), pinch=gaps)}


def _may_run(rng: random.Random) -> tuple[MayRun, ...]:
    states = (
        MayRun(with_off=("lid",), not_without=("pack plug",), for_s=60.0),
        MayRun(with_off=("lid", "board"), not_without=("pack plug",)),
    )
    return tuple(state for state in states if rng.random() < 0.6)


def _tests(rng: random.Random, joints: dict[str, Joint]) -> dict[str, FunctionTest]:
    before = rng.choice(
        [name for name in ("lid", "rim clips", "long screws") if name in joints]
        or ["lid"]
    )
    is_open = rng.random() < 0.5
    return {
        "picture": FunctionTest(
            says="white, black",
            while_open=is_open,
            needs_fitted=("pack plug",),
            due_if=("tail",),
            before=(before,) if is_open else (),
        ),
        "sound": FunctionTest(says="one tone"),
    }
