"""What does a bench need to know of the devices on it?"""

import json
import re
from dataclasses import asdict
from datetime import datetime, timedelta
from typing import Any

from django.db.models import Exists, OuterRef, Q

from turnscrew.core.model.device import Device
from turnscrew.core.model.job_state import ENDED, OPEN
from turnscrew.core.model.language import own_words
from turnscrew.core.model.model_terms import FaultTerms
from turnscrew.web.records.models import (
    Bench,
    BenchRun,
    BenchStroke,
    Job,
    Person,
    Photo,
)
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.bench_drawings import drawing_key
from turnscrew.web.records.queries.bench_recordings import is_recorded
from turnscrew.web.records.queries.bench_unready import ON_BENCH
from turnscrew.web.records.queries.data_terms import NOT_ALLOWED, may_not_start
from turnscrew.web.records.queries.descriptions import device_in, revisions_of, used_by
from turnscrew.web.records.queries.due import due_on, earliest_due_first
from turnscrew.web.records.queries.item_page import names_of
from turnscrew.web.records.queries.notation import notation
from turnscrew.web.records.queries.permission import waits_for
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.queries.spelled import spelled
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.queries.written_yes import not_agreed

_REF = re.compile(r"\b[0-9a-f]{16}\b")

_PHOTO_SHOWN = timedelta(seconds=20)

_MOST = 60
"""Devices told at once; a workshop of two has no more on its benches. [1]"""

_RUNS = BenchRun.objects.filter(job=OuterRef("pk"))


def bench_state(name: str, person: Person, now: datetime) -> dict[str, Any]:
    """Give the devices on benches, how far each is, and what the camera saw last."""
    jobs = [*_on_benches(Q(Exists(_RUNS))), *_done_in_hand(name)]
    holders = names_of([job.holder for job in jobs])
    return {
        "person": {
            "ref": person.ref,
            "name": person.name,
            "rights": person.rights,
            "language": person.language,
        },  # fmt: skip
        "notation": asdict(notation()),
        "people": [
            {"ref": one.ref, "key": one.key, "name": one.name}
            for one in Person.objects.filter(has_left=False).exclude(rights=Person.DESK)
        ],
        "jobs": [job_state(job, holders[job.holder], now) for job in jobs],
        "ready": _ready(now),
        "photo": _last_photo(name, now),
    }


def _on_benches(*which: Q) -> list[Job]:
    rows = Job.objects.filter(*which, state__in=ON_BENCH).order_by("line", "id")
    jobs = earliest_due_first(rows.select_related("batch", "item"), lambda job: job)
    return jobs[:_MOST]


def _done_in_hand(name: str) -> list[Job]:
    """Give the device a bench has in hand if its last line was answered already."""
    bench = Bench.objects.filter(name=name or "bench").select_related(
        "in_hand__batch", "in_hand__item"
    )
    job = next((one.in_hand for one in bench), None)
    if job is None or job.state != "charged and clean":
        return []
    row = bench_runs.latest(job)
    if row is None or row.kind == BenchRun.RECORDING:
        return []
    state, run = bench_runs.state_and_run(row)
    return [job] if state.is_done(run) else []


def _ready(now: datetime) -> list[dict[str, Any]]:
    """Give the devices whose kit is complete, in the order in which they are due."""
    return [
        {
            "number": job.number,
            "line": job.line,
            "says": f"{job.model} {job.revision} {job.serial}",
            "is_late": _is_late(job, now),
        }
        for job in _on_benches(~Q(Exists(_RUNS)), Q(state="kitted"))
    ]


def _is_late(job: Job, now: datetime) -> bool:
    due = due_on(job)
    return due is not None and due < now.date()


def job_state(job: Job, holder: str, now: datetime) -> dict[str, Any]:
    """Give one device as a bench shows it."""
    run = bench_runs.latest(job)
    due = due_on(job)
    return {
        "ref": job.ref,
        "number": job.number,
        "line": job.line,
        "asset": job.asset_number,
        "model": job.model,
        "revision": job.revision,
        "serial": job.serial,
        "state": job.state,
        "place": job.place,
        "holder": job.holder,
        "holder_name": holder,
        "due": due.isoformat() if due else "",
        "is_late": _is_late(job, now),
        "is_open": job.state in OPEN,
        "waits_for": waits_for(job),
        "stop": _stop_words(job, run),
        "run": run_short(run) if run else None,
        **_known_of(job),
    }


def _stop_words(job: Job, run: BenchRun | None) -> str:
    """Say what forbids power now though the path at the bench does not know it."""
    if run is None:
        return ""
    why = why_no_power(job)
    if run.kind == BenchRun.RECORDING:
        return f"Known of it: {why}. No power, no charging, no pressure." if why else ""
    if why == run.goal.get("no_power"):
        why = ""
    if not why and may_not_start(job) and not run.goal.get("no_start"):
        why = NOT_ALLOWED
    if not why:
        return ""
    return (
        f"Known only since this path was made: {why}. No power, no charging, no "
        "pressure; ask for a new path."
    )


def _known_of(job: Job) -> dict[str, Any]:
    description = used_by(job)
    if description is None:
        return {
            "description": "", "has_faults": False, "is_recorded": False,
            "revisions": [], "codes": [],
        }  # fmt: skip
    device = device_in(description, job.revision)
    return {
        "description": description.state,
        "has_faults": bool(description.faults_text),
        "is_recorded": is_recorded(job.model),
        "revisions": list(revisions_of(description)),
        "codes": [
            {"code": code, "says": fault.says}
            for code, fault in terms_of(job.batch).faults.items()
            if _is_of(device, fault)
        ],
    }


def _is_of(device: Device, fault: FaultTerms) -> bool:
    """Say whether a fault of the terms is one of a device."""
    spares = {part.spare for part in device.parts.values()}
    return bool(
        spares.intersection(fault.parts) or set(fault.reach) & set(device.parts)
    )


def run_short(row: BenchRun) -> dict[str, Any]:
    """Give how far a run is; its lines are asked for once and never change."""
    if row.kind == BenchRun.RECORDING:
        held, lacking = bench_runs.held(row), []
        head = held[-1].client_key if held else ""
    else:
        told = bench_runs.told(row)
        lacking = not_agreed(row.job, bench_runs.run_in(row).lines)
        keys = [stroke.key for stroke in told.state.held]
        rows = {
            one.client_key: one
            for one in row.strokes.filter(client_key__in=keys).select_related("by")
        }
        held, head = [rows[key] for key in keys], told.head
    apart = BenchStroke.objects.filter(
        run__job=row.job_id, standing=BenchStroke.DISPUTED
    )
    disputed = apart.select_related("run", "by").order_by("id")
    return {
        "ref": row.ref,
        "number": row.number,
        "kind": row.kind,
        "why": row.why,
        "head": head,
        "strokes": [_stroke(one) for one in held],
        "disputed": [_told_apart(one) for one in disputed],
        "rushed_s": row.rushed_s,
        "not_agreed": lacking,
    }


def _stroke(one: BenchStroke) -> dict[str, Any]:
    return {
        "key": one.client_key,
        "act": one.act,
        "line": one.line,
        "facts": one.facts,
        "at": one.told_at.isoformat(),
        "by": one.by.name,
        "bench": one.bench,
        "against": one.against,
    }


def _told_apart(one: BenchStroke) -> dict[str, Any]:
    """Give a stroke that waits for a word, with its line, be its path an older one."""
    lines = bench_runs.run_in(one.run).lines
    says = lines[one.line].says if one.line < len(lines) else ""
    return {**_stroke(one), "run": one.run.ref, "says": says}


def run_whole(row: BenchRun) -> dict[str, Any]:
    """Give the lines of a run with their drawings; it never changes."""
    told = {"ref": row.ref, "job": row.job.ref, "kind": row.kind}
    if row.kind == BenchRun.RECORDING:
        return {**row.run, **told, "lines": []}
    run = bench_runs.run_in(row)
    lines = [
        {**plain, "drawing": drawing_key(line)}
        for plain, line in zip(row.run.get("lines", []), run.lines, strict=True)
    ]
    return {
        **row.run,
        **told,
        "lines": _by_name(lines),
        "drawings": row.drawings,
        "own": {"de": _own_words(row, run.revision)},
    }


def _by_name(lines: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Name the people whom a description that was recorded knows by reference."""
    told = json.dumps(lines)
    names = names_of(_REF.findall(told))
    shown: list[dict[str, Any]] = json.loads(
        _REF.sub(lambda found: json.dumps(names[found[0]])[1:-1], told)
    )
    return shown


def _own_words(row: BenchRun, revision: str) -> dict[str, str]:
    """Give what the description of a run says itself, as German shows it."""
    if row.description is None:
        return {}
    return own_words(device_in(row.description, revision), "de")


def found_at_bench(code: str) -> Job | None:
    """Give the device a scanned or typed number means, while it is here."""
    typed = code.replace("\0", "").strip().strip("*")[:60]
    rows = Job.objects.exclude(state__in=ENDED).select_related("batch", "item")
    # A serial keeps the letters of its label, large or small.
    of_serial = rows.filter(spelled("serial", typed)).order_by("-id") if typed else ()
    return rows.filter(number=typed.upper()[:60]).first() or next(
        iter(sorted(of_serial, key=lambda job: job.serial != typed)), None
    )


def _last_photo(name: str, now: datetime) -> dict[str, Any] | None:
    bench = Bench.objects.filter(name=name).select_related("in_hand").first()
    if bench is None or bench.in_hand is None:
        return None
    rows = Photo.objects.filter(job=bench.in_hand, is_removed=False)
    photo = rows.filter(at__gte=now - _PHOTO_SHOWN).order_by("-id").first()
    if photo is None:
        return None
    return {
        "ref": photo.ref,
        "says": photo.verdict,
        "caption": photo.caption,
        "job": bench.in_hand.ref,
    }


def bench_named(name: str, by: str) -> tuple[Bench | None, Person | None]:
    """Give a bench and whoever joined a camera to it."""
    bench = Bench.objects.filter(name=name).select_related("in_hand__batch").first()
    return bench, Person.objects.filter(ref=by, has_left=False).first()
