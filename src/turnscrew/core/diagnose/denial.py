"""
Which words does a customer deny?

A word is denied if a no stands before it in the same clause, up to three words that
tell something away, or if a fine stands in its clause. What a device does is another
matter: to say no to it is to complain, as in "does not charge". So the words that stand
beside a no in the table's own phrases are not denied by one.
The lists of words are English and German and a choice.
"""

import re
from collections.abc import Iterable

from turnscrew.core.diagnose.words import STOP_WORDS, stems_of

_NO = frozenset(
    "no not never none neither nor nothing nobody without cannot cant dont doesnt didnt"
    " isnt arent wasnt werent wont hasnt havent hadnt couldnt wouldnt shouldnt aint"
    " nicht kein keine keinen keinem keiner keines nie niemals nichts ohne"
    " weder".split()
)
_FINE = frozenset(
    "fine well ok okay good perfect perfectly alright great gut okay heil einwandfrei"
    " tadellos".split()
)
_ONLY = frozenset("only just even yet nur erst".split())
"""A no before one of these denies nothing: not only the glass."""

_DOES = frozenset(
    stem
    for word in (
        "boot charge connect find hear hold light load network open picture power read"
        " react reception respond run scan see show shut signal sound start stay switch"
        " turn wake work bild einschalten geht laden licht netz reagiert startet strom"
        " ton"
    ).split()
    for stem in stems_of(word)
)
"""What a device does or gives: to deny it is to complain."""

_REACH = 3
_CLAUSE = re.compile(
    r"[.,;:!?()\n]+|\s-+\s|\b(?:but|and|aber|und|sondern)\b", re.IGNORECASE
)
_WORD = re.compile(r"[^\W\d_]+(?:['\u2019][^\W\d_]+)*")


def denied_in(text: str, phrases: Iterable[str]) -> frozenset[str]:
    """
    Find the words of a text that its writer denies.

    Parameters
    ----------
    text
        The text.
    phrases
        What signs are called in the table: words that stand after a no there are words
        of what a device does.

    Returns
    -------
    frozenset
        Stems of the words denied at least once.
    """
    does = _DOES.union(*(_after_no(clause) for p in phrases for clause in _clauses(p)))
    denied: set[str] = set()
    for clause in _clauses(text):
        no = _after_no(clause)
        denied |= no - does
        if any(word in _FINE and not _stems(word) & no for word in clause):
            denied |= {stem for word in clause for stem in _stems(word)}
    return frozenset(denied)


def _clauses(text: str) -> list[list[str]]:
    return [
        [re.sub("['\u2019]", "", said.lower()) for said in _WORD.findall(part)]
        for part in _CLAUSE.split(text)
    ]


def _after_no(clause: list[str]) -> set[str]:
    """Give the stems of the first words that tell something after a no."""
    found: set[str] = set()
    for n, word in enumerate(clause):
        rest = clause[n + 1 :]
        if word in _NO and not (rest and rest[0] in _ONLY):
            telling = [one for one in rest if one not in STOP_WORDS | _NO]
            found |= {stem for one in telling[:_REACH] for stem in _stems(one)}
    return found


def _stems(word: str) -> set[str]:
    return {*stems_of(word)}
