"""No picture that is kept tells where it was taken."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image, ImageOps, PngImagePlugin

from turnscrew.web.records.photo_bytes import without_place
from web.photos.conftest import XMP, board, located_exif, written

TELLTALE = (b"GPS", b"Elsewhere", b"52,31", b"52.52", b"xmpmeta", b"PK\x03\x04")


def points(content: bytes) -> np.ndarray:
    return np.asarray(Image.open(BytesIO(content)).convert("RGBA"))


def png() -> bytes:
    words = PngImagePlugin.PngInfo()
    words.add_text("Location", "Elsewhere")
    words.add_itxt("XML:com.adobe.xmp", XMP.decode(), zip=False)
    return written(board(), "PNG", pnginfo=words, exif=located_exif())


def second_picture() -> bytes:
    behind = written(board(64, 64), "JPEG", exif=located_exif())
    return written(board(), "JPEG", exif=located_exif()) + behind


PICTURES = {
    "jpg": ("jpg", written(board(), "JPEG", exif=located_exif(), xmp=XMP)),
    "comment": ("jpg", written(board(), "JPEG", comment=b"Elsewhere")),
    "progressive": (
        "jpg",
        written(board(), "JPEG", progressive=True, exif=located_exif()),
    ),
    "grey": ("jpg", written(board().convert("L"), "JPEG", exif=located_exif())),
    "inks": ("jpg", written(board().convert("CMYK"), "JPEG", exif=located_exif())),
    "restarts": (
        "jpg",
        written(board(), "JPEG", restart_marker_rows=1, exif=located_exif()),
    ),
    "second picture": ("jpg", second_picture()),
    "archive behind": ("jpg", written(board(), "JPEG") + b"PK\x03\x04Elsewhere"),
    "png": ("png", png()),
    "png behind": ("png", written(board(), "PNG") + b"PK\x03\x04Elsewhere"),
    "webp": ("webp", written(board(), "WEBP", exif=located_exif(), xmp=XMP)),
    "webp lossless": (
        "webp",
        written(
            board().convert("RGBA"), "WEBP", lossless=True, exif=located_exif(), xmp=XMP
        ),
    ),
    "webp behind": ("webp", written(board(), "WEBP") + b"PK\x03\x04Elsewhere"),
}


@pytest.mark.parametrize("name", PICTURES)
def test_it_drops_every_place_and_keeps_every_point(name) -> None:
    kind, content = PICTURES[name]

    kept = without_place(content, kind)
    assert any(word in content for word in TELLTALE)
    assert [] == [word for word in TELLTALE if word in kept]
    assert np.array_equal(points(content), points(kept))
    assert 0x8825 not in Image.open(BytesIO(kept)).getexif()


def test_it_leaves_the_coded_points_of_a_jpeg_as_they_are(jpeg) -> None:
    kept = without_place(jpeg, "jpg")

    coded = jpeg[jpeg.index(b"\xff\xda") :]
    assert coded == kept[kept.index(b"\xff\xda") :]


def test_it_keeps_which_way_is_up_and_when_it_was_taken() -> None:
    content = written(board(), "JPEG", exif=located_exif(6))

    told = Image.open(BytesIO(without_place(content, "jpg"))).getexif()
    assert {274: 6, 306: "2027:02:01 08:59:00"} == {
        tag: told[tag] for tag in told if tag != 0x8769
    }
    assert {36867: "2027:02:01 08:58:00"} == told.get_ifd(0x8769)


TURNED_BY_WORDS = (
    b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:Description tiff:Orientation="6" '
    b'photoshop:City="Elsewhere"/></x:xmpmeta>'
)


@pytest.mark.parametrize(("kind", "name"), [("png", "PNG"), ("webp", "WEBP")])
@pytest.mark.parametrize("told", ["exif", "xmp"])
def test_a_picture_that_lies_on_its_side_stands_up_when_it_is_kept(
    kind, name, told
) -> None:
    if told == "exif":
        content = written(board(), name, exif=located_exif(6))
    elif name == "PNG":
        words = PngImagePlugin.PngInfo()
        words.add_itxt("XML:com.adobe.xmp", TURNED_BY_WORDS.decode(), zip=False)
        content = written(board(), name, pnginfo=words)
    else:
        content = written(board(), name, xmp=TURNED_BY_WORDS)

    kept = without_place(content, kind)
    image = Image.open(BytesIO(kept))
    image.load()
    assert {274: 6} == dict(image.getexif())
    assert (480, 640) == ImageOps.exif_transpose(image).size
    assert [] == [word for word in TELLTALE if word in kept]
    assert np.array_equal(points(content), points(kept))
    assert kept == without_place(kept, kind)


def test_it_leaves_a_picture_without_a_place_byte_for_byte() -> None:
    for kind, name in (("jpg", "JPEG"), ("png", "PNG"), ("webp", "WEBP")):
        content = written(board(), name)

        assert content == without_place(content, kind)


def test_it_ends_a_jpeg_that_was_not_ended(jpeg) -> None:
    assert without_place(jpeg, "jpg") == without_place(jpeg[:-2], "jpg")
