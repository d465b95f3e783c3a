"""Which sign-offs does somebody hold on a day?"""

from collections import defaultdict
from datetime import date

from django.db.models import QuerySet

from turnscrew.web.records.models import SignOff


def held_on(signs: QuerySet[SignOff], day: date) -> dict[int, list[str]]:
    """Give the skills held by person."""
    held: dict[int, list[str]] = defaultdict(list)
    for sign in standing_on(signs, day):
        held[sign.person_id].append(sign.skill)
    return held


def standing_on(signs: QuerySet[SignOff], day: date) -> list[SignOff]:
    """
    Give the sign-offs that hold on a day.

    The newest word on a skill counts: one that has ended ends an older one too.
    """
    given = signs.filter(on__lte=day).order_by("on", "id")
    newest = {(sign.person_id, sign.skill): sign for sign in given}
    return [sign for sign in newest.values() if sign.until is None or sign.until >= day]
