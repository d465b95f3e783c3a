"""Does each body bear the matings that were made on it, and on no other?"""

from turnscrew.web.records.models import Job
from turnscrew.web.records.queries.descriptions import used_by
from turnscrew.web.records.queries.matings import matings_of, own_device
from web.bench.case import taken, work
from web.browser.bench_case import kitted

KEYS, TWIN = 8, 41
"""Two notebooks of one model whose keys are exchanged."""


def done_on(job: Job, joint: str) -> int | None:
    description = used_by(job)
    assert description is not None
    matings = own_device(description, job.revision, job).joints[joint].matings
    return None if matings is None else matings.done


def test_an_opening_adds_its_matings_to_that_body_alone(
    batch, lead, helper, now
) -> None:
    job, twin = kitted(batch, KEYS, lead, now), kitted(batch, TWIN, lead, now)
    assert job.model == twin.model
    run = taken(job, lead, now)
    # Before anything is put back nothing was mated; the count of the device that was
    # described, six, is not its own.
    work(run, lead, now, helper, lambda line: line.phase == "refit")
    assert {} == matings_of(job.item)
    assert 0 == done_on(job, "key tail")

    work(run, lead, now, helper)
    made = matings_of(job.item)
    assert 1 == made["key tail"] == done_on(job, "key tail")
    assert {} == matings_of(twin.item)
    assert 0 == done_on(twin, "key tail")
