"""Is a backup's file whole, and how does it come back into a folder?"""

import hashlib
import json
import re
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import IO, Any, Self

from turnscrew.errors import BadFileError, Problem

FORM = "turnscrew backup 2"
FORMS = ("turnscrew backup 1", FORM)
"""Those that can be read; since the second every table stands apart, rows sealed."""

MANIFEST = "manifest.json"
START = "start.json"
"""Before the tables: how many rows there are, for a file whose end is lost."""

DATABASE = "records.sqlite3"
_PIECE = 1 << 20
_MANIFEST_LIMIT_BYTES = 64_000_000
_NAME = "[A-Za-z0-9][A-Za-z0-9._-]{0,120}"
MEMBER = re.compile(
    rf"secret|start\.json|records\.sqlite3|tables/[a-z0-9_]{{1,80}}\.jsonl"
    rf"|photos/{_NAME}(/{_NAME}){{0,3}}"
)


@dataclass(frozen=True)
class Manifest:
    """What a backup says of itself."""

    made_at: str
    steps: dict[str, str]
    members: dict[str, tuple[int, str]]

    @property
    def holds_sqlite(self) -> bool:
        return DATABASE in self.members


class Writer:
    """Writes an archive, member by member, and its manifest at the end."""

    def __init__(self, file: IO[bytes], now: datetime) -> None:
        # Stored as they are, members cannot be larger than the file that holds them.
        self._zip = zipfile.ZipFile(file, "w", zipfile.ZIP_STORED)
        self._now = now
        self._members: dict[str, dict[str, Any]] = {}

    def add(self, name: str, source: IO[bytes]) -> None:
        """Copy a file in, and keep its size and digest."""
        digest, n_bytes = hashlib.sha256(), 0
        with self._zip.open(self._entry(name), "w", force_zip64=True) as target:
            while piece := source.read(_PIECE):
                digest.update(piece)
                n_bytes += len(piece)
                target.write(piece)
        self._members[name] = {"bytes": n_bytes, "sha256": digest.hexdigest()}

    def add_start(self, steps: dict[str, str], rows: dict[str, int]) -> None:
        """Write first what the end of the file says too, and how many rows follow."""
        told = {"form": FORM, "made_at": self._now.isoformat(), "steps": steps,
                "rows": rows}  # fmt: skip
        self.add(START, BytesIO(json.dumps(told).encode()))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *error: object) -> None:
        self._zip.close()

    def add_manifest(self, steps: dict[str, str]) -> None:
        """Write what was put in, as the last member."""
        manifest = {
            "form": FORM,
            "made_at": self._now.isoformat(),
            "steps": steps,
            "members": self._members,
        }
        text = json.dumps(manifest, indent=1)
        self._zip.writestr(self._entry(MANIFEST), text)

    def _entry(self, name: str) -> zipfile.ZipInfo:
        return zipfile.ZipInfo(name, self._now.timetuple()[:6])


def examined(path: Path) -> Manifest:
    """Read every byte of an archive; refuse it with a list of what is not whole."""
    try:
        with path.open("rb") as file, zipfile.ZipFile(file) as archive:
            manifest = _manifest(archive, path)
            problems = list(_form_problems(archive, manifest, path))
            if not problems:
                problems = list(_content_problems(archive, manifest))
    except (zipfile.BadZipFile, EOFError, NotImplementedError, ValueError) as error:
        raise _refusal(path, str(error), "a whole backup of Turnscrew") from error
    if problems:
        n_whole = len(manifest.members) - len({one.where for one in problems})
        told = f"{max(n_whole, 0)} of {len(manifest.members)} members whole"
        problems.append(Problem("archive", told, "all of them"))
        raise BadFileError(tuple(_named(one, path) for one in problems))
    return manifest


def steps_told(path: Path) -> dict[str, str]:
    """Read at which steps the tables of an archive stand; none if it does not say."""
    try:
        with path.open("rb") as file, zipfile.ZipFile(file) as archive:
            return _manifest(archive, path).steps
    except (BadFileError, zipfile.BadZipFile, EOFError, NotImplementedError,
            ValueError):  # fmt: skip
        return {}


def unpack(path: Path, manifest: Manifest, folder: Path, *, with_photos: bool) -> None:
    """Write the members into a new folder, for the owner's eyes alone."""
    with zipfile.ZipFile(path) as archive:
        for name in manifest.members:
            if name.startswith("photos/") and not with_photos:
                continue
            if name == START or (manifest.holds_sqlite and name.startswith("tables/")):
                continue
            target = folder / name
            target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            with archive.open(name) as source, target.open("xb") as out:
                target.chmod(0o600)
                while piece := source.read(_PIECE):
                    out.write(piece)


def _manifest(archive: zipfile.ZipFile, path: Path) -> Manifest:
    if MANIFEST not in archive.namelist():
        raise _refusal(path, "no manifest", "a backup of Turnscrew")
    entry = archive.getinfo(MANIFEST)
    if entry.file_size > _MANIFEST_LIMIT_BYTES:
        raise _refusal(path, f"a manifest of {entry.file_size} bytes", "a smaller one")
    told: Any = json.loads(archive.read(entry))
    try:
        if told["form"] not in FORMS:
            raise _refusal(path, str(told["form"])[:60], FORM)
        return manifest_of(told)
    except (KeyError, TypeError, AttributeError) as error:
        raise _refusal(path, "a manifest of another form", FORM) from error


def manifest_of(told: Any) -> Manifest:
    """Read what a backup says of itself; what another form raises is the caller's."""
    return Manifest(
        str(told["made_at"]),
        {str(app): str(name) for app, name in told["steps"].items()},
        {
            str(name): (int(one["bytes"]), str(one["sha256"]))
            for name, one in told["members"].items()
        },
    )


def _form_problems(
    archive: zipfile.ZipFile, manifest: Manifest, path: Path
) -> Iterator[Problem]:
    """Look at names and sizes before any member is read."""
    entries = archive.infolist()
    counts = Counter(entry.filename.casefold() for entry in entries)
    for entry in entries:
        if counts[entry.filename.casefold()] > 1:
            yield Problem(repr(entry.filename[:80]), "the name twice", "once")
        elif entry.filename != MANIFEST:
            yield from _member_problems(entry, manifest)
    if sum(entry.file_size for entry in entries) > path.stat().st_size:
        yield Problem("sizes", "more than the file holds", "no more")
    for name in sorted(set(manifest.members) - {one.filename for one in entries}):
        yield Problem(name, "missing", "there")


def _member_problems(entry: zipfile.ZipInfo, manifest: Manifest) -> Iterator[Problem]:
    name = entry.filename
    if not MEMBER.fullmatch(name):
        yield Problem(repr(name[:80]), "a name out of place", "one of a backup's")
    elif name not in manifest.members:
        yield Problem(name, "not in the manifest", "only what was put in")
    elif entry.compress_type != zipfile.ZIP_STORED:
        yield Problem(name, "compressed", "stored as it is")
    elif entry.file_size != manifest.members[name][0]:
        wanted = f"{manifest.members[name][0]} bytes"
        yield Problem(name, f"{entry.file_size} bytes", wanted)


def _content_problems(
    archive: zipfile.ZipFile, manifest: Manifest
) -> Iterator[Problem]:
    for name, (_, wanted) in manifest.members.items():
        digest = hashlib.sha256()
        try:
            with archive.open(name) as source:
                while piece := source.read(_PIECE):
                    digest.update(piece)
        except (zipfile.BadZipFile, EOFError, OSError):
            yield Problem(name, "damaged bytes", "those that were put in")
            continue
        if digest.hexdigest() != wanted:
            yield Problem(name, "other bytes", "those that were put in")


def _refusal(path: Path, found: str, wanted: str) -> BadFileError:
    return BadFileError((Problem("archive", found, wanted, file=path.name),))


def _named(one: Problem, path: Path) -> Problem:
    return Problem(one.where, one.found, one.wanted, file=path.name)
