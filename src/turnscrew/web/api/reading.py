"""Routes that read."""

from collections.abc import Iterable

from django.http import HttpRequest
from django.utils import timezone
from ninja import Router

from turnscrew.core.ledger.entry import JournalName
from turnscrew.web.api import reads, shapes
from turnscrew.web.api.access import allowed, caller_of, may_see_money
from turnscrew.web.api.refusals import MISSING, REFUSED, Refusal
from turnscrew.web.records.models import Job, Person
from turnscrew.web.records.queries import audit, find
from turnscrew.web.records.services.viewings import DEVICE, note_viewings

router = Router()


@router.get("/whoami", response={200: shapes.Caller, **MISSING})
def whoami(request: HttpRequest) -> shapes.Caller:
    """Tell whose token it is."""
    caller = caller_of(request)
    return shapes.Caller(
        person=caller.person.ref,
        name=caller.person.name,
        rights=caller.person.rights,
        token=caller.token.name,
        scopes=sorted(caller.scopes),
    )


@router.get("/batches", response={200: shapes.BatchPage, **MISSING})
def batches(request: HttpRequest, page: shapes.Page = 1) -> shapes.BatchPage:
    """List batches, the newest first. Scope: read."""
    allowed(request, "read")
    return reads.batches(page)


@router.get("/batches/{ref}", response={200: shapes.BatchFull, **MISSING})
def batch(request: HttpRequest, ref: shapes.InPath) -> shapes.BatchFull:
    """Give one batch. Scope: read."""
    allowed(request, "read")
    return reads.batch_full(find.batch_named(ref))


@router.get("/batches/{ref}/jobs", response={200: list[shapes.JobFull], **MISSING})
def batch_jobs(request: HttpRequest, ref: shapes.InPath) -> list[shapes.JobFull]:
    """List the jobs of a batch by their line. Scope: read."""
    by = allowed(request, "read")
    rows = Job.objects.filter(batch=find.batch_named(ref)).order_by("line")
    _look(by, rows.values_list("item__ref", flat=True))
    return reads.jobs(rows)


@router.get("/batches/{ref}/reckoning", response={200: shapes.Reckoning, **REFUSED})
def batch_reckoning(request: HttpRequest, ref: shapes.InPath) -> shapes.Reckoning:
    """Reckon decisions, charges and minutes of a batch as it stands. Scope: money."""
    allowed(request, "money")
    row = find.batch_named(ref)
    if not row.terms_text.strip():
        raise Refusal(409, "terms", "none", "a batch with terms")
    return reads.reckoning(row, timezone.localtime())


@router.get("/items", response={200: list[shapes.ItemShort], **MISSING})
def items(
    request: HttpRequest,
    code: shapes.Wanted = "",
    serial: shapes.Wanted = "",
    asset: shapes.Wanted = "",
) -> list[shapes.ItemShort]:
    """
    Find bodies by the workshop's number, serial or owner's number. Scope: read.

    Fifty at most; where several are given all must agree, where none is, none is found.
    """
    allowed(request, "read")
    if not code + serial + asset:
        return []
    return reads.items(code, serial, asset)


@router.get("/items/{ref}", response={200: shapes.ItemFull, **MISSING})
def item(request: HttpRequest, ref: shapes.InPath) -> shapes.ItemFull:
    """Give one body with its jobs and its past. Scope: read."""
    by, one = allowed(request, "read"), find.item_named(ref)
    _look(by, [one.ref])
    return reads.item_full(one)


@router.get("/jobs/{ref}", response={200: shapes.JobFull, **MISSING})
def job(request: HttpRequest, ref: shapes.InPath) -> shapes.JobFull:
    """Give one job. Scope: read."""
    by, row = allowed(request, "read"), reads.job_row(ref)
    _look(by, [row.item.ref])
    return reads.jobs(Job.objects.filter(pk=row.pk))[0]


def _look(by: Person, items: Iterable[str]) -> None:
    """Keep that somebody's program looked at devices, as if they had."""
    note_viewings(by.ref, DEVICE, items, now=timezone.localtime())


@router.get("/parts", response={200: shapes.PartPage, **MISSING})
def parts(request: HttpRequest, page: shapes.Page = 1) -> shapes.PartPage:
    """List parts by their number; costs are told to those with scope money only."""
    allowed(request, "read")
    return reads.parts(page, with_prices=may_see_money(request))


@router.get("/parts/{part:number}", response={200: shapes.PartFull, **MISSING})
def part(request: HttpRequest, number: shapes.PartNumber) -> shapes.PartFull:
    """Give one part. Scope: read."""
    allowed(request, "read")
    row = find.part_named(number)
    return reads.part_full(row, with_prices=may_see_money(request))


@router.get("/journals/{name}", response={200: shapes.JournalPage, **MISSING})
def journal(
    request: HttpRequest,
    name: JournalName,
    after: shapes.After = 0,
    limit: shapes.Limit = 500,
) -> shapes.JournalPage:
    """Give the entries behind a number, sealed, to verify elsewhere. Scope: audit."""
    allowed(request, "audit")
    return reads.journal(name, after, limit)


@router.get("/audit", response={200: shapes.Audited, **MISSING})
def audited(request: HttpRequest) -> shapes.Audited:
    """Walk all journals and compare them with the records. Scope: audit."""
    allowed(request, "audit")
    found = audit.audited()
    return shapes.Audited(
        n_entries=found.n_entries,
        n_words_erased=found.n_words_erased,
        breaks=[*found.breaks, *found.photos],
    )
