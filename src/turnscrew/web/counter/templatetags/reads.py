"""How money, people and devices read on the pages."""

import re
from typing import Any

from django import template
from django.template.defaultfilters import floatformat
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext

from turnscrew.core.model import amounts
from turnscrew.core.model.notation import with_signs_swapped
from turnscrew.papers import fleet_words
from turnscrew.papers.batch import decision_words, words
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import spoken as speaking
from turnscrew.web.counter.notation_now import (
    has_comma,
    is_sign_other,
    notation,
    says,
)

register = template.Library()

_HAZARDS = ("pack", "liquid", "glass", "contaminated", "wet")


@register.filter
def money(minor: int | None) -> str:
    """Write an amount without its currency."""
    return notation().money(minor, has_comma=has_comma())


@register.filter
def in_currency(amount: str, currency: str) -> str:
    """Write the currency behind an amount, as the terms name it."""
    return f"{amount} {currency}".strip()


@register.filter
def said(words: Any) -> str:
    """Say what was made in English in the language of whoever reads it."""
    return speaking.said(words)


@register.filter
def minutes(words: Any) -> str:
    """Say minutes with their limits, thousands parted as the language does."""
    told = said(words)
    is_swapped = has_comma() and not is_sign_other()
    return _THOUSANDS.sub(".", told) if is_swapped else told


@register.filter
def speech(answer: Any) -> Any:
    """Give how is said what was reckoned of a batch."""
    return speaking.speech_of(answer)


@register.filter
def spoken(words: Any, by: Any) -> str:
    """Say what was reckoned of a batch, with what people wrote in it as it is."""
    told: str = by.line(str(words))
    return told


@register.filter
def figures(words: Any) -> str:
    """Write lengths and numbers with a unit as the workshop reads them."""
    return says(str(words))


@register.filter
def decimal(value: Any, places: int) -> str:
    """Write a number with some decimals."""
    told: str = floatformat(value, places)
    return with_signs_swapped(told) if is_sign_other() else told


_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3})")


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
def week_day(value: Any) -> str:
    """Write a day of this year with the day of the week."""
    return _dated(value, "D j M")


@register.filter
def week_day_of_year(value: Any) -> str:
    """Write a day with its year and the day of the week."""
    return _dated(value, "D j M Y")


@register.filter
def moment_of_year(value: Any) -> str:
    """Write a day with its year and the time of it."""
    return _dated(value, "j M Y H:i")


@register.filter
def labelled(field: Any) -> str:
    """Give the label of a field in the language of whoever reads it."""
    told: str = field.label_tag(speaking.label_of(field.label))
    return told


@register.filter
def entry(field: Any) -> str:
    """Give where something is entered, with its choices in that language."""
    return speaking.entry_of(field)


@register.filter
def chosen(word: Any) -> str:
    """Say one of several words to choose from."""
    return speaking.chosen(word)


@register.filter
def wrongs(errors: Any) -> list[str]:
    """Say what speaks against what was entered."""
    return speaking.errors_said(errors)


@register.filter
def faults(answer: Any, device: Any) -> str:
    """Write the faults of a device, as the terms name them."""
    told = words.fault_words(answer, device)
    return told if answer.batch.terms.faults_of(device.line) else said(told)


@register.filter
def besides(answer: Any, device: Any) -> str:
    """Write what a price is for, where a promise covers the rest of a device."""
    told = decision_words.besides_written(answer, device)
    return str(speaking.speech_of(answer).line(told)) if told else ""


@register.filter
def decision(answer: Any, device: Any) -> str:
    """Write what was decided for a device, or what is next after a no."""
    return said(decision_words.decided_words(answer, device))


@register.filter
def code_words(code: Any) -> str:
    """Write what a quote on record decided."""
    return said(decision_words.DECISION_WORDS.get(code, code))


@register.filter
def observed(hold: Any) -> Any:
    """Write what is to be observed, with what it was seen by as it was written."""
    return words.hold_written(hold)


@register.filter
def line_words(line: Any) -> str:
    """Write a line of an invoice; a part is called as it is called on the shelf."""
    is_part = line.kind == "parts" and not line.says.startswith("credit: ")
    return said(written(line.says) if is_part else line.says)


@register.filter
def dated(answer: Any, day: int | None) -> str:
    """Write a workshop day with its date."""
    return said(words.day_words(answer, day))


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
def adapter_words(stand: Any) -> str:
    """Write how an adapter stands; what it is called stays as it was written."""
    kind = stand.accessory.kind
    return said(f"{written(kind)}{stand.says.removeprefix(kind)}")


@register.filter
def by_day(answer: Any, device: Any) -> str:
    """Write the day at whose start the answer for a device must be in hand."""
    return said(words.latest_words(answer, answer.answer_by[device.name]))


@register.filter
def percent(p: float) -> str:
    """Write a probability."""
    # Played, not proven: nothing is ever told as certain.
    return said(amounts.sureness(p))


@register.filter
def whole(amount: float) -> int:
    """Round an amount to whole minor units."""
    return round(amount)


@register.filter
def advice(one: Any, names: Any) -> str:
    """Write a piece of advice, or what comes again, with its fault by name."""
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
def fleet_age(report: Any) -> str:
    """Write what a star beside a figure to come means."""
    return fleet_words.age_words(report)


@register.filter
def fleet_star(report: Any, one: Any) -> str:
    """Mark a figure to come where nothing is known of what age does."""
    return fleet_words.star(report, one)


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
