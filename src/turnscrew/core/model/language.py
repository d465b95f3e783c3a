"""How does a description read in another of its languages?"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass, replace
from typing import Any, cast, get_args

from turnscrew.core.model.device import Device
from turnscrew.core.model.quantities import Refers, field_types, unwrapped

_WORDS = re.compile(r"^(?=.*[a-z]{3}).* ")


def in_language(device: Device, language: str) -> Device:
    """
    Give a device with its sentences in another language, where it has them.

    Names of parts, joints and the like stay as they are, and so does every sentence
    the description does not have in that language.

    Parameters
    ----------
    device
        The device.
    language
        Short name of the language, such as ``de``.

    Returns
    -------
    Device
        The device as it reads then.
    """
    words = device.words.get(language, {})
    return cast(Device, _noun(device, words)) if words else device


def own_words(device: Device, language: str) -> dict[str, str]:
    """
    Give all that a description says in its own words, as another language shows it.

    A single word may be one that everybody knows, so it is not among them unless the
    description has it in that language.

    Parameters
    ----------
    device
        The device.
    language
        Short name of the language.

    Returns
    -------
    dict
        Words of that language by those of the description; words that it does not have
        in that language stand in quotation marks.
    """
    told = device.words.get(language, {})
    bare = {name: value for name, value in vars(device).items() if name != "words"}
    said = {text: f"„{text}“" for text in _texts(bare) if _WORDS.search(text)}
    return said | {words: words for words in told.values()} | dict(told)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif is_dataclass(value):
        yield from _texts(vars(value))
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _texts(key)
            yield from _texts(inner)
    elif isinstance(value, (tuple, frozenset)):
        for inner in value:
            yield from _texts(inner)


def _noun(noun: Any, words: Mapping[str, str]) -> Any:
    hints = field_types(type(noun))
    changes = {
        field: said
        for field, hint in hints.items()
        if field not in ("name", "words")
        and (said := _said(value := getattr(noun, field), hint, words)) != value
    }
    return replace(noun, **changes) if changes else noun


def _said(value: Any, hint: Any, words: Mapping[str, str]) -> Any:
    bare, notes = unwrapped(hint)
    if isinstance(value, str):
        is_name = bare is not str or any(isinstance(note, Refers) for note in notes)
        return value if is_name else words.get(value, value)
    if is_dataclass(value):
        return _noun(value, words)
    inner = get_args(bare)
    if isinstance(value, tuple):
        return tuple(_said(item, inner[0], words) for item in value)
    if isinstance(value, Mapping):
        return {key: _said(item, inner[1], words) for key, item in value.items()}
    return value
