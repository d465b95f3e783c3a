"""
How does a sentence that is made in English read in another language?

A phrasebook knows the shapes of the sentences that are made here, with places for what
stands in them. What comes from a description stays as it was written, in quotation
marks, unless the description has it in that language itself.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import NamedTuple

_PLACE = re.compile(r"\{(\w+)([#,;.–!]?)\}")
_WORD = re.compile(r"[a-z]{3}|\b[A-Z][a-z]{2}\b")
_POINT = re.compile(r"(?<=\d)\.(?=\d)")
_DATE = re.compile(r"\b(\d{4})-(0[1-9]|1[0-2])-(\d\d)\b")
_SENTENCE_END = re.compile(r"(?<=[.?!]) +(?=[A-Z0-9])")
_GLUE = {",": ", ", ";": "; ", "–": " – "}
_NUMBER = r"[-+]?\d[\d.]*"
_MOST_KEPT = 5_000
"""Texts kept as they were said; then all are forgotten, names among them. [1]"""

_WITHIN = r"(?:(?![.?!] [A-Z]).)+?"
"""No place reaches beyond the end of a sentence, unless it holds sentences."""


MONTHS = (
    "Jan.", "Feb.", "März", "Apr.", "Mai", "Juni",
    "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez.",
)  # fmt: skip
"""Months as German shortens them."""


@dataclass(frozen=True)
class Phrasebook:
    """
    Turns sentences of known shape into another language.

    Parameters
    ----------
    phrases
        Sentences and words with their places in braces. ``{x}`` is a word or a name,
        ``{x,}``, ``{x;}`` and ``{x–}`` are lists, ``{x.}`` holds sentences,
        ``{n#}`` a number, ``{x!}`` stays as it is.
    own
        What a description says in that language, by what it says in its own.
    marks
        What is put before and behind words that stay as they were written.
    """

    phrases: Mapping[str, str]
    own: Mapping[str, str] = field(default_factory=dict)
    marks: tuple[str, str] = ("„", "“")
    _kept: dict[str, str] = field(default_factory=dict, compare=False, repr=False)

    @cached_property
    def _fixed(self) -> Mapping[str, str]:
        told = {**self.phrases, **self.own}
        return {_bare(text): words for text, words in told.items() if "{" not in text}

    @cached_property
    def _names(self) -> tuple[str, ...]:
        return tuple(map(_bare, self.own))

    @cached_property
    def _open(self) -> "tuple[_Shape, ...]":
        return _shapes(tuple(self.phrases.items()))

    def says(self, text: str) -> str:
        """
        Say a text in the other language.

        Parameters
        ----------
        text
            One sentence, or some.

        Returns
        -------
        str
            The text; what is not known stands in quotation marks.
        """
        told = self._kept.get(text)
        if told is None:
            told = self._said(text)
            if len(self._kept) >= _MOST_KEPT:
                self._kept.clear()
            self._kept[text] = told
        return told

    def unsaid(self, text: str) -> tuple[str, ...]:
        """
        List what of a text stays as it was written.

        Parameters
        ----------
        text
            One sentence, or some.

        Returns
        -------
        tuple
            Words without their marks.
        """
        left, right = map(re.escape, self.marks)
        return tuple(re.findall(f"{left}(.*?){right}", self.says(text)))

    def _said(self, text: str) -> str:
        if not _WORD.search(text) and _bare(text) not in self._fixed:
            return in_figures(text)
        known = self._known(text)
        if known is not None:
            return known
        for parts, glue in (
            (_SENTENCE_END.split(text), " "),
            (text.split("; "), "; "),
        ):
            if len(parts) > 1:
                return glue.join(self.says(part) for part in parts)
        return self._as_written(text)

    def _as_written(self, text: str) -> str:
        left, right = self.marks
        return f"{left}{text}{right}"

    def _known(self, text: str) -> str | None:
        # A key and a state may differ by their first letter alone.
        words = self.own.get(text) or self.phrases.get(text)
        words = words or self._fixed.get(_bare(text))
        if words is None:
            words = self._by_shape(_without_stop(text))
        if words is None:
            return None
        words = words.removesuffix(".")
        words += "." * (text.endswith(".") and words[-1:] not in ".?!")
        return words[:1].upper() + words[1:] if text[:1].isupper() else words

    def _by_shape(self, text: str) -> str | None:
        read = self._read(text)
        if read is None:
            return None
        shape, found = read
        values = {
            name: self._value(found[name], kind) for name, kind in shape.kinds.items()
        }
        return _PLACE.sub(lambda place: values[place[1]], shape.words)

    def _read(self, text: str) -> "tuple[_Shape, re.Match[str]] | None":
        fitting = (
            (shape, found)
            for shape in self._open
            if (found := shape.pattern.fullmatch(text))
        )
        first = next(fitting, None)
        if first is None or not first[0].n_ahead:
            return first
        # The first word of a name is none of ours: "key" of "key tail (latched)".
        n_named = self._n_named(text)
        if first[0].n_ahead >= n_named:
            return first
        return next((one for one in fitting if not 0 < one[0].n_ahead < n_named), first)

    def _n_named(self, text: str) -> int:
        """Count the letters of the longest name that a text begins with."""
        bare = _bare(text)
        return max(
            (
                len(name)
                for name in self._names
                if bare.startswith(name) and not bare[len(name) :][:1].isalnum()
            ),
            default=0,
        )

    def _value(self, value: str, kind: str) -> str:
        if kind in ("#", "!"):
            return in_figures(value)
        if kind == ".":
            return self.says(value)
        if kind and _bare(value) in self._fixed:
            # A name may itself hold what lists are held together with.
            return self._value(value, "")
        if kind:
            glue = _GLUE[kind]
            return glue.join(self._value(one, "") for one in value.split(glue))
        name, times, n = value.rpartition(" × ")
        if times and n.isdigit():
            return f"{self._value(name, '')} × {n}"
        if not _WORD.search(value) and _bare(value) not in self._fixed:
            return in_figures(value)
        known = self._known(value)
        return self._as_written(value) if known is None else known


def in_figures(text: str) -> str:
    """
    Write numbers with a decimal comma, and dates by day, month and year.

    Parameters
    ----------
    text
        Words and numbers.

    Returns
    -------
    str
        Such as ``3,5 mm`` and ``4. Feb. 2027``.
    """
    return _POINT.sub(",", _DATE.sub(_day, text))


def _day(found: re.Match[str]) -> str:
    year, month, day = map(int, found.groups())
    return f"{day}. {MONTHS[month - 1]} {year}"


def together(books: Iterable[Mapping[str, str]]) -> Mapping[str, str]:
    """
    Put the phrases of several books into one.

    Parameters
    ----------
    books
        The books.

    Returns
    -------
    Mapping
        All phrases.
    """
    return MappingProxyType({k: v for book in books for k, v in book.items()})


def _without_stop(text: str) -> str:
    return text.removesuffix(".")


def _bare(text: str) -> str:
    text = _without_stop(text.strip())
    return text[:1].lower() + text[1:]


class _Shape(NamedTuple):
    """A pattern of a sentence, its words there, kinds of places, letters ahead."""

    pattern: re.Pattern[str]
    words: str
    kinds: Mapping[str, str]
    n_ahead: int


@lru_cache(maxsize=4)
def _shapes(phrases: tuple[tuple[str, str], ...]) -> tuple[_Shape, ...]:
    """Make patterns of all phrases with places, the most telling first."""
    open_ones = [(text, words) for text, words in phrases if "{" in text]
    open_ones.sort(key=lambda pair: -len(_PLACE.sub("", pair[0])))
    return tuple(_shape(text, words) for text, words in open_ones)


def _shape(text: str, words: str) -> _Shape:
    kinds: dict[str, str] = {}
    pattern, at = "", 0
    bare = _without_stop(text)
    for place in _PLACE.finditer(bare):
        pattern += re.escape(bare[at : place.start()])
        kinds[place[1]] = place[2]
        inside = {"#": _NUMBER, ".": ".+?"}.get(place[2], _WITHIN)
        pattern += f"(?P<{place[1]}>{inside})"
        at = place.end()
    pattern += re.escape(bare[at:])
    # What begins small in the book may begin a sentence; names never begin large.
    if bare[0].islower():
        pattern = f"[{bare[0]}{bare[0].upper()}]{pattern[1:]}"
    n_ahead = bare.index("{")
    return _Shape(re.compile(pattern), _without_stop(words), kinds, n_ahead)
