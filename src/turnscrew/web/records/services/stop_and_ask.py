"""What is done when more is wrong inside a device than was agreed?"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model import waiting
from turnscrew.core.model.amounts import money
from turnscrew.core.model.job_state import OPEN
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.model.terms import Terms
from turnscrew.web.records.models import Approval, BenchRun, Job, Person
from turnscrew.web.records.queries.batch_input import what_stands
from turnscrew.web.records.queries.bench_runs import only_closes
from turnscrew.web.records.queries.found_faults import found_by_job, found_on
from turnscrew.web.records.queries.permission import (
    goes_on_free,
    missing_yes,
    waits_for,
)
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.services import bench, bench_places, quoting
from turnscrew.web.records.services.bench import Change
from turnscrew.web.records.services.bench_findings import confirm_fault
from turnscrew.web.records.services.refusal import RefusedError

MOST_OF_FAULTS = 200
"""Letters of all faults of a reason; what a device waits for is told in 300. [1]"""


@dataclass(frozen=True)
class Question:
    """What must be settled before work goes on: by the customer, or by the lead."""

    says: str
    is_for_customer: bool = True


def add_fault(
    row: BenchRun, change: Change, *, by: Person, now: datetime
) -> Question | None:
    """Write a fault found inside; give what must be settled first, if anything."""
    bench.checked(row, change)
    confirm_fault(row, change.code, by=by, now=now)
    return _question(row.job, by, now)[0]


def question_before(
    row: BenchRun, change: Change, *, by: Person, now: datetime
) -> Question | None:
    """Give what must be settled before a new path is written, if anything."""
    if change.is_closing:
        return None
    if change.code:
        return add_fault(row, change, by=by, now=now)
    is_settled = only_closes(row.job) or not (
        missing_yes(row.job) or _is_found_since(row.job)
    )
    return None if is_settled else _question(row.job, by, now)[0]


def _is_found_since(job: Job) -> bool:
    """Say whether something else was found than a device was quoted for."""
    quote = job.quotes.last()
    if quote is None:
        return False
    return found_by_job([job], quote.at) != found_by_job([job])


def stop(job: Job, *, by: Person, now: datetime) -> Question:
    """Leave a device open but covered, with its new quote asked about."""
    if job.state not in OPEN:
        raise RefusedError(f"state: found {job.state}, wanted it open")
    question, answer = _question(job, by, now)
    if question is None:
        raise RefusedError("question: found nothing to ask, wanted work to go on")
    if question.is_for_customer:
        quoting.ask(job.batch, answer, by=by, now=now, only=job.line)
    bench_places.park(job, by=by, now=now, reason=question.says)
    return question


def _question(
    job: Job, by: Person, now: datetime
) -> tuple[Question | None, BatchAnswer]:
    """Quote anew what was found; a yes to a smaller quote holds no longer."""
    before = reckoned(job.batch, now)
    quoting.keep_quotes(job.batch, before, by=by, now=now, only=job.line)
    answer = reckoned(job.batch, now)
    device, terms = answer.by_name[job.line], answer.batch.terms
    answered = what_stands(job.batch, now).answers.get(job.line)
    if device.decision.code == "strip":
        says = f"{_found(device, terms)}, not worth mending: ask the lead"
        return Question(says, is_for_customer=False), answer
    if device.decision.code != "ask" or answered:
        return None, answer
    if device.decision.quote_minor is None and answered is None:
        says = f"{_found(device, terms)}, ask the lead"
        return Question(says, is_for_customer=False), answer
    word = "ask the customer" if answered is None else "the customer said no"
    return Question(f"{_found(device, terms)}, {word}"), answer


def joined(faults: Sequence[str]) -> str:
    """Name as many faults as fit, the first in any case, and count the rest."""
    for n in range(len(faults), 1, -1):
        n_more = len(faults) - n
        told = " + ".join([*faults[:n], *([f"{n_more} more"] if n_more else [])])
        if len(told) <= MOST_OF_FAULTS:
            return told
    rest = f" + {len(faults) - 1} more" if len(faults) > 1 else ""
    return faults[0][: MOST_OF_FAULTS - len(rest)] + rest


def _found(device: DecidedDevice, terms: Terms) -> str:
    faults = joined([terms.faults[code].says for code in device.line.found])
    minor = device.decision.quote_minor
    if minor is None:
        return f"{faults}: no price known"
    return f"{faults}: {money(minor)} {terms.currency}"


def go_on(
    row: BenchRun,
    *,
    is_closing: bool,
    by: Person,
    now: datetime,
    is_time_up: Callable[[], bool],
) -> BenchRun:
    """Write a new path after an answer, or to close up while none is in hand."""
    change = _change(row, is_closing=is_closing, by=by)
    if change is None:
        return row
    return bench.plan_anew(row, change, by=by, now=now, is_time_up=is_time_up)


def _change(row: BenchRun, *, is_closing: bool, by: Person) -> Change | None:
    job, last = row.job, row.job.approvals.last()
    if job.state != "parked open" or job.holder != by.ref:
        return None
    if is_closing:
        said = "the customer said no" if waits_for(job) == "no" else "no answer yet"
        return Change(f"closed up as it is: {said}", is_closing=True)
    is_new = last is not None and last.answered_at and last.answered_at > row.at
    if is_new and goes_on_free(job):
        return Change(waiting.NO_TO_THE_REST)
    if not is_new or last is None or last.answer != Approval.YES:
        return None
    faults = terms_of(job.batch).faults
    says = [faults[code].says for code in found_on(job)]
    return Change(f"the customer said yes: {' + '.join(says)}")
