"""How is it written that a device is locked, and who was asked to open it?"""

from collections.abc import Iterable
from datetime import date, datetime

from turnscrew.web.records.models import Batch, Job, LockRequest, Person
from turnscrew.web.records.queries.locks import LOCKS, NEITHER, is_barred
from turnscrew.web.records.services.batch_lines import jobs_at
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.on_record import require_job_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def note_lock(job: Job, lock: str, *, by: Person, now: datetime) -> None:
    """Write whether a device is locked, enrolled, neither, or nobody looked."""
    known = [code for code, _ in LOCKS]
    if lock not in known:
        found = lock or "none"
        raise RefusedError(f"lock: found {found}, wanted one of {', '.join(known)}")
    read_anew(job)
    if lock == job.lock:
        return
    job.lock = lock
    keep(job, now)
    append("bench", "lock", job.ref, by=by, now=now, facts={"lock": lock})


@writing
def note_locks(
    batch: Batch, lines: Iterable[int], lock: str, *, by: Person, now: datetime
) -> int:
    """Write the same of several devices of a batch: of all of them, or of none."""
    jobs = jobs_at(batch, lines)
    for job in jobs:
        note_lock(job, lock, by=by, now=now)
    return len(jobs)


@writing
def ask_administrator(
    job: Job, asked_of: str, due_on: date, *, by: Person, now: datetime, words: str = ""
) -> LockRequest:
    """Write what the customer's administrator was asked, and until which day."""
    require_job_on_record(job)
    reasons = []
    if not is_barred(job):
        found = job.lock or "nothing said"
        reasons.append(f"lock: found {found}, wanted a device locked or enrolled")
    if not asked_of.strip():
        reasons.append("asked: found nobody, wanted who was asked")
    if due_on <= now.date():
        reasons.append(f"due: found {due_on}, wanted a day after {now.date()}")
    if job.lock_requests.filter(answered_on=None).exists():
        reasons.append("request: found one not answered, wanted its answer first")
    if reasons:
        raise RefusedError(*reasons)
    made = LockRequest.objects.create(
        job=job, asked_of=asked_of.strip(), asked_on=now.date(), due_on=due_on,
        words=words.strip(), by=by,
    )  # fmt: skip
    append(
        "bench", "lock", job.ref, by=by, now=now,
        facts={"asked": True, "due": due_on.isoformat()},
        words=f"{asked_of.strip()}: {words.strip()}",
    )  # fmt: skip
    return made


@writing
def answer_request(
    job: Job, *, is_open: bool, by: Person, now: datetime, words: str
) -> None:
    """Write what the administrator answered; once opened a device is locked no more."""
    require_job_on_record(job)
    request = job.lock_requests.select_for_update().filter(answered_on=None).first()
    if request is None:
        raise RefusedError("request: found none that waits, wanted one asked")
    if not words.strip():
        raise RefusedError("answer: found no words, wanted what was answered")
    request.answered_on, request.answer = now.date(), words.strip()
    request.save()
    append(
        "bench", "lock", job.ref, by=by, now=now,
        facts={"answered": True, "open": is_open}, words=words,
    )  # fmt: skip
    if is_open:
        note_lock(job, NEITHER, by=by, now=now)
