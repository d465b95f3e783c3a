"""When was a restore last tried, and is it time to try one again?"""

import json
from dataclasses import dataclass
from datetime import date, datetime

from django.utils.timezone import localdate

from turnscrew.core.model.calendar import days_from
from turnscrew.web.records.models import Entry, Person
from turnscrew.web.records.queries.newest_backup import Backup, newest_backup

TRIED = "restore tried"
EVERY_DAYS = 30
"""A month; that a restore is tried monthly is common practice, no source."""


@dataclass(frozen=True)
class Trial:
    """A restore that was tried."""

    on: date
    by: str
    is_whole: bool
    words: str


@dataclass(frozen=True)
class Asked:
    """That a restore is to be tried: of which backup, and what came of the last."""

    newest: Backup | None
    last: Trial | None

    @property
    def has_failed(self) -> bool:
        """Tell whether the last trial failed."""
        return self.last is not None and not self.last.is_whole


def asked_for(now: datetime) -> Asked | None:
    """Give what a lead is asked to try; none while the last trial is young."""
    last = last_trial()
    return Asked(newest_backup(), last) if is_due(last, now.date()) else None


def last_trial() -> Trial | None:
    """Give the last restore that was tried; none if none ever was."""
    rows = Entry.objects.filter(journal="bench", verb=TRIED)
    row = rows.select_related("words").order_by("sequence").last()
    if row is None:
        return None
    author = Person.objects.filter(ref=row.author).first()
    words = getattr(row, "words", None)
    return Trial(
        on=localdate(row.at),
        by=author.name if author else "",
        is_whole=bool(json.loads(row.facts).get("whole")),
        words=words.text if words else "",
    )


def is_due(last: Trial | None, today: date) -> bool:
    """Say whether a restore must be tried; one that failed is asked for again."""
    if last is None or not last.is_whole:
        return True
    return days_from(last.on, EVERY_DAYS) <= today
