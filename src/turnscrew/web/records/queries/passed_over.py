"""What was passed over at the bench of a device, and why?"""

from collections.abc import Iterable
from datetime import datetime

from django.db.models import Q

from turnscrew.core.bench.passed_over import PassedOver, passed_over
from turnscrew.core.bench.state import state_of
from turnscrew.web.records.models import BenchRun, BenchStroke, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.in_parts import among

_TOLD = Q(act="skip") | Q(act="differs", facts__what="left out")


def passed_over_of(
    jobs: Iterable[Job], at: datetime | None = None
) -> dict[int, tuple[PassedOver, ...]]:
    """Give, by its id, what of each device stands as passed over, now or at a time."""
    rows = BenchStroke.objects.filter(_TOLD, standing=BenchStroke.HELD)
    rows = rows.exclude(run__kind=BenchRun.RECORDING).select_related("run__job")
    about = {one.run.job for one in among(rows, "run__job", jobs)}
    return {job.pk: _of(job, at) for job in about}


def passed_over_words(
    jobs: Iterable[Job], at: datetime | None = None
) -> dict[int, tuple[tuple[str, str], ...]]:
    """Give the same in words, each with its reason, by the number of the device."""
    jobs = list(jobs)
    passed = passed_over_of(jobs, at)
    return {
        job.line: tuple((str(one), one.reason) for one in passed[job.pk])
        for job in jobs
        if passed.get(job.pk)
    }


def _of(job: Job, at: datetime | None) -> tuple[PassedOver, ...]:
    by_then = {} if at is None else {"at__lte": at}
    runs = job.runs.filter(**by_then).exclude(kind=BenchRun.RECORDING)
    paths = []
    for row in runs.order_by("number"):
        told = row.strokes.filter(standing=BenchStroke.HELD, **by_then).order_by("id")
        run = bench_runs.run_in(row)
        paths.append((run, state_of(run, map(bench_runs.stroke_of, told)).held))
    return passed_over(paths)
