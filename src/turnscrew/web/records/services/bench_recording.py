"""How does the first opening of a model become a description?"""

from collections.abc import Callable
from dataclasses import asdict, replace
from datetime import datetime
from typing import Any

from turnscrew.core.bench.run import Run
from turnscrew.core.model.job_state import Standing
from turnscrew.core.recording.described import described
from turnscrew.core.recording.doubts import doubtful
from turnscrew.files.device_writing import write_device
from turnscrew.flows.bench import packs
from turnscrew.flows.bench.goal import Goal
from turnscrew.flows.bench.plan import run_for
from turnscrew.flows.bench.recording import as_it_lies
from turnscrew.web.records.models import BenchRun, BenchStroke, Description, Job, Person
from turnscrew.web.records.queries import bench_recordings, bench_runs
from turnscrew.web.records.queries.bench_drawings import drawings_of
from turnscrew.web.records.queries.bench_goal import goal_of
from turnscrew.web.records.queries.bench_holding import passed_on
from turnscrew.web.records.queries.descriptions import device_in, newest
from turnscrew.web.records.services import custody
from turnscrew.web.records.services.bench import (
    Told,
    known_under,
    refuse_unready,
)
from turnscrew.web.records.services.bench_places import free_place
from turnscrew.web.records.services.descriptions import keep_description
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def begin(job: Job, *, by: Person, now: datetime, bench: str) -> BenchRun:
    """Begin to record an opening; of a model recorded before, only doubts are asked."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    before = bench_runs.latest(job)
    refuse_unready(job, now, is_begun=before is not None)
    if before is not None and before.kind == BenchRun.RECORDING:
        custody.refuse_other_holder(job, by)
        return before
    if before is not None:
        raise RefusedError("path: found one of this device, wanted none to record it")
    to = Standing("open", free_place(bench), by.ref)
    custody.move(job, to, by=by, now=now)
    return BenchRun.objects.create(
        job=job, number=1, kind=BenchRun.RECORDING, at=now, by=by,
        run=_known(job), description=newest(job.model),
    )  # fmt: skip


def _known(job: Job) -> dict[str, Any]:
    """Give what a draft knows already, and what of it is doubtful."""
    description = newest(job.model)
    if description is None:
        return {"known": [], "doubts": []}
    device = device_in(description, job.revision)
    openings = bench_recordings.openings_of(job.model)
    last = openings[-1].removals if openings else ()
    return {
        "known": [
            {
                "name": one.name,
                "removal": one.removal,
                "kind": one.kind,
                "n": one.n or 1,
            }
            for one in last
        ],
        "doubts": [asdict(doubt) for doubt in doubtful(device, openings)],
    }


@writing
def tell(told: Told, *, by: Person, now: datetime) -> BenchStroke:
    """Write one thing recorded; sent again under its key it is kept once."""
    known = known_under(told)
    if known is not None:
        return known
    if told.act not in {"record", "undo"}:
        raise RefusedError(f"act: found {told.act}, wanted record or undo")
    row = bench_runs.run_named(told.run)
    # Before it was begun nothing was told: the clock was set in between.
    told = replace(told, at=max(told.at, row.at))
    if row.kind != BenchRun.RECORDING:
        raise RefusedError("path: found a computed one, wanted one that is recorded")
    newest_run = bench_runs.latest(row.job)
    if newest_run is not None and newest_run.pk != row.pk:
        raise RefusedError("recording: found one that has ended, wanted one going on")
    if away := passed_on(row.job, by, told.at):
        raise RefusedError(away)
    held = bench_runs.held(row)
    is_undo = told.act == "undo"
    if is_undo and not bench_recordings.told_of(row):
        raise RefusedError("undo: found nothing recorded, wanted something")
    facts = {k: v for k, v in told.facts.items() if k in bench_recordings.FACTS}
    if not is_undo:
        bench_recordings.check(row, facts)
    entry = append(
        "bench", "undone" if is_undo else "action", row.job.ref, by=by, now=now,
        facts={**facts, "does": "record", "run": row.ref, "line": len(held)},
    )  # fmt: skip
    return BenchStroke.objects.create(
        run=row, client_key=told.key, bench=told.bench, told_at=told.at, at=now, by=by,
        act=told.act, line=told.line, facts=facts, sequence=entry.sequence,
    )  # fmt: skip


def turn_round(
    job: Job, *, by: Person, now: datetime, is_time_up: Callable[[], bool]
) -> BenchRun:
    """Make a draft of all recordings of the model, and the way back for this device."""
    row = bench_runs.latest(job)
    if row is None or row.kind != BenchRun.RECORDING:
        raise RefusedError("recording: found none of this device, wanted one going on")
    stands = Job.objects.get(pk=job.pk)
    refuse_unready(stands, now, is_begun=True)
    custody.refuse_other_holder(stands, by)
    openings = bench_recordings.openings_of(job.model, but=row)
    mine = bench_recordings.opening_of(row)
    if not mine.removals:
        raise RefusedError("recording: found nothing undone, wanted at least one joint")
    before = newest(job.model)
    stated = device_in(before, job.revision) if before else None
    device = described(job.model, (*openings, mine), stated).device
    description = keep_description(job.model, write_device(device), by=by, now=now)
    wanted = goal_of(job, device, now)
    lying = as_it_lies(device, mine)
    # A pack counts as changed only where the one that was in it is out.
    goal = replace(wanted, reach=packs.inside(device, wanted, lying.off))
    run = run_for(device, goal, lying, is_time_up)
    return _way_back(row, run, goal, description, by=by, now=now)


@writing
def _way_back(
    row: BenchRun,
    run: Run,
    goal: Goal,
    description: Description,
    *,
    by: Person,
    now: datetime,
) -> BenchRun:
    job = row.job
    letters = {letter: name for name, letter in run.letters.items()}
    for letter, n in run.tray.items():
        append(
            "bench", "taken", job.ref, by=by, now=now,
            facts={"kind": run.fasteners[letter], "n": n, "place": letter,
                   "joint": letters[letter]},
        )  # fmt: skip
    return BenchRun.objects.create(
        job=job,
        number=row.number + 1,
        at=now,
        by=by,
        why="recorded: the way back",
        description=description,
        goal=bench_runs.GOALS.dump_python(goal, mode="json"),
        run=bench_runs.RUNS.dump_python(run, mode="json"),
        drawings=drawings_of(device_in(description, job.revision), run),
    )
