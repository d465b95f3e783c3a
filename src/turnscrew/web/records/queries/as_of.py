"""What counts as written: all there is, or what was there at an earlier time?"""

from datetime import datetime
from typing import Any

from django.db.models import Max, Q, QuerySet


def written_by(then: datetime | None, field: str = "at") -> Q:
    """
    Ask for what was written up to a time; for all there is if none is given.

    What stands now is never asked for by the clock: one that was put back would hide
    what was written before, dangers among it.
    """
    return Q() if then is None else Q(**{f"{field}__lte": then})


def stands_at(then: datetime | None) -> Q:
    """Ask of findings for those that are not taken back, or were not yet."""
    stands = Q(withdrawn_at=None)
    return stands if then is None else stands | Q(withdrawn_at__gt=then)


def rows_at(model: Any, then: datetime | None, **which: Any) -> QuerySet[Any]:
    """
    Give the rows of a table now, or as they were.

    Of two forms written at one time the one written last counts; what ``which`` asks
    for may never change in a row.
    """
    if then is None:
        now: QuerySet[Any] = model.objects.filter(**which)
        return now
    earlier = model.history.filter(history_date__lte=then, **which).order_by()
    last = earlier.values("id").annotate(last=Max("history_id")).values("last")
    forms = model.history.filter(history_id__in=last).exclude(history_type="-")
    then_rows: QuerySet[Any] = forms.as_instances()
    return then_rows
