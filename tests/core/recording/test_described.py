"""One recording makes a description that computes; more of them loosen it."""

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from core.recording.small_box import (
    COVER,
    FAN,
    FIRST,
    FOUR_SCREWS,
    LEAD_ASIDE,
    PLUG,
    SCREWS,
    SECOND,
    TAPE,
    opening,
)
from oracles.opening_dijkstra import cheapest
from random_openings import (
    Hidden,
    drawn_openings,
    hidden_device,
    is_legal,
    recorded_opening,
)
from turnscrew.core.model.blocking import waits_of
from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import View
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Need
from turnscrew.core.model.part import Part
from turnscrew.core.model.proof import Arrived, Origin, Release
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.core.opening.compile import pose
from turnscrew.core.recording.described import described
from turnscrew.core.recording.orders import Rules
from turnscrew.core.recording.recorded import Recorded, RecordedOpening
from turnscrew.core.recording.release import as_told, changed_things
from turnscrew.core.recording.share import drawn_order
from turnscrew.files.device_file import read_device
from turnscrew.files.device_writing import write_device
from turnscrew.flows.opening import opening_path

HELD = {"parts": {"frame": Part(kind="frame", fixed=True), "cover 1": Part()}}
BY_HAND = Device(
    name="Box",
    joints={"screws 1": Joint(holds=("cover 1", "frame"), n=3)},
    **HELD,
)


def never() -> bool:
    return False


def learn(*openings: RecordedOpening, stated: Device | None = None) -> Device:
    return described("Box", openings, stated).device


def path(device: Device, name: str) -> list[str]:
    answer = opening_path(device, (name,), never)
    assert "optimal" == answer.status
    return undone(answer)


def undone(answer: OpeningAnswer) -> list[str]:
    others = ("posture", "tool", "test", "look")
    return [action.name for action in answer.opening if action.kind not in others]


def drawn(seed: int, n_openings: int) -> tuple[Hidden, list[RecordedOpening]]:
    rng = random.Random(seed)
    hidden = hidden_device(rng, n_things=(5, 9))
    orders = drawn_openings(rng, hidden, n_openings)
    return hidden, [
        recorded_opening(rng, hidden, opened, number)
        for number, opened in enumerate(orders, start=1)
    ]


def prefixes(whole: RecordedOpening) -> Iterator[RecordedOpening]:
    for n_done in range(len(whole.removals) + 1):
        yield replace(whole, removals=whole.removals[:n_done])


def rules_of(device: Device) -> Rules:
    return {
        str(removal): tuple(tuple(map(str, c.any_of)) for c in conditions)
        for removal, conditions in waits_of(device).items()
    }


# --- it computes at once -----------------------------------------------------


def test_it_computes_after_one_recording() -> None:
    assert ["screws 1", "cover 1", "plug 1", "fan 1"] == path(learn(FIRST), "fan 1")


def test_it_computes_after_every_action_of_every_opening() -> None:
    for seed in range(30):
        _, openings = drawn(seed, 1)
        for begun in prefixes(openings[0]):
            device = learn(begun)

            assert device == read_device(write_device(device))
            if begun.removals:
                last = begun.removals[-1].name
                answer = opening_path(device, (last,), never)
                assert "optimal" == answer.status
                names = {recorded.name for recorded in begun.removals}
                assert {last} <= set(undone(answer)) <= names


def test_it_reads_back_unchanged_after_several_openings() -> None:
    for seed in range(40):
        device = learn(*drawn(seed, 4)[1])

        assert device == read_device(write_device(device))


def test_it_forbids_what_the_device_forbids() -> None:
    for seed in range(60):
        hidden, openings = drawn(seed, 1 + seed % 6)
        rules = rules_of(learn(*openings))
        rng = random.Random(seed)
        for _ in range(10):
            order = things_in(drawn_order(rules, rng.randrange).order, hidden)

            assert is_legal(hidden.needs, order), seed


def things_in(order: tuple[str, ...], hidden: Hidden) -> list[str]:
    """Leave out that a part comes off which the hidden device only moves aside."""
    is_aside = {t for t, (removal, _) in hidden.kinds.items() if removal == "aside"}
    return [name.removesuffix(" aside") for name in order if name not in is_aside]


def test_it_allows_what_was_recorded() -> None:
    for seed in range(60):
        _, openings = drawn(seed, 5)
        waits = rules_of(learn(*openings))
        for told in openings:
            order = [
                f"{r.name} aside" if r.removal == "aside" else r.name
                for r in told.removals
            ]

            assert is_legal(waits, order), seed


# --- learning goes on --------------------------------------------------------


def test_it_learns_the_same_at_once_and_one_by_one() -> None:
    for seed in range(40):
        _, openings = drawn(seed, 4)
        device = learn(openings[0])
        for n_openings in (2, 3, 4):
            device = learn(*openings[:n_openings], stated=device)

            assert learn(*openings[:n_openings]) == device


def test_it_infers_what_a_joint_holds() -> None:
    device = learn(FIRST)

    assert ("cover 1", "frame") == device.joints["screws 1"].holds
    assert ("fan 1", "frame") == device.joints["plug 1"].holds


def test_it_corrects_what_a_joint_holds_once_the_part_came_off_without() -> None:
    tape_first = opening(1, TAPE, SCREWS, COVER, FAN)
    tape_last = opening(2, SCREWS, COVER, TAPE, FAN)

    assert "cover 1" == learn(tape_first).joints["tape 1"].holds[0]
    assert "fan 1" == learn(tape_first, tape_last).joints["tape 1"].holds[0]


def test_it_says_of_the_last_joint_only_that_it_holds_something() -> None:
    device = learn(opening(1, SCREWS, COVER, PLUG))

    assert () == device.joints["plug 1"].holds
    assert ["screws 1", "cover 1", "plug 1"] == path(device, "plug 1")


def test_it_writes_two_ways_in_as_alternatives() -> None:
    left, right = replace(TAPE, name="tape 2"), replace(TAPE, name="tape 3")
    device = learn(opening(1, left, PLUG), opening(2, right, PLUG))

    assert (Need.from_text("tape 2 or tape 3"),) == device.joints["plug 1"].after


def test_it_does_not_repeat_what_follows() -> None:
    device = learn(FIRST)

    assert () == device.parts["cover 1"].after
    assert () == device.parts["fan 1"].after
    assert (Need.from_text("cover 1"),) == device.joints["plug 1"].after


def test_it_tells_what_is_free() -> None:
    first, then = opening(1, SCREWS, TAPE, COVER), opening(2, TAPE, SCREWS, COVER)

    assert (("screws 1", "tape 1"),) == described("Box", (first, then)).free


def test_it_moves_aside_what_was_moved_aside() -> None:
    device = learn(opening(1, SCREWS, LEAD_ASIDE, PLUG, FAN))
    posed = pose(device, ("fan 1",))
    answer = opening_path(device, ("fan 1",), never)

    assert ["screws 1", "lead 1", "plug 1", "fan 1"] == path(device, "fan 1")
    assert answer.cost_s == cheapest(posed.problem, one_way=False)[0] / 10
    assert "optimal" == opening_path(device, ("lead 1",), never).status


def test_it_writes_the_facts_and_where_they_come_from() -> None:
    used_up = replace(TAPE, is_destroyed=True, photos=("p1",), is_straight_out=True)
    device = learn(opening(1, SCREWS, used_up, COVER))
    screws, tape = device.joints["screws 1"], device.joints["tape 1"]

    assert (3, "screw", 3.5) == (screws.n, screws.kind, screws.how.length_mm)
    assert ("base up",) == screws.postures
    assert ("never", "straight out") == (tape.survival.kind, tape.direction)
    assert ["p1"] == [photo.name for photo in tape.photos]
    assert 1 == device.parts["cover 1"].orientation.n_ways
    assert screws.origin == Origin("seen", "P1", "S1", date(2025, 3, 1), "as recorded")
    assert Release("draft") == device.release


# --- contradictions ----------------------------------------------------------


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"n": 4}, "3 pieces on S1 (2025-03-01), 4 pieces on S2 (2025-03-02)"),
        ({"kind": "clip"}, "screw on S1 (2025-03-01), clip on S2 (2025-03-02)"),
        ({"length_mm": 4}, "3.5 mm on S1 (2025-03-01), 4 mm on S2 (2025-03-02)"),
    ],
)
def test_it_tells_who_disagrees_with_whom(changed: dict, words: str) -> None:
    found = described("Box", (FIRST, opening(2, replace(SCREWS, **changed), COVER)))

    assert (f"screws 1: {words}",) == found.contradictions


def test_it_takes_two_readings_of_one_length_for_equal() -> None:
    again = opening(2, replace(SCREWS, length_mm=3.7), COVER)

    assert () == described("Box", (FIRST, again)).contradictions


def test_it_tells_what_one_device_lacks() -> None:
    found = described("Box", (FIRST, opening(2, COVER)))

    assert (
        "screws 1: undone before cover 1 on S1 (2025-03-01), "
        "never undone on S2 (2025-03-02) though cover 1 was",
    ) == found.contradictions


def test_it_tells_of_every_joint_that_one_device_lacks() -> None:
    found = described("Box", (opening(1, TAPE, SCREWS, COVER), opening(2, COVER)))

    assert ["tape 1", "screws 1"] == [
        words.partition(":")[0] for words in found.contradictions
    ]
    # One written by hand says itself what it holds; those after it still count.
    by_hand = described("Box", (opening(1, SCREWS, TAPE, COVER), opening(2, COVER)),
                        BY_HAND)  # fmt: skip
    assert "screws 1" not in {
        words.partition(":")[0] for words in by_hand.contradictions
    }
    assert any(words.startswith("tape 1: undone before cover 1") for words in
               by_hand.contradictions)  # fmt: skip


def test_it_says_on_which_day_and_device_it_was_seen_first() -> None:
    origin = learn(SECOND, FIRST).origin

    assert ("seen", "P2", "S2", date(2025, 3, 2), "as recorded") == (
        origin.how, origin.by, origin.serial, origin.on, origin.sure,
    )  # fmt: skip


def test_a_part_keeps_its_kind_though_a_joint_was_recorded_under_its_name() -> None:
    as_joint = Recorded("fan 1", "joint", "plug")
    device = learn(FIRST, opening(2, SCREWS, COVER, as_joint))

    assert "fan" == device.parts["fan 1"].kind


def test_it_tells_a_joint_from_a_part() -> None:
    as_part = Recorded("plug 1", "part", "cable")
    found = described("Box", (FIRST, opening(2, as_part)))

    assert (
        "plug 1: S1 (2025-03-01) says joint, S2 (2025-03-02) says part",
    ) == found.contradictions


def test_it_takes_the_larger_count_and_the_shorter_screw() -> None:
    longer = opening(2, replace(SCREWS, n=4, length_mm=5.0), COVER)
    joint = learn(FIRST, longer).joints["screws 1"]

    assert (4, 3.5) == (joint.n, joint.how.length_mm)
    assert 3 == learn(FIRST, SECOND, FOUR_SCREWS).joints["screws 1"].n


# --- what was odd ------------------------------------------------------------


def test_it_counts_missing_pieces_in() -> None:
    two_left = opening(2, replace(SCREWS, n=2), COVER, missing={"screws 1": 1})
    found = described("Box", (FIRST, two_left))

    assert () == found.contradictions
    assert 3 == found.device.joints["screws 1"].n
    assert (
        Arrived("S2", "missing on arrival", joint="screws 1", missing=1),
    ) == found.device.arrived


def test_it_keeps_a_rule_although_the_joint_was_missing() -> None:
    found = described("Box", (FIRST, opening(2, COVER, missing={"screws 1": 3})))

    assert ["screws 1", "cover 1"] == path(found.device, "cover 1")
    assert () == found.contradictions


def test_it_tells_of_holes_never_used() -> None:
    told = opening(1, SCREWS, COVER, holes_never_used={"base": 2})
    with_face = replace(BY_HAND, views={"base": View((300, 200))})

    assert "2 holes never used on base" == learn(told).variation
    assert [2] == [hole.n for hole in learn(told, stated=with_face).empty_holes]


# --- beside a description written by hand ------------------------------------


def test_it_leaves_alone_what_was_written_by_hand() -> None:
    found = described("Box", (FOUR_SCREWS,), BY_HAND)

    assert BY_HAND.joints["screws 1"] == found.device.joints["screws 1"]
    assert (
        "screws 1: 3 pieces in the description, 4 pieces on S3 (2025-03-03)",
    ) == found.contradictions
    assert ["screws 1", "cover 1", "plug 1", "fan 1"] == path(found.device, "fan 1")


def test_it_tells_where_an_order_breaks_a_rule_written_by_hand() -> None:
    found = described("Box", (opening(1, COVER, SCREWS),), BY_HAND)

    assert (
        "cover 1: the description lets it wait for screws 1 (joints.screws 1.holds), "
        "on S1 (2025-03-01) it was undone before that",
    ) == found.contradictions
    assert ["screws 1", "cover 1"] == path(found.device, "cover 1")


def test_it_adds_a_joint_and_lets_what_is_written_by_hand_wait_for_it() -> None:
    with_tape = opening(1, TAPE, SCREWS, COVER)
    device = learn(with_tape, stated=BY_HAND)

    assert ["tape 1", "screws 1", "cover 1"] == path(device, "cover 1")
    assert learn(with_tape, stated=device) == device
    # A second opening shows that only the cover needed it.
    later = learn(with_tape, opening(2, SCREWS, TAPE, COVER), stated=device)
    assert BY_HAND.joints["screws 1"] == later.joints["screws 1"]


def test_it_leaves_out_what_would_make_a_thing_wait_for_itself() -> None:
    under_cover = Joint(holds=("frame",), after=(Need.from_text("cover 1"),))
    stated = replace(BY_HAND, joints={"screws 1": under_cover})
    told = opening(1, SCREWS, TAPE, COVER)
    found = described("Box", (told,), stated)

    assert any("wait for itself" in words for words in found.contradictions)
    assert found.device == read_device(write_device(found.device))
    assert "optimal" == opening_path(found.device, ("screws 1",), never).status


def test_it_never_lifts_what_is_fixed() -> None:
    lifted = Recorded("frame", "part", "frame")
    found = described("Box", (opening(1, lifted, SCREWS),), BY_HAND)

    assert found.device.parts["frame"].fixed
    assert 1 == len(found.contradictions)


def test_it_gives_another_name_to_what_stays_if_a_frame_comes_off() -> None:
    device = learn(opening(1, SCREWS, Recorded("frame", "part", "frame")))

    assert device.parts["fixed frame"].fixed
    assert ("frame", "fixed frame") == device.joints["screws 1"].holds


def test_it_lets_only_what_is_new_fall_back_to_draft() -> None:
    released = replace(BY_HAND, release=Release("released", "L1"))
    device = learn(FIRST, stated=released)

    assert released.release == device.release
    assert None is device.joints["screws 1"].release
    assert Release() == device.joints["plug 1"].release
    assert device == read_device(write_device(device))
    assert released == learn(opening(1, SCREWS, COVER), stated=released)


def test_it_makes_all_a_draft_if_a_new_joint_holds_nothing_yet() -> None:
    released = replace(BY_HAND, release=Release("released", "L1"))

    assert Release() == learn(opening(1, SCREWS, COVER, PLUG), stated=released).release


def test_it_leaves_alone_what_somebody_corrected() -> None:
    draft = learn(FIRST)
    plug = replace(draft.joints["plug 1"], n=2, holds=("cover 1", "frame"))
    edited = replace(draft, joints={**draft.joints, "plug 1": plug})
    corrected = as_told(draft, edited, "L1", date(2025, 4, 1))
    device = learn(FIRST, SECOND, stated=corrected)

    assert {"plug 1"} == changed_things(draft, corrected)
    assert corrected.joints["plug 1"].holds == device.joints["plug 1"].holds
    assert 2 == device.joints["plug 1"].n


def test_it_stays_what_it_is_without_openings() -> None:
    assert BY_HAND == learn(stated=BY_HAND) == learn(opening(1, SCREWS), stated=BY_HAND)
    assert ["frame"] == list(learn().parts)
    assert FAN.name not in learn().parts
