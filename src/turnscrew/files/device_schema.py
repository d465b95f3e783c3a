"""
What may stand where, in the form that text editors understand?

The schema is made from the same field types the reader walks, so it cannot drift:
bounds, words, short spellings and the explanation of every key come from the nouns.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import is_dataclass
from datetime import date
from inspect import cleandoc
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from turnscrew.core.model.device import Device, Revision
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.quantities import Bounds, Spelling, unwrapped
from turnscrew.files.shape import slots_of

Schema = dict[str, Any]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def device_schema() -> Schema:
    """
    Give the JSON Schema of a device description.

    Returns
    -------
    dict
        The schema, draft 2020-12, ready to be written as JSON.
    """
    nouns: Schema = {}
    whole = _noun(Device, nouns)
    # A revision is read as the names of what differs, but written as the differences.
    whole["properties"].pop("revision", None)
    nouns["Revision"]["properties"]["differs"] = {
        "type": "object",
        "description": "The sections that differ, with only what differs in them; "
        "nothing after a key removes it.",
    }
    return {
        "$schema": _DIALECT,
        "title": "Device description",
        "description": "One family of devices with its revisions as differences.",
        **whole,
        "$defs": dict(sorted(nouns.items())),
    }


def faults_schema() -> Schema:
    """
    Give the JSON Schema of a fault table.

    Returns
    -------
    dict
        The schema, draft 2020-12, ready to be written as JSON.
    """
    nouns: Schema = {}
    whole = _noun(FaultTable, nouns)
    return {
        "$schema": _DIALECT,
        "title": "Fault table",
        "description": "What can be wrong with one family, how it is found and mended.",
        **whole,
        "$defs": dict(sorted(nouns.items())),
    }


def faults_schema_text() -> str:
    """
    Give the schema of a fault table as the text that is shipped beside the manual.

    Returns
    -------
    str
        JSON.
    """
    return json.dumps(faults_schema(), indent=1, ensure_ascii=False) + "\n"


def device_schema_text() -> str:
    """
    Give the schema as the text that is shipped beside the manual.

    Returns
    -------
    str
        JSON.
    """
    return json.dumps(device_schema(), indent=1, ensure_ascii=False) + "\n"


def _noun(noun: type, nouns: Schema) -> Schema:
    """Describe the keys of a noun; nouns inside it are gathered under their names."""
    told = explained(noun)
    slots = slots_of(noun)
    keys: Schema = {}
    for key, slot in slots.items():
        keys[key] = {**_value(slot.hint, nouns)}
        words = told.get(slot.field)
        if words:
            keys[key] = {"description": words, **keys[key]}
    needed = [key for key, slot in slots.items() if slot.is_required]
    found: Schema = {
        "type": "object",
        "properties": keys,
        "additionalProperties": False,
    }
    return {**found, "required": needed} if needed else found


def _value(hint: Any, nouns: Schema) -> Schema:
    bare, notes = unwrapped(hint)
    found = _bare(bare, notes, nouns)
    for note in notes:
        if isinstance(note, Spelling):
            text = {"type": ["string", "number"], "examples": [note.example]}
            return {"anyOf": [text, found]}
    return found


def _bare(bare: Any, notes: tuple[Any, ...], nouns: Schema) -> Schema:
    origin, args = get_origin(bare), get_args(bare)
    if origin in (Union, UnionType):
        inner = next(arg for arg in args if arg is not type(None))
        return {"anyOf": [_value(inner, nouns), {"type": "null"}]}
    if origin is tuple:
        return _row(args, nouns)
    if isinstance(origin, type) and issubclass(origin, Mapping):
        values = _value(args[1], nouns)
        return {"type": ["object", "null"], "additionalProperties": values}
    if origin is Literal:
        return {"enum": [word for word in args if word]}
    if is_dataclass(bare):
        assert isinstance(bare, type)
        return _reference(bare, nouns)
    return _single(bare, notes)


def _row(args: tuple[Any, ...], nouns: Schema) -> Schema:
    item = _value(args[0], nouns)
    if args[-1] is not Ellipsis:
        n = len(args)
        return {"type": "array", "items": item, "minItems": n, "maxItems": n}
    return {"anyOf": [item, {"type": "array", "items": item}]}


def _reference(noun: type, nouns: Schema) -> Schema:
    name = noun.__name__
    if name not in nouns:
        # The place is taken first, so that a noun inside itself ends the walk.
        nouns[name] = {}
        nouns[name] = {"description": summary(noun), **_noun(noun, nouns)}
    whole: Schema = {"$ref": f"#/$defs/{name}"}
    if hasattr(noun, "from_text"):
        return {"anyOf": [{"type": ["string", "number"]}, whole]}
    if noun is Revision or not any(s.is_required for s in slots_of(noun).values()):
        return {"anyOf": [whole, {"type": "null"}]}
    return whole


def _single(bare: Any, notes: tuple[Any, ...]) -> Schema:
    if bare is bool:
        return {"enum": ["yes", "no", True, False]}
    if bare is date:
        return {"type": "string", "format": "date"}
    if bare is str:
        return {"type": ["string", "number", "boolean"]}
    found: Schema = {"type": "integer" if bare is int else "number"}
    for note in notes:
        if isinstance(note, Bounds):
            found |= {"minimum": note.low, "maximum": note.high}
    return found


def explained(noun: type) -> dict[str, str]:
    """
    Give the explanation of every field of a noun, from its docstring and its bases'.

    Parameters
    ----------
    noun
        The dataclass.

    Returns
    -------
    dict
        One text by field name.
    """
    found: dict[str, str] = {}
    for base in reversed(noun.__mro__):
        _, _, fields_told = cleandoc(base.__doc__ or "").partition(
            "Parameters\n----------\n"
        )
        for match in re.finditer(r"^(\w+)\n((?:    .*\n?)+)", fields_told, re.M):
            words = " ".join(line.strip() for line in match[2].splitlines())
            # The nouns speak of None; in a text it is a key left out.
            found[match[1]] = words.replace("``None``", "left out").replace("``", "`")
    return found


def summary(noun: type) -> str:
    """
    Give the first sentence of a noun's docstring.

    Parameters
    ----------
    noun
        The dataclass.

    Returns
    -------
    str
        The sentence.
    """
    return cleandoc(noun.__doc__ or "").partition("\n")[0]
