"""On which days is somebody away, as is known now or was at a time?"""

from datetime import datetime

from django.db.models import Q, QuerySet

from turnscrew.web.records.models import Absence, Person


def days_away(
    person: Person | None = None, *, then: datetime | None = None
) -> QuerySet[Absence]:
    """Give the days that stand, of one person or of all; as of ``then`` if given."""
    rows = Absence.objects.all() if person is None else person.absences.all()
    if then is None:
        return rows.filter(taken_back_at=None)
    # When a day of older records was written is not known: it counts always.
    return rows.filter(
        Q(at=None) | Q(at__lte=then),
        Q(taken_back_at=None) | Q(taken_back_at__gt=then),
    )
