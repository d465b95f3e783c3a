"""Who may do the work on a device?"""

from datetime import datetime

from turnscrew.core.model.job_state import ENDED
from turnscrew.core.reconcile.remarks import pack_skills, skills_asked
from turnscrew.web.records.models import Batch, Job, PackLog, Person, SignOff
from turnscrew.web.records.queries.batch_input import line_now
from turnscrew.web.records.queries.power_bars import (
    freed,
    holds_bad_pack,
    told_since,
)
from turnscrew.web.records.queries.sign_offs import held_on
from turnscrew.web.records.queries.terms_text import terms_of
from turnscrew.web.records.queries.told_dangers import AWAY, logs_bad_pack

HANDS_ON = frozenset({"kitted", "open", "tested open"})
"""States in which somebody works on the device or is about to."""


def skills_needed(job: Job, then: datetime | None = None) -> frozenset[str]:
    """Give the sign-offs that work on a device asks for; a changed pack asks none."""
    line, terms = line_now(job, then), terms_of(job.batch)
    if not pack_skills(line, terms) or "pack" not in freed(job, then):
        return skills_asked(line, terms)
    left = (fault for fault in terms.faults_of(line) if fault.hazard != "pack")
    return frozenset(fault.skill for fault in left if fault.skill)


def skill_refusal(
    job: Job,
    state: str,
    holder: str,
    now: datetime,
    then: datetime | None = None,
) -> str:
    """
    Say why somebody may not work on a device, or take it; nothing if they may.

    With ``then`` by what was known at that time, on whose day the sign-offs hold.
    """
    if state in HANDS_ON:
        needed = skills_needed(job, then)
    elif _is_given(job, state, holder):
        needed = _skills_to_take(job, then)
    else:
        needed = frozenset()
    missing = sorted(needed - skills_held(holder, now))
    if not missing:
        return ""
    told = f"holder: found nobody signed off for {', '.join(missing)}"
    return told + "".join(_from_when(holder, skill, now) for skill in missing)


def _is_given(job: Job, state: str, holder: str) -> bool:
    """
    Say whether a move gives a device to somebody, or out of isolation.

    Whoever finds a bad pack isolates it; what leaves is asked about where it leaves.
    """
    if state in ENDED:
        return False
    is_apart = job.state == "isolated"
    if state == "isolated":
        return is_apart and holder != job.holder
    return is_apart or holder != job.holder


def _skills_to_take(job: Job, then: datetime | None = None) -> frozenset[str]:
    """Give the sign-offs without which nobody is given a device: those of its pack."""
    if not holds_bad_pack(job, then):
        return frozenset()
    return pack_skills(line_now(job, then), terms_of(job.batch))


def release_refusal(job: Job, who: str, now: datetime) -> str:
    """Say why somebody may not say that a bad pack is sound or away; else nothing."""
    missing = sorted(_skills_to_take(job) - skills_held(who, now))
    if not missing:
        return ""
    return (
        f"sign-off: found none for {', '.join(missing)}, wanted one to say that its "
        "pack is not bad"
    )


def leaves_with_bad_pack(job: Job, now: datetime) -> bool:
    """
    Say whether a device that leaves now takes a bad pack along.

    It does not once somebody signed off wrote in the log of packs that it is out of it,
    the log tells of no other, and nothing was told of a bad one since.
    """
    if not holds_bad_pack(job):
        return False
    rows = PackLog.objects.filter(job=job, event__in=AWAY)
    rows = rows.select_related("by").order_by("-id")
    away = next(
        (one for one in rows if not release_refusal(job, one.by.ref, now)), None
    )
    if away is None or logs_bad_pack(job):
        return True
    return "pack" in told_since(job, away.at)


def _from_when(holder: str, skill: str, now: datetime) -> str:
    """Say from which day on whoever is meant may, if that is still to come."""
    later = SignOff.objects.filter(
        person__ref=holder, skill=skill, on__gt=now.date()
    ).order_by("on")
    first = later.first()
    return f"; {first.person.name} may from {first.on:%d %b %Y} on" if first else ""


def skills_held(holder: str, now: datetime) -> frozenset[str]:
    """Give the sign-offs that whoever a reference names holds today."""
    person = Person.objects.filter(ref=holder, has_left=False).first()
    if person is None:
        return frozenset()
    return frozenset(held_on(person.sign_offs.all(), now.date())[person.pk])


def skill_meant(skill: str) -> tuple[str, bool]:
    """
    Give a skill as the terms here spell it, and whether any fault asks for it.

    A sign-off that is spelled another way would hold for nothing.
    """
    batches = Batch.objects.filter(closed_on=None).exclude(terms_text="")
    asked = {
        fault.skill
        for batch in batches
        for fault in terms_of(batch).faults.values()
        if fault.skill
    }
    alike = {one.casefold(): one for one in asked}
    meant = alike.get(skill.casefold(), skill)
    return meant, meant in asked
