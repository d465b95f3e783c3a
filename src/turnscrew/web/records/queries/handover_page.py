"""What must whoever takes over know of every device that lies open?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db.models import Q
from django.utils import timezone

from turnscrew.core.bench.handover import OpenDevice, TrayCount, stop_words
from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import BenchState, is_slip
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.job_state import OPEN, OPENED, WAITING
from turnscrew.core.reconcile.remarks import observed_holds
from turnscrew.papers.batch.words import cautions_of
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import (
    BenchRun,
    BenchStroke,
    Entry,
    Job,
    Person,
    Photo,
)
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.batch_input import line_now
from turnscrew.web.records.queries.bench_recordings import told_of
from turnscrew.web.records.queries.descriptions import device_in, may_work_from
from turnscrew.web.records.queries.item_page import names_of
from turnscrew.web.records.queries.rebuilds import BY_LEAD
from turnscrew.web.records.queries.skills import skills_held, skills_needed
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.queries.tray import tray_of

DOUBT = timedelta(minutes=5)
"""Work told so shortly before a device passed on is looked at again; no source."""

_LOOSE = ("screw", "nut", "pin", "cover")
"""Kinds of joint whose pieces come loose, where only a recording is there."""


@dataclass(frozen=True)
class OpenJob:
    """One open device, with who may take it over."""

    job: Job
    told: OpenDevice
    holder: str
    is_mine: bool
    sign_offs: tuple[str, ...]
    against: tuple[str, ...]
    photo: Photo | None

    @property
    def stop(self) -> str:
        """Say how far it is to the next safe stop."""
        return stop_words(self.told)

    @property
    def is_covered(self) -> bool:
        """Say whether it was left on purpose."""
        return self.job.state not in OPENED

    @property
    def is_offered(self) -> bool:
        """Say whether whoever looks may take it over."""
        return not self.against

    @property
    def take(self) -> str:
        """Name the act of taking it over."""
        return f"take-{self.job.ref}"

    @property
    def cover(self) -> str:
        """Name the act of covering it."""
        return f"cover-{self.job.ref}"


def open_jobs(person: Person, now: datetime) -> list[OpenJob]:
    """Give every open device, those not covered first."""
    lies_open = Q(state__in=OPEN) | Q(state__in=WAITING, main_state__in=OPENED)
    rows = Job.objects.filter(lies_open).select_related("batch", "item")
    jobs = sorted(rows, key=lambda job: (job.state not in OPENED, job.place, job.pk))
    names = names_of([job.holder for job in jobs])
    return [_open_job(job, names[job.holder], person, now) for job in jobs]


def tray_written(job: Job) -> tuple[TrayCount, ...]:
    """Give what lies in the tray by what is written, compartment by compartment."""
    row = bench_runs.latest(job)
    if row is None:
        return tuple(TrayCount(kind, n) for kind, n in tray_of(job).items() if n > 0)
    if row.kind == BenchRun.RECORDING:
        loose = [one for one in told_of(row) if one.kind in _LOOSE]
        return tuple(
            TrayCount(f"{one.kind}, {one.name}", one.n)
            for one in loose
            if one.removal == "joint"
        )
    state, run = bench_runs.state_and_run(row)
    return _tray(row, run, state)


def key_of(one: TrayCount) -> str:
    """Give what a compartment is called where pieces are counted."""
    return one.place or one.kind


def _tray(row: BenchRun, run: Run, state: BenchState) -> tuple[TrayCount, ...]:
    kept_in = {}
    if row.description is not None:
        joints = device_in(row.description, run.revision).joints
        kept_in = {
            letter: joints[name].compartment
            for name, letter in run.letters.items()
            if name in joints
        }
    return tuple(
        TrayCount(run.fasteners.get(letter, ""), n, letter, kept_in.get(letter, ""))
        for letter, n in state.tray.items()
        if n > 0
    )


def sign_offs_for(job: Job) -> tuple[str, ...]:
    """Name the sign-offs that the device and the work still before it ask for."""
    needed = set(skills_needed(job))
    row = bench_runs.latest(job)
    if row is not None and row.kind == BenchRun.PATH:
        state, run = bench_runs.state_and_run(row)
        needed |= {line.sign_off for line in run.lines[state.at :]}
    # A line kept for a lead is done by one; the rest of the work need not be.
    return tuple(sorted(needed - {"", BY_LEAD}))


def against_taking(job: Job, person: Person, now: datetime) -> tuple[str, ...]:
    """Say what speaks against somebody taking an open device over."""
    told = []
    held = skills_held(person.ref, now)
    missing = [one for one in sign_offs_for(job) if one not in held]
    if missing:
        told.append(f"only {', '.join(missing)}")
    if person.rights == Person.DESK:
        told.append("only who works at a bench")
    row = bench_runs.latest(job)
    goes_by = row.description if row and row.kind == BenchRun.PATH else None
    if goes_by is not None and goes_by.by_id != person.pk:
        told.append(may_work_from(goes_by, person))
    return tuple(filter(None, told))


def _open_job(job: Job, holder: str, person: Person, now: datetime) -> OpenJob:
    photos = Photo.objects.filter(job=job, is_removed=False)
    sign_offs = sign_offs_for(job)
    return OpenJob(
        job=job,
        told=_told(job, sign_offs, now),
        holder=holder,
        is_mine=job.holder == person.ref,
        sign_offs=sign_offs,
        against=against_taking(job, person, now),
        photo=photos.order_by("-id").first(),
    )


def _told(job: Job, sign_offs: tuple[str, ...], now: datetime) -> OpenDevice:
    facts: dict[str, Any] = {
        "number": job.number or f"device {job.line}",
        "place": job.place,
        "state": job.state,
        "model": f"{job.model} {job.revision}".strip(),
        "tray": tray_written(job),
        "sign_off": ", ".join(sign_offs),
        "hazards": _hazards(job),
        "first_action": "find out how it stands: no path on record",
        "power": "not known: do not power it",
    }
    row = bench_runs.latest(job)
    if row is not None and row.kind == BenchRun.RECORDING:
        facts |= _of_recording(row)
    elif row is not None:
        facts |= _of_path(job, row, sign_offs, now)
    return OpenDevice(**facts)


def _of_recording(row: BenchRun) -> dict[str, Any]:
    told = told_of(row)
    names = {
        kind: tuple(one.name for one in told if one.removal == kind)
        for kind in ("part", "joint", "aside")
    }
    last = told[-1] if told else None
    return {
        "first_action": "go on recording, or turn round",
        "off": (*names["part"], *names["joint"]),
        "aside": names["aside"],
        "last_done": f"recorded: {last.name}" if last else "",
        "in_doubt": ("the way back is not worked out yet",),
    }


def _of_path(
    job: Job, row: BenchRun, sign_offs: tuple[str, ...], now: datetime
) -> dict[str, Any]:
    strokes = bench_runs.held(row)
    state, run = bench_runs.state_and_run(row)
    line = run.lines[state.at] if not state.is_done(run) else None
    parts, unplugged = _away(row, run, state)
    ahead = _before(line) if line is not None else {"first_action": "nothing is left"}
    hazards = _hazards(job)
    if line is not None:
        hazards = tuple(dict.fromkeys([*hazards, *line.cautions]))
    return {
        **ahead,
        "hazards": hazards,
        "sign_off": _who(run, state, sign_offs),
        "off": parts,
        "unplugged": unplugged,
        "aside": tuple(sorted(state.aside)),
        "last_done": _last_done(run, strokes),
        "in_doubt": tuple(_doubts(job, row, run, state, now)),
    }


def _before(line: Line) -> dict[str, Any]:
    points = f" {' '.join(line.points)}" if line.points else ""
    return {
        "first_action": f"line {line.number + 1}: {line.says}{points}",
        "power": line.power.removeprefix("Power: "),
        "is_at_safe_stop": bool(line.stop),
        "n_to_stop": line.to_stop,
    }


def _who(run: Run, state: BenchState, sign_offs: tuple[str, ...]) -> str:
    """Say who may do it, and for how many lines ahead a lead is wanted."""
    told = list(sign_offs)
    n = sum(line.sign_off == BY_LEAD for line in run.lines[state.at :])
    if n:
        told.append(f"a lead for {counted(n, 'line')}")
    return ", ".join(told)


def _away(
    row: BenchRun, run: Run, state: BenchState
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Give which parts are off, and which connections are apart."""
    off = sorted(state.off)
    if row.description is None:
        return tuple(off), ()
    device = device_in(row.description, run.revision)
    joints = device.joints
    apart = (n for n in off if n in joints and joints[n].is_electrical)
    return tuple(n for n in off if n in device.parts), tuple(apart)


def _last_done(run: Run, strokes: list[BenchStroke]) -> str:
    standing: list[BenchStroke] = []
    for one in strokes:
        if one.act != "undo":
            standing.append(one)
        elif standing:
            standing.pop()
    if not standing:
        return ""
    last = standing[-1]
    at = timezone.localtime(last.told_at)
    says = run.lines[last.line].says
    return f"{says} ({last.by.name}, {at:%d %b %H:%M})"


def _doubts(
    job: Job, row: BenchRun, run: Run, state: BenchState, now: datetime
) -> Iterable[str]:
    """Tell what nobody is sure of."""
    last = row.strokes.filter(standing=BenchStroke.HELD).order_by("-id").first()
    passed = _passed_at(job, last) if last else None
    if last is not None and (passed or now) - last.told_at < DOUBT:
        yield "the last line was told within five minutes of passing it on: look again"
    held = state.held[-1] if state.held else None
    if held is not None and is_slip(held) and held.line == state.at:
        yield f"not put right: line {held.line + 1}, {run.lines[held.line].says}"
    for stroke in state.held:
        if stroke.act == "skip":
            yield f"passed over: line {stroke.line + 1}, {stroke.text('reason')}"
    n_apart = row.strokes.filter(standing=BenchStroke.DISPUTED).count()
    if n_apart:
        yield f"two accounts: {n_apart} told apart, nobody said which holds"


def _passed_at(job: Job, last: BenchStroke) -> datetime | None:
    """Give when the device first passed to another holder after a stroke."""
    moves = Entry.objects.filter(subject=job.ref, journal="custody", verb="moved")
    for entry in moves.filter(at__gte=last.told_at).order_by("sequence"):
        if ledger_entry(entry).text("holder") != last.by.ref:
            return entry.at
    return None


def _hazards(job: Job) -> tuple[str, ...]:
    terms = terms_of(job.batch)
    line = line_now(job)
    holds = observed_holds(line, terms)
    told = [str(hold) for hold in holds]
    return tuple(dict.fromkeys([*told, *cautions_of(terms.faults_of(line), holds)]))
