"""What was tested at the bench before a device was closed, and after?"""

from datetime import datetime

from django.utils.timezone import localtime

from turnscrew.core.bench.sheet import SheetLine, TestSheet, Timed, latest_of, sheet_of
from turnscrew.core.bench.state import state_of
from turnscrew.papers.batch.beside import Tested
from turnscrew.web.records.models import BenchRun, BenchStroke, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.as_of import written_by
from turnscrew.web.records.queries.locks import barred_sheet

ADAPTER_ASKED = "Adapter: its own, cable whole, rating fits, output measured?"
"""What the bench asks of an adapter before its device goes back."""


def tests_of(job: Job, then: datetime | None) -> tuple[Tested, ...]:
    """Give the tests as they stood; nothing where none was answered by then."""
    rows: dict[str, BenchStroke] = {}
    sheets: list[TestSheet] = []
    for run in _runs(job, then):
        told = run.strokes.filter(written_by(then), standing=BenchStroke.HELD)
        own = {row.client_key: row for row in told.select_related("by").order_by("id")}
        rows |= own
        lines = bench_runs.run_in(run)
        strokes = [bench_runs.stroke_of(row) for row in own.values()]
        held = state_of(lines, strokes).held
        timed = [Timed(one, own[one.key].told_at.timestamp()) for one in held]
        sheets.append(barred_sheet(job, sheet_of(lines, timed), lines.lines))
    lines_now = latest_of(sheets)
    if not any(line.is_told for line in lines_now):
        return ()
    return tuple(_tested(line, rows.get(line.key)) for line in lines_now)


def _runs(job: Job, then: datetime | None) -> list[BenchRun]:
    rows = job.runs.filter(written_by(then), kind=BenchRun.PATH)
    return list(rows.order_by("number"))


def _tested(line: SheetLine, row: BenchStroke | None) -> Tested:
    return Tested(
        says=line.says,
        outcome=line.outcome,
        value=line.value,
        reason=line.reason,
        by=row.by.name if row else "",
        at=f"{localtime(row.told_at):%d %b %Y %H:%M}" if row else "",
    )


def is_adapter_passed(job: Job, then: datetime | None = None) -> bool:
    """Say whether the adapter of a device passed at the bench."""
    return any(
        test.says == ADAPTER_ASKED and test.outcome == "passed"
        for test in tests_of(job, then)
    )
