"""What is whole in the file of a backup that was cut off or has gone bad?"""

import json
import mmap
import struct
from collections.abc import Iterator
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any
from zlib import crc32

from turnscrew.errors import BadFileError, Problem
from turnscrew.web.keeping.archive import MANIFEST, MEMBER, START, Manifest, manifest_of

_MARK = b"PK\x03\x04"
_HEAD = struct.Struct("<4sHHHHHIIIHH")
"""The head of a member; layout from memory of the published note on the ZIP format,
and met by the standard library's own archives in the tests."""

_IN_EXTRA = 0xFFFFFFFF
_PAIR = struct.Struct("<HHQQ")
_STORED, _ZIP64 = 0, 1
_PIECE = 1 << 20
_TEXT_LIMIT_BYTES = 64_000_000


@dataclass(frozen=True)
class Member:
    """Where the bytes of a member lie, and whether they are those that were put in."""

    name: str
    at: int
    n_bytes: int
    is_whole: bool


@dataclass(frozen=True)
class Whole:
    """What was found in a file, whole or not."""

    path: Path
    members: dict[str, Member] = field(default_factory=dict)
    manifest: Manifest | None = None
    made_at: str = ""
    steps: dict[str, str] | None = None
    n_rows: dict[str, int] = field(default_factory=dict)

    def is_whole(self, name: str) -> bool:
        """Tell whether a member is there as it was put in."""
        return name in self.members and self.members[name].is_whole

    def content(self, name: str) -> bytes:
        """Give the bytes of a member, good or bad; none if it is not there."""
        member = self.members.get(name)
        if member is None:
            return b""
        with self.path.open("rb") as file:
            file.seek(member.at)
            return file.read(member.n_bytes)

    def pieces(self, name: str) -> Iterator[bytes]:
        """Give the bytes of a member bit by bit."""
        member = self.members[name]
        with self.path.open("rb") as file:
            file.seek(member.at)
            left = member.n_bytes
            while left and (piece := file.read(min(left, _PIECE))):
                left -= len(piece)
                yield piece


def found_in(path: Path) -> Whole:
    """Look for every member from the first byte on; no list of the file is trusted."""
    if not path.stat().st_size:
        raise BadFileError(
            (Problem("archive", "nothing", "a backup of Turnscrew", file=path.name),)
        )
    with (
        path.open("rb") as file,
        mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as content,
    ):
        manifest = _told(content, MANIFEST, manifest_of)
        start: Any = _told(content, START, _start_of)
        members = _members(content, manifest)
    if manifest is None and start is None and not members:
        raise BadFileError(
            (Problem("archive", "nothing whole", "a backup of Turnscrew",
                     file=path.name),)
        )  # fmt: skip
    made_at, steps, n_rows = start or ("", None, {})
    if manifest is not None:
        made_at, steps = manifest.made_at, manifest.steps
    return Whole(path, members, manifest, made_at, steps, n_rows)


def _told(content: mmap.mmap, wanted: str, read: Any) -> Any:
    """Read what the backup says of itself, if its bytes are as they were."""
    for name, at, n_bytes, checksum in _heads(content):
        if name != wanted or n_bytes > _TEXT_LIMIT_BYTES:
            continue
        text = content[at : at + n_bytes]
        if crc32(text) != checksum:
            continue
        try:
            return read(json.loads(text))
        except (ValueError, KeyError, TypeError, AttributeError):
            continue
    return None


def _start_of(told: Any) -> tuple[str, dict[str, str], dict[str, int]]:
    steps = {str(app): str(name) for app, name in told["steps"].items()}
    n_rows = {str(name): int(n) for name, n in told["rows"].items()}
    return str(told["made_at"]), steps, n_rows


def _members(content: mmap.mmap, manifest: Manifest | None) -> dict[str, Member]:
    members: dict[str, Member] = {}
    for name, at, n_bytes, checksum in _heads(content):
        if not MEMBER.fullmatch(name) or (name in members and members[name].is_whole):
            continue
        told = manifest.members.get(name) if manifest else None
        n_there = max(0, min(told[0] if told else n_bytes, len(content) - at))
        is_all = n_there == (told[0] if told else n_bytes)
        is_whole = is_all and _is_same(content, at, n_there, told, checksum)
        members[name] = Member(name, at, n_there, is_whole)
    return members


def _is_same(
    content: mmap.mmap,
    at: int,
    n_bytes: int,
    told: tuple[int, str] | None,
    checksum: int,
) -> bool:
    digest, crc = sha256(), 0
    for start in range(at, at + n_bytes, _PIECE):
        piece = content[start : min(start + _PIECE, at + n_bytes)]
        digest.update(piece)
        crc = crc32(piece, crc)
    return digest.hexdigest() == told[1] if told else crc == checksum


def _heads(content: mmap.mmap) -> Iterator[tuple[str, int, int, int]]:
    """Give name, place, size and checksum of all that looks like a member."""
    at = content.find(_MARK)
    while at >= 0:
        head = _head_at(content, at)
        if head is not None:
            yield head
        at = content.find(_MARK, at + len(_MARK))


def _head_at(content: mmap.mmap, at: int) -> tuple[str, int, int, int] | None:
    begin = at + _HEAD.size
    if begin > len(content):
        return None
    told = _HEAD.unpack_from(content, at)
    method, checksum, n_bytes, n_name, n_extra = told[3], told[6], *told[8:11]
    name = content[begin : begin + n_name].decode("ascii", "replace")
    extra = content[begin + n_name : begin + n_name + n_extra]
    if method != _STORED:
        return None
    if n_bytes == _IN_EXTRA:
        if len(extra) < _PAIR.size or _PAIR.unpack_from(extra)[0] != _ZIP64:
            return None
        n_bytes = _PAIR.unpack_from(extra)[2]
    return name, begin + n_name + n_extra, n_bytes, checksum
