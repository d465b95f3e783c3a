"""How do condition on arrival and trials read on the papers of a batch?"""

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

from turnscrew.papers.set_aside import written
from turnscrew.web.records.models import ArrivalMark, Job, MissingPiece, Trial
from turnscrew.web.records.queries.as_of import written_by
from turnscrew.web.records.queries.in_parts import among

_SHOWN = {Trial.BROKEN_OFF: "not shown before it was broken off"}


def trial_words(jobs: Sequence[Job], then: datetime | None = None) -> dict[int, str]:
    """Give the trials of devices that have ended, or had by then, by number."""
    lines = {job.pk: job.line for job in jobs}
    rows = among(
        Trial.objects.filter(written_by(then, "ended_at")).exclude(ended_at=None),
        "job",
        lines,
    )
    told: dict[int, list[str]] = defaultdict(list)
    for one in rows:
        told[lines[one.job_id]].append(
            f"trial of {(one.ran_min or 0) / 60:.3g} h, {written(one.load)}, "
            f"{written(one.position)}, {one.temperature_c} °C; tried: "
            f"{written(one.tried)}; the fault was {_SHOWN.get(one.result, one.result)}"
            + (f": {written(one.words)}" if one.words else "")
        )
    return {line: ". ".join(words) for line, words in told.items()}


def condition_words(
    jobs: Sequence[Job], then: datetime | None = None
) -> dict[int, str]:
    """Give gap, missing pieces and marks of devices on arrival, by number."""
    lines = {job.pk: job.line for job in jobs}
    told: dict[int, list[str]] = defaultdict(list)
    for job in jobs:
        if job.gap_mm is not None:
            told[job.line].append(f"gap of the case {job.gap_mm} mm")
    for piece in among(MissingPiece.objects.filter(n__gt=0), "job", lines):
        told[lines[piece.job_id]].append(f"missing {piece.n} {piece.kind}")
    for mark in among(ArrivalMark.objects.filter(written_by(then)), "job", lines):
        words = f"{mark.face}: {mark.kind}"
        words += f", {written(mark.words)}" if mark.words else ""
        told[lines[mark.job_id]].append(words)
    return {line: "; ".join(words) for line, words in told.items()}
