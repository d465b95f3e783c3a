"""Which orders are still open, and how many pieces of each part are on their way?"""

from collections import Counter

from django.db.models import F, QuerySet

from turnscrew.web.records.models import OrderLine


def still_open() -> QuerySet[OrderLine]:
    """Give the orders of which not every piece came."""
    return OrderLine.objects.filter(n__gt=F("n_received") + F("n_rejected"))


def coming_by(orders: QuerySet[OrderLine]) -> Counter[str]:
    """Count the pieces of some orders that are on their way, by part."""
    coming: Counter[str] = Counter()
    for line in orders.select_related("part"):
        coming[line.part.number] += line.n_open
    return coming
