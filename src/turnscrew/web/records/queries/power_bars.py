"""What keeps power off a device, and was it seen to at the bench since it was told?"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.hold import Hold
from turnscrew.core.reconcile.danger_words import WRITTEN_DRY
from turnscrew.core.reconcile.remarks import observed_holds
from turnscrew.web.records.models import Finding, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.as_of import stands_at, written_by
from turnscrew.web.records.queries.batch_input import job_then, line_now
from turnscrew.web.records.queries.standing_since import closed_since
from turnscrew.web.records.queries.terms_text import danger_of, terms_of
from turnscrew.web.records.queries.told_dangers import (
    told_by_job,
    was_isolated,
)

NO_POWER = {
    "pack": "pack swollen or not known",
    "liquid": "liquid got in, and no finding says that it is dry inside",
}


def holds_now(job: Job, then: datetime | None = None) -> tuple[Hold, ...]:
    """Give all that must be observed of a device as it stands now."""
    return observed_holds(line_now(job, then), terms_of(job.batch))


def why_no_power(job: Job, then: datetime | None = None) -> str:
    """Say why a device may not have power now, whatever its path says; else nothing."""
    bars = bars_of(job, holds_now(job, then), then)
    return next((NO_POWER[kind] for kind in bars), "")


def power_refusal(job: Job, what: str) -> str:
    """Say why power is kept off before what is wanted; nothing if it is not."""
    bar = why_no_power(job)
    return f"power: found {bar}, wanted it seen to before {what}" if bar else ""


def bars_of(job: Job, holds: Sequence[Hold], then: datetime | None = None) -> list[str]:
    """Name what of all that holds keeps power off a device and was not seen to yet."""
    kinds = {barring(hold) for hold in holds}
    known = [kind for kind in NO_POWER if kind in kinds]
    gone = freed(job, then) if known else frozenset()
    return [kind for kind in known if kind not in gone]


def barring(hold: Hold) -> str:
    """Name the danger of what holds."""
    return "liquid" if hold.kind == "wet" else hold.kind


def freed(job: Job, then: datetime | None = None) -> frozenset[str]:
    """Name what is gone by work or a look, and was not told of anew since."""
    return frozenset(
        kind
        for kind, since in {**_found_dry(job, then), **bench_runs.freed_at(job)}.items()
        if kind not in told_since(job, since, then)
    )


def _found_dry(job: Job, then: datetime | None = None) -> dict[str, datetime]:
    """Give the time when somebody of the workshop looked inside and found it dry."""
    rows = job.findings.filter(stands_at(then), written_by(then), result="", code="")
    ours = rows.exclude(stage=Finding.REPORTED).order_by("-at")
    return next(
        (
            {"liquid": at}
            for words, at in ours.values_list("words", "at")
            if WRITTEN_DRY.are_in(words)
        ),
        {},
    )


def holds_bad_pack(job: Job, then: datetime | None = None) -> bool:
    """
    Say whether a device holds a pack that was seen or told to be bad.

    Of a device that was closed, what was told before is taken as seen to, as its work
    may have been done without a bench; why it was isolated is not. Where a bench closed
    it, the bench saw the pack out, or it is in it still.
    """
    if "pack" not in bars_of(job, holds_now(job, then), then):
        return False
    closed = closed_since(job)
    if closed is None or was_isolated(job, then):
        return True
    row = bench_runs.latest(job)
    if row is not None and bench_runs.was_closed(row):
        closed = bench_runs.boxed_at(row)
    return closed is None or "pack" in told_since(job, closed, then)


def was_seen_to(job: Job, code: str) -> bool:
    """Say whether the danger of a fault is gone by work at the bench, so far."""
    danger = danger_of(job.batch, code)
    return bool(danger) and danger in freed(job)


def told_since(
    job: Job, since: datetime, then: datetime | None = None
) -> frozenset[str]:
    """Name the dangers of a device that were told of since a time."""
    line, terms = _line_since(job, since, then), terms_of(job.batch)
    return frozenset(barring(hold) for hold in observed_holds(line, terms))


def _line_since(job: Job, since: datetime, then: datetime | None) -> BatchLine:
    """Give a device with nothing but what was written of it since a time."""
    was = job_then(job, since)
    is_same_gap = was is not None and was.gap_mm == job.gap_mm
    line, news = line_now(job, then), _codes_since(job, since)
    return replace(
        line,
        reported="",
        remarks="",
        found=tuple(code for code in line.found if code in news),
        told=told_by_job([job], then=then, since=since)[job.pk],
        gap_mm=None if is_same_gap else line.gap_mm,
    )


def _codes_since(job: Job, since: datetime) -> frozenset[str]:
    """
    Give the faults that were found since a time.

    Those seen are confirmed once, with the first other fault found inside: that alone
    is no news of them.
    """
    standing = job.findings.filter(withdrawn_at=None).exclude(code="")
    rows = list(standing.values_list("code", "stage", "at"))
    known = {(code, stage) for code, stage, at in rows if at <= since}
    seen = {code for code, _ in known}
    return frozenset(
        code
        for code, stage, at in rows
        if at > since
        and (stage == Finding.SEEN or code not in seen or (code, stage) in known)
    )
