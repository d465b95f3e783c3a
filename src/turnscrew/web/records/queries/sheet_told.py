"""What did the tests at the bench show of a device?"""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import QuerySet

from turnscrew.core.bench.run import Run
from turnscrew.core.bench.sheet import TestSheet, Timed, sheet_of
from turnscrew.web.records.models import BenchRun, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.locks import barred_sheet


def sheet_now(row: BenchRun, run: Run) -> TestSheet:
    """Write the test sheet of a run as far as it is told."""
    held = bench_runs.told(row).state.held
    keys = [stroke.key for stroke in held]
    rows = row.strokes.filter(client_key__in=keys)
    at_s = {one.client_key: one.told_at.timestamp() for one in rows}
    sheet = sheet_of(run, [Timed(stroke, at_s[stroke.key]) for stroke in held])
    return barred_sheet(row.job, sheet, run.lines)


@dataclass(frozen=True)
class RunSheet:
    """The tests of one path, and whether a lead has to look into them."""

    row: BenchRun
    sheet: TestSheet

    @property
    def is_to_be_seen(self) -> bool:
        """Say whether nobody has looked into it yet."""
        return self.sheet.is_rushed and self.row.rushed_seen_by_id is None


def sheets_of(job: Job) -> list[RunSheet]:
    """Give the tests of a device, path by path; of older ones what was answered."""
    rows = BenchRun.objects.filter(job=job, kind=BenchRun.PATH).order_by("number")
    sheets = [RunSheet(row, sheet_now(row, bench_runs.run_in(row))) for row in rows]
    return [one for one in sheets if one.sheet.lines]


def rushed() -> list[BenchRun]:
    """Give the paths whose final tests were only ticked, and nobody looked into it."""
    return list(_rushed().select_related("job__item", "job__batch", "by")[:100])


def rushed_among(jobs: Iterable[Job]) -> list[BenchRun]:
    """Give those of some devices."""
    return list(among(_rushed().select_related("job"), "job", jobs))


def _rushed() -> QuerySet[BenchRun]:
    return BenchRun.objects.filter(rushed_s__isnull=False, rushed_seen_by=None)
