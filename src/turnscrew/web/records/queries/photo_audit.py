"""Are the files of the photos on record still those that were kept?"""

import json
import re
from collections.abc import Iterator, Mapping
from hashlib import file_digest
from pathlib import Path

from django.conf import settings

from turnscrew.core.ledger.chain import Break
from turnscrew.core.ledger.gaps import RESTORED_IN_PART
from turnscrew.web.records.models import Entry, EntryWords, PartPhoto, Photo
from turnscrew.web.records.photo_files import part_path_of, path_of

_TOLD_LOST = re.compile(r"^photo ([0-9a-f]{16})\b", re.MULTILINE)
_OTHER = ("other bytes", "those that were kept")
_NONE = ("none", "the file that was kept")
_CHUNK = 1000


def photo_breaks(digests: Mapping[str, str] | None = None) -> Iterator[Break]:
    """
    Compare the original of every photo with what was sealed when it was kept.

    Parameters
    ----------
    digests
        Digests of the files by name, of a backup that is not unpacked; the files
        beside the tables if none are said.

    Yields
    ------
    Break
        A photo whose file lacks or holds other bytes.
    """
    sealed = _sealed()
    for photo, path, where in _originals():
        if digests is None:
            digest = _digest(path)
        else:
            name = path.relative_to(settings.PHOTOS).as_posix()
            digest = digests.get(name, "")
        if digest == sealed.get(photo.ref, photo.sha256) or _is_gone(photo):
            continue
        yield Break(where, *(_OTHER if digest else _NONE))


def told_lost() -> frozenset[str]:
    """Name the photos that are known to lack since a restore in part."""
    rows = EntryWords.objects.filter(entry__verb=RESTORED_IN_PART)
    texts = rows.values_list("text", flat=True)
    return frozenset(ref for text in texts for ref in _TOLD_LOST.findall(text))


def _originals() -> Iterator[tuple[Photo | PartPhoto, Path, str]]:
    photos = Photo.objects.filter(is_removed=False).select_related("job")
    for one in photos.iterator(chunk_size=_CHUNK):
        where = f"photo {one.ref} of device {one.job.number}"
        yield one, path_of(one, "original"), where
    parts = PartPhoto.objects.select_related("part")
    for each in parts.iterator(chunk_size=_CHUNK):
        where = f"photo {each.ref} of part {each.part.number}"
        yield each, part_path_of(each, "original"), where


def _sealed() -> dict[str, str]:
    """Give what the journals say that the files hold."""
    facts = Entry.objects.filter(verb="photo", facts__contains='"sha256"')
    told = map(json.loads, facts.values_list("facts", flat=True))
    return {str(one["photo"]): str(one["sha256"]) for one in told if "photo" in one}


def _digest(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def _is_gone(photo: Photo | PartPhoto) -> bool:
    """Say whether a photo was taken away while its file was looked for."""
    if isinstance(photo, PartPhoto):
        return not PartPhoto.objects.filter(pk=photo.pk).exists()
    return not Photo.objects.filter(pk=photo.pk, is_removed=False).exists()
