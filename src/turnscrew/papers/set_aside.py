"""
What of a text is not said in another language, and how does it come through?

What a person wrote stands between private marks; days and amounts are written as the
language writes them. All of it is set aside while the rest is turned by its shape.
"""

import re
from collections.abc import Callable, Iterable

from turnscrew.core.model.phrasebook import MONTHS, Phrasebook

_LEFT, _RIGHT = "\ue000", "\ue001"
"""Private characters: nobody types them, and none is printed."""

_BETWEEN = re.compile(f"{_LEFT}([^{_LEFT}{_RIGHT}]*){_RIGHT}")
_FIRST_KEPT = 0xF0000
_KEPT = re.compile("[\U000f0000-\U000ffffd]")

_DAYS = {
    "Mon": "Mo", "Tue": "Di", "Wed": "Mi", "Thu": "Do", "Fri": "Fr", "Sat": "Sa",
    "Sun": "So",
}  # fmt: skip
_MONTHS = ("Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec").split()
_DATE = re.compile(
    rf"\b(?:({'|'.join(_DAYS)}) )?0?(\d\d?) ({'|'.join(_MONTHS)})\b(?: (\d{{4}}))?"
)


def written(text: str) -> str:
    """
    Mark what a person wrote: it stays as it is in every language.

    Parameters
    ----------
    text
        Such as a name, a number on a body or a reason.

    Returns
    -------
    str
        The text between marks that are never printed.
    """
    return f"{_LEFT}{plain(text)}{_RIGHT}" if text else ""


def plain(text: str) -> str:
    """
    Take the marks of what a person wrote away.

    Parameters
    ----------
    text
        A text of a paper.

    Returns
    -------
    str
        The text as it is read.
    """
    return text.replace(_LEFT, "").replace(_RIGHT, "")


def said_by(book: Phrasebook, text: str) -> str:
    """
    Say a text of ours by a book, but for what a person wrote.

    Parameters
    ----------
    book
        The phrases.
    text
        In English, what a person wrote between marks.

    Returns
    -------
    str
        The text without marks, days as the language writes them.
    """
    bare, kept = set_aside(text, (WRITTEN, DAY))
    return put_back(book.says(bare), kept)


def _german_date(found: re.Match[str]) -> str:
    weekday, day, month, year = found.groups()
    told = f"{int(day)}. {MONTHS[_MONTHS.index(month)]}"
    told = f"{_DAYS[weekday]} {told}" if weekday else told
    return f"{told} {year}" if year else told


Swap = tuple[re.Pattern[str], Callable[[re.Match[str]], str]]
"""What is looked for, and what it becomes."""

WRITTEN: Swap = (_BETWEEN, lambda found: found[1])
"""What a person wrote, without its marks."""

DAY: Swap = (_DATE, _german_date)
"""A day of ours, as German writes it."""


def set_aside(text: str, swaps: Iterable[Swap]) -> tuple[str, list[str]]:
    """
    Put what is not to be said behind single characters that nobody types.

    Parameters
    ----------
    text
        The text.
    swaps
        What is set aside, one kind after the other.

    Returns
    -------
    tuple[str, list[str]]
        The rest of the text, and what was set aside.
    """
    kept: list[str] = []

    def keep(words: str) -> str:
        kept.append(words)
        return chr(_FIRST_KEPT + len(kept) - 1)

    for pattern, swapped in swaps:
        # Each is used at once, before the next one is looked at.
        text = pattern.sub(lambda found: keep(swapped(found)), text)  # noqa: B023
    return text, kept


def put_back(text: str, kept: list[str]) -> str:
    """
    Put what was set aside back in its places.

    Parameters
    ----------
    text
        The rest, in the language.
    kept
        What was set aside.

    Returns
    -------
    str
        The whole text.
    """
    return _KEPT.sub(lambda found: kept[ord(found[0]) - _FIRST_KEPT], text)
