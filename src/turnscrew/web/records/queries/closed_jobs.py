"""What is on record of closed jobs: what was confirmed, and what was left?"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date

from django.db.models import Q, QuerySet

from turnscrew.core.price.comeback import AT_NO_CHARGE
from turnscrew.web.records.models import Finding, Job
from turnscrew.web.records.queries.charges import refused_jobs
from turnscrew.web.records.queries.in_parts import among


def confirmed_by_job(jobs: Iterable[Job]) -> Mapping[int, tuple[str, ...]]:
    """Give the faults confirmed in each job, each once, the last told last."""
    rows = Finding.objects.filter(stage=Finding.CONFIRMED, withdrawn_at=None)
    codes: dict[int, dict[str, None]] = defaultdict(dict)
    for finding in among(rows.exclude(code="").order_by("id"), "job", jobs):
        codes[finding.job_id].pop(finding.code, None)
        codes[finding.job_id][finding.code] = None
    return {pk: tuple(told) for pk, told in codes.items()}


def without_the_rest(jobs: Iterable[Job]) -> list[Job]:
    """Give the comebacks at no charge whose owner said no to what they had besides."""
    free = (job for job in jobs if job.comeback_class in AT_NO_CHARGE)
    rows = Job.objects.select_related("batch")
    told = ((job, job.quotes.last()) for job in among(rows, "pk", refused_jobs(free)))
    return [job for job, quote in told if quote and quote.code == "comeback"]


def closed_before(job: Job, day: date) -> QuerySet[Job]:
    """Give the jobs of the same body that were closed when it came, in order."""
    # Of two closed on one day the later one is not the past of the earlier.
    before = Q(closed_on__lt=day) | Q(closed_on=day, pk__lt=job.pk)
    same = Job.objects.filter(before, serial=job.serial).exclude(pk=job.pk)
    owned = same.filter(batch__customer=job.batch.customer_id)
    if ended := job.closed_on:
        # Booked for a later day than it came, it may be gone before; no past is later.
        owned = owned.filter(Q(closed_on__lt=ended) | Q(closed_on=ended, pk__lt=job.pk))
    return owned.order_by("closed_on", "pk")
