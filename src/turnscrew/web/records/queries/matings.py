"""How is a device described, with the matings of its own connectors?"""

from collections import Counter

from turnscrew.core.bench.matings import matings_made, with_matings
from turnscrew.core.model.device import Device
from turnscrew.web.records.models import BenchRun, Description, Item, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.descriptions import device_in


def matings_of(item: Item) -> Counter[str]:
    """Count how often each connector of a body was mated, in all its jobs."""
    made: Counter[str] = Counter()
    for row in BenchRun.objects.filter(job__item=item, kind=BenchRun.PATH):
        state, run = bench_runs.state_and_run(row)
        made += matings_made(run, state.held)
    return made


def own_device(description: Description, revision: str, job: Job) -> Device:
    """Give the device described, as the body of a job has it."""
    return with_matings(device_in(description, revision), matings_of(job.item))
