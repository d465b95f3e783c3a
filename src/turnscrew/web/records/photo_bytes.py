"""Which bytes of a picture may be kept, so that none tells where it was taken?"""

import re
import struct
import zlib
from collections.abc import Iterator
from io import BytesIO

from PIL import Image

_MARKER = re.compile(b"\xff[\x01-\xcf\xd8-\xfe]")
"""A marker among coded points, where 0 follows every other 255."""

_START, _END, _SCAN, _EXIF_SEGMENT = 0xD8, 0xD9, 0xDA, 0xE1
_SHOWING = frozenset({*range(0xC0, 0xD0), 0xDA, 0xDB, 0xDC, 0xDD, 0xDE, 0xDF})
"""Frames, tables and scans of ITU-T T.81; whatever else is there may tell a place."""

_SHOWING_APPLICATIONS = {0xE0: b"JFIF\0", 0xE2: b"ICC_PROFILE\0", 0xEE: b"Adobe"}

_PNG_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_PNG_CHUNKS = frozenset(
    b"IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB iCCP cICP sBIT pHYs bKGD".split()
)
_WEBP_CHUNKS = frozenset({b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ICCP"})
_WEBP_EXIF, _WEBP_EXIF_OR_XMP = 0b0000_1000, 0b0000_1100

_EXIF_IFD = 0x8769
_KEPT_TAGS = (271, 272, 274, 306)
"""Maker, model, which way is up, time."""
_KEPT_TAKING = (33434, 33437, 34855, 36867, 36868, 37386, 41989)
"""Exposure, aperture, sensitivity, times, focal lengths."""


def without_place(content: bytes, kind: str) -> bytes:
    """
    Give a picture with its coded points untouched and nothing that may tell a place.

    Location stands in more than one corner: Exif, XMP, IPTC, comments, second pictures
    behind the first, notes of makers. So what is kept is listed, not what is dropped.
    """
    keep = {"jpg": _jpeg, "png": _png, "webp": _webp}[kind]
    return b"".join(keep(content))


def _jpeg(content: bytes) -> Iterator[bytes]:
    yield content[:2]
    at = 2
    while True:
        marker, at = _next_marker(content, at)
        if marker == _END:
            yield b"\xff\xd9"
            return
        size = struct.unpack_from(">H", content, at)[0]
        payload = content[at + 2 : at + size]
        if marker in _SHOWING or payload.startswith(
            _SHOWING_APPLICATIONS.get(marker, b"\xff" * 16)
        ):
            yield bytes((0xFF, marker)) + content[at : at + size]
        elif marker == _EXIF_SEGMENT and payload.startswith(b"Exif\0"):
            yield _exif_segment(content)
        at += size
        if marker == _SCAN:
            found = _MARKER.search(content, at)
            end = found.start() if found else len(content)
            yield content[at:end]
            at = end


def _next_marker(content: bytes, at: int) -> tuple[int, int]:
    """Give the next marker and where its segment begins; a missing end is given."""
    while at + 1 < len(content):
        if content[at] != 0xFF:
            raise ValueError(f"byte {at}: found {content[at]}, wanted a marker")
        if content[at + 1] != 0xFF:
            return content[at + 1], at + 2
        at += 1
    return _END, at


def _exif_segment(content: bytes) -> bytes:
    """Write what may be kept of the Exif part anew."""
    told = Image.open(BytesIO(content), formats=("JPEG",)).getexif()
    taking = told.get_ifd(_EXIF_IFD)
    kept = Image.Exif()
    for tag in _KEPT_TAGS:
        if tag in told:
            kept[tag] = told[tag]
    kept.get_ifd(_EXIF_IFD).update(
        {tag: taking[tag] for tag in _KEPT_TAKING if tag in taking}
    )
    payload = kept.tobytes()
    return b"\xff\xe1" + struct.pack(">H", len(payload) + 2) + payload


_WAY_UP = 274
_TURNED = range(2, 9)
_EXIF_HEAD = len(b"Exif\0\0")
"""Stands in front in a JPEG alone."""


def _way_up(content: bytes, kind: str) -> bytes:
    """Write an Exif part that tells which way is up; nothing if it is so already."""
    told = Image.open(BytesIO(content), formats=(kind,)).getexif().get(_WAY_UP)
    if told not in _TURNED:
        return b""
    kept = Image.Exif()
    kept[_WAY_UP] = told
    return kept.tobytes()[_EXIF_HEAD:]


def _png(content: bytes) -> Iterator[bytes]:
    yield _PNG_SIGNATURE
    at = len(_PNG_SIGNATURE)
    while at + 12 <= len(content):
        size, name = struct.unpack_from(">I4s", content, at)
        end = at + 12 + size
        if name in _PNG_CHUNKS:
            yield content[at:end]
        if name == b"IHDR" and (way_up := _way_up(content, "PNG")):
            yield _png_chunk(b"eXIf", way_up)
        if name == b"IEND":
            return
        at = end
    yield _png_chunk(b"IEND", b"")


def _png_chunk(name: bytes, payload: bytes) -> bytes:
    told = name + payload
    return struct.pack(">I", len(payload)) + told + struct.pack(">I", zlib.crc32(told))


def _webp(content: bytes) -> Iterator[bytes]:
    kept = b"".join(_webp_chunks(content))
    yield struct.pack("<4sI4s", b"RIFF", len(kept) + 4, b"WEBP") + kept


def _webp_chunks(content: bytes) -> Iterator[bytes]:
    way_up = _way_up(content, "WEBP")
    told = _WEBP_EXIF if way_up else 0
    at, whole = 12, min(len(content), 8 + struct.unpack_from("<I", content, 4)[0])
    while at + 8 <= whole:
        name, size = struct.unpack_from("<4sI", content, at)
        payload = content[at + 8 : at + 8 + size]
        if name == b"VP8X":
            payload = bytes((payload[0] & ~_WEBP_EXIF_OR_XMP | told,)) + payload[1:]
        if name in _WEBP_CHUNKS:
            yield _webp_chunk(name, payload, size)
        at += 8 + size + size % 2
    if way_up:
        yield _webp_chunk(b"EXIF", way_up, len(way_up))


def _webp_chunk(name: bytes, payload: bytes, size: int) -> bytes:
    return struct.pack("<4sI", name, size) + payload + b"\0" * (size % 2)
