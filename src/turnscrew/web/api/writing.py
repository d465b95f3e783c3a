"""Routes that write: each asks one service, which is one transaction."""

from django.http import HttpRequest
from django.utils import timezone
from ninja import Router

from turnscrew.core.ledger.verbs import FASTENER_SIGNS
from turnscrew.core.model.job_state import BY_OWN_ACT, ENDED, Standing
from turnscrew.web.api import reads, shapes
from turnscrew.web.api.access import allowed, may_see_money
from turnscrew.web.api.refusals import REFUSED, Refusal
from turnscrew.web.records.models import Allotment, Entry, Job, Part, Person
from turnscrew.web.records.queries import find
from turnscrew.web.records.services import custody, findings, hands, kitting, stock

router = Router()

_TRAY_LIMIT = 10_000


@router.post("/jobs/{ref}/move", response={200: shapes.JobFull, **REFUSED})
def move(request: HttpRequest, ref: shapes.InPath, to: shapes.MoveIn) -> shapes.JobFull:
    """Bring a device into a state, to a place and a holder. Scope: bench or counter."""
    by = allowed(request, "bench", "counter")
    row = reads.job_row(ref)
    if to.state in BY_OWN_ACT:
        raise Refusal(409, "state", to.state, "one that needs no signature or consent")
    standing = Standing(
        state=to.state,
        place=to.place,
        holder=_holder(to.holder, by),
        until=to.until,
        reason=to.reason,
    )
    custody.move(row, standing, by=by, now=timezone.localtime())
    return reads.jobs(Job.objects.filter(pk=row.pk))[0]


@router.post("/jobs/{ref}/findings", response={200: shapes.JobFull, **REFUSED})
def note_finding(
    request: HttpRequest, ref: shapes.InPath, told: shapes.FindingIn
) -> shapes.JobFull:
    """Write what was reported, seen or confirmed. Scope: bench."""
    by = allowed(request, "bench")
    row = _job_here(ref)
    if not (told.code + told.words).strip():
        raise Refusal(422, "body", "neither code nor words", "one of them")
    findings.note_finding(
        row,
        told.stage,
        by=by,
        now=timezone.localtime(),
        code=told.code,
        words=told.words,
        result=told.result,
    )
    return reads.jobs(Job.objects.filter(pk=row.pk))[0]


@router.post("/jobs/{ref}/actions", response={200: shapes.Written, **REFUSED})
def act(
    request: HttpRequest, ref: shapes.InPath, done: shapes.ActionIn
) -> shapes.Written:
    """Write what hands did to a device into the journal of the bench. Scope: bench."""
    by = allowed(request, "bench")
    row = _job_here(ref)
    _check_action(done)
    entry = hands.tell(
        row, done.verb, done.facts, by=by, now=timezone.localtime(), words=done.words
    )
    return _written(entry)


@router.post("/parts/{part:number}/take", response={200: shapes.Allotted, **REFUSED})
def take(
    request: HttpRequest, number: shapes.PartNumber, told: shapes.JobOf
) -> shapes.Allotted:
    """
    Take a piece off the shelf for a job. Scope: stock.

    It counts as fitted; if it holds data, what it replaces is listed to be ended.
    """
    by = allowed(request, "stock")
    row = find.part_named(number)
    job = _job_mended(told.job)
    wish = kitting.take_and_fit(row, job, by=by, now=timezone.localtime())
    return _allotted(request, wish, row)


@router.post("/parts/{part:number}/promise", response={200: shapes.Allotted, **REFUSED})
def promise(
    request: HttpRequest, number: shapes.PartNumber, told: shapes.JobOf
) -> shapes.Allotted:
    """Promise a free piece to a job; short if none is free. Scope: stock."""
    by = allowed(request, "stock")
    row = find.part_named(number)
    wish = stock.promise(row, _job_mended(told.job), by=by, now=timezone.localtime())
    return _allotted(request, wish, row)


@router.post("/parts/{part:number}/count", response={200: shapes.Counted, **REFUSED})
def count(
    request: HttpRequest, number: shapes.PartNumber, told: shapes.CountIn
) -> shapes.Counted:
    """Write what was counted on the shelf. Scope: stock."""
    by = allowed(request, "stock")
    row = find.part_named(number)
    more = stock.count(row, told.n, by=by, now=timezone.localtime(), words=told.words)
    return shapes.Counted(more=more, part=_part_now(request, row))


def _job_here(ref: str) -> Job:
    """Give a job whose device is here."""
    row = reads.job_row(ref)
    if row.state in ENDED:
        raise Refusal(409, "device", row.state, "one that is here")
    return row


def _job_mended(ref: str) -> Job:
    """Give a job whose device is here to be mended: a donor gets no pieces."""
    row = _job_here(ref)
    if hasattr(row, "donor"):
        raise Refusal(409, "device", "a donor", "one that is to be mended")
    return row


def _holder(ref: str | None, by: Person) -> str:
    """Give who is to hold a device."""
    if ref is None:
        return by.ref
    if not Person.objects.filter(ref=ref, has_left=False).exists():
        raise Refusal(422, "body.holder", ref, "somebody who works here")
    return ref


def _check_action(done: shapes.ActionIn) -> None:
    """Refuse what only the workshop's own acts write, and counts of no number."""
    if "does" in done.facts:
        raise Refusal(
            422, "body.facts.does", ascii(done.facts["does"]), "another name of a fact"
        )
    if done.verb not in FASTENER_SIGNS:
        return
    n, kind = done.facts.get("n"), done.facts.get("kind")
    is_count = isinstance(n, int) and not isinstance(n, bool)
    if not is_count or not 1 <= int(n or 0) <= _TRAY_LIMIT:
        raise Refusal(
            422, "body.facts.n", ascii(n), f"a number from 1 to {_TRAY_LIMIT}"
        )
    if not isinstance(kind, str) or not kind.strip():
        raise Refusal(422, "body.facts.kind", ascii(kind), "the kind of fastener")


def _allotted(request: HttpRequest, wish: Allotment, part: Part) -> shapes.Allotted:
    return shapes.Allotted(
        state=wish.state, job=wish.job.ref, part=_part_now(request, part)
    )


def _part_now(request: HttpRequest, part: Part) -> shapes.PartFull:
    part.refresh_from_db()
    return reads.part_full(part, with_prices=may_see_money(request))


def _written(entry: Entry) -> shapes.Written:
    return shapes.Written(
        journal=entry.journal, sequence=entry.sequence, digest=entry.digest
    )
