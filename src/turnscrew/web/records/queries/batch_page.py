"""How does a batch stand: how many where, who waits for what, what is safe how long?"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from django.db.models import F
from django.http import Http404

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.job_state import ENDED, STATES, WAITING
from turnscrew.core.model.terms import LookAlike
from turnscrew.core.stock.order import OrderLine as Bought
from turnscrew.core.stock.order import cheapest
from turnscrew.papers.set_aside import written
from turnscrew.web.records.models import (
    Accessory,
    Allotment,
    Batch,
    DataPart,
    Donor,
    DonorPart,
    Job,
    Part,
    Tranche,
)
from turnscrew.web.records.queries.adapters import adapters_of
from turnscrew.web.records.queries.charges import refused_jobs
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.item_page import names_of
from turnscrew.web.records.queries.on_the_way import coming_by, still_open
from turnscrew.web.records.queries.order_waits import order_waits, yes_waits
from turnscrew.web.records.queries.passed_over import passed_over_of
from turnscrew.web.records.queries.permission import is_left


@dataclass(frozen=True)
class Waiting:
    """Something a device waits for."""

    job: Job
    what: str
    until: date | None
    holder: str
    is_overdue: bool


@dataclass(frozen=True)
class BatchStand:
    """How a batch stands."""

    batch: Batch
    jobs: list[Job]
    counts: list[tuple[str, int]]
    waiting: list[Waiting]
    short: list[Any] = field(default_factory=list)
    n_ended: int = 0

    @property
    def n_jobs(self) -> int:
        return len(self.jobs)


def batch_stand(batch: Batch, now: datetime) -> BatchStand:
    """Give how a batch stands, without reckoning."""
    jobs = list(batch.jobs.select_related("item").order_by("line"))
    counts = Counter(job.state for job in jobs)
    names = names_of([job.holder for job in jobs])
    waiting = [
        Waiting(
            job, f"{job.state}: {job.reason}", job.waits_until, names[job.holder],
            is_overdue=job.waits_until is not None and job.waits_until < now.date(),
        )
        for job in jobs
        if job.state in WAITING
    ]  # fmt: skip
    short = (
        Allotment.objects.filter(job__batch=batch, state=Allotment.SHORT)
        .select_related("part", "job")
        .order_by(F("job__due_day").asc(nulls_last=True), "job__line")
    )
    return BatchStand(
        batch=batch,
        jobs=jobs,
        counts=[(state, counts[state]) for state in STATES if counts[state]],
        waiting=sorted(waiting, key=lambda one: (str(one.until), one.job.line)),
        short=list(short),
        n_ended=sum(counts[state] for state in ENDED),
    )


@dataclass(frozen=True)
class OrderNeed:
    """What of a part a batch still has to order."""

    number: str
    description: str
    supplier: str
    n_needed: int
    n_ordered: int
    """Pieces on their way for it. [1]"""
    n_left: int
    """Pieces still to be ordered: whole packs. [1]"""
    cost_minor: int
    """Cost of those. [minor units]"""
    latest: date | None
    tells: list[str]
    waits: list[str]
    n_of_none: int = 0
    """Pieces on their way that were ordered for no batch. [1]"""


def order_needs(batch: Batch, answer: BatchAnswer) -> list[OrderNeed]:
    """Compare what a batch must buy with what is on its way for it."""
    coming = coming_by(still_open().filter(batch=batch))
    of_none = coming_by(still_open().filter(batch=None))
    waits, asked = order_waits(batch, answer), yes_waits(answer)
    needs = []
    for line in answer.supply.orders:
        part = answer.batch.parts[line.part]
        n_more = max(0, line.n_needed - coming[line.part])
        n_left, cost = cheapest(part, n_more) if n_more else (0, 0)
        needs.append(
            OrderNeed(
                number=line.part,
                description=part.description,
                supplier=part.supplier,
                n_needed=line.n_bought,
                n_ordered=coming[line.part],
                n_left=n_left,
                cost_minor=cost,
                latest=_latest(
                    answer, line, is_anew=bool(n_more and coming[line.part])
                ),
                tells=tells_of(answer, line.part),
                waits=[*asked.get(line.part, []), *waits.get(line.part, [])],
                n_of_none=of_none[line.part],
            )
        )
    return needs


def _latest(answer: BatchAnswer, line: Bought, *, is_anew: bool) -> date | None:
    """Give the latest day; beside a parcel on its way it takes a whole lead again."""
    if line.latest_day is None:
        return None
    more = 0
    if is_anew:
        lead = Part.objects.values_list("lead_days", flat=True).get(number=line.part)
        more = max(0, (lead or 0) - (answer.batch.parts[line.part].lead_days or 0))
    return answer.batch.terms.date_of(max(1, line.latest_day - more))


def _others(pair: LookAlike, number: str) -> str:
    return ", ".join(part for part in pair.parts if part != number)


def tells_of(answer: BatchAnswer, number: str) -> list[str]:
    """Say what tells a part from those it looks like; what people wrote is marked."""
    return [
        f"{written(pair.tell)} (not {written(_others(pair, number))})"
        for pair in answer.batch.terms.look_alikes
        if number in pair.parts
    ]


def donors_of(batch: Batch) -> list[Donor]:
    """Give the donors of a batch with their parts."""
    rows = Donor.objects.filter(job__batch=batch).select_related("job")
    return list(rows.prefetch_related("parts__part", "job__data_parts"))


def data_parts_of(batch: Batch) -> list[DataPart]:
    """Give the parts of a batch that hold data."""
    return list(DataPart.objects.filter(job__batch=batch).select_related("job"))


def accessories_of(batch: Batch) -> list[Accessory]:
    """Give what came with the devices of a batch."""
    rows = Accessory.objects.filter(batch=batch).select_related("job")
    return list(rows.order_by("job__line", "id"))


def batches(*, is_open: bool = True) -> list[Batch]:
    """Give the batches, the open ones alone if not said otherwise."""
    rows = Batch.objects.exclude(terms_text="").select_related("customer")
    if is_open:
        rows = rows.filter(closed_on=None)
    return list(rows[:200])


def donor_part(batch: Batch, pk: int) -> DonorPart:
    """Give one part of a donor of a batch."""
    rows = DonorPart.objects.select_related("part", "donor__job")
    part = rows.filter(donor__job__batch=batch, pk=pk).first()
    if part is None:
        raise Http404
    return part


def data_part(batch: Batch, ref: str) -> DataPart:
    """Give one part of a batch that holds data."""
    rows = DataPart.objects.select_related("job")
    part = rows.filter(job__batch=batch, ref=ref).first()
    if part is None:
        raise Http404
    return part


def lines_by_number(batch: Batch, numbers: Sequence[str]) -> dict[str, int]:
    """Give the line of each workshop number that is one of a batch."""
    rows = batch.jobs.filter(number__in=numbers) if numbers else Job.objects.none()
    return dict(rows.values_list("number", "line"))


def to_hand_back(batch: Batch) -> list[Job]:
    """Give the devices that are packed and stand ready."""
    rows = batch.jobs.filter(state="packed").prefetch_related("accessories__checks")
    jobs = list(rows.order_by("line"))
    passed = passed_over_of(jobs)
    for job in jobs:
        job.adapters = adapters_of(job.accessories.all())  # type: ignore[attr-defined]
        job.passed_over = passed.get(job.pk, ())  # type: ignore[attr-defined]
    return jobs


def refused_among(jobs: Iterable[Job]) -> frozenset[int]:
    """Name the jobs whose owner said no to having them mended, and nothing was."""
    rows = among(Job.objects.all(), "pk", refused_jobs(jobs))
    return frozenset(job.pk for job in rows if is_left(job))


def tranche_of(batch: Batch, ref: str) -> Tranche:
    """Give one tranche of a batch."""
    tranche = batch.tranches.select_related("signature").filter(ref=ref).first()
    if tranche is None:
        raise Http404
    return tranche


def tranches_of(batch: Batch) -> list[Tranche]:
    """Give what was handed back so far."""
    rows = batch.tranches.prefetch_related("jobs")
    return list(rows.select_related("signature"))
