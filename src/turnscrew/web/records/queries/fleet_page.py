"""What failed in a customer's fleet, by their count of devices and our findings?"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from turnscrew.core.model.model_terms import FaultTerms
from turnscrew.flows.fleet import (
    FleetAnswer,
    FleetFailures,
    FleetGroup,
    told_of_fleet,
)
from turnscrew.web.records.models import Customer, Fleet, Job
from turnscrew.web.records.queries.batch_input import found_by_job, terms_of

WATCHED_DAYS = 91
"""A term: time under watch where none is said. [days]"""

YEAR_DAYS = 365.25
WHOLE = "all places"
"""Where a fleet was counted as one."""


@dataclass(frozen=True)
class CustomerFleet:
    """What the records tell of a customer's fleet in some days."""

    since: date
    until: date
    answer: FleetAnswer
    not_counted: tuple[tuple[str, int], ...]
    n_without_fault: int
    says: Mapping[str, str]


def customer_fleet(
    customer: Customer, now: datetime, days: int = WATCHED_DAYS
) -> CustomerFleet:
    """
    Give failures a device-year of the devices received in the last days.

    A device brings in each fault found on it once; a trial without a fault counts
    apart. A model that nobody counted has no rate: its failures are counted alone.
    """
    until = now.date()
    since = until - timedelta(days=days)
    groups = _groups(customer)
    counts = _Counts()
    batches = customer.batches.filter(received__gt=since, received__lte=until)
    for batch in batches.exclude(terms_text="").order_by("pk"):
        jobs = list(Job.objects.filter(batch=batch).order_by("line"))
        found, faults = found_by_job(jobs, now), terms_of(batch).faults
        for job in jobs:
            counts.add(job, found[job.pk], faults, groups)
    failures = [
        FleetFailures(site, model, code, n)
        for (site, model, code), n in sorted(counts.counted.items())
    ]
    return CustomerFleet(
        since=since,
        until=until,
        answer=told_of_fleet(groups, failures, years=days / YEAR_DAYS),
        not_counted=tuple(sorted(counts.not_counted.items())),
        n_without_fault=counts.n_without_fault,
        says=counts.says,
    )


@dataclass
class _Counts:
    """What was found, added up device by device."""

    counted: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    not_counted: Counter[str] = field(default_factory=Counter)
    says: dict[str, str] = field(default_factory=dict)
    n_without_fault: int = 0

    def add(
        self,
        job: Job,
        codes: Iterable[str],
        faults: Mapping[str, FaultTerms],
        groups: list[FleetGroup],
    ) -> None:
        known = [code for code in codes if code in faults]
        trials = {code for code in known if faults[code].is_trial}
        self.n_without_fault += bool(trials)
        site = _site_of(job, groups)
        for code in known:
            if code in trials:
                continue
            self.says[code] = faults[code].says
            if site is None:
                self.not_counted[f"{job.model}, {job.site or 'place not known'}"] += 1
            else:
                self.counted[site, job.model, code] += 1


def _groups(customer: Customer) -> list[FleetGroup]:
    """Give the newest count of each model at each place; places go before the whole."""
    newest: dict[tuple[str, str], int] = {}
    rows = Fleet.objects.filter(customer=customer).select_related("site")
    for row in rows.order_by("counted_on", "pk"):
        newest[row.model, row.site.name if row.site else WHOLE] = row.n_devices
    by_place = {model for model, site in newest if site != WHOLE}
    return [
        FleetGroup(site, model, n)
        for (model, site), n in sorted(newest.items())
        if n and (site != WHOLE or model not in by_place)
    ]


def _site_of(job: Job, groups: list[FleetGroup]) -> str | None:
    """Give the counted place a device belongs to; none if nobody counted there."""
    places = [group.site for group in groups if group.model == job.model]
    return job.site if job.site in places else WHOLE if WHOLE in places else None
