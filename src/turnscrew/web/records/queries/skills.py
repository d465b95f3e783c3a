"""Who may do the work on a device?"""

from datetime import datetime

from turnscrew.core.reconcile.remarks import skills_asked
from turnscrew.web.records.models import Job, Person, SignOff
from turnscrew.web.records.queries.batch_input import line_now, terms_of
from turnscrew.web.records.queries.sign_offs import held_on

HANDS_ON = frozenset({"kitted", "open", "tested open"})
"""States in which somebody works on the device or is about to."""


def skills_needed(job: Job, now: datetime) -> frozenset[str]:
    """Give the sign-offs that work on a device asks for."""
    return skills_asked(line_now(job, now), terms_of(job.batch))


def skill_refusal(job: Job, state: str, holder: str, now: datetime) -> str:
    """Say why somebody may not work on a device; nothing if they may."""
    if state not in HANDS_ON:
        return ""
    needed = skills_needed(job, now)
    if not needed:
        return ""
    missing = sorted(needed - skills_held(holder, now))
    if not missing:
        return ""
    told = f"holder: found nobody signed off for {', '.join(missing)}"
    return told + "".join(_from_when(holder, skill, now) for skill in missing)


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
