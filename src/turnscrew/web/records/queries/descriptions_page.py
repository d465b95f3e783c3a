"""What is known of every model, what is lacking, and how far is it proven?"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Count
from django.http import Http404

from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import Stroke
from turnscrew.core.recording.described import Learned, described
from turnscrew.core.recording.doubts import DebtInUse, Doubt, debts_by_use, doubtful
from turnscrew.core.recording.release import BlindRebuild, changed_things
from turnscrew.errors import TurnscrewError
from turnscrew.web.records.models import BenchRun, Description, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.bench_recordings import openings_of
from turnscrew.web.records.queries.descriptions import (
    UNWRITTEN,
    device_in,
    revisions_of,
    unwritten_in,
)

MOST_DOUBTS = 10
"""Questions for the next device shown at once. [1]"""

MOST_DEBTS = 40
"""Lacking facts shown at once; the rest are counted. [1]"""

BY_LEAD = "lead"
"""Sign-off of a line on what was edited and not tried since."""


@dataclass(frozen=True)
class ModelRow:
    """The description of a model that is worked from now."""

    description: Description
    n_openings: int
    unwritten: tuple[str, ...] = ()


@dataclass(frozen=True)
class ModelRecord:
    """All that is known of the description of a model."""

    model: str
    shown: Description
    versions: list[Description]
    n_openings: int
    debts: tuple[DebtInUse, ...]
    n_more_debts: int
    doubts: tuple[Doubt, ...]
    contradictions: tuple[str, ...]
    free: tuple[tuple[str, str], ...]
    loose: tuple[str, ...]
    unwritten: tuple[str, ...] = ()
    wrong: str = ""

    @property
    def is_tried(self) -> bool:
        """Say whether a lead's word is all that a release still wants."""
        return self.shown.state == Description.TRIED

    @property
    def standing(self) -> list[Description]:
        """Give the versions that were not withdrawn, the newest first."""
        return [one for one in self.versions if one.state != Description.WITHDRAWN]


def models_known() -> list[ModelRow]:
    """Give for every model the version worked from, or the last one withdrawn."""
    recorded = BenchRun.objects.filter(kind=BenchRun.RECORDING)
    counted = recorded.values_list("job__model").annotate(n=Count("pk"))
    n_openings = dict(counted)
    shown: dict[str, Description] = {}
    for one in _rows().defer("text", "faults_text").order_by("model", "-number"):
        before = shown.setdefault(one.model, one)
        is_better = before.state == Description.WITHDRAWN != one.state
        shown[one.model] = one if is_better else before
    keys = [one.pk for one in shown.values()]
    some = Description.objects.filter(pk__in=keys, text__contains=f"{UNWRITTEN} ")
    unwritten = {one.pk: unwritten_in(one) for one in some}
    return [
        ModelRow(one, n_openings.get(model, 0), unwritten.get(one.pk, ()))
        for model, one in shown.items()
    ]


def model_record(model: str) -> ModelRecord:
    """Give what is known of one model, and what the next device of it must show."""
    # PostgreSQL keeps no such character, and refuses to look for it.
    versions = [] if "\0" in model else list(_rows().filter(model=model))
    versions.sort(key=lambda one: -one.number)
    if not versions:
        raise Http404
    standing = [one for one in versions if one.state != Description.WITHDRAWN]
    shown = (standing or versions)[0]
    device = device_in(shown, "")
    openings = openings_of(model)
    lacking = debts_by_use(device, openings)
    learned, wrong = Learned(device), ""
    try:
        learned = described(model, openings, device)
    except TurnscrewError as error:
        wrong = str(error)
    return ModelRecord(
        model=model,
        shown=shown,
        versions=versions,
        n_openings=len(openings),
        debts=lacking[:MOST_DEBTS],
        n_more_debts=max(0, len(lacking) - MOST_DEBTS),
        doubts=doubtful(device, openings)[:MOST_DOUBTS],
        contradictions=learned.contradictions,
        free=learned.free,
        loose=loose_ends(shown),
        unwritten=unwritten_in(shown),
        wrong=wrong,
    )


def _rows() -> Any:
    return Description.objects.select_related(
        "by", "may_try", "tried_by", "released_by"
    )


def version_named(ref: str) -> Description:
    """Give one version by its reference."""
    row = None if "\0" in ref else Description.objects.filter(ref=ref).first()
    if row is None:
        raise Http404
    return row


def tryers(but: Person) -> list[tuple[str, str]]:
    """Give who may be let try a description: whoever works at a bench."""
    rows = Person.objects.filter(has_left=False).exclude(rights=Person.DESK)
    return [(one.ref, one.name) for one in rows.exclude(pk=but.pk).order_by("order")]


def loose_ends(description: Description) -> tuple[str, ...]:
    """Name the joints of which nobody has said what they hold."""
    joints = device_in(description, "").joints
    return tuple(name for name, joint in joints.items() if not joint.holds)


def changed_between(before: Description, after: Description) -> list[str]:
    """Name the parts and joints that two versions tell differently, in any revision."""
    revisions = dict.fromkeys([*revisions_of(before), *revisions_of(after)]) or [""]
    changed: set[str] = set()
    for one in revisions:
        changed |= changed_things(device_in(before, one), device_in(after, one))
    return sorted(changed)


def rebuild_of(
    row: BenchRun, n_in_tray: int, by: Person, now: datetime
) -> BlindRebuild:
    """
    Give the rebuild that ends with the close gate of a run.

    It began with the last run of the device that found it shut. Whoever recorded and
    took part on more than the lines kept for a lead makes it no blind one.
    """
    rows = list(_since_shut(row))
    recorders = recorders_of(row)
    told = [_told_in(one) for one in rows if one.kind == BenchRun.PATH]
    hands = {by.ref, *(ref for one in rows for ref in _hands(one))}
    known = sorted(hands & recorders)
    slips = [slip for run, strokes in told for slip in _slips(run, strokes)]
    return BlindRebuild(
        by=known[0] if known else by.ref,
        on=now.date(),
        recorded_by=recorders,
        n_left_over=n_in_tray + sum(n_left for n_left, _ in slips),
        n_wrong_place=sum(n_wrong for _, n_wrong in slips),
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


def _told_in(row: BenchRun) -> tuple[Run, tuple[Stroke, ...]]:
    state, run = bench_runs.state_and_run(row)
    return run, state.held


def _hands(row: BenchRun) -> Iterator[str]:
    """Name whose strokes hold, those on lines that only a lead may do left out."""
    lines = row.run.get("lines", [])
    for one in row.strokes.filter(standing="held").select_related("by"):
        is_kept = one.line < len(lines) and lines[one.line]["sign_off"] == BY_LEAD
        if not is_kept:
            yield one.by.ref


def _slips(run: Run, strokes: tuple[Stroke, ...]) -> Iterator[tuple[int, int]]:
    """Give pieces left over, and looks that found one in a wrong place."""
    for stroke in strokes:
        line = run.lines[stroke.line]
        if stroke.act != "answer":
            continue
        is_no = line.asks == "look" and stroke.text("answer") == "no"
        is_beside = is_no and line.name == "bench"
        n_left = stroke.n("left") if line.asks == "count" else int(is_beside)
        yield n_left, int(is_no and any("stands proud" in one for one in line.points))
