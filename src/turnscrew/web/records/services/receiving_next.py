"""How does one device after another come in while others receive too?"""

from dataclasses import replace
from datetime import datetime

from turnscrew.core.model.batch import BatchLine
from turnscrew.web.records.models import Batch, Job, Person
from turnscrew.web.records.services.booking import next_line, receive
from turnscrew.web.records.services.writing import writing


@writing
def receive_next(
    batch: Batch, line: BatchLine, *, by: Person, now: datetime, lock: str = ""
) -> Job:
    """
    Receive a device under its number, or under the next one if that was just taken.

    Somebody else may receive another device of the batch at the same moment; the very
    same one is refused.
    """
    free = next_line(batch)
    since = batch.jobs.order_by("-line")[: max(0, free - line.line)]
    if not any(_is_same(one, line) for one in since):
        line = replace(line, line=free)
    return receive(batch, [line], by=by, now=now, lock=lock)[0]


def _is_same(job: Job, line: BatchLine) -> bool:
    told = line.serial, line.asset
    return any(told) and told == (job.serial, job.asset_number)
