"""What happened that hurt or might have, where are the packs, what ends soon?"""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.http import Http404

from turnscrew.web.records.models import Incident, PackLog, SignOff

FUME_MG_M3 = (("8 hours", 0.05), ("15 minutes", 0.15))
"""
Most rosin-based solder fume in the air breathed, by the time it is the mean of.

Limits of Great Britain, read on the page of research report RR900 of its Health and
Safety Executive. [mg/m³]
"""

_SOON_DAYS = 30
"""Sign-offs that end so soon are shown; common practice, no source. [days]"""

_MOST = 100


@dataclass(frozen=True)
class Ending:
    """A sign-off that has ended, or ends soon."""

    row: SignOff
    has_ended: bool


def incident_of(ref: str) -> Incident:
    """Give one incident."""
    one = Incident.objects.filter(ref=ref).first()
    if one is None:
        raise Http404
    return one


def open_incidents() -> list[Incident]:
    """Give the incidents from which nothing was learnt yet."""
    rows = Incident.objects.filter(closed_on=None).select_related("by", "job__item")
    return list(rows[:_MOST])


def packs_here() -> list[PackLog]:
    """Give the last word on every pack that is still here."""
    last: dict[str, PackLog] = {}
    rows = PackLog.objects.select_related("by", "job__item").order_by("id")
    for one in rows:
        last[one.pack] = one
    return [one for one in last.values() if one.event not in {"gone", "fitted"}]


def endings(today: date) -> list[Ending]:
    """Give the sign-offs that have ended or end soon, of those who work here."""
    soon = today + timedelta(days=_SOON_DAYS)
    rows = SignOff.objects.filter(until__lte=soon, person__has_left=False)
    return [
        Ending(row, row.until is not None and row.until < today)
        for row in rows.select_related("person").order_by("until", "id")[:_MOST]
    ]


def safety_page(today: date) -> dict[str, Any]:
    """Give all that the page of safety shows beside the checks."""
    closed = Incident.objects.exclude(closed_on=None).select_related("by", "job__item")
    return {
        "incidents": open_incidents(),
        "closed": list(closed[:_MOST]),
        "packs": packs_here(),
        "log": list(PackLog.objects.select_related("by")[:_MOST]),
        "fume": FUME_MG_M3,
        "endings": endings(today),
    }
