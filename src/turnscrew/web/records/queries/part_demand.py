"""What was wanted of a part month by month, and what does that tell of the next?"""

from collections import Counter
from collections.abc import Iterable
from datetime import date, datetime
from math import ceil

from django.db.models import Min

from turnscrew.core.stock.part_outlook import PartOutlook, TwoPrices, part_outlook
from turnscrew.papers.charts import demand_chart
from turnscrew.papers.panes import Chart
from turnscrew.web.records.models import Allotment, Part

MONTHS = 36
"""Months looked back at. [months]"""

_MONTH_DAYS = 30.44


def demand_of(part: Part, today: date, prices: TwoPrices | None = None) -> PartOutlook:
    """Give the outlook of a part from the pieces its jobs asked for."""
    first = Allotment.objects.aggregate(first=Min("at"))["first"]
    if first is None:
        return part_outlook((), lead_periods=0)
    n_months = min(MONTHS, _months_between(first.date(), today))
    alike = Part.objects.filter(model=part.model).exclude(pk=part.pk)
    counts = _counts([part, *alike], today)
    return part_outlook(
        _months(counts, part.pk, n_months),
        lead_periods=ceil((part.lead_days or 0) / _MONTH_DAYS),
        similar=[_months(counts, one.pk, n_months) for one in alike],
        prices=prices,
    )


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
        (part, _months_between(at.date(), today))
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
