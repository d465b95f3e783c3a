"""How far is the work on a device at the bench?"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from threading import Lock
from typing import Any

from django.db import connection
from pydantic import TypeAdapter

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import WAY_IN, BenchState, Stroke, state_after, state_of
from turnscrew.flows.bench.goal import Goal
from turnscrew.web.records.models import Allotment, BenchRun, BenchStroke, Job
from turnscrew.web.records.queries.as_of import written_by
from turnscrew.web.records.queries.in_parts import among

RUNS = TypeAdapter(Run)
GOALS = TypeAdapter(Goal)


_MOST_KEPT = 64
"""Devices whose standing is kept at hand. [1]"""


class NoRunError(LookupError):
    """No run has that reference."""

    def __str__(self) -> str:
        return f"path: found no {self.args[0]}, wanted one on record"


def latest(job: Job) -> BenchRun | None:
    """Give the newest run of a device."""
    rows = BenchRun.objects.filter(job=job).select_related("description", "job")
    return rows.order_by("-number").first()


def only_closes(job: Job) -> bool:
    """Say whether nothing but closing is left on the newest path of a device."""
    row = latest(job)
    return row is not None and not (row.goal.get("work") or row.goal.get("reach"))


def goals_by_job(
    jobs: Iterable[Job], then: datetime | None = None
) -> Mapping[int, list[dict[str, Any]]]:
    """Give what each path of some devices was for, in order; of recordings nothing."""
    goals: dict[int, list[dict[str, Any]]] = defaultdict(list)
    told = BenchRun.objects.filter(written_by(then))
    rows = told.order_by("number").values_list("job", "kind", "goal")
    for pk, kind, goal in among(rows, "job", jobs):
        goals[pk] += [goal] if kind != BenchRun.RECORDING else []
    return goals


def closed_up(jobs: Iterable[Job], then: datetime | None = None) -> dict[int, bool]:
    """Say of devices closed up as they were whether any of their work was done."""
    return closed_up_by(goals_by_job(jobs, then))


def closed_up_by(goals: Mapping[int, list[dict[str, Any]]]) -> dict[int, bool]:
    """
    Say the same by what their paths were for.

    Those are in it whose newest path only closes, though work was wanted on an earlier.
    """
    told = {}
    for pk, paths in goals.items():
        *before, last = paths or [{}]
        wanted = [one for goal in before for one in goal.get("work") or ()]
        if wanted and not (last.get("work") or last.get("reach")):
            told[pk] = _is_any_done(pk, {one["spare"] for one in wanted})
    return told


def _is_any_done(job: int, spares: Collection[str]) -> bool:
    """Say whether work was told as done, or its piece was written as fitted by hand."""
    used = Allotment.objects.filter(job=job, state=Allotment.USED)
    if used.filter(part__number__in=spares).exists():
        return True
    row = BenchRun.objects.filter(job=job).order_by("-number").first()
    return row is not None and bool(work_done(row))


def left_as_they_were(jobs: Iterable[Job]) -> set[int]:
    """Give the devices that were opened and closed up with nothing of it done."""
    return {pk for pk, is_any_done in closed_up(jobs).items() if not is_any_done}


def was_worked_on(job: Job) -> bool:
    """Say whether work was told as done at the bench, or a piece as fitted by hand."""
    row = latest(job)
    is_done = row is not None and bool(work_done(row))
    return is_done or job.allotments.filter(state=Allotment.USED).exists()


def run_named(ref: str) -> BenchRun:
    """Give a run by its reference."""
    rows = BenchRun.objects.select_related("job__batch", "description")
    row = rows.filter(ref=ref).first()
    if row is None:
        raise NoRunError(ref)
    return row


def is_recording(ref: str) -> bool:
    """Say whether a run is the recording of an opening."""
    return BenchRun.objects.filter(ref=ref, kind=BenchRun.RECORDING).exists()


def was_recorded(job: Job) -> bool:
    """Say whether the opening of this very device was recorded."""
    return BenchRun.objects.filter(job=job, kind=BenchRun.RECORDING).exists()


def run_in(row: BenchRun) -> Run:
    """Read the lines of a run; they never change."""
    return _run(row.ref)


# By reference: the number of a row that was never committed is given out again.
@lru_cache(maxsize=64)
def _run(ref: str) -> Run:
    return RUNS.validate_python(BenchRun.objects.get(ref=ref).run)


def held(row: BenchRun) -> list[BenchStroke]:
    """Give the strokes of a run that were written as they were told, in order."""
    return list(row.strokes.filter(standing=BenchStroke.HELD).order_by("id"))


def stroke_of(row: BenchStroke) -> Stroke:
    """Read a stroke."""
    return Stroke(row.act, row.line, row.facts, row.client_key)  # type: ignore[arg-type]


@dataclass(frozen=True)
class Told:
    """How a device stands by what was told, and the key of what was told last."""

    state: BenchState
    last_id: int
    head: str


_told: dict[str, Told] = {}
_lock = Lock()


def told(row: BenchRun) -> Told:
    """
    Say how a device stands, from where it stood when it was asked last.

    Strokes that hold are only ever added, so those known need not be read again.
    """
    with _lock:
        known = _told.get(row.ref)
    run = run_in(row)
    now = known or Told(state_of(run, ()), 0, "")
    fresh = row.strokes.filter(standing=BenchStroke.HELD, id__gt=now.last_id)
    for one in fresh.order_by("id"):
        state = state_after(run, now.state, stroke_of(one))
        now = Told(state, one.pk, one.client_key)
    # What an open transaction wrote may still be taken back, so it is not kept.
    if not connection.in_atomic_block or now is known:
        with _lock:
            _told[row.ref] = now
            while len(_told) > _MOST_KEPT:
                del _told[next(iter(_told))]
    return now


def state_and_run(row: BenchRun) -> tuple[BenchState, Run]:
    """Say how a device stands, with the run it stands in."""
    return told(row).state, run_in(row)


def work_done(row: BenchRun) -> frozenset[str]:
    """Name what was done to a device in this run and those before it."""
    return frozenset(
        line.says
        for line, stroke in held_lines(row)
        if line.phase == "work" and stroke.act == "done"
    )


def fitted(row: BenchRun) -> Counter[str]:
    """Count the pieces fitted in this run and those before it, by number."""
    return Counter(
        line.spare
        for line, stroke in held_lines(row)
        if line.spare and stroke.act == "done"
    )


def freed_at(job: Job) -> Mapping[str, datetime]:
    """Name what kept power off a device and is gone by work at the bench, and when."""
    row = latest(job)
    if row is None or row.kind == BenchRun.RECORDING:
        return {}
    kinds = {
        stroke.key: line.frees
        for line, stroke in held_lines(row)
        if stroke.act == "done" and line.frees
    }
    done = BenchStroke.objects.filter(client_key__in=kinds).order_by("told_at")
    times = done.values_list("client_key", "told_at")
    return {kinds[key]: at for key, at in times}


def was_closed(row: BenchRun) -> bool:
    """Say whether the close gate was passed at the bench since it was last opened."""
    is_shut = False
    for line, stroke in held_lines(row):
        if stroke.act == "done" and line.asks == "close":
            is_shut = True
        elif line.does in WAY_IN and stroke.act == "done":
            is_shut = False
    return is_shut


def boxed_at(row: BenchRun) -> datetime | None:
    """Say when the last pack went into a box; ``None`` if none did."""
    keys = [
        stroke.key
        for line, stroke in held_lines(row)
        if line.does == "box" and stroke.act == "done"
    ]
    times = BenchStroke.objects.filter(client_key__in=keys).order_by("-told_at")
    return times.values_list("told_at", flat=True).first()


def was_off(row: BenchRun) -> frozenset[str]:
    """Name what came off in this run and those before it, back or not."""
    return frozenset(
        line.name
        for line, stroke in held_lines(row)
        if line.does in ("undo", "lift") and stroke.act == "done"
    )


def tested(row: BenchRun) -> frozenset[str]:
    """Name the final tests that were answered for good since the device was closed."""
    answers: dict[str, str] = {}
    for line, stroke in held_lines(row):
        if line.does in ("undo", "lift"):
            answers.clear()
        elif line.phase == "final" and line.asks == "test":
            answers[line.name] = stroke.text("answer")
    return frozenset(
        name for name, answer in answers.items() if answer not in ("", "failed")
    )


def n_photos(row: BenchRun) -> int:
    """Count the looks of this run and those before it that were shown or signed for."""
    return sum(
        line.wants_photo and stroke.text("answer") == "yes"
        for line, stroke in held_lines(row)
    )


def held_lines(row: BenchRun) -> Iterator[tuple[Line, Stroke]]:
    """Give the strokes that hold of a run and those before it, with their lines."""
    rows = BenchRun.objects.filter(job=row.job, number__lte=row.number)
    for one in rows.exclude(kind=BenchRun.RECORDING).order_by("number"):
        was, run = state_and_run(one)
        yield from ((run.lines[stroke.line], stroke) for stroke in was.held)
