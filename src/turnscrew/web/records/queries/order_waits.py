"""
Which parts are not ordered yet, and what does that wait for?

Where a customer must be asked first, the parts of that device wait for the yes. Where
a description says that a revision is sure only once open, a part that fits some
revisions of the model and not others waits until somebody has seen the device open.
What is retired is ordered by nobody until it is used again.
"""

from collections import defaultdict
from collections.abc import Callable, Mapping
from datetime import date, datetime

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.device import Revision
from turnscrew.core.model.job_state import MAIN_STATES
from turnscrew.core.model.spare_part import SparePart
from turnscrew.web.records.models import Batch, Job, Part, Sighting
from turnscrew.web.records.queries.recognition import SEEN_OPEN, devices_described

_OPENED_FROM = MAIN_STATES.index("open")


def order_waits(
    batch: Batch,
    answer: BatchAnswer,
    own: Callable[[str], str] = str,
    at: datetime | None = None,
) -> dict[str, list[str]]:
    """
    Say by part which devices want it that must be seen open first, each in words.

    Of a part out of use it is said that it is to be used again first.
    ``own`` marks what the description says itself. What was seen after ``at`` does not
    count.
    """
    wanted = [use.demand for use in answer.supply.uses if use.source == "order"]
    shut = _shut(batch, {one.device for one in wanted}, at)
    described = devices_described() if shut else {}
    waits: dict[str, list[str]] = defaultdict(list)
    for one in wanted:
        job = shut.get(one.device)
        device = described.get(job.model) if job else None
        part = answer.batch.parts[one.part]
        words = _words(job, part, device.revisions, own) if job and device else ""
        if words:
            waits[one.part].append(words)
    for number, day in _retired({one.part for one in wanted}, at):
        waits[number].append(f"retired on {day}: use it again first")
    return dict(waits)


def _retired(numbers: set[str], at: datetime | None) -> list[tuple[str, date | None]]:
    rows = Part.objects.filter(number__in=numbers).exclude(retired_on=None)
    if at is not None:
        rows = rows.filter(retired_on__lte=at.date())
    return list(rows.values_list("number", "retired_on"))


def yes_waits(answer: BatchAnswer) -> dict[str, list[str]]:
    """Say by part which devices want it whose customer has not said yes, in words."""
    asked = {device.name for device in answer.pending}
    waits: dict[str, list[str]] = defaultdict(list)
    for use in answer.supply.uses:
        line = use.demand.device
        if use.source == "order" and line in asked:
            waits[use.demand.part].append(f"device {line}: no yes in hand")
    return dict(waits)


def not_counted(answer: BatchAnswer) -> dict[int, tuple[str, ...]]:
    """Give the parts of the devices that are in no order for want of a yes."""
    if answer.is_open_counted:
        return {}
    return {
        device.name: device.parts
        for device in answer.pending
        if device.line.found and device.parts
    }


def _shut(batch: Batch, lines: set[int], at: datetime | None) -> dict[int, Job]:
    """Give the devices that nobody has seen open yet, by their line."""
    seen = Sighting.objects.filter(look=SEEN_OPEN, job__batch=batch)
    if at is not None:
        seen = seen.filter(at__lte=at)
    rows = batch.jobs.filter(line__in=lines).exclude(pk__in=seen.values("job"))
    return {
        job.line: job
        for job in rows
        if MAIN_STATES.index(job.main_state) < _OPENED_FROM
    }


def _words(
    job: Job,
    part: SparePart,
    revisions: Mapping[str, Revision],
    own: Callable[[str], str],
) -> str:
    revision = revisions.get(job.revision)
    if revision is None or not revision.order_after_confirm:
        return ""
    if all(part.fits(job.model, name) for name in revisions):
        return ""
    confirm = own(revision.confirm) or "to be confirmed"
    name = own(job.revision)
    return f"device {job.line}: {name} is sure only once open: {confirm}"
