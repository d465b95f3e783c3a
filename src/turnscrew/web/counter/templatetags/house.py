"""How the pages of the house read: stock, money, fleet, people and journals."""

from typing import Any

from django import template
from django.utils import translation

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.german.counter_house import ACTIONS, ANSWERS
from turnscrew.core.model.german.journal import (
    JOURNAL_ACTS,
    JOURNAL_FACTS,
    JOURNAL_VERBS,
    JOURNAL_WHAT,
    JOURNAL_WORDS,
    OF_OURS,
)
from turnscrew.core.model.phrasebook import Phrasebook, in_figures
from turnscrew.core.reconcile.danger_words import BY_TESTS, ISOLATED
from turnscrew.web.counter.spoken import telling
from turnscrew.web.counter.templatetags import reads
from turnscrew.web.records.services.bench_findings import LOOKED

register = template.Library()

_AS_WRITTEN = {"de": Phrasebook(GERMAN_COUNTER, marks=("", ""))}
_VERBS = {"de": JOURNAL_VERBS}
_FACTS = {"de": JOURNAL_FACTS}
_WORDS = {"de": JOURNAL_WORDS}
_ACTS = {"de": JOURNAL_ACTS}
_ANSWERS = {"de": ANSWERS}
_WHAT = {"de": JOURNAL_WHAT}
_REFERENCES = ("job", "order", "part", "tranche", "earlier", "return", "waste")
_OUR_NOTES = {*BY_TESTS.values(), LOOKED}
"""Words of findings that a bench writes by itself."""

_AMOUNTS = {"minor", "net", "minor was"}


@register.filter
def known(words: Any) -> str:
    """Say one of our words; what somebody put in its place stays as it was written."""
    text = str(words or "")
    book = _AS_WRITTEN.get(translation.get_language() or "")
    return reads.figures(book.says(text) if book and text else text)


@register.filter
def noted(words: str) -> str:
    """Write the words of a finding as they were typed; what is in ours is turned."""
    if words in _OUR_NOTES:
        return known(words)
    if not words.startswith(ISOLATED):
        return words
    return f"{known(ISOLATED.rstrip(': '))}: {known(words.removeprefix(ISOLATED))}"


@register.filter
def who_may(sign_offs: str) -> str:
    """Write which sign-offs are asked for; a skill stays as it was written."""
    return telling().says(sign_offs) if "a lead for " in sign_offs else sign_offs


@register.filter
def answered(answer: str) -> str:
    """Write the answer of a test."""
    told = _ANSWERS.get(translation.get_language() or "", {}).get(answer)
    return told or reads.said(answer)


@register.filter
def told(words: Any) -> str:
    """Say a sentence of ours with the amounts and days in it."""
    return telling().says(str(words)) if words else ""


@register.filter
def stroke_words(action: str) -> str:
    """Write what a stroke at the bench stood for: a verb and a kind."""
    if translation.get_language() != "de":
        return action
    begun = (
        verb for verb in ACTIONS if action == verb or action.startswith(f"{verb} ")
    )
    verb = max(begun, key=len, default="")
    kind = known(action.removeprefix(verb).strip())
    return f"{kind} {ACTIONS.get(verb, '')}".strip()


@register.filter
def entry_words(entry: Any) -> str:
    """Write what an entry of a journal says, without the references of its records."""
    language = translation.get_language() or ""
    verbs, names = _VERBS.get(language, {}), _FACTS.get(language, {})
    facts = [
        f"{names.get(key, key)} {_fact(key, value)}"
        for key, value in entry.told.items()
        if key not in _REFERENCES
    ]
    verb = verbs.get(entry.verb, entry.verb)
    return ": ".join(filter(None, [verb, ", ".join(facts)]))


@register.filter
def entry_why(text: str) -> str:
    """Write the words to an entry: those nobody wrote in the language of the page."""
    return _WORDS.get(translation.get_language() or "", {}).get(text, text)


def _fact(key: str, value: Any) -> str:
    if key in _AMOUNTS:
        return reads.money(value)
    if isinstance(value, bool) or value is None:
        return known(str(value))
    if key in {"act", "does"}:
        acts = _ACTS.get(translation.get_language() or "", {})
        return acts.get(value) or known(value)
    if key in {"holder", "place"}:
        return reads.chosen(value)
    if key in OF_OURS:
        return known(value)
    if key == "what":
        names = _WHAT.get(translation.get_language() or "", {})
        return ", ".join(names.get(one, one) for one in str(value).split(", "))
    return in_figures(str(value)) if translation.get_language() == "de" else str(value)
