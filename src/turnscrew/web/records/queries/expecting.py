"""What is to come with a batch, by which day, and what of it is here?"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.expected import Arrived, Expected
from turnscrew.core.model.job_state import BENCH_DONE, ENDED
from turnscrew.core.model.terms import Terms
from turnscrew.web.records import models
from turnscrew.web.records.models import Batch, Job


@dataclass(frozen=True)
class PromisedTranche:
    """What is promised for one day, and how it stands."""

    due_day: int | None
    due: date | None
    says: str
    n_promised: int
    n_here: int
    n_ready: int
    n_gone: int


def expected_of(batch: Batch) -> tuple[Expected, ...]:
    """Give what is to come with a batch, as last said."""
    rows = models.Expected.objects.filter(batch=batch, until=None).order_by("id")
    return tuple(Expected(one.model, one.number, one.n, one.due_day) for one in rows)


def arrived_of(jobs: Sequence[Job]) -> list[Arrived]:
    """Give devices that are here as far as their due days are concerned."""
    return [
        Arrived(job.line, job.model, (job.asset_number, job.serial), job.due_day)
        for job in jobs
    ]


def tranches_promised(
    expected: Sequence[Expected], jobs: Sequence[Job], terms: Terms
) -> list[PromisedTranche]:
    """Give the tranches, the earliest first; what has no day stands last."""
    days = {one.due_day for one in expected} | {job.due_day for job in jobs}
    if not expected or days == {None}:
        return []
    ordered = sorted(days, key=lambda day: (day is None, day or 0))
    return [_tranche(day, expected, jobs, terms) for day in ordered]


def _tranche(
    day: int | None, expected: Sequence[Expected], jobs: Sequence[Job], terms: Terms
) -> PromisedTranche:
    promised = [one for one in expected if one.due_day == day]
    here = [job for job in jobs if job.due_day == day]
    return PromisedTranche(
        due_day=day,
        due=None if day is None else terms.date_of(max(1, day)),
        says=", ".join(
            f"{one.n} {one.model}" if one.model else one.number for one in promised
        ),
        n_promised=sum(one.n for one in promised),
        n_here=len(here),
        n_ready=sum(job.state in BENCH_DONE for job in here),
        n_gone=sum(job.state in ENDED for job in here),
    )


def promise_gap(expected: Sequence[Expected], jobs: Sequence[Job]) -> str:
    """Say why no day can be promised, while devices are still to come."""
    if jobs:
        n = sum(job.due_day is None for job in jobs)
        return f"cannot promise: {counted(n, 'device')} without a due day" if n else ""
    if not expected:
        return "cannot promise: nobody said what is to come and by which day"
    n = sum(one.n for one in expected if one.due_day is None)
    return (
        f"cannot promise: {counted(n, 'device')} to come without a due day" if n else ""
    )
