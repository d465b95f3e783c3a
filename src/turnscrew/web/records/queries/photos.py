"""Which photos are there, and which may a customer see?"""

from pathlib import Path

from django.http import Http404

from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.web.records.models import Batch, Job, Photo
from turnscrew.web.records.photo_files import CONTENT_TYPES, COPIES, path_of


def photo_named(ref: str) -> Photo:
    """Give a photo that is there by its reference."""
    rows = Photo.objects.select_related("job__item", "job__batch", "by")
    photo = rows.filter(ref=ref, is_removed=False).first()
    if photo is None:
        raise Http404
    return photo


def photos_of(job: Job) -> list[Photo]:
    """Give the photos of a device that are there, for those who work here."""
    return list(job.photos.filter(is_removed=False).select_related("by"))


def photo_refusal(job: Job, ref: str) -> str:
    """Say why a photo does not show a device; nothing if it does, or none is named."""
    if not ref or Photo.objects.filter(job=job, ref=ref[:16]).exists():
        return ""
    return f"photo: found no {ref[:16]} of this device, wanted one taken of it"


def cleared_photos(job: Job) -> list[tuple[Photo, Path]]:
    """Give all that a customer may see of a device: the copies cleared for it."""
    rows = job.photos.filter(is_removed=False, is_cleared=True)
    return [(photo, path_of(photo, "cleared")) for photo in rows]


def cleared_photo(batch: Batch, ref: str) -> Photo:
    """Give a photo that the contact of a batch may see: asked about, and cleared."""
    rows = Photo.objects.filter(job__batch=batch, job__approvals__isnull=False)
    photo = rows.filter(ref=ref, is_removed=False, is_cleared=True).first()
    if photo is None:
        raise Http404
    return photo


def picture(photo: Photo, copy: str) -> tuple[bytes, str]:
    """Give a copy and the type of its content."""
    if copy not in COPIES or (copy == "cleared" and not photo.is_cleared):
        raise Http404
    path = path_of(photo, copy)
    if not path.is_file():
        raise Http404
    return path.read_bytes(), CONTENT_TYPES[path.suffix.removeprefix(".")]


def shown_bytes(photo: Photo) -> bytes:
    """Give the upright copy that drawings are made on."""
    return picture(photo, "shown")[0]


def marks_of(photo: Photo) -> tuple[Mark, ...]:
    """Give what is pointed out."""
    return tuple(Mark(**row) for row in photo.marks)


def masks_of(photo: Photo) -> tuple[Mask, ...]:
    """Give what is hidden from customers."""
    return tuple(Mask(**row) for row in photo.masks)
