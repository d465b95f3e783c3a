"""What is wanted of a device at the bench, by what was found and agreed?"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from datetime import datetime

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device import Device
from turnscrew.core.model.hold import Hold
from turnscrew.core.model.model_terms import FaultTerms
from turnscrew.core.opening.sentences import stop_after
from turnscrew.core.opening.whole import arrived_words
from turnscrew.core.price.quote import parts_needed
from turnscrew.core.reconcile.remarks import observed_holds
from turnscrew.flows.batch.closing import lack_of
from turnscrew.flows.batch.decisions import promised_alone
from turnscrew.flows.batch.openings import places_of, reach_of
from turnscrew.flows.bench.goal import Finish, Goal, Usual, Work
from turnscrew.papers.batch.words import (
    GLASS_CAUTION,
    LIQUID_CAUTION,
    PACK_CAUTION,
    STATIC_CAUTION,
)
from turnscrew.web.records import convert
from turnscrew.web.records.models import Allotment, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.batch_input import batch_input, line_now
from turnscrew.web.records.queries.bench_tests import ADAPTER_ASKED
from turnscrew.web.records.queries.data_terms import (
    NOT_ALLOWED,
    data_lines,
    may_not_start,
)
from turnscrew.web.records.queries.found_faults import found_on
from turnscrew.web.records.queries.permission import goes_on_free
from turnscrew.web.records.queries.power_bars import (
    NO_POWER,
    barring,
    bars_of,
    holds_now,
)
from turnscrew.web.records.queries.reckoning import used_up_at_the_bench
from turnscrew.web.records.queries.told_dangers import told_by_job
from turnscrew.web.records.queries.usual_faults import other_faults, twin_words

MAINS_CAUTION = (
    "Mains adapter: look at case, pins and lead first; a cracked one is cut off and "
    "logged. Follow local codes; leave mains parts to licensed people."
)

_HEED = {"pack": PACK_CAUTION, "liquid": LIQUID_CAUTION, "glass": GLASS_CAUTION}
_IN_THEIR_WORDS = {"contaminated", "unsorted"}
"""Holds of arrival that are told at the bench as they stand."""


def goal_of(job: Job, device: Device, now: datetime) -> Goal:
    """Say what is to be done with a device: its confirmed faults, hazards, finish."""
    batch = batch_input(job.batch, now)
    told = told_by_job([job])[job.pk]
    line = convert.batch_line(job, found_on(job), told)
    if goes_on_free(job):
        line = promised_alone(batch, line)
    holds = observed_holds(line, batch.terms)
    reach = reach_of(batch, line, device)
    # Whoever recorded it has it open before them, whatever bears a number or not.
    unknown = (
        frozenset() if bench_runs.was_recorded(job) else _unreached(batch, line, device)
    )
    bars = bars_of(job, holds)
    heed = list(_lacking(job, batch, line, device))
    heed += _heeded(holds, bars)
    if reach:
        heed.append(STATIC_CAUTION)
    heed += data_lines(job)
    heed += arrived_words(device, line.serial)
    heed += twin_words(job)
    return Goal(
        reach=reach,
        work=tuple(
            replace(one, is_unreached=one.spare in unknown or one.says in unknown)
            for one in _work(batch, line, device, reach)
        ),
        heed=tuple(dict.fromkeys(heed)),
        no_power=next((NO_POWER[kind] for kind in bars), ""),
        no_start=NOT_ALLOWED if may_not_start(job) else "",
        is_pack_bad="pack" in bars,
        is_wet="liquid" in bars,
        finish=tuple(_finish(job)),
        usual=tuple(
            Usual(code=code, says=told, cautions=_cautions(batch.terms.faults[code]))
            for code, told in other_faults(job, line, batch.terms).items()
        ),
    )


def dangers_of(job: Job) -> tuple[str, ...]:
    """Give the cautions of all that is dangerous about a device as it stands now."""
    holds = holds_now(job)
    return tuple(dict.fromkeys(_heeded(holds, bars_of(job, holds))))


def _heeded(holds: Sequence[Hold], bars: Collection[str]) -> Iterator[str]:
    """Give the dangers that were seen; of what keeps power off what still does."""
    for hold in holds:
        kind = barring(hold)
        if hold.kind in _IN_THEIR_WORDS:
            yield stop_after(str(hold)[0].upper() + str(hold)[1:])
        elif kind in _HEED and (kind not in NO_POWER or kind in bars):
            yield _HEED[kind]


def _lacking(
    job: Job, batch: BatchInput, line: BatchLine, device: Device
) -> Iterator[str]:
    """Say before the first line what closing will lack, as nobody sells it any more."""
    gone = {
        name: part
        for name, part in batch.parts.items()
        if part.is_sold_no_more and not part.stock
    }
    if not gone:
        return
    used_up = used_up_at_the_bench(batch, line, device).parts
    wanted = parts_needed(line, batch.terms, batch.parts, used_up)
    had = [Allotment.PROMISED, Allotment.USED]
    held = job.allotments.filter(state__in=had).values_list("part__number", flat=True)
    for name in dict.fromkeys(wanted):
        if name in gone and name not in held:
            words = str(lack_of(gone[name], used_up))
            yield f"{words[0].upper()}{words[1:]}."


def _work(
    batch: BatchInput, line: BatchLine, device: Device, reach: tuple[str, ...]
) -> list[Work]:
    """Give one piece of work for each part fitted, then for faults without a part."""
    terms = batch.terms
    place = places_of(batch, line, device)
    skills = {number: f.skill for f in terms.faults_of(line) for number in f.parts}
    work = []
    wet = [fault for fault in terms.faults_of(line) if fault.hazard == "liquid"]
    drying = {number for fault in wet for number in fault.parts}
    for number in _exchanged(batch, line):
        alike = [
            f"Look-alike: {', '.join(pair.parts)}: {pair.tell}."
            for pair in terms.look_alikes
            if number in pair.parts
        ]
        named = place.get(number, "")
        told = device.parts[named].look_alikes if named else ()
        work.append(
            Work(
                says=f"Fit {number}, {batch.parts[number].description}.",
                reach=named if named in reach else "",
                spare=number,
                cautions=(*alike, *(f"Not {one.spare}: {one.tell}." for one in told)),
                details=_from_donor(batch, line.line, number),
                # What was only recorded says of nothing who may do it: the terms do.
                sign_off=(device.parts[named].sign_off if named else "")
                or skills.get(number, ""),
                dries=number in drying,
            )
        )
    for fault in terms.faults_of(line):
        if not fault.parts:
            reached = next(iter(fault.reach), "")
            work.append(Work(says=_says(fault), reach=reached, dries=fault in wet))
    return work


def _from_donor(batch: BatchInput, line: int, number: str) -> tuple[str, ...]:
    """Say from which donor the pieces promised to a device come, and where they lie."""
    return tuple(
        f"From donor {piece.donor_words}, tested and good"
        + (f": {piece.place}." if piece.place else ".")
        for piece in batch.given
        if (piece.device, piece.part) == (line, number)
        and piece.donor_words
        and not piece.is_fitted
    )


def _cautions(fault: FaultTerms) -> tuple[str, ...]:
    return (_HEED[fault.hazard],) if fault.hazard else ()


def _says(fault: FaultTerms) -> str:
    return f"{fault.says[0].upper()}{fault.says[1:]}: do what it asks for."


def _unreached(batch: BatchInput, line: BatchLine, device: Device) -> frozenset[str]:
    """Name the parts, and the work without one, that a description has no place for."""
    place = places_of(batch, line, device)
    needed = set(_exchanged(batch, line))
    known: set[str] = set()
    lacking: set[str] = set()
    for fault in batch.terms.faults_of(line):
        parts = needed.intersection(fault.parts)
        is_placed = parts & set(place) or set(fault.reach) & set(device.parts)
        is_lacking = fault.is_opened and (parts or fault.reach) and not is_placed
        (lacking if is_lacking else known).update(parts or {_says(fault)})
    return frozenset(lacking - known)


def _exchanged(batch: BatchInput, line: BatchLine) -> list[str]:
    """Name the parts that a line of work tells to fit: not what opening uses up."""
    used_up = set(batch.terms.models[line.model].opening_uses)
    needed = parts_needed(line, batch.terms, batch.parts)
    return [number for number in needed if number not in used_up]


def told_to_fit(job: Job, now: datetime) -> frozenset[str]:
    """Name the parts of a device whose fitting is told by a line of its own."""
    batch = batch_input(job.batch, now)
    return frozenset(_exchanged(batch, line_now(job)))


def _finish(job: Job) -> list[Finish]:
    """Give what every device is asked for before it leaves the bench."""
    customer = job.batch.customer
    finish = [
        Finish(
            name="clean",
            says="Clean it, with the agent allowed for its surface; trims and feet on.",
        ),
        Finish(
            name="charge",
            says="Charge at hand-back, in per cent:",
            asks="number",
            unit="%",
            low=customer.charge_low_percent,
            high=customer.charge_high_percent,
        ),
    ]
    if "adapter" in job.accessories_told:
        finish.append(
            Finish(
                name="adapter",
                says=ADAPTER_ASKED,
                asks="test",
                cautions=(MAINS_CAUTION,),
                is_outside=True,
            )
        )
    return finish


def unreached_refusal(goal: Goal, job: Job) -> str:
    """Say why a device is not begun by a description that leads to nothing wanted."""
    if not goal.unreached:
        return ""
    return (
        f"description: found no way in to this: {goal.unreached}; wanted it recorded, "
        f"or the number of the part said on the page of {job.model}"
    )
