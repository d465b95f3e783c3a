"""What waits for what?"""

from dataclasses import replace

import pytest

from turnscrew.core.model.blocking import (
    Removal,
    Waits,
    comes_away_with,
    isolating_joints,
    rings_in,
    tying_joints,
    waits_of,
)
from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.holding import Bond, Clip, Cover
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Need, PowerNeed
from turnscrew.core.model.part import Move, Part
from turnscrew.core.model.power import Power


def joint(holds: str, *under: str, **facts) -> Joint:
    needs = tuple(Need.from_text(text) for text in under)
    return Joint(holds=tuple(holds.split()), under=needs, **{"how": Screw(), **facts})


def waits_in_words(device: Device) -> dict[str, list[str]]:
    return in_words(waits_of(device))


def in_words(waits: Waits) -> dict[str, list[str]]:
    return {
        f"{removal.kind} {removal.name}": [
            " or ".join(f"{r.kind} {r.name}" for r in condition.any_of)
            for condition in conditions
        ]
        for removal, conditions in waits.items()
    }


TABLET = Device(
    name="tablet",
    parts={
        "frame": Part(fixed=True),
        "front": Part(contains=("glass",)),
        "glass": Part(),
        "pack": Part(kind="battery"),
        "board": Part(carries=("shield",)),
        "shield": Part(),
        "film": Part(kind="consumable"),
    },
    joints={
        "film": joint("front frame", how=Bond()),
        "tail": joint("glass board", "front raised", how=Socket()),
        "pack plug": joint("pack board", "front", how=Plug(), first="electrical"),
        "shield clips": joint("shield board", how=Clip()),
        "board screws": joint("board frame", "front"),
        "side tail": joint("board frame", "front or pack", how=Socket()),
    },
    moves={"front": Move(frees=("tail",))},
)


def test_it_ties_a_part_by_what_leaves_with_it() -> None:
    assert {"front", "glass"} == comes_away_with(TABLET, "front")
    assert ("film", "tail") == tying_joints(TABLET, "front")
    assert ("tail", "pack plug", "board screws", "side tail") == tying_joints(
        TABLET, "board"
    )


def test_it_gives_what_everything_waits_for() -> None:
    assert {
        "joint film": [],
        "joint tail": ["part front or aside front"],
        "joint pack plug": ["part front"],
        "joint shield clips": [],
        "joint board screws": ["part front"],
        # The tail stands in the way of the pack plug, so it does not wait for it.
        "joint side tail": ["part front or part pack", "joint pack plug"],
        "part front": ["joint film", "joint tail"],
        "part glass": ["joint tail"],
        "part pack": ["joint pack plug"],
        "part board": [
            "joint tail",
            "joint pack plug",
            "joint board screws",
            "joint side tail",
        ],
        "part shield": ["joint shield clips"],
        "aside front": ["joint film"],
    } == waits_in_words(TABLET)


def test_it_unplugs_the_pack_before_a_tail_that_only_may_come_first() -> None:
    # The pack is reached with the front raised; its tail is in the way of no plug.
    joints = {
        **TABLET.joints,
        "pack plug": joint(
            "pack board", "front or front raised", how=Plug(), first="electrical"
        ),
    }
    waits = waits_in_words(replace(TABLET, joints=joints))

    assert ["part front or aside front", "joint pack plug"] == waits["joint tail"]
    assert ["part front or aside front"] == waits["joint pack plug"]


def test_it_lets_either_of_two_ways_to_the_pack_come_first() -> None:
    device = Device(
        name="X",
        parts={"lid": Part(), "tray": Part(), "pack": Part(kind="battery")},
        joints={
            "lid tail": joint("lid tub", how=Socket()),
            "tray tail": joint("tray tub", how=Socket()),
            "side tail": joint("pack tub", how=Socket()),
            "plug": joint("pack tub", "lid or tray", how=Plug(), first="electrical"),
        },
    )

    waits = waits_in_words(device)

    assert [[], [], ["joint plug"]] == [
        waits[f"joint {name}"] for name in ("lid tail", "tray tail", "side tail")
    ]


def test_what_stays_leaves_the_other_way_to_the_pack_open() -> None:
    device = Device(
        name="X",
        parts={"lid": Part(), "tray": Part(), "pack": Part(kind="battery")},
        joints={
            "lid tail": joint("lid tub", how=Socket()),
            "tray screws": joint("tray tub"),
            "plug": joint("pack tub", "lid or tray", how=Plug(), first="electrical"),
        },
    )
    tail, plug = Removal("joint", "lid tail"), Removal("joint", "plug")
    waits = [
        [condition.any_of for condition in waits_of(device, stays)[tail]]
        for stays in ((), ("tray",), ("tray screws",))
    ]

    assert [[(plug,)], [], []] == waits


def test_it_has_no_ring_in_what_can_be_done() -> None:
    assert () == rings_in(waits_of(TABLET))


def test_it_hears_of_covers_from_either_side() -> None:
    device = Device(
        name="X",
        parts={"plate": Part(covers=("screws", "card", "nothing")), "card": Part()},
        joints={
            "badge": joint("plate", how=Cover(hides=("screws", "nowhere"))),
            "screws": joint("card tub"),
        },
    )

    assert {
        "joint badge": [],
        "joint screws": ["part plate", "joint badge"],
        "part plate": [],
        "part card": ["joint screws", "part plate"],
    } == waits_in_words(device)


def test_it_takes_a_freed_part_as_reached_while_aside() -> None:
    device = Device(
        name="X",
        parts={"plate": Part(covers=("screws",)), "card": Part()},
        joints={"screws": joint("card tub")},
        moves={"plate": Move(frees=("screws",))},
    )

    assert ["part plate or aside plate"] == waits_in_words(device)["joint screws"]


def test_it_moves_a_part_on_stated_needs_alone() -> None:
    device = Device(
        name="X",
        parts={"lid": Part()},
        joints={"screws": joint("lid tub"), "pivot": joint("lid tub")},
        moves={
            "lid": Move(needs=(Need.from_text("screws"),)),
        },
    )

    assert ["joint screws"] == waits_in_words(device)["aside lid"]


def test_it_leaves_kept_joints_made_when_a_part_moves_aside() -> None:
    device = Device(
        name="X",
        parts={"lid": Part()},
        joints={"screws": joint("lid tub"), "pivot": joint("lid tub")},
        moves={"lid": Move(keeps=("pivot",), under=(Need.from_text("screws"),))},
    )

    assert ["joint screws", "joint screws"] == waits_in_words(device)["aside lid"]


def test_it_isolates_by_the_joint_the_power_rules_name() -> None:
    device = Device(
        name="X",
        joints={
            "cell plug": joint("cell board", how=Plug()),
            "screws": joint("board tub", power=PowerNeed("isolated")),
            "tail": joint("board tub", how=Socket()),
        },
        power=Power(isolate="cell plug"),
    )

    assert ("cell plug",) == isolating_joints(device)
    assert [["joint cell plug"]] * 2 == [
        waits_in_words(device)[f"joint {name}"] for name in ("screws", "tail")
    ]


def test_it_names_a_ring_and_the_knot_behind_it() -> None:
    device = Device(
        name="X",
        joints={
            "a": joint("x y", "b"),
            "b": joint("x y", "a"),
            "c": joint("x y", "a"),
            "d": joint("x y", "e"),
            "e": joint("x y", "d"),
        },
    )

    rings = rings_in(waits_of(device))

    assert ["a waits for b, which waits for a", "d waits for e, which waits for d"] == [
        str(ring) for ring in rings
    ]
    assert ["joints.a.under", "joints.b.under"] == [
        condition.path for _, condition in rings[0].links
    ]


def test_it_finds_no_ring_where_another_way_is_open() -> None:
    device = Device(
        name="X",
        joints={"a": joint("x y", "b or c"), "b": joint("x y", "a"), "c": joint("x y")},
    )

    assert () == rings_in(waits_of(device))


def test_it_leaves_out_names_that_mean_nothing() -> None:
    device = Device(
        name="X",
        parts={"lid": Part(contains=("glass",), carries=("lid",))},
        joints={
            "screws": joint("lid tub", "nothing", power=PowerNeed("isolated")),
            "plug": joint("cell tub", how=Plug(), power=PowerNeed("isolated")),
        },
        power=Power(isolate="plug"),
    )

    assert {
        "joint screws": ["joint plug"],
        "joint plug": [],
        "part lid": ["joint screws"],
    } == waits_in_words(device)
    assert {"lid", "glass"} == comes_away_with(device, "lid")


@pytest.mark.parametrize(
    ("removal", "words"),
    [(Removal("aside", "lid"), "lid aside"), (Removal("part", "lid"), "lid")],
)
def test_it_puts_a_removal_in_words(removal: Removal, words: str) -> None:
    assert words == str(removal)


def test_a_joint_reached_with_a_part_aside_holds_while_it_is_moved() -> None:
    device = Device(
        name="X",
        parts={"tub": Part(fixed=True), "window": Part(), "board": Part()},
        joints={
            "tape": joint("window tub", how=Bond()),
            "touch tail": joint("window board", "window aside", how=Socket()),
            "side tail": joint("window board", how=Socket()),
        },
        moves={"window": Move(aside="folded over")},
    )
    waits = waits_in_words(device)

    assert ["joint tape", "joint side tail"] == waits["aside window"]
    assert ["part window or aside window"] == waits["joint touch tail"]
    assert () == rings_in(waits_of(device))
