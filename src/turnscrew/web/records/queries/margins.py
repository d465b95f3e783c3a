"""What does the work on record earn, and what will its promises still cost?"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction
from functools import lru_cache
from threading import Lock
from typing import Any

from django.db.models import Count, Max, Q, Sum

from turnscrew.core.bench.own_time import own_times
from turnscrew.core.model.terms import Terms
from turnscrew.core.price.comeback import AT_NO_CHARGE
from turnscrew.core.price.margin import (
    Earnings,
    JobMoney,
    by_customer,
    by_fault,
    by_kind,
    by_model,
    earnings,
    labour_cost_minor,
)
from turnscrew.core.price.money import half_up
from turnscrew.files.terms_file import read_terms
from turnscrew.flows.promises import Promised, PromisesAhead, promises_ahead
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    BenchStroke,
    InvoiceLine,
    Job,
    Person,
    Quote,
)
from turnscrew.web.records.queries.bench_runs import left_as_they_were
from turnscrew.web.records.queries.charges import (
    agreed_quotes,
    credits_of,
    refused_jobs,
)
from turnscrew.web.records.queries.found_faults import found_by_job
from turnscrew.web.records.queries.money_page import BILLABLE
from turnscrew.web.records.queries.own_times import taps_on_record

EARNED_DAYS = 365
"""Days for which ended jobs are looked at: costs of long ago mislead; a choice."""

NO_FAULT = "no fault on record"
"""Where nothing was found on a device, or nobody wrote it."""

FREE = "comeback"
"""Code of the quote of a device that is mended at no charge."""


@dataclass(frozen=True)
class WorkEarned:
    """What the jobs ended since a day earned, and what their comebacks cost."""

    since: date
    kinds: Earnings
    by: tuple[tuple[str, Earnings], ...]
    says: Mapping[str, str]
    hour_minor: int | None
    hour_says: str
    comeback_costs_minor: tuple[int, ...]
    repair_costs_minor: tuple[int, ...]
    n_rootless: int


@dataclass(frozen=True)
class _Minutes:
    """True minutes of hands by job and by person."""

    by_job: Mapping[str, float]
    by_person: Mapping[str, float]


def work_earned(now: datetime) -> WorkEarned:
    """
    Give what each kind of job ended in the last year earned.

    A device that came back free is no job of its own: what it cost stands as rework
    against the job it came back from. What was charged for a donor's piece is credited
    to its owner, so it is what that piece costs.
    """
    since = now.date() - timedelta(days=EARNED_DAYS)
    jobs = _jobs(since)
    minutes = _minutes_on_record()
    hour_minor, hour_says = _hour(minutes)
    books = _Books.of(since, minutes, hour_minor)
    free = {pk: job for pk, job in jobs.items() if books.is_free(job)}
    rework = _rework(jobs, free, books)
    found = found_by_job(jobs.values())
    ended = {pk: job for pk, job in jobs.items() if pk not in free and job.closed_on}
    told = {
        pk: JobMoney(
            model=job.model,
            fault="+".join(sorted(found[pk])) or NO_FAULT,
            customer=job.batch.customer.name,
            revenue_minor=books.revenue_minor(job),
            is_agreed=books.is_agreed(job),
            parts_minor=books.parts_minor(job),
            minutes=books.minutes(job),
            rework_minor=rework.get(pk, 0),
        )
        for pk, job in ended.items()
    }
    hour = hour_minor or 0
    mended = [job for job in ended.values() if job.ended_as == "mended"]
    return WorkEarned(
        since=since,
        kinds=earnings(told.values(), hour, by_kind),
        by=(
            ("Model", earnings(told.values(), hour, by_model)),
            ("Fault", earnings(told.values(), hour, by_fault)),
            ("Customer", earnings(told.values(), hour, by_customer)),
        ),
        says=_fault_words(ended.values(), found),
        hour_minor=hour_minor,
        hour_says=hour_says,
        comeback_costs_minor=_known(books.cost_minor(job) for job in free.values()),
        repair_costs_minor=_known(books.cost_minor(job) for job in mended),
        n_rootless=sum(job.comeback_of_id is None for job in free.values()),
    )


def promises_open(
    now: datetime, usual_promise_days: int, earned: WorkEarned
) -> PromisesAhead:
    """
    Give the open promises by month, what they still bring, and the provision.

    Jobs from before the records were not watched before they were brought in: what
    came back until then is not on record.
    """
    back = dict(
        Job.objects.filter(comeback_class__in=AT_NO_CHARGE)
        .exclude(comeback_of=None)
        .order_by("-batch__received")
        .values_list("comeback_of_id", "batch__received")
    )
    rows = Job.objects.filter(
        state__in=["handed back", "promise over"], ended_as="mended"
    ).exclude(closed_on=None)
    batches = Batch.objects.in_bulk(set(rows.values_list("batch_id", flat=True)))
    promised = []
    for pk, batch_id, day in rows.values_list("pk", "batch_id", "closed_on"):
        agreed = _agreed(batches[batch_id].terms_text)
        came_back = back.get(pk)
        if day is None:
            continue
        promised.append(
            Promised(
                handed_back=day,
                promise_days=agreed.promise_days if agreed else usual_promise_days,
                came_back=max(came_back, day) if came_back else None,
                watched_from=None if agreed else batches[batch_id].closed_on,
            )
        )
    return promises_ahead(
        promised,
        now.date(),
        comeback_costs_minor=earned.comeback_costs_minor,
        repair_costs_minor=earned.repair_costs_minor,
    )


def _of_interest(since: date) -> Q:
    is_open = Q(closed_on=None) & ~Q(comeback_class="")
    return Q(closed_on__gte=since) | is_open


def _jobs(since: date) -> dict[int, Job]:
    """Give the jobs ended since a day, and the comebacks that are still here."""
    rows = Job.objects.filter(_of_interest(since)).select_related("batch__customer")
    return {job.pk: job for job in rows.order_by("pk")}


@dataclass(frozen=True)
class _Books:
    """What was charged, used and told of each job."""

    agreed: Mapping[int, Quote]
    quoted: frozenset[int]
    refused: Set[int]
    billed: Mapping[int, int]
    uses: Mapping[int, list[Allotment]]
    credited_minor: Mapping[int, int]
    by_job: Mapping[str, float]
    hour_minor: int | None

    @classmethod
    def of(cls, since: date, minutes: _Minutes, hour_minor: int | None) -> "_Books":
        rows = Job.objects.filter(_of_interest(since))
        # Credits stand below 0: they are the cost of a piece, where it was used.
        lines = InvoiceLine.objects.filter(job__in=rows, net_minor__gte=0).order_by()
        sums = lines.values_list("job_id").annotate(net=Sum("net_minor"))
        uses: dict[int, list[Allotment]] = defaultdict(list)
        used = Allotment.objects.filter(job__in=rows, state=Allotment.USED)
        for use in used.select_related("part"):
            uses[use.job_id].append(use)
        agreed = {quote.job_id: quote for quote in agreed_quotes(rows)}
        refused = refused_jobs(rows)
        quotes = Quote.objects.filter(job__in=rows)
        quoted = frozenset(quotes.values_list("job", flat=True))
        bare = quoted - agreed.keys() - refused
        return cls(
            agreed=agreed,
            quoted=quoted,
            refused=refused | left_as_they_were(job for job in rows if job.pk in bare),
            billed=dict(sums),
            uses=uses,
            credited_minor={
                pk: -int(row["net_minor"]) for pk, row in credits_of(uses).items()
            },
            by_job=minutes.by_job,
            hour_minor=hour_minor,
        )

    def is_free(self, job: Job) -> bool:
        """Say whether a job is a comeback for which nothing is charged."""
        quote = self.agreed.get(job.pk)
        return bool(job.comeback_class) and quote is not None and quote.code == FREE

    def revenue_minor(self, job: Job) -> int | None:
        """Give what was billed before tax, or will be by what was agreed."""
        if job.pk in self.billed:
            return self.billed[job.pk]
        if job.state not in BILLABLE:
            # What goes back as it came is not billed.
            return 0
        if job.pk not in self.agreed:
            return 0 if job.pk in self.refused else None
        return sum(int(row["net_minor"]) for row in self._charges(job))

    def is_agreed(self, job: Job) -> bool:
        """Say whether a price stands; a job from before the records lacks its sum."""
        return job.pk in self.agreed or job.pk not in self.quoted

    def parts_minor(self, job: Job) -> int | None:
        """Give the cost of the pieces used; none if more were charged than used."""
        uses = self.uses.get(job.pk, [])
        charged = [row for row in self._charges(job) if row["kind"] == "parts"]
        if job.state in BILLABLE and sum(row["n"] for row in charged) > len(uses):
            return None
        costs = [self._piece_minor(job, use) for use in uses]
        known = [cost for cost in costs if cost is not None]
        return sum(known) if len(known) == len(costs) else None

    def minutes(self, job: Job) -> float | None:
        """Give the minutes of hands; none without a cost of an hour to go with them."""
        return self.by_job.get(job.ref) if self.hour_minor is not None else None

    def cost_minor(self, job: Job) -> int | None:
        """Give parts and labour of an ended job."""
        parts, minutes = self.parts_minor(job), self.minutes(job)
        is_known = job.closed_on is not None and None not in (parts, minutes)
        if not is_known or self.hour_minor is None:
            return None
        return (parts or 0) + labour_cost_minor(minutes or 0.0, self.hour_minor)

    def _piece_minor(self, job: Job, use: Allotment) -> int | None:
        if use.donor_part_id is None:
            return use.part.cost_minor
        # A device that is never billed pays no owner of a donor.
        is_billed = job.state in BILLABLE or job.pk in self.billed
        return self.credited_minor.get(use.pk, 0) if is_billed else 0

    def _charges(self, job: Job) -> list[dict[str, Any]]:
        quote = self.agreed.get(job.pk)
        return quote.charges if quote else []


def _rework(
    jobs: Mapping[int, Job], free: Mapping[int, Job], books: _Books
) -> dict[int, int | None]:
    """Give what the free comebacks of each job cost; none if one is not known."""
    sums: dict[int, int | None] = {}
    for job in free.values():
        root: Job | None = job
        while root is not None and root.pk in free:
            # A comeback of a comeback counts against the first job of all.
            root = jobs.get(root.comeback_of_id) if root.comeback_of_id else None
        if root is not None:
            cost, before = books.cost_minor(job), sums.get(root.pk, 0)
            is_known = cost is not None and before is not None
            sums[root.pk] = (cost or 0) + (before or 0) if is_known else None
    return sums


_kept: dict[tuple[int | None, datetime | None, int], _Minutes] = {}
_lock = Lock()


def _minutes_on_record() -> _Minutes:
    """
    Give the minutes by job and person, kept until one more job with strokes has ended.

    What was reckoned of a stroke never changes when more strokes come.
    """
    held = BenchStroke.objects.filter(standing=BenchStroke.HELD, sequence__gt=0)
    ended = held.exclude(run__job__closed_on=None)
    told = ended.aggregate(last=Max("sequence"), at=Max("told_at"), n=Count("pk"))
    key = (told["last"], told["at"], told["n"])
    with _lock:
        if key in _kept:
            return _kept[key]
    minutes = _read_minutes() if told["n"] else _Minutes({}, {})
    with _lock:
        _kept.clear()
        _kept[key] = minutes
    return minutes


def _read_minutes() -> _Minutes:
    by_job: dict[str, float] = defaultdict(float)
    by_person: dict[str, float] = defaultdict(float)
    for timed in own_times(taps_on_record()).timed:
        # Of a job that has unknown times alone nothing is known; it took no zero.
        if timed.seconds:
            by_job[timed.tap.job] += timed.seconds / 60
            by_person[timed.tap.person] += timed.seconds / 60
    return _Minutes(by_job, by_person)


def _hour(minutes: _Minutes) -> tuple[int | None, str]:
    """Give what an hour of hands costs, and what that rests on."""
    pay = dict(
        Person.objects.filter(ref__in=list(minutes.by_person), pay_minor__gt=0)
        .values_list("ref", "pay_minor")
    )  # fmt: skip
    worked = {ref: Fraction(minutes.by_person[ref]) for ref in pay}
    total = sum(worked.values())
    if total:
        paid = sum(worked[ref] * pay[ref] for ref in pay)
        return half_up(paid / total), (
            "the mean pay of an hour of those who worked at a bench, by their minutes; "
            "rent and work away from a bench are not in it"
        )
    agreed = None
    newest = Batch.objects.exclude(terms_text="").order_by("-received", "-pk").first()
    if newest is not None:
        agreed = _agreed(newest.terms_text)
    if agreed is None:
        return None, ""
    return agreed.rate_minor, (
        "the price of an hour in the newest terms, as no pay of who worked is on "
        "record: labour looks dearer than it is"
    )


@lru_cache(maxsize=256)
def _agreed(terms_text: str) -> Terms | None:
    """Read terms once for each text of them; none from before the records."""
    return read_terms(terms_text) if terms_text else None


def _fault_words(
    jobs: Iterable[Job], found: Mapping[int, tuple[str, ...]]
) -> dict[str, str]:
    """Give the words of each fault found, and of several found together."""
    listed = list(jobs)
    words: dict[str, str] = {}
    for text in {job.batch.terms_text for job in listed}:
        agreed = _agreed(text)
        if agreed is not None:
            words |= {code: fault.says for code, fault in agreed.faults.items()}
    together = {tuple(sorted(found[job.pk])) for job in listed}
    return {
        "+".join(codes): ", ".join(words[code] for code in codes if code in words)
        for codes in together
    }


def _known(costs: Iterable[int | None]) -> tuple[int, ...]:
    return tuple(cost for cost in costs if cost is not None)
