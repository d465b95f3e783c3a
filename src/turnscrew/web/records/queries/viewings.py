"""Who looked at which record, and when?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from turnscrew.web.records.models import ContactLink, Item, Person, Photo, Viewing

_MOST = 60
"""Viewings shown; the rest are counted. [1]"""


@dataclass(frozen=True)
class Viewed:
    """One person, one record, one hour."""

    who: str
    what: str
    hour: datetime


def viewings_of(refs: Iterable[str]) -> tuple[list[Viewed], int]:
    """Give the latest viewings of some records, and how many there are."""
    about = Viewing.objects.filter(about__in=list(refs))
    rows = list(about[:_MOST])
    names = _names_of({row.who for row in rows})
    told = [Viewed(names.get(row.who, row.who), row.what, row.hour) for row in rows]
    return told, len(rows) if len(rows) < _MOST else about.count()


def viewings_of_device(item: Item) -> tuple[list[Viewed], int]:
    """Give who looked at the page and the photos of a device."""
    photos = Photo.objects.filter(job__item=item).values_list("ref", flat=True)
    return viewings_of([item.ref, *photos])


def _names_of(refs: set[str]) -> dict[str, str]:
    people = dict(Person.objects.filter(ref__in=refs).values_list("ref", "name"))
    links = ContactLink.objects.filter(ref__in=refs).values_list("ref", "name")
    return {**{ref: f"{name} of the customer" for ref, name in links}, **people}
