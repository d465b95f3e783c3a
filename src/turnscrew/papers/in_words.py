"""How does a sheet read in another language?"""

import re
from collections.abc import Callable, Mapping
from typing import Any

from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.papers.drawn_words import is_drawn, with_words_said
from turnscrew.papers.letters import LACKING, MORE_WORDS

_BOOKS = {"de": GERMAN}
_NOTHING: Mapping[str, str] = {}
_FIXED = re.compile(r'w\("([^"]+)"\)')

PROOF = "measure this bar: 100 mm; if it differs, this map is not true size"
"""What stands beside the bar by which a sheet is measured."""

COMMON = ("revision", "page", "of", LACKING, MORE_WORDS)
"""Fixed words at the head and foot of every sheet."""


def in_words(
    data: Mapping[str, Any],
    source: str,
    language: str,
    *,
    own: Mapping[str, str] = _NOTHING,
    as_is: frozenset[str] = frozenset(),
) -> Mapping[str, Any]:
    """
    Give the values of a sheet in a language, with the fixed words of its source.

    Parameters
    ----------
    data
        Its values, in English.
    source
        Its source, whose fixed words stand as ``w("...")``.
    language
        Short name of the language.
    own
        What a description says itself, in that language.
    as_is
        Names of values that are no words.

    Returns
    -------
    Mapping
        The values in that language; unchanged for English and languages not known.
    """
    phrases = _BOOKS.get(language)
    if phrases is None:
        return data
    book = Phrasebook(phrases, own)
    fixed = {words: book.says(words) for words in fixed_words(source)}
    told = every_text(data, book.says, as_is)
    return {**told, "words": fixed, "language": language}


def fixed_words(source: str) -> tuple[str, ...]:
    """
    List the fixed words of a sheet.

    Parameters
    ----------
    source
        Its source.

    Returns
    -------
    tuple
        What stands as ``w("...")``, and the words of head and foot.
    """
    proof = (PROOF,) if "#proof" in source else ()
    return (*COMMON, *proof, *_FIXED.findall(source))


def every_text(
    data: Mapping[str, Any], says: Callable[[str], str], as_is: frozenset[str]
) -> dict[str, Any]:
    """
    Say every text of the values of a sheet.

    Parameters
    ----------
    data
        Its values.
    says
        Says one text.
    as_is
        Names of values that are no words.

    Returns
    -------
    dict
        The values as they are said.
    """
    told: dict[str, Any] = _said(data, says, as_is)
    return told


def _said(value: Any, says: Callable[[str], str], as_is: frozenset[str]) -> Any:
    if isinstance(value, str):
        return with_words_said(value, says) if is_drawn(value) else says(value)
    if isinstance(value, Mapping):
        return {
            key: inner if key in as_is else _said(inner, says, as_is)
            for key, inner in value.items()
        }
    if isinstance(value, (list, tuple)):
        return [_said(inner, says, as_is) for inner in value]
    return value
