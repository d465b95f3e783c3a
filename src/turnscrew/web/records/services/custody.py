"""How does a device change its state, place or holder?"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from turnscrew.core.model import waiting
from turnscrew.core.model.job_state import (
    ENDED,
    GIVEN_BACK,
    Standing,
    lies_open,
    next_main,
    refusals,
)
from turnscrew.core.reconcile.danger_words import ISOLATED
from turnscrew.web.records.convert import standing_of
from turnscrew.web.records.models import Batch, Finding, Job, Person
from turnscrew.web.records.queries.bench_unready import kit_refusal
from turnscrew.web.records.queries.closing import closing_refusals
from turnscrew.web.records.queries.data_terms import ALLOWED
from turnscrew.web.records.queries.permission import permission_refusal
from turnscrew.web.records.queries.power_bars import power_refusal
from turnscrew.web.records.queries.skills import skill_refusal
from turnscrew.web.records.queries.told_dangers import isolated_without_words
from turnscrew.web.records.queries.tray import knows_tray, off_refusal, tray_refusal
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_AT_ONCE = timedelta(seconds=5)
"""What a bench tells within so long it tells at once. [common practice, no source]"""

CUSTOMER = "customer"
"""Stands for the owner as holder: whoever it is, it is not one of us."""


@writing
def move(
    job: Job,
    to: Standing,
    *,
    by: Person,
    now: datetime,
    known_at: datetime | None = None,
    is_counted: bool = False,
) -> None:
    """
    Bring a device into a state, to a place and a holder.

    Who may is asked as it was known when it was done, if that is told later. An open
    device goes to nobody else but counted; what a bench told later it has asked itself.
    """
    job = Job.objects.select_for_update().get(pk=job.pk)
    before = standing_of(job) if job.state else None
    reasons = list(refusals(before, to))
    if to.until is not None and to.until < now.date():
        reasons.append(f"day: found {to.until}, wanted {now.date()} or later")
    more = (
        permission_refusal(job, to.state),
        skill_refusal(
            job, to.state, to.holder, known_at or now, _told_late(known_at, now)
        ),
        tray_refusal(job, to.state),
        kit_refusal(job, to.state, to.reason),
        _soaking_refusal(job, to.state),
    )
    reasons += filter(None, more)
    reasons += closing_refusals(job, to.state)
    if not is_counted and known_at is None:
        reasons += _uncounted(job, to)
        reasons += filter(None, [off_refusal(job, to.state, to.reason)])
    if reasons:
        raise RefusedError(*reasons)
    why = _why_apart(job, to)
    enter(job, to, by=by, now=now)
    if why:
        note_finding(job, Finding.SEEN, by=by, now=now, words=why)


def _told_late(known_at: datetime | None, now: datetime) -> datetime | None:
    """
    Give the time by which something is judged that a bench told later; else none.

    What is told at once is judged by all there is, though the clock was put back.
    """
    if known_at is None or now - known_at < _AT_ONCE:
        return None
    return known_at


def _soaking_refusal(job: Job, state: str) -> str:
    """Say why a device is not left to work on trial: what bars its power."""
    return power_refusal(job, "a trial") if state == "soaking" != job.state else ""


def _uncounted(job: Job, to: Standing) -> list[str]:
    """
    Say why an open device is not given to another.

    Isolated it may be at once, by anybody; the tray is counted when it comes out.
    """
    if to.state == "isolated" or not lies_open(job.state, job.main_state):
        return []
    is_same = to.holder == job.holder
    if is_same and (job.state != "isolated" or knows_tray(job, to.holder)):
        return []
    return [
        "holder: found another than the one who has it open, wanted it taken over on "
        "the page Handover, where its tray is counted"
    ]


def refuse_other_holder(job: Job, by: Person) -> None:
    """Refuse an open device to whoever did not take it over with its tray counted."""
    if lies_open(job.state, job.main_state) and job.holder != by.ref:
        raise RefusedError(
            "holder: found somebody else, wanted you: take it over on the page "
            "Handover, where its tray is counted"
        )


def _why_apart(job: Job, to: Standing) -> str:
    """
    Give the words to write of why a device is isolated, or was; nothing if none are.

    They outlive the isolation, until they are withdrawn or the pack is changed; an
    older version wrote the reason with the state alone.
    """
    if to.state != "isolated":
        return next((words for _, words in isolated_without_words([job])), "")
    return "" if job.state == "isolated" else f"{ISOLATED}{to.reason.strip()}"


def enter(job: Job, to: Standing, *, by: Person, now: datetime) -> None:
    """Write a standing that was found to be in order; within a transaction."""
    before = standing_of(job) if job.state else None
    job.main_state = next_main(before, to.state)
    job.state, job.place, job.holder = to.state, to.place.strip(), to.holder
    job.waits_until, job.reason = to.until, to.reason
    if to.state in ENDED and job.closed_on is None:
        job.closed_on = now.date()
    if to.state in GIVEN_BACK:
        job.place = job.holder = CUSTOMER
    keep(job, now)
    append(
        "custody",
        "moved",
        job.ref,
        by=by,
        now=now,
        facts={
            "state": job.state,
            "place": job.place,
            "holder": job.holder,
            "until": to.until.isoformat() if to.until else None,
        },
        words=to.reason,
    )


@writing
def move_several(
    batch: Batch, lines: Iterable[int], to: Standing, *, by: Person, now: datetime
) -> list[Job]:
    """Bring several devices of a batch into a state: all of them, or none."""
    wanted = list(lines)
    jobs = {job.line: job for job in batch.jobs.filter(line__in=wanted)}
    reasons = [
        f"device {line}: not of this batch" for line in wanted if line not in jobs
    ]
    moved = []
    for line in wanted:
        job = jobs.get(line)
        if job is None:
            continue
        try:
            move(job, replace(to, main=job.main_state), by=by, now=now)
            moved.append(job)
        except RefusedError as error:
            reasons += [f"device {line}: {reason}" for reason in error.reasons]
    if reasons:
        raise RefusedError(*reasons)
    return moved


ISOLATION_PLACE = "isolation place"


@writing
def isolate(job: Job, *, by: Person, now: datetime, reason: str) -> None:
    """
    Bring a device that may harm somebody to the isolation place, at once.

    One that lies there already stays with whoever has it.
    """
    read_anew(job)
    holder = job.holder if job.state == "isolated" else by.ref
    to = Standing(
        "isolated", ISOLATION_PLACE, holder, now.date() + timedelta(days=1),
        job.main_state, reason.strip() or waiting.BAD_PACK,
    )  # fmt: skip
    move(job, to, by=by, now=now)


@dataclass(frozen=True)
class DataTerms:
    """What the customer allows with the data of a device, who said so, until when."""

    allowed: str
    said_by: str
    until: date | None = None
    words: str = ""


@writing
def decide_data(
    job: Job, data_class: str, terms: DataTerms, *, by: Person, now: datetime
) -> None:
    """Write whether a device may hold data of persons, and what is allowed with it."""
    require_on_record(job.batch.customer_id)
    known = [code for code, _ in ALLOWED]
    reasons = []
    if terms.allowed not in known:
        found = terms.allowed or "none"
        reasons.append(f"allowed: found {found}, wanted one of {', '.join(known)}")
    if not terms.said_by.strip():
        reasons.append("by: found none, wanted who allowed it")
    if terms.until is not None and terms.until < now.date():
        reasons.append(f"until: found {terms.until}, wanted {now.date()} or later")
    if reasons:
        raise RefusedError(*reasons)
    read_anew(job)
    job.data_class, job.data_decision = data_class, terms.words.strip()
    job.data_allowed, job.data_allowed_by = terms.allowed, terms.said_by.strip()
    job.data_allowed_until = terms.until
    keep(job, now)
    append(
        "custody", "moved", job.ref, by=by, now=now,
        facts={
            "state": job.state, "place": job.place, "holder": job.holder,
            "data": data_class or "not said", "allowed": terms.allowed,
            "until": terms.until.isoformat() if terms.until else None,
        },
        words=f"{terms.said_by.strip()}: {terms.words.strip()}",
    )  # fmt: skip
