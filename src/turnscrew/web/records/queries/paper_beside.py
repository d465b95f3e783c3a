"""What do the records know of the devices of a batch that papers tell?"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import TypeVar

from django.utils.timezone import localdate

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.papers.batch.beside import (
    MOST_PICTURES,
    NOTHING,
    Beside,
    Picture,
)
from turnscrew.papers.set_aside import written
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    Job,
    Photo,
)
from turnscrew.web.records.photo_copies import for_paper
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.arrival_words import condition_words, trial_words
from turnscrew.web.records.queries.as_of import written_by
from turnscrew.web.records.queries.bench_tests import tests_of
from turnscrew.web.records.queries.data_terms import terms_words
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.order_waits import order_waits
from turnscrew.web.records.queries.passed_over import passed_over_words
from turnscrew.web.records.queries.photos import cleared_photos, marks_of

_Told = TypeVar("_Told")


def beside_of(
    paper: str,
    batch: Batch,
    at: datetime,
    answer: BatchAnswer | None = None,
    *,
    past_time: bool = False,
) -> Beside:
    """
    Give what is known of each device, as far as a paper tells it.

    With ``past_time`` what was known at the time, and not by now.
    """
    then = at if past_time else None
    if paper == "order-list.pdf":
        return Beside(waits=order_waits(batch, answer, written, then) if answer else {})
    if paper == "receipt.pdf":
        jobs = list(batch.jobs.order_by("line"))
        return Beside(
            arrival={job.line: _arrival(job, then) for job in jobs},
            data={job.line: terms_words(job, localdate(at), written) for job in jobs},
            condition=condition_words(jobs, then),
        )
    if paper == "evidence.pdf":
        jobs = list(batch.jobs.order_by("line"))
        tests = {job.line: tests_of(job, then) for job in jobs}
        return Beside(
            tests={line: told for line, told in tests.items() if told},
            pictures={job.line: _pictures(job, then) for job in jobs},
            trials=trial_words(jobs, then),
            passed_over=passed_over_words(jobs, then),
            fitted=_fitted(jobs, then),
            closed_up=_by_line(jobs, bench_runs.closed_up(jobs, then)),
        )
    return NOTHING


def _by_line(jobs: Iterable[Job], told: Mapping[int, _Told]) -> dict[int, _Told]:
    return {job.line: told[job.pk] for job in jobs if job.pk in told}


def _fitted(jobs: Iterable[Job], then: datetime | None) -> dict[int, list[str]]:
    """Give by line the numbers of the parts that were written as fitted."""
    listed = list(jobs)
    fitted: dict[int, list[str]] = defaultdict(list)
    rows = Allotment.objects.filter(written_by(then, "used_at"), state=Allotment.USED)
    for use in among(rows.select_related("part").order_by("id"), "job", listed):
        fitted[use.job_id].append(use.part.number)
    return _by_line(listed, fitted)


def _pictures(job: Job, then: datetime | None) -> tuple[Picture, ...]:
    return tuple(
        Picture(for_paper(content), _caption(photo))
        for photo, content in cleared_photos(job)[: MOST_PICTURES + 1]
        if then is None or photo.at <= then
    )


def _caption(photo: Photo) -> str:
    """Give the words below a photo; those of its marks are too small to read in it."""
    words = [mark.says for mark in marks_of(photo) if mark.says.strip()]
    return "; ".join([photo.caption or "photo", *words])


def _arrival(job: Job, then: datetime | None) -> str:
    """Tell the photos taken before anybody worked on the device."""
    first = job.runs.order_by("number").first()
    rows = job.photos.filter(written_by(then), is_removed=False)
    if first is not None:
        rows = rows.filter(at__lte=first.at)
    captions = [written(photo.caption) or "without words" for photo in rows]
    return f"{len(captions)} on arrival: {'; '.join(captions)}" if captions else ""
