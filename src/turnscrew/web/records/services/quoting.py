"""How does a batch get its quotes, and how are answers asked for and given?"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime
from typing import Any, get_args

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model import waiting
from turnscrew.core.model.batch import ComebackClass
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.job_state import (
    BEGUN,
    CLOSED,
    ENDED,
    MAIN_STATES,
    OPEN,
    Standing,
)
from turnscrew.core.model.quote import DecidedDevice, Decision
from turnscrew.core.price.account import charges_of
from turnscrew.core.price.comeback import AT_NO_CHARGE, comeback_of
from turnscrew.web.records import convert
from turnscrew.web.records.models import Approval, Batch, Entry, Job, Person, Quote
from turnscrew.web.records.queries.answers import (
    REPAIR,
    is_husk,
    is_refused,
    settled_free_since,
)
from turnscrew.web.records.queries.bench_runs import closed_up
from turnscrew.web.records.queries.contact_page import questions_of
from turnscrew.web.records.queries.found_faults import found_by_job
from turnscrew.web.records.queries.outdated import DONOR_STATES
from turnscrew.web.records.queries.permission import goes_on_free
from turnscrew.web.records.queries.quotes_shown import Shown, refuse_other_quotes
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import custody, stock
from turnscrew.web.records.services.in_turn import in_turn
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

COMEBACK_CLASSES: tuple[str, ...] = get_args(ComebackClass)


@writing
def keep_quotes(
    batch: Batch,
    answer: BatchAnswer,
    *,
    by: Person,
    now: datetime,
    only: int | None = None,
) -> list[Quote]:
    """
    Keep what was decided and quoted, for every device, or for one, where it is new.

    What is on an invoice stays as it was billed, and what was agreed or is begun stays
    as it was quoted, unless something else was found since.
    """
    settled = set(batch.jobs.exclude(invoice_lines=None).values_list("line", flat=True))
    jobs = {job.line: job for job in batch.jobs.select_for_update()}
    quotes = []
    for device in _named(answer.devices, only):
        job = jobs[device.name]
        charges = _charges(device, answer)
        last = job.quotes.last()
        went = _went_otherwise(job, device, last)
        if went is not None:
            device, charges = replace(device, decision=went), []
        is_same = last is not None and (
            (last.code, last.quote_minor, last.charges)
            == (device.decision.code, device.decision.quote_minor, charges)
        )
        if is_same or device.name in settled:
            continue
        if went is None and not _is_new(job, device, last):
            continue
        quotes.append(_keep_quote(job, device, charges, by=by, now=now))
        if any(hold.kind == "comeback" for hold in device.holds):
            _keep_comeback(job, device, answer.batch, by=by, now=now)
        if _may_be_quoted(job):
            _set_state(job, "quoted", by=by, now=now)
    return quotes


@writing
def keep_all_quotes(
    batch: Batch, *, by: Person, now: datetime, shown: Shown | None = None
) -> list[Quote]:
    """
    Keep what is quoted now, unless it is other than was ``shown``.

    Whoever keeps a quote meant the one before their eyes.
    """
    answer = reckoned(batch, now)
    refuse_other_quotes(answer.devices, shown)
    return keep_quotes(batch, answer, by=by, now=now)


def _charges(device: DecidedDevice, answer: BatchAnswer) -> list[dict[str, Any]]:
    """Give what a quote charges, be it refused: the no may have been a slip."""
    if device.name in answer.what_if.as_it_came:
        return []
    return convert.charges_json(charges_of(device, answer.batch.terms))


def _went_otherwise(
    job: Job, device: DecidedDevice, last: Quote | None
) -> Decision | None:
    """Decide a device that was not repaired after all: by a slip, or as it was gone."""
    if job.state in DONOR_STATES and device.is_mended:
        return Decision("strip", "stripped: nothing was mended, no charge", 0)
    if not device.line.found and last is not None and last.code in REPAIR:
        says = "what was found was withdrawn: no charge"
        return Decision("no_fault_found", says, 0)
    return None


def _is_new(job: Job, device: DecidedDevice, last: Quote | None) -> bool:
    """Say whether a device has something to quote that is not settled already."""
    found = device.line.found
    if not found or last is None:
        return bool(found)
    if job.state in DONOR_STATES:
        # Whatever was agreed before: it is charged as what it was stripped for.
        return True
    return not _is_agreed(job, last, found)


def _is_agreed(job: Job, quote: Quote, found: tuple[str, ...]) -> bool:
    """Say whether a yes or begun work rests on a quote for these very faults."""
    if quote.quote_minor is None or is_husk(quote) or settled_free_since([quote]):
        # Nobody agreed to a price that was not known: it is quoted once it is. A yes
        # to a price stands in no way of a lower one.
        return False
    answer = job.approvals.exclude(answer=Approval.PENDING).last()
    is_yes = answer is not None and answer.answer == Approval.YES
    if is_yes and answer is not None and quote.code == "comeback":
        # It speaks of a price, so of what such a device has besides.
        return False
    is_begun = job.main_state in BEGUN and not is_refused(answer, quote)
    return (is_yes or is_begun) and found_by_job([job], quote.at)[job.pk] == found


def _named(
    devices: Iterable[DecidedDevice], only: int | None
) -> Iterator[DecidedDevice]:
    return (one for one in devices if only in (None, one.name))


def _keep_quote(
    job: Job, device: DecidedDevice, charges: list[dict[str, object]], *,
    by: Person, now: datetime,
) -> Quote:  # fmt: skip
    decision = device.decision
    quote = Quote.objects.create(
        job=job,
        at=in_turn(job, now),
        code=decision.code,
        reason="; ".join((decision.reason, *device.lacks))[:400],
        quote_minor=decision.quote_minor,
        limit_minor=decision.limit_minor,
        charges=charges,
    )
    append(
        "money", "quoted", job.ref, by=by, now=now,
        facts={"code": decision.code, "minor": decision.quote_minor},
    )  # fmt: skip
    return quote


def _keep_comeback(
    job: Job, device: DecidedDevice, batch: BatchInput, *, by: Person, now: datetime
) -> None:
    found = comeback_of(device.line, batch.past, batch.terms)
    if found is None:
        return
    earlier = Job.objects.filter(
        serial=job.serial, model=job.model, closed_on=found.past.day
    ).exclude(pk=job.pk)
    job.comeback_of, job.comeback_class = earlier.last(), found.stands_as
    keep(job, now)
    append(
        "money", "comeback", job.ref, by=by, now=now,
        facts={
            "class": found.stands_as,
            "earlier": job.comeback_of.ref if job.comeback_of else None,
        },
        words=found.reason,
    )  # fmt: skip


_WAITS_ON_THE_CUSTOMER = {"quoted", "awaiting answer", "awaiting part"}
"""States that a question may change; isolated stays isolated, soaking goes on."""


def _may_be_quoted(job: Job) -> bool:
    return job.state in MAIN_STATES[: MAIN_STATES.index("quoted")]


def _set_state(job: Job, state: str, *, by: Person, now: datetime) -> None:
    to = Standing(state, job.place, job.holder, main=job.main_state)
    custody.enter(job, to, by=by, now=now)


@writing
def ask(
    batch: Batch,
    answer: BatchAnswer,
    *,
    by: Person,
    now: datetime,
    only: int | None = None,
) -> list[Approval]:
    """Write down that answers are asked for, each with the day it must be in hand."""
    terms = answer.batch.terms
    asked = []
    for device in _named(answer.pending, only):
        job = batch.jobs.select_for_update().get(line=device.name)
        minor = device.decision.quote_minor
        if minor is None or job.state in ENDED:
            continue
        last = job.approvals.last()
        if last is not None and (last.answer, last.quote_minor) == ("", minor):
            continue
        approval = Approval.objects.create(
            job=job, quote_minor=minor, asked_at=in_turn(job, now)
        )
        asked.append(approval)
        append("money", "asked", job.ref, by=by, now=now, facts={"minor": minor})
        by_day = answer.answer_by[device.name]
        until = now.date()
        if by_day is not None and by_day > 0:
            until = max(until, terms.date_of(by_day))
        if job.state in _WAITS_ON_THE_CUSTOMER:
            _wait_for_answer(job, until, by=by, now=now)
    return asked


@writing
def ask_all(
    batch: Batch, *, by: Person, now: datetime, shown: Shown | None = None
) -> list[Approval]:
    """
    Keep what is quoted now, and write down that all answers that lack are asked.

    They are asked at the prices that were ``shown``: the customer reads no others.
    """
    answer = reckoned(batch, now)
    refuse_other_quotes(answer.pending, shown)
    kept = keep_quotes(batch, answer, by=by, now=now)
    if any(quote.job.approvals.exists() for quote in kept):
        # What was answered before may speak of the new quote no longer.
        answer = reckoned(batch, now)
    return ask(batch, answer, by=by, now=now)


def _wait_for_answer(job: Job, until: date, *, by: Person, now: datetime) -> None:
    to = Standing(
        "awaiting answer", job.place, job.holder, until, job.main_state,
        waiting.FOR_ANSWER,
    )  # fmt: skip
    custody.enter(job, to, by=by, now=now)


@writing
def give_answers(
    batch: Batch,
    answers: Mapping[int, bool],
    *,
    name: str,
    by: Person,
    now: datetime,
    newest_seen: int | None = None,
) -> list[Approval]:
    """
    Write the answers given by line; only the lines named are released.

    Nothing is written if one of them was not asked, or was answered already, or if it
    was asked at another price since the newest question that was seen.
    """
    require_on_record(batch.customer_id)
    if not name.strip():
        raise RefusedError("name: found none, wanted who gave the answers")
    pending = {one.job.line: one for one in questions_of(batch)}
    if newest_seen is not None:
        _refuse_unseen(answers, pending, newest_seen)
    _refuse_not_asked(batch, answers, pending)
    given = []
    for line, is_yes in answers.items():
        approval = pending[line]
        approval.answer = Approval.YES if is_yes else Approval.NO
        approval.answered_at = in_turn(approval.job, now)
        approval.answered_by = name.strip()[:120]
        approval.save()
        given.append(approval)
        verb = "approved" if is_yes else "refused"
        facts = {"minor": approval.quote_minor}
        append("money", verb, approval.job.ref, by=by, now=now, facts=facts)
        if not is_yes:
            words = "the customer said no"
            stock.release_all(approval.job, by=by, now=now, words=words)
            _quote_after(approval.job, by=by, now=now)
        if approval.job.state == "awaiting answer":
            _set_state(approval.job, "quoted", by=by, now=now)
        else:
            _tell_hands(approval.job, is_yes=is_yes, by=by, now=now)
    return given


def _refuse_not_asked(
    batch: Batch, answers: Mapping[int, bool], pending: Mapping[int, Approval]
) -> None:
    wrong = [line for line in answers if line not in pending]
    if not wrong:
        return
    rows = Approval.objects.filter(job__batch=batch, job__line__in=wrong)
    said = dict(rows.order_by("id").values_list("job__line", "answer"))
    reasons = [
        f"device {line}: found it answered {said[line]} already, wanted one that waits"
        for line in wrong
        if said.get(line)
    ]
    strange = ", ".join(str(line) for line in wrong if not said.get(line))
    known = ", ".join(map(str, sorted(pending)))
    if strange and known:
        reasons.append(
            f"line: found {strange}, wanted one that waits for an answer: {known}"
        )
    elif strange:
        reasons.append(f"line: found {strange}, wanted none: nothing waits")
    raise RefusedError(*reasons)


def _quote_after(job: Job, *, by: Person, now: datetime) -> None:
    """Quote a comeback anew that has something else besides, once that was answered."""
    if job.comeback_class in AT_NO_CHARGE:
        answer = reckoned(job.batch, now)
        keep_quotes(job.batch, answer, by=by, now=now, only=job.line)


def _refuse_unseen(
    answers: Iterable[int], pending: Mapping[int, Approval], newest_seen: int
) -> None:
    """Refuse a yes or no to a price that whoever gave it cannot have seen."""
    unseen = [
        f"device {line}: found it asked about at another price meanwhile, wanted an "
        "answer to that one"
        for line in answers
        if line in pending and pending[line].pk > newest_seen
    ]
    if unseen:
        raise RefusedError(*unseen)


def _tell_hands(job: Job, *, is_yes: bool, by: Person, now: datetime) -> None:
    """Let whoever has a device learn of an answer, so that nothing is done unpaid."""
    if job.state in OPEN:
        _wake(job, is_yes=is_yes, by=by, now=now)
    elif is_yes and job.state in CLOSED - ENDED and job.pk in closed_up([job]):
        to = Standing(
            "second look", job.place, job.holder, now.date(), job.main_state,
            waiting.YES_TO_OPEN_AGAIN,
        )  # fmt: skip
        custody.enter(job, to, by=by, now=now)


def _wake(job: Job, *, is_yes: bool, by: Person, now: datetime) -> None:
    """Bring a device that stands open before somebody's eyes: its answer is in hand."""
    says = waiting.YES_GO_ON
    if not is_yes:
        is_free = goes_on_free(job)
        says = waiting.NO_TO_THE_REST if is_free else waiting.NO_CLOSE_UP
    to = Standing(
        "parked open", job.place, job.holder, now.date(), job.main_state, says
    )
    custody.enter(job, to, by=by, now=now)


@writing
def correct_answer(
    job: Job, *, is_yes: bool, name: str, by: Person, now: datetime, words: str
) -> Approval:
    """Set a customer's answer right by a new one; the old one stays readable."""
    require_on_record(job.batch.customer_id)
    old = job.approvals.select_for_update().last()
    answer = Approval.YES if is_yes else Approval.NO
    reasons = _uncorrectable(job, old, answer)
    if not name.strip():
        reasons.append("name: found none, wanted who gave the answer")
    if not words.strip():
        reasons.append("why: found nothing, wanted why it was wrong")
    if reasons or old is None:
        raise RefusedError(*reasons)
    new = Approval.objects.create(
        job=job, quote_minor=old.quote_minor, asked_at=old.asked_at, answer=answer,
        answered_at=in_turn(job, now), answered_by=name.strip()[:120], corrects=old,
    )  # fmt: skip
    about = Entry.objects.filter(journal="money", subject=job.ref)
    told = about.filter(verb__in=["approved", "refused", "answer corrected"])
    last = told.order_by("-sequence").values_list("sequence", flat=True).first()
    append(
        "money", "answer corrected", job.ref, by=by, now=now, words=words,
        facts={"minor": old.quote_minor, "was": old.answer, "answer": answer},
        corrects=last or 0,
    )  # fmt: skip
    if not is_yes:
        stock.release_all(job, by=by, now=now, words="the customer said no")
    _quote_after(job, by=by, now=now)
    stands = Job.objects.get(pk=job.pk)
    _tell_hands(stands, is_yes=is_yes, by=by, now=now)
    return new


def _uncorrectable(job: Job, old: Approval | None, answer: str) -> list[str]:
    if old is None or old.answer == Approval.PENDING:
        return ["answer: found none yet, wanted one to correct"]
    if old.answer == answer:
        return [f"answer: found {answer} on record, wanted the other one"]
    if job.invoice_lines.exists():
        return ["device: found it on an invoice, wanted one not billed yet"]
    if answer == Approval.YES and job.state in DONOR_STATES:
        return ["device: found it taken as a donor, wanted one that can be mended"]
    return []


@writing
def settle_comeback(job: Job, kind: str, *, by: Person, now: datetime) -> None:
    """Write down what the lead decided of a comeback's class."""
    if kind not in COMEBACK_CLASSES:
        known = ", ".join(COMEBACK_CLASSES)
        raise RefusedError(f"class: found {kind}, wanted one of {known}")
    read_anew(job)
    was_free, is_free = (one in AT_NO_CHARGE for one in (job.comeback_class, kind))
    if was_free != is_free and job.invoice_lines.exists():
        raise RefusedError("device: found it on an invoice, wanted one not billed yet")
    job.comeback_class, job.is_comeback_settled = kind, True
    keep(job, now)
    append("money", "comeback", job.ref, by=by, now=now, facts={"class": kind})
