"""The next device is asked for what is not yet agreed on, and for nothing else."""

from dataclasses import replace

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
from turnscrew.core.model.debts import debts
from turnscrew.core.model.fastener import Drive
from turnscrew.core.recording.described import described
from turnscrew.core.recording.doubts import debts_by_use, doubtful
from turnscrew.core.recording.recorded import RecordedOpening

FULL = replace(SCREWS, drive=Drive("type H", 0))


def asked(*openings: RecordedOpening) -> list[tuple[str, str]]:
    device = described("Box", openings).device
    return [(doubt.of, doubt.answer) for doubt in doubtful(device, openings)]


def questions(*openings: RecordedOpening) -> list[str]:
    device = described("Box", openings).device
    return [doubt.asks for doubt in doubtful(device, openings)]


def test_it_asks_again_for_what_was_seen_once() -> None:
    found = questions(opening(1, FULL, COVER))

    assert [
        "screws 1: 3.5 mm long here again? Lay one on the length scale.",
        "screws 1: 3 here again?",
        "screws 1: drive H0 here again?",
    ] == found


def test_it_does_not_ask_for_what_two_openings_agree_on() -> None:
    assert [] == asked(opening(1, FULL, COVER), opening(2, FULL, COVER))


def test_it_asks_for_what_was_never_told() -> None:
    bare = replace(SCREWS, n=None, length_mm=None)
    fan = opening(1, bare, FAN)

    assert [
        ("screws 1", "length_mm"),
        ("screws 1", "count"),
        ("screws 1", "drive"),
        ("fan 1", "yes/no"),
    ] == asked(fan, fan)


NOTHING_TOLD = replace(SCREWS, n=None, length_mm=None)


@pytest.mark.parametrize(
    "openings",
    [
        # Never told, told once, told differently.
        (opening(1, NOTHING_TOLD, FAN), opening(2, NOTHING_TOLD, FAN)),
        (opening(1, FULL, COVER),),
        (
            opening(1, FULL, COVER),
            opening(
                2, replace(FULL, n=4, length_mm=5.0, drive=Drive("slotted", 1.5)), COVER
            ),
        ),
    ],
)
def test_each_question_says_which_fact_of_a_recording_answers_it(openings) -> None:
    device = described("Box", openings).device
    found = {one.answer: one.fact for one in doubtful(device, openings)
             if one.of == "screws 1"}  # fmt: skip

    assert {"count": "n", "length_mm": "length_mm", "drive": "drive"} == found


def test_it_asks_where_two_openings_disagree_until_a_third_decides() -> None:
    again = "How many pieces has screws 1? Recorded so far: 3 pieces, 4 pieces."

    assert again in questions(FIRST, FOUR_SCREWS)
    assert ("screws 1", "count") not in asked(FIRST, FOUR_SCREWS, SECOND)


def test_it_asks_whether_what_sticks_was_used_up() -> None:
    told = replace(TAPE, is_destroyed=False)

    assert "Was tape 1 used up when it was undone?" in questions(opening(1, TAPE, FAN))
    assert "Is tape 1 fit to be made again here too?" in questions(
        opening(1, told, FAN)
    )
    assert ("tape 1", "yes/no") not in asked(
        opening(1, told, FAN), opening(2, told, FAN)
    )


def test_it_asks_what_the_last_joint_holds_before_all_else() -> None:
    assert ("plug 1", "name") == asked(opening(1, SCREWS, COVER, PLUG))[0]


def test_it_asks_whether_what_was_off_first_was_in_the_way() -> None:
    assert "Was cover 1 really in the way of plug 1?" in questions(FIRST, SECOND)


def test_it_asks_whether_what_was_only_moved_aside_comes_off() -> None:
    assert "Does lead 1 come off altogether?" in questions(opening(1, LEAD_ASIDE))


def test_it_asks_nothing_of_what_was_written_by_hand() -> None:
    device = described("Box", (FIRST,)).device
    by_hand = replace(
        device,
        joints={n: replace(j, origin=None) for n, j in device.joints.items()},
        parts={n: replace(p, origin=None) for n, p in device.parts.items()},
    )

    assert () == doubtful(by_hand, (FIRST,))


def test_it_sorts_questions_by_weight() -> None:
    device = described("Box", (FIRST,)).device
    weights = [doubt.weight for doubt in doubtful(device, (FIRST,))]

    assert weights == sorted(weights, reverse=True)


def test_it_puts_debts_first_that_are_met_often() -> None:
    rare = replace(SCREWS, name="screws 2", length_mm=None)
    often = replace(SCREWS, name="screws 1", length_mm=None)
    openings = (
        opening(1, often, rare, COVER), opening(2, often, COVER), opening(3, often)
    )  # fmt: skip
    device = described("Box", openings).device
    found = [
        (use.debt.where, use.n_opened, use.weight)
        for use in debts_by_use(device, openings)
        if use.debt.lacks == "length under the head"
    ]

    assert found[0] == ("joints.screws 1", 3, 4.0)
    assert found[1] == ("joints.screws 2", 1, pytest.approx(4 / 3))


def test_it_counts_what_was_never_opened_as_once_in_one_opening_more() -> None:
    device = described("Box", (FIRST,)).device
    other = opening(2, PLUG)
    uses = {use.debt: use for use in debts_by_use(device, (other, other))}

    assert set(debts(device)) == set(uses)
    for debt, use in uses.items():
        if debt.where == "joints.screws 1":
            assert (0, debt.weight / 3) == (use.n_opened, use.weight)
        if debt.where == "tests":
            assert (2, debt.weight) == (use.n_opened, use.weight)
