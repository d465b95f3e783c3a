"""Where are the files of a photo? Their names tell nothing and come from no user."""

import json
import os
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Literal

from django.conf import settings

from turnscrew.web.records.models import PartPhoto, Photo
from turnscrew.web.records.trouble import StorageError, storage_words

Copy = Literal["original", "shown", "small", "marked", "cleared"]
COPIES: tuple[Copy, ...] = ("original", "shown", "small", "marked", "cleared")

CONTENT_TYPES = {"jpg": "image/jpeg", "png": "image/png", "webp": "image/webp"}


def path_of(photo: Photo, copy: Copy) -> Path:
    """
    Give the path of a copy.

    Copies that are drawn on carry the drawing in their name, so that a file never
    shows less hidden than the row says.
    """
    if copy == "original":
        return _folder() / f"{photo.ref}.{photo.suffix}"
    if copy == "marked":
        return _folder() / f"{photo.ref}-marked-{_drawing(photo.marks, [])}.webp"
    if copy == "cleared":
        return _folder() / f"{photo.ref}-cleared-{drawing_of(photo)}.webp"
    return _folder() / f"{photo.ref}-{copy}.webp"


def drawing_of(photo: Photo) -> str:
    """Tell all that is drawn on a photo and hidden in it from any other drawing."""
    return _drawing(photo.marks, photo.masks)


def part_path_of(photo: PartPhoto, copy: Copy) -> Path:
    """Give the path of a copy of a part's photo; nothing is drawn on these."""
    if copy == "original":
        return _folder() / f"{photo.ref}.{photo.suffix}"
    return _folder() / f"{photo.ref}-{copy}.webp"


def write_file(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, and through to the disk."""
    partial = path.with_name(f"{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with partial.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        partial.replace(path)
    except OSError as error:
        # What is half written would fill the rest of a full disk for good.
        with suppress(OSError):
            partial.unlink(missing_ok=True)
        words = storage_words(error)
        if words is None:
            raise
        raise StorageError(words) from error


def erase_files(ref: str, *kinds: Copy) -> None:
    """Delete the files of a photo, or some copies of it."""
    if not _folder().is_dir():
        return
    patterns = [f"{ref}-{kind}*" for kind in kinds] or [f"{ref}.*", f"{ref}-*"]
    for pattern in patterns:
        for path in _folder().glob(pattern):
            path.unlink(missing_ok=True)


def _folder() -> Path:
    return Path(settings.PHOTOS)


def _drawing(marks: list[object], masks: list[object]) -> str:
    spelled = json.dumps([marks, masks], sort_keys=True)
    return sha256(spelled.encode()).hexdigest()[:16]
