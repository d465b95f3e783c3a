"""Is the order kept that every workshop keeps, though no description says it?"""

import random
from dataclasses import replace

from core.model.test_blocking import in_words, joint
from turnscrew.core.model.blocking import Waits, rings_in, waits_of
from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.customary import with_customs
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import Bond, Clip, Cover, Latch, Seal
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Need
from turnscrew.core.model.part import Part


def by_custom(device: Device) -> Waits:
    return with_customs(device, waits_of(device))


def test_what_is_prised_waits_for_the_screws_that_hold_the_same_parts() -> None:
    """Screws out before anything is levered: common practice, no source."""
    device = Device(
        name="X",
        parts={"tub": Part(fixed=True), "cover": Part(), "trim": Part()},
        joints={
            "rim clips": joint("cover tub", how=Clip()),
            "rim seal": joint("tub cover", how=Seal()),
            "rim screws": joint("cover tub"),
            "earth screw": joint("cover trim tub"),
            "trim screws": joint("trim tub"),
            "hidden screw": joint("cover tub", "rim seal"),
            "trim tape": joint("trim cover", how=Bond()),
        },
    )
    waits = in_words(by_custom(device))

    three = ["joint rim screws", "joint earth screw", "joint hidden screw"]
    assert three == waits["joint rim clips"]
    # A screw under what is prised lets it come first, whatever the custom.
    assert three[:2] == waits["joint rim seal"]
    assert ["joint earth screw"] == waits["joint trim tape"]
    assert [] == waits["joint rim screws"] == waits["joint trim screws"]


def test_a_seal_comes_out_last_and_goes_in_first() -> None:
    """A seal lies between what closes on it: common practice, no source."""
    joints = {
        "ring": joint("cover tub", how=Seal()),
        "clips": joint("cover tub", how=Clip()),
        "screws": joint("cover tub"),
        "tail": joint("cover tub", how=Socket()),
    }
    waits = in_words(by_custom(Device(name="X", joints=joints)))

    assert ["joint clips", "joint screws"] == waits["joint ring"]
    assert ["joint screws"] == waits["joint clips"]


def test_joints_inside_wait_for_every_pack_to_be_unplugged() -> None:
    """Packs off before a driver goes in: common practice, no source."""
    device = Device(
        name="X",
        parts={
            "tub": Part(fixed=True), "cover": Part(), "lid": Part(),
            "shield": Part(), "pack": Part(kind="battery"), "fan": Part(),
        },
        joints={
            "cover screws": joint("cover tub"),
            "lid screws": joint("lid tub"),
            "inner label": joint("shield tub", "cover", how=Cover(kind="label")),
            "shield screws": joint("shield tub", "cover"),
            "fan screws": joint("fan tub", "cover"),
            "pack screws": joint("pack tub", "cover"),
            "front plug": joint("pack tub", "cover", how=Plug(), first="electrical"),
            "rear plug": joint("fan tub", "shield", how=Plug(), first="electrical"),
        },
    )  # fmt: skip
    waits = in_words(by_custom(device))

    both = ["part cover", "joint front plug", "joint rear plug"]
    assert both == waits["joint fan screws"] == waits["joint pack screws"]
    # In the way of the rear plug itself, so only the front one is off before.
    assert both[:2] == waits["joint shield screws"]
    # Outside: whoever exchanges the lid need not open the device.
    assert [] == waits["joint lid screws"] == waits["joint cover screws"]
    assert both[:1] == waits["joint inner label"]
    assert () == rings_in(by_custom(device))


def test_a_choice_of_ways_counts_as_inside_and_never_as_unplugged() -> None:
    parts = {name: Part() for name in ("cover", "hatch", "pack", "fan")}
    joints = {
        "plug": joint("pack tub", "cover", how=Plug(), first="electrical"),
        "either way": joint("fan tub", "cover or hatch"),
        "by the hatch": joint("fan tub", "hatch"),
        "plug or hatch": joint("fan tub", "plug or hatch"),
        "plug or cover": joint("fan tub", "plug or cover"),
    }
    device = Device(name="X", parts={"tub": Part(fixed=True), **parts}, joints=joints)
    waits = in_words(by_custom(device))

    assert ["part cover or part hatch", "joint plug"] == waits["joint either way"]
    assert ["part hatch"] == waits["joint by the hatch"]
    # What waits for the plug by choice alone has not surely waited for it.
    assert ["joint plug or part hatch", "joint plug"] == waits["joint plug or hatch"]
    assert ["joint plug or part cover", "joint plug"] == waits["joint plug or cover"]


def test_nothing_lies_inside_by_a_plug_with_nothing_in_its_way() -> None:
    joints = {
        "plug": joint("pack tub", how=Plug(), first="electrical"),
        "screws": joint("fan tub", "plug or hatch"),
    }
    parts = {"tub": Part(fixed=True), "hatch": Part(), "pack": Part(), "fan": Part()}
    device = Device(name="X", parts=parts, joints=joints)

    assert ["joint plug or part hatch"] == in_words(by_custom(device))["joint screws"]


def test_nuts_come_off_before_what_is_prised_and_latches_before_a_seal() -> None:
    joints = {
        "clips": joint("cover tub", how=Clip()),
        "nuts": joint("cover tub", how=Nut()),
        "ring": joint("cover tub", how=Seal()),
        "latch": joint("cover tub", how=Latch()),
    }
    waits = in_words(by_custom(Device(name="X", joints=joints)))

    assert ["joint nuts"] == waits["joint clips"]
    assert ["joint clips", "joint nuts", "joint latch"] == waits["joint ring"]
    assert [] == waits["joint latch"]


KINDS = (Screw(), Clip(), Bond(), Seal(), Plug(), Socket())


def drawn_device(rng: random.Random) -> Device:
    """Draw parts and joints with needs among earlier ones and some choices."""
    parts = [f"part {n}" for n in range(rng.randint(2, 5))]
    joints: dict[str, Joint] = {}
    for n in range(rng.randint(3, 9)):
        held = " ".join([*rng.sample(parts, rng.choice((1, 2))), "tub"])
        how = rng.choice(KINDS)
        earlier = [*parts, *joints]
        under = [
            " or ".join(rng.sample(earlier, min(rng.choice((1, 1, 2)), len(earlier))))
            for _ in range(rng.choice((0, 0, 1, 2)))
        ]
        is_first = isinstance(how, Plug) and rng.random() < 0.7
        joints[f"joint {n}"] = Joint(
            holds=tuple(held.replace("part ", "part_").split()),
            under=tuple(Need.from_text(text) for text in under),
            how=how,
            first="electrical" if is_first else "",
        )
    named = {
        name: replace(one, holds=tuple(p.replace("_", " ") for p in one.holds))
        for name, one in joints.items()
    }
    fixed = {"tub": Part(fixed=True)}
    return Device(name="X", parts=fixed | {p: Part() for p in parts}, joints=named)


def test_a_custom_never_makes_impossible_what_can_be_done() -> None:
    n_more = n_possible = 0
    for seed in range(2000):
        device = drawn_device(random.Random(seed))
        stated, customary = waits_of(device), by_custom(device)
        assert stated.keys() == customary.keys()
        for removal, conditions in stated.items():
            assert conditions == customary[removal][: len(conditions)]
            n_more += len(customary[removal]) > len(conditions)
        if not rings_in(stated):
            n_possible += 1
            assert () == rings_in(customary), seed
    assert n_possible > 300
    assert n_more > 1000
