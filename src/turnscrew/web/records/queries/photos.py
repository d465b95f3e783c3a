"""Which photos are there, and which may a customer see?"""

from django.http import Http404

from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.web.records import photo_copies
from turnscrew.web.records.models import Batch, Job, Photo
from turnscrew.web.records.photo_files import CONTENT_TYPES, COPIES, Copy, path_of
from turnscrew.web.records.refusal import RefusedError


def photo_named(ref: str) -> Photo:
    """Give a photo that is there by its reference."""
    rows = Photo.objects.select_related("job__item", "job__batch", "by")
    photo = rows.filter(ref=ref, is_removed=False).first()
    if photo is None:
        raise Http404
    return photo


def removed_photo(ref: str) -> Photo | None:
    """Give a photo that was there by its reference; none if it never was, or is."""
    rows = Photo.objects.select_related("job")
    return rows.filter(ref=ref, is_removed=True).first()


def photos_of(job: Job) -> list[Photo]:
    """Give the photos of a device that are there, for those who work here."""
    return list(job.photos.filter(is_removed=False).select_related("by"))


def photo_refusal(job: Job, ref: str) -> str:
    """Say why a photo does not show a device; nothing if it does, or none is named."""
    if not ref or Photo.objects.filter(job=job, ref=ref[:16]).exists():
        return ""
    return f"photo: found no {ref[:16]} of this device, wanted one taken of it"


def cleared_photos(job: Job) -> list[tuple[Photo, bytes]]:
    """
    Give all that a customer may see of a device: the copies cleared for it.

    A copy whose file was lost is made anew; a photo of which nothing is left is none.
    """
    rows = job.photos.filter(is_removed=False, is_cleared=True)
    contents = ((photo, _content(photo, "cleared")) for photo in rows)
    return [(photo, content) for photo, content in contents if content]


def cleared_photo(batch: Batch, ref: str) -> Photo:
    """Give a photo that the contact of a batch may see: asked about, and cleared."""
    rows = Photo.objects.filter(job__batch=batch, job__approvals__isnull=False)
    photo = rows.filter(ref=ref, is_removed=False, is_cleared=True).first()
    if photo is None:
        raise Http404
    return photo


def preview(photo: Photo) -> bytes:
    """Give what the customer would see, were the photo cleared as it stands."""
    content = _drawn_again(photo, "cleared")
    if not content:
        raise Http404
    return content


def picture(photo: Photo, copy: str) -> tuple[bytes, str]:
    """Give a copy and the type of its content."""
    is_made = {"marked": bool(photo.marks), "cleared": photo.is_cleared}
    if copy not in COPIES or not is_made.get(copy, True):
        raise Http404
    content = _content(photo, copy)
    if not content:
        raise Http404
    return content, CONTENT_TYPES[path_of(photo, copy).suffix.removeprefix(".")]


def lost_words(photo: Photo) -> str:
    """Say that nothing is left of a photo that it could be shown by, if so."""
    try:
        shown_bytes(photo)
    except RefusedError as error:
        return str(error)
    return ""


def shown_bytes(photo: Photo) -> bytes:
    """Give the upright copy that drawings are made on."""
    content = _content(photo, "shown")
    if not content:
        raise RefusedError(
            "photo: found its file lost, wanted it removed and taken again"
        )
    return content


def _content(photo: Photo, copy: Copy) -> bytes:
    """Give a copy as it lies there, or made anew; nothing if all of it is lost."""
    path = path_of(photo, copy)
    return path.read_bytes() if path.is_file() else _made_again(photo, copy)


def _made_again(photo: Photo, copy: str) -> bytes:
    """Make a copy anew whose file was lost, of the original; nothing if that is too."""
    original = path_of(photo, "original")
    if copy == "original":
        return b""
    if copy in ("marked", "cleared"):
        return _drawn_again(photo, copy)
    try:
        ready = photo_copies.prepared(original.read_bytes())
    except (OSError, photo_copies.NoPhotoError):
        return b""
    return ready.small if copy == "small" else ready.shown


def _drawn_again(photo: Photo, copy: str) -> bytes:
    try:
        shown = shown_bytes(photo)
    except RefusedError:
        return b""
    if copy == "marked":
        return photo_copies.marked(shown, marks_of(photo))
    return photo_copies.cleared(shown, marks_of(photo), masks_of(photo))


def marks_of(photo: Photo) -> tuple[Mark, ...]:
    """Give what is pointed out."""
    return tuple(Mark(**row) for row in photo.marks)


def masks_of(photo: Photo) -> tuple[Mask, ...]:
    """Give what is hidden from customers."""
    return tuple(Mask(**row) for row in photo.masks)
