"""Which screws are of one kind, and which could be mistaken?"""

from dataclasses import replace

import pytest

from turnscrew.core.model.alike import (
    confusable,
    fastener_kinds,
    may_replace,
    stand_ins,
)
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Behind, Drive, Screw, Shoulder, Thread
from turnscrew.core.model.holding import Clip
from turnscrew.core.model.joint import Joint

LONG = Screw(
    Drive("hexalobular", 5), Thread(2, 0.4), 9.0, head_mm=3.8, head_height_mm=2
)
SHORT = replace(LONG, length_mm=8.0, behind=Behind("display edge", 9.0))


def device(**screws: Screw) -> Device:
    joints = {name: Joint(holds=("lid",), how=how, n=2) for name, how in screws.items()}
    return Device(name="X", joints={**joints, "clips": Joint(how=Clip())})


def test_it_groups_screws_by_kind_with_a_letter() -> None:
    kinds = fastener_kinds(device(a=LONG, b=SHORT, c=replace(LONG, captive=True)))

    assert [("A", ("a", "c"), 4, 2), ("B", ("b",), 2, 2)] == [
        (kind.letter, kind.joints, kind.n, kind.n_tray) for kind in kinds
    ]


def test_it_keeps_apart_what_is_not_measured() -> None:
    kinds = fastener_kinds(device(a=Screw(), b=Screw()))

    assert ["A", "B"] == [kind.letter for kind in kinds]


def test_it_has_letters_for_many_kinds_and_none_like_a_digit() -> None:
    screws = {f"s{n}": replace(LONG, length_mm=n + 1) for n in range(30)}
    letters = [kind.letter for kind in fastener_kinds(device(**screws))]

    assert "AJ" == letters[-1]
    assert len(letters) == len(set(letters))
    # I and O look like digits; H and Z name recesses (ISO 4757).
    assert not set("IOHZ") & set("".join(letters))


@pytest.mark.parametrize(
    ("other", "why"),
    [
        (SHORT, "lengths differ by only 1 mm"),
        (replace(LONG, length_mm=7.5), ""),
        (replace(LONG, head="wafer"), "same length, other head, point or coating"),
        (replace(LONG, length_mm=None), "a length is not measured"),
        (replace(SHORT, drive=Drive("type H", 0)), ""),
        (replace(SHORT, thread=Thread(2.5, 0.45)), ""),
        (replace(SHORT, drive=None), "lengths differ by only 1 mm"),
    ],
)
def test_it_tells_what_could_be_mistaken(other: Screw, why: str) -> None:
    found = confusable(device(long=LONG, other=other))

    assert ([why] if why else []) == [pair.why for pair in found]


def test_it_says_what_a_mistake_would_hit() -> None:
    (pair,) = confusable(device(long=LONG, short=SHORT))

    assert "display edge behind short" == pair.danger


def test_it_widens_with_the_limit() -> None:
    screws = device(long=LONG, other=replace(LONG, length_mm=7.0))

    assert (0, 1) == (len(confusable(screws)), len(confusable(screws, 2.5)))


@pytest.mark.parametrize(
    ("other", "may"),
    [
        (LONG, True),
        (replace(LONG, length_mm=8.0), True),
        (replace(LONG, length_mm=9.5), False),
        (replace(LONG, head_height_mm=2.1), False),
        (replace(LONG, head_mm=4.2), False),
        (replace(LONG, length_mm=None), False),
        (replace(LONG, drive=Drive("type H", 0)), False),
        (replace(LONG, shoulder=Shoulder("shoulder", 3.0, 4.0)), False),
        (replace(LONG, patch="blue"), False),
        (replace(LONG, point="cone"), True),
    ],
)
def test_it_never_offers_a_longer_screw_or_a_thicker_head(other, may) -> None:
    assert may == may_replace(LONG, other)


def test_it_offers_no_other_point_where_both_are_known() -> None:
    cone, flat = replace(LONG, point="cone"), replace(LONG, point="flat")

    assert not may_replace(flat, cone)
    assert may_replace(flat, flat)


def test_it_offers_nothing_for_what_is_not_measured() -> None:
    assert not may_replace(Screw(), Screw())


def test_it_names_the_joints_whose_screws_may_stand_in() -> None:
    screws = device(
        long=LONG,
        shorter=replace(LONG, length_mm=7.0),
        short=replace(LONG, length_mm=8.0),
        kept=replace(LONG, captive=True),
        unknown=replace(LONG, length_mm=None),
    )

    assert ("short", "shorter") == stand_ins(screws, "long")
    assert () == stand_ins(screws, "shorter")
    assert () == stand_ins(screws, "kept")
    assert () == stand_ins(screws, "unknown")
    assert () == stand_ins(screws, "no such joint")
