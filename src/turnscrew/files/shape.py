"""
How do the typed-in values of a text become a noun, with every misfit told at its place?

Method: walk the text along the noun's own field types. A field's bounds, its word in
the text and its short spelling travel with its type, so a new fact is declared once, in
the noun. What does not fit is noted and replaced by the field's default, and the walk
goes on; the caller must refuse the text if anything was noted.
"""

import re
from collections.abc import Mapping
from dataclasses import MISSING, Field, dataclass, fields, is_dataclass
from datetime import date
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from turnscrew.core.model.calendar import A_DAY_MEANT, can_be_meant
from turnscrew.core.model.nearest import nearest, wanted_name
from turnscrew.core.model.quantities import (
    BadFieldError,
    Bounds,
    Key,
    OneOf,
    Spelling,
    field_types,
    number_from_text,
    unwrapped,
)
from turnscrew.errors import BadArgumentError, Problem
from turnscrew.files.json_text import Path, in_words
from turnscrew.files.yaml_text import Branch, Leaf, Mark, Node, Row, found_words

NOTHING = object()
"""Stands for a value that could not be read."""

_YES_NO = {"yes": True, "no": False, "true": True, "false": False}


@dataclass(frozen=True)
class Place:
    """
    Where in the text the walk is, and the list that collects the problems.

    Parameters
    ----------
    path
        Keys and indices that lead here.
    problems
        Problems found so far, shared by all places of one text.
    """

    path: Path
    problems: list[Problem]

    def at(self, key: str | int) -> "Place":
        """
        Go one level down.

        Parameters
        ----------
        key
            Key or index of the thing there.

        Returns
        -------
        Place
            The place there.
        """
        return Place((*self.path, key), self.problems)

    def note(self, mark: Mark, found: str, wanted: str) -> None:
        """
        Note a problem here.

        Parameters
        ----------
        mark
            Where it stands.
        found
            What stands there.
        wanted
            What would be right.
        """
        where = in_words(self.path)
        self.problems.append(Problem(where, found, wanted, mark.line, mark.column))


@dataclass(frozen=True)
class Slot:
    """
    One key a noun may have in a text.

    Parameters
    ----------
    field
        Name of the noun's field.
    hint
        Type of what stands under the key.
    is_required
        The noun cannot do without it.
    """

    field: str
    hint: Any
    is_required: bool


def slots_of(noun: type) -> dict[str, Slot]:
    """
    Give the keys a noun may have in a text.

    Parameters
    ----------
    noun
        The dataclass.

    Returns
    -------
    dict
        Slots by key, in the order of the noun's fields.
    """
    hints = field_types(noun)
    slots: dict[str, Slot] = {}
    assert is_dataclass(noun)
    for item in fields(noun):
        _, notes = unwrapped(hints[item.name])
        kinds = next((note.kinds for note in notes if isinstance(note, OneOf)), None)
        if kinds is not None:
            slots |= {
                key: Slot(item.name, kind, is_required=False) for key, kind in kinds
            }
            continue
        key = next((note.text for note in notes if isinstance(note, Key)), item.name)
        slots[key] = Slot(item.name, hints[item.name], _is_required(item))
    return slots


def value_of(node: Node, hint: Any, place: Place) -> Any:
    """
    Read one value of a given type.

    Parameters
    ----------
    node
        What stands in the text.
    hint
        The type wanted, with its notes.
    place
        Where it stands.

    Returns
    -------
    Any
        The value, or ``NOTHING`` if it does not fit.
    """
    bare, notes = unwrapped(hint)
    spelling = next((note for note in notes if isinstance(note, Spelling)), None)
    if spelling is not None and isinstance(node, Leaf) and node.text is not None:
        return _spelled(node, spelling.read, place)
    origin = get_origin(bare)
    if origin in (Union, UnionType):
        return _optional(node, bare, place)
    if origin is tuple:
        return _row(node, get_args(bare), place)
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return _mapping(node, get_args(bare)[1], place)
    if is_dataclass(bare):
        assert isinstance(bare, type)
        return noun_of(node, bare, place)
    bounds = next((note for note in notes if isinstance(note, Bounds)), None)
    return _single(node, bare, bounds, place)


def noun_of(node: Node, noun: type, place: Place) -> Any:
    """
    Read one noun.

    Parameters
    ----------
    node
        What stands in the text: keys and values, or the noun's short text.
    noun
        The dataclass wanted.
    place
        Where it stands.

    Returns
    -------
    Any
        The noun, with defaults for what does not fit, or ``NOTHING`` if it lacks what
        it needs.
    """
    if isinstance(node, Row):
        place.note(node.mark, "a list", _noun_wanted(noun))
        return NOTHING
    if isinstance(node, Leaf):
        if node.text is not None and hasattr(noun, "from_text"):
            return _spelled(node, noun.from_text, place)
        if node.text is not None or _needs_more(noun):
            place.note(node.mark, found_words(node), _noun_wanted(noun))
            return NOTHING
        return noun()
    values = _values_of(node, slots_of(noun), place)
    if values is None:
        return NOTHING
    try:
        return noun(**values)
    except BadFieldError as error:
        key = next((k for k, s in slots_of(noun).items() if s.field == error.field), "")
        child = node.items.get(key, node)
        place.at(key or error.field).note(child.mark, error.found, error.wanted)
        return NOTHING


def _values_of(
    branch: Branch, slots: Mapping[str, Slot], place: Place
) -> dict[str, Any] | None:
    """Read every key; give ``None`` if one that is needed is missing or unreadable."""
    values: dict[str, Any] = {}
    taken: dict[str, str] = {}
    for key, node in branch.items.items():
        mark = branch.key_marks.get(key, node.mark)
        slot = slots.get(key)
        if slot is None:
            if not key.startswith("\n"):
                _note_unknown(key, tuple(slots), mark, place)
        elif slot.field in taken:
            found, wanted = f"{key} beside {taken[slot.field]}", "one of them"
            place.note(mark, found, wanted)
        else:
            taken[slot.field] = key
            values[slot.field] = value_of(node, slot.hint, place.at(key))
    lacks = False
    for key, slot in slots.items():
        if slot.is_required and slot.field not in taken:
            place.note(branch.mark, "nothing", f"the key {key}")
        if slot.is_required and values.get(slot.field, NOTHING) is NOTHING:
            lacks = True
    read = {name: value for name, value in values.items() if value is not NOTHING}
    return None if lacks else read


def _note_unknown(key: str, known: tuple[str, ...], mark: Mark, place: Place) -> None:
    wanted = wanted_name(key, known)
    place.at(key).note(mark, f"the unknown key {key}", wanted)


def _spelled(node: Leaf, read: Any, place: Place) -> Any:
    try:
        return read(node.text)
    except BadFieldError as error:
        place.note(node.mark, str(node.text), error.wanted)
    except BadArgumentError as error:
        wanted = str(error).removesuffix(f", not {node.text}")
        place.note(node.mark, str(node.text), wanted)
    return NOTHING


def _optional(node: Node, bare: Any, place: Place) -> Any:
    if isinstance(node, Leaf) and node.text is None:
        return None
    inner = next(arg for arg in get_args(bare) if arg is not type(None))
    return value_of(node, inner, place)


def _row(node: Node, args: tuple[Any, ...], place: Place) -> Any:
    """Read a list; a single value stands for a list of one."""
    if args[-1] is not Ellipsis:
        return _fixed_row(node, args, place)
    if isinstance(node, Row) and not _is_bare_pair(node, args[0]):
        items = enumerate(node.items)
        read = [value_of(item, args[0], place.at(index)) for index, item in items]
    else:
        read = [value_of(node, args[0], place)]
    return tuple(value for value in read if value is not NOTHING)


def _is_bare_pair(row: Row, hint: Any) -> bool:
    """Say whether one point stands where a list of points may."""
    bare, _ = unwrapped(hint)
    is_point = get_origin(bare) is tuple and get_args(bare)[-1] is not Ellipsis
    return is_point and bool(row.items) and isinstance(row.items[0], Leaf)


def _fixed_row(node: Node, args: tuple[Any, ...], place: Place) -> Any:
    if not isinstance(node, Row) or len(node.items) != len(args):
        found = found_words(node)
        if isinstance(node, Row):
            found = f"a list of {len(node.items)}"
        place.note(node.mark, found, f"a list of {len(args)} numbers")
        return NOTHING
    pairs = enumerate(zip(node.items, args, strict=True))
    read = [value_of(item, arg, place.at(i)) for i, (item, arg) in pairs]
    return NOTHING if NOTHING in read else tuple(read)


def _mapping(node: Node, hint: Any, place: Place) -> Any:
    if isinstance(node, Leaf) and node.text is None:
        return {}
    if not isinstance(node, Branch):
        place.note(node.mark, found_words(node), "names with a colon")
        return NOTHING
    named = {
        key: value_of(item, hint, place.at(key))
        for key, item in node.items.items()
        if not key.startswith("\n")
    }
    return {key: value for key, value in named.items() if value is not NOTHING}


def _single(node: Node, bare: Any, bounds: Bounds | None, place: Place) -> Any:
    wanted = _wanted_words(bare, bounds)
    value: Any = NOTHING
    if isinstance(node, Leaf) and node.text is not None:
        value = _parsed(node.text, bare)
    if isinstance(value, date) and not can_be_meant(value):
        value, wanted = NOTHING, A_DAY_MEANT
    if value is NOTHING or (bounds and not bounds.low <= value <= bounds.high):
        if get_origin(bare) is Literal and isinstance(node, Leaf) and node.text:
            wanted = nearest(node.text, get_args(bare)) or wanted
        place.note(node.mark, found_words(node), wanted)
        return NOTHING
    return value


def _parsed(text: str, bare: Any) -> Any:
    """Give the value a text stands for, or ``NOTHING``."""
    value: Any = NOTHING
    if bare is str or (get_origin(bare) is Literal and text in get_args(bare)):
        value = text
    elif bare is bool:
        value = _YES_NO.get(text, NOTHING)
    elif bare in (float, int):
        value = _number(text, bare)
    elif bare is date and re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        try:
            value = date.fromisoformat(text)
        except ValueError:
            value = NOTHING
    return value


def _number(text: str, bare: Any) -> Any:
    number = number_from_text(text)
    if number is None or (bare is int and not number.is_integer()):
        return NOTHING
    return bare(number)


def _wanted_words(bare: Any, bounds: Bounds | None) -> str:
    if get_origin(bare) is Literal:
        return "one of " + ", ".join(word for word in get_args(bare) if word)
    if bare is int and bounds is not None:
        return str(bounds).replace("a number", "a whole number")
    if bounds is not None:
        return str(bounds)
    words = {bool: "yes or no", date: "a day such as 2027-02-01", str: "words"}
    return words.get(bare, "a number")


def _noun_wanted(noun: type) -> str:
    keys = tuple(slots_of(noun))
    some = ", ".join(keys[:6]) + (" and others" if len(keys) > 6 else "")
    return f"keys such as {some}"


def _needs_more(noun: type) -> bool:
    return any(slot.is_required for slot in slots_of(noun).values())


def _is_required(item: "Field[Any]") -> bool:
    return item.default is MISSING and item.default_factory is MISSING
