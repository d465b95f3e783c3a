"""What must somebody look at this morning?"""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import OuterRef, Subquery
from django.http import Http404

from turnscrew.core.model.calendar import days_from
from turnscrew.core.model.job_state import OPEN, WAITING
from turnscrew.web.records.models import (
    Entry,
    Job,
    Person,
    SafetyCheck,
    SafetyKind,
    SignOff,
)
from turnscrew.web.records.queries.item_page import names_of
from turnscrew.web.records.queries.sign_offs import held_on, standing_on

_LOOKED_AT = 50
"""Newest entries that are compared with the clock; older ones are settled."""

_APART = timedelta(minutes=2)
"""How far the clocks of two servers may differ unsaid. [common practice, no source]"""


def written_later(now: datetime) -> datetime | None:
    """Give the latest time in the journals if the clock is not there yet; else none."""
    newest = Entry.objects.order_by("-id").values_list("at", flat=True)[:_LOOKED_AT]
    latest = max(newest, default=now)
    return latest if latest > now + _APART else None


@dataclass(frozen=True)
class Due:
    """A safety check with the day it is due."""

    kind: SafetyKind
    last_on: date | None
    last_result: str
    due_on: date | None
    is_overdue: bool
    n_skipped: int = 0


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
            next_on = days_from(kind.last_on, kind.every_days)
        due.append(
            Due(
                kind=kind,
                last_on=kind.last_on,
                last_result=kind.last_result or "never",
                due_on=next_on,
                is_overdue=next_on is None
                or next_on <= today
                or kind.last_result == "failed",
                n_skipped=_n_skipped(next_on, kind.every_days, today),
            )
        )
    return due


def _n_skipped(next_on: date | None, every_days: int, today: date) -> int:
    """Count the days on which a look was due and none was taken."""
    if next_on is None or next_on >= today:
        return 0
    return -(-(today - next_on).days // every_days)


def safety_kind(pk: int) -> SafetyKind:
    """Give one thing that must be looked at."""
    kind = SafetyKind.objects.filter(pk=pk).first()
    if kind is None:
        raise Http404
    return kind


def members(day: date) -> list[Person]:
    """Give everybody on record with what they may do alone, those who left last."""
    people = list(Person.objects.order_by("has_left", "order", "id"))
    held = held_on(SignOff.objects.all(), day)
    for person in people:
        person.skills = sorted(held.get(person.pk, ()))  # type: ignore[attr-defined]
    return people


def sign_offs(person: Person, day: date) -> list[SignOff]:
    """Give the sign-offs somebody holds on a day; one taken back is none."""
    return standing_on(person.sign_offs.select_related("signed_by"), day)
