"""What was wanted of a part month by month, and what does that tell of the next?"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from math import ceil

from django.db.models import Min, Sum
from django.utils.timezone import localdate

from turnscrew.core.stock.part_outlook import (
    PartOutlook,
    TwoPrices,
    demand_ahead,
    part_outlook,
)
from turnscrew.core.stock.to_the_end import AtTheEnd, ToTheEnd, to_the_end
from turnscrew.papers.charts import demand_chart
from turnscrew.papers.panes import Chart
from turnscrew.web.records.models import Allotment, DonorPart, OrderLine, Part

MONTHS = 36
"""Months looked back at. [months]"""

_MONTH_DAYS = 30.44


@dataclass(frozen=True)
class EndAsked:
    """Until when a model stays in use, and what a wrong number of pieces costs."""

    until: date
    is_shrinking: bool
    shortage_minor: int
    salvage_minor: int = 0
    share_good: float | None = None


@dataclass(frozen=True)
class PartEnd:
    """What carries a part to the end of its model, and what that is founded on."""

    n_months: int
    n_whole: int
    n_there: int
    n_tested: int
    told: ToTheEnd


def demand_of(part: Part, today: date, prices: TwoPrices | None = None) -> PartOutlook:
    """Give the outlook of a part from the pieces its jobs asked for."""
    past = _past_of(part, today)
    if past is None:
        return part_outlook((), lead_periods=0)
    own, similar = past
    return part_outlook(
        own,
        lead_periods=ceil((part.lead_days or 0) / _MONTH_DAYS),
        similar=similar,
        prices=prices,
    )


def end_of(part: Part, today: date, asked: EndAsked) -> PartEnd | None:
    """
    Say how many pieces, or donors, carry a part to the end; nothing if none can tell.

    A fleet that shrinks evenly to none counts as half of its months.
    """
    past, cost = _past_of(part, today), part.cost_minor
    n_months = max(1, ceil((asked.until - today).days / _MONTH_DAYS))
    n_whole = ceil(n_months / 2) if asked.is_shrinking else n_months
    law = past and demand_ahead(past[0], n_whole, similar=past[1])
    if not law or cost is None:
        return None
    n_tested, share = _good_share(part)
    there = part.free + _on_the_way(part)
    at = AtTheEnd(
        unit_cost=cost,
        shortage_cost=asked.shortage_minor,
        salvage_value=asked.salvage_minor,
        on_hand=there,
        share_good=asked.share_good or share,
    )
    return PartEnd(n_months, n_whole, there, n_tested, to_the_end(law, at))


def _good_share(part: Part) -> tuple[int, float | None]:
    """Give how many pieces of donors were tested, and the share that was good."""
    states = Counter(
        DonorPart.objects.filter(part=part).values_list("state", flat=True)
    )
    unknown = states[DonorPart.UNTESTED] + states[DonorPart.WITHDRAWN]
    n = sum(states.values()) - unknown
    return n, (n - states[DonorPart.BAD] + 0.5) / (n + 1) if n else None


def _on_the_way(part: Part) -> int:
    rows = OrderLine.objects.filter(part=part, n__gt=0)
    sums = rows.aggregate(n=Sum("n"), came=Sum("n_received"), back=Sum("n_rejected"))
    return max(0, (sums["n"] or 0) - (sums["came"] or 0) - (sums["back"] or 0))


def _past_of(
    part: Part, today: date
) -> tuple[tuple[int, ...], list[tuple[int, ...]]] | None:
    """Give the months of a part and of those of its model; nothing before any job."""
    first = Allotment.objects.aggregate(first=Min("at"))["first"]
    if first is None:
        return None
    n_months = min(MONTHS, _months_between(first.date(), today))
    alike = Part.objects.filter(model=part.model).exclude(pk=part.pk)
    counts = _counts([part, *alike], today)
    own = _months(counts, part.pk, n_months)
    return own, [_months(counts, one.pk, n_months) for one in alike]


def demand_picture(part: Part, outlook: PartOutlook) -> Chart | None:
    """Draw it; nothing if nothing is known."""
    if outlook.level is None:
        return None
    return demand_chart(outlook, f"{part.number} {part.description}", "month")


def _counts(parts: Iterable[Part], today: date) -> Counter[tuple[int, int]]:
    """Count what was asked for by part and whole months ago; the running one is 0."""
    rows = Allotment.objects.filter(part__in=list(parts)).exclude(
        state=Allotment.RELEASED
    )
    return Counter(
        (part, _months_between(localdate(at), today))
        for part, at in rows.values_list("part_id", "at")
        if isinstance(at, datetime)
    )


def _months(
    counts: Counter[tuple[int, int]], part: int, n_months: int
) -> tuple[int, ...]:
    """Give whole months, the oldest first; the one that runs is not over."""
    return tuple(counts[part, ago] for ago in range(n_months, 0, -1))


def _months_between(start: date, end: date) -> int:
    return (end.year - start.year) * 12 + end.month - start.month
