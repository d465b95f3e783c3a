"""Photos as they come from a tablet."""

from collections.abc import Callable
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageDraw

GPS = {1: "N", 2: (52.0, 31.0, 12.0), 3: "E", 4: (13.0, 24.0, 36.0), 29: "2027:02:01"}
XMP = (
    b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:Description '
    b'exif:GPSLatitude="52,31.2N" photoshop:City="Elsewhere"/></x:xmpmeta>'
)


def board(width: int = 640, height: int = 480) -> Image.Image:
    """Draw parts on a board, lighter towards the upper left corner."""
    chance = np.random.default_rng(3)  # noqa: TID251 - a fixed seed
    image = Image.new("RGB", (width, height), (60, 110, 70))
    draw = ImageDraw.Draw(image)
    for _ in range(150):
        x, y = (int(n) for n in chance.integers(0, 620, 2))
        wide, high = (int(n) for n in chance.integers(4, 50, 2))
        colour = tuple(int(n) for n in chance.integers(20, 235, 3))
        draw.rectangle((x, y, x + wide, y + high), fill=colour)
    draw.rectangle((0, 0, width // 4, height // 4), fill=(250, 250, 250))
    return image


def located_exif(orientation: int = 1) -> Image.Exif:
    exif = Image.Exif()
    exif[274] = orientation
    exif[306] = "2027:02:01 08:59:00"
    exif[270] = "Elsewhere, at the station"
    exif.get_ifd(0x8825).update(GPS)
    exif.get_ifd(0x8769).update({36867: "2027:02:01 08:58:00", 37500: b"GPS=52.52"})
    return exif


def written(image: Image.Image, kind: str, **options: Any) -> bytes:
    file = BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


@pytest.fixture
def jpeg() -> bytes:
    return written(
        board(), "JPEG", quality=90, exif=located_exif(), xmp=XMP, comment=b"Elsewhere"
    )


@pytest.fixture
def job(sallowmere) -> Any:
    return sallowmere.jobs.get(line=1)


@pytest.fixture
def kept(job, jpeg, lead, now) -> Callable[..., Any]:
    from turnscrew.web.records.services.photos import (  # noqa: PLC0415 - needs settings
        add_photo,
    )

    def keep(content: bytes = jpeg, **options: Any) -> Any:
        return add_photo(job, content, by=lead, now=now, **options)

    return keep
