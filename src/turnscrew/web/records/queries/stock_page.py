"""What lies on the shelf, what is promised, and what is on its way?"""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.db.models import F, Prefetch, Q
from django.http import Http404

from turnscrew.web.records.models import (
    Allotment,
    DonorPart,
    KnownGood,
    LookAlike,
    Lot,
    OrderLine,
    Part,
    PartPhoto,
)
from turnscrew.web.records.queries.item_page import journal_of

_COUNT_DAYS = 90
"""A part not counted for so long is asked for again; common practice. [days]"""


def parts_on_shelf(text: str = "") -> list[Part]:
    """Give the parts, those that match a text if one is given."""
    rows = Part.objects.all()
    if text:
        rows = rows.filter(Q(number__icontains=text) | Q(description__icontains=text))
    return list(rows[:500])


def to_count(now: datetime) -> list[Part]:
    """Give the parts whose turn it is to be counted."""
    since = now.date() - timedelta(days=_COUNT_DAYS)
    rows = Part.objects.filter(Q(counted_on=None) | Q(counted_on__lt=since))
    return list(rows.order_by(F("counted_on").asc(nulls_first=True), "number")[:50])


def shortages() -> list[Part]:
    """Give the parts of which more is promised or taken than is there."""
    rows = Part.objects.filter(Q(on_hand__lt=0) | Q(promised__gt=F("on_hand")))
    return list(rows)


def below_reorder_point() -> list[Part]:
    """Give the small things that are to be bought again."""
    rows = Part.objects.filter(reorder_point__gt=0)
    return list(rows.filter(on_hand__lte=F("reorder_point") + F("promised")))


@dataclass(frozen=True)
class PartRecord:
    """All that is known of a part."""

    part: Part
    tells: list[LookAlike]
    allotments: list[Allotment]
    orders: list[OrderLine]
    lots: list[Lot]
    entries: list[Any]
    n_entries: int
    from_donors: list[DonorPart]
    photos: list[PartPhoto]


def part_record(part: Part) -> PartRecord:
    """Give the record of a part."""
    entries, n = journal_of(part.ref)
    live = [Allotment.PROMISED, Allotment.SHORT]
    return PartRecord(
        part=part,
        tells=tells_for([part]).get(part.pk, []),
        allotments=list(
            part.allotments.filter(state__in=live).select_related("job__item")
        ),
        orders=list(part.orders.select_related("batch").order_by("-id")[:20]),
        lots=list(part.lots.prefetch_related("photos")[:20]),
        entries=entries,
        n_entries=n,
        from_donors=list(
            DonorPart.objects.filter(part=part)
            .exclude(state__in=[DonorPart.USED, DonorPart.BAD])
            .exclude(donor__job__state="disposed")
            .select_related("donor__job__item")
        ),
        photos=list(part.photos.filter(is_known_good=True)),
    )


def tells_for(parts: list[Part]) -> dict[int, list[LookAlike]]:
    """Give what tells parts from those they look like, by part."""
    rows = LookAlike.objects.filter(parts__in=parts).distinct()
    tells: dict[int, list[LookAlike]] = {}
    for row in rows.prefetch_related("parts"):
        for part in row.parts.all():
            tells.setdefault(part.pk, []).append(row)
    return tells


def open_orders(today: date) -> list[OrderLine]:
    """Give what is on its way, the earliest expected first."""
    rows = OrderLine.objects.filter(
        n__gt=F("n_received") + F("n_rejected")
    ).select_related("part", "batch")
    return list(
        rows.prefetch_related(
            Prefetch("part__look_alikes", LookAlike.objects.prefetch_related("parts"))
        ).order_by(F("expected_on").asc(nulls_last=True), "id")
    )


def known_good_set() -> list[KnownGood]:
    """Give what is known to be good, and what was withdrawn."""
    return list(KnownGood.objects.all())


def known_good_one(pk: int) -> KnownGood:
    """Give one of the known-good set."""
    one = KnownGood.objects.filter(pk=pk).first()
    if one is None:
        raise Http404
    return one
