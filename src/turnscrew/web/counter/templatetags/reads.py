"""How money, people and devices read on the pages."""

from typing import Any

from django import template
from django.template.defaultfilters import floatformat
from django.utils import timezone, translation
from django.utils.formats import date_format
from django.utils.translation import gettext

from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.notation import with_signs_swapped
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.papers import fleet_report as fleet_words
from turnscrew.papers.batch import words
from turnscrew.web.counter.notation_now import (
    has_comma,
    is_sign_other,
    notation,
    says,
)

register = template.Library()

_BOOKS = {"de": Phrasebook(GERMAN)}

_HAZARDS = ("pack", "liquid", "glass", "contaminated", "wet")


@register.filter
def money(minor: int | None) -> str:
    """Write an amount without its currency."""
    return notation().money(minor, has_comma=has_comma())


@register.filter
def said(words: Any) -> str:
    """Say what was made in English in the language of whoever reads it."""
    book = _BOOKS.get(translation.get_language() or "")
    # Amounts stay: a refusal repeats what was entered, letter for letter.
    return figures(book.says(str(words)) if book and words else str(words))


@register.filter
def figures(words: Any) -> str:
    """Write lengths and numbers with a unit as the workshop reads them."""
    return says(str(words))


@register.filter
def decimal(value: Any, places: int) -> str:
    """Write a number with some decimals."""
    told: str = floatformat(value, places)
    return with_signs_swapped(told) if is_sign_other() else told


@register.filter
def length_in(mm: Any) -> str:
    """Write a length that is kept in millimetres."""
    return "" if mm is None else said(f"{mm} mm")


@register.filter
def day(value: Any) -> str:
    """Write a day with its year."""
    return _dated(value, "j M Y")


@register.filter
def short_day(value: Any) -> str:
    """Write a day of this year."""
    return _dated(value, "j M")


@register.filter
def moment(value: Any) -> str:
    """Write a day and the time of it."""
    return _dated(value, "j M H:i")


@register.filter
def long_day(value: Any) -> str:
    """Write a day with the day of the week."""
    return _dated(value, "l j F Y")


def _dated(value: Any, form: str) -> str:
    if not value:
        return ""
    is_moment = hasattr(value, "tzinfo") and value.tzinfo is not None
    local = timezone.localtime(value) if is_moment else value
    return date_format(local, gettext(form))


@register.filter
def labelled(field: Any) -> str:
    """Give the label of a field in the language of whoever reads it."""
    told: str = field.label_tag(gettext(field.label))
    return told


@register.filter
def faults(answer: Any, device: Any) -> str:
    """Write the faults of a device."""
    return words.fault_words(answer, device)


@register.filter
def decision(device: Any) -> str:
    """Write what was decided for a device."""
    return words.DECISION_WORDS[device.decision.code]


@register.filter
def dated(answer: Any, day: int | None) -> str:
    """Write a workshop day with its date."""
    return words.day_words(answer, day)


@register.filter
def under(mapping: Any, key: Any) -> Any:
    """Look something up."""
    return mapping.get(key)


@register.filter
def caution(answer: Any, device: Any) -> list[str]:
    """Give the cautions of a device, to stand where it is acted on."""
    return words.cautions_for(answer, device)


@register.filter
def hazards(device: Any) -> list[str]:
    """Give in a word each what is dangerous about a device."""
    kinds = (hold.kind for hold in device.holds)
    return [kind for kind in dict.fromkeys(kinds) if kind in _HAZARDS]


@register.filter
def by_day(answer: Any, device: Any) -> str:
    """Write the day at whose start the answer for a device must be in hand."""
    return words.day_words(answer, answer.answer_by[device.name])


@register.filter
def percent(p: float) -> str:
    """Write a probability."""
    # Played, not proven: nothing is ever told as certain.
    if p >= 0.995:
        return "over 99 %"
    return "under 1 %" if p < 0.005 else f"{p:.0%}"


_REFERENCES = ("job", "order", "part", "tranche", "earlier", "return", "waste")


@register.filter
def told(entry: Any) -> str:
    """Write what an entry of a journal says, without the references of its records."""
    facts = [
        f"{key} {_amount(key, value)}"
        for key, value in entry.told.items()
        if key not in _REFERENCES
    ]
    return ": ".join(filter(None, [entry.verb, ", ".join(facts)]))


def _amount(key: str, value: Any) -> str:
    return money(value) if key in {"minor", "net", "minor was"} else str(value)


@register.filter
def whole(amount: float) -> int:
    """Round an amount to whole minor units."""
    return round(amount)


@register.filter
def advice(one: Any, names: Any) -> str:
    """Write a piece of advice with its fault by name."""
    told: str = one.worded(names.get(one.cause, ""))
    return told


@register.filter
def advice_alone(one: Any, names: Any) -> str:
    """Write a piece of advice for somebody whom costs are not for."""
    told: str = one.worded(names.get(one.cause, ""), with_money=False)
    return told


@register.filter
def fleet_summary(report: Any) -> str:
    """Write a fleet in one sentence."""
    return fleet_words.summary(report)


@register.filter
def fleet_few(report: Any) -> str:
    """Write where there are few data."""
    return fleet_words.few_words(report)


@register.filter
def fleet_silence(report: Any) -> str:
    """Write that there is nothing to advise."""
    return fleet_words.silence(report)


@register.filter
def tenth_years(life: Any) -> str:
    """Write the age by which one in ten has failed."""
    return fleet_words.tenth_words(life)


@register.filter
def shape_words(life: Any) -> str:
    """Write the shape of the law of a life."""
    return fleet_words.shape_words(life)


@register.filter
def way_words(life: Any) -> str:
    """Write how a part fails."""
    return fleet_words.WAYS[life.way]
