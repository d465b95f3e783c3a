"""Where are the records, and are they whole? Asked by the commands that keep them."""

import json
import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from turnscrew.errors import TurnscrewError

if TYPE_CHECKING:
    from turnscrew.web.records.queries.audit import Audit

HOME = "TURNSCREW_HOME"
ADDRESS = "TURNSCREW_DATABASE"
ZONE = "TURNSCREW_TIME_ZONE"
DATABASE = "records.sqlite3"


@contextmanager
def opened(
    home: Path | None, *, shared: tuple[str, ...] = (), is_new: bool = False
) -> Iterator[Path]:
    """Name the folder to the settings, before anything reads them."""
    folder = (home or default_home()).absolute()
    if not is_new and not folder.is_dir():
        raise TurnscrewError(
            f"{folder}: found no folder, wanted the records; turnscrew serve makes them"
        )
    if not is_new and not (folder / DATABASE).exists():
        inside = folder / "records"
        if (inside / DATABASE).is_file():
            raise TurnscrewError(
                f"{folder}: found a workshop, wanted its records; say {inside}"
            )
        if not os.environ.get(ADDRESS):
            # To look into a folder would make a first file of records in it.
            raise TurnscrewError(
                f"{folder}: found no records in it, wanted them; turnscrew serve makes"
                " them, turnscrew restore brings them back into a new folder"
            )
    _require_zone(os.environ.get(ZONE) or "UTC")
    os.environ[HOME] = str(folder)
    os.environ["TURNSCREW_HOSTS"] = ",".join(shared)
    os.environ["DJANGO_SETTINGS_MODULE"] = "turnscrew.web.settings"
    import django  # noqa: PLC0415 - slow libraries
    from django.db import connections  # noqa: PLC0415 - slow libraries

    from turnscrew.web.records.trouble import (  # noqa: PLC0415 - slow libraries
        told_plainly,
    )

    # Names, passwords and photos are for the owner's eyes; all files are made so.
    os.umask(0o077)
    with told_plainly():
        django.setup()
        try:
            yield folder
        finally:
            # Whoever takes the folder away again must find it closed.
            connections.close_all()


def now_here() -> datetime:
    """Give the time by the clock of the workshop, once its records are opened."""
    from django.utils import timezone  # noqa: PLC0415 - slow libraries

    return timezone.localtime()


def _require_zone(name: str) -> None:
    try:
        ZoneInfo(name)
    # A folder of the time zone database, or one above it, is no zone either.
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise TurnscrewError(
            f"{ZONE}: found {name}, wanted a name of the time zone"
            " database such as Europe/Zurich"
        ) from None


def default_home() -> Path:
    """Give the folder of the records where none is said."""
    return Path(os.environ.get(HOME, "turnscrew-records"))


PHOTOS_LACK = "whole, but for photos that lack or differ: "
"""Begins what is said last of records in which nothing else is amiss."""


_PHOTOS_WAY = "bring their files back from an older backup, or remove the photos"


def tell_audit(
    *, as_json: bool, photo_digests: Mapping[str, str] | None = None
) -> None:
    """Say what an audit finds; a break is an error, a photo that lacks not on trial."""
    from turnscrew.web.records.queries.audit import (  # noqa: PLC0415 - slow libraries
        audited,
    )
    from turnscrew.web.records.queries.audit_words import (  # noqa: PLC0415 - as above
        words_of,
    )

    found = audited(photo_digests)
    breaks, photos = words_of(found.breaks), words_of(found.photos)
    if as_json:
        print(json.dumps(asdict(found), ensure_ascii=False))
    else:
        for line in (*_told_of(found, words_of(found.known)), *breaks, *photos):
            print(line)
    if breaks:
        raise TurnscrewError(f"first break: {breaks[0]}")
    if photos and photo_digests is None:
        raise TurnscrewError(f"{PHOTOS_LACK}{len(photos)}; {_PHOTOS_WAY}")
    if photos:
        print(f"{PHOTOS_LACK}{len(photos)}")
    elif not as_json:
        is_all = not found.lost and not found.known
        print("whole" if is_all else "whole, but for what a restore could not bring")


def _told_of(found: "Audit", known: Iterable[str]) -> Iterator[str]:
    for journal, n in found.n_entries.items():
        yield f"{journal}: {n} entries, last seal {found.last_digests[journal]}"
    yield f"words erased: {found.n_words_erased}"
    for journal, numbers in found.lost.items():
        yield f"{journal}: entries {numbers} lack since a restore in part"
    for line in known:
        yield f"not proven since a restore in part: {line}"
