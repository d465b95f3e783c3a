"""Who may see and do what? To anybody else it is not there."""

from collections.abc import Mapping
from typing import Any

from django.http import Http404

from turnscrew.web.records.models import Person

_EVERYBODY = frozenset({Person.LEAD, Person.HELPER, Person.DESK})
MAY: Mapping[str, frozenset[str]] = {
    "look": _EVERYBODY,
    "bench": frozenset({Person.LEAD, Person.HELPER}),
    "stock": _EVERYBODY,
    "counter": frozenset({Person.LEAD, Person.DESK}),
    "money": frozenset({Person.LEAD, Person.DESK}),
    "people": frozenset({Person.LEAD}),
    "audit": frozenset({Person.LEAD}),
}
"""Rights by what is done."""


def person_of(user: Any) -> Person | None:
    """Give who an account belongs to, while they work here."""
    if not user.is_authenticated:
        return None
    person = Person.objects.filter(user=user, has_left=False).first()
    return person


def may(person: Person | None, what: str) -> bool:
    """Say whether somebody may do something."""
    return person is not None and person.rights in MAY[what]


def allow(person: Person | None, what: str) -> Person:
    """Give the person back if they may; else nothing is there."""
    if person is None or not may(person, what):
        raise Http404
    return person
