"""
What failed in a customer's fleet, by their count of devices and our findings?

A model has ages where each of its counts says since when the devices are in service and
no place has two such counts; then every device that came in is a unit of its own, and
the others of its place stand in one row with their number as weight.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from turnscrew.core.fleet.answer import YEAR_DAYS, FleetReport
from turnscrew.core.fleet.question import (
    Counted,
    FleetFailures,
    FleetGroup,
    Wishes,
)
from turnscrew.core.model.calendar import days_from
from turnscrew.core.model.model_terms import FaultTerms
from turnscrew.core.price.replace import Replacement
from turnscrew.core.reliability.table import FleetTable, fleet_table
from turnscrew.flows.fleet.report import fleet_report
from turnscrew.papers.fleet_report import Pictures, fleet_report_pdf, pictures
from turnscrew.papers.page import Page
from turnscrew.web.records.models import Customer, Fleet, Job
from turnscrew.web.records.queries.charges import agreed_quotes
from turnscrew.web.records.queries.found_faults import found_by_job
from turnscrew.web.records.queries.past_jobs import came_on
from turnscrew.web.records.queries.terms_text import terms_of

WATCHED_DAYS = 91
"""A term: time under watch where none is said. [days]"""

WHOLE = "all places"
"""Where a fleet was counted as one."""


@dataclass(frozen=True)
class CustomerFleet:
    """
    What the records tell of a customer's fleet in some days.

    ``begins`` is the day from which anything is known, if that cut the time short.
    """

    since: date
    until: date
    report: FleetReport | None
    not_counted: tuple[tuple[str, int], ...]
    n_without_fault: int
    says: Mapping[str, str]
    begins: date | None


@dataclass(frozen=True)
class _Cohort:
    """Devices of one model at one place, and since when they are in service."""

    site: str
    model: str
    n: int
    since: date | None


@dataclass(frozen=True)
class _Failed:
    """One fault found on one device."""

    device: str
    site: str
    model: str
    cause: str
    on: date
    cost_minor: int | None


def customer_fleet(
    customer: Customer,
    now: datetime,
    days: int = WATCHED_DAYS,
    replacements: Mapping[str, Replacement] | None = None,
) -> CustomerFleet:
    """
    Give what failed of the devices received in the last days.

    A device brings in each fault found on it once; a trial without a fault counts
    apart. A model that nobody counted has no rate: its failures are counted alone. The
    first batch is taken to hold what failed in the term before it, so that time from
    which nothing could be known is not counted as time without failures.
    """
    until = now.date()
    begins = _begins(customer)
    since = max(until - timedelta(days=days), begins or date.min)
    days = max((until - since).days, 1)
    cohorts = _cohorts(customer)
    found = _found(customer, now, since, cohorts)
    aged = _aged_models(cohorts, since, until)
    report = None
    if cohorts:
        tables = {
            model: _table(
                [one for one in cohorts if one.model == model],
                [one for one in found.failed if one.model == model],
                since,
                until,
            )
            for model in sorted(aged)
        }
        plain = [one for one in cohorts if one.model not in aged]
        report = fleet_report(
            [tables] if tables else [],
            counted=_counted(plain, found.failed, days),
            wishes=Wishes(term_days=WATCHED_DAYS, replacements=replacements or {}),
        )
    return CustomerFleet(
        since=since,
        until=until,
        report=report,
        not_counted=tuple(sorted(found.not_counted.items())),
        n_without_fault=found.n_without_fault,
        says=found.says,
        begins=begins if begins == since else None,
    )


def fleet_pictures(fleet: CustomerFleet) -> Pictures | None:
    """Draw what is told; nothing if nothing failed."""
    if fleet.report is None or not fleet.report.answer.causes:
        return None
    return pictures(fleet.report, fleet.says)


def fleet_paper(customer: Customer, fleet: CustomerFleet, page: Page) -> bytes | None:
    """Print what is told; nothing if the fleet was never counted."""
    if fleet.report is None:
        return None
    return fleet_report_pdf(
        fleet.report,
        title=customer.name,
        names=fleet.says,
        period=f"From {fleet.since:%d %b %Y} to {fleet.until:%d %b %Y}.",
        page=page,
    )


@dataclass
class _Found:
    """What was found, device by device."""

    failed: list[_Failed] = field(default_factory=list)
    not_counted: Counter[str] = field(default_factory=Counter)
    says: dict[str, str] = field(default_factory=dict)
    n_without_fault: int = 0
    on: dict[int, date] = field(default_factory=dict)
    costs: dict[int, int] = field(default_factory=dict)

    def add(
        self,
        job: Job,
        codes: Iterable[str],
        faults: Mapping[str, FaultTerms],
        places: Mapping[str, set[str]],
    ) -> None:
        known = [code for code in codes if code in faults]
        trials = {code for code in known if faults[code].is_trial}
        self.n_without_fault += bool(trials)
        site = _site_of(job, places)
        real = [code for code in known if code not in trials]
        for code in real:
            self.says[code] = faults[code].says
            if site is None:
                self.not_counted[f"{job.model}, {job.site or 'place not known'}"] += 1
                continue
            # What two faults of one device cost together is neither one's cost.
            cost = self.costs.get(job.pk) if len(real) == 1 else None
            on = self.on[job.pk]
            self.failed.append(
                _Failed(str(job.item_id), site, job.model, code, on, cost)
            )


def _found(
    customer: Customer, now: datetime, since: date, cohorts: Iterable[_Cohort]
) -> _Found:
    places: dict[str, set[str]] = {}
    for one in cohorts:
        places.setdefault(one.model, set()).add(one.site)
    found = _Found()
    batches = customer.batches.filter(received__lte=now.date())
    for batch in batches.exclude(terms_text="").order_by("pk"):
        every = list(Job.objects.filter(batch=batch).order_by("line"))
        # A device may come again, or late, into a batch of before.
        came = came_on(batch, every)
        on = {job.pk: came.get(job.ref, batch.received) for job in every}
        jobs = [job for job in every if since < on[job.pk] <= now.date()]
        if not jobs:
            continue
        found.on |= on
        codes, faults = found_by_job(jobs), terms_of(batch).faults
        # What nobody agreed to cost nobody anything: such a failure has no known cost.
        found.costs |= {
            quote.job_id: sum(row["net_minor"] for row in quote.charges)
            for quote in agreed_quotes(jobs)
        }
        for job in jobs:
            job.batch = batch
            found.add(job, codes[job.pk], faults, places)
    return found


def _begins(customer: Customer) -> date | None:
    """Give the day from which on failures of a customer could be known."""
    first = customer.batches.exclude(terms_text="").order_by("received").first()
    return None if first is None else days_from(first.received, -WATCHED_DAYS)


def _cohorts(customer: Customer) -> list[_Cohort]:
    """Give the newest count of each cohort; places go before the whole."""
    newest: dict[tuple[str, str, date | None], int] = {}
    rows = Fleet.objects.filter(customer=customer).select_related("site")
    for row in rows.order_by("counted_on", "pk"):
        place = row.site.name if row.site else WHOLE
        # A count without a day is of all there, whenever they came.
        if row.in_service_on is None:
            for key in [one for one in newest if one[:2] == (row.model, place)]:
                del newest[key]
        else:
            newest.pop((row.model, place, None), None)
        newest[row.model, place, row.in_service_on] = row.n_devices
    by_place = {model for model, site, _ in newest if site != WHOLE}
    return [
        _Cohort(site, model, n, day)
        for (model, site, day), n in sorted(newest.items(), key=lambda one: one[0][:2])
        if n and (site != WHOLE or model not in by_place)
    ]


def _aged_models(cohorts: Iterable[_Cohort], since: date, until: date) -> set[str]:
    """Give the models whose devices' ages are known at each place."""
    known: dict[str, list[_Cohort]] = {}
    for one in cohorts:
        known.setdefault(one.model, []).append(one)
    return {
        model
        for model, rows in known.items()
        if len({one.site for one in rows}) == len(rows)
        and all(one.since is not None and one.since < until for one in rows)
    }


def _table(
    cohorts: list[_Cohort], failed: list[_Failed], since: date, until: date
) -> FleetTable:
    units: list[tuple[str, int, str, float, float, float]] = []
    events: list[tuple[int, float, str, int | None]] = []
    for one in cohorts:
        assert one.since is not None
        start = max(0, (since - one.since).days)
        end = (until - one.since).days
        mine = [
            failure
            for failure in failed
            if failure.site == one.site and (failure.on - one.since).days > start
        ]
        devices = dict.fromkeys(failure.device for failure in mine)
        place = {device: len(units) + k for k, device in enumerate(devices)}
        for device in devices:
            units.append((device, one.since.year, one.site, start, end, 1.0))
        if one.n > len(devices):
            rest = float(one.n - len(devices))
            units.append(
                (f"others at {one.site}", one.since.year, one.site, start, end, rest)
            )
        events += [
            (place[f.device], float((f.on - one.since).days), f.cause, f.cost_minor)
            for f in mine
        ]
    names, years, sites, starts, ends, weights = zip(*units, strict=True)
    return fleet_table(
        names, starts, ends, events=events,
        causes=tuple(dict.fromkeys(cause for _, _, cause, _ in events)),
        model_year=years, site=sites, weight=weights, are_repeats_meant=True,
    )  # fmt: skip


def _counted(cohorts: list[_Cohort], failed: list[_Failed], days: int) -> Counted:
    n_at: Counter[tuple[str, str]] = Counter()
    for one in cohorts:
        n_at[one.site, one.model] += one.n
    years = days / YEAR_DAYS
    groups = tuple(
        FleetGroup(
            site,
            model,
            n * years,
            n * WATCHED_DAYS / YEAR_DAYS,
            n_devices=n,
            years_squared=n * years**2,
        )  # fmt: skip
        for (site, model), n in n_at.items()
    )
    return Counted(groups, tuple(_failures(failed, n_at, years)))


def _failures(
    failed: Iterable[_Failed], n_at: Mapping[tuple[str, str], int], years: float
) -> Iterator[FleetFailures]:
    rows: dict[tuple[str, str, str], list[_Failed]] = {}
    for one in failed:
        if (one.site, one.model) in n_at:
            rows.setdefault((one.site, one.model, one.cause), []).append(one)
    for (site, model, cause), some in sorted(rows.items()):
        of_device = Counter(one.device for one in some)
        costs = [one.cost_minor for one in some if one.cost_minor is not None]
        yield FleetFailures(
            site, model, cause, len(some), cost_minor=sum(costs), n_costed=len(costs),
            n_devices=len(of_device), by_years=len(some) * years,
            squares=sum(n * n for n in of_device.values()),
        )  # fmt: skip


def _site_of(job: Job, places: Mapping[str, set[str]]) -> str | None:
    """Give the counted place a device belongs to; none if nobody counted there."""
    known = places.get(job.model, set())
    return job.site if job.site in known else WHOLE if WHOLE in known else None
