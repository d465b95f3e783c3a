"""How is it written how a device was cleaned and charged?"""

from dataclasses import dataclass
from datetime import datetime

from turnscrew.core.handbook.cleaning import refusal
from turnscrew.web.records.models import Finding, Finishing, Job, Person
from turnscrew.web.records.queries.power_bars import power_refusal
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_MOST_ON_CHARGE_MIN = 2880


@dataclass(frozen=True)
class Charged:
    """The level reached, how long it took, and that it will not reach more."""

    percent: int
    on_charge_min: int
    will_not_reach: bool = False


@writing
def note_cleaning(
    job: Job,
    surface: str,
    agent: str,
    *,
    by: Person,
    now: datetime,
    marks_left: str = "",
    are_trims_right: bool,
) -> Finishing:
    """Write with what a surface was cleaned, and which marks stay on it."""
    against = refusal(surface, agent)
    if against:
        raise RefusedError(against)
    row = Finishing.objects.create(
        job=job, surface=surface, agent=agent, marks_left=marks_left.strip(),
        are_trims_right=are_trims_right, by=by, at=now,
    )  # fmt: skip
    append(
        "bench", "finished", job.ref, by=by, now=now,
        facts={"surface": surface, "agent": agent, "trims": are_trims_right},
        words=marks_left,
    )  # fmt: skip
    return row


@writing
def note_charge(job: Job, told: Charged, *, by: Person, now: datetime) -> Finishing:
    """Write the charge at hand-back; a pack that will not reach it is a finding."""
    customer = job.batch.customer
    low, high = customer.charge_low_percent, customer.charge_high_percent
    bar = power_refusal(job, "it is charged") if told.on_charge_min else ""
    reasons = list(filter(None, [bar]))
    if not 0 <= told.percent <= 100:
        reasons.append(f"charge: found {told.percent} %, wanted 0 to 100 %")
    elif told.percent > high:
        reasons.append(f"charge: found {told.percent} %, wanted {high} % at most")
    elif told.percent < low and not told.will_not_reach:
        reasons.append(
            f"charge: found {told.percent} %, wanted {low} to {high} %, or that the "
            "pack will not reach it"
        )
    elif told.percent >= low and told.will_not_reach:
        reasons.append(
            f"charge: found {told.percent} % within {low} to {high} %, wanted it not "
            "said that the pack will not reach it"
        )
    if not 0 <= told.on_charge_min <= _MOST_ON_CHARGE_MIN:
        reasons.append(
            f"minutes: found {told.on_charge_min}, wanted 0 to {_MOST_ON_CHARGE_MIN}"
        )
    if reasons:
        raise RefusedError(*reasons)
    row = Finishing.objects.create(
        job=job, charge_percent=told.percent, on_charge_min=told.on_charge_min,
        will_not_reach=told.will_not_reach, by=by, at=now,
    )  # fmt: skip
    append(
        "bench", "finished", job.ref, by=by, now=now,
        facts={"percent": told.percent, "min": told.on_charge_min,
               "reaches": not told.will_not_reach},
    )  # fmt: skip
    if told.will_not_reach:
        note_finding(
            job, Finding.SEEN, by=by, now=now,
            words=f"pack does not reach {low} %: {told.percent} % after "
            f"{told.on_charge_min} min on charge",
        )  # fmt: skip
    return row
