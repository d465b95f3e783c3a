"""How is a photo of a part kept: a known one, one that came, one that failed?"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from hashlib import sha256
from typing import IO

from django.conf import settings

from turnscrew.web.records import photo_copies
from turnscrew.web.records.models import Lot, Part, PartPhoto, Person, SupplierReturn
from turnscrew.web.records.models.reference import new_ref
from turnscrew.web.records.photo_copies import Prepared
from turnscrew.web.records.photo_files import erase_files, part_path_of, write_file
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

Sent = Mapping[str, bytes]
"""What was sent, by the side it shows."""


def read_sent(file: IO[bytes]) -> bytes:
    """Read what was sent, and no more than a photo may have."""
    return file.read(int(settings.UPLOAD_LIMIT_BYTES) + 1)


def looked_at(sent: Sent) -> dict[str, Prepared]:
    """Look at what was sent; it takes a while, so it is done before any writing."""
    ready, reasons = {}, []
    for side, content in sent.items():
        try:
            ready[side] = photo_copies.prepared(content)
        except photo_copies.NoPhotoError as error:
            reasons.append(f"{side}: {error}")
    if reasons:
        raise RefusedError(*reasons)
    return ready


@writing
def keep_part_photos(
    part: Part,
    ready: Mapping[str, Prepared],
    *,
    by: Person,
    now: datetime,
    lot: Lot | None = None,
    supplier_return: SupplierReturn | None = None,
    is_known_good: bool = False,
) -> list[PartPhoto]:
    """Keep photos of a part, each with its entry; all of them, or none."""
    made: list[PartPhoto] = []
    try:
        for side, one in ready.items():
            photo = PartPhoto(
                ref=new_ref(), part=part, lot=lot, supplier_return=supplier_return,
                side=side, is_known_good=is_known_good, by=by, at=now,
                suffix=one.suffix, sha256=sha256(one.original).hexdigest(),
                verdict=one.verdict.says,
            )  # fmt: skip
            made.append(photo)
            _write_files(photo, one)
            photo.save()
            facts = {"photo": photo.ref, "sha256": photo.sha256, "side": side}
            append("stock", "photo", part.ref, by=by, now=now, facts=facts)
    except BaseException:
        _erase(made)
        raise
    return made


@writing
def keep_known_piece(
    part: Part, marks: str, ready: Mapping[str, Prepared], *, by: Person, now: datetime
) -> None:
    """Keep which marks a piece that has proven itself bears, and how it looks."""
    held = Part.objects.select_for_update().get(pk=part.pk)
    held.marks = marks.strip()
    keep(held, now)
    keep_part_photos(held, ready, by=by, now=now, is_known_good=True)


def _write_files(photo: PartPhoto, one: Prepared) -> None:
    write_file(part_path_of(photo, "original"), one.original)
    write_file(part_path_of(photo, "shown"), one.shown)
    write_file(part_path_of(photo, "small"), one.small)


def _erase(photos: Iterable[PartPhoto]) -> None:
    for photo in photos:
        erase_files(photo.ref)
