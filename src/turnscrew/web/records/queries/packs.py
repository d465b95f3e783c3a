"""Which devices hold a pack that is swollen or unknown, and do not lie apart yet?"""

from collections.abc import Iterable
from datetime import datetime

from django.db.models import Q

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.job_state import CLOSED, ENDED, MAIN_STATES, WAITING
from turnscrew.core.model.terms import Terms
from turnscrew.core.reconcile.remarks import observed_holds
from turnscrew.web.records import convert
from turnscrew.web.records.models import Batch, Job
from turnscrew.web.records.queries.found_faults import found_by_job
from turnscrew.web.records.queries.power_bars import holds_bad_pack
from turnscrew.web.records.queries.skills import leaves_with_bad_pack
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.queries.told_dangers import told_by_job

CAUTION = (
    "Pack swollen or unknown: isolate it first; do not press, charge or power it. "
    "Follow local codes."
)
"""What is said of it before anything else."""

_BEFORE_THE_BENCH = MAIN_STATES[: MAIN_STATES.index("kitted")]

_WAITS = WAITING - {"isolated", "parked open"}

_WORK_DONE = CLOSED - ENDED

_OFF_THE_BENCH = (*_BEFORE_THE_BENCH, *_WORK_DONE)

_DONOR = "donor"
"""Its pack comes out before its parts do, and stripping is work."""

_LIES_AMONG_OTHERS = Q(state__in=(*_OFF_THE_BENCH, _DONOR)) | Q(
    state__in=_WAITS, main_state__in=_OFF_THE_BENCH
)
"""Not open, not isolated and still here, whether or not it waits for something."""


def packs_to_isolate(batches: Iterable[Batch], now: datetime) -> list[Job]:
    """Give the devices to bring to the isolation place before any other work."""
    return [job for batch in batches for job in _of_batch(batch, now)]


def _of_batch(batch: Batch, now: datetime) -> list[Job]:
    rows = batch.jobs.filter(_LIES_AMONG_OTHERS).select_related("item")
    jobs = list(rows.order_by("line"))
    if not jobs:
        return []
    found, terms = found_by_job(jobs), terms_of(batch)
    told = told_by_job(jobs)
    return [
        job
        for job in jobs
        if has_bad_pack(convert.batch_line(job, found[job.pk], told[job.pk]), terms)
        # Nothing was done yet to what was not at the bench.
        and (_is_untouched(job) or _holds_one(job, now))
    ]


def _is_untouched(job: Job) -> bool:
    return job.main_state in _BEFORE_THE_BENCH and job.state != _DONOR


def _holds_one(job: Job, now: datetime) -> bool:
    if job.state == _DONOR:
        # No bench sees its pack out: the log of packs does.
        return leaves_with_bad_pack(job, now)
    return holds_bad_pack(job)


def pack_caution(job: Job, now: datetime) -> str:
    """Say what is done first with a device that holds such a pack; else nothing."""
    is_waiting = job.state in _WAITS and job.main_state in _OFF_THE_BENCH
    if job.state not in (*_OFF_THE_BENCH, _DONOR) and not is_waiting:
        return ""
    return CAUTION if _holds_one(job, now) else ""


def has_bad_pack(line: BatchLine, terms: Terms) -> bool:
    """Say whether a pack was seen, or must be taken, to be bad."""
    return any(hold.kind == "pack" for hold in observed_holds(line, terms))
