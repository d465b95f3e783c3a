"""Which copies are made of a photo, and is it a photo at all?"""

import struct
from collections.abc import Iterable
from dataclasses import dataclass
from importlib import resources
from io import BytesIO

import numpy as np
from django.conf import settings
from PIL import Image, ImageDraw, ImageFont, ImageOps

from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.core.photo.verdict import LONGEST_PX, Verdict, verdict_of
from turnscrew.web.records.photo_bytes import without_place

_FORMATS = {"JPEG": "jpg", "MPO": "jpg", "PNG": "png", "WEBP": "webp"}
_SHOWN_PX, _SMALL_PX, _LEAST_PX = 2048, 320, 16
_QUALITY = 85
_PAPER_PX, _PAPER_QUALITY = 480, 80
_BROKEN = (OSError, SyntaxError, ValueError, EOFError, struct.error, IndexError)
"""What a decoder says of a picture that is none, or breaks off."""

_HEIC = tuple(b"ftyp" + kind for kind in (b"heic", b"heix", b"mif1", b"msf1"))
"""How a picture begins, behind its first four bytes, that many phones take."""


class NoPhotoError(ValueError):
    """Say what is wrong with something sent as a photo: where, found, wanted."""


@dataclass(frozen=True)
class Prepared:
    """A photo ready to be kept, and what was seen of it."""

    original: bytes
    suffix: str
    shown: bytes
    small: bytes
    width_px: int
    height_px: int
    verdict: Verdict


def prepared(content: bytes) -> Prepared:
    """Look at what was sent, by its content alone, and make its copies."""
    if len(content) > settings.UPLOAD_LIMIT_BYTES:
        raise NoPhotoError(
            f"photo: found {len(content)} bytes, "
            f"wanted {settings.UPLOAD_LIMIT_BYTES} or fewer"
        )
    image = _opened(content)
    kind = _FORMATS[str(image.format)]
    size = image.size
    try:
        upright = _upright(image)
        original = without_place(content, kind)
    except (*_BROKEN, Image.DecompressionBombError) as error:
        raise NoPhotoError(
            f"photo: found a picture that breaks off or is damaged ({error}), "
            "wanted a whole one"
        ) from error
    is_turned = (upright.width > upright.height) != (size[0] > size[1])
    width_px, height_px = size[::-1] if is_turned else size
    return Prepared(
        original=original,
        suffix=kind,
        shown=_webp(upright),
        small=_webp(_small(upright)),
        width_px=width_px,
        height_px=height_px,
        verdict=_measured(upright),
    )


def marked(shown: bytes, marks: Iterable[Mark]) -> bytes:
    """Draw marks on a copy of what is shown."""
    image = Image.open(BytesIO(shown)).convert("RGB")
    _draw(image, marks)
    return _webp(image)


def cleared(shown: bytes, marks: Iterable[Mark], masks: Iterable[Mask]) -> bytes:
    """
    Give the copy for the customer: what is masked is black, not blurred.

    Blurred letters can be guessed back, black ones cannot. Masks come last, so that no
    mark tells of what lies under one.
    """
    image = Image.open(BytesIO(shown)).convert("RGB")
    _draw(image, marks)
    draw = ImageDraw.Draw(image)
    for mask in masks:
        # Outward to whole points, and over the edge where a mask ends there.
        box = (
            int(mask.left * image.width / 100) - 1,
            int(mask.top * image.height / 100) - 1,
            int(mask.right * image.width / 100) + 1,
            int(mask.bottom * image.height / 100) + 1,
        )
        draw.rectangle(box, fill=(0, 0, 0))
    return _webp(image)


def for_paper(cleared_copy: bytes) -> bytes:
    """Give a small grey copy of what was cleared, as papers are black on white."""
    image = Image.open(BytesIO(cleared_copy)).convert("L")
    image.thumbnail((_PAPER_PX, _PAPER_PX))
    file = BytesIO()
    image.save(file, "JPEG", quality=_PAPER_QUALITY)
    return file.getvalue()


def _opened(content: bytes) -> Image.Image:
    """Read the head of a picture and refuse it before any point is decoded."""
    try:
        image = Image.open(BytesIO(content), formats=("JPEG", "PNG", "WEBP"))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_large("more points than can be") from error
    except _BROKEN as error:
        wanted = "wanted a JPEG, PNG or WebP picture"
        if content[4:12] in _HEIC:
            raise NoPhotoError(
                f"photo: found HEIC, {wanted}: in the settings of the phone's camera "
                "choose the most compatible format"
            ) from error
        raise NoPhotoError(f"photo: found something else, {wanted}") from error
    n_points = image.width * image.height
    if n_points > settings.PHOTO_LIMIT_PIXELS:
        raise _too_large(f"{n_points} points")
    if min(image.size) < _LEAST_PX:
        raise NoPhotoError(
            f"photo: found {image.width} x {image.height} points, "
            f"wanted {_LEAST_PX} x {_LEAST_PX} or more"
        )
    if image.format != "MPO" and getattr(image, "is_animated", False):
        raise NoPhotoError("photo: found a moving picture, wanted a still one")
    return image


def _too_large(found: str) -> NoPhotoError:
    return NoPhotoError(
        f"photo: found {found}, wanted {settings.PHOTO_LIMIT_PIXELS} or fewer"
    )


def _upright(image: Image.Image) -> Image.Image:
    """Turn a picture upright and bring it to size, with nothing but its points."""
    image.draft("RGB", (_SHOWN_PX, _SHOWN_PX))
    turned = _in_eight_bits(ImageOps.exif_transpose(image))
    if turned.mode in {"RGBA", "LA", "P", "PA"}:
        see_through = turned.convert("RGBA")
        turned = Image.new("RGB", turned.size, (255, 255, 255))
        turned.paste(see_through, mask=see_through)
    plain = Image.new("RGB", turned.size)
    plain.paste(turned.convert("RGB"))
    plain.thumbnail((_SHOWN_PX, _SHOWN_PX))
    return plain


def _in_eight_bits(image: Image.Image) -> Image.Image:
    """Bring grey of sixteen bits to eight: cut off it would be white all over."""
    if not image.mode.startswith("I"):
        return image
    grey = np.asarray(image, dtype=np.uint32)
    return Image.fromarray((grey // 257).astype(np.uint8))


def _small(image: Image.Image) -> Image.Image:
    copy = image.copy()
    copy.thumbnail((_SMALL_PX, _SMALL_PX))
    return copy


def _measured(image: Image.Image) -> Verdict:
    grey = image.convert("L")
    grey.thumbnail((LONGEST_PX, LONGEST_PX), Image.Resampling.BOX)
    return verdict_of(np.asarray(grey, dtype=np.float64) / 255)


def _webp(image: Image.Image) -> bytes:
    file = BytesIO()
    image.save(file, "WEBP", quality=_QUALITY, method=4)
    return file.getvalue()


def _draw(image: Image.Image, marks: Iterable[Mark]) -> None:
    draw = ImageDraw.Draw(image)
    unit = max(image.size) / 100
    for mark in marks:
        at = (mark.x * image.width / 100, mark.y * image.height / 100)
        if mark.kind == "point":
            draw.circle(at, 2 * unit, outline=(255, 0, 0), width=max(2, int(unit / 3)))
        elif mark.kind == "arrow":
            to = (mark.to_x * image.width / 100, mark.to_y * image.height / 100)
            _draw_arrow(draw, at, to, unit)
        if mark.says:
            beside = (at[0] + 2.5 * unit, at[1] - 1.2 * unit)
            _write(image, at if mark.kind == "text" else beside, mark.says)


def _write(image: Image.Image, at: tuple[float, float], says: str) -> None:
    """Write words at a place or as near it as they are whole inside the picture."""
    draw = ImageDraw.Draw(image)
    size = max(12.0, 0.024 * max(image.size))
    font = ImageFont.truetype(_font_path(), int(size))
    if (n_wide := font.getlength(says)) > image.width:
        font = ImageFont.truetype(
            _font_path(), max(6, int(size * image.width / n_wide))
        )
    left, top, right, bottom = draw.textbbox(at, says, font)
    by_x = min(0.0, image.width - right) or max(0.0, -left)
    by_y = min(0.0, image.height - bottom) or max(0.0, -top)
    put = (at[0] + by_x, at[1] + by_y)
    draw.rectangle(draw.textbbox(put, says, font), fill=(255, 255, 255))
    draw.text(put, says, fill=(180, 0, 0), font=font)


def _draw_arrow(
    draw: ImageDraw.ImageDraw,
    at: tuple[float, float],
    to: tuple[float, float],
    unit: float,
) -> None:
    along = np.subtract(to, at)
    along = along / max(float(np.hypot(*along)), 1e-9) * 2.5 * unit
    across = np.array((-along[1], along[0])) / 2.5
    neck = np.subtract(to, along)
    draw.line((at, (neck[0], neck[1])), fill=(255, 0, 0), width=max(2, int(unit / 3)))
    corners = (to, tuple(neck + across), tuple(neck - across))
    draw.polygon([(float(x), float(y)) for x, y in corners], fill=(255, 0, 0))


def _font_path() -> str:
    folder = resources.files("font_source_sans_pro") / "files"
    return str(folder / "SourceSansPro-Regular.ttf")
