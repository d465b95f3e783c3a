"""What is known of earlier jobs of the same bodies?"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from django.db.models import Min
from django.utils.timezone import localtime

from turnscrew.core.model.past_job import PastJob
from turnscrew.core.price.comeback import comeback_of
from turnscrew.web.records import convert
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    Customer,
    Entry,
    Job,
)
from turnscrew.web.records.queries.closed_jobs import (
    closed_before,
    confirmed_by_job,
    without_the_rest,
)
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.terms_text import (
    danger_of,
    terms_of,
)


def came_on(batch: Batch, jobs: Iterable[Job]) -> dict[str, date]:
    """
    Give by reference the day on which each device came that came after its batch.

    What was received on the day the batch was written down came with it.
    """
    moves = Entry.objects.filter(journal="custody", verb="moved").order_by()
    first = moves.values("subject").annotate(first=Min("at"))
    days = {
        ref: localtime(at).date()
        for ref, at in among(
            first.values_list("subject", "first"), "subject", [job.ref for job in jobs]
        )
    }
    later = {ref: day for ref, day in days.items() if day > batch.received}
    if not later:
        return {}
    form = Batch.history.filter(id=batch.pk).order_by("history_date").first()
    booked = localtime(form.history_date).date() if form else batch.received
    return {ref: day for ref, day in later.items() if day > booked}


def past_jobs(jobs: Iterable[Job], before: date) -> tuple[PastJob, ...]:
    """
    Give the closed jobs of the same bodies or owner's numbers.

    One of the jobs themselves is among them where the same body came again since.
    """
    listed = list(jobs)
    owners = Customer.objects.filter(batches__in={job.batch_id for job in listed})
    serials = list({job.serial for job in listed} - {""})
    assets = list({job.asset_number for job in listed} - {""})
    closed: dict[int, Job] = {}
    for field, names in (("serial", serials), ("asset_number", assets)):
        # A body that changed hands brings no promise given to somebody else.
        rows = Job.objects.filter(closed_on__lte=before, batch__customer__in=owners)
        closed |= {row.pk: row for row in among(rows, field, names)}
    came_last = {job.item_id: job.pk for job in sorted(listed, key=_in_order)}
    for pk in came_last.values():
        closed.pop(pk, None)
    ordered = sorted(closed.values(), key=lambda job: (str(job.closed_on), job.pk))
    own = {job.pk: job.line for job in listed}
    told = zip(ordered, told_past(ordered), strict=True)
    return tuple(replace(past, line=own.get(job.pk, 0)) for job, past in told)


def _in_order(job: Job) -> int:
    return job.pk or 0


def told_past(
    jobs: Iterable[Job], left: dict[int, tuple[str, ...]] | None = None
) -> tuple[PastJob, ...]:
    """Give closed jobs as history knows them; ``left`` holds what is looked up."""
    listed, left = list(jobs), {} if left is None else left
    confirmed = confirmed_by_job(listed)
    for job in without_the_rest(listed):
        if job.pk not in left:
            left[job.pk] = _left(job, confirmed.get(job.pk, ()), left)
    parts: dict[int, list[str]] = defaultdict(list)
    used = Allotment.objects.filter(state=Allotment.USED).select_related("part")
    for use in among(used, "job", listed):
        parts[use.job_id].append(use.part.number)
    return tuple(
        convert.past_job(
            job, confirmed.get(job.pk, ()), parts[job.pk], left.get(job.pk, ())
        )
        for job in listed
    )


def _left(
    job: Job, confirmed: tuple[str, ...], left: dict[int, tuple[str, ...]]
) -> tuple[str, ...]:
    """Give the faults that a comeback had besides and its owner said no to."""
    came = came_on(job.batch, [job]).get(job.ref)
    line = convert.batch_line(job, confirmed, came=came)
    past = told_past(closed_before(job, came or job.batch.received), left)
    back = comeback_of(line, past, terms_of(job.batch))
    stays = set(back.covers) if back else set(confirmed)
    beside = (code for code in confirmed if code not in stays)
    return tuple(code for code in beside if not danger_of(job.batch, code))
