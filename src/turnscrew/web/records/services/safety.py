"""How are incidents and packs written down, and how is an incident closed?"""

from datetime import date, datetime

from turnscrew.core.ledger.entry import Fact
from turnscrew.core.reconcile.danger_words import WRITTEN_PACK
from turnscrew.web.records.models import Incident, Job, PackLog, Person
from turnscrew.web.records.queries.skills import release_refusal
from turnscrew.web.records.queries.told_dangers import AWAY, device_with_bad, is_bad_in
from turnscrew.web.records.services.in_turn import in_turn
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import (
    require_job_on_record,
    words_about,
)
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

INCIDENT_KINDS = (
    "injury", "pack", "fire or smoke", "shock", "liquid or fumes", "data", "near miss",
)  # fmt: skip
PACK_EVENTS = (
    "taken out", "swollen", "warm", "damaged", "boxed", "looked at", "fitted", "gone",
)  # fmt: skip


@writing
def report_incident(
    kind: str, what: str, *, by: Person, now: datetime, on: date | None = None,
    done: str = "", job: Job | None = None,
) -> Incident:  # fmt: skip
    """Write what hurt, or might have hurt, somebody; the day may be an earlier one."""
    require_job_on_record(job)
    day = on or now.date()
    reasons = []
    if kind not in INCIDENT_KINDS:
        reasons.append(f"kind: found {kind}, wanted one of {', '.join(INCIDENT_KINDS)}")
    if not what.strip():
        reasons.append("what: found nothing, wanted what happened")
    if day > now.date():
        reasons.append(f"day: found {day}, wanted {now.date()} or earlier")
    if reasons:
        raise RefusedError(*reasons)
    made = Incident.objects.create(
        kind=kind, on=day, job=job, what=what.strip(), done=done.strip(), by=by,
        written_at=now,
    )  # fmt: skip
    facts: dict[str, Fact] = {"kind": kind, "on": day.isoformat()}
    if job is not None:
        facts["job"] = job.ref
    append("bench", "incident", made.ref, by=by, now=now, facts=facts, words=made.what)
    return made


@writing
def close_incident(one: Incident, *, by: Person, now: datetime, learnt: str) -> None:
    """Close an incident with what is done another way from now on."""
    one = Incident.objects.select_for_update(of=("self",)).get(pk=one.pk)
    if one.closed_on is not None:
        raise RefusedError("incident: found it closed already, wanted an open one")
    reasons = []
    if not learnt.strip():
        reasons.append("learnt: found nothing, wanted what is done another way")
    if one.job is not None and WRITTEN_PACK.are_in(one.what):
        reasons += filter(None, [release_refusal(one.job, by.ref, now)])
    if reasons:
        raise RefusedError(*reasons)
    if one.job is not None:
        learnt = words_about(one.job.batch.customer_id, learnt)
    one.closed_on, one.learnt = now.date(), learnt.strip()
    one.save()
    append("bench", "incident closed", one.ref, by=by, now=now, words=one.learnt)


@writing
def log_pack(
    pack: str, event: str, *, by: Person, now: datetime, reading: str = "",
    place: str = "", job: Job | None = None,
) -> PackLog:  # fmt: skip
    """Write what was seen of a pack, and where it lies now."""
    if job is None and event in AWAY:
        job = device_with_bad(pack.strip())
    require_job_on_record(job)
    reasons = []
    if not pack.strip():
        reasons.append("pack: found none, wanted its label or number")
    if event not in PACK_EVENTS:
        reasons.append(f"seen: found {event}, wanted one of {', '.join(PACK_EVENTS)}")
    if event != "gone" and not place.strip():
        reasons.append("place: found none, wanted where it lies")
    if job is not None and event in AWAY and is_bad_in(job, pack.strip()):
        reasons += filter(None, [release_refusal(job, by.ref, now)])
    if reasons:
        raise RefusedError(*reasons)
    made = PackLog.objects.create(
        pack=pack.strip(), job=job, event=event, reading=reading.strip(),
        place=place.strip(), by=by, at=in_turn(job, now) if job else now,
    )  # fmt: skip
    subject = job.ref if job else by.ref
    append(
        "bench", "pack", subject, by=by, now=now, facts={"event": event},
        words=f"{made.pack}: {made.reading}",
    )  # fmt: skip
    return made
