"""How does an open device pass from one person to another?"""

from collections.abc import Mapping
from datetime import datetime, timedelta

from turnscrew.core.bench.handover import TrayCount
from turnscrew.core.model.job_state import Standing, lies_open
from turnscrew.web.records.models import Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.handover_page import (
    against_taking,
    key_of,
    tray_written,
)
from turnscrew.web.records.services import bench_places, custody
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

EMPTY = TrayCount("nothing in it", 0)
"""A tray in which nothing lies is looked into, too."""


@writing
def take_over(
    job: Job, counted: Mapping[str, int], *, by: Person, now: datetime
) -> bool:
    """
    Take an open device over once its whole tray was counted and is as written.

    ``counted`` gives pieces by the letter of the compartment, or by their kind where
    there is none. Who holds the device already confirms its tray.
    """
    job = Job.objects.select_for_update().get(pk=job.pk)
    if not lies_open(job.state, job.main_state):
        raise RefusedError(f"state: found {job.state}, wanted one that lies open")
    tray = tray_written(job)
    reasons = [*against_taking(job, by, now), *_miscounted(tray, counted)]
    if reasons:
        raise RefusedError(*reasons)
    is_passed = job.holder != by.ref
    if is_passed:
        custody.move(job, _taken(job, by, now), by=by, now=now, is_counted=True)
    row = bench_runs.latest(job)
    append(
        "bench", "action", job.ref, by=by, now=now,
        facts={
            "does": "handover", "run": row.ref if row else None,
            "n": sum(one.n for one in tray), "is_passed": is_passed,
        },
    )  # fmt: skip
    return is_passed


def _taken(job: Job, by: Person, now: datetime) -> Standing:
    """Give how a device stands taken over: what it waits for it goes on to wait for."""
    if job.state == "parked open":
        return Standing(job.main_state, job.place, by.ref)
    until = max(job.waits_until, now.date()) if job.waits_until else None
    return Standing(job.state, job.place, by.ref, until, job.main_state, job.reason)


def _miscounted(tray: tuple[TrayCount, ...], counted: Mapping[str, int]) -> list[str]:
    told = []
    for one in tray or (EMPTY,):
        found = counted.get(key_of(one), "it not counted")
        if found != one.n:
            told.append(
                f"{place_words(one)}: found {found}, wanted {one.n} as written; "
                "look for them before anything is accepted"
            )
    return told


def place_words(one: TrayCount) -> str:
    """Name a compartment with what lies in it."""
    return f"compartment {one.place}, {one.kind}" if one.place else f"tray, {one.kind}"


@writing
def cover(job: Job, *, by: Person, now: datetime, reason: str) -> None:
    """Leave an open device covered until tomorrow; whoever holds it still does."""
    if job.holder == by.ref:
        bench_places.park(job, by=by, now=now, reason=reason)
        return
    # Nobody becomes its holder without having counted its tray.
    tomorrow = now.date() + timedelta(days=1)
    to = Standing(
        "parked open", job.place, job.holder, tomorrow, job.main_state, reason.strip()
    )
    custody.move(job, to, by=by, now=now)
