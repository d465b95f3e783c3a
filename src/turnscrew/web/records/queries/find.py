"""Which record does a scanned or typed text mean?"""

from dataclasses import dataclass, field
from itertools import chain
from typing import TypeVar

from django.http import Http404

from turnscrew.core.model.check_character import is_sound
from turnscrew.core.model.job_state import ENDED
from turnscrew.core.model.serials import plain
from turnscrew.core.reconcile.serials import slip_between
from turnscrew.errors import BadArgumentError
from turnscrew.web.records.models import Asset, Batch, Invoice, Item, Job, Part, Person
from turnscrew.web.records.queries.item_page import items_bearing
from turnscrew.web.records.queries.spelled import spelled

_Row = TypeVar("_Row")

_LONGEST_LINE = 4
_SHORTEST_NEAR = 4
"""Of shorter ones nearly every number is one slip away. [1]"""

_MOST = 20
"""More than these are not listed; the text must say more."""


@dataclass(frozen=True)
class Beside:
    """A device that a text does not name, but nearly, and how it differs."""

    item: Item
    says: str


@dataclass(frozen=True)
class Found:
    """What a text may mean; ``says`` tells what is wrong with it."""

    jobs: list[Job] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    batches: list[Batch] = field(default_factory=list)
    says: str = ""
    beside: list[Beside] = field(default_factory=list)

    @property
    def n(self) -> int:
        return len(self.items) + len(self.parts) + len(self.batches)


def found(text: str) -> Found:
    """Look a workshop number, serial, owner's number, part or batch up."""
    # Some scanners send the asterisks that frame a code.
    wanted = text.strip().strip("*").strip()
    if not wanted:
        return Found(says="nothing was scanned or typed")
    job = Job.objects.select_related("item", "batch").filter(number=wanted.upper())
    if job:
        return Found(jobs=list(job), items=[job[0].item])
    if _is_slip(wanted.upper()):
        return Found(says=f"{wanted}: the check character is wrong, look again")
    either = [wanted, wanted.upper()]
    bearing = items_bearing(serials=either, numbers=either) or _here_as(wanted)
    items = Item.objects.filter(pk__in=bearing).select_related("customer")
    items = items.prefetch_related("jobs", "assets").order_by("pk")[:_MOST]
    parts = Part.objects.filter(spelled("number", wanted))[:_MOST]
    batches = Batch.objects.filter(name__icontains=wanted)[:_MOST] if not items else []
    if items or parts or batches:
        return Found(items=list(items), parts=list(parts), batches=list(batches))
    beside = [*_gone_as(wanted), *_nearly(wanted)]
    return Found(says=f"{wanted}: not on record", beside=beside[:_MOST])


def _gone_as(wanted: str) -> list[Beside]:
    """Give the devices that bore a line of a batch and are gone, the latest first."""
    if not _is_line(wanted):
        return []
    jobs = Job.objects.filter(line=int(wanted), state__in=ENDED).order_by("-id")
    rows = jobs.select_related("item__customer", "batch")[:_MOST]
    return [Beside(job.item, f"{job.state}, {job.batch.name}") for job in rows]


def _nearly(wanted: str) -> list[Beside]:
    """Give the devices whose serial or owner's number is one slip away."""
    if len(plain(wanted)) < _SHORTEST_NEAR:
        return []
    serials = Item.objects.exclude(serial="").values_list("pk", "serial")
    numbers = Asset.objects.values_list("item", "number")
    slips = {
        pk: f"{text}: {slip}"
        for pk, text in chain(serials.iterator(), numbers.iterator())
        if (slip := slip_between(wanted, text))
    }
    rows = Item.objects.filter(pk__in=list(slips)[:_MOST]).select_related("customer")
    return [Beside(item, slips[item.pk]) for item in rows.order_by("pk")]


def _here_as(wanted: str) -> set[int]:
    """Give the items that bear a number in a batch that is still here."""
    if not _is_line(wanted):
        return set()
    jobs = Job.objects.filter(line=int(wanted)).exclude(state__in=ENDED)
    return set(jobs.values_list("item_id", flat=True))


def _is_line(wanted: str) -> bool:
    return len(wanted) <= _LONGEST_LINE and wanted.isascii() and wanted.isdigit()


def _is_slip(text: str) -> bool:
    """Say whether a text looks like a number of ours with a wrong check character."""
    if not (10 <= len(text) <= 12 and text[:-1].isascii() and text[:-1].isdigit()):
        return False
    try:
        return not is_sound(text)
    except BadArgumentError:
        return False


def batch_named(ref: str) -> Batch:
    """Give a batch by its reference."""
    return _one(Batch.objects.select_related("customer").filter(ref=ref).first())


def batch_with_terms(ref: str) -> Batch:
    """Give a batch that was received here; closed jobs from before have no terms."""
    batch = batch_named(ref)
    if not batch.terms_text:
        raise Http404
    return batch


def item_named(ref: str) -> Item:
    """Give an item by its reference."""
    return _one(Item.objects.select_related("customer").filter(ref=ref).first())


def job_named(ref: str) -> Job:
    """Give a job by its reference."""
    rows = Job.objects.select_related("item", "batch__customer")
    return _one(rows.filter(ref=ref).first())


def part_named(number: str) -> Part:
    """Give a part by its number."""
    if "\0" in number:
        # PostgreSQL keeps no such character, and refuses to look for it.
        raise Http404
    return _one(Part.objects.filter(number=number).first())


def part_told(number: str) -> Part:
    """Give the part somebody named, or say that none has that number."""
    part = Part.objects.filter(spelled("number", number.strip())).first()
    if part is None:
        raise BadArgumentError(
            f"part: found no {number.strip()}, wanted a number on record"
        )
    return part


def job_numbered(number: str) -> Job | None:
    """Give the job with a number of ours; none if none was named."""
    wanted = number.strip().upper()
    if not wanted:
        return None
    job = Job.objects.filter(number=wanted).first()
    if job is None:
        raise BadArgumentError(f"device: found no {wanted}, wanted a number of ours")
    return job


def invoice_named(ref: str) -> Invoice:
    """Give an invoice by its reference."""
    rows = Invoice.objects.select_related("batch__customer")
    return _one(rows.filter(ref=ref).first())


def person_named(ref: str) -> Person:
    """Give a person by their reference."""
    return _one(Person.objects.filter(ref=ref).first())


def _one(row: _Row | None) -> _Row:
    if row is None:
        raise Http404
    return row
