"""Does a description read back as written, and does an edit touch one fact only?"""

import difflib
from dataclasses import replace
from pathlib import Path

import pytest

from turnscrew.core.model.device import Device
from turnscrew.errors import BadArgumentError, BadFileError
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.device_writing import edit_device, write_device

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = {
    path.name: path.read_text("utf-8")
    for path in sorted(ROOT.glob("examples/**/*.device.yaml"))
}
TEXT = """\
# Written at the bench.
device: Shelf clock        # the name
parts:
  lid:   {marks: "two dots"}   # scratched on one device
  tub:   {fixed: yes}
  pack:  {is: battery}
joints:
  # four alike
  lid screws: {screw: {drive: H0, length_mm: 3.0}, n: 4,
               holds: lid to tub}
  pack plug:               # in the middle
    plug: {kind: wire, pull: up}
    holds: pack to tub
    under: lid

settings:
  - {do: set the clock}    # always
release: draft
"""


def without_differences(device: Device) -> Device:
    revisions = {
        name: replace(revision, differs=())
        for name, revision in device.revisions.items()
    }
    return replace(device, revision="", revisions=revisions)


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_reads_back_what_it_wrote(name: str) -> None:
    for revision in (None, *revisions_in(EXAMPLES[name])):
        device = read_device(EXAMPLES[name], revision=revision)

        assert without_differences(device) == read_device(write_device(device))


def test_it_writes_what_a_person_would() -> None:
    device = read_device(EXAMPLES["shelf-radio.device.yaml"])

    assert (
        "device: Shelf radio\n"
        "parts:\n  back:\n  case:\n  cell:\n  board:\n"
        "joints:\n"
        "  back screws: {holds: back to case, screw: {drive: H1, thread: M3x0.5, "
        "length_mm: 8}, n: 4}\n"
        "  cell plug: {under: back, holds: cell to board, plug: {pull: up}, "
        "first: electrical}\n"
        "  board clips: {under: back, holds: board to case, "
        "clip: {rows: {n: 2}}}\n"
    ) == write_device(device)


CHANGES = {
    "a number in braces": (
        ("joints", "lid screws", "screw", "length_mm"),
        3.5,
        ["-screw: {drive: H0, length_mm: 3.0}, n: 4,", "+length_mm: 3.5}, n: 4,"],
    ),
    "a new key in braces over two lines": (
        ("joints", "lid screws", "hands"),
        2,
        ["-holds: lid to tub}", "+holds: lid to tub, hands: 2}"],
    ),
    "a new key in lines": (
        ("joints", "pack plug", "says"),
        "pull, don't pry",
        ['+    says: "pull, don\'t pry"'],
    ),
    "a new joint": (
        ("joints", "clips"),
        {"clip": 2, "holds": "lid to tub"},
        ["+  clips: {clip: 2, holds: lid to tub}"],
    ),
    "a new section": (("hygiene",), "class 1", ["+hygiene: class 1"]),
    "a new fact in a new section": (
        ("power", "starts"),
        "at once",
        ["+power: {starts: at once}"],
    ),
    "a new entry in a list": (
        ("settings", 1),
        {"do": "wind it"},
        ["+  - {do: wind it}"],
    ),
    "a removal in lines": (("joints", "pack plug", "under"), None, ["-    under: lid"]),
    "a removal in braces": (
        ("joints", "lid screws", "n"),
        None,
        ["-length_mm: 3.0}, n: 4,", "+length_mm: 3.0}, holds: lid to tub}"],
    ),
    "the only key in braces": (
        ("parts", "pack", "is"),
        None,
        ["-{is: battery}", "+{}"],
    ),
    "a value over one line": (
        ("joints", "pack plug", "plug"),
        "board to board",
        ["-plug: {kind: wire, pull: up}", "+plug: board to board"],
    ),
}


@pytest.mark.parametrize("name", CHANGES)
def test_it_changes_one_fact_and_keeps_every_comment(name: str) -> None:
    path, value, wanted = CHANGES[name]

    new = edit_device(TEXT, path, value)

    diff = list(difflib.ndiff(TEXT.splitlines(), new.splitlines()))
    touched = [line[0] + line[2:] for line in diff if line[0] in "+-"]
    for piece in wanted:
        assert any(line[0] == piece[0] and piece[1:] in line for line in touched), (
            touched
        )
    comments = [line.partition("#")[2] for line in TEXT.splitlines() if "#" in line]
    assert comments == [c.partition("#")[2] for c in new.splitlines() if "#" in c]


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_changes_every_joint_of_an_example_alone(name: str) -> None:
    text = EXAMPLES[name]
    device = read_device(text)
    joint = next(reversed(device.joints))

    new = edit_device(text, ("joints", joint, "says"), "slowly, please: it sticks")

    changed = read_device(new)
    says = replace(device.joints[joint], says="slowly, please: it sticks")
    assert replace(device, joints={**device.joints, joint: says}) == changed


def test_it_refuses_an_edit_that_breaks_the_description() -> None:
    with pytest.raises(BadFileError, match="wanted perhaps"):
        edit_device(TEXT, ("joints", "pack plug", "under"), "lidd")


def test_it_refuses_to_reach_into_a_short_text() -> None:
    with pytest.raises(BadArgumentError, match="short text lid to tub"):
        edit_device(TEXT, ("joints", "lid screws", "holds", "to"), "tub")


def test_it_refuses_to_remove_what_is_not_there() -> None:
    with pytest.raises(BadArgumentError, match="found no parts.lid.spare"):
        edit_device(TEXT, ("parts", "lid", "spare"), None)
