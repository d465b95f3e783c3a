"""Is one opening held against several, at any pace and in any language?"""

from dataclasses import replace

import pytest

from example_files import example_text
from turnscrew.core.model.blocking import tying_joints
from turnscrew.core.model.device import Device
from turnscrew.core.model.language import in_language
from turnscrew.core.model.tool import refit_tools_for, tools_for
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.files.device_file import read_device
from turnscrew.flows.opening import opening_compared, opening_path


def never() -> bool:
    return False


def example(name: str, revision: str | None = None) -> Device:
    text = example_text(f"{name}.device.yaml")
    return read_device(text, revision=revision)


def test_it_tells_the_minutes_that_one_opening_saves() -> None:
    device = example("pellorin-l240", "B")
    alone = [opening_path(device, (part,), never) for part in ("fan", "battery")]

    both = opening_compared(device, ("fan", "battery"), never)

    apart_s = sum(one.hands_on_s for one in alone)
    assert both.saved_s == pytest.approx(apart_s - both.hands_on_s)
    assert both.saved_s is not None
    assert both.saved_s > 600
    assert f"saves {both.saved_s / 60:.1f} min" in both.saved_words


@pytest.mark.parametrize("reach", [("fan",), ("fan", "fan")])
def test_it_saves_nothing_on_one_part(reach: tuple[str, ...]) -> None:
    answer = opening_compared(example("pellorin-l240", "B"), reach, never)

    assert answer.saved_s is None
    assert "" == answer.saved_words


def test_it_tells_no_saving_that_is_not_proved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def unproved(
        device: Device, reach: tuple[str, ...], *rest: object, **more: object
    ) -> OpeningAnswer:
        answer = opening_path(device, reach, never)
        return replace(answer, status="bounded") if reach == ("fan",) else answer

    monkeypatch.setattr("turnscrew.flows.opening.opening_path", unproved)

    answer = opening_compared(example("pellorin-l240", "B"), ("fan", "battery"), never)

    assert "optimal" == answer.status
    assert answer.saved_s is None


# Each of the two can be laid in only while the other is in its place.
MUTUAL = """
device: Clock
parts:
  case: {fixed: yes}
  wheel: {refit: {after: spring}}
  spring: {refit: {after: wheel}}
  dial: {}
joints:
  wheel clip: {clip: 1, holds: wheel to case}
  spring clip: {clip: 1, holds: spring to case}
  dial clip: {clip: 1, holds: dial to case}
"""


def test_it_splits_what_needs_each_other_in_place() -> None:
    answer = opening_compared(read_device(MUTUAL), ("wheel", "spring", "dial"), never)

    assert "impossible" == answer.status
    assert (("wheel", "dial"), ("spring",)) == answer.apart


def test_it_splits_nothing_where_one_part_cannot_be_reached_at_all() -> None:
    answer = opening_compared(read_device(MUTUAL), ("wheel", "case"), never)

    assert "impossible" == answer.status
    assert () == answer.apart


def test_it_reckons_a_first_time_and_practice_where_they_are_known() -> None:
    device = example("pellorin-l240", "B")

    taken = {
        pace: opening_path(device, ("upper case",), never, pace=pace)
        for pace in ("practised", "typical", "first")
    }

    clips = {
        pace: next(a.seconds for a in one.opening if a.name == "rim clips")
        for pace, one in taken.items()
    }
    assert {"practised": 35.0, "typical": 60.0, "first": 150.0} == clips
    first, usual = taken["first"].hands_on_s, taken["typical"].hands_on_s
    # The move has a first time too: 20 s in place of 8, and 1.255 times that back.
    assert first - usual == pytest.approx(90 + 12 * (1 + 1.255), abs=0.2)
    assert "first time" in taken["first"].time_words
    assert "first time" not in taken["typical"].time_words


def test_it_keeps_to_typical_times_where_nothing_else_is_known() -> None:
    device = example("shelf-radio")

    assert (
        opening_path(device, ("board",), never).hands_on_s
        == opening_path(device, ("board",), never, pace="first").hands_on_s
    )


@pytest.mark.parametrize(
    ("name", "revision", "part", "words"),
    [
        ("tavistle-v80", "2", "camera", "Die dem Band abgewandte Kante höchstens"),
        ("grondle-r50", "K", "display", "Leseende zuerst einsetzen, dann über der"),
        ("pellorin-l240", "B", "fan", "Bügel flach, Band gerade"),
    ],
)
def test_it_says_sentences_in_another_language(
    name: str, revision: str, part: str, words: str
) -> None:
    device = example(name, revision)

    answer = opening_path(in_language(device, "de"), (part,), never)
    plain = opening_path(device, (part,), never)

    assert words in str(answer.opening + answer.refit)
    assert words not in str(plain.opening + plain.refit)
    assert [a.name for a in plain.refit] == [a.name for a in answer.refit]


def test_it_turns_no_name_into_another_language() -> None:
    device = example("shelf-radio")
    device = replace(device, words={"de": {"board": "Platine", "back": "Rückwand"}})

    turned = in_language(device, "de")

    assert device.joints == turned.joints
    assert turned == in_language(device, "fr")


FAMILIES = (("pellorin-l240", "B"), ("tavistle-v80", "2"), ("grondle-r50", "L"))


@pytest.mark.parametrize("family", FAMILIES)
def test_what_tied_a_part_that_is_off_is_not_undone_again(family) -> None:
    device = example(*family)
    (pack,) = (n for n, p in device.parts.items() if p.kind == "battery")
    whole = opening_path(device, (pack,), never)
    off = [line.name for line in whole.opening if line.verb == "lift"]

    answer = opening_path(device, (pack,), never, already_off=tuple(off))
    assert [] == [line.says for line in answer.opening if line.verb in ("lift", "undo")]
    assert answer.before_opening[0].startswith(f"Off already: {', '.join(off)}")
    tied = {n for part in off for n in tying_joints(device, part)}
    assert tied
    assert all(n in answer.before_opening[0] for n in tied)
    # All of it goes back, what tied the parts too.
    back = {line.name for line in answer.refit if line.verb in ("make", "lay in")}
    assert tied | set(off) <= back


@pytest.mark.parametrize("family", FAMILIES)
def test_a_line_names_the_tool_that_does_it_and_no_other(family) -> None:
    device = example(*family)
    (pack,) = (n for n, p in device.parts.items() if p.kind == "battery")
    answer = opening_path(device, (pack,), never)

    in_hand = "hand"
    for line in (*answer.opening, *answer.refit):
        if line.verb == "take":
            in_hand = line.name
        assert line.tool in (in_hand, "hand")
        joint = device.joints.get(line.name)
        if line.verb not in ("undo", "make") or joint is None:
            continue
        uses = tools_for(joint) if line.verb == "undo" else refit_tools_for(joint)
        assert line.tool in {use.name for use in uses}
