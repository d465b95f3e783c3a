"""What is to be ordered today, for all open batches at once?"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.calendar import Calendar, days_from
from turnscrew.core.model.job_state import CLOSED
from turnscrew.core.stock.demand import FAR_DAY, Demand
from turnscrew.core.stock.lead import Lead, lead_of
from turnscrew.core.stock.together import Purchase, Want, bought_together
from turnscrew.web.records import convert
from turnscrew.web.records.models import Allotment, Batch, Lot, Part
from turnscrew.web.records.queries.batch_page import batches, tells_of
from turnscrew.web.records.queries.on_the_way import coming_by, still_open
from turnscrew.web.records.queries.order_waits import order_waits
from turnscrew.web.records.queries.reckoning import reckoned

_FREE_STATES = CLOSED | {"donor"}


@dataclass(frozen=True)
class ToOrder:
    """One part to be ordered today, as somebody reads it."""

    part: Part
    purchase: Purchase
    lead: Lead
    wanted_by: list[tuple[Batch | None, int]]
    tells: list[str]
    waits: list[str]

    @property
    def saved_minor(self) -> int:
        return self.purchase.alone_minor - self.purchase.cost_minor


@dataclass(frozen=True)
class OrderToday:
    """All that is to be ordered today."""

    rows: list[ToOrder]
    batches: list[Batch]

    @property
    def cost_minor(self) -> int:
        return sum(row.purchase.cost_minor for row in self.rows)

    @property
    def saved_minor(self) -> int:
        return sum(row.saved_minor for row in self.rows)

    @property
    def due(self) -> list[ToOrder]:
        return [row for row in self.rows if row.purchase.n_bought]


def order_today(now: datetime) -> OrderToday:
    """Add the needs of all open batches up, after shelf, donors and orders."""
    kept = list(Part.objects.order_by("id"))
    spares = {
        part.number: convert.spare_part(part, at, max(0, part.on_hand), part.lead_days)
        for at, part in enumerate(kept, 1)
    }
    found = batches()
    answers = {batch.ref: reckoned(batch, now) for batch in found}
    calendars = [answer.batch.terms.calendar for answer in answers.values()]
    seen = leads_seen(calendars[0] if calendars else Calendar())
    leads = {name: lead_of(one, spares.values(), seen) for name, one in spares.items()}
    wants = [
        want for batch in found for want in _wants(batch, answers[batch.ref], leads)
    ]
    keep = {part.number: part.reorder_point for part in kept if not part.retired_on}
    waits = [order_waits(batch, answers[batch.ref]) for batch in found]
    made = bought_together(wants, spares, coming_by(still_open()), keep, now.date())
    by_ref = {batch.ref: batch for batch in found}
    rows = {part.number: part for part in kept}
    return OrderToday(
        [
            ToOrder(
                part=rows[one.part],
                purchase=one,
                lead=leads[one.part],
                wanted_by=[(by_ref.get(ref), n) for ref, n in one.by_batch],
                tells=_tells(answers.values(), one.part),
                waits=[words for told in waits for words in told.get(one.part, [])],
            )
            for one in made
        ],
        found,
    )


def _tells(answers: Iterable[BatchAnswer], number: str) -> list[str]:
    told = [tell for answer in answers for tell in tells_of(answer, number)]
    return list(dict.fromkeys(told))


def _wants(
    batch: Batch, answer: BatchAnswer, leads: Mapping[str, Lead]
) -> Iterable[Want]:
    """
    Give the pieces that devices of a batch still want, donors' pieces taken off.

    A piece that lies promised on the shelf waits for no yes: it is there.
    """
    states = dict(batch.jobs.values_list("line", "state"))
    from_donor = Q(state=Allotment.PROMISED, donor_part__isnull=False)
    have = _allotted(batch, Q(state=Allotment.USED) | from_donor)
    lying = _allotted(batch, Q(state=Allotment.PROMISED, donor_part__isnull=True))
    asked = {device.name for device in answer.pending}
    terms = answer.batch.terms

    for demand in _demands(answer):
        named = demand.device, demand.part
        if states[demand.device] in _FREE_STATES:
            continue
        if have[named]:
            have[named] -= 1
            continue
        latest = None
        if demand.needed_by is not None:
            number = demand.needed_by - leads[demand.part].days
            over = days_from(terms.received, -1)
            latest = terms.date_of(number) if number > 0 else over
        lies = lying[named] > 0
        lying[named] -= lies
        waits = demand.device in asked and not lies
        yield Want(batch.ref, demand.part, demand.device, latest, waits_for_yes=waits)


def _demands(answer: BatchAnswer) -> Iterable[Demand]:
    """Give what no donor serves, for devices left out for want of a yes too."""
    for use in answer.supply.uses:
        if use.source != "donor":
            yield use.demand
    if answer.is_open_counted:
        return
    for device in answer.pending:
        for part in device.parts if device.line.found else ():
            due = device.line.due_day or FAR_DAY
            yield Demand(device.name, part, due, device.job_minutes)


def _allotted(batch: Batch, which: Q) -> Counter[tuple[int, str]]:
    rows = Allotment.objects.filter(which, job__batch=batch)
    return Counter(rows.values_list("job__line", "part__number"))


def leads_seen(calendar: Calendar) -> dict[str, int]:
    """Give the longest time a parcel took, by supplier, in workshop days."""
    longest: dict[str, int] = {}
    came = Lot.objects.exclude(order_line=None).exclude(outcome=Lot.TAKEN_BACK)
    rows = came.values_list(
        "order_line__supplier", "order_line__ordered_on", "received_on"
    )
    for supplier, ordered_on, received_on in rows.distinct():
        if supplier and received_on >= ordered_on:
            days = calendar.number_of(received_on, ordered_on) - 1
            longest[supplier] = max(days, longest.get(supplier, 0))
    return longest
