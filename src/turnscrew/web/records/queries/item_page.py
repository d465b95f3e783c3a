"""What is known of one body, its whole past among it?"""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.db.models import Prefetch
from django.http import Http404

from turnscrew.core.model.hold import Hold
from turnscrew.core.model.job_state import ENDED, may_follow
from turnscrew.core.reconcile.remarks import observed_holds
from turnscrew.papers.batch.words import cautions_of
from turnscrew.web.records.convert import ledger_entry, standing_of
from turnscrew.web.records.models import (
    Allotment,
    Asset,
    Entry,
    Finding,
    Invoice,
    Item,
    Job,
    Part,
    Person,
)
from turnscrew.web.records.queries.again import ThirdTime, third_time
from turnscrew.web.records.queries.batch_input import line_now
from turnscrew.web.records.queries.data_terms import terms_words
from turnscrew.web.records.queries.packs import pack_caution
from turnscrew.web.records.queries.passed_over import passed_over_of
from turnscrew.web.records.queries.sheet_told import RunSheet, sheets_of
from turnscrew.web.records.queries.taken_out import taken_out_of
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.refusal import RefusedError

MOST_ENTRIES = 200
"""Journal entries on a page of their own. [1]"""

_LATEST = 40
"""Journal entries shown of a job; the rest are counted. [1]"""


@dataclass(frozen=True)
class ItemRecord:
    """All that a scan of a device shows."""

    item: Item
    jobs: list[Job]
    assets: list[Asset]
    current: Job | None
    entries: list[Any] = field(default_factory=list)
    n_entries: int = 0
    others: list[Item] = field(default_factory=list)
    next_states: tuple[str, ...] = ()
    holder: str = ""
    cautions: list[str] = field(default_factory=list)
    holds: tuple[Hold, ...] = ()
    must_isolate: bool = False
    sheets: list[RunSheet] = field(default_factory=list)
    data_terms: str = ""
    again: ThirdTime | None = None

    @property
    def is_rushed(self) -> bool:
        """Say whether tests were only ticked and nobody has looked into it."""
        return any(one.is_to_be_seen for one in self.sheets)


@dataclass(frozen=True)
class JournalPage:
    """Entries about one device, part or invoice."""

    ref: str
    entries: list[Any]
    n: int
    page: int
    n_pages: int
    item: Item | None
    is_of_money: bool

    @property
    def newer(self) -> int:
        return self.page - 1

    @property
    def older(self) -> int:
        return self.page + 1 if self.page < self.n_pages else 0


def item_record(item: Item, now: datetime) -> ItemRecord:
    """Give the record of an item in a fixed number of reads."""
    jobs = list(
        Job.objects.filter(item=item)
        .select_related("batch", "comeback_of__batch")
        .prefetch_related(
            Prefetch("findings", Finding.objects.select_related("by")),
            Prefetch("allotments", Allotment.objects.select_related(
                "part", "donor_part__donor__job"
            )),
            "quotes", "approvals", "accessories", "data_parts", "photos",
        )
        .order_by("-batch__received", "-id")
    )  # fmt: skip
    passed, taken = passed_over_of(jobs), taken_out_of(jobs)
    for job in jobs:
        job.taken_out = taken.get(job.pk, ())  # type: ignore[attr-defined]
        job.passed_over = passed.get(job.pk, ())  # type: ignore[attr-defined]
    current = next((job for job in jobs if job.state not in ENDED), None)
    shown = current or (jobs[0] if jobs else None)
    assets = list(item.assets.all())
    holds, cautions = dangers_of(current) if current else ((), [])
    entries, n = journal_of(shown.ref) if shown else ([], 0)
    return ItemRecord(
        item=item,
        jobs=jobs,
        assets=assets,
        current=current,
        entries=entries,
        n_entries=n,
        others=_others(item, [asset.number for asset in assets]),
        next_states=may_follow(standing_of(current)) if current else (),
        cautions=cautions,
        holds=holds,
        must_isolate=bool(
            current
            and any(hold.kind == "pack" for hold in holds)
            and pack_caution(current, now)
        ),
        holder=names_of([current.holder])[current.holder] if current else "",
        sheets=sheets_of(shown) if shown else [],
        data_terms=terms_words(current, now.date()) if current else "",
        again=third_time(current) if current else None,
    )


def dangers_of(job: Job) -> tuple[tuple[Hold, ...], list[str]]:
    """Give what must be observed of a device, and the cautions that belong to it."""
    terms = terms_of(job.batch)
    line = line_now(job)
    holds = observed_holds(line, terms)
    return holds, cautions_of(terms.faults_of(line), holds)


def _others(item: Item, numbers: list[str]) -> list[Item]:
    """Give other bodies that bore the same owner's number or serial."""
    same = items_bearing(serials=[item.serial], numbers=numbers) - {item.pk}
    rows = Item.objects.filter(pk__in=same, customer=item.customer_id)
    return list(rows.order_by("pk")[:_LATEST])


def items_bearing(serials: list[str], numbers: list[str]) -> set[int]:
    """
    Give the bodies that bear, or bore, one of some serials or owner's numbers.

    Each is asked for by itself, so that both find their index however many there are.
    """
    known = [one for one in serials if one]
    by_serial = Item.objects.filter(serial__in=known).values_list("pk", flat=True)
    by_number = Asset.objects.filter(number__in=numbers).values_list("item", flat=True)
    return {*by_serial, *by_number}


def journal_of(ref: str) -> tuple[list[Any], int]:
    """Give the latest entries about something, with names and words, and how many."""
    about = Entry.objects.filter(subject=ref)
    rows = _told(about)
    n = len(rows) if len(rows) < _LATEST else about.count()
    return rows, n


def journal_page(ref: str, page: int) -> JournalPage:
    """Give all entries about something, so many on a page, the latest first."""
    about = Entry.objects.filter(subject=ref)
    n = about.count()
    n_pages = -(-n // MOST_ENTRIES)
    if not 1 <= page <= n_pages:
        raise Http404
    first = (page - 1) * MOST_ENTRIES
    item = Item.objects.filter(jobs__ref=ref).first()
    is_of_money = Invoice.objects.filter(ref=ref).exists()
    if item is None and not is_of_money and not Part.objects.filter(ref=ref).exists():
        # What is written of people is for nobody's eyes but in its own place.
        raise Http404
    told = _told(about, first, MOST_ENTRIES)
    return JournalPage(ref, told, n, page, n_pages, item, is_of_money)


def journal_of_verb(verb: str, subjects: set[str] | None = None) -> list[Any]:
    """Give the latest entries of one verb, about some things alone if named."""
    about = Entry.objects.filter(verb=verb)
    if subjects is not None:
        about = about.filter(subject__in=subjects)
    return _told(about)


def _told(about: Any, first: int = 0, most: int = _LATEST) -> list[Any]:
    """Give the latest of some entries with names and words."""
    latest = about.select_related("words").order_by("-at", "-id")
    rows = list(latest[first : first + most])
    told = [ledger_entry(row) for row in rows]
    refs = [entry.author for entry in told] + [entry.text("holder") for entry in told]
    names = names_of(refs)
    for row, entry in zip(rows, told, strict=True):
        row.author_name = names[row.author]
        row.told = {
            key: names.get(str(value), value)
            for key, value in entry.facts.items()
            if value not in {"", None}
        }
    return rows


def names_of(refs: list[str]) -> dict[str, str]:
    """Give names for references of people; what is none stays as it is."""
    known = dict(Person.objects.filter(ref__in=set(refs)).values_list("ref", "name"))
    return {ref: known.get(ref, ref) for ref in refs}


def holders() -> list[tuple[str, str]]:
    """Give everybody who may hold a device, by reference."""
    people = Person.objects.filter(has_left=False).order_by("order", "id")
    return [(one.ref, one.name) for one in people]


def finding_of(job: Job, pk: int) -> Finding:
    """Give one finding of a job."""
    finding = job.findings.filter(pk=pk).first()
    if finding is None:
        raise RefusedError(f"finding: found {pk}, wanted the number of one listed here")
    return finding
