"""Has a device been here so often that a lead must look into it?"""

from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Q, QuerySet

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.job_state import ENDED
from turnscrew.web.records.models import Asset, Finding, Item, Job

TIMES = 3
"""From this job of one device on a lead looks into it; common practice. [1]"""

WHY = (
    "it has been here before more than once: what was done did not hold, or was not "
    "what was wrong"
)


@dataclass(frozen=True)
class Before:
    """One earlier job, in the words that matter to whoever looks into it."""

    on: date | None
    said: str
    confirmed: str
    done: str


@dataclass(frozen=True)
class ThirdTime:
    """That a device is here for the third time or more."""

    n: int
    before: list[Before]
    seen_by: str = ""
    words: str = ""

    @property
    def is_open(self) -> bool:
        """Say whether no lead has looked into it yet."""
        return not self.seen_by


def jobs_of_device(item: Item) -> QuerySet[Job]:
    """Give all jobs of a body and of its owner's number, the oldest first."""
    numbers = Asset.objects.filter(item=item).values("number")
    same = Asset.objects.filter(number__in=numbers, item__customer=item.customer_id)
    rows = Job.objects.filter(item__in=[item.pk, *same.values_list("item", flat=True)])
    return rows.order_by("batch__received", "id")


def third_time(job: Job) -> ThirdTime | None:
    """Say what a lead must know of a device that came again; nothing if it did not."""
    if job.state in ENDED:
        return None
    rows = jobs_of_device(job.item).exclude(pk=job.pk).filter(state__in=ENDED)
    if len(rows) + 1 < TIMES:
        return None
    told = [_before(one) for one in rows.prefetch_related("findings", "allotments")]
    by = job.again_seen_by.name if job.again_seen_by else ""
    return ThirdTime(len(told) + 1, told, by, job.again_words)


def _before(job: Job) -> Before:
    held = [one for one in job.findings.all() if one.withdrawn_at is None]
    confirmed = [one for one in held if one.stage == Finding.CONFIRMED]
    words = [
        ", ".join(filter(None, [one.code, one.part, one.mode, one.cause, one.words]))
        for one in confirmed
    ]
    n_parts = sum(one.state == "used" for one in job.allotments.all())
    parts = job.parts_told or (
        f"{counted(n_parts, 'part')} fitted" if n_parts else "no part"
    )
    return Before(
        job.closed_on,
        job.reported or "nothing",
        "; ".join(words) or "nothing confirmed",
        f"{job.ended_as or job.state}, {parts}",
    )


def third_time_refusal(job: Job) -> str:
    """Say that a lead has not looked yet; nothing if one has or none must."""
    again = third_time(job)
    if again is None or not again.is_open:
        return ""
    return (
        f"third time: found job {again.n} of this device and no lead who looked into "
        "it, wanted one before it is packed"
    )


def not_looked_into() -> list[Job]:
    """Give the devices here for the third time or more that no lead looked into."""
    ended = Count("item__jobs", filter=Q(item__jobs__state__in=ENDED))
    rows = Job.objects.exclude(state__in=ENDED).filter(again_seen_by=None)
    often = rows.annotate(n_before=ended).filter(n_before__gte=TIMES - 1)
    return list(often.select_related("item", "batch").order_by("batch", "line")[:50])
