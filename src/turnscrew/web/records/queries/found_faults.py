"""What was found on devices: confirmed, or seen and not yet confirmed?"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime

from django.db.models import Q

from turnscrew.web.records.models import (
    Batch,
    Finding,
    Job,
)
from turnscrew.web.records.queries.as_of import stands_at, written_by
from turnscrew.web.records.queries.terms_text import (
    danger_of,
    terms_of,
)

NOT_FOUND = "no fault found"
"""Mode of what was confirmed where no fault showed itself."""


_SAYS_NO_CODE = Q(code="") & ~Q(stage=Finding.CONFIRMED, mode=NOT_FOUND)


def found_on(job: Job, then: datetime | None = None) -> tuple[str, ...]:
    """Give the codes found on one device."""
    return found_by_job([job], then)[job.pk]


def found_by_job(
    jobs: Iterable[Job], then: datetime | None = None
) -> Mapping[int, tuple[str, ...]]:
    """
    Give the codes found by job: confirmed ones if there are any, else those seen.

    That no fault was found counts by the code of the terms for it, written or not.

    A danger that was seen stands until it is withdrawn, whatever else is confirmed.
    """
    by_stage: dict[tuple[int, str], list[str]] = defaultdict(list)
    listed = list(jobs)
    which = (
        {"job": listed[0]}
        if len(listed) == 1
        else {"job__batch__in": {job.batch_id for job in listed}}
    )
    findings = Finding.objects.filter(
        written_by(then), **which, stage__in=[Finding.SEEN, Finding.CONFIRMED]
    ).exclude(_SAYS_NO_CODE)
    for finding in findings.filter(stands_at(then)):
        by_stage[finding.job_id, finding.stage].append(finding.code)
    both = {
        job.batch_id
        for job in listed
        if by_stage[job.pk, Finding.CONFIRMED]
        and (
            by_stage[job.pk, Finding.SEEN] or "" in by_stage[job.pk, Finding.CONFIRMED]
        )
    }
    batches = Batch.objects.in_bulk(both)
    found = {}
    for job in listed:
        codes, seen = (
            _with_trial(by_stage[job.pk, Finding.CONFIRMED], batches.get(job.batch_id)),
            by_stage[job.pk, Finding.SEEN],
        )
        if codes and seen:
            batch = batches[job.batch_id]
            codes = [*codes, *(code for code in seen if danger_of(batch, code))]
        found[job.pk] = tuple(dict.fromkeys(codes or seen))
    return found


def _with_trial(codes: list[str], batch: Batch | None) -> list[str]:
    """Put the code of the terms where no fault was found and no code was written."""
    if "" not in codes:
        return codes
    faults = terms_of(batch).faults if batch and batch.terms_text else {}
    trials = [code for code, fault in faults.items() if fault.is_trial]
    trial = trials[0] if len(trials) == 1 else ""
    return [code for code in (one or trial for one in codes) if code]


def found_as_then(
    told: Iterable[tuple[Job, datetime]], then: datetime | None
) -> frozenset[int]:
    """Name the devices on which the same is found now as at a time of each."""
    by_time: dict[datetime, list[Job]] = defaultdict(list)
    for job, at in told:
        by_time[at].append(job)
    if not by_time:
        return frozenset()
    found = found_by_job([job for jobs in by_time.values() for job in jobs], then)
    return frozenset(
        pk
        for at, jobs in by_time.items()
        for pk, was in found_by_job(jobs, at).items()
        if was == found[pk]
    )
