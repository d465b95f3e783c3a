"""Where on a bench does a device lie, and which one is in hand?"""

from collections.abc import Callable
from datetime import datetime, timedelta

from turnscrew.core.model.job_state import OPEN, Standing
from turnscrew.web.records.models import Bench, BenchRun, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services import custody
from turnscrew.web.records.services.bench import begin
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

MOST_PLACES = 5
"""Devices on one bench at most; common practice, no source. [1]"""

LIE_THERE = ("kitted", *OPEN, "closed", "final-tested")
"""States in which a device still lies on its bench."""


def take(
    job: Job,
    *,
    by: Person,
    now: datetime,
    bench: str,
    is_time_up: Callable[[], bool],
    is_closing: bool = False,
) -> BenchRun:
    """Take a device onto a bench, to a place of its own, or only to close it up."""
    lies_there = job.state in LIE_THERE and bench_runs.latest(job) is not None
    if not lies_there:
        # A full bench is told before a path is sought, which takes its time.
        free_place(bench)
    return begin(
        job, by=by, now=now, is_time_up=is_time_up, is_closing=is_closing,
        place=lambda: job.place if lies_there else free_place(bench),
    )  # fmt: skip


def free_place(name: str) -> str:
    """Give the first place of a bench where no device lies."""
    there = Job.objects.filter(state__in=LIE_THERE)
    taken = set(there.values_list("place", flat=True))
    for number in range(1, MOST_PLACES + 1):
        place = f"{name or 'bench'}, place {number}"
        if place not in taken:
            return place
    raise RefusedError(
        f"bench: found {MOST_PLACES} devices on {name or 'it'}, wanted one fewer: "
        "finish one, hand it over or put it elsewhere first"
    )


@writing
def park(job: Job, *, by: Person, now: datetime, reason: str) -> None:
    """Leave a device open but covered until tomorrow, with what it waits for."""
    if bench_runs.latest(job) is None:
        raise RefusedError("path: found none yet, wanted the device on a bench")
    custody.refuse_other_holder(job, by)
    tomorrow = now.date() + timedelta(days=1)
    to = Standing(
        "parked open", job.place, by.ref, tomorrow, job.main_state, reason.strip()
    )
    custody.move(job, to, by=by, now=now)


@writing
def in_hand(
    name: str, job: Job | None, *, layer: str, by: Person, now: datetime
) -> None:
    """Note which device a bench works on, so that a photo goes to it."""
    Bench.objects.update_or_create(
        name=name or "bench",
        defaults={"in_hand": job, "layer": layer, "by": by, "seen_at": now},
    )
