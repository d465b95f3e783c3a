"""How does a device change its state, place or holder?"""

from datetime import datetime

from django.db import transaction

from turnscrew.core.model.job_state import (
    ENDED,
    GIVEN_BACK,
    Standing,
    next_main,
    refusals,
)
from turnscrew.web.records.convert import standing_of
from turnscrew.web.records.models import Job, Person
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.refusal import RefusedError

CUSTOMER = "customer"
"""Stands for the owner as holder: whoever it is, it is not one of us."""


@transaction.atomic
def move(job: Job, to: Standing, *, by: Person, now: datetime) -> None:
    """Bring a device into a state, to a place and a holder."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    before = standing_of(job) if job.state else None
    reasons = list(refusals(before, to))
    if to.until is not None and to.until < now.date():
        reasons.append(f"day: found {to.until}, wanted {now.date()} or later")
    if reasons:
        raise RefusedError(*reasons)
    enter(job, to, by=by, now=now)


def enter(job: Job, to: Standing, *, by: Person, now: datetime) -> None:
    """Write a standing that was found to be in order; within a transaction."""
    before = standing_of(job) if job.state else None
    job.main_state = next_main(before, to.state)
    job.state, job.place, job.holder = to.state, to.place.strip(), to.holder
    job.waits_until, job.reason = to.until, to.reason
    if to.state in ENDED and job.closed_on is None:
        job.closed_on = now.date()
    if to.state in GIVEN_BACK:
        job.place = job.holder = CUSTOMER
    keep(job, now)
    append(
        "custody",
        "moved",
        job.ref,
        by=by,
        now=now,
        facts={
            "state": job.state,
            "place": job.place,
            "holder": job.holder,
            "until": to.until.isoformat() if to.until else None,
        },
        words=to.reason,
    )
