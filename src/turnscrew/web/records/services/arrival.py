"""How is it written in which condition a device came?"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from turnscrew.core.photo.faces import DAMAGE, MISSING
from turnscrew.web.records.models import ArrivalMark, Job, MissingPiece, Person
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, read_anew
from turnscrew.web.records.services.on_record import require_job_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_MOST_GAP_MM = Decimal(50)
_MOST_MISSING = 200
_MOST_MARKS = 60


@dataclass(frozen=True)
class Damage:
    """What is damaged, on which face, where from the left and the top."""

    face: str
    kind: str
    x_percent: int
    y_percent: int
    words: str = ""


@writing
def note_condition(
    job: Job,
    gap_mm: Decimal | None,
    missing: Mapping[str, int],
    *,
    by: Person,
    now: datetime,
    gap_seen: str = "",
) -> None:
    """
    Write how far the case gapes and how many pieces it came without.

    A gap tells of a pack that swells, so one written meanwhile is not written over:
    ``gap_seen`` is the gap that was on the page, as ``gap_words`` says it.
    """
    reasons = []
    if gap_mm is not None and not 0 <= gap_mm <= _MOST_GAP_MM:
        reasons.append(f"gap: found {gap_mm} mm, wanted 0 to {_MOST_GAP_MM} mm")
    for kind, n in missing.items():
        if kind not in MISSING:
            wanted = ", ".join(MISSING)
            reasons.append(f"missing: found {kind}, wanted one of {wanted}")
        elif not 0 <= n <= _MOST_MISSING:
            reasons.append(f"{kind}: found {n}, wanted 0 to {_MOST_MISSING}")
    if reasons:
        raise RefusedError(*reasons)
    read_anew(job)
    if gap_seen and gap_seen != gap_words(job):
        raise RefusedError(
            f"gap: found {gap_words(job)} written meanwhile, wanted this page read anew"
        )
    job.gap_mm = gap_mm
    keep(job, now)
    for kind, n in missing.items():
        MissingPiece.objects.update_or_create(job=job, kind=kind, defaults={"n": n})
    facts = {f"n_{kind}": n for kind, n in missing.items()}
    append(
        "bench", "arrival", job.ref, by=by, now=now,
        facts={**facts, "gap_mm": None if gap_mm is None else str(gap_mm)},
    )  # fmt: skip


def gap_words(job: Job) -> str:
    """Say the gap on record, as a form carries it."""
    return "none" if job.gap_mm is None else f"{job.gap_mm.normalize():f} mm"


@writing
def mark_damage(job: Job, told: Damage, *, by: Person, now: datetime) -> ArrivalMark:
    """Write where on a face a device was damaged when it came."""
    require_job_on_record(job)
    reasons = []
    if told.kind not in DAMAGE:
        wanted = ", ".join(DAMAGE)
        reasons.append(f"damage: found {told.kind or 'none'}, wanted one of {wanted}")
    if not told.face.strip():
        reasons.append("face: found none, wanted on which it is")
    for name in ("x_percent", "y_percent"):
        value = getattr(told, name)
        if not 0 <= value <= 100:
            reasons.append(f"{name[0]}: found {value} %, wanted 0 to 100 %")
    if job.arrival_marks.count() >= _MOST_MARKS:
        reasons.append(f"marks: found {_MOST_MARKS} already, wanted fewer")
    if reasons:
        raise RefusedError(*reasons)
    mark = ArrivalMark.objects.create(
        job=job, face=told.face, kind=told.kind, x_percent=told.x_percent,
        y_percent=told.y_percent, words=told.words.strip(), by=by, at=now,
    )  # fmt: skip
    append(
        "bench", "arrival", job.ref, by=by, now=now,
        facts={"face": mark.face, "damage": mark.kind, "x": mark.x_percent,
               "y": mark.y_percent},
        words=mark.words,
    )  # fmt: skip
    return mark
