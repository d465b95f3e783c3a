"""What lies on the shelf, what is promised, and what is on its way?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from typing import Any

from django.db.models import F, Prefetch, Q
from django.http import Http404

from turnscrew.core.model.job_state import ENDED
from turnscrew.files.faults_file import read_faults
from turnscrew.web.records.models import (
    Allotment,
    DonorPart,
    Job,
    KnownGood,
    LookAlike,
    Lot,
    OrderLine,
    Part,
    PartFit,
    PartPhoto,
)
from turnscrew.web.records.queries.beyond import first_of
from turnscrew.web.records.queries.descriptions import (
    device_in,
    device_in_text,
    every_version,
    used_by,
)
from turnscrew.web.records.queries.item_page import journal_of
from turnscrew.web.records.queries.on_the_way import still_open

_COUNT_DAYS = 90
"""A part not counted for so long is asked for again; common practice. [days]"""

_MOST_PARTS = 500
_MOST_ORDERS = 20
"""Orders shown of a part beside those that are still open. [1]"""


def parts_on_shelf(text: str = "") -> tuple[list[Part], int]:
    """Give the first parts, of those that match a text if any, and how many more."""
    rows = Part.objects.all()
    if text:
        rows = rows.filter(Q(number__icontains=text) | Q(description__icontains=text))
    else:
        rows = rows.filter(retired_on=None)
    return first_of(rows, _MOST_PARTS)


def retired_parts() -> list[Part]:
    """Give the parts that are out of use; their past stays readable."""
    return list(Part.objects.exclude(retired_on=None)[:500])


def to_count(now: datetime) -> list[Part]:
    """Give the parts whose turn it is to be counted."""
    since = now.date() - timedelta(days=_COUNT_DAYS)
    rows = Part.objects.filter(Q(counted_on=None) | Q(counted_on__lt=since))
    rows = rows.filter(retired_on=None)
    return list(rows.order_by(F("counted_on").asc(nulls_first=True), "number")[:50])


def shortages() -> list[Part]:
    """Give the parts of which more is promised or taken than is there."""
    rows = Part.objects.filter(Q(on_hand__lt=0) | Q(promised__gt=F("on_hand")))
    return list(rows)


def below_reorder_point() -> list[Part]:
    """Give the small things that are to be bought again."""
    rows = Part.objects.filter(reorder_point__gt=0, retired_on=None)
    return list(rows.filter(on_hand__lte=F("reorder_point") + F("promised")))


def short_on_shelf() -> list[Part]:
    """Give what is short, and what lies at the point at which it is bought again."""
    rows = {part.pk: part for part in (*shortages(), *below_reorder_point())}
    return list(rows.values())


@dataclass(frozen=True)
class PartRecord:
    """All that is known of a part."""

    part: Part
    tells: list[LookAlike]
    allotments: list[Allotment]
    orders: list[OrderLine]
    n_orders_more: int
    lots: list[Lot]
    entries: list[Any]
    n_entries: int
    from_donors: list[DonorPart]
    photos: list[PartPhoto]
    fits: list[PartFit]
    never_fitted: list[str]


def part_record(part: Part) -> PartRecord:
    """Give the record of a part."""
    entries, n = journal_of(part.ref)
    live = [Allotment.PROMISED, Allotment.SHORT]
    fits = fits_of(part)
    orders, n_more = orders_of(part)
    return PartRecord(
        part=part,
        tells=tells_for([part]).get(part.pk, []),
        allotments=list(
            part.allotments.filter(state__in=live).select_related(
                "job__item", "donor_part__donor__job"
            )
        ),
        orders=orders,
        n_orders_more=n_more,
        lots=list(part.lots.prefetch_related("photos")[:20]),
        entries=entries,
        n_entries=n,
        from_donors=list(
            DonorPart.objects.filter(part=part)
            .filter(state__in=[DonorPart.UNTESTED, DonorPart.GOOD])
            .exclude(donor__job__state__in=ENDED)
            .select_related("donor__job__item")
        ),
        photos=list(part.photos.filter(is_known_good=True)),
        fits=fits,
        never_fitted=listed_fits(part, fits),
    )


def positions_of(job: Job) -> dict[str, str]:
    """Name the place each spare part has in the description of a device."""
    kept = used_by(job)
    if kept is None:
        return {}
    named: dict[str, list[str]] = {}
    for name, one in device_in(kept, job.revision).parts.items():
        if one.spare:
            named.setdefault(one.spare, []).append(name)
    return {spare: " + ".join(names)[:60] for spare, names in named.items()}


def fits_of(part: Part) -> list[PartFit]:
    """Give where a part was fitted, and where it is only said to fit."""
    rows = list(part.fits.select_related("job__item"))
    return sorted(rows, key=lambda one: not one.is_fact)


def listed_fits(part: Part, known: list[PartFit]) -> list[str]:
    """Name the revisions the parts list gives that it was never fitted to."""
    proven = {(one.model, one.revision) for one in known if one.is_fact}
    if not part.model:
        return []
    revisions = [one for one in part.revisions.split("+") if one]
    if not revisions:
        is_proven = any(model == part.model for model, _ in proven)
        return [] if is_proven else [part.model]
    return [
        f"{part.model} {revision}"
        for revision in revisions
        if (part.model, revision) not in proven
    ]


def orders_of(part: Part) -> tuple[list[OrderLine], int]:
    """
    Give all open orders of a part and the latest others, and how many are left out.

    Those called off are among them.
    """
    rows = list(part.orders.select_related("batch").order_by("-id"))
    latest = {row.pk for row in [row for row in rows if not row.n_open][:_MOST_ORDERS]}
    shown = [row for row in rows if row.n_open or row.pk in latest]
    return shown, len(rows) - len(shown)


def tells_for(parts: list[Part]) -> dict[int, list[LookAlike]]:
    """Give what tells parts from those they look like, by part."""
    rows = LookAlike.objects.filter(parts__in=parts).distinct()
    tells: dict[int, list[LookAlike]] = {}
    for row in rows.prefetch_related("parts"):
        for part in row.parts.all():
            tells.setdefault(part.pk, []).append(row)
    return tells


def open_orders(*refs: str) -> list[OrderLine]:
    """Give what is on its way and the orders named, the earliest expected first."""
    named = OrderLine.objects.filter(ref__in=refs)
    rows = (still_open() | named).select_related("part", "batch")
    return list(
        rows.prefetch_related(
            Prefetch("part__look_alikes", LookAlike.objects.prefetch_related("parts"))
        ).order_by(F("expected_on").asc(nulls_last=True), "id")
    )


def order_line(ref: str) -> OrderLine:
    """Give one order, whether all of it came or not."""
    line = OrderLine.objects.select_related("part", "batch").filter(ref=ref).first()
    if line is None:
        raise Http404
    return line


def known_good_set() -> list[KnownGood]:
    """Give what is known to be good, and what was withdrawn."""
    return list(KnownGood.objects.all())


@dataclass(frozen=True)
class NamedKnownGood:
    """A name that a fault table uses, and what of the set it stands for."""

    model: str
    name: str
    what: str
    tied: KnownGood | None


def tied_to(
    rows: Iterable[KnownGood], model: str, name: str, what: str
) -> KnownGood | None:
    """
    Give what a name of a fault table stands for in the workshop's set, if anything.

    The key given on the page decides; without one the name itself or its words must
    be the same.
    """
    fitting = [row for row in rows if row.fits.strip() in {"", model}]
    fitting.sort(key=lambda row: row.fits == "")
    for row in fitting:
        if row.key and row.key.lower() == name.lower():
            return row
    for row in fitting:
        if not row.key and row.what.strip().lower() in {name.lower(), what.lower()}:
            return row
    return None


def named_in_tables() -> list[NamedKnownGood]:
    """Give every name the newest fault tables use, those that stand for nothing too."""
    rows = known_good_set()
    seen: set[str] = set()
    named = []
    for one in every_version():
        if one.model in seen or one.state == one.WITHDRAWN:
            continue
        seen.add(one.model)
        named += [
            NamedKnownGood(one.model, name, what, tied_to(rows, one.model, name, what))
            for name, what in _known_good_in(one.text, one.faults_text)
        ]
    return named


@lru_cache(maxsize=64)
def _known_good_in(text: str, faults_text: str) -> tuple[tuple[str, str], ...]:
    if not faults_text:
        return ()
    table = read_faults(faults_text, device_in_text(text, ""))
    return tuple((name, item.what) for name, item in table.known_good.items())


def known_good_one(pk: int) -> KnownGood:
    """Give one of the known-good set."""
    one = KnownGood.objects.filter(pk=pk).first()
    if one is None:
        raise Http404
    return one
