"""What does the work on a device at the bench tell the search for its fault?"""

from dataclasses import dataclass
from datetime import datetime

from turnscrew.core.bench.run import Line
from turnscrew.core.diagnose.evidence import CANNOT_TELL, CHECK_OUT, STILL_AT_FAULT
from turnscrew.core.diagnose.pose import Layering
from turnscrew.core.model.faults import FaultRepair, FaultTable
from turnscrew.web.records.models import BenchRun, BenchStroke, Job
from turnscrew.web.records.queries.bench_runs import held_lines, latest, state_and_run


@dataclass(frozen=True)
class Said:
    """What came of a test, repair or check-out, when, and in words for the bench."""

    at: datetime
    test: str
    result: str
    words: str


def tried_at_bench(job: Job, table: FaultTable) -> list[Said]:
    """
    Give the repairs of a table that were made as work of a path, and what failed after.

    Whether a repair mended is not known by its being made: the check-out tells.
    """
    row = _path_of(job)
    told = []
    for at, line in _made_and_failed(row) if row else ():
        if line.spare:
            told += [
                Said(at, name, CANNOT_TELL, f"fitted at the bench: {name}")
                for name, repair in table.repairs.items()
                if _is_exchange(repair, line)
            ]
        else:
            words = f"failed after the work: {line.name}"
            told.append(Said(at, CHECK_OUT, STILL_AT_FAULT, words))
    return told


def open_layers(job: Job, layers: Layering) -> tuple[str, ...]:
    """Name the layers that lie open at this moment, as the bench has told."""
    row = _path_of(job)
    if row is None:
        return ()
    state, _ = state_and_run(row)
    off = state.off | state.aside
    return tuple(
        priced.layer.name for priced in layers.layers if priced.layer.off <= off
    )


def _path_of(job: Job) -> BenchRun | None:
    row = latest(job)
    return None if row is None or row.kind == BenchRun.RECORDING else row


def _is_exchange(repair: FaultRepair, line: Line) -> bool:
    """Say whether a line fits what a repair does, also for another revision."""
    if not repair.part:
        return False
    return repair.part == line.spare or repair.reach == (line.name,)


def _made_and_failed(row: BenchRun) -> list[tuple[datetime, Line]]:
    """Give the lines of pieces fitted and of tests that failed last, with when."""
    lines: dict[str, Line] = {}
    failed: dict[str, str] = {}
    for line, stroke in held_lines(row):
        if line.phase == "work" and line.spare and stroke.act == "done":
            lines[stroke.key] = line
        elif line.kind == "test" and stroke.act == "answer":
            lines.pop(failed.pop(line.name, ""), None)
            if stroke.text("answer") == "failed":
                lines[stroke.key] = line
                failed[line.name] = stroke.key
    rows = BenchStroke.objects.filter(client_key__in=lines).order_by("told_at", "id")
    return [(at, lines[key]) for key, at in rows.values_list("client_key", "told_at")]
