"""How is it written what was found of a device at the bench?"""

from contextlib import suppress
from datetime import datetime

from turnscrew.core.bench.run import Line
from turnscrew.core.bench.state import Stroke, is_slip
from turnscrew.core.reconcile.danger_words import BY_TESTS
from turnscrew.web.records.models import BenchRun, Finding, Job, Person
from turnscrew.web.records.queries.bench_diagnosis import (
    WORKS,
    checked_answer,
    suspected,
)
from turnscrew.web.records.queries.found_faults import found_on
from turnscrew.web.records.queries.power_bars import bars_of, holds_now, was_seen_to
from turnscrew.web.records.services.findings import (
    confirm_known,
    note_finding,
    withdraw_finding,
)
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def confirm_fault(row: BenchRun, code: str, *, by: Person, now: datetime) -> None:
    """Write a fault found at the bench; those known hold beside it."""
    confirmed = row.job.findings.filter(stage="confirmed", withdrawn_at=None)
    if not confirmed.exists():
        known = [one for one in found_on(row.job) if one != code]
        confirm_known(row.job, known, by=by, now=now)
    is_known = confirmed.filter(code=code).exists()
    if not is_known or was_seen_to(row.job, code):
        note_finding(row.job, "confirmed", by=by, now=now, code=code)


def note_looked(
    job: Job,
    line: Line,
    stroke: Stroke,
    last: Stroke | None,
    *,
    by: Person,
    now: datetime,
) -> None:
    """
    Write a usual fault that a look found; taken back it holds no more.

    Only somebody signed off says that a pack is sound, so that of a pack stands.
    """
    if not line.found:
        return
    seen = job.findings.filter(code=line.found, stage=Finding.SEEN, withdrawn_at=None)
    if stroke.act == "undo" and last is not None and is_slip(last):
        for one in seen.filter(words=LOOKED):
            with suppress(RefusedError):
                withdraw_finding(one, by=by, now=now, words=_TAKEN_BACK)
    elif is_slip(stroke) and not seen.exists():
        note_finding(job, Finding.SEEN, by=by, now=now, code=line.found, words=LOOKED)


LOOKED = "found at a look while it lay open"
_TAKEN_BACK = "taken back at the bench"

CONFIRMED = "confirmed"
"""Answer to a code of the terms in place of a test: the fault is found."""


@writing
def note_test(job: Job, test: str, answer: str, *, by: Person, now: datetime) -> None:
    """Write what a test of the fault table showed."""
    if not test or not answer:
        raise RefusedError("test: found no answer, wanted one or a reading")
    if answer == CONFIRMED:
        note_finding(job, "confirmed", by=by, now=now, code=test)
        return
    kept = checked_answer(job, test, answer)
    note_finding(job, "seen", by=by, now=now, words=test, result=kept)
    kinds = [] if kept == WORKS else suspected(job)
    bars = bars_of(job, holds_now(job)) if kinds else []
    for kind in kinds:
        if kind not in bars:
            note_finding(job, "seen", by=by, now=now, words=BY_TESTS[kind])
