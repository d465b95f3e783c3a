"""
How is a sentence with amounts, days and names said in the language of its reader?

What a person wrote stands between marks and stays; days and amounts are written as the
language and the workshop write them; the rest is turned by its shape.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, is_dataclass
from functools import cached_property
from typing import Any

from turnscrew.core.model.notation import Notation, with_signs_swapped
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.papers.in_words import every_text, fixed_words
from turnscrew.papers.page import compile_pdf
from turnscrew.papers.set_aside import DAY, WRITTEN, plain, put_back, set_aside

_AMOUNT = re.compile(r"(?<![\w.,])-?\d{1,3}(?:,\d{3})+(?:\.\d+)?(?![\w]|[.,]\d)")
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_TO = {"de": " bis "}
_FIGURE = re.compile(r"[-−]?\d[\d,]*(?:\.\d+)?(?: %)?")
_WORD = re.compile("[a-z]{3}")
_TEXT = re.compile(r">([^<>]+)</text>")

Phrases = Mapping[str, Mapping[str, str]]
"""What is said, by the short name of a language but English."""


@dataclass(frozen=True)
class Telling:
    """
    Says sentences of ours in one language.

    Parameters
    ----------
    phrases
        What is known.
    language
        Short name of the language; English if it is none that is known.
    notation
        How figures read.
    own
        What people wrote and what stays as it is.
    """

    phrases: Phrases
    language: str
    notation: Notation = Notation()
    own: frozenset[str] = frozenset()

    @cached_property
    def _book(self) -> Phrasebook | None:
        known = self.phrases.get(self.language)
        if known is None:
            return None
        return Phrasebook(known, {text: text for text in self.own if text not in known})

    @property
    def _has_comma(self) -> bool:
        return self._book is not None

    @property
    def _uses_comma(self) -> bool:
        return self.notation.uses_comma(has_comma=self._has_comma)

    def says(self, text: str) -> str:
        """
        Say a text.

        Parameters
        ----------
        text
            In English, what a person wrote between marks.

        Returns
        -------
        str
            The text without marks; what is not known stands in quotation marks.
        """
        book = self._book
        if book is None:
            return self.notation.prose(plain(text))
        amounts = (_AMOUNT, lambda found: self._amount(found[0]))
        bare, kept = set_aside(text, (WRITTEN, DAY, amounts))
        told = book.says(bare)
        if not _WORD.search(bare):
            # Figures alone are no sentence; what stands between two of them is a word.
            told = told.replace(" to ", _TO.get(self.language, " to "))
        if not self._uses_comma:
            told = _COMMA.sub(".", told)
        told = self.notation.says(told, has_comma=True)
        return put_back(told, kept)

    def drawn(self, svg: str, axes: Mapping[str, Mapping[str, str]]) -> str:
        """
        Say what stands in a drawing of ours: its axes, and figures by themselves.

        Parameters
        ----------
        svg
            The drawing.
        axes
            What stands at its axes, by language.

        Returns
        -------
        str
            The drawing; names in it stay.
        """
        known = axes.get(self.language, {})
        if not known and not self._uses_comma:
            return svg

        def said(found: re.Match[str]) -> str:
            words = found[1]
            if _FIGURE.fullmatch(words):
                return f">{self._amount(words)}</text>"
            head, colon, figure = words.partition(": ")
            told = known.get(words) or known.get(head, head) + colon + figure
            return f">{told}</text>"

        return _TEXT.sub(said, svg)

    def _amount(self, text: str) -> str:
        return with_signs_swapped(text) if self._uses_comma else text


def told_pdf(
    source: str,
    data: Mapping[str, Any],
    telling: Telling,
    *,
    as_is: frozenset[str] = frozenset(),
    is_tagged: bool = True,
) -> bytes:
    """
    Set a sheet in a language.

    Parameters
    ----------
    source
        The sheet, whose fixed words stand as ``w("...")``.
    data
        Its values in English, what a person wrote between marks.
    telling
        How it is said.
    as_is
        Names of values that are no words.
    is_tagged
        True to mark headings and reading order for programs that read aloud.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    says: Callable[[str], str] = telling.says
    told = every_text(data, says, as_is | _AS_IS)
    if telling.language in telling.phrases:
        words = {text: says(text) for text in fixed_words(source)}
        told = {**told, "words": words, "language": telling.language}
    return compile_pdf(source, told, is_tagged=is_tagged)


def texts_in(value: Any) -> Iterator[str]:
    """
    Give every text of a noun of the model, and of what it is made of.

    Parameters
    ----------
    value
        Such as a fault table.

    Yields
    ------
    str
        The texts; keys of what is looked up are among them.
    """
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from texts_in(key)
            yield from texts_in(inner)
    elif isinstance(value, (list, tuple, frozenset)):
        for inner in value:
            yield from texts_in(inner)
    elif is_dataclass(value):
        yield from texts_in(vars(value))


_AS_IS = frozenset({"font", "notation", "svg"})
