"""What is known of a device beside its fault: arrival, adapter, lock, trial, finish?"""

from dataclasses import dataclass, field
from datetime import datetime

from django.http import Http404

from turnscrew.core.model.job_state import ENDED
from turnscrew.core.photo.faces import MISSING, Face, faces_of
from turnscrew.web.records.models import (
    ArrivalMark,
    Finishing,
    Item,
    Job,
    LockRequest,
    Photo,
    Trial,
)
from turnscrew.web.records.queries.adapters import AdapterStand, adapters_of
from turnscrew.web.records.queries.descriptions import device_in, newest
from turnscrew.web.records.queries.locks import is_barred
from turnscrew.web.records.queries.terms_text import terms_of


@dataclass(frozen=True)
class FaceSeen:
    """One face, its photo if it was taken, and what is marked on its outline."""

    face: Face
    photo: Photo | None
    marks: list[ArrivalMark]


@dataclass(frozen=True)
class Checks:
    """All that is written of a device beside its fault."""

    job: Job
    adapters: list[AdapterStand]
    trials: list[Trial]
    requests: list[LockRequest]
    finishings: list[Finishing]
    faces: list[FaceSeen]
    missing: list[tuple[str, int | None]]
    is_barred: bool
    n_not_found: int = 0
    charge_min: int | None = None
    open_trial: Trial | None = None
    open_request: LockRequest | None = None
    bad_adapters: list[AdapterStand] = field(default_factory=list)

    @property
    def n_faces_left(self) -> int:
        """Count the faces of which there is no photo yet."""
        return sum(one.photo is None for one in self.faces)


def job_here(item: Item) -> Job:
    """Give the job of a device that is here; its checks are of no other."""
    rows = item.jobs.exclude(state__in=ENDED).select_related("batch__customer", "item")
    job = rows.order_by("-id").first()
    if job is None:
        raise Http404
    return job


def checks_of(job: Job, now: datetime) -> Checks:
    """Give all that is written of a device beside its fault."""
    adapters = adapters_of(job.accessories.prefetch_related("checks"), now)
    trials = list(job.trials.select_related("planned_by", "ended_by"))
    requests = list(job.lock_requests.all())
    missing = dict(job.missing_pieces.values_list("kind", "n"))
    bad = [one for one in adapters if one.standing == "not fit" and not one.is_cut]
    return Checks(
        job=job,
        adapters=adapters,
        trials=trials,
        requests=requests,
        finishings=list(job.finishings.select_related("by")),
        faces=_faces(job),
        missing=[(kind, missing.get(kind)) for kind in MISSING],
        is_barred=is_barred(job),
        n_not_found=_n_not_found(job),
        charge_min=_charge_min(job),
        open_trial=next((one for one in trials if not one.result), None),
        open_request=next((one for one in requests if not one.answered_on), None),
        bad_adapters=bad,
    )


def _faces(job: Job) -> list[FaceSeen]:
    photos = {one.face: one for one in job.photos.filter(is_removed=False)}
    marks = list(job.arrival_marks.select_related("by"))
    return [
        FaceSeen(face, photos.get(face.name), [m for m in marks if m.face == face.name])
        for face in faces_of(kind_of(job))
    ]


def kind_of(job: Job) -> str:
    """Say what kind of device it is, by its description or its model's name."""
    description = newest(job.model)
    if description is None:
        return ""
    return device_in(description, job.revision).what


def _charge_min(job: Job) -> int | None:
    """Give the minutes on charge that the terms reckon with for its model."""
    if not job.batch.terms_text:
        return None
    model = terms_of(job.batch).models.get(job.model)
    return model.minutes.charge or None if model else None


def _n_not_found(job: Job) -> int:
    """Count the earlier jobs of this device that ended without a fault found."""
    rows = Job.objects.filter(item=job.item_id, ended_as="no fault found")
    return rows.exclude(pk=job.pk).count()
