"""
Which parts are not ordered yet, since only the open device shows that they fit?

Where a description says that a revision is sure only once open, a part that fits some
revisions of the model and not others waits until somebody has seen the device open.
"""

from collections import defaultdict
from collections.abc import Mapping

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.device import Revision
from turnscrew.core.model.job_state import MAIN_STATES
from turnscrew.core.model.spare_part import SparePart
from turnscrew.web.records.models import Batch, Job
from turnscrew.web.records.queries.descriptions import (
    device_in,
    newest,
    revisions_of,
)
from turnscrew.web.records.queries.recognition import SEEN_OPEN

_OPENED_FROM = MAIN_STATES.index("open")


def order_waits(batch: Batch, answer: BatchAnswer) -> dict[str, list[str]]:
    """Say by part which devices want it that must be seen open first, each in words."""
    wanted = [use.demand for use in answer.supply.uses if use.source == "order"]
    shut = _shut(batch, {one.device for one in wanted})
    revisions = _revisions({job.model for job in shut.values()})
    waits: dict[str, list[str]] = defaultdict(list)
    for one in wanted:
        job = shut.get(one.device)
        part = answer.batch.parts[one.part]
        words = _words(job, part, revisions[job.model]) if job else ""
        if words:
            waits[one.part].append(words)
    return dict(waits)


def _shut(batch: Batch, lines: set[int]) -> dict[int, Job]:
    """Give the devices that nobody has seen open yet, by their line."""
    rows = batch.jobs.filter(line__in=lines).exclude(sightings__look=SEEN_OPEN)
    return {
        job.line: job
        for job in rows
        if MAIN_STATES.index(job.main_state) < _OPENED_FROM
    }


def _revisions(models: set[str]) -> dict[str, Mapping[str, Revision]]:
    """Read the revisions of some models; none where nothing is described."""
    found: dict[str, Mapping[str, Revision]] = {}
    for model in models:
        description = newest(model)
        names = revisions_of(description) if description else ()
        device = device_in(description, names[0]) if description and names else None
        found[model] = device.revisions if device else {}
    return found


def _words(job: Job, part: SparePart, revisions: Mapping[str, Revision]) -> str:
    revision = revisions.get(job.revision)
    if revision is None or not revision.order_after_confirm:
        return ""
    if all(part.fits(job.model, name) for name in revisions):
        return ""
    confirm = revision.confirm or "to be confirmed"
    return f"device {job.line}: {job.revision} is sure only once open: {confirm}"
