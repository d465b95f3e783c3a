"""Which pieces can the donors of a batch really give, and which come from others?"""

from collections import Counter
from datetime import datetime
from typing import Any

from django.db.models import Q, QuerySet

from turnscrew.core.model.job_state import GIVEN_BACK
from turnscrew.web.records import convert
from turnscrew.web.records.models import Allotment, Batch, DonorPart, Entry

LEFT = Q(donor__job__state__in=GIVEN_BACK) | Q(donor__job__state="disposed", place="")
"""Gone with its donor: what lies apart of a carcass stays when the carcass goes."""

_MEANT = (Allotment.PROMISED, Allotment.USED)


def pieces_left(batch: Batch, then: datetime | None) -> dict[int, tuple[str, ...]]:
    """
    Name by line the parts that each device taken as a donor gives its own batch.

    One that was tested bad, is meant for another batch or left with its donor is none
    of them. As of an earlier time only those tested bad by then are left out.
    """
    rows = DonorPart.objects.filter(donor__job__batch=batch)
    gone = _bad_then(batch, then) if then else set(_gone_now(batch, rows))
    left: dict[int, tuple[str, ...]] = {}
    for line, number in rows.values_list("donor__job__line", "part__number"):
        there = () if (line, number) in gone else (number,)
        left[line] = (*left.get(line, ()), *there)
    if then:
        tested = {line for line, _ in gone}
        return {line: parts for line, parts in left.items() if line in tested}
    return left


def _gone_now(batch: Batch, rows: QuerySet[DonorPart]) -> QuerySet[DonorPart, Any]:
    own = Q(allotment__job__batch=batch, allotment__state__in=_MEANT)
    free = Q(state__in=[DonorPart.UNTESTED, DonorPart.GOOD], allotment=None) & ~LEFT
    gone = rows.exclude(own | free)
    return gone.values_list("donor__job__line", "part__number")


def _bad_then(batch: Batch, then: datetime) -> set[tuple[int, str]]:
    line = dict(batch.jobs.exclude(donor=None).values_list("ref", "line"))
    rows = Entry.objects.filter(
        journal="bench", verb="tested", subject__in=line, at__lte=then
    )
    told = map(convert.ledger_entry, rows)
    return {
        (line[one.subject], one.text("part"))
        for one in told
        if one.text("result") == DonorPart.BAD
    }


def from_other_donors(batch: Batch) -> Counter[int]:
    """
    Count the pieces by part that a batch has of donors it cannot reckon with.

    They are those of other batches, and its own that went back to their owners.
    """
    rows = Allotment.objects.filter(job__batch=batch, state__in=_MEANT)
    rows = rows.exclude(donor_part=None).exclude(
        ~Q(donor_part__donor__job__state="returned unrepaired"),
        donor_part__donor__job__batch=batch,
    )
    return Counter(rows.values_list("part", flat=True))
