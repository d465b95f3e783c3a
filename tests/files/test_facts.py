"""Every fact a description must hold has a field, and some example holds it."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields, is_dataclass
from pathlib import Path
from typing import get_args

import pytest

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import DriveKind, Screw
from turnscrew.core.model.joint import HOW_KINDS
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.shape import slots_of

ROOT = Path(__file__).resolve().parents[2]
TEXTS = [
    path.read_text("utf-8") for path in sorted(ROOT.glob("examples/**/*.device.yaml"))
]
N_FACTS = 104


def facts() -> dict[int, tuple[list[str], str]]:
    text = (ROOT / "docs" / "formats.md").read_text("utf-8")
    table = text.partition("| no. |")[2].partition("\n\n")[0]
    rows = (line.strip("| ").split(" | ") for line in table.splitlines()[2:])
    return {int(row[0]): (row[2].replace("`", "").split(", "), row[3]) for row in rows}


FACTS = facts()


@pytest.fixture(scope="module")
def devices() -> list[Device]:
    return [
        read_device(text, revision=revision)
        for text in TEXTS
        for revision in (None, *revisions_in(text)[1:])
    ]


def values_at(noun: object, keys: list[str]) -> Iterator[object]:
    """Give what is really said at a path; defaults say nothing."""
    key, *rest = keys
    if key == "*":
        items = noun.values() if isinstance(noun, Mapping) else noun
        found = list(items)
    else:
        found = list(said(noun, key))
    for value in found:
        if rest:
            yield from values_at(value, rest)
        else:
            yield value


def said(noun: object, key: str) -> Iterator[object]:
    assert is_dataclass(noun)
    slot = slots_of(type(noun)).get(key)
    if slot is None:
        return
    item = next(item for item in fields(noun) if item.name == slot.field)
    value = getattr(noun, slot.field)
    is_kind = not isinstance(slot.hint, type) or isinstance(value, slot.hint)
    default = (
        item.default if item.default_factory is MISSING else item.default_factory()
    )
    if is_kind and value is not None and value != default:
        yield value


def test_it_has_a_row_for_every_fact() -> None:
    assert list(range(1, N_FACTS + 1)) == list(FACTS)


@pytest.mark.parametrize("number", FACTS)
def test_it_holds_the_fact_in_an_example(number: int, devices: list[Device]) -> None:
    paths, _ = FACTS[number]
    held = {
        path: any(
            True for device in devices for _ in values_at(device, path.split("."))
        )
        for path in paths
    }

    assert dict.fromkeys(paths, True) == held


@pytest.mark.parametrize("number", FACTS)
def test_it_quotes_a_line_of_an_example(number: int) -> None:
    quoted = re.sub(r"\s+", " ", FACTS[number][1].strip("`"))
    examples = [re.sub(r"\s+", " ", text) for text in TEXTS]

    assert any(quoted in example for example in examples)


def test_it_tells_a_missing_fact(devices: list[Device]) -> None:
    """The proof above is worth something only if it can fail."""
    bare = Device(name="bare")

    assert [] == list(values_at(bare, ["joints", "*", "survives"]))
    assert [] == list(values_at(devices[0], ["no such section"]))


def test_it_exercises_every_kind_of_joint_and_drive(devices: list[Device]) -> None:
    joints = [joint for device in devices for joint in device.joints.values()]
    drives = {
        joint.how.drive.kind
        for joint in joints
        if isinstance(joint.how, Screw) and joint.how.drive
    }

    assert {kind for kind, _ in HOW_KINDS} == {joint.kind for joint in joints}
    assert set(get_args(DriveKind)) == drives


def test_it_exercises_a_shared_screw_and_an_uneven_count(devices: list[Device]) -> None:
    joints = [joint for device in devices for joint in device.joints.values()]

    assert any(len(joint.holds) > 2 for joint in joints)
    assert any(joint.n is not None and joint.n > joint.n_places for joint in joints)
