"""Only a clean rebuild by somebody else, and then a lead, release a description."""

from dataclasses import replace
from datetime import date

import pytest

from core.recording.small_box import COVER, FIRST, PLUG, SCREWS, opening
from turnscrew.core.model.proof import Release
from turnscrew.core.recording.described import described
from turnscrew.core.recording.release import (
    BlindRebuild,
    changed_things,
    release_after,
    released,
    tried,
    withdrawn,
)
from turnscrew.errors import BadArgumentError

DAY = date(2025, 4, 2)
CLEAN = BlindRebuild("P9", DAY, frozenset({"P1"}))
DRAFT = described("Box", (FIRST,)).device


def test_it_is_tried_by_another_after_a_clean_rebuild() -> None:
    assert Release("tried by another", "P9", DAY, "P9") == release_after(CLEAN)
    assert "tried by another" == release_after(replace(CLEAN, n_questions=4)).state


@pytest.mark.parametrize(
    "changed", [{"n_left_over": 1}, {"n_wrong_place": 1}, {"by": "P1"}, {"by": ""}]
)
def test_it_stays_a_draft_otherwise(changed: dict) -> None:
    assert "draft" == release_after(replace(CLEAN, **changed)).state


def test_it_falls_back_when_a_rebuild_goes_wrong() -> None:
    wrong = replace(CLEAN, n_left_over=1)
    good = Release("released", "L1", DAY, "P9")

    assert "draft" == release_after(wrong, good).state
    assert good == release_after(CLEAN, good)


def test_it_stays_withdrawn() -> None:
    out = withdrawn(DRAFT, "L1", DAY)

    assert "withdrawn" == tried(out, CLEAN).release.state


def test_it_is_released_by_a_lead_only_after_that() -> None:
    with pytest.raises(BadArgumentError, match="found draft"):
        released(DRAFT, "L1", DAY)

    device = released(tried(DRAFT, CLEAN), "L1", DAY)

    assert Release("released", "L1", DAY, "P9") == device.release
    with pytest.raises(BadArgumentError, match="found released"):
        released(device, "L1", DAY)


def test_it_is_not_tried_while_a_joint_holds_nothing() -> None:
    loose = described("Box", (opening(1, SCREWS, COVER, PLUG),)).device

    with pytest.raises(BadArgumentError, match="what plug 1 holds"):
        tried(loose, CLEAN)
    assert "draft" == tried(loose, replace(CLEAN, n_left_over=1)).release.state


def test_it_releases_the_things_with_the_whole() -> None:
    joints = {n: replace(j, release=Release()) for n, j in DRAFT.joints.items()}
    device = released(tried(replace(DRAFT, joints=joints), CLEAN), "L1", DAY)

    assert {None} == {joint.release for joint in device.joints.values()}


def test_it_names_only_what_was_changed() -> None:
    screws = replace(DRAFT.joints["screws 1"], n=4)
    after = replace(
        DRAFT,
        joints={**DRAFT.joints, "screws 1": screws},
        parts={n: p for n, p in DRAFT.parts.items() if n != "fan 1"},
    )

    assert {"screws 1", "fan 1"} == changed_things(DRAFT, after)
    assert frozenset() == changed_things(DRAFT, DRAFT)


def test_it_does_not_call_a_new_origin_a_change() -> None:
    joints = {n: replace(j, origin=None) for n, j in DRAFT.joints.items()}

    assert frozenset() == changed_things(DRAFT, replace(DRAFT, joints=joints))
