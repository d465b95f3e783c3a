"""How does the answer on a whole batch read in a shell?"""

from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import groupby

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.amounts import counted, money, sureness
from turnscrew.core.model.quote import Code
from turnscrew.core.price.limits import running_sums, unclear_limits
from turnscrew.core.reconcile.answer import Reconciliation
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import TICKS, ScheduleProblem
from turnscrew.papers.batch.list_words import missing_written, twice_written
from turnscrew.papers.batch.words import (
    date_words,
    day_words,
    faults_written,
    full_date,
    hold_written,
    last_job_words,
    latest_after,
    owner_written,
    seen_written,
)

_HEADS: dict[Code, str] = {
    "go": "mend without asking",
    "ask": "ask first",
    "strip": "strip as donors",
    "comeback": "comeback, no charge",
    "no_fault_found": "no fault found",
}

_MOST_NAMED = 12
"""More late devices, or missing ones, than these are told as a number."""


def lines_of(answer: BatchAnswer) -> Iterator[str]:
    """
    Write an answer as readable text.

    Parameters
    ----------
    answer
        The answer.

    Yields
    ------
    str
        Lines.
    """
    terms = answer.batch.terms
    devices = counted(len(answer.devices), "device")
    yield f"{terms.batch}: {devices} of {terms.customer.name}"
    yield f"received {full_date(answer, 1)}, workshop day 1"
    yield from answer.batch.notes
    yield ""
    yield from _compared(answer)
    yield ""
    yield from _decided(answer)
    yield ""
    yield from _used_up(answer)
    yield ""
    yield from _bought(answer)
    yield ""
    yield from _money(answer)
    yield ""
    yield from _planned(answer)


def _compared(answer: BatchAnswer) -> Iterator[str]:
    found = answer.reconciliation
    if not answer.batch.listed:
        yield "List: none to compare with"
    else:
        yield (
            f"List: {len(found.matched)} matched, {len(found.differing)} differing, "
            f"{len(found.missing)} missing, {len(found.extra)} not on the list"
        )
    yield from _not_here(found)
    held = [device for device in answer.devices if device.holds]
    yield f"Held, to be observed or settled first: {counted(len(held), 'device')}"
    for device in held:
        for hold in device.holds:
            yield f"  {device.name:>4}  {hold_written(hold)}"


def _not_here(found: Reconciliation) -> Iterator[str]:
    for row in found.missing[:_MOST_NAMED]:
        yield f"  missing: {missing_written(found, row)}"
    if len(found.missing) > _MOST_NAMED:
        yield f"  and {len(found.missing) - _MOST_NAMED} more missing"
    yield from (f"  one number on the list: {rows}" for rows in twice_written(found))


def _decided(answer: BatchAnswer) -> Iterator[str]:
    yield "Decisions"
    for code, head in _HEADS.items():
        devices = [
            d
            for d in answer.devices
            if d.decision.code == code and d.name not in answer.refused
        ]
        if not devices:
            continue
        total = money(sum(d.decision.quote_minor or 0 for d in devices))
        names = ", ".join(str(d.name) for d in devices)
        quoted = f" ({total})" if code in {"go", "ask", "no_fault_found"} else ""
        yield f"  {head}: {len(devices)}{quoted}: {names}"
    if answer.refused:
        names = ", ".join(map(str, sorted(answer.refused)))
        yield f"  refused, to return unrepaired: {names}"
    for running in running_sums(
        answer.not_left, answer.batch.terms, answer.what_if.let_go_before
    ):
        cap = money(running.cap_minor) if running.cap_minor is not None else "no cap"
        yield (
            f"  without asking {money(running.taken_minor)}, agreed for "
            f"{running.of}: {cap}"
        )
    if unclear := unclear_limits(answer.batch.terms):
        yield f"  to be asked: {unclear}"
    if answer.pending:
        yield "Answers wanted"
    for d in answer.pending:
        by = latest_after("by the morning of", answer, answer.answer_by[d.name])
        yield (
            f"  {d.name:>4}  {owner_written(d)}  {seen_written(d)}  "
            f"{faults_written(answer, d)}: "
            f"{money(d.decision.quote_minor)}, {by}"
        )


def _used_up(answer: BatchAnswer) -> Iterator[str]:
    """Sum up what opening uses up, by how that is known."""
    mended = [device for device in answer.devices if device.is_mended]
    for known_by in ("opening path", "terms"):
        some = [device.uses for device in mended if device.uses.known_by == known_by]
        if not some:
            continue
        counts = Counter(name for uses in some for name in uses.parts)
        told = ", ".join(f"{n} {name}" for name, n in sorted(counts.items()))
        yield f"Used up by opening, by the {known_by}: {told or 'nothing listed'}"
        notes = Counter(note for uses in some for note in uses.notes)
        for note, n in sorted(notes.items()):
            yield f"  {n:>4}  {note}"


def _bought(answer: BatchAnswer) -> Iterator[str]:
    supply = answer.supply
    currency = answer.batch.terms.currency
    yield (
        f"Order: {money(supply.cost_minor)} {currency}; without donors "
        f"{money(supply.without_minor)}"
    )
    if supply.unpriced:
        yield f"  in no sum, as its price is not known: {', '.join(supply.unpriced)}"
    for line in supply.orders:
        latest = latest_after("latest", answer, line.latest_day)
        cost = money(line.cost_minor if line.is_priced else None)
        yield (f"  {line.part:<6} {line.n_bought:>3}  {cost:>9}  {latest}")
    for donor in supply.donors.strips:
        gives = [
            f"{use.demand.part} for {use.demand.device}"
            for use in supply.uses
            if use.donor == donor
        ]
        saved = money(supply.saved_minor.get(donor, 0))
        yield f"  strip {donor} first: {', '.join(gives)}; saves {saved}"


def _money(answer: BatchAnswer) -> Iterator[str]:
    account = answer.account
    open_ = answer.still_open
    yield from (says for says, _, _ in open_)
    yield f"Money before tax, {answer.batch.terms.currency}"
    for words, minor in (
        ("repairs", account.repairs_minor),
        ("diagnosis of strips", account.strip_diagnosis_minor),
        ("no fault found", account.no_fault_found_minor),
        ("total", account.total_minor),
        *((brief, minor) for _, brief, minor in open_),
        ("donor credit", -account.donor_credit_minor),
        ("invoice", account.invoice_minor),
        ("margin", account.margin_minor),
    ):
        yield f"  {words:<20}{money(minor):>12}"
    minutes = answer.minutes
    told = ", ".join(f"{key.replace('_', ' ')} {n}" for key, n in minutes.items())
    yield f"Minutes: {told}"


def _planned(answer: BatchAnswer) -> Iterator[str]:
    planned = answer.planned
    yield "Plan"
    yield from _plan_lines(answer, "hand rule", planned.rule, planned.problem)
    if planned.best is not None:
        best = planned.best
        yield from _plan_lines(answer, "best found", best.plan, planned.problem_best)
        yield (
            f"    {best.status}: no plan has fewer than {best.bound.n_late} late; of "
            f"those none is fewer than {counted(best.bound.late_days, 'day')} late; of "
            f"those none has fewer than {counted(best.bound.n_set_ups, 'set-up')}"
        )
        if planned.why_in_use:
            yield f"    {planned.why_in_use}"
    if planned.no_promise:
        yield f"  {planned.no_promise}"
    elif planned.promise is not None:
        promise = planned.promise
        yield (
            f"  promise: {day_words(answer, promise.day)} with probability "
            f"{sureness(promise.probability)}"
        )
        yield f"    {planned.spread}"
        for day, p in promise.by_due:
            yield f"    due day {day}: all in time with probability {sureness(p)}"
    for name, why in planned.rule.impossible.items():
        yield f"  {name} cannot be planned: {why}"
    yield ""
    which = "best plan" if planned.is_best_in_use else "hand rule"
    yield f"Days, as the papers have them ({which})"
    yield from _days(answer)


def _plan_lines(
    answer: BatchAnswer, words: str, plan: Plan, problem: ScheduleProblem
) -> Iterator[str]:
    clock = ", ".join(
        f"{person} {ticks / TICKS:.1f} min"
        for person, ticks in plan.clock_ticks(problem).items()
    )
    yield f"  {words}: last job {last_job_words(answer, plan)}"
    yield f"    late: {_late_words(plan.late(problem))}"
    yield f"    {counted(plan.n_set_ups(problem), 'set-up')}"
    yield f"    by the clock: {clock or 'nobody'}"


def _late_words(late: Mapping[int, int]) -> str:
    if len(late) > _MOST_NAMED:
        return (
            f"{len(late)} devices by {sum(late.values())} days in all, at most by "
            f"{max(late.values())}"
        )
    told = [f"{name} by {counted(days, 'day')}" for name, days in late.items()]
    return ", ".join(told) or "none"


def _days(answer: BatchAnswer) -> Iterator[str]:
    slots = sorted(
        answer.planned.plan_in_use.slots,
        key=lambda slot: (slot.day, slot.person, slot.start_ticks),
    )
    for (day, person), own in groupby(slots, key=lambda s: (s.day, s.person)):
        jobs = " ".join(str(slot.job) for slot in own)
        yield f"  day {day} {date_words(answer, day)}  {person:<8}  {jobs}"
