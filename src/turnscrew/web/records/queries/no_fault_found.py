"""How often is no fault found on a model, and how many of those come back soon?"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from turnscrew.core.model.calendar import days_from
from turnscrew.web.records.models import Customer, Job
from turnscrew.web.records.queries.found_faults import NOT_FOUND

FEWEST = 5
"""Below so many jobs no share is told. [1]"""

BACK_DAYS = 60
"""So soon a device counts as back after no fault was found. [days]"""


class _Ended(NamedTuple):
    item: int
    model: str
    received: date
    closed_on: date | None
    ended_as: str


@dataclass(frozen=True)
class NotFound:
    """Jobs of one model: all, those without a fault found, and those back soon."""

    model: str
    n_ended: int
    n_not_found: int
    n_back: int

    @property
    def share(self) -> float | None:
        """Give the share without a fault found; nothing below five jobs. [1]."""
        return self.n_not_found / self.n_ended if self.n_ended >= FEWEST else None

    @property
    def share_back(self) -> float | None:
        """Give the share of those that came back; nothing below five of them. [1]."""
        n = self.n_not_found
        return self.n_back / n if n >= FEWEST else None


def not_found_by_model(customer: Customer) -> list[NotFound]:
    """Give for each model of a customer how many jobs found no fault."""
    rows = Job.objects.filter(batch__customer=customer).values_list(
        "item", "model", "batch__received", "closed_on", "ended_as"
    )
    jobs = [_Ended(*row) for row in rows]
    came: dict[int, list[date]] = defaultdict(list)
    for job in jobs:
        came[job.item].append(job.received)
    ended: dict[str, list[_Ended]] = defaultdict(list)
    for job in jobs:
        if job.closed_on is not None and job.ended_as:
            ended[job.model].append(job)
    return [_of_model(model, ended[model], came) for model in sorted(ended)]


def _of_model(model: str, ended: list[_Ended], came: dict[int, list[date]]) -> NotFound:
    without = [job for job in ended if job.ended_as == NOT_FOUND]
    n_back = sum(_is_back(job.closed_on, came[job.item]) for job in without)
    return NotFound(model, len(ended), len(without), n_back)


def _is_back(closed_on: date | None, days: Iterable[date]) -> bool:
    if closed_on is None:
        return False
    last = days_from(closed_on, BACK_DAYS)
    return any(closed_on < day <= last for day in days)
