"""What has a column no room for, whichever database keeps it?"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from django.db import models

_MOST = {True: 2**63 - 1, False: 2**31 - 1}
"""What PostgreSQL keeps in a whole number, large or not; SQLite checks none of it."""

_UNKEPT = re.compile("[\0\ud800-\udfff]")
"""What PostgreSQL keeps in no text: NUL, and one half of a pair."""


def lack_of(field: "models.Field[Any, Any]", value: Any) -> tuple[str, str] | None:
    """Say what was found and wanted if there is no room for a value."""
    if isinstance(value, str):
        most = field.max_length
        if most is not None and len(value) > most:
            return f"{len(value)} characters", f"at most {most}"
    elif isinstance(value, int) and isinstance(field, models.IntegerField):
        most = _MOST[isinstance(field, models.BigIntegerField)]
        low = 0 if "Positive" in field.get_internal_type() else -most - 1
        if not low <= value <= most:
            return str(value), f"{low} to {most}"
    if any(map(_UNKEPT.search, _texts(value))):
        return "NUL or half a character", "whole ones"
    return None


def _texts(value: Any) -> Iterator[str]:
    """Give all texts of a value as JSON has them."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for name, one in value.items():
            yield from _texts(name)
            yield from _texts(one)
    elif isinstance(value, Sequence):
        for one in value:
            yield from _texts(one)
