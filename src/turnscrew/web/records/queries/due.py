"""On which date is a device due, and which of several is due first?"""

from collections.abc import Callable, Iterable
from datetime import date
from typing import TypeVar

from turnscrew.web.records.models import Job
from turnscrew.web.records.queries.terms_text import calendar_of

_Row = TypeVar("_Row")


def due_on(job: Job) -> date | None:
    """Give the date by which a device must be ready; none if no day was agreed."""
    if not job.due_day or not job.batch.terms_text:
        return None
    return calendar_of(job.batch).date_of(job.due_day, job.batch.received)


def earliest_due_first(
    rows: Iterable[_Row], job_of: Callable[[_Row], Job]
) -> list[_Row]:
    """
    Sort rows by the dates of their devices, those without a day last.

    The days of two batches are counted from different dates, so they do not compare.
    """
    return sorted(rows, key=lambda row: due_on(job_of(row)) or date.max)
