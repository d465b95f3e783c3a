"""How is a page said in the language of whoever reads it?"""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from django import forms
from django.forms.utils import ErrorList
from django.utils import translation
from django.utils.translation import gettext

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.notation import Notation
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.papers.batch.speech import Speech
from turnscrew.papers.set_aside import plain, said_by, written
from turnscrew.papers.telling import Telling
from turnscrew.web.counter.notation_now import notation, says

_PHRASES = {"de": GERMAN_COUNTER}
_BOOKS = {name: Phrasebook(phrases) for name, phrases in _PHRASES.items()}

_AT_A_BENCH = re.compile(r".+, place \d+")
"""Where a device lies at a bench: the name of the bench is a person's."""

_FIGURE = re.compile(r"[-+]?\d+[.,]\d+")


class InWords(str):
    """A text that is in the language of whoever reads it already."""

    __slots__ = ()


def _language() -> str:
    return translation.get_language() or ""


def said(words: Any) -> str:
    """Say what was made in English, but for what a person wrote between marks."""
    text = str(words)
    if isinstance(words, InWords):
        return text
    book = _BOOKS.get(_language())
    # Amounts stay: a refusal repeats what was entered, letter for letter.
    return says(said_by(book, text) if book and text else plain(text))


def speech_of(answer: BatchAnswer) -> Speech:
    """Give how is said what was reckoned of a batch, with its own words in it."""
    return Speech(answer, _language(), notation(), _PHRASES)


def telling() -> Telling:
    """Give how a sentence with amounts and days is said to whoever reads the page."""
    return _telling(_language(), notation())


@lru_cache(maxsize=32)
def _telling(language: str, how: Notation) -> Telling:
    # Kept: a book takes milliseconds to be made, and a page says many sentences.
    return Telling(_PHRASES, language, how)


def label_of(words: Any) -> str:
    """Say a fixed word of a form; the catalogue knows nothing of an empty one."""
    text = str(words)
    return gettext(text) if text else ""


def chosen(words: Any) -> str:
    """Say one of several words to choose from; a name or a number stays as it is."""
    text = str(words)
    if plain(text) != text or _AT_A_BENCH.fullmatch(text):
        return said(text)
    text = label_of(text)
    told: str = _PHRASES.get(_language(), {}).get(text, text)
    return told


def entry_of(field: forms.BoundField) -> str:
    """Give where something is entered, its choices said; what is kept stays."""
    widget: Any = field.field.widget
    if getattr(widget, "choices", None):
        widget.choices = [(value, chosen(words)) for value, words in widget.choices]
    return str(field)


def errors_said(errors: ErrorList) -> list[str]:
    """Say what speaks against what was entered, ours and what the framework says."""
    told: list[str] = []
    for one in errors.as_data():
        with translation.override("en"):
            plainly = [str(words) for words in one]
        # What the framework has in the language is not ours to say.
        told += [
            said(_as_entered(made)) if here == made else here
            for here, made in zip(map(str, one), plainly, strict=True)
        ]
    return told


def _as_entered(words: str) -> str:
    """Mark the figures of a sentence on what was entered: a field repeats its signs."""
    if not words.startswith("found "):
        return words
    return _FIGURE.sub(lambda figure: written(figure[0]), words)


def reasons_of(form: forms.Form) -> Iterable[str]:
    """Give all that speaks against a form, each with the label of its field."""
    for name, errors in form.errors.items():
        label = label_of(form.fields[name].label or "") if name in form.fields else ""
        for error in errors_said(errors):
            yield InWords(f"{label}: {error}" if label else error)
