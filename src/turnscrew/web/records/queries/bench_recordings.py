"""What was recorded of a model, opening by opening?"""

from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.timezone import localdate

from turnscrew.core.bench.state import Fact
from turnscrew.core.model.quantities import BadFieldError
from turnscrew.core.recording.recorded import (
    PART_KINDS,
    Recorded,
    RecordedOpening,
)
from turnscrew.errors import BadArgumentError
from turnscrew.flows.bench.recording import Told, recorded_opening, told_in
from turnscrew.web.records.models import BenchRun, Description
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.descriptions import device_in, revision_meant

FACTS = frozenset({
    "removal", "kind", "name", "n", "of", "more", "length_mm", "fits_other_way",
    "is_destroyed", "drive", "photo",
})  # fmt: skip
"""What may be told of a thing undone."""

_AWAY = {"undo": "joint", "lift": "part", "aside": "aside"}


def told_of(row: BenchRun) -> list[Told]:
    """Give what a recording holds so far."""
    return told_in((one.act, one.facts) for one in bench_runs.held(row))


def opening_of(row: BenchRun) -> RecordedOpening:
    """Give a recording as one opening."""
    return recorded_opening(
        told_of(row), serial=row.job.serial, by=row.by.ref, on=localdate(row.at)
    )


def check(row: BenchRun, facts: Mapping[str, Fact]) -> None:
    """Refuse a record that could not stand in a description."""
    strokes: list[tuple[str, Mapping[str, Fact]]] = [
        (one.act, one.facts) for one in bench_runs.held(row)
    ]
    names = {one.name for one in told_of(row)}
    of = facts.get("of")
    if of is not None and of not in names:
        raise BadArgumentError(f"record: found more of {of}, wanted one recorded")
    if of is None and facts.get("removal") != "turn" and facts.get("name") in names:
        raise BadArgumentError(f"record: found {facts['name']} twice, wanted it once")
    try:
        recorded_opening(
            told_in([*strokes, ("record", facts)]),
            serial="",
            by="",
            on=localdate(row.at),
        )
    except BadFieldError as error:
        raise BadArgumentError(str(error)) from error


def openings_of(
    model: str, *, but: BenchRun | None = None
) -> tuple[RecordedOpening, ...]:
    """Give every opening of a model, recorded or worked along a path of a draft."""
    return tuple(opening for _, opening in _openings(model, but=but))


def openings_by_revision(
    shown: Description,
) -> dict[str, tuple[RecordedOpening, ...]]:
    """Give the openings of a model by the revision of its description they are of."""
    found: dict[str, tuple[RecordedOpening, ...]] = {revision_meant(shown, ""): ()}
    for revision, opening in _openings(shown.model):
        meant = revision_meant(shown, revision)
        found[meant] = (*found.get(meant, ()), opening)
    return found


def _openings(
    model: str, *, but: BenchRun | None = None
) -> Iterator[tuple[str, RecordedOpening]]:
    """Give the openings of a model, each with the revision of its device."""
    rows = BenchRun.objects.filter(job__model=model).select_related(
        "job", "by", "description"
    )
    for row in rows.order_by("at", "id"):
        if but is not None and row.pk == but.pk:
            continue
        opening = opening_of(row) if row.kind == BenchRun.RECORDING else _worked(row)
        if opening.removals:
            yield row.job.revision, opening


def _worked(row: BenchRun) -> RecordedOpening:
    """Give the opening worked in a run that began with the device shut."""
    on, by, serial = localdate(row.at), row.by.ref, row.job.serial or "no serial"
    state, run = bench_runs.state_and_run(row)
    if run.off or row.description is None:
        return RecordedOpening(serial, by, on, ())
    device = device_in(row.description, run.revision)
    removals = []
    for stroke in state.held:
        line = run.lines[stroke.line]
        removal: Any = _AWAY.get(line.does)
        if removal is None or stroke.act != "done":
            continue
        kind = line.kind if removal == "joint" else device.parts[line.name].kind
        kind = kind if removal == "joint" or kind in PART_KINDS else "part"
        n = line.n if removal == "joint" else None
        removals.append(Recorded(name=line.name, removal=removal, kind=kind, n=n))
    return RecordedOpening(serial, by, on, tuple(removals))


def is_recorded(model: str) -> bool:
    """Say whether an opening of a model was recorded here."""
    return BenchRun.objects.filter(job__model=model, kind=BenchRun.RECORDING).exists()
