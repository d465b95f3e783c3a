"""How does a list of spare parts come into the records?"""

from collections.abc import Iterable
from datetime import datetime

from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.web.records import convert
from turnscrew.web.records.models import LookAlike, Part, Person
from turnscrew.web.records.services.keep import keep, require_room
from turnscrew.web.records.services.stock import move_stock
from turnscrew.web.records.services.writing import writing


@writing
def keep_parts(
    parts: Iterable[SparePart],
    terms: Terms | None = None,
    *,
    by: Person,
    now: datetime,
) -> int:
    """
    Bring a parts list into the records, and give how many parts were new.

    What is known already is left alone; only a point at which a known part is bought
    again is taken where none was set. Terms say which parts look alike.
    """
    known = {part.number: part for part in Part.objects.all()}
    new = []
    for spare in parts:
        if spare.part in known:
            _keep_point(known[spare.part], spare.reorder_point, now)
        else:
            part = Part(number=spare.part, **convert.part_fields(spare))
            new.append((part, spare))
    require_room((part for part, _ in new), lambda part: f"part {part.number:.40}, ")
    for part, spare in new:
        keep(part, now)
        if spare.stock:
            move_stock(
                part, "received", spare.stock, by=by, now=now, words="opening stock"
            )
    if terms is not None:
        _keep_look_alikes(terms)
    return len(new)


def _keep_look_alikes(terms: Terms) -> None:
    """Keep which parts look alike; several pairs may be told apart in one way."""
    known = {
        (alike.tell, frozenset(part.number for part in alike.parts.all()))
        for alike in LookAlike.objects.prefetch_related("parts")
    }
    for pair in terms.look_alikes:
        if (pair.tell, frozenset(pair.parts)) not in known:
            alike = LookAlike.objects.create(tell=pair.tell)
            alike.parts.set(Part.objects.filter(number__in=pair.parts))


def _keep_point(part: Part, n: int, now: datetime) -> None:
    if n and not part.reorder_point:
        part.reorder_point = n
        keep(part, now)
