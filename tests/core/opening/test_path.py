"""Do an opening path and a refit list say all that a bench needs?"""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest

from example_files import EXAMPLES, example_text
from turnscrew.core.model.device import Device
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.core.opening.cautions import PACK_FIRST, PACK_WORDS, cautions_for
from turnscrew.errors import BadArgumentError
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.flows.opening import opening_path, what_cannot_go_back

NAMES = sorted(
    path.name.removesuffix(".device.yaml") for path in EXAMPLES.rglob("*.device.yaml")
)
DEMO = [
    ("pellorin-l240", "upper case"), ("pellorin-l240", "battery"),
    ("pellorin-l240", "fan"), ("pellorin-l240", "storage module"),
    ("pellorin-l240", "panel"),
    ("tavistle-v80", "front glass"), ("tavistle-v80", "pack"),
    ("tavistle-v80", "camera"), ("tavistle-v80", "loudspeaker"),
    ("tavistle-v80", "side key flex"), ("tavistle-v80", "antenna springs"),
    ("grondle-r50", "scan window"), ("grondle-r50", "scan engine"),
    ("grondle-r50", "keypad membrane"), ("grondle-r50", "battery door"),
    ("grondle-r50", "display"), ("grondle-r50", "seal set"),
]  # fmt: skip
CASES = [
    (name, revision, part)
    for name, part in DEMO
    for revision in revisions_in(example_text(f"{name}.device.yaml"))
]


SHOWN_WHOLE = [
    ("pellorin-l240", "B", ("panel", "battery", "fan", "storage module")),
    ("tavistle-v80", "2", ("camera", "loudspeaker", "side key flex", "pack")),
    ("grondle-r50", "K", ("keypad membrane", "display", "scan engine", "seal set")),
]
"""Openings that undo many kinds of joint."""


def device_of(name: str, revision: str | None = None) -> Device:
    text = example_text(f"{name}.device.yaml")
    return read_device(text, revision=revision)


def opened(name: str, revision: str | None, *reach: str) -> OpeningAnswer:
    return opening_path(device_of(name, revision), reach, lambda: False)


@pytest.mark.parametrize(("name", "revision", "part"), CASES)
def test_it_reaches_every_part_of_the_demo(name: str, revision: str, part: str) -> None:
    answer = opened(name, revision, part)

    assert answer.status == "optimal", answer.reason
    assert part in {line.name for line in answer.opening}


@pytest.mark.parametrize(("name", "revision", "part"), CASES)
def test_it_puts_back_all_that_came_off_once(
    name: str, revision: str, part: str
) -> None:
    answer = opened(name, revision, part)

    off = [(a.kind, a.name) for a in answer.opening if a.verb in ("undo", "lift")]
    on = [(a.kind, a.name) for a in answer.refit if a.verb in ("make", "lay in")]
    assert sorted(off) == sorted(on)
    assert len(off) == len(set(off))


@pytest.mark.parametrize("name", NAMES)
def test_it_finds_no_knot_on_the_way_back_of_an_example(name: str) -> None:
    text = example_text(f"{name}.device.yaml")
    for revision in revisions_in(text) or (None,):
        assert () == what_cannot_go_back(device_of(name, revision))


def test_it_is_never_dearer_for_two_parts_than_apart() -> None:
    apart = [
        opened("pellorin-l240", "B", part).cost_s for part in ("upper case", "fan")
    ]

    together = opened("pellorin-l240", "B", "upper case", "fan").cost_s

    assert together is not None
    assert together <= sum(cost or 0.0 for cost in apart)


def test_it_uses_up_an_adhesive_frame_at_each_opened_tablet() -> None:
    for part in ("front glass", "camera", "loudspeaker", "side key flex"):
        spares = [used.spare for used in opened("tavistle-v80", "1", part).used_up]

        assert 1 == spares.count("T-AD")


def test_it_uses_up_one_seal_set_at_each_opened_handheld() -> None:
    for part in ("scan engine", "keypad membrane", "display"):
        spares = [used.spare for used in opened("grondle-r50", "L", part).used_up]

        assert 1 == spares.count("H-GK")


def test_it_names_confusable_screws_of_this_opening() -> None:
    answer = opened("grondle-r50", "K", "display")

    assert any(
        "long screws" in words and "1 mm" in words for words in answer.confusable
    )


def test_it_looks_before_it_covers_and_tests_before_it_closes() -> None:
    answer = opened("tavistle-v80", "2", "camera")

    names = [(line.verb, line.name) for line in answer.refit]
    bond = names.index(("make", "frame bond"))
    assert names.index(("look", "touch tail")) < bond
    assert names.index(("test", "touch and picture")) < bond


def test_it_lets_the_battery_be_done_by_the_lead_only() -> None:
    answer = opened("tavistle-v80", "1", "pack")

    assert "lead" in {line.sign_off for line in answer.opening if line.name == "pack"}


def test_it_answers_that_a_fixed_part_never_comes_off() -> None:
    answer = opened("tavistle-v80", "1", "frame")

    assert answer.status == "impossible"
    assert "never comes off" in answer.reason


def test_it_refuses_a_name_it_does_not_know() -> None:
    with pytest.raises(BadArgumentError, match="no part or joint named lid"):
        opened("tavistle-v80", "1", "lid")


def test_it_goes_on_from_what_is_off_already() -> None:
    device = device_of("tavistle-v80", "1")

    answer = opening_path(
        device, ("camera",), lambda: False, already_off=("frame bond",)
    )

    assert "frame bond" not in {line.name for line in answer.opening}
    assert "frame bond" in {line.name for line in answer.refit}


def test_it_reckons_a_device_of_a_few_lines() -> None:
    text = (
        "device: Lamp\nparts: {shell: {}, base: {fixed: yes}}\n"
        "joints: {clips: {clip: {}, holds: shell to base, n: 4}}\n"
    )
    answer = opening_path(read_device(text), ("shell",), lambda: False)

    assert answer.status == "optimal"
    assert 4 == answer.opening[-2].n


def test_it_lists_every_wrong_name_with_the_nearest_right_one() -> None:
    device = device_of("tavistle-v80", "1")

    with pytest.raises(BadArgumentError) as refused:
        opening_path(device, ("camra", "lid"), lambda: False, already_off=("pakc",))

    told = str(refused.value)
    assert 'named camra, wanted perhaps "camera"' in told
    assert "named lid" in told
    assert 'named pakc, wanted perhaps "pack"' in told


def test_it_refuses_that_a_fixed_part_should_be_off_already() -> None:
    device = device_of("tavistle-v80", "1")

    with pytest.raises(BadArgumentError, match="frame never comes off"):
        opening_path(device, ("camera",), lambda: False, already_off=("frame",))


NOT_SAID = {"kind", "drive", "head", "point", "coating", "view", "latch", "crossing"}
"""Facts that stand in the working line's bracket, on the fastener card or a drawing."""


def words_in(fact: object, name: str = "") -> Iterator[str]:
    """Give every text a fact holds, to any depth."""
    if isinstance(fact, str):
        if fact and name not in NOT_SAID:
            yield fact
    elif isinstance(fact, tuple):
        for entry in fact:
            yield from words_in(entry, name)
    elif is_dataclass(fact):
        for field in fields(fact):
            yield from words_in(getattr(fact, field.name), field.name)


@pytest.mark.parametrize("name", [n for n, *_ in SHOWN_WHOLE])
def test_it_says_every_word_of_what_it_undoes(name: str) -> None:
    device = device_of(name, next(r for n, r, *_ in SHOWN_WHOLE if n == name))
    parts = next(p for n, _, p in SHOWN_WHOLE if n == name)

    answer = opening_path(device, parts, lambda: False)

    lines = (*answer.opening, *answer.refit)
    said = " ".join(
        " ".join((line.says, *line.cautions, *line.details, line.stop, line.renew))
        for line in lines
    ).lower()
    said += " ".join(answer.before_opening).lower()
    for line in answer.opening:
        if line.verb == "undo":
            for words in words_in(device.joints[line.name].how):
                assert words.lower() in said, (line.name, words)
    for thing in device.before_opening:
        assert thing.what in said


@pytest.mark.parametrize("name", [n for n, *_ in SHOWN_WHOLE])
def test_what_is_taken_out_beside_goes_each_way_once_and_at_its_place(name) -> None:
    device = device_of(name, next(r for n, r, *_ in SHOWN_WHOLE if n == name))
    parts = next(p for n, _, p in SHOWN_WHOLE if n == name)

    answer = opening_path(device, parts, lambda: False)

    out = [one for one in answer.opening if one.verb == "take out"]
    back = [one for one in answer.refit if one.verb == "put back"]
    for thing in device.before_opening:
        lifted = [one for one in answer.opening if one.name == thing.what]
        returned = [
            one for one in answer.refit if one.name == thing.what or one in back
            and thing.what in one.says
        ]  # fmt: skip
        told = [w for w in answer.before_opening if f"Take out {thing.what}" in w]
        assert (1, 1) == (len(told) + len(lifted), len(returned)), thing.what
    undone = {one.name: one.number for one in answer.opening}
    made = {one.name: one.number for one in answer.refit}
    for one in out:
        # Nothing that still holds it is undone after it, or made before it.
        holds = [name for name, j in device.joints.items() if one.name in j.holds]
        assert all(undone[name] < one.number for name in holds)
        there = next(line for line in back if line.name == one.name)
        assert all(there.number < made[name] for name in holds)
        assert one.cautions == cautions_for(device, device.parts[one.name])
        assert one.cautions == there.cautions


def test_what_may_hurt_at_a_part_is_said_where_it_is_moved_aside_too() -> None:
    device = read_device(example_text("tavistle-v80.device.yaml"), revision="1")
    answer = opening_path(device, ("camera",), lambda: False)
    aside = [one for one in answer.opening if one.verb == "aside"]
    back = [one for one in answer.refit if one.verb == "bring back"]

    assert ["front glass"] == [one.name for one in aside] == [one.name for one in back]
    for one in (*aside, *back):
        assert "Glass: splinters." in one.cautions
        assert any(words.startswith("Static: ") for words in one.cautions)


WAY_IN = ("undo", "lift", "aside")
HEAT_LIMIT = "Pack, never: bend, pierce, heat above 45 degrees."


@pytest.mark.parametrize(("name", "part"), DEMO)
def test_it_says_off_and_look_at_the_pack_before_anything_is_done(name, part) -> None:
    lines = opened(name, None, part).opening
    first = next(line for line in lines if line.verb in WAY_IN)

    assert first.cautions[0].startswith("Power: ")
    assert "adapter out" in first.cautions[0]
    assert PACK_FIRST == first.cautions[1]


def test_it_says_the_heat_a_pack_may_have_wherever_heat_is_put_over_it() -> None:
    answer = opened("tavistle-v80", None, "loudspeaker", "camera")
    hot = [
        line
        for line in answer.opening
        if any(words.startswith("Heat: ") for words in line.cautions)
    ]

    assert hot
    assert all({PACK_WORDS, PACK_FIRST} & {*line.cautions} for line in hot)
    assert all(HEAT_LIMIT in line.cautions for line in hot)


def test_it_says_nothing_of_a_pack_that_is_out() -> None:
    device = device_of("tavistle-v80")
    out = tuple(
        line.name
        for line in opened("tavistle-v80", None, "pack").opening
        if line.verb in ("undo", "lift")
    )
    answer = opening_path(device, ("camera",), lambda: False, already_off=out)

    assert "pack" in out and answer.opening
    assert all(PACK_FIRST not in line.cautions for line in answer.opening)


def test_it_says_nothing_of_a_pack_where_there_is_none() -> None:
    text = "device: Box\nparts: {tub: {fixed: yes}, lid: {is: cover}}\njoints:\n"
    text += "  tape: {bond: {kind: film}, holds: lid to tub, soften: {c: 60}}\n"
    answer = opening_path(read_device(text), ("lid",), lambda: False)

    told = [words for line in answer.opening for words in line.cautions]
    assert not any(words.startswith(("Power: ", "Battery pack")) for words in told)
