"""How is it written down what hands do to a device at a bench?"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from turnscrew.core.bench.entries import told_by
from turnscrew.core.bench.refusals import refusal
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import BenchState, Stroke
from turnscrew.core.model.device import Device
from turnscrew.core.model.job_state import ENDED, OPEN, Standing
from turnscrew.flows.bench import packs
from turnscrew.flows.bench.goal import Goal, Lying
from turnscrew.flows.bench.plan import run_for
from turnscrew.web.records.models import BenchRun, BenchStroke, Description, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.answers import was_refused
from turnscrew.web.records.queries.bench_drawings import drawings_of
from turnscrew.web.records.queries.bench_goal import goal_of, unreached_refusal
from turnscrew.web.records.queries.bench_holding import ended_words, passed_on
from turnscrew.web.records.queries.bench_lying import lying_now
from turnscrew.web.records.queries.bench_runs import only_closes
from turnscrew.web.records.queries.bench_unready import apart, gone_on, unready
from turnscrew.web.records.queries.data_terms import (
    needs_start,
    start_refusal,
)
from turnscrew.web.records.queries.descriptions import (
    may_work_from,
    revisions_of,
    used_by,
)
from turnscrew.web.records.queries.locks import lock_refusal
from turnscrew.web.records.queries.matings import own_device
from turnscrew.web.records.queries.permission import missing_yes, work_refusal
from turnscrew.web.records.queries.photos import photo_refusal
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.queries.skills import skills_held
from turnscrew.web.records.queries.written_yes import with_written_yes, yes_refusal
from turnscrew.web.records.services import custody
from turnscrew.web.records.services.bench_findings import confirm_fault, note_looked
from turnscrew.web.records.services.bench_moves import move_job, note_sheet
from turnscrew.web.records.services.descriptions import (
    copy_revision,
    with_lead_lines,
)
from turnscrew.web.records.services.in_turn import in_turn
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class Told:
    """
    One stroke as a bench sends it.

    ``after`` is the key of the last stroke that bench knew to hold of the device, so
    that two benches that were apart can be told from one that made a slip.
    """

    key: str
    run: str
    act: Any
    line: int
    at: datetime
    facts: Mapping[str, Any] = field(default_factory=dict)
    after: str = ""
    bench: str = ""


Place = Callable[[], str]
"""Finds where a device lies, at the moment at which that is written."""


def begin(
    job: Job,
    *,
    by: Person,
    now: datetime,
    place: Place,
    is_time_up: Callable[[], bool],
    is_closing: bool = False,
) -> BenchRun:
    """
    Take a device onto a bench and write its first path.

    One that lies open, though no path led there, may always be closed up as it is.
    """
    standing = bench_runs.latest(job)
    refuse_unready(job, now, is_begun=standing is not None)
    if standing is not None:
        _refuse(gone_on(job))
        return _taken_up(standing, by=by, now=now, place=place)
    description = used_by(job)
    if description is None:
        raise RefusedError(
            f"description: found none of {job.model}, wanted one, or to record it"
        )
    _refuse(may_work_from(description, by))
    device = own_device(description, job.revision, job)
    goal = goal_of(job, device, now)
    missing = missing_yes(job)
    if job.state in OPEN and (is_closing or (missing and was_refused(job))):
        # Opened before anybody asked: it is led through nothing but closing up.
        goal = _closing(goal)
    else:
        _refuse(missing)
    _refuse(unreached_refusal(goal, job))
    run = with_lead_lines(run_for(device, goal, Lying(), is_time_up), description)
    run = with_written_yes(run, device, job)
    row = _kept(
        job, run, goal, description, device, by=by, now=now, why="", place=place
    )
    if job.state == "parked open":
        return _taken_up(row, by=by, now=now, place=place)
    return row


def refuse_unready(job: Job, now: datetime, *, is_begun: bool) -> None:
    """Refuse a device that is not worked on at a bench, by whatever path."""
    _refuse(unready(job, now, is_begun=is_begun))


@writing
def _taken_up(row: BenchRun, *, by: Person, now: datetime, place: Place) -> BenchRun:
    """Let somebody go on with a path; an open device is taken over counted alone."""
    job = Job.objects.get(pk=row.job_id)
    custody.refuse_other_holder(job, by)
    if job.state == "parked open":
        to = Standing(job.main_state, place(), by.ref)
        custody.move(job, to, by=by, now=now)
    return row


@writing
def _kept(
    job: Job,
    run: Run,
    goal: Goal,
    description: Description | None,
    device: Device,
    *,
    by: Person,
    now: datetime,
    why: str,
    place: Place,
    since: bench_runs.Told | None = None,
) -> BenchRun:
    job = Job.objects.select_for_update().get(pk=job.pk)
    before = bench_runs.latest(job)
    # A path takes its time to be found; what was written meanwhile is not in it.
    if before is not None and since is None:
        # Two may have asked for a first one at once: one of them has the device now.
        custody.refuse_other_holder(job, by)
        return before
    if before is not None and bench_runs.told(before) != since:
        raise RefusedError("path: found more told meanwhile, wanted it asked again")
    is_opened = any(line.phase == "opening" for line in run.lines)
    if job.state not in OPEN and (is_opened or before is None):
        state = "open" if is_opened else job.state
        custody.move(job, Standing(state, place(), by.ref), by=by, now=now)
    row = BenchRun.objects.create(
        job=job,
        number=before.number + 1 if before else 1,
        at=in_turn(job, now),
        by=by,
        why=why,
        description=description,
        goal=bench_runs.GOALS.dump_python(goal, mode="json"),
        run=bench_runs.RUNS.dump_python(run, mode="json"),
        drawings=drawings_of(device, run),
    )
    if why:
        append(
            "bench", "action", job.ref, by=by, now=now,
            facts={"does": "new path", "run": row.ref, "n": len(run.lines)}, words=why,
        )  # fmt: skip
    return row


@dataclass(frozen=True)
class Change:
    """What turned out different while a device is open."""

    why: str
    stays: tuple[str, ...] = ()
    comes: tuple[str, ...] = ()
    also_reach: tuple[str, ...] = ()
    revision: str = ""
    is_undescribed: bool = False
    is_closing: bool = False
    code: str = ""


def plan_anew(
    row: BenchRun,
    change: Change,
    *,
    by: Person,
    now: datetime,
    is_time_up: Callable[[], bool],
) -> BenchRun:
    """Write a new path from how the device truly is; everything done still counts."""
    description = checked(row, change)
    since, run = bench_runs.told(row), bench_runs.run_in(row)
    state, job = since.state, row.job
    stands = Job.objects.get(pk=job.pk)
    _refuse(ended_words(stands) if stands.state in ENDED else apart(stands))
    custody.refuse_other_holder(stands, by)
    if change.is_undescribed:
        words = f"{change.why.strip()}, device {job.number}"
        description, name = copy_revision(
            description, run.revision, words, by=by, now=now
        )
        change = replace(change, revision=name)
    if change.revision and change.revision != job.revision:
        _note_revision(job, change.revision, now)
    if change.code:
        confirm_fault(row, change.code, by=by, now=now)
    if missing := missing_yes(stands):
        # What closes it up already goes on doing so, whatever came in between.
        _refuse("" if change.is_closing or only_closes(job) else missing)
        change = replace(change, is_closing=True)
    device = own_device(description, change.revision or run.revision, job)
    goal = _goal_after(row, state, device, change, now)
    lying = lying_now(row, device)
    fresh = with_lead_lines(run_for(device, goal, lying, is_time_up), description)
    fresh = with_written_yes(fresh, device, job)
    return _kept(
        job, fresh, goal, description, device, by=by, now=now, why=change.why.strip(),
        place=lambda: job.place, since=since,
    )  # fmt: skip


def checked(row: BenchRun, change: Change) -> Description:
    """Refuse what no new path can be written for; give the description it rests on."""
    if not change.why.strip():
        raise RefusedError("reason: found none, wanted what turned out different")
    newest = bench_runs.latest(row.job)
    if newest is None or newest.pk != row.pk:
        raise RefusedError("path: found an older one, wanted the newest of the device")
    description = row.description
    if description is None or row.kind == BenchRun.RECORDING:
        raise RefusedError("path: found a recording, wanted one that was computed")
    if change.revision and change.revision not in revisions_of(description):
        known = ", ".join(revisions_of(description)) or "no revisions"
        raise RefusedError(f"revision: found {change.revision}, wanted {known}")
    return description


@writing
def _note_revision(job: Job, revision: str, now: datetime) -> None:
    read_anew(job)
    job.revision = revision
    keep(job, now)


def _goal_after(
    row: BenchRun, state: BenchState, device: Device, change: Change, now: datetime
) -> Goal:
    """Say what is still wanted: what is done is not wanted again."""
    goal = goal_of(row.job, device, now)
    old = bench_runs.GOALS.validate_python(row.goal)
    kept = [name for name in old.stays if name not in change.comes]
    stays = tuple(dict.fromkeys([*kept, *change.stays]))
    done = bench_runs.work_done(row)
    frees_it = {one.says: packs.frees(device, goal, one) for one in goal.work}
    is_again = any(frees_it.get(says) == "pack" for says in done)
    changes = packs.pack_changes(device, goal)
    # What would free it of a danger that is there now is wanted, done before or not.
    left = [
        one
        for one in goal.work
        if frees_it[one.says] or one.says not in done or (is_again and one in changes)
    ]
    work = tuple(one for one in left if one.reach not in stays)
    off = state.off
    reach = tuple(
        dict.fromkeys(
            name
            for name in (*goal.reach, *change.also_reach)
            if name not in off and name not in stays
        )
    )
    if (goal.work and not left) or change.is_closing:
        reach = tuple(name for name in change.also_reach if name not in off)
    goal = replace(
        goal,
        is_pack_bad_again=is_again,
        packs_changed=tuple(one.reach for one in changes if one not in left),
        work=work,
        stays=stays,
    )
    return replace(_closing(goal) if change.is_closing else goal, reach=reach)


def _closing(goal: Goal) -> Goal:
    """Want nothing of a device any more but that it is closed up."""
    return replace(goal, work=(), reach=(), usual=())


def tell(told: Told, *, by: Person, now: datetime) -> BenchStroke:
    """
    Write one stroke; sent again under its key it is kept once.

    What another bench told of the same device meanwhile is never overwritten: the
    same thing told twice agrees; what does not fit is kept beside it until somebody
    says which holds.
    """
    return known_under(told) or _tell(told, by=by, now=now)


def known_under(told: Told) -> BenchStroke | None:
    """Give what was written under the same key; refuse the key of another device."""
    known = (
        BenchStroke.objects.filter(client_key=told.key).select_related("run").first()
    )
    if known is not None and known.run.ref != told.run:
        raise RefusedError("key: found one of another device, wanted a new one")
    return known


@writing
def _tell(told: Told, *, by: Person, now: datetime) -> BenchStroke:
    # Looked up once more: the queue of writers may have let the same key in.
    known = known_under(told)
    if known is not None:
        return known
    if told.act == "record":
        raise RefusedError("act: found a record, wanted one of a computed path")
    row = bench_runs.run_named(told.run)
    # Before its path was made nothing was told: the clock was set in between.
    told = replace(told, at=max(told.at, row.at))
    run, now_told = bench_runs.run_in(row), bench_runs.told(row)
    state = now_told.state
    stroke = Stroke(told.act, told.line, told.facts, told.key)
    is_apart = told.after != now_told.head
    newest = bench_runs.latest(row.job)
    is_old = newest is not None and newest.pk != row.pk
    _refuse(passed_on(row.job, by, told.at))
    _refuse(lock_refusal(row.job, run.lines, stroke))
    _refuse(start_refusal(row.job, run.lines, stroke))
    _refuse(yes_refusal(row.job, run.lines, stroke))
    _refuse(work_refusal(row.job, run.lines, stroke, told.at))
    _refuse(_power_refusal(row.job, run.lines, stroke))
    _refuse(photo_refusal(row.job, stroke.text("photo")))
    against = "path: found an older one, wanted the newest of the device"
    if not is_old:
        against = _against(run, state, stroke, by, now)
    if is_apart and not against and told.act == "undo":
        against = "undo: found other work written since, wanted the last stroke"
    if is_apart and not against and told.act == "differs" and _is_same(row, told):
        # One head's missing piece, told at both benches, is missing once.
        return _row(row, told, BenchStroke.AGREED, "", by=by, now=now)
    if not against:
        return _hold(row, run, state, stroke, told, by=by, now=now)
    if not is_apart and not is_old:
        raise RefusedError(against)
    is_agreed = _agrees(row, state, told)
    standing = BenchStroke.AGREED if is_agreed else BenchStroke.DISPUTED
    return _row(row, told, standing, against, by=by, now=now)


def _power_refusal(job: Job, lines: Sequence[Line], stroke: Stroke) -> str:
    """Say why it cannot have had power by what was found since its path was made."""
    if not 0 <= stroke.line < len(lines):
        return ""
    line = lines[stroke.line]
    is_test = stroke.text("answer") == "passed" and needs_start(line)
    is_charged = line.does == "charge" and bool(stroke.text("value"))
    why = why_no_power(job) if line.may_power and (is_test or is_charged) else ""
    if not why:
        return ""
    if is_test:
        return f"power: found a test, wanted: {why}; ask for a new path"
    return f"power: found a charge, wanted: {why}; ask for a new path"


def _agrees(row: BenchRun, state: BenchState, told: Told) -> bool:
    """Say whether another bench, or page of this one, told the very same of it."""
    same = row.strokes.filter(standing=BenchStroke.HELD, act=told.act, line=told.line)
    # What this bench took back it may well do once more.
    now = {stroke.key for stroke in state.held}
    return any(
        one.facts == dict(told.facts)
        for one in same
        if one.bench != told.bench or one.client_key in now
    )


def _is_same(row: BenchRun, told: Told) -> bool:
    """Say whether a difference is one that another bench told of the same piece."""
    alike = [
        one
        for one in row.strokes.filter(act=told.act, line=told.line).order_by("id")
        if one.facts == dict(told.facts)
    ]
    known = row.strokes.filter(client_key=told.after, standing=BenchStroke.HELD).first()
    # What that bench knew already, or agreed to before, is told once more in earnest.
    since = 0 if known is None else known.pk
    theirs = [one for one in alike if one.bench != told.bench and one.pk > since]
    n_held = sum(one.standing == BenchStroke.HELD for one in theirs)
    ours = [one for one in alike if one.bench == told.bench]
    return n_held > sum(one.standing == BenchStroke.AGREED for one in ours)


def _against(
    run: Run, state: BenchState, stroke: Stroke, by: Person, now: datetime
) -> str:
    if stroke.line >= len(run.lines):
        return f"line: found line {stroke.line + 1}, wanted one of {len(run.lines)}"
    line = run.lines[stroke.line]
    return (
        refusal(run, state, stroke, by.ref)
        or _sign_off_refusal(line, by, now)
        or _other_refusal(line, stroke)
    )


def _other_refusal(line: Line, stroke: Stroke) -> str:
    """Say why a second look does not count: whoever looked must work here."""
    if not line.second_look or stroke.act != "answer":
        return ""
    working = Person.objects.filter(has_left=False).exclude(rights=Person.DESK)
    if working.filter(ref=stroke.text("other")).exists():
        return ""
    return "second look: found somebody unknown, wanted one who works at benches"


def _sign_off_refusal(line: Line, by: Person, now: datetime) -> str:
    if not line.sign_off or by.rights == Person.LEAD:
        return ""
    if line.sign_off in skills_held(by.ref, now):
        return ""
    return f"sign-off: found none for {line.sign_off}, wanted one for this line"


def _hold(
    row: BenchRun,
    run: Run,
    state: BenchState,
    stroke: Stroke,
    told: Told,
    *,
    by: Person,
    now: datetime,
) -> BenchStroke:
    move_job(row, run, state, stroke, told.at, by=by, now=now)
    corrects = 0
    if stroke.act == "undo":
        # The entry that is taken back is named beside the new one.
        corrects = BenchStroke.objects.get(client_key=state.held[-1].key).sequence
    entries = [
        append(
            "bench", one.verb, row.job.ref, by=by, now=now,
            facts={**one.facts, "run": row.ref, "line": stroke.line},
            words=stroke.text("reason"),
            corrects=corrects,
        )
        for one in told_by(run, state, stroke)
    ]  # fmt: skip
    kept = _row(row, told, BenchStroke.HELD, "", by=by, now=now)
    kept.sequence = entries[0].sequence
    kept.save(update_fields=["sequence"])
    line, last = run.lines[stroke.line], state.held[-1] if state.held else None
    note_sheet(row, run, line)
    note_looked(row.job, line, stroke, last, by=by, now=now)
    return kept


def _row(
    row: BenchRun, told: Told, standing: str, against: str, *, by: Person, now: datetime
) -> BenchStroke:
    return BenchStroke.objects.create(
        run=row,
        client_key=told.key,
        bench=told.bench,
        told_at=told.at,
        at=now,
        by=by,
        act=told.act,
        line=told.line,
        facts=dict(told.facts),
        standing=standing,
        against=against[:300],
    )


def _refuse(reason: str) -> None:
    if reason:
        raise RefusedError(reason)
