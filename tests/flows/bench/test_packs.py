"""What is told at the bench while a swollen pack is inside, and of what lies beside."""

from dataclasses import replace

import pytest

from flows.bench.bench_cases import devices, never
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.model.device import Device
from turnscrew.core.opening.cautions import HEAT, IF_SWOLLEN, PACK_FIRST, PACK_WORDS
from turnscrew.flows.bench.goal import Finish, Goal, Lying, Work
from turnscrew.flows.bench.packs import (
    BOX_BAD,
    BOX_OLD,
    NO_HEAT,
    frees,
    makes_good,
)
from turnscrew.flows.bench.plan import run_for

CHARGE = Finish(name="charge", says="Charge:", asks="number", unit="%")


def packs(device: Device) -> list[str]:
    return [name for name, part in device.parts.items() if part.kind == "battery"]


def lifted(run: Run, name: str) -> Line | None:
    found = (one for one in run.lines if one.does == "lift" and one.name == name)
    return next(found, None)


def renewing(device: Device, *, is_bad: bool) -> tuple[str, Run]:
    """Give the run that puts another pack in, and the pack."""
    (pack,) = packs(device)
    goal = Goal(
        reach=(pack,),
        work=(Work(says="Fit another.", reach=pack, spare="X-BT"),),
        no_power="the pack is swollen" if is_bad else "",
        is_pack_bad=is_bad,
        finish=(CHARGE,),
    )
    return pack, run_for(device, goal, Lying(), never)


@pytest.mark.parametrize("device", devices(), ids=lambda one: one.name + one.revision)
def test_it_says_what_a_bad_pack_must_not_meet_at_the_very_action(device) -> None:
    pack, run = renewing(device, is_bad=True)
    line = lifted(run, pack)
    assert line is not None
    before = run.lines[: line.number + 1]

    heated = [
        one
        for one in before
        if one.does == "undo" and device.joints[one.name].soften is not None
    ]
    assert all(NO_HEAT in one.cautions[:3] for one in heated)
    assert not any(words.startswith(HEAT) for one in before for words in one.cautions)
    for one in (*heated, line):
        assert "swollen or unknown pack is inside" in one.cautions[0]
        assert one.cautions[1].startswith("Pack, never: ")
    # To stop and call somebody at a swollen pack is said where one may turn up.
    for one in before:
        assert not {PACK_WORDS, PACK_FIRST} & {*one.cautions}
        assert not any(words.startswith(IF_SWOLLEN) for words in one.cautions)
    laid_in = next(
        one for one in run.lines if one.does == "lay in" and one.name == pack
    )
    assert PACK_WORDS in laid_in.cautions


@pytest.mark.parametrize("device", devices(), ids=lambda one: one.name + one.revision)
@pytest.mark.parametrize(("is_bad", "words"), [(True, BOX_BAD), (False, BOX_OLD)])
def test_it_boxes_the_old_pack_before_anything_else(device, is_bad, words) -> None:
    pack, run = renewing(device, is_bad=is_bad)
    line = lifted(run, pack)

    assert words == run.lines[line.number + 1].says
    assert 1 == sum(one.does == "box" for one in run.lines)


def test_it_boxes_no_pack_that_goes_back_in() -> None:
    for device in devices():
        (pack,) = packs(device)
        goal = Goal(reach=(pack,), work=(Work(says="Clean below.", reach=pack),))
        run = run_for(device, goal, Lying(), never)
        assert lifted(run, pack) is not None
        assert not [one for one in run.lines if one.does == "box"]


def test_it_gives_no_power_while_the_bad_pack_stays_whatever_else_is_mended() -> None:
    for device in devices():
        part = next(
            n for n, p in device.parts.items() if p.spare and n not in packs(device)
        )
        goal = Goal(
            reach=(part,),
            work=(Work(says="Fit another.", reach=part, spare="X-1"),),
            no_power="the pack is swollen",
            is_pack_bad=True,
            finish=(CHARGE,),
        )
        run = run_for(device, goal, Lying(), never)
        assert run.lines
        assert not any(one.may_power for one in run.lines)
        assert "charge" not in [one.name for one in run.lines if one.phase == "final"
                                and one.asks == "number"]  # fmt: skip
        _, renewed = renewing(device, is_bad=True)
        assert renewed.lines[-1].may_power


def test_it_takes_out_what_lies_behind_a_door_when_the_door_is_off() -> None:
    device = next(one for one in devices() if one.name == "Grondle R50")
    run = run_for(device, Goal(reach=("scan engine",)), Lying(), never)
    says = [one.says for one in run.lines]

    out = next(n for n, one in enumerate(says) if one.startswith("Take out battery"))
    back = says.index("Put back battery.")
    does = [(one.does, one.name) for one in run.lines]
    assert does.index(("undo", "battery pins")) < out
    assert out < does.index(("undo", "long screws"))
    assert back < does.index(("make", "battery pins"))
    assert back < does.index(("lay in", "battery door"))
    rest = next(one for one in says if "what was taken out" in one)
    assert rest.endswith(": hand strap, private memory card.")


def test_it_looks_and_counts_before_the_label_that_shows_nobody_was_inside() -> None:
    device = next(one for one in devices() if one.name == "Grondle R50")
    run = run_for(device, Goal(reach=("scan engine",)), Lying(), never)
    label = next(
        one for one in run.lines if one.does == "make" and one.name == "tamper label"
    )

    under = {"long screws", "short screws", "side screws", "label screw"}
    asked = {
        name
        for one in run.lines[: label.number]
        if one.asks in ("look", "count")
        for name in one.names
    }
    assert under <= asked
    assert under.isdisjoint(
        name for one in run.lines[label.number :] for name in one.names
    )


def test_of_two_packs_nobody_knows_which_is_bad_until_both_are_changed() -> None:
    for one in devices():
        (pack,) = packs(one)
        device = replace(one, parts={**one.parts, "second": one.parts[pack]})
        first = Work(says="Fit another.", reach=pack, spare="X-BT")
        other = Work(says="Fit another beside it.", reach="second", spare="X-BT")

        def wanting(*work: Work) -> Goal:
            return Goal(reach=(), work=work, no_power="swollen", is_pack_bad=True)

        for alone in (first, other):
            assert not makes_good(device, wanting(alone))
            assert "" == frees(device, wanting(alone), alone)
        both = wanting(first, other)
        assert makes_good(device, both)
        assert ["", "pack"] == [frees(device, both, work) for work in both.work]
        # The first is in already: a new path holds the other alone.
        rest = replace(wanting(other), packs_changed=(pack,))
        assert makes_good(device, rest)
        assert "pack" == frees(device, rest, other)
