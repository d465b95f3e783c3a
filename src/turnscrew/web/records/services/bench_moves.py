"""What becomes of a device by a stroke, and was it tested in earnest?"""

from collections.abc import Iterable
from datetime import datetime

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import BenchState, Stroke
from turnscrew.core.model.job_state import CLOSED, Standing
from turnscrew.web.records.convert import standing_of
from turnscrew.web.records.models import BenchRun, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.bench_goal import told_to_fit
from turnscrew.web.records.queries.sheet_told import sheet_now
from turnscrew.web.records.services import custody, kitting
from turnscrew.web.records.services.descriptions import note_rebuild
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.writing import writing

_TESTED = ("final-tested", "charged and clean")


def move_job(
    row: BenchRun,
    run: Run,
    state: BenchState,
    stroke: Stroke,
    told_at: datetime,
    *,
    by: Person,
    now: datetime,
) -> None:
    """Bring the device into the state that its close gate or its last line means."""
    job = Job.objects.get(pk=row.job_id)
    line = run.lines[stroke.line]
    stands = job.main_state if job.state == "isolated" else job.state
    if stroke.act == "undo":
        if line.asks == "close":
            _go(job, ("open",), told_at, by=by, now=now)
        elif state.is_done(run) and stands in _TESTED:
            _go(job, ("closed",), told_at, by=by, now=now)
        return
    if line.asks == "close" and stroke.act == "done":
        fitted = bench_runs.fitted(row)
        told = dict.fromkeys(told_to_fit(job, now), 0) | fitted
        kitting.fit(job, by=by, now=now, told=told)
        kitting.take_fitted(job, fitted, by=by, now=now)
        if stands not in CLOSED:
            _go(job, ("tested open", "closed"), told_at, by=by, now=now)
        note_rebuild(row, n_in_tray=sum(state.tray.values()), by=by, now=now)
    elif stroke.line == len(run.lines) - 1 and stroke.act in ("done", "answer", "skip"):
        is_right = stroke.text("answer") not in ("no", "failed")
        if is_right and stands in ("closed", "kitted"):
            _go(job, _TESTED, told_at, by=by, now=now)


def _go(
    job: Job, states: Iterable[str], told_at: datetime, *, by: Person, now: datetime
) -> None:
    for state in states:
        job = Job.objects.get(pk=job.pk)
        if job.state == "isolated":
            # Told before it was isolated: it is done, but the device stays apart.
            job.main_state = state
            custody.enter(job, standing_of(job), by=by, now=now)
        elif job.state != state:
            to = Standing(state, job.place, by.ref)
            custody.move(job, to, by=by, now=now, known_at=told_at)


def note_sheet(row: BenchRun, run: Run, line: Line) -> None:
    """Mark a run whose final tests were only ticked; work after that clears it."""
    if line.phase != "final":
        return
    sheet = sheet_now(row, run)
    rushed_s = sheet.took_s if sheet.is_rushed else None
    if rushed_s != row.rushed_s:
        row.rushed_s, row.rushed_seen_by = rushed_s, None
        row.save(update_fields=["rushed_s", "rushed_seen_by"])


@writing
def see_rushed(job: Job, words: str, *, by: Person, now: datetime) -> None:
    """Note that a lead has looked into tests that were only ticked."""
    for row in BenchRun.objects.filter(job=job, rushed_seen_by=None):
        if row.rushed_s is None:
            continue
        row.rushed_seen_by = by
        row.save(update_fields=["rushed_seen_by"])
        append(
            "bench", "action", job.ref, by=by, now=now,
            facts={"does": "look into a rushed sheet", "run": row.ref}, words=words,
        )  # fmt: skip
