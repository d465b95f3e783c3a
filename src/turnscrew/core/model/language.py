"""How does a description read in another of its languages?"""

from collections.abc import Mapping
from dataclasses import is_dataclass, replace
from typing import Any, cast, get_args

from turnscrew.core.model.device import Device
from turnscrew.core.model.quantities import Refers, field_types, unwrapped


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
