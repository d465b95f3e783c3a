"""What did the owner of a device agree to last, whatever was asked about since?"""

from collections.abc import Iterable
from datetime import datetime

from turnscrew.web.records.models import Approval
from turnscrew.web.records.queries.in_parts import among


def said_yes(asked: Iterable[Approval], now: datetime) -> dict[int, int]:
    """Give by line the price of the last yes to devices that were asked about."""
    line = {one.job_id: one.job.line for one in asked}
    told = Approval.objects.filter(answered_at__lte=now).order_by("id")
    last = {one.job_id: one for one in among(told, "job", line)}
    return {
        line[pk]: one.quote_minor
        for pk, one in last.items()
        if one.answer == Approval.YES
    }
