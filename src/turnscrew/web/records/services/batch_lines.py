"""Which devices stand on the lines of a batch that somebody named?"""

from collections.abc import Iterable

from turnscrew.web.records.models import Batch, Job
from turnscrew.web.records.services.refusal import RefusedError


def jobs_at(batch: Batch, lines: Iterable[int]) -> list[Job]:
    """Give the jobs of a batch on some lines, each of which must be there."""
    wanted = list(dict.fromkeys(lines))
    jobs = {job.line: job for job in batch.jobs.filter(line__in=wanted)}
    missing = [str(line) for line in wanted if line not in jobs]
    if missing:
        raise RefusedError(
            f"devices: found {', '.join(missing)}, wanted lines of this batch"
        )
    return [jobs[line] for line in wanted]


def job_at(batch: Batch, lines: Iterable[int]) -> Job:
    """Give the one job that is named by its line."""
    jobs = jobs_at(batch, lines)
    if len(jobs) != 1:
        raise RefusedError(f"devices: found {len(jobs)}, wanted one alone")
    return jobs[0]
