"""How money, people and devices read on the pages."""

from typing import Any

from django import template

from turnscrew.papers.batch import words

register = template.Library()

_HAZARDS = ("pack", "liquid", "glass", "contaminated", "wet")


@register.filter
def money(minor: int | None) -> str:
    """Write an amount without its currency."""
    return words.money(minor)


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


_REFERENCES = ("job", "order", "part", "tranche", "earlier")


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
    return words.money(value) if key in {"minor", "net"} else str(value)
