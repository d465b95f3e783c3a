"""Does the reader give what a description says, and refuse what contradicts itself?"""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnscrew.core.model.blocking import Removal, waits_of
from turnscrew.core.model.fastener import Drive, Screw, Thread
from turnscrew.errors import BadArgumentError, BadFileError
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.yaml_text import MAX_CHARACTERS

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = {
    path.name: path.read_text("utf-8")
    for path in sorted(ROOT.glob("examples/**/*.device.yaml"))
}
SMALL = """\
device: Shelf clock
parts: {lid: , tub: {fixed: yes}, pack: {is: battery}, board: {is: board}}
joints:
  lid screws: {screw: {drive: H0, thread: M2, length_mm: 3.0}, n: 4, holds: lid to tub}
  pack plug: {plug: pull up, holds: pack to board, under: lid, first: electrical}
  board tail: {socket: back flip, holds: board to tub, under: lid or pack}
"""


def bad_cases() -> dict[str, tuple[str, str]]:
    text = (ROOT / "tests" / "cases" / "device-problems.txt").read_text("utf-8")
    cases = {}
    for block in text.split("\n=== ")[1:]:
        name, _, rest = block.partition("\n")
        description, _, problems = rest.partition("\n+++\n")
        cases[name] = (f"{description}\n", problems.strip())
    return cases


BAD = bad_cases()


@pytest.mark.parametrize("name", BAD)
def test_it_tells_every_problem_with_its_place(name: str) -> None:
    text, wanted = BAD[name]

    with pytest.raises(BadFileError) as caught:
        read_device(text)

    told = [
        f"{p.line}:{p.column} {p.where}: found {p.found}, wanted {p.wanted}"
        for p in caught.value.problems
    ]
    assert wanted.splitlines() == told


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_reads_every_example_in_every_revision(name: str) -> None:
    for revision in revisions_in(EXAMPLES[name]):
        assert revision == read_device(EXAMPLES[name], revision=revision).revision

    assert read_device(EXAMPLES[name]).joints


def test_it_reads_short_spellings() -> None:
    device = read_device(SMALL)

    screw = device.joints["lid screws"].how
    assert Screw(Drive("type H", 0), Thread(2.0, 0.4), 3.0) == screw
    assert 4 == device.joints["lid screws"].n_pieces
    assert ("pack", "board") == device.joints["pack plug"].holds


def test_it_keeps_names_as_they_are_typed() -> None:
    text = "device: NO\nrevisions: {01: {tell: 1.10}}\nparts: {12:30: , on: , lid: }\n"

    device = read_device(text, revision="01")

    assert ("NO", "1.10", ["12:30", "on", "lid"]) == (
        device.name,
        device.revisions["01"].tell,
        list(device.parts),
    )


def test_it_takes_parts_from_joints_where_none_are_listed() -> None:
    device = read_device(EXAMPLES["shelf-radio.device.yaml"])

    assert {"back", "case", "cell", "board"} == set(device.parts)


def test_it_takes_parts_from_what_contains_them() -> None:
    device = read_device("device: X\nparts: {lid: {contains: [glass, frame]}}\n")

    assert {"lid", "glass", "frame"} == set(device.parts)


def test_it_lets_a_draft_lack_what_a_joint_holds() -> None:
    device = read_device("device: X\nrelease: draft\njoints: {a: {n: 3}, b: }\n")

    assert [3, 1] == [joint.n_pieces for joint in device.joints.values()]
    assert ["unknown", "unknown"] == [joint.kind for joint in device.joints.values()]


def test_it_lays_a_revision_over_the_base() -> None:
    text = EXAMPLES["pellorin-l240.device.yaml"]
    base, b = read_device(text, revision="A"), read_device(text, revision="B")

    assert (26, 30) == tuple(
        device.joints["key tail"].how.n_contacts for device in (base, b)
    )
    assert ("C-KBA", "C-KBB") == tuple(
        device.parts["upper case"].spare for device in (base, b)
    )
    assert {"port nuts"} == set(base.joints) - set(b.joints)
    assert "joints.key tail.socket" in b.revisions["B"].differs
    # What does not differ is the same fact, not a copy that could drift.
    assert base.joints["rim screws"] == b.joints["rim screws"]


def test_it_names_the_nearest_revision() -> None:
    with pytest.raises(BadArgumentError, match="found a, wanted A, B"):
        read_device(EXAMPLES["pellorin-l240.device.yaml"], revision="a")


def test_it_checks_all_revisions_unless_one_is_asked_for() -> None:
    text = f"{SMALL}revisions: {{A: , B: {{differs: {{joints: {{x: {{n: 1}}}}}}}}}}\n"

    assert read_device(text, revision="A").joints
    with pytest.raises(BadFileError, match=r"joints\.x\.holds"):
        read_device(text)


def test_it_refuses_a_text_too_long() -> None:
    text = SMALL + "#" * MAX_CHARACTERS

    with pytest.raises(BadFileError, match=f"wanted at most {MAX_CHARACTERS}"):
        read_device(text)


def test_it_has_the_screws_of_the_big_example_where_they_belong() -> None:
    """Nineteen screws under the base in four kinds of nine, five, three and two."""
    device = read_device(EXAMPLES["pellorin-l240.device.yaml"])
    n_by_kind: dict[str, int] = {}
    for joint in device.joints.values():
        if any(places.view == "base" for places in joint.at):
            if isinstance(joint.how, Screw):
                kind = joint.how.size_words()
                n_by_kind[kind] = n_by_kind.get(kind, 0) + joint.n_places

    assert [9, 5, 3, 2] == sorted(n_by_kind.values(), reverse=True)
    assert len(device.joints) >= 70


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_lets_every_removal_of_an_example_happen(name: str) -> None:
    waits = waits_of(read_device(EXAMPLES[name]))
    done: set[Removal] = set()
    for _ in waits:
        done |= {
            removal
            for removal, conditions in waits.items()
            if all(done.intersection(c.any_of) for c in conditions)
        }

    assert set(waits) == done


@st.composite
def mutations(draw: st.DrawFn) -> str:
    """Spoil an example in a few places, as a slip of the hand or a bad copy would."""
    text = draw(st.sampled_from([SMALL, EXAMPLES["shelf-radio.device.yaml"], MIDDLE]))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 12)))
        scraps = ["", "\n", ": ", "{", "}", "[", "]", "- ", "\t", "'", '"', "&a ", "*a"]
        scraps += [
            "!!x ",
            "null",
            "1e9",
            "-3",
            "lid",
            "aside",
            " or ",
            "\x00",
            "é",
            "#",
        ]
        scraps += [text[start : start + 40], text[:30], "under: lid", "? ", "| ", "%"]
        new = draw(st.sampled_from(scraps) | st.text(max_size=5))
        text = text[:start] + new + text[end:]
    return text


MIDDLE = "\n".join(EXAMPLES["tavistle-v80.device.yaml"].splitlines()[:60]) + "\n"


@settings(max_examples=300, deadline=None)
@given(mutations())
def test_it_never_fails_but_with_the_problems_of_the_text(text: str) -> None:
    try:
        device = read_device(text)
    except BadFileError as error:
        assert error.problems
        assert all(problem.found and problem.wanted for problem in error.problems)
    else:
        assert device == replace(device)


WHOLE = EXAMPLES["tavistle-v80.device.yaml"]
WORDS = [match.span() for match in re.finditer(r"[^\s{}\[\],:]+", WHOLE)]


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(WORDS),
    st.sampled_from(
        ["", "7", "-1", "yes", "{}", "[]", "[[]]", "null", "a: b", "under"]
    ),
)
def test_it_survives_a_wrong_word_anywhere_in_a_whole_example(
    span: tuple[int, int], new: str
) -> None:
    text = WHOLE[: span[0]] + new + WHOLE[span[1] :]
    try:
        assert read_device(text).name is not None
    except BadFileError as error:
        assert error.problems
