"""Which pieces may a batch have, and when do those on order come?"""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime

from django.db.models import Exists, OuterRef

from turnscrew.core.ledger.verbs import PROMISE_SIGNS, STOCK_SIGNS
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.web.records import convert
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    Entry,
    Job,
    Lot,
    OrderLine,
    Part,
)
from turnscrew.web.records.queries.as_of import rows_at
from turnscrew.web.records.queries.donor_supply import (
    own_donor,
)


def parts_for(
    batch: Batch,
    terms: Terms,
    now: datetime,
    free: Counter[int],
    then: datetime | None,
) -> dict[str, SparePart]:
    leads = _leads(batch, terms, now)
    return {
        part.number: convert.spare_part(
            part, row, max(0, free[part.id]), leads.get(part.id, part.lead_days)
        )
        for row, part in enumerate(rows_at(Part, then).order_by("id"), 1)
    }


def models_of_parts(terms: Terms, code: str = "") -> dict[str, str]:
    """Give the model that each part of the terms' faults is for, of one if named."""
    faults = [terms.faults[code]] if code else terms.faults.values()
    wanted = {part for fault in faults for part in fault.parts}
    rows = Part.objects.filter(number__in=wanted)
    return dict(rows.values_list("number", "model"))


def free_for(
    batch: Batch, meant: Iterable[Allotment], then: datetime | None
) -> Counter[int]:
    """
    Count the pieces a batch has or may have off the shelf, by part.

    What it used came off the shelf for it, or of a donor that is not reckoned with.
    What came by its own orders lies there as well; what of it was given to others or
    lost is wanted anew.
    """
    if then is not None:
        return _free_at(batch, then)
    free = Counter(dict(Part.objects.values_list("pk", "on_hand")))
    shelf = Allotment.objects.filter(donor_part=None)
    for use in shelf.filter(state=Allotment.PROMISED).exclude(job__batch=batch):
        free[use.part_id] -= 1
    for use in meant:
        is_out = use.state == Allotment.USED or use.donor_part_id is not None
        if is_out and not own_donor(batch, use):
            free[use.part_id] += 1
    return free


def _free_at(batch: Batch, then: datetime) -> Counter[int]:
    """Count the same as of a time, from the journal of the stock."""
    own_jobs = set(Job.objects.filter(batch=batch).values_list("ref", flat=True))
    by_ref = dict(Part.objects.values_list("ref", "pk"))
    free: Counter[int] = Counter()
    for row in Entry.objects.filter(journal="stock", at__lte=then).iterator(5000):
        entry = convert.ledger_entry(row)
        part = by_ref.get(entry.subject)
        if part is None:
            # A restore in part writes of itself too, and may lack a part.
            continue
        n = entry.n("n")
        is_own = entry.text("job") in own_jobs
        if entry.verb in STOCK_SIGNS and not is_own:
            free[part] += STOCK_SIGNS[entry.verb] * n
        elif entry.verb in PROMISE_SIGNS and not is_own:
            free[part] -= PROMISE_SIGNS[entry.verb] * n
    return free


def _leads(batch: Batch, terms: Terms, now: datetime) -> dict[int, int]:
    """Give the days that are left of leads, for what the batch awaits by its orders."""
    leads: dict[int, int] = {}
    today = now.date()
    came_later = Lot.objects.filter(order_line=OuterRef("pk"), received_on__gt=today)
    rows = OrderLine.objects.filter(batch=batch, ordered_on__lte=today)
    for line in rows.annotate(was_open=Exists(came_later)):
        if not line.n_open and not line.was_open:
            continue
        left = 0
        if line.expected_on and line.expected_on > today:
            first = max(today, batch.received)
            left = terms.calendar.number_of(line.expected_on, first) - 1
        leads[line.part_id] = max(left, leads.get(line.part_id, 0))
    return leads
