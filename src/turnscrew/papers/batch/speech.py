"""
How is a paper of a batch said in the language that was chosen?

Its sentences are made in English and turned as a whole, by their shape. What a person
wrote goes through unread, between marks, so that no name is taken for a word of ours.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.german import GERMAN, GERMAN_BATCH
from turnscrew.core.model.notation import Notation, with_signs_swapped
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.papers.in_words import every_text, fixed_words
from turnscrew.papers.page import Page, compile_pdf, language_of, notation_of
from turnscrew.papers.set_aside import DAY, WRITTEN, plain, put_back, set_aside, written

LANGUAGES: Mapping[str, Mapping[str, str]] = {"de": GERMAN_BATCH}
"""What the papers of a batch say, by the short name of a language but English."""

_AT_THE_BENCH = {"de": Phrasebook(GERMAN, marks=("", ""))}

_THOUSANDS = re.compile(r"(?<![\w.,])-?\d{1,3}(?:,\d{3})+\.\d\d(?![\w]|[.,]\d)")
_COMMA = re.compile(r"(?<=\d),(?=\d)")


@dataclass(frozen=True)
class Speech:
    """
    Says what a paper of one batch says in one language.

    Parameters
    ----------
    answer
        The batch, whose own words stay as they are.
    language
        Short name of the language; English if it is none that is known.
    notation
        How figures read.
    languages
        What is said, by the short name of a language.
    """

    answer: BatchAnswer
    language: str
    notation: Notation
    languages: Mapping[str, Mapping[str, str]] = field(
        default_factory=lambda: LANGUAGES
    )

    @property
    def _has_comma(self) -> bool:
        return self.language == "de"

    @property
    def _uses_comma(self) -> bool:
        return self.notation.uses_comma(has_comma=self._has_comma)

    @cached_property
    def _book(self) -> Phrasebook | None:
        phrases = self.languages.get(self.language)
        if phrases is None:
            return None
        known = {text.removesuffix(".").casefold() for text in phrases}
        own = dict.fromkeys(_own_words(self.answer))
        told = (text for text in own if text.casefold() not in known)
        return Phrasebook(phrases, {text: text for text in told if text})

    def says(self, text: str) -> str:
        """
        Say a text of ours.

        Parameters
        ----------
        text
            In English, what a person wrote between marks.

        Returns
        -------
        str
            The text in the language, without marks; what is not known stands in
            quotation marks.
        """
        book = self._book
        if book is None:
            return plain(text)
        if text in book.own:
            return text
        swaps = (
            WRITTEN,
            DAY,
            (_THOUSANDS, lambda found: self._amount(found[0])),
        )
        bare, kept = set_aside(text, swaps)
        told = book.says(bare)
        if not self._uses_comma:
            told = _COMMA.sub(".", told)
        return put_back(told, kept)

    def told(self, text: str) -> str:
        """
        Say a text of ours that becomes a part of another.

        Parameters
        ----------
        text
            In English.

        Returns
        -------
        str
            The text in the language, marked so that it is not said twice.
        """
        return written(self.says(text))

    def at_the_bench(self, text: str) -> str:
        """
        Say what a description or somebody at the bench said, where it is known.

        Parameters
        ----------
        text
            Such as a test.

        Returns
        -------
        str
            The text in the language, or as it was written; marked.
        """
        book = _AT_THE_BENCH.get(self.language)
        return written(book.says(text) if book else text)

    def money(self, minor: int | None) -> str:
        """
        Write an amount without its currency.

        Parameters
        ----------
        minor
            The amount. [minor units]

        Returns
        -------
        str
            The amount, marked.
        """
        return written(self.notation.money(minor, has_comma=self._has_comma))

    def count(self, n: int) -> str:
        """
        Write a large whole number.

        Parameters
        ----------
        n
            The number. [1]

        Returns
        -------
        str
            With a sign between thousands, marked.
        """
        told = f"{n:,}"
        # In English a comma parts thousands even where it is the decimal sign.
        if self._has_comma and self._uses_comma:
            told = with_signs_swapped(told)
        return written(told)

    def line(self, text: str) -> str:
        """
        Say a line that is no part of a sheet, figures as they are read.

        Parameters
        ----------
        text
            In English.

        Returns
        -------
        str
            The line.
        """
        return self.notation.prose(self.says(text), has_comma=self._has_comma)

    def _amount(self, text: str) -> str:
        return with_signs_swapped(text) if self._uses_comma else text


def speech_of(answer: BatchAnswer, page: Page) -> Speech:
    """
    Give how the papers of a batch are said.

    Parameters
    ----------
    answer
        The batch.
    page
        The paper, with its language.

    Returns
    -------
    Speech
        How they are said.
    """
    return Speech(answer, language_of(page), notation_of(page))


_BROKEN = "#show table.cell: broken\n"
"""What people write may hold longer words than a cell of a batch's papers is wide."""


def batch_pdf(source: str, data: Mapping[str, Any], speech: Speech) -> bytes:
    """
    Set a paper of a batch in its language.

    Parameters
    ----------
    source
        The sheet, whose fixed words stand as ``w("...")``.
    data
        Its values in English, but for its head, which was said already.
    speech
        How it is said.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    says: Callable[[str], str] = speech.says
    told = every_text(data, says, frozenset({"head"}))
    if speech.language in LANGUAGES:
        words = {text: says(text) for text in fixed_words(source)}
        told = {**told, "words": words, "language": speech.language}
    return compile_pdf(_BROKEN + source, told, is_tagged=True)


def _own_words(answer: BatchAnswer) -> Iterator[str]:
    """Give what people wrote of a batch and what may stand in a sentence of ours."""
    terms = answer.batch.terms
    for line in (device.line for device in answer.devices):
        yield from (line.serial, line.asset, line.model, line.revision, line.seen)
        yield from (line.site, line.remarks, *line.found, *line.accessories)
        yield " + ".join(line.found)
    for part in answer.batch.parts.values():
        yield from (part.part, part.description, f"{part.part} {part.description}")
        yield from (part.place, part.unit)
    for code, fault in terms.faults.items():
        yield from (code, fault.says)
    listed = chain.from_iterable(
        (row.asset, row.serial, row.model, row.revision) for row in answer.batch.listed
    )
    yield from listed
    yield from (person.name for person in answer.batch.people.values())
    yield from (terms.currency, terms.limit_currency, terms.customer.name)
