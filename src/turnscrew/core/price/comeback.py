"""
Has this workshop mended this device before, and is this fault its comeback?

The past is found by serial; by the owner's number alone it is shown as possible only.
Within the promise, from the day it left to the day it came, the same function again is
a comeback, mended at no charge, in whichever batch it comes. Its class
is a proposal: ``part`` where the exchanged part fails again though it passed the check
at hand-back, ``ours`` where no passed check is on record, ``user`` where the body shows
fresh damage, ``other`` for another function. What else such a device has is charged, so
its owner is asked about it apart.

Damage is fresh if a stated word stands in what was seen on arrival, or liquid was
found, and neither was there when the device was handed back. Who did it, nobody can
read off a body: a lead settles the class.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.batch import BatchLine, ComebackClass
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.serials import plain
from turnscrew.core.model.terms import Terms

AT_NO_CHARGE: tuple[ComebackClass, ...] = ("ours", "part")
"""Classes of a comeback that the promise covers."""

FRESH_DAMAGE = (
    "bent", "cracked", "dented", "wet", "liquid", "broken corner", "dropped", "torn",
)  # fmt: skip
"""Words that tell of damage, where they stand whole; common practice, no source."""

_LIQUID = "liquid"
"""The one danger of a fault that tells of damage: it came from outside."""


@dataclass(frozen=True)
class Comeback:
    """
    A device mended by this workshop before.

    Parameters
    ----------
    past
        The earlier job.
    days
        Days since it was closed. [days]
    stands_as
        Its class: what the lead settled, else what is proposed.
    reason
        Why, in words.
    is_claim
        True if the customer may count on the promise: the same function in time.
    is_free
        True if it is mended at no charge.
    covers
        Fault codes mended at no charge, in the order found; none if it is charged.
    """

    past: PastJob
    days: int
    stands_as: ComebackClass
    reason: str
    is_claim: bool
    is_free: bool
    covers: tuple[str, ...] = ()


def comeback_of(
    line: BatchLine, past: Sequence[PastJob], terms: Terms
) -> Comeback | None:
    """
    Find the earlier job of this very serial that counts now.

    That is the latest one of the same function that the promise still covers; if there
    is none, the latest of all.

    Parameters
    ----------
    line
        The device.
    past
        Closed jobs.
    terms
        The terms, with the promise.

    Returns
    -------
    Comeback or None
        The job with its class, or ``None`` if there is none.
    """
    serial, came = plain(line.serial), line.came or terms.received
    dated = [
        (job.day, job)
        for job in _before(line, past, came)
        if serial and plain(job.serial) == serial
        and (not job.family or job.family == line.model)
        and job.day is not None
    ]  # fmt: skip
    claims = [
        (day, job)
        for day, job in dated
        if set(job.mended) & set(line.found) and job.end == "mended"
        and (came - day).days <= terms.promise_days
    ]  # fmt: skip
    if not dated:
        return None
    # Of two on one day the later one in the history counts.
    day, job = sorted(claims or dated, key=lambda pair: pair[0])[-1]
    days = (came - day).days
    promised = {code for _, claim in claims or [(day, job)] for code in claim.mended}
    same = tuple(code for code in line.found if code in promised)
    is_claim = bool(claims)
    stands_as, why = _class_of(line, job, terms)
    if line.comeback_class:
        stands_as, why = line.comeback_class, f"settled by the lead; {why}"
        is_claim = is_claim or stands_as in AT_NO_CHARGE
    reason = f"{_told(job, terms)} {counted(days, 'day')} ago; {why}"
    others = [code for code in line.found if code not in same]
    if same and others:
        reason += f"; besides {', '.join(others)}, to be agreed apart"
    is_free = is_claim and stands_as in AT_NO_CHARGE
    # Where the lead calls another function ours, it is ours as it was found.
    covers = (same or line.found) if is_free else ()
    return Comeback(job, days, stands_as, reason, is_claim, is_free, covers)


def past_words(
    line: BatchLine, past: Iterable[PastJob], terms: Terms
) -> tuple[str, ...]:
    """
    Tell what is known of a device from earlier jobs.

    Parameters
    ----------
    line
        The device.
    past
        Closed jobs.
    terms
        The terms.

    Returns
    -------
    tuple[str, ...]
        One sentence for each job of this serial, and for each job found by the owner's
        number alone, marked as possible.
    """
    told: list[str] = []
    for job in _before(line, past, line.came or terms.received):
        day = job.day.isoformat() if job.day else "day not known"
        if line.serial and plain(job.serial) == plain(line.serial):
            told.append(f"{day}: {_told(job, terms)}")
        elif line.asset and job.asset == line.asset:
            other = job.serial or "no serial on record"
            told.append(f"possible, by owner's number ({other}): {day}, {job.end}")
    return tuple(told)


def _before(line: BatchLine, past: Iterable[PastJob], came: date) -> list[PastJob]:
    """Give the jobs that were closed when a device came, its own not among them."""
    return [
        job
        for job in past
        if job.line != line.line and (job.day is None or job.day <= came)
    ]


def _class_of(line: BatchLine, job: PastJob, terms: Terms) -> tuple[ComebackClass, str]:
    same = [code for code in job.mended if code in line.found]
    if not same:
        return "other", "another function now"
    fresh = _signs_now(line, terms) - _signs_at_hand_back(job, terms)
    if fresh:
        told = ", ".join(sorted(fresh))
        return "user", f"same function, but the body shows fresh damage: {told}"
    passed = any(
        name == "function check-out" and said == "passed" for name, said in job.findings
    )
    if not passed:
        return "ours", "same function, and no passed check at hand-back on record"
    faults = (terms.faults[code] for code in same if code in terms.faults)
    again = set(job.parts) & {part for fault in faults for part in fault.parts}
    if again:
        return "part", f"same function; {', '.join(sorted(again))} passed at hand-back"
    return "ours", "same function though it passed at hand-back"


def _signs_now(line: BatchLine, terms: Terms) -> set[str]:
    """Give the signs of damage seen on arrival, and liquid if a fault says so."""
    found = (terms.faults[code] for code in line.found if code in terms.faults)
    is_liquid = any(fault.hazard == _LIQUID for fault in found)
    return _words_in(line.remarks) | ({_LIQUID} if is_liquid else set())


def _signs_at_hand_back(job: PastJob, terms: Terms) -> set[str]:
    """Give the signs of damage that stand in what was found when it was mended."""
    signs = {word for finding in job.findings for word in _words_in(": ".join(finding))}
    faults = (terms.faults[code] for code in job.faults if code in terms.faults)
    is_liquid = any(fault.hazard == _LIQUID for fault in faults)
    return signs | ({_LIQUID} if is_liquid else set())


def _words_in(text: str) -> set[str]:
    """Give the words of damage in a text, but for those that are denied."""
    folded = " ".join(text.casefold().split())
    return {
        word
        for word in FRESH_DAMAGE
        if re.search(rf"(?<!\bnot )(?<!\bno )\b{word}\b", folded)
    }


def _told(job: PastJob, terms: Terms) -> str:
    told = (terms.faults.get(code) for code in job.mended)
    says = [
        fault.says if fault else code
        for fault, code in zip(told, job.mended, strict=True)
    ]
    what = ", ".join(says) or "no fault confirmed"
    parts = f" with {', '.join(job.parts)}" if job.parts else ""
    return f"{job.end} by this workshop ({what}{parts})"
