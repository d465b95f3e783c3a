"""Does the shipped schema agree with the reader?"""

import json
from datetime import date
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from example_files import EXAMPLES
from turnscrew.core.model.joint import Joint
from turnscrew.files.device_schema import (
    device_schema,
    device_schema_text,
    explained,
    faults_schema,
    faults_schema_text,
)
from turnscrew.files.shape import slots_of

ROOT = Path(__file__).resolve().parents[2]
SHIPPED = ROOT / "docs" / "schemas" / "device.schema.json"


def as_editors_see_it(text: str) -> object:
    """Editors read YAML with its own kinds, not as typed."""
    return plain(YAML(typ="safe", pure=True).load(text))


def plain(value: object) -> object:
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [plain(item) for item in value]
    return value.isoformat() if isinstance(value, date) else value


def faults(text: str) -> list[str]:
    validator = Draft202012Validator(device_schema())
    return [error.message for error in validator.iter_errors(as_editors_see_it(text))]


def test_it_ships_the_schema_of_this_version() -> None:
    """If this fails, write ``device_schema_text()`` to the shipped file."""
    assert device_schema_text() == SHIPPED.read_text("utf-8")


def test_it_is_a_sound_schema() -> None:
    Draft202012Validator.check_schema(json.loads(device_schema_text()))


@pytest.mark.parametrize("path", sorted(EXAMPLES.rglob("*.device.yaml")), ids=str)
def test_it_finds_no_fault_in_an_example(path: Path) -> None:
    assert [] == faults(path.read_text("utf-8"))


@pytest.mark.parametrize(
    "text",
    [
        "joints: {}",
        "device: X\njoints: {a: {holds: b to c, lenght: 3}}",
        "device: X\njoints: {a: {screw: {length_mm: 300}}}",
        "device: X\nparts: {a: {is: thing}}",
        "device: X\njoints: {a: {hands: many}}",
    ],
)
def test_it_finds_the_fault_in_a_bad_text(text: str) -> None:
    assert faults(text)


def test_it_explains_every_key_of_a_joint() -> None:
    told = explained(Joint)

    assert [] == [s.field for s in slots_of(Joint).values() if not told.get(s.field)]


def test_it_ships_the_schema_of_fault_tables() -> None:
    """If this fails, write ``faults_schema_text()`` to the shipped file."""
    shipped = ROOT / "docs" / "schemas" / "faults.schema.json"

    assert faults_schema_text() == shipped.read_text("utf-8")


@pytest.mark.parametrize("path", sorted(EXAMPLES.rglob("*.faults.yaml")), ids=str)
def test_it_finds_no_fault_in_an_example_table(path: Path) -> None:
    validator = Draft202012Validator(faults_schema())
    seen = as_editors_see_it(path.read_text("utf-8"))

    assert [] == [error.message for error in validator.iter_errors(seen)]
