"""How is a device written down as a person would write it?"""

from collections.abc import Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date
from typing import Any

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Drive, Thread
from turnscrew.core.model.joint import parts_held
from turnscrew.core.model.need import Need
from turnscrew.core.model.quantities import (
    Seconds,
    Shortened,
    Spelling,
    field_types,
    key_of,
    minor_from_text,
    unwrapped,
)
from turnscrew.core.model.refit import Survival
from turnscrew.files.device_file import read_device
from turnscrew.files.json_text import Path
from turnscrew.files.yaml_write import Plain, changed, flow

WIDTH = 100
"""Longest line written where it can be broken. [1]"""

_READ_ONLY = ("revision", "differs")
"""Fields the reader fills in from the text as a whole."""


def write_device(device: Device) -> str:
    """
    Write a device as a description.

    One revision is written: the differences of the others are no part of the noun.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        A description that reads back as the same device.
    """
    lines: list[str] = []
    for key, value in _plain_noun(device).items():
        if isinstance(value, Mapping) and key not in ("power", "release", "origin"):
            lines.append(f"{flow(key)}:")
            lines += [_entry(name, item) for name, item in value.items()]
        elif isinstance(value, list):
            lines.append(f"{flow(key)}:")
            lines += [f"  - {flow(item)}" for item in value]
        else:
            lines.append(f"{flow(key)}: {flow(value)}")
    return "\n".join(lines) + "\n"


def edit_device(text: str, path: Path, value: Plain) -> str:
    """
    Change one fact of a description; every other character, comments too, stays.

    Parameters
    ----------
    text
        The description.
    path
        Keys that lead to the fact, such as ``("joints", "fan plug", "hands")``.
    value
        The new value; ``None`` removes the fact.

    Returns
    -------
    str
        The changed description. BadFileError is raised if it would have a problem.
    """
    new = changed(text, path, value)
    read_device(new)
    return new


def _entry(name: str, item: Plain) -> str:
    """Write one named thing, broken after a comma where the line grows too long."""
    line = f"  {flow(name)}:"
    if item in ({}, None):
        return line
    if not isinstance(item, Mapping):
        return f"{line} {flow(item)}"
    parts = [f"{flow(key)}: {flow(value)}" for key, value in item.items()]
    lines, current = [], f"{line} {{{parts[0]}"
    for part in parts[1:]:
        if len(current) + len(part) + 2 > WIDTH:
            lines.append(f"{current},")
            current = f"    {part}"
        else:
            current = f"{current}, {part}"
    return "\n".join([*lines, f"{current}}}"])


def _plain_noun(noun: Any) -> dict[str, Plain]:
    """Give the keys of a noun that say more than the defaults."""
    found: dict[str, Plain] = {}
    hints = field_types(type(noun))
    for item in fields(noun):
        value, hint = getattr(noun, item.name), hints[item.name]
        if item.name not in _READ_ONLY and value != _default_of(item):
            found[key_of(item.name, hint, value)] = _plain_field(value, hint)
    return found


def _default_of(item: "Field[Any]") -> Any:
    return item.default if item.default_factory is MISSING else item.default_factory()


def _plain_field(value: Any, hint: Any) -> Plain:
    """Write a field in its short spelling where it has one."""
    for note in unwrapped(hint)[1]:
        if isinstance(note, Spelling) and note.read is minor_from_text:
            return f"{value // 100}.{value % 100:02d}"
        if isinstance(note, Spelling) and note.read is parts_held and len(value) > 1:
            return f"{', '.join(value[:-1])} to {value[-1]}"
    return _plain(value)


def _plain(value: Any) -> Plain:
    """Give a value as texts, numbers, lists and keys."""
    if isinstance(value, (Drive, Thread, Survival, Need)):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(name): _plain(item) for name, item in value.items()}
    if isinstance(value, tuple):
        items = [_plain(item) for item in value]
        # One entry stands for a list of one, but a list of numbers is one point.
        return items[0] if len(items) == 1 and not isinstance(items[0], list) else items
    if not is_dataclass(value):
        return value  # type: ignore[no-any-return]
    keys = _plain_noun(value)
    name, hint = next(iter(field_types(type(value)).items()))
    first = key_of(name, hint, None)
    is_short = isinstance(value, (Shortened, Seconds)) and list(keys) == [first]
    return keys[first] if is_short else keys
