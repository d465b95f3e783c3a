"""How is a photo kept, drawn on, hidden in part, cleared for the customer, removed?"""

from collections.abc import Callable, Iterable
from dataclasses import asdict
from datetime import datetime
from hashlib import sha256
from typing import Any, Literal

from django.conf import settings
from django.db import IntegrityError

from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.web.records import photo_copies
from turnscrew.web.records.models import Job, Person, Photo
from turnscrew.web.records.models.reference import new_ref
from turnscrew.web.records.photo_files import (
    drawing_of,
    erase_files,
    path_of,
    write_file,
)
from turnscrew.web.records.queries.photos import marks_of, masks_of, shown_bytes
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.on_record import require_on_record
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

Drawn = Literal["marks", "masks"]

_MOST_DRAWN = 40
"""Marks, and masks, that one photo may have."""


def limit_bytes() -> int:
    """Say how large a photo may be."""
    return int(settings.UPLOAD_LIMIT_BYTES)


def add_photo(
    job: Job,
    content: bytes,
    *,
    by: Person,
    now: datetime,
    client_key: str | None = None,
    caption: str = "",
    face: str = "",
) -> Photo:
    """
    Keep a photo of a device; sent again under the same key it is kept once.

    Looking at it takes a while, so it is done before anything is written.
    """
    known = _sent_before(client_key, job)
    if known is not None:
        return known
    try:
        ready = photo_copies.prepared(content)
    except photo_copies.NoPhotoError as error:
        raise RefusedError(str(error)) from error
    photo = Photo(
        ref=new_ref(),
        job=job,
        by=by,
        at=now,
        caption=caption.strip(),
        face=face,
        client_key=client_key,
        suffix=ready.suffix,
        sha256=sha256(ready.original).hexdigest(),
        width_px=ready.width_px,
        height_px=ready.height_px,
        verdict=ready.verdict.says,
    )
    try:
        write_file(path_of(photo, "original"), ready.original)
        write_file(path_of(photo, "shown"), ready.shown)
        write_file(path_of(photo, "small"), ready.small)
        _keep(photo)
    except IntegrityError:
        erase_files(photo.ref)
        known = _sent_before(client_key, job)
        if known is None:
            raise
        return known
    except BaseException:
        erase_files(photo.ref)
        raise
    return photo


@writing
def _keep(photo: Photo) -> None:
    # Asked in the queue of writers: whoever erases the customer now is waited for.
    require_on_record(photo.job.batch.customer_id)
    photo.save(force_insert=True)
    append(
        "bench", "photo", photo.job.ref, by=photo.by, now=photo.at,
        facts={"photo": photo.ref, "sha256": photo.sha256},
    )  # fmt: skip


def draw(photo: Photo, marks: Iterable[Mark], *, by: Person, now: datetime) -> None:
    """Point out more; the photo must be cleared again afterwards."""
    told = [asdict(mark) for mark in marks]
    _change(photo, "marks", lambda rows: [*rows, *told], by=by, now=now)


def hide(photo: Photo, masks: Iterable[Mask], *, by: Person, now: datetime) -> None:
    """Hide more from customers; the photo must be cleared again afterwards."""
    told = [asdict(mask) for mask in masks]
    _change(photo, "masks", lambda rows: [*rows, *told], by=by, now=now)


def take_away(
    photo: Photo, what: Drawn, n: int, *, looked_at: str, by: Person, now: datetime
) -> None:
    """
    Take one mark or mask away by its number in what was looked at.

    Since then another may have taken one away, and the number be that of the next.
    """

    def without(rows: list[Any]) -> list[Any]:
        if n > len(rows):
            _refuse([f"number: found {n}, wanted 1 to {len(rows)}"])
        return rows[: n - 1] + rows[n:]

    _change(photo, what, without, looked_at=looked_at, by=by, now=now)


@writing
def _change(
    photo: Photo,
    what: Drawn,
    change: Callable[[list[Any]], list[Any]],
    *,
    by: Person,
    now: datetime,
    looked_at: str = "",
) -> None:
    """Change what stands by now, not what somebody read a while ago."""
    held = _held(photo)
    if looked_at:
        _refuse_another(held, looked_at)
    rows = change(getattr(held, what))
    setattr(held, what, rows)
    _refuse(_wrong("mark", marks_of(held)) + _wrong("mask", masks_of(held)))
    held.is_cleared = False
    if what == "marks":
        drawn = photo_copies.marked(shown_bytes(held), marks_of(held))
        erase_files(held.ref, "marked")
        write_file(path_of(held, "marked"), drawn)
    erase_files(held.ref, "cleared")
    held.save(update_fields=[what, "is_cleared"])
    append(
        "bench", "photo", held.job.ref, by=by, now=now,
        facts={"photo": held.ref, f"n_{what}": len(rows)},
    )  # fmt: skip


def clear(
    photo: Photo,
    *,
    looked_at: str,
    by: Person,
    now: datetime,
    is_nothing_private: bool = False,
) -> None:
    """
    Clear a photo for the customer, once somebody looked at it.

    Either masks hide what is private, or somebody says that nothing private is seen.
    """
    _refuse_another(photo, looked_at)
    if not photo.masks and not is_nothing_private:
        wanted = "wanted one, or the word that nothing private is seen"
        _refuse([f"photo: found no mask, {wanted}"])
    copy = photo_copies.cleared(shown_bytes(photo), marks_of(photo), masks_of(photo))
    write_file(path_of(photo, "cleared"), copy)
    _keep_cleared(photo, looked_at, by=by, now=now)


@writing
def _keep_cleared(photo: Photo, looked_at: str, *, by: Person, now: datetime) -> None:
    held = _held(photo)
    _refuse_another(held, looked_at)
    held.is_cleared = True
    held.save(update_fields=["is_cleared"])
    append(
        "bench", "photo", held.job.ref, by=by, now=now,
        facts={"photo": held.ref, "is_cleared": True, "n_masks": len(held.masks)},
    )  # fmt: skip


def _refuse_another(photo: Photo, looked_at: str) -> None:
    if drawing_of(photo) != looked_at:
        _refuse(["photo: found other marks or masks by now, wanted those looked at"])


def remove(photo: Photo, *, by: Person, now: datetime, words: str) -> None:
    """Delete a photo, to take it again; that it was there stays in the journal."""
    if not words.strip():
        _refuse(["reason: found none, wanted why it is removed"])
    _keep_removed(photo, by=by, now=now, words=words)
    erase_files(photo.ref)


@writing
def _keep_removed(photo: Photo, *, by: Person, now: datetime, words: str) -> None:
    held = _held(photo)
    held.is_removed, held.is_cleared, held.caption = True, False, ""
    held.marks, held.masks = [], []
    held.save()
    append(
        "bench", "undone", held.job.ref, by=by, now=now,
        facts={"photo": held.ref}, words=words,
    )  # fmt: skip


def _held(photo: Photo) -> Photo:
    """Lock a photo that is still there."""
    rows = Photo.objects.select_for_update(of=("self",)).select_related("job")
    held = rows.get(pk=photo.pk)
    if held.is_removed:
        _refuse(["photo: found one that was removed, wanted one that is there"])
    return held


def _sent_before(client_key: str | None, job: Job) -> Photo | None:
    if client_key is None:
        return None
    known = Photo.objects.filter(client_key=client_key).first()
    if known is not None and known.job_id != job.pk:
        _refuse(["key: found one of another device's photo, wanted a new one"])
    return known


def _wrong(what: str, drawn: tuple[Mark | Mask, ...]) -> list[str]:
    reasons = [
        f"{what} {n}, {reason}"
        for n, one in enumerate(drawn, 1)
        for reason in one.wrong()
    ]
    if len(drawn) > _MOST_DRAWN:
        reasons.append(f"{what}s: found {len(drawn)}, wanted {_MOST_DRAWN} or fewer")
    return reasons


def _refuse(reasons: list[str]) -> None:
    if reasons:
        raise RefusedError(*reasons)
