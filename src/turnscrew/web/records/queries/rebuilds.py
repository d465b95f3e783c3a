"""
How did those fare who opened and rebuilt a device by its description alone?

What they left over or put in a wrong place decides; where they had to ask or stopped,
and how long it took, tells the writer of the description what it does not say yet.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.utils.timezone import localdate

from turnscrew.core.bench.run import Line
from turnscrew.core.bench.state import ASKED, Stroke, goes_on
from turnscrew.core.recording.release import BlindRebuild
from turnscrew.web.records.models import BenchRun, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.item_page import journal_of_verb
from turnscrew.web.records.queries.own_times import minutes_of

BY_LEAD = "lead"
"""Sign-off of a line on what was edited and not tried since."""


COUNTS = (
    "version", "n_left_over", "n_wrong_place", "n_questions", "n_stops", "minutes",
    "said_min",
)  # fmt: skip
"""Figures of a rebuild that its entry in the journal holds."""


@dataclass(frozen=True)
class RebuildTold:
    """
    One rebuild with what it tells of the description.

    ``asked_at`` names the lines on which somebody else had to be asked; ``minutes`` are
    those of hands, by the taps, ``said_min`` what the lines done say themselves.
    """

    rebuild: BlindRebuild
    asked_at: tuple[str, ...]
    minutes: float
    said_min: float


@dataclass(frozen=True)
class RebuildRow:
    """One rebuild on record."""

    device: str
    name: str
    on: date
    version: int
    is_blind: bool
    n_left_over: int
    n_wrong_place: int
    n_questions: int
    n_stops: int
    minutes: int
    said_min: int
    asked_at: str


def rebuild_told(
    row: BenchRun, n_in_tray: int, by: Person, now: datetime
) -> RebuildTold:
    """
    Give the rebuild that ends with the close gate of a run.

    It began with the last run of the device that found it shut. Whoever recorded and
    took part on more than the lines kept for a lead makes it no blind one.
    """
    since = list(_since_shut(row))
    rows = [one for one in since if one.kind == BenchRun.PATH]
    recorders = recorders_of(row)
    told = [line for one in rows for line in _told_in(one)]
    hands = {by.ref, *(ref for one in since for ref in _hands(one))}
    known = sorted(hands & recorders)
    slips = [slip for line, stroke in told for slip in _slips(line, stroke)]
    asked = [line for line, stroke in told if stroke.text("what") == ASKED]
    rebuild = BlindRebuild(
        by=known[0] if known else by.ref,
        on=now.date(),
        recorded_by=recorders,
        n_left_over=n_in_tray + sum(n_left for n_left, _ in slips),
        n_wrong_place=sum(n_wrong for _, n_wrong in slips),
        n_questions=len(asked),
        n_stops=len(rows) - 1,
    )
    return RebuildTold(
        rebuild=rebuild,
        asked_at=tuple(dict.fromkeys(f"{one.does} {one.name}" for one in asked)),
        minutes=minutes_of(rows),
        said_min=sum(line.seconds for line in _done(told)) / 60,
    )


def recorders_of(row: BenchRun) -> frozenset[str]:
    """Name who recorded openings of a model, or brought in what a run goes by."""
    recorded = BenchRun.objects.filter(
        kind=BenchRun.RECORDING, job__model=row.job.model
    )
    refs = set(recorded.values_list("by__ref", flat=True))
    refs |= set(recorded.values_list("strokes__by__ref", flat=True))
    if row.description is not None:
        refs.add(row.description.by.ref)
    return frozenset(ref for ref in refs if ref)


def _since_shut(row: BenchRun) -> Iterator[BenchRun]:
    rows = BenchRun.objects.filter(job=row.job_id, number__lte=row.number)
    for one in rows.order_by("-number"):
        yield one
        if one.kind == BenchRun.RECORDING or not one.run.get("off"):
            return


def _told_in(row: BenchRun) -> list[tuple[Line, Stroke]]:
    state, run = bench_runs.state_and_run(row)
    return [(run.lines[stroke.line], stroke) for stroke in state.held]


def _done(told: list[tuple[Line, Stroke]]) -> list[Line]:
    return [line for line, stroke in told if goes_on(stroke)]


def _hands(row: BenchRun) -> Iterator[str]:
    """Name whose strokes hold, those on lines that only a lead may do left out."""
    lines = row.run.get("lines", [])
    for one in row.strokes.filter(standing="held").select_related("by"):
        is_kept = one.line < len(lines) and lines[one.line]["sign_off"] == BY_LEAD
        if not is_kept:
            yield one.by.ref


def _slips(line: Line, stroke: Stroke) -> Iterator[tuple[int, int]]:
    """Give pieces left over, and looks that found one in a wrong place."""
    if stroke.act != "answer":
        return
    is_no = line.asks == "look" and stroke.text("answer") == "no"
    is_beside = is_no and line.name == "bench"
    n_left = stroke.n("left") if line.asks == "count" else int(is_beside)
    yield n_left, int(is_no and any("stands proud" in one for one in line.points))


def rebuilds_of(model: str) -> list[RebuildRow]:
    """Give the rebuilds on record of a model, the latest first."""
    runs = BenchRun.objects.filter(job__model=model, kind=BenchRun.PATH)
    refs = set(runs.values_list("job__ref", flat=True))
    numbers = dict(Job.objects.filter(ref__in=refs).values_list("ref", "number"))
    rows = journal_of_verb("rebuilt", refs)
    return [_row(one, numbers[one.subject]) for one in rows]


def _row(entry: Any, device: str) -> RebuildRow:
    told = entry.told
    return RebuildRow(
        device=device,
        name=entry.author_name,
        on=localdate(entry.at),
        is_blind=told["is_blind"],
        asked_at=told.get("asked_at", ""),
        **{name: told[name] for name in COUNTS},
    )
