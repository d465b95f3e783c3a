"""Which rows does a program get to see, and in which shape?"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from django.db.models import Count, Prefetch, Q, QuerySet
from django.http import Http404

from turnscrew.core.ledger.entry import JournalName
from turnscrew.core.model.job_state import may_follow
from turnscrew.web.api import shapes
from turnscrew.web.records import convert
from turnscrew.web.records.models import (
    Asset,
    Batch,
    Entry,
    Finding,
    Head,
    Item,
    Job,
    Part,
)
from turnscrew.web.records.queries.past_jobs import told_past
from turnscrew.web.records.queries.reckoning import reckoned

PAGE = 50
_MOST = 50
"""Items found at once at most."""


def batches(page: int) -> shapes.BatchPage:
    """Give some batches, the newest first."""
    rows = Batch.objects.select_related("customer").order_by("-received", "-id")
    n_pages = -(-Batch.objects.count() // PAGE)
    shown = rows.annotate(n_devices=Count("jobs"))[(page - 1) * PAGE : page * PAGE]
    return shapes.BatchPage(
        page=page, n_pages=n_pages, batches=[_batch_short(row) for row in shown]
    )


def batch_full(batch: Batch) -> shapes.BatchFull:
    """Give a batch, and how its devices stand."""
    states = Counter(batch.jobs.values_list("state", flat=True))
    return shapes.BatchFull(
        ref=batch.ref,
        name=batch.name,
        received=batch.received,
        customer=batch.customer.name,
        n_devices=states.total(),
        closed_on=batch.closed_on,
        order_number=batch.order_number,
        n_by_state=dict(states),
    )


def jobs(rows: QuerySet[Job]) -> list[shapes.JobFull]:
    """Give jobs with what was found, in a fixed number of reads."""
    listed = list(rows.select_related("batch", "item"))
    found = _found(listed)
    return [_job_full(job, found[job.pk]) for job in listed]


def job_row(ref: str) -> Job:
    """Give a job by its reference, in one read."""
    row = Job.objects.filter(ref=ref).first()
    if row is None:
        raise Http404
    return row


def reckoning(batch: Batch, now: datetime) -> shapes.Reckoning:
    """Reckon a batch as it stands."""
    answer = reckoned(batch, now)
    names = dict(batch.jobs.values_list("line", "ref"))
    numbers = dict(batch.jobs.values_list("line", "number"))
    return shapes.Reckoning(
        devices=[
            shapes.Decided(
                job=names[device.name],
                number=numbers[device.name],
                decision=device.decision,
                charges=list(device.charges),
                parts=list(device.parts),
                holds=[str(hold) for hold in device.holds],
            )
            for device in answer.devices
        ],
        minutes=answer.minutes,
        orders_minor=answer.supply.cost_minor,
        invoice_minor=answer.account.invoice_minor,
        tax_minor=answer.account.tax_minor,
    )


def items(code: str, serial: str, asset: str) -> list[shapes.ItemShort]:
    """Give the bodies with a workshop number, serial or owner's number."""
    named = Q()
    if code:
        named &= Q(pk__in=Job.objects.filter(number=code.upper()).values("item"))
    if serial:
        named &= Q(serial=serial)
    if asset:
        named &= Q(pk__in=Asset.objects.filter(number=asset).values("item"))
    rows = Item.objects.filter(named).select_related("customer").order_by("-id")
    assets = Prefetch("assets", Asset.objects.filter(until=None))
    return [_item_short(row) for row in rows.prefetch_related(assets)[:_MOST]]


def item_full(item: Item) -> shapes.ItemFull:
    """Give a body with its jobs and its past."""
    rows = Job.objects.filter(item=item).order_by("-batch__received", "-id")
    closed = rows.exclude(closed_on=None).order_by("closed_on", "id")
    return shapes.ItemFull(
        **_item_short(item).model_dump(),
        jobs=jobs(rows),
        past=list(told_past(closed)),
    )


def parts(page: int, *, with_prices: bool) -> shapes.PartPage:
    """Give some parts by their number."""
    shown = Part.objects.order_by("number")[(page - 1) * PAGE : page * PAGE]
    return shapes.PartPage(
        page=page,
        n_pages=-(-Part.objects.count() // PAGE),
        parts=[part_full(row, with_prices=with_prices) for row in shown],
    )


def part_full(part: Part, *, with_prices: bool) -> shapes.PartFull:
    """Give a part; what it costs is not for everybody."""
    spare = convert.spare_part(part, 0, part.free, part.lead_days)
    if not with_prices:
        spare = replace(spare, cost_minor=None, breaks=())
    return shapes.PartFull(
        ref=part.ref,
        part=spare,
        on_hand=part.on_hand,
        promised=part.promised,
        free=part.free,
        short=part.short,
        counted_on=part.counted_on,
    )


def journal(name: JournalName, after: int, limit: int) -> shapes.JournalPage:
    """Give entries behind a number; what is remembered of the last is read first."""
    head = Head.objects.get(journal=name)
    rows = Entry.objects.filter(
        journal=name, sequence__gt=after, sequence__lte=head.sequence
    )
    return shapes.JournalPage(
        journal=name,
        entries=[
            shapes.SealedEntry(entry=convert.ledger_entry(row), digest=row.digest)
            for row in rows.order_by("sequence")[:limit]
        ],
        last_sequence=head.sequence,
        last_digest=head.digest,
    )


def _batch_short(row: Batch) -> shapes.BatchShort:
    return shapes.BatchShort(
        ref=row.ref,
        name=row.name,
        received=row.received,
        customer=row.customer.name,
        n_devices=row.n_devices,  # type: ignore[attr-defined]
        closed_on=row.closed_on,
    )


def _item_short(row: Item) -> shapes.ItemShort:
    return shapes.ItemShort(
        ref=row.ref,
        model=row.model,
        revision=row.revision,
        serial=row.serial,
        customer=row.customer.name,
        asset_numbers=[one.number for one in row.assets.all() if one.until is None],
    )


def _job_full(job: Job, found: Iterable[str]) -> shapes.JobFull:
    standing = convert.standing_of(job)
    return shapes.JobFull(
        ref=job.ref,
        number=job.number,
        batch=job.batch.ref,
        item=job.item.ref,
        line=convert.batch_line(job, found),
        standing=standing,
        next_states=list(may_follow(standing)),
        closed_on=job.closed_on,
    )


def _found(listed: Iterable[Job]) -> defaultdict[int, tuple[str, ...]]:
    """Give the codes found by job: confirmed ones if there are any, else those seen."""
    by_stage: dict[str, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
    holding = Finding.objects.filter(job__in=listed, withdrawn_at=None)
    for one in holding.exclude(code="").exclude(stage=Finding.REPORTED):
        by_stage[one.stage][one.job_id].append(one.code)
    codes = {**by_stage[Finding.SEEN], **by_stage[Finding.CONFIRMED]}
    found: defaultdict[int, tuple[str, ...]] = defaultdict(tuple)
    found.update({pk: tuple(dict.fromkeys(own)) for pk, own in codes.items()})
    return found
