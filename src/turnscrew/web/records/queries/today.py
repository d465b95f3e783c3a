"""What must somebody look at this morning?"""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import OuterRef, Subquery

from turnscrew.core.model.job_state import OPEN, WAITING
from turnscrew.web.records.models import (
    Job,
    Person,
    SafetyCheck,
    SafetyKind,
    SignOff,
)
from turnscrew.web.records.queries.item_page import names_of


@dataclass(frozen=True)
class Due:
    """A safety check with the day it is due."""

    kind: SafetyKind
    last_on: date | None
    last_result: str
    due_on: date | None
    is_overdue: bool


def overdue_waits(today: date) -> list[Job]:
    """Give the devices that have waited too long, or for whom today is the day."""
    rows = Job.objects.filter(state__in=WAITING, waits_until__lte=today)
    return _with_holders(list(rows.select_related("item", "batch")[:100]))


def open_devices() -> list[Job]:
    """Give the devices that stand open."""
    rows = Job.objects.filter(state__in=OPEN)
    return _with_holders(list(rows.select_related("item", "batch")[:100]))


def _with_holders(jobs: list[Job]) -> list[Job]:
    names = names_of([job.holder for job in jobs])
    for job in jobs:
        job.holder_name = names[job.holder]  # type: ignore[attr-defined]
    return jobs


def safety_due(now: datetime) -> list[Due]:
    """Give every check with its next day; none made yet is overdue."""
    today = now.date()
    due = []
    # A check not done says so, but it moves no day.
    done = SafetyCheck.objects.filter(kind=OuterRef("pk")).exclude(result="not done")
    kinds = SafetyKind.objects.annotate(
        last_on=Subquery(done.values("on")[:1]),
        last_result=Subquery(done.values("result")[:1]),
    )
    for kind in kinds:
        next_on = None
        if kind.last_on is not None:
            next_on = kind.last_on + timedelta(days=kind.every_days)
        due.append(
            Due(
                kind=kind,
                last_on=kind.last_on,
                last_result=kind.last_result or "never",
                due_on=next_on,
                is_overdue=next_on is None
                or next_on <= today
                or kind.last_result == "failed",
            )
        )
    return due


def members() -> list[Person]:
    """Give everybody on record, those who left last."""
    rows = Person.objects.prefetch_related("sign_offs__signed_by", "absences")
    return list(rows.order_by("has_left", "order", "id"))


def sign_offs(person: Person) -> list[SignOff]:
    """Give what somebody was signed off for."""
    return list(person.sign_offs.select_related("signed_by"))
