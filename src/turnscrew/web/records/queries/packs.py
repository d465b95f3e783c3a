"""Which devices hold a pack that is swollen or unknown, and do not lie apart yet?"""

from collections.abc import Iterable
from datetime import datetime

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.hold import Hold
from turnscrew.core.model.job_state import MAIN_STATES
from turnscrew.core.model.terms import Terms
from turnscrew.core.reconcile.remarks import hazard_holds, remark_holds
from turnscrew.web.records import convert
from turnscrew.web.records.models import Batch, Job
from turnscrew.web.records.queries.batch_input import found_by_job, terms_of

CAUTION = (
    "Pack swollen or unknown: isolate it first; do not press, charge or power it. "
    "Follow local codes."
)
"""What is said of it before anything else."""

_BEFORE_THE_BENCH = MAIN_STATES[: MAIN_STATES.index("kitted")]


def packs_to_isolate(batches: Iterable[Batch], now: datetime) -> list[Job]:
    """Give the devices to bring to the isolation place before any other work."""
    return [job for batch in batches for job in _of_batch(batch, now)]


def _of_batch(batch: Batch, now: datetime) -> list[Job]:
    rows = batch.jobs.filter(state__in=_BEFORE_THE_BENCH).select_related("item")
    jobs = list(rows.order_by("line"))
    if not jobs:
        return []
    found, terms = found_by_job(jobs, now), terms_of(batch)
    return [
        job
        for job in jobs
        if has_bad_pack(job, convert.batch_line(job, found[job.pk]), terms)
    ]


def pack_caution(job: Job, now: datetime) -> str:
    """Say what is done first with a device that holds such a pack; else nothing."""
    if job.state not in _BEFORE_THE_BENCH:
        return ""
    line = convert.batch_line(job, found_by_job([job], now)[job.pk])
    return CAUTION if has_bad_pack(job, line, terms_of(job.batch)) else ""


def has_bad_pack(job: Job, line: BatchLine, terms: Terms) -> bool:
    """Say whether a pack was seen, or must be taken, to be bad."""
    return any(hold.kind == "pack" for hold in holds_seen(job, line, terms))


def holds_seen(job: Job, line: BatchLine, terms: Terms) -> list[Hold]:
    """Give what is to be observed, by the faults found and the remarks on arrival."""
    return [*hazard_holds(line, terms), *remark_holds(job.remarks)]
