"""What counts as written: all there is, or what was there at an earlier time?"""

from datetime import datetime

from django.db.models import Q


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
