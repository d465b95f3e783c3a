"""How is it written what is to come with a batch, and by which day it is promised?"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.expected import Arrived, Expected, due_days
from turnscrew.web.records import models
from turnscrew.web.records.models import Batch, Person
from turnscrew.web.records.queries.expecting import arrived_of, expected_of
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, keep_all
from turnscrew.web.records.services.writing import writing


@writing
def expect(
    batch: Batch, expected: Iterable[Expected], *, by: Person, now: datetime
) -> int:
    """
    Write what is to come; what was said before ends here.

    Devices that are here and have no due day get the one of their tranche; the day of
    one that has one is left alone.
    """
    told = list(expected)
    models.Expected.objects.filter(batch=batch, until=None).update(until=now)
    keep_all(
        models.Expected(
            batch=batch, model=one.model, number=one.number, n=one.n,
            due_day=one.due_day, since=now,
        )
        for one in told
    )  # fmt: skip
    jobs = list(batch.jobs.order_by("line"))
    given = due_days(arrived_of(jobs), told)
    for job in jobs:
        if job.line in given:
            job.due_day = given[job.line]
            keep(job, now)
    days = {one.due_day for one in told} - {None}
    append(
        "custody", "expected", batch.ref, by=by, now=now,
        facts={"n": sum(one.n for one in told), "tranches": len(days),
               "given": len(given)},
    )  # fmt: skip
    return len(given)


def with_due_days(
    batch: Batch, lines: Sequence[BatchLine], offset: int
) -> list[BatchLine]:
    """Give devices that are received without a due day the one of their tranche."""
    expected = expected_of(batch)
    if not expected:
        return list(lines)
    here = arrived_of(list(batch.jobs.order_by("line")))
    coming = [
        Arrived(one.line + offset, one.model, (one.asset, one.serial), one.due_day)
        for one in lines
    ]
    given = due_days([*here, *coming], expected)
    return [
        replace(one, due_day=given.get(one.line + offset, one.due_day)) for one in lines
    ]
