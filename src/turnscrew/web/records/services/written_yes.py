"""How is it written that a customer agreed in writing to what is crossed?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from turnscrew.web.records.models import Batch, Job, Person, WrittenYes
from turnscrew.web.records.queries.asked_first import asked_first
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@dataclass(frozen=True)
class Agreed:
    """Who agreed to what, and on which day."""

    cover: str
    said_by: str
    said_on: date


@writing
def write_yes(
    batch: Batch, lines: Iterable[int], agreed: Agreed, *, by: Person, now: datetime
) -> list[WrittenYes]:
    """Write a yes for the devices named, all or none; each is asked once."""
    require_on_record(batch.customer_id)
    wanted = list(dict.fromkeys(lines))
    lacking = {
        line
        for one in asked_first(batch)
        if one.cover == agreed.cover
        for line in one.lacking
    }
    reasons = []
    if not wanted or not lacking.issuperset(wanted):
        wrong = [str(line) for line in wanted if line not in lacking]
        known = ", ".join(map(str, sorted(lacking))) or "none"
        found = ", ".join(wrong) or "none"
        reasons.append(f"line: found {found}, wanted one that waits for a yes: {known}")
    if not agreed.said_by.strip():
        reasons.append("name: found none, wanted who agreed in writing")
    if agreed.said_on > now.date():
        reasons.append(f"day: found {agreed.said_on}, wanted {now.date()} or earlier")
    if reasons:
        raise RefusedError(*reasons)
    jobs = batch.jobs.filter(line__in=wanted).order_by("line")
    return [_write(job, agreed, by, now) for job in jobs]


@writing
def withdraw_yes(
    batch: Batch, line: int, cover: str, *, by: Person, now: datetime, words: str
) -> None:
    """Take back a yes that was written wrongly; it stays readable with the reason."""
    row = WrittenYes.objects.filter(
        job__batch=batch, job__line=line, cover=cover, withdrawn_at=None
    ).first()
    if row is None:
        raise RefusedError(f"line: found {line}, wanted one with a yes that holds")
    if not words.strip():
        raise RefusedError("reason: found none, wanted why it does not hold")
    row.withdrawn_at = now
    row.save(update_fields=["withdrawn_at"])
    append(
        "bench", "undone", row.job.ref, by=by, now=now,
        facts={"cover": cover, "day": row.said_on.isoformat()}, words=words.strip(),
    )  # fmt: skip


def _write(job: Job, agreed: Agreed, by: Person, now: datetime) -> WrittenYes:
    said_by = agreed.said_by.strip()
    append(
        "bench", "agreed in writing", job.ref, by=by, now=now,
        facts={"cover": agreed.cover, "day": agreed.said_on.isoformat()}, words=said_by,
    )  # fmt: skip
    return WrittenYes.objects.create(
        job=job, cover=agreed.cover, said_by=said_by, said_on=agreed.said_on, at=now,
        by=by,
    )  # fmt: skip
