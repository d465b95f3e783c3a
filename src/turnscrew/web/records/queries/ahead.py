"""What is foretold of a batch from what is on record, and how did it come out?"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time

from turnscrew.core.batch.ahead import ModelAhead, PastDevice
from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.bench.own_time import own_times
from turnscrew.core.model.expected import Expected
from turnscrew.core.model.job_state import BENCH_DONE
from turnscrew.core.reliability.batch_mix import Pieces
from turnscrew.flows.batch.ahead import Known, batch_ahead, spread_words
from turnscrew.web.records.models import Batch, Item, Job
from turnscrew.web.records.queries.batch_input import batch_input
from turnscrew.web.records.queries.descriptions import (
    device_in,
    faults_in,
    newest,
    revisions_of,
)
from turnscrew.web.records.queries.expecting import expected_of
from turnscrew.web.records.queries.found_faults import found_by_job
from turnscrew.web.records.queries.own_times import taps_on_record, whole_job_minutes
from turnscrew.web.records.queries.reckoning import opening_minutes_in, require_parts
from turnscrew.web.records.queries.spelled import spelled

ENOUGH_OWN = 30
"""Devices of the customer's own from which on those of others are left out; a choice,
no source. [1]"""

WITHIN = 0.25
"""A forecast is told to have held within this share of the actual. [1]"""

_MOST_MET = 5000
"""Devices looked back at, the newest of them. [1]"""

_STRIPPED = ("donor", "disposed")


@dataclass(frozen=True)
class PieceRow:
    """Pieces of a part that may be needed, beside those that are free."""

    number: str
    description: str
    pieces: Pieces
    n_free: int


@dataclass(frozen=True)
class ModelRow:
    """The forecast of one model, as it is shown."""

    told: ModelAhead
    minutes: str
    parts: list[PieceRow]


@dataclass(frozen=True)
class Outcome:
    """What a batch took, beside what was foretold."""

    actual_min: float
    n_timed: int
    n_devices: int
    off: float

    @property
    def off_percent(self) -> str:
        """Write by how much the forecast was off."""
        return f"{100 * self.off:+.0f} %"

    @property
    def is_within(self) -> bool:
        """Say whether the forecast held."""
        return abs(self.off) <= WITHIN


@dataclass(frozen=True)
class AheadPage:
    """The forecast of a batch, and what came of it."""

    models: list[ModelRow]
    minutes: str
    n_unknown: int
    n_to_come: int
    is_as_said: bool
    outcome: Outcome | None = None


def ahead_of(batch: Batch, now: datetime) -> AheadPage | None:
    """Foretell a batch by what was known before it came; nothing without a device."""
    jobs = list(batch.jobs.order_by("line"))
    expected = expected_of(batch)
    to_come = _to_come(batch, expected) or Counter(job.model for job in jobs)
    if not to_come:
        return None
    # What the batch itself teaches is not known before it comes.
    begin = datetime.combine(batch.received, time(), tzinfo=UTC)
    moment = min(now, begin)
    handed_in = batch_input(batch, now)
    known = _known(batch, to_come, moment)
    # Where nothing can be told of any device no price is asked for either.
    if any(one.past or one.table for one in known.values()):
        require_parts(batch, handed_in)
    told = batch_ahead(
        to_come,
        handed_in.terms,
        handed_in.parts,
        known,
        opening_minutes_in(replace(handed_in, lines=())),
    )
    return AheadPage(
        models=[_row(one, handed_in.parts) for one in told.models],
        minutes=spread_words(told.total) if told.total.mean else "",
        n_unknown=told.n_unknown,
        n_to_come=sum(to_come.values()),
        is_as_said=bool(expected),
    )


def with_outcome(
    page: AheadPage | None, told: BatchAnswer, jobs: Sequence[Job]
) -> AheadPage | None:
    """Set what the batch took beside its forecast, once all of it is done."""
    foretold = 0.0
    if page is not None:
        totals = [one.told.total for one in page.models]
        foretold = sum(one.mean for one in totals if one is not None)
    if page is None or not foretold or not jobs or page.n_unknown:
        return page
    if any(job.state not in BENCH_DONE for job in jobs):
        return page
    by_line = {job.line: job.ref for job in jobs}
    timed = own_times(taps_on_record()).by_job
    actual, n_timed = 0.0, 0
    for device in told.devices:
        work = device.work
        if not device.is_mended:
            actual += work.receive + work.strip
            continue
        at_bench = timed.get(by_line.get(device.name, ""))
        n_timed += at_bench is not None
        agreed = work.open_close + work.exchange
        actual += work.handling + (agreed if at_bench is None else at_bench)
    if not actual:
        return page
    outcome = Outcome(actual, n_timed, len(jobs), foretold / actual - 1)
    return replace(page, outcome=outcome)


def _row(one: ModelAhead, parts: Mapping[str, object]) -> ModelRow:
    return ModelRow(
        told=one,
        minutes=spread_words(one.total) if one.total is not None else "",
        parts=[_piece(number, pieces, parts) for number, pieces in one.parts],
    )


def _piece(number: str, pieces: Pieces, parts: Mapping[str, object]) -> PieceRow:
    part = parts.get(number)
    return PieceRow(
        number,
        getattr(part, "description", ""),
        pieces,
        getattr(part, "stock", 0),
    )


def _to_come(batch: Batch, expected: Sequence[Expected]) -> dict[str, int]:
    """Count what is to come by model; one named by its number has the model it had."""
    counts: Counter[str] = Counter()
    for one in expected:
        counts[one.model or _model_of(batch, one.number)] += one.n
    return dict(counts)


def _model_of(batch: Batch, number: str) -> str:
    bearing = spelled("serial", number) | spelled("assets__number", number)
    body = Item.objects.filter(bearing, customer=batch.customer_id).first()
    return body.model if body is not None else ""


def _known(
    batch: Batch, to_come: Mapping[str, int], moment: datetime
) -> dict[str, Known]:
    minutes = whole_job_minutes(moment)
    found = {}
    for model in to_come:
        past, whose = _past(batch, model, moment)
        known = Known(past=past, own_min=minutes.get(model, ()), whose=whose)
        description = newest(model)
        if description is not None:
            names = revisions_of(description) or ("",)
            devices = tuple(device_in(description, name) for name in names)
            table = faults_in(description, devices[0])
            known = replace(known, table=table, devices=devices)
        found[model] = known
    return found


def _past(
    batch: Batch, model: str, moment: datetime
) -> tuple[tuple[PastDevice, ...], str]:
    """Give the devices of a model met before: the customer's own if they are enough."""
    rows = Job.objects.filter(model=model, batch__received__lt=batch.received)
    rows = rows.exclude(batch=batch)
    own = rows.filter(batch__customer=batch.customer_id)
    whose = "of all customers"
    if own.count() >= ENOUGH_OWN:
        rows, whose = own, "of this customer"
    jobs = list(rows.order_by("-batch__received", "-id")[:_MOST_MET])
    codes = found_by_job(jobs, moment)
    return (
        tuple(
            PastDevice(
                job.revision,
                codes[job.pk],
                is_stripped=job.state in _STRIPPED or job.ended_as == "written off",
            )
            for job in jobs
            if codes[job.pk]
        ),
        whose,
    )
