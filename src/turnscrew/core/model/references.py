"""Which names does a noun use, and where does it use them?"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, is_dataclass
from typing import Any, get_args

from turnscrew.core.model.quantities import Refers, field_types, key_of, unwrapped


@dataclass(frozen=True)
class Reference:
    """
    One use of a name.

    Parameters
    ----------
    kind
        What the name stands for: a part, a joint, a thing (either), a view and so on.
    name
        The name.
    path
        Keys and places in lists that lead to it.
    """

    kind: str
    name: str
    path: tuple[str | int, ...]


def references_in(noun: object) -> Iterator[Reference]:
    """
    Find every name a noun uses, empty ones left out.

    Parameters
    ----------
    noun
        The noun, such as a device.

    Yields
    ------
    Reference
        The uses in the order of the fields.
    """
    hints = field_types(type(noun))
    for field, hint in hints.items():
        value = getattr(noun, field)
        yield from _in_value(value, hint, (key_of(field, hint, value),))


def _in_value(
    value: object, hint: Any, path: tuple[str | int, ...]
) -> Iterator[Reference]:
    bare, notes = unwrapped(hint)
    if isinstance(value, str):
        for note in notes:
            if isinstance(note, Refers) and value:
                yield Reference(note.kind, value, path)
    elif is_dataclass(value):
        for reference in references_in(value):
            yield Reference(reference.kind, reference.name, path + reference.path)
    else:
        yield from _in_many(value, get_args(bare), path)


def _in_many(
    value: object, hints: tuple[Any, ...], path: tuple[str | int, ...]
) -> Iterator[Reference]:
    if isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from _in_value(item, hints[0], (*path, index))
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from _in_value(key, hints[0], (*path, key))
            yield from _in_value(item, hints[1], (*path, key))
