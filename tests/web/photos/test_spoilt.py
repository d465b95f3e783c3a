"""Is a photo that was spoilt on its way kept or refused, and never half of both?"""

import random
from io import BytesIO
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from fuzz.spoiling import CHUNKS, spoilt
from turnscrew.web.records.models import Photo
from web.counter_case import signed_in
from web.photos.conftest import XMP, board, located_exif, written

ACTS = ("put", "over", "byte", "cut", "again", "swap", "end")
SOUND = {
    "JPEG": {"exif": located_exif(), "xmp": XMP, "comment": b"Elsewhere"},
    "PNG": {"exif": located_exif()},
    "WEBP": {"exif": located_exif(), "xmp": XMP},
}  # fmt: skip


def draw_spoils(draw: random.Random) -> list[tuple[str, float, bytes | int]]:
    """Draw some places to spoil; half of them in the head, where the readers read."""
    drawn: list[tuple[str, float, bytes | int]] = []
    for act in draw.choices(ACTS, k=draw.randint(1, 3)):
        place = draw.random() * draw.choice((0.05, 1.0))
        more: bytes | int = draw.randint(1, 400)
        if act in {"put", "over"}:
            more = draw.choice(CHUNKS)
        elif act == "byte":
            more = draw.randbytes(draw.randint(1, 3))
        drawn.append((act, place, more))
    return drawn


# The library tells the log of what it could not read, and goes on without.
@pytest.mark.filterwarnings("ignore::UserWarning:PIL")
@pytest.mark.parametrize("kind", SOUND)
def test_a_spoilt_photo_is_kept_to_be_seen_or_refused_in_words(
    kind, job, lead, clock, n_fuzz
) -> None:
    draw, client = random.Random(4), signed_in(lead)
    sound = written(board(160, 120), kind, **SOUND[kind])
    outcomes = {302: 0, 422: 0}
    for n in range(n_fuzz):
        content = spoilt(sound, draw_spoils(draw))
        file: Any = SimpleUploadedFile("a.jpg", content, "image/jpeg")
        entered = {"act": "add", "photo": file, "key": f"{kind.lower()}-{n:012}"}
        answer = client.post(f"/jobs/{job.ref}/photos/", entered)
        assert answer.status_code in outcomes, (n, content[:80])
        outcomes[answer.status_code] += 1
        if 422 == answer.status_code:
            words = "wanted" if content else "The submitted file is empty"
            assert words in answer.content.decode(), n
    photos = Photo.objects.filter(is_removed=False)
    # Both happen, and what was refused left nothing behind.
    assert min(outcomes.values()) > 0
    assert outcomes[302] >= photos.count() > 0
    for photo in photos:
        for copy in ("shown", "small", "original"):
            shown = client.get(f"/photos/{photo.ref}/{copy}/")
            assert 200 == shown.status_code, photo
            whole = shown.content
            Image.open(BytesIO(whole)).load()
            assert b"the station" not in whole
            assert b"Elsewhere" not in whole
