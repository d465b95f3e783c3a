"""Which piece goes to which device, which donors are stripped, and what is ordered?"""

from collections import defaultdict
from collections.abc import Iterable, Sequence

from turnscrew.core.batch.answer import Supply
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.model.terms import Terms
from turnscrew.core.stock.allot import allotted, arrival_day
from turnscrew.core.stock.demand import FAR_DAY, Demand, Offer, Use, in_order
from turnscrew.core.stock.donors import (
    DonorProblem,
    Wait,
    donors_chosen,
    p_enough,
)
from turnscrew.core.stock.order import ordered
from turnscrew.flows.batch.given import served

DONOR_DAY = 2
"""Day by which donors are stripped first, as the hand rule counts them."""


def supplied(
    batch: BatchInput, devices: Sequence[DecidedDevice], what_if: WhatIf
) -> Supply:
    """
    Give every device its parts.

    Parameters
    ----------
    batch
        The batch.
    devices
        Its devices, decided.
    what_if
        Donors or none, late parcels, answers.

    Returns
    -------
    Supply
        Uses, donors and order.
    """
    devices = [one for one in devices if one.name not in what_if.as_it_came]
    demands = _demands(batch, devices, what_if)
    strips = tuple(device.name for device in devices if not device.is_mended)
    offers = offers_of(batch, devices) if what_if.use_donors else ()
    late = what_if.late_parts
    short = allotted(demands, batch.parts, (), DONOR_DAY, late)
    left = served(demands, batch.parts, offers, batch.given)
    waiting = allotted(left.demands, left.parts, (), DONOR_DAY, late)
    problem = _donor_problem(batch, devices, waiting, left.offers)
    choice = donors_chosen(problem)
    stripped = set(choice.strips)
    chosen = [offer for offer in left.offers if offer.donor in stripped]
    planned = allotted(left.demands, left.parts, chosen, DONOR_DAY, late)
    uses = _in_turn(demands, (*left.uses, *planned))
    saved: dict[int, int] = defaultdict(int)
    for use in uses:
        if use.donor:
            saved[use.donor] += batch.parts[use.demand.part].cost_minor or 0
    return Supply(
        uses=uses,
        orders=ordered(_sold(batch, uses), batch.parts),
        donors=choice,
        offers=offers,
        strips=strips,
        without_minor=sum(
            line.cost_minor for line in ordered(_sold(batch, short), batch.parts)
        ),
        saved_minor=dict(saved),
        p_enough=_odds(problem, chosen),
        as_donor_minor=_as_donors(batch, devices, short),
    )


def _in_turn(demands: Iterable[Demand], uses: Iterable[Use]) -> tuple[Use, ...]:
    """Put uses in the order in which their demands are served."""
    by_demand: dict[Demand, list[Use]] = defaultdict(list)
    for use in uses:
        by_demand[use.demand].append(use)
    return tuple(by_demand[demand].pop(0) for demand in in_order(demands))


def _sold(batch: BatchInput, uses: Iterable[Use]) -> list[Use]:
    """Leave out what nobody sells any more: it can not be ordered."""
    return [use for use in uses if not batch.parts[use.demand.part].is_sold_no_more]


def _as_donors(
    batch: BatchInput, devices: Iterable[DecidedDevice], uses: Iterable[Use]
) -> dict[int, int]:
    """Value every device by the parts others would else have bought for them."""
    wanting: dict[str, set[int]] = defaultdict(set)
    for use in uses:
        if use.source == "order":
            wanting[use.demand.part].add(use.demand.device)
    return {
        device.name: sum(
            batch.parts[name].cost_minor or 0
            for name in _given(batch, device)
            if wanting[name] - {device.name}
        )
        for device in devices
    }


def offers_of(batch: BatchInput, devices: Iterable[DecidedDevice]) -> tuple[Offer, ...]:
    """
    List what the devices not worth mending could give.

    Parts behind a fault found are left out, and after liquid all that is electrical;
    of a device taken as a donor also what it cannot give any more.

    Parameters
    ----------
    batch
        The batch.
    devices
        Its devices, decided.

    Returns
    -------
    tuple[Offer, ...]
        Offers by donor.
    """
    return tuple(
        Offer(device.name, name)
        for device in devices
        if not device.is_mended
        for name in _given(batch, device)
    )


def _given(batch: BatchInput, device: DecidedDevice) -> list[str]:
    """Name the parts a device could give if it were stripped."""
    terms, line = batch.terms, device.line
    if terms.donors.use == "none":
        return []
    faults = terms.faults_of(line)
    model = terms.models[line.model]
    is_wet = any(fault.hazard == "liquid" for fault in faults)
    given = model.harvest_after_liquid if is_wet else model.harvest
    left = batch.pieces_left.get(device.name, given)
    return [
        name
        for name in given
        if name in left
        and not is_spoiled(terms, line, name)
        and name not in terms.donors.never
        and name not in batch.never_harvested
        and batch.parts[name].fits(line.model, line.revision)
    ]


def is_spoiled(terms: Terms, line: BatchLine, part: str) -> bool:
    """
    Say whether what is found on a device makes one of its parts useless to others.

    Parameters
    ----------
    terms
        The terms.
    line
        The device, with what was found.
    part
        Part number.

    Returns
    -------
    bool
        True if a fault lies in it, or if liquid got in and it does not outlast that.
    """
    faults = terms.faults_of(line)
    is_wet = any(fault.hazard == "liquid" for fault in faults)
    if is_wet and part not in terms.models[line.model].harvest_after_liquid:
        return True
    return any(part in fault.parts for fault in faults)


def _demands(
    batch: BatchInput, devices: Iterable[DecidedDevice], what_if: WhatIf
) -> tuple[Demand, ...]:
    return tuple(
        Demand(
            device=device.name,
            part=part,
            due_day=device.line.due_day or FAR_DAY,
            minutes=device.job_minutes,
            order_day=first_day(device, what_if),
            charge_days=0 if _fits_a_day(batch, device) else 1,
        )
        for device in devices
        if is_worked_on(device, what_if)
        for part in device.parts
    )


def _fits_a_day(batch: BatchInput, device: DecidedDevice) -> bool:
    """Say whether somebody mends and charges it in a day with nothing else to do."""
    closing = max((one.minutes_a_day for one in batch.people.values()), default=0)
    return not device.work.charge or any(
        device.job_minutes * person.pace + device.work.charge <= closing
        for person in batch.people.values()
        if device.skills <= set(person.skills)
    )


def is_asked(device: DecidedDevice, what_if: WhatIf) -> bool:
    """
    Say whether a device waits for an answer not yet in hand.

    Parameters
    ----------
    device
        The device.
    what_if
        Answers in hand.

    Returns
    -------
    bool
        True if so.
    """
    if device.name in what_if.as_it_came | what_if.as_agreed.keys():
        return False
    return device.decision.code == "ask" and device.name not in what_if.answers


def first_day(device: DecidedDevice, what_if: WhatIf) -> int:
    """
    Give the first day on which work or an order for a device may begin.

    Parameters
    ----------
    device
        A device to be mended.
    what_if
        Answers, and the day work begins.

    Returns
    -------
    int
        Workshop day.
    """
    if is_asked(device, what_if):
        return what_if.pending_day or what_if.start_day
    return what_if.start_day


def is_worked_on(device: DecidedDevice, what_if: WhatIf) -> bool:
    """
    Say whether a device is to be mended if every pending answer is yes.

    Parameters
    ----------
    device
        The device.
    what_if
        Answers in hand.

    Returns
    -------
    bool
        False for strips, for answers no, for answers not waited for, and where nobody
        knows the fault yet.
    """
    if not device.is_mended or not device.line.found:
        return False
    if device.name in what_if.as_it_came:
        return False
    if device.decision.code != "ask" or device.name in what_if.as_agreed:
        return True
    return what_if.answers.get(device.name, what_if.pending_day is not None)


def _donor_problem(
    batch: BatchInput,
    devices: Iterable[DecidedDevice],
    short: Iterable[Use],
    offers: tuple[Offer, ...],
) -> DonorProblem:
    """Pose the choice of donors, given where everything comes from without any."""
    offered = {offer.part for offer in offers}
    waits: dict[str, list[Wait]] = defaultdict(list)
    for use in short:
        demand = use.demand
        if use.source == "order" and demand.part in offered:
            waits[demand.part].append(
                Wait(
                    late_by_order=max(0, use.ready_day - demand.due_day),
                    late_by_donor=max(0, DONOR_DAY - demand.due_day),
                    cost_minor=batch.parts[demand.part].cost_minor or 0,
                )
            )
    minutes = {
        device.name: batch.terms.models[device.line.model].minutes.strip
        for device in devices
    }
    return DonorProblem(
        offers=offers,
        waits={part: tuple(rows) for part, rows in waits.items()},
        minutes=minutes,
        chances=batch.terms.donors.chances,
    )


def _odds(
    problem: DonorProblem, chosen: Sequence[Offer]
) -> dict[str, tuple[int, int, float]]:
    odds: dict[str, tuple[int, int, float]] = {}
    for part, waits in problem.waits.items():
        n = sum(1 for offer in chosen if offer.part == part)
        if n:
            wanted = min(n, len(waits))
            q = problem.chances.get(part, 1.0)
            odds[part] = (wanted, n, p_enough(wanted, n, q))
    return odds


def latest_answer(
    batch: BatchInput, device: DecidedDevice, uses: Iterable[Use], what_if: WhatIf
) -> int | None:
    """
    Give the last day at whose start the answer must be in hand, by its parts alone.

    Parameters
    ----------
    batch
        The batch.
    device
        A device that waits for an answer.
    uses
        Where its parts come from.
    what_if
        Late parcels.

    Returns
    -------
    int or None
        Workshop day, due day less the longest lead; below 1 if it is too late already;
        ``None`` without a due day.
    """
    due = device.line.due_day
    if due is None:
        return None
    waits = [
        arrival_day(batch.parts, use.demand.part, 0, what_if.late_parts)
        for use in uses
        if use.source == "order"
    ]
    return due - max(waits, default=0)
