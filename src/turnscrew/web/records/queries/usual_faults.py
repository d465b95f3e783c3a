"""Which other faults do such devices usually have, and which device looks the same?"""

from django.db.models import Count

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.terms import Terms
from turnscrew.web.records.models import Finding, Job

_MOST, _LEAST = 3, 2
"""Faults named at most, and devices that must have had one; common practice. [1]"""


def other_faults(job: Job, line: BatchLine, terms: Terms) -> dict[str, str]:
    """Give the usual faults of a model beside those known, with how many had each."""
    told = Finding.objects.filter(
        job__model=job.model, stage__in=[Finding.SEEN, Finding.CONFIRMED],
        withdrawn_at=None,
    ).exclude(code="")  # fmt: skip
    counts = told.values("code").annotate(n=Count("job", distinct=True))
    usual = [
        (code, n)
        for code, n in counts.order_by("-n", "code").values_list("code", "n")
        if n >= _LEAST and code not in line.found and _is_to_mend(code, terms)
    ]
    if not usual:
        return {}
    of = told.aggregate(n=Count("job", distinct=True))["n"]
    return {
        code: f"{terms.faults[code].says}, {n} of {of} had it"
        for code, n in usual[:_MOST]
    }


def _is_to_mend(code: str, terms: Terms) -> bool:
    fault = terms.faults.get(code)
    return fault is not None and not fault.is_trial


def twin_words(job: Job) -> tuple[str, ...]:
    """Say which other device of the batch bears the same serial."""
    if not job.serial:
        return ()
    twins = Job.objects.filter(batch=job.batch_id, serial=job.serial)
    lines = twins.exclude(pk=job.pk).order_by("line").values_list("line", flat=True)
    if not lines:
        return ()
    also = ", ".join(map(str, lines))
    owner = job.asset_number or "not read"
    return (
        f"Serial {job.serial} is also on device {also}: hold the number on this body "
        f"against the owner's number {owner} before anything is opened.",
    )
