"""How are lengths, decimal numbers and weeks shown in this workshop?"""

from typing import cast

from turnscrew.core.model.notation import Lengths, Notation, Sign, Week
from turnscrew.web.records.models import HowItReads


def notation() -> Notation:
    """Give what the workshop chose; what is usual where it chose nothing."""
    row = HowItReads.objects.order_by("pk").first()
    if row is None:
        return Notation()
    return Notation(
        cast("Lengths", row.lengths), cast("Sign", row.sign), cast("Week", row.week)
    )
