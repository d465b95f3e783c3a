"""How long did the work take by the strokes on record, and what does that teach?"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.utils import timezone

from turnscrew.core.bench.far_out import FarOut, far_out
from turnscrew.core.bench.own_standard import (
    OwnMinutes,
    OwnStandard,
    open_close_minutes,
    own_element_times,
    own_standards,
)
from turnscrew.core.bench.own_time import OwnTimes, Tap, own_times
from turnscrew.core.model.device import Device
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.times import ElementTime, element_of, element_time
from turnscrew.web.records.models import Batch, BenchRun, BenchStroke, Job, Person
from turnscrew.web.records.queries.descriptions import device_in, newest
from turnscrew.web.records.queries.item_page import journal_of_verb, names_of
from turnscrew.web.records.queries.notation import notation
from turnscrew.web.records.queries.terms_text import terms_of

LATEST_JOBS = 40
"""Jobs shown with their minutes; the rest are counted. [1]"""

MOST_FAR = 40
"""Times far out shown, the latest of them. [1]"""

MOST_TAPS = 200_000
"""Strokes read at most, the newest of them. [1]"""


@dataclass(frozen=True)
class TimedJob:
    """The minutes of hands on one job."""

    job: Job
    minutes: float


@dataclass(frozen=True)
class PersonMinutes:
    """The minutes of hands of one person."""

    name: str
    today: float
    week: float


@dataclass(frozen=True)
class StandardRow:
    """What somebody takes for one piece of an action on a model."""

    model: str
    action: str
    name: str
    standard: OwnStandard


@dataclass(frozen=True)
class FreshTime:
    """An own time that could go into a description, beside what is used now."""

    element: str
    own: ElementTime
    used: ElementTime


@dataclass(frozen=True)
class ModelTimes:
    """What the strokes teach of one model."""

    model: str
    fresh: tuple[FreshTime, ...]
    minutes: OwnMinutes
    agreed: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class OwnTimesRecord:
    """All that the strokes tell, as far as somebody may see it."""

    jobs: tuple[TimedJob, ...]
    n_more_jobs: int
    by_work: tuple[tuple[str, float], ...]
    people: tuple[PersonMinutes, ...]
    standards: tuple[StandardRow, ...]
    n_too_few: int
    models: tuple[ModelTimes, ...]
    n_taps: int
    n_unknown: int
    far: tuple["FarTime", ...] = ()

    @property
    def to_explain(self) -> list["FarTime"]:
        """Give the times far out of which nobody said anything yet."""
        return [one for one in self.far if one.entry is None]


@dataclass(frozen=True)
class FarTime:
    """A time far from the usual, whose it was, and what a lead said of it."""

    one: FarOut
    name: str
    job: Job
    entry: Any


def own_times_record(person: Person, today: date) -> OwnTimesRecord:
    """Give minutes and standards; a lead sees everybody's, others their own."""
    taps = taps_on_record()
    times = own_times(taps)
    standards, n_too_few = _standards(times, person)
    return OwnTimesRecord(
        jobs=_jobs(times),
        n_more_jobs=max(0, len(times.by_job) - LATEST_JOBS),
        by_work=tuple(sorted(times.by_work.items(), key=lambda one: -one[1])),
        people=_people(times, person, today),
        standards=standards,
        n_too_few=n_too_few,
        models=tuple(_models(times)),
        n_taps=len(taps),
        n_unknown=times.n_unknown,
        far=_far(times, person),
    )


def _far(times: OwnTimes, person: Person) -> tuple[FarTime, ...]:
    """Give the latest times far out with the words kept of each."""
    found = [one for one in far_out(times) if _sees(person, one.tap.person)]
    found = found[:MOST_FAR]
    if not found:
        return ()
    names = names_of([one.tap.person for one in found])
    jobs = Job.objects.select_related("item").in_bulk(
        [one.tap.job for one in found], field_name="ref"
    )
    words: dict[int, Any] = {}
    for entry in journal_of_verb("time explained", set(jobs)):
        # An older version let programs write one that names no stroke.
        words.setdefault(entry.told.get("stroke", 0), entry)
    return tuple(
        FarTime(
            one, names[one.tap.person], jobs[one.tap.job], words.get(one.tap.number)
        )
        for one in found
    )


def fresh_times(model: str) -> dict[str, ElementTime]:
    """Give the own times of a model that its newest description does not have yet."""
    times = own_times(taps_on_record())
    return {one.element: one.own for one in _fresh(times, model)}


def whole_job_minutes(until: datetime) -> dict[str, tuple[float, ...]]:
    """Give the minutes of jobs opened and closed with strokes throughout, by model."""
    if not BenchStroke.objects.exists():
        return {}
    times = own_times([tap for tap in taps_on_record() if tap.at <= until])
    models = {timed.tap.job: timed.tap.model for timed in times.timed}
    minutes: dict[str, list[float]] = defaultdict(list)
    for ref in sorted(_whole_jobs() & set(models)):
        minutes[models[ref]].append(round(times.by_job[ref], 2))
    return {model: tuple(some) for model, some in sorted(minutes.items())}


def minutes_of(rows: Sequence[BenchRun]) -> float:
    """Give the minutes of hands on some runs, by the taps since the first of them."""
    taps = BenchStroke.objects.filter(run__in=rows, standing=BenchStroke.HELD)
    numbers = set(taps.values_list("sequence", flat=True))
    began = taps.order_by("told_at").values_list("told_at", flat=True).first()
    times = own_times(taps_on_record(began)) if began else own_times([])
    found = [one.seconds for one in times.timed if one.tap.number in numbers]
    return sum(seconds or 0.0 for seconds in found) / 60


def models_timed(record: OwnTimesRecord) -> list[tuple[str, str]]:
    """Name the models of which there are times to use."""
    return [(one.model, one.model) for one in record.models if one.fresh]


def taps_on_record(since: datetime | None = None) -> list[Tap]:
    """
    Give every stroke that holds as a press, in the order of the journal.

    What was told of pieces that differ belongs to the line it is told of, so it ends
    no time of its own.
    """
    rows = BenchStroke.objects.filter(standing=BenchStroke.HELD, sequence__gt=0)
    rows = rows.exclude(act="differs").order_by("-sequence")
    if since is not None:
        rows = rows.filter(told_at__gte=since)
    runs: dict[int, _RunRead] = {}
    strokes = list(rows.select_related("by")[:MOST_TAPS])[::-1]
    wanted = {one.run_id for one in strokes}
    for row in BenchRun.objects.select_related("job", "description").defer("drawings"):
        if row.pk in wanted:
            runs[row.pk] = _RunRead(row)
    undone = _undone(strokes)
    return [_tap(one, runs[one.run_id], is_undone=one.pk in undone) for one in strokes]


class _RunRead:
    """A run with its lines as they are kept, and the device they are of."""

    def __init__(self, row: BenchRun) -> None:
        self.job, self.model = row.job.ref, row.job.model
        self.lines: list[dict[str, Any]] = row.run.get("lines", [])
        self.device: Device | None = None
        if row.description is not None and self.lines:
            revision = row.run.get("revision", "")
            self.device = device_in(row.description, revision)


def _undone(strokes: Iterable[BenchStroke]) -> set[int]:
    """Give which strokes were taken back later."""
    standing: dict[int, list[int]] = defaultdict(list)
    undone = set()
    for one in strokes:
        if one.act != "undo":
            standing[one.run_id].append(one.pk)
        elif standing[one.run_id]:
            undone.add(standing[one.run_id].pop())
    return undone


def _tap(one: BenchStroke, run: _RunRead, *, is_undone: bool) -> Tap:
    line = run.lines[one.line] if one.line < len(run.lines) else {}
    joint = run.device.joints.get(line.get("name", "")) if run.device else None
    is_worked = one.act in ("done", "answer") and bool(line)
    action = _action(line, joint) if is_worked else _other(one.act)
    return Tap(
        number=one.sequence,
        at=timezone.localtime(one.told_at),
        person=one.by.ref,
        job=run.job,
        model=run.model,
        action=action,
        n=min(500, max(1, line.get("n", 1))),
        is_undone=is_undone,
        wait_s=_wait_s(line.get("does", ""), joint) if is_worked else 0.0,
    )


def _other(act: str) -> str:
    # Taking a stroke back is no undoing of a joint.
    return {"undo": "take back", "skip": "pass over"}.get(act, act)


def _action(line: Mapping[str, Any], joint: Joint | None) -> str:
    does = line["does"]
    is_joint = joint is not None and does in ("undo", "make")
    kind = element_of(joint) if is_joint and joint is not None else line["kind"]
    return does if does == kind else f"{does} {kind}"


def _wait_s(does: str, joint: Joint | None) -> float:
    if joint is None:
        return 0.0
    if does == "make":
        return joint.cure_s
    if does != "undo":
        return 0.0
    soften = joint.soften
    return joint.power.wait_s + (soften.heat_s + soften.wait_s if soften else 0.0)


def _jobs(times: OwnTimes) -> tuple[TimedJob, ...]:
    """Give the jobs last worked on with their minutes, the latest first."""
    order = {timed.tap.job: timed.tap.number for timed in times.timed}
    refs = sorted(order, key=lambda ref: -order[ref])[:LATEST_JOBS]
    rows = Job.objects.select_related("item").in_bulk(refs, field_name="ref")
    return tuple(TimedJob(rows[ref], times.by_job[ref]) for ref in refs)


def _people(times: OwnTimes, person: Person, today: date) -> tuple[PersonMinutes, ...]:
    first = notation().begin_of_week(today)
    by_day = times.by_day
    refs = [ref for ref in sorted(times.by_person) if _sees(person, ref)]
    names = names_of(refs)
    return tuple(
        PersonMinutes(
            names[ref],
            by_day.get((ref, today), 0.0),
            sum(by_day.get((ref, first + timedelta(days=n)), 0.0) for n in range(7)),
        )
        for ref in refs
    )


def _sees(person: Person, ref: str) -> bool:
    return person.rights == Person.LEAD or person.ref == ref


def _standards(times: OwnTimes, person: Person) -> tuple[tuple[StandardRow, ...], int]:
    """Give the standards of enough samples, and how many actions have too few yet."""
    found = {
        key: one
        for key, one in own_standards(times.samples).items()
        if _sees(person, key[2])
    }
    names = names_of([ref for _, _, ref in found])
    rows = tuple(
        StandardRow(model, action, names[ref], one)
        for (model, action, ref), one in sorted(found.items())
        if one.median_s is not None
    )
    return rows, len(found) - len(rows)


def _models(times: OwnTimes) -> Iterator[ModelTimes]:
    whole = _whole_jobs()
    for model in sorted({timed.tap.model for timed in times.timed}):
        yield ModelTimes(
            model=model,
            fresh=tuple(_fresh(times, model)),
            minutes=open_close_minutes(times, model, whole),
            agreed=tuple(_agreed(model)),
        )


def _fresh(times: OwnTimes, model: str) -> Iterator[FreshTime]:
    description = newest(model)
    if description is None:
        return
    stated = device_in(description, "").times
    own = own_element_times(times.samples, stated, model)
    for element, one in sorted(own.items()):
        kept = stated.get(element)
        if kept is None or _figures(kept) != _figures(one):
            yield FreshTime(element, one, element_time(element, stated))


def _figures(one: ElementTime) -> tuple[float, float, int | None]:
    return round(one.strip_s, 1), round(one.refit_s, 1), one.n_jobs


def _whole_jobs() -> frozenset[str]:
    """Name the jobs that were opened and closed with strokes throughout."""
    begun, gates = set(), {}
    rows = BenchRun.objects.filter(kind=BenchRun.PATH).select_related("job")
    for row in rows.defer("drawings"):
        if row.number == 1 and not row.run.get("off"):
            begun.add(row.job.ref)
        for line in row.run.get("lines", []):
            if line["asks"] == "close":
                gates[row.pk, line["number"]] = row.job.ref
    told = BenchStroke.objects.filter(standing=BenchStroke.HELD, act__in=_TO_AND_FRO)
    n_closed: Counter[str] = Counter()
    for run, line, act in told.values_list("run_id", "line", "act"):
        if (run, line) in gates:
            n_closed[gates[run, line]] += _TO_AND_FRO[act]
    return frozenset(ref for ref, n in n_closed.items() if n > 0) & begun


_TO_AND_FRO = {"done": 1, "undo": -1}


def _agreed(model: str) -> Iterator[tuple[str, str]]:
    """Give what the terms of each batch here say of opening and closing a model."""
    for batch in Batch.objects.filter(closed_on=None).exclude(terms_text=""):
        terms = terms_of(batch).models.get(model)
        if terms is not None:
            agreed = terms.minutes.open_close
            words = "computed" if agreed is None else f"{agreed} min"
            yield batch.name, words
