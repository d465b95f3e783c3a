"""What is to be done with each device of a batch?"""

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.hold import Hold
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.quote import (
    ON_COMEBACK,
    Agreed,
    Charge,
    DecidedDevice,
    OpeningUses,
    Work,
    net_sum,
)
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.price.comeback import comeback_of, past_words
from turnscrew.core.price.decide import Figures, decided, within_caps
from turnscrew.core.price.quote import charges_for, parts_needed, work_of
from turnscrew.core.reconcile.remarks import observed_holds, skills_asked
from turnscrew.flows.batch.openings import uses_by_terms
from turnscrew.flows.batch.what_if import skill_by_draft

OpeningMinutes = Callable[[BatchLine], int | None]
"""Gives the computed opening and closing of a device, if it can be told. [min]"""

UsesOf = Callable[[BatchLine], OpeningUses]
"""Gives what opening a device uses up, and how that is known."""

_AS_IT_STANDS = WhatIf()


def decided_devices(
    batch: BatchInput,
    held: Mapping[int, tuple[Hold, ...]],
    opening_minutes: OpeningMinutes,
    opening_uses: UsesOf | None = None,
    what_if: WhatIf = _AS_IT_STANDS,
) -> tuple[DecidedDevice, ...]:
    """
    Decide every device of a batch.

    Where the answer is no to what a comeback has besides, the comeback alone is left.

    Parameters
    ----------
    batch
        The batch.
    held
        What the comparison with the customer's list asks for, by device.
    opening_minutes
        Asked where the terms have no standard minutes for opening.
    opening_uses
        Asked what opening uses up; by the terms if it is not given.
    what_if
        Answers in hand, what left with nothing done, and what was agreed for what left
        mended or is begun; nothing of it if not given.

    Returns
    -------
    tuple[DecidedDevice, ...]
        The devices in the order of the batch.
    """
    refused = {name for name, is_yes in what_if.answers.items() if not is_yes}
    past = _past_by_number(batch.past)
    uses_of = opening_uses or (lambda line: uses_by_terms(batch, line))
    devices = []
    for line in batch.lines:
        own = replace(batch, past=_past_of(line, past))
        if line.line in refused:
            line = promised_alone(own, line)
        holds = held.get(line.line, ())
        agreed_minor = what_if.said_yes.get(line.line)
        device = _decided(
            own, line, holds, opening_minutes, uses_of, agreed_minor=agreed_minor
        )
        device = _as_agreed(device, what_if.as_agreed.get(line.line))
        devices.append(_as_told(device, batch, what_if))
    return within_caps(
        devices,
        batch.terms,
        what_if.as_it_came,
        what_if.as_agreed.keys(),
        let_go_before=what_if.let_go_before,
    )


def _as_told(
    device: DecidedDevice, batch: BatchInput, what_if: WhatIf
) -> DecidedDevice:
    """Give a device as people settled it, where the figures say otherwise."""
    decision = device.decision
    if decision.code in {"go", "ask"} and device.name in batch.pieces_left:
        says = replace(decision, code="strip", reason="taken as a donor")
    elif decision.code == "go" and device.name in what_if.said_no:
        reason = "the customer said no to a dearer quote: ask again"
        says = replace(decision, code="ask", reason=reason)
    elif decision.code == "go" and device.name in what_if.waiting:
        reason = "the customer was asked, and has not answered yet"
        says = replace(decision, code="ask", reason=reason)
    else:
        return device
    return replace(device, decision=replace(says, flips_at_minor=None))


def _as_agreed(device: DecidedDevice, agreed: Agreed | None) -> DecidedDevice:
    """Give a device at what was agreed for it, if it costs something else by now."""
    if agreed is None:
        return device
    was, now = agreed.decision, device.decision
    is_same = (was.code, was.quote_minor) == (now.code, now.quote_minor)
    if is_same and (was.code == "comeback" or agreed.charges == device.charges):
        return device
    return replace(device, decision=was, charges=agreed.charges)


def _past_by_number(past: Sequence[PastJob]) -> dict[str, list[tuple[int, PastJob]]]:
    """Sort closed jobs by serial and by owner's number, each with its place."""
    by_number: dict[str, list[tuple[int, PastJob]]] = defaultdict(list)
    for n, job in enumerate(past):
        for number in {job.serial, job.asset} - {""}:
            by_number[number].append((n, job))
    return by_number


def _past_of(
    line: BatchLine, past: Mapping[str, Sequence[tuple[int, PastJob]]]
) -> tuple[PastJob, ...]:
    """Give the closed jobs that may be of a device, in their order."""
    jobs = {
        n: job
        for number in (line.serial, line.asset)
        for n, job in past.get(number, ())
    }
    return tuple(jobs[n] for n in sorted(jobs))


def promised_alone(batch: BatchInput, line: BatchLine) -> BatchLine:
    """
    Give a device as it is mended after a no to what its comeback has besides.

    Parameters
    ----------
    batch
        The batch, with its past.
    line
        The device.

    Returns
    -------
    BatchLine
        The device with the faults that the promise covers, or as it is if there are
        none. A danger stays: no answer takes it away.
    """
    comeback = comeback_of(line, batch.past, batch.terms)
    if comeback is None or not comeback.covers:
        return line
    found = tuple(
        code
        for code in line.found
        if code in comeback.covers or batch.terms.faults[code].hazard
    )
    return replace(line, found=found)


def _decided(
    batch: BatchInput,
    line: BatchLine,
    held: tuple[Hold, ...],
    opening_minutes: OpeningMinutes,
    opening_uses: UsesOf,
    *,
    agreed_minor: int | None,
) -> DecidedDevice:
    terms = batch.terms
    opened = any(fault.is_opened for fault in terms.faults_of(line))
    lacks = opened and terms.models[line.model].minutes.open_close is None
    computed = opening_minutes(line) if lacks else None
    work = work_of(line, terms, computed)
    uses = opening_uses(line)
    needed = parts_needed(line, terms, batch.parts, uses.parts)
    unknown = _unknown(batch, line, needed)
    if lacks and computed is None:
        unknown = (
            unknown or "no minutes for opening it, and no description to reckon by"
        )
    comeback = comeback_of(line, batch.past, terms)
    covers = comeback.covers if comeback else ()
    besides = [code for code in line.found if code not in covers] if covers else []
    charges = charges_for(work.mending, needed, terms, batch.parts)
    if besides:
        covered = replace(line, found=covers)
        free = (
            work_of(covered, terms, computed),
            parts_needed(covered, terms, batch.parts, opening_uses(covered).parts),
        )
        charges = _charges_beyond(free, (work, needed), batch)
    quote = None if unknown else net_sum(charges)
    told = ""
    if comeback and comeback.is_claim:
        told = f"{comeback.stands_as}: {comeback.reason}"
    is_free = comeback is not None and comeback.is_free
    figures = Figures(
        quote_minor=quote,
        unknown=unknown,
        tax_minor=sum(charge.tax_minor for charge in charges),
        each_minor=() if unknown else _each_alone(batch, line, computed, opening_uses),
        comeback=told if is_free else "",
        besides=", ".join(besides),
        disputed=f"a comeback the promise does not cover, class {told}"
        if told and not is_free
        else "",
        agreed_minor=agreed_minor,
    )
    decision = decided(line, terms, figures)
    holds = (
        *held,
        *observed_holds(line, terms),
        *_told(line, decision.code, unknown),
    )
    if decision.is_estimate:
        holds += (Hold("quote", "its value is an estimate: confirm it"),)
    if told:
        holds += (Hold("comeback", f"comeback, class {told}"),)
    return DecidedDevice(
        line=line,
        work=work,
        parts=needed,
        decision=decision,
        charges=() if unknown else charges,
        skills=skills_asked(line, terms) | _by_draft(batch, line),
        holds=_without_twins(holds),
        past=past_words(line, batch.past, terms),
        past_held=past_words(line, [comeback.past], terms) if comeback and told else (),
        uses=uses,
        besides=tuple(besides),
    )


def _by_draft(batch: BatchInput, line: BatchLine) -> frozenset[str]:
    """Give the sign-off for a description that is not released, where one is asked."""
    is_asked = line.model in batch.by_draft
    return frozenset({skill_by_draft(line.model)} if is_asked else ())


def _charges_beyond(
    free: tuple[Work, tuple[str, ...]],
    whole: tuple[Work, tuple[str, ...]],
    batch: BatchInput,
) -> tuple[Charge, ...]:
    """
    Write what a device pays beyond a comeback at no charge.

    One opening serves both: what the comeback takes anyway is charged to nobody.
    """
    minutes = whole[0].mending - free[0].mending
    left = Counter(whole[1]) - Counter(free[1])
    beyond = charges_for(minutes, left.elements(), batch.terms, batch.parts)
    says = f"{free[0].mending} min of work {ON_COMEBACK}"
    return (Charge("labour", says, 0, n=free[0].mending), *beyond)


def _without_twins(holds: tuple[Hold, ...]) -> tuple[Hold, ...]:
    """Drop a hold that another one says with the words of the remark."""
    seen = {(hold.kind, hold.says) for hold in holds if hold.seen}
    return tuple(
        hold
        for hold in dict.fromkeys(holds)
        if hold.seen or (hold.kind, hold.says) not in seen
    )


def _unknown(batch: BatchInput, line: BatchLine, needed: tuple[str, ...]) -> str:
    """Say why no price can be told, or nothing."""
    if not line.found:
        return "nobody has found its fault yet"
    for code in line.found:
        fault = batch.terms.faults[code]
        if fault.parts and not set(fault.parts) & set(needed):
            return f"no part for {code} fits {line.seen}: confirm the revision"
    asked = (_cost_asked(batch.parts[name]) for name in needed)
    return next(filter(None, asked), "")


def _cost_asked(part: SparePart) -> str:
    if part.cost_minor is None:
        return f"the cost of {part.part} is not known: find it out"
    if not part.cost_minor and not part.is_free:
        return f"{part.part} costs 0.00: give its cost, or confirm that it is free"
    return ""


def _each_alone(
    batch: BatchInput, line: BatchLine, computed: int | None, opening_uses: UsesOf
) -> tuple[tuple[str, int], ...]:
    if len(line.found) < 2:
        return ()
    singles = [(code, replace(line, found=(code,))) for code in line.found]
    return tuple(
        (code, net_sum(_alone(batch, single, computed, opening_uses(single))))
        for code, single in singles
    )


def _alone(
    batch: BatchInput, single: BatchLine, computed: int | None, uses: OpeningUses
) -> tuple[Charge, ...]:
    work = work_of(single, batch.terms, computed)
    needed = parts_needed(single, batch.terms, batch.parts, uses.parts)
    return charges_for(work.mending, needed, batch.terms, batch.parts)


def _told(line: BatchLine, code: str, unknown: str) -> list[Hold]:
    told: list[Hold] = []
    if line.due_day is None:
        told.append(Hold("due day", "no due day agreed: no day can be promised"))
    if unknown:
        told.append(Hold("quote", f"no quote: {unknown}"))
    if len(line.found) > 1:
        end = "stripped for the sum of them" if code == "strip" else "one opening"
        codes = " + ".join(line.found)
        told.append(Hold("faults", f"{len(line.found)} faults ({codes}): {end}"))
    return told
