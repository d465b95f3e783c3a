"""Is a photo asked for where something is seen for the last time, and seldom enough?"""

from dataclasses import replace

import pytest

from flows.bench.bench_cases import all_cases, devices, lying_after, run_to, work_on
from turnscrew.core.bench.photo_wish import MOST_PHOTOS, with_photo_wishes
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import BenchState, Stroke, state_of
from turnscrew.core.model.connection import Plug
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.holding import Cover, Seal
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Orientation, Part
from turnscrew.flows.bench.plan import run_for

ASKED = Line(
    number=0, phase="refit", asks="look", does="look", name="plug", kind="look",
    says="Look:", names=("plug",), wants_photo=True,
)  # fmt: skip


def look(number: int, *names: str, phase="refit") -> Line:
    return replace(
        ASKED, number=number, names=names, phase=phase, wants_photo=False
    )  # fmt: skip


def box() -> Device:
    joint = {"holds": ("lid", "case")}
    return Device(
        name="box",
        parts={
            "case": Part(fixed=True),
            "lid": Part(),
            "fan": Part(orientation=Orientation("arrow up", "blows inwards")),
            "felt": Part(loose=("felt dot",)),
        },
        joints={
            "plug": Joint(how=Plug(), **joint),
            "seal": Joint(how=Seal(), **joint),
            "screw": Joint(how=Screw(), **joint),
            "flap": Joint(how=Cover(), **joint),
        },
    )


def wished(*lines: Line, n_left: int = MOST_PHOTOS) -> list[int]:
    marked = with_photo_wishes(lines, box(), n_left)
    assert lines == tuple(replace(one, wants_photo=False) for one in marked)
    return [one.number for one in marked if one.wants_photo]


def test_it_asks_for_none_of_what_is_counted_or_stays_in_sight() -> None:
    assert [] == wished(look(0, "screw"), look(1, "flap"), look(2))
    assert [] == wished(look(0, "plug", phase="close"))
    assert [] == wished(replace(look(0, "plug"), asks="count"))


@pytest.mark.parametrize("name", ["plug", "seal", "fan", "felt"])
def test_it_asks_for_what_hands_alone_put_right(name) -> None:
    assert [0] == wished(look(0, name))


@pytest.mark.parametrize(
    ("n_left", "wanted"), [(0, []), (-1, []), (1, [2]), (2, [1, 2]), (3, [0, 1, 2])]
)
def test_it_asks_for_the_weightiest_first(n_left, wanted) -> None:
    lines = (look(0, "seal"), look(1, "plug"), look(2, "plug", "seal"))

    assert wanted == wished(*lines, n_left=n_left)


def test_of_equal_looks_the_earlier_ones_are_shown() -> None:
    lines = tuple(look(number, "plug") for number in range(MOST_PHOTOS + 2))

    assert list(range(MOST_PHOTOS)) == wished(*lines)


def test_it_asks_for_four_a_device_at_most_and_for_some_of_nearly_all() -> None:
    counts = [sum(line.wants_photo for line in run.lines) for _, run in all_cases()]

    assert max(counts) == MOST_PHOTOS
    assert sum(n > 0 for n in counts) > 0.8 * len(counts)


def test_a_new_path_asks_for_what_is_left_of_the_four() -> None:
    device, run = devices()[0], run_to(0, "board")
    lying = replace(lying_after(run, state_of(run, ())), n_photos=3)
    fresh = run_for(device, work_on("board"), lying, lambda: False)

    assert MOST_PHOTOS == sum(line.wants_photo for line in run.lines)
    assert 1 == sum(line.wants_photo for line in fresh.lines)


@pytest.mark.parametrize(
    ("facts", "is_right"),
    [
        ({"answer": "yes"}, False),
        ({"answer": "yes", "photo": ""}, False),
        ({"answer": "yes", "signed": False}, False),
        ({"answer": "yes", "signed": "yes"}, False),
        ({"answer": "yes", "photo": "a" * 16}, True),
        ({"answer": "yes", "signed": True}, True),
        # What is not right yet is put right before it is shown.
        ({"answer": "no"}, True),
    ],
)
def test_it_wants_a_photo_or_a_name_with_a_yes_alone(facts, is_right) -> None:
    run = Run(device="box", revision="", reach=(), status="", lines=(ASKED,))
    state: BenchState = state_of(run, ())

    said = refusal(run, state, Stroke("answer", 0, facts), "P1")

    assert is_right == (said == "")
    assert is_right or said.startswith("photo: found none, wanted one before")
