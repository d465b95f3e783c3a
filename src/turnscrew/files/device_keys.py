"""Which keys may a description have, for somebody who reads rather than types?"""

from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from datetime import date
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from turnscrew.core.model.device import Device
from turnscrew.core.model.quantities import Bounds, Refers, Spelling, unwrapped
from turnscrew.files.device_schema import explained, summary
from turnscrew.files.shape import slots_of

_HEAD = """\
# Keys of a device description

Every key there is, with what it takes. [formats.md](formats.md) explains the format.
"One or more" takes one thing or a list of them. Keys in bold are needed.
"""
_WORDS = {str: "words", bool: "yes or no", date: "day", int: "whole number"}


def device_keys_text() -> str:
    """
    Give the table of all keys as the text that is shipped with the manual.

    Returns
    -------
    str
        Markdown.
    """
    nouns: list[type] = [Device]
    sections = []
    for noun in nouns:
        rows = list(_rows(noun, nouns))
        sections.append(f"## {_name(noun)}\n\n{summary(noun)}\n\n" + "\n".join(rows))
    return _HEAD + "\n" + "\n\n".join(sections) + "\n"


def _rows(noun: type, nouns: list[type]) -> Iterator[str]:
    """Give one row for a key; nouns met for the first time are put at the end."""
    told = explained(noun)
    yield "| key | takes | meaning |"
    yield "|---|---|---|"
    for key, slot in slots_of(noun).items():
        if noun is Device and key == "revision":
            continue
        shown = f"**`{key}`**" if slot.is_required else f"`{key}`"
        takes = "sections, as above" if key == "differs" else _takes(slot.hint, nouns)
        yield f"| {shown} | {takes} | {told.get(slot.field, '')} |"


def _takes(hint: Any, nouns: list[type]) -> str:
    bare, notes = unwrapped(hint)
    words = _bare_takes(bare, nouns)
    for note in notes:
        if isinstance(note, Bounds):
            words = f"{note.low:g} to {note.high:g}"
            words += "" if note.unit == "1" else f" {note.unit}"
        elif isinstance(note, Refers):
            words = f"name of a {note.kind}"
    short = [note.example for note in notes if isinstance(note, Spelling)]
    # Where a short text is the only way to write it, its bounds would mislead.
    return f"such as `{short[0]}`" if short else words


def _bare_takes(bare: Any, nouns: list[type]) -> str:
    origin, args = get_origin(bare), get_args(bare)
    if origin in (Union, UnionType):
        return _takes(next(arg for arg in args if arg is not type(None)), nouns)
    if origin is tuple and args[-1] is Ellipsis:
        return f"one or more: {_takes(args[0], nouns)}"
    if origin is tuple:
        return "[" + ", ".join(_takes(arg, nouns) for arg in args) + "]"
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return f"names, each with: {_takes(args[1], nouns)}"
    if origin is Literal:
        return ", ".join(f"`{word}`" for word in args if word)
    if is_dataclass(bare):
        assert isinstance(bare, type)
        if bare not in nouns:
            nouns.append(bare)
        return f"[{_name(bare)}](#{_name(bare).replace(' ', '-')})"
    return _WORDS.get(bare, "number")


def _name(noun: type) -> str:
    """Write the name of a noun in words."""
    name = "".join(f" {c.lower()}" if c.isupper() else c for c in noun.__name__)
    return name.strip()
