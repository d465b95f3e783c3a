"""Photos from the tablet to the customer's page, and what never gets there."""

import json
import struct
import zlib
from hashlib import sha256
from io import BytesIO

import numpy as np
import pytest
from django.http import Http404
from PIL import Image, ImageFilter

from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.web.records.models import Approval, Entry, Photo
from turnscrew.web.records.photo_files import drawing_of, path_of
from turnscrew.web.records.queries import photos as queries
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import photos
from turnscrew.web.records.services.refusal import RefusedError
from web.photos.conftest import board, located_exif, written

CORNER = Mask(0, 0, 25, 25)


def looked(photo: Photo) -> str:
    return drawing_of(Photo.objects.get(pk=photo.pk))


def opened(content: bytes) -> Image.Image:
    return Image.open(BytesIO(content))


def files(settings) -> set[str]:
    return {path.name for path in settings.PHOTOS.iterdir()}


def test_it_keeps_a_photo_and_writes_its_digest_into_the_journal(
    kept, settings
) -> None:
    photo = kept(caption=" the hinge ")

    original, kind = queries.picture(photo, "original")
    entry = Entry.objects.filter(journal="bench", verb="photo").get()
    assert "image/jpeg" == kind
    assert sha256(original).hexdigest() == photo.sha256
    assert {"photo": photo.ref, "sha256": photo.sha256} == json.loads(entry.facts)
    assert (640, 480, "the hinge") == (photo.width_px, photo.height_px, photo.caption)
    assert "sharp and bright enough" == photo.verdict
    assert {f"{photo.ref}{end}" for end in (".jpg", "-shown.webp", "-small.webp")} == (
        files(settings)
    )
    assert () == audited().breaks


def test_it_shows_a_photo_upright_small_enough_and_without_metadata(kept) -> None:
    photo = kept(written(board(3000, 1500), "JPEG", exif=located_exif(6)))

    shown = opened(queries.picture(photo, "shown")[0])
    small = opened(queries.picture(photo, "small")[0])
    # The light corner was the upper left one; a quarter turn brings it to the right.
    light = np.asarray(shown.convert("L"))[:200, -200:].mean()
    assert ("WEBP", (1024, 2048)) == (shown.format, shown.size)
    assert ("WEBP", (160, 320)) == (small.format, small.size)
    assert (1500, 3000) == (photo.width_px, photo.height_px)
    assert light > 230
    assert {} == dict(shown.getexif()) == dict(small.getexif())
    assert not {"exif", "xmp", "icc_profile"} & set(shown.info)


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_it_takes_other_kinds_by_their_content(kept, kind) -> None:
    photo = kept(written(board().convert("RGBA"), kind))

    assert kind.lower() == photo.suffix
    assert f"image/{kind.lower()}" == queries.picture(photo, "original")[1]


def test_it_tells_at_once_that_a_photo_is_blurred_or_dark(kept) -> None:
    blurred = board().filter(ImageFilter.GaussianBlur(4))
    dark = board().point(lambda value: value // 10)

    assert "blurred" in kept(written(blurred, "JPEG")).verdict
    assert "too dark" in kept(written(dark, "PNG")).verdict


def bomb() -> bytes:
    """Tell of far more points than come."""

    def chunk(name: bytes, payload: bytes) -> bytes:
        sealed = zlib.crc32(name + payload)
        return (
            struct.pack(">I", len(payload)) + name + payload + struct.pack(">I", sealed)
        )

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + chunk(b"IEND", b"")
    )


def moving() -> bytes:
    return written(board(), "WEBP", save_all=True, append_images=[board().rotate(180)])


BAD = {
    "nothing": (b"", "found something else"),
    "words": (b"no picture at all", "found something else"),
    "page": (b"<html><script>1</script></html>", "found something else"),
    "drawing": (b'<svg xmlns="http://www.w3.org/2000/svg"/>', "found something else"),
    "other kind": (written(board(), "GIF"), "found something else"),
    "film": (written(board(), "TIFF"), "found something else"),
    "half": (written(board(), "JPEG")[:9000], "breaks off"),
    "half png": (written(board(), "PNG")[:4000], "breaks off"),
    "bomb": (bomb(), "wanted 60000000 or fewer"),
    "moving": (moving(), "found a moving picture"),
    "tiny": (written(board(15, 200), "PNG"), "found 15 x 200 points"),
    "heads alone": (b"\xff\xd8\xff\xe0\x00\x00", "found something else"),
}


@pytest.mark.parametrize("name", BAD)
def test_it_refuses_what_is_no_photo_and_keeps_nothing(kept, settings, name) -> None:
    content, said = BAD[name]

    with pytest.raises(RefusedError, match=said):
        kept(content)
    assert not Photo.objects.exists()
    assert not settings.PHOTOS.exists()


def test_it_refuses_too_many_bytes_before_it_looks_at_them(kept, settings) -> None:
    settings.UPLOAD_LIMIT_BYTES = 1000

    with pytest.raises(RefusedError, match="found 1001 bytes, wanted 1000 or fewer"):
        kept(b"x" * 1001)


def test_it_refuses_too_many_points_before_it_decodes_them(kept, settings) -> None:
    settings.PHOTO_LIMIT_PIXELS = 640 * 480 - 1

    with pytest.raises(RefusedError, match="found 307200 points"):
        kept()


def test_it_keeps_a_photo_once_that_is_sent_twice(kept, settings) -> None:
    first = kept(client_key="tablet-1")

    assert first == kept(client_key="tablet-1")
    assert 3 == len(files(settings))
    assert 1 == Entry.objects.filter(verb="photo").count()


def test_it_keeps_a_photo_once_that_is_sent_twice_at_once(
    kept, settings, monkeypatch
) -> None:
    first = kept(client_key="tablet-1")
    answers = iter([None, first])
    monkeypatch.setattr(photos, "_sent_before", lambda *_: next(answers))

    assert first == kept(client_key="tablet-1")
    assert 3 == len(files(settings))
    assert 1 == Entry.objects.filter(verb="photo").count()


def test_it_takes_no_key_of_another_device(kept, sallowmere, lead, now, jpeg) -> None:
    kept(client_key="tablet-1")
    other = sallowmere.jobs.get(line=2)

    with pytest.raises(RefusedError, match="another device"):
        photos.add_photo(other, jpeg, by=lead, now=now, client_key="tablet-1")


def test_it_points_out_on_a_copy(kept, lead, now) -> None:
    photo = kept()
    before = queries.picture(photo, "shown")[0]
    marks = [
        Mark("point", 50, 50),
        Mark("arrow", 10, 90, 90, 90, "here"),
        Mark("text", 5, 60, says="corroded: Ü, Ω"),
    ]

    photos.draw(photo, marks, by=lead, now=now)
    photo.refresh_from_db()
    drawn = opened(queries.picture(photo, "marked")[0]).convert("RGB")
    plain = opened(before).convert("RGB")
    changed = np.abs(np.asarray(drawn, int) - np.asarray(plain, int)).max(axis=2) > 60
    assert before == queries.picture(photo, "shown")[0]
    assert tuple(marks) == queries.marks_of(photo)
    assert changed[420:445, 80:520].any()
    assert changed[285:310, 30:100].any()
    assert not changed[:150].any()


def test_it_shows_no_customer_a_photo_nobody_cleared(kept, job, lead, now) -> None:
    photo = kept()
    photos.hide(photo, [CORNER], by=lead, now=now)
    photo.refresh_from_db()

    assert [] == queries.cleared_photos(job)
    with pytest.raises(Http404):
        queries.picture(photo, "cleared")


def test_it_clears_nothing_without_masks_or_the_word_of_somebody(kept, lead, now):
    photo = kept()

    with pytest.raises(RefusedError, match="found no mask"):
        photos.clear(photo, looked_at=looked(photo), by=lead, now=now)
    photos.clear(
        photo, looked_at=looked(photo), by=lead, now=now, is_nothing_private=True
    )
    photo.refresh_from_db()
    assert photo.is_cleared


def test_it_burns_masks_in_black_over_every_mark(kept, job, lead, now) -> None:
    photo = kept()
    photos.draw(photo, [Mark("text", 2, 2, says="name")], by=lead, now=now)
    photos.hide(photo, [CORNER, Mask(90, 90, 100, 100)], by=lead, now=now)
    photo.refresh_from_db()
    photos.clear(photo, looked_at=looked(photo), by=lead, now=now)
    photo.refresh_from_db()

    [(told, content)] = queries.cleared_photos(job)
    image = opened(content)
    seen = np.asarray(image.convert("RGB"))
    assert photo == told
    # The code of the picture lets a trace of what is beside a mask run over its edge.
    assert 0 == seen[:100, :140].max() == seen[450:, 600:].max()
    assert 8 > seen[:120, :160].max()
    assert 8 > seen[432:, 576:].max()
    assert seen[130:400].max() > 150
    assert {} == dict(image.getexif())
    assert not {"exif", "xmp", "icc_profile"} & set(image.info)


@pytest.mark.parametrize("what", ["draw", "hide"])
def test_it_takes_a_photo_back_from_the_customer_once_it_changes(
    kept, job, lead, now, settings, what
) -> None:
    photo = kept()
    photos.hide(photo, [CORNER], by=lead, now=now)
    photo.refresh_from_db()
    photos.clear(photo, looked_at=looked(photo), by=lead, now=now)
    assert queries.cleared_photos(job)

    if what == "draw":
        photos.draw(photo, [Mark("point", 1, 1)], by=lead, now=now)
    else:
        photos.take_away(photo, "masks", 1, looked_at=looked(photo), by=lead, now=now)
    assert [] == queries.cleared_photos(job)
    assert not any("cleared" in name for name in files(settings))


def test_it_clears_nothing_that_changed_meanwhile(kept, job, lead, now) -> None:
    photo = kept()
    photos.hide(photo, [CORNER], by=lead, now=now)
    before = Photo.objects.get()
    then = drawing_of(before)
    away = {"looked_at": then, "by": lead, "now": now}
    photos.take_away(photo, "masks", 1, **away)

    for one in (before, Photo.objects.get()):
        with pytest.raises(RefusedError, match="found other marks or masks by now"):
            photos.clear(one, looked_at=then, by=lead, now=now)
    with pytest.raises(RefusedError, match="found other marks or masks by now"):
        photos.take_away(photo, "masks", 1, **away)
    assert [] == queries.cleared_photos(job)


def test_what_two_hide_from_one_picture_is_hidden_both(kept, lead, now) -> None:
    photo = kept()
    first, second = Photo.objects.get(), Photo.objects.get()

    photos.hide(first, [CORNER], by=lead, now=now)
    photos.hide(second, [Mask(90, 90, 100, 100)], by=lead, now=now)
    photos.draw(first, [Mark("point", 1, 1)], by=lead, now=now)
    photos.draw(second, [Mark("point", 9, 9)], by=lead, now=now)
    photo.refresh_from_db()
    assert (2, 2) == (len(photo.masks), len(photo.marks))
    assert path_of(photo, "marked").is_file()


@pytest.mark.parametrize("at", [(0, 0), (99, 99), (95, 1), (1, 99)])
def test_words_at_an_edge_are_whole_inside_the_picture(kept, lead, now, at) -> None:
    photo = kept(written(Image.new("RGB", (300, 900)), "PNG"))

    photos.draw(photo, [Mark("text", *at, says="bent at the hinge")], by=lead, now=now)
    photo.refresh_from_db()
    drawn = np.asarray(opened(queries.picture(photo, "marked")[0]).convert("RGB"), int)
    light = np.argwhere(drawn.min(axis=2) > 200)
    high, wide = np.ptp(light, axis=0)
    assert high > 12
    assert wide > 130


@pytest.mark.parametrize(("most", "wanted"), [(65_535, 127), (3_000, 6)])
def test_it_keeps_grey_of_sixteen_bits_as_dark_as_it_is(kept, most, wanted) -> None:
    grey = np.linspace(0, most, 256 * 256).reshape(256, 256).astype(np.uint16)
    photo = kept(written(Image.fromarray(grey), "PNG"))

    shown = opened(queries.picture(photo, "shown")[0]).convert("L")
    assert wanted == pytest.approx(np.asarray(shown, float).mean(), abs=2)


def test_it_keeps_a_strip_of_a_picture(kept) -> None:
    photo = kept(written(Image.new("RGB", (20_000, 16)), "PNG"))

    assert (320, 1) == opened(queries.picture(photo, "small")[0]).size


def test_it_refuses_what_cannot_be_drawn(kept, lead, now) -> None:
    photo = kept()

    with pytest.raises(RefusedError, match="mark 2, x: found 101"):
        photos.draw(
            photo, [Mark("point", 1, 1), Mark("point", 101, 1)], by=lead, now=now
        )
    with pytest.raises(RefusedError, match="mask 1, right: found 1"):
        photos.hide(photo, [Mask(2, 2, 1, 3)], by=lead, now=now)
    with pytest.raises(RefusedError, match="masks: found 41"):
        photos.hide(photo, [CORNER] * 41, by=lead, now=now)


def test_it_removes_a_photo_with_all_its_copies(kept, job, lead, now, settings) -> None:
    photo = kept(caption="the hinge")
    other = kept(written(board(), "PNG"))
    photos.draw(photo, [Mark("point", 1, 1)], by=lead, now=now)

    photos.remove(photo, by=lead, now=now, words="blurred")
    photo.refresh_from_db()
    entry = Entry.objects.filter(verb="undone").get()
    assert (True, "", []) == (photo.is_removed, photo.caption, photo.marks)
    assert "blurred" == entry.words.text
    assert {other.ref} == {name[:16] for name in files(settings)}
    assert [other] == queries.photos_of(job)
    with pytest.raises(Http404):
        queries.photo_named(photo.ref)


def test_it_wants_to_know_why_a_photo_is_removed(kept, lead, now) -> None:
    photo = kept()

    with pytest.raises(RefusedError, match="reason: found none"):
        photos.remove(photo, by=lead, now=now, words=" ")
    assert path_of(photo, "original").is_file()


def test_it_changes_no_photo_that_was_removed(kept, lead, now, settings) -> None:
    photo = kept()
    photos.remove(Photo.objects.get(), by=lead, now=now, words="twice")

    with pytest.raises(RefusedError, match="found one that was removed"):
        photos.hide(photo, [CORNER], by=lead, now=now)
    with pytest.raises(RefusedError, match="found its file lost"):
        photos.clear(
            photo, looked_at=looked(photo), by=lead, now=now, is_nothing_private=True
        )
    assert set() == files(settings)


def test_it_keeps_no_file_of_a_photo_that_could_not_be_written_down(
    kept, settings, monkeypatch
) -> None:
    def fail(*_, **__):
        raise OSError("disk full")

    monkeypatch.setattr(photos, "append", fail)

    with pytest.raises(OSError, match="disk full"):
        kept()
    assert set() == files(settings)
    assert not Photo.objects.exists()


def test_it_shows_a_contact_what_was_asked_about_and_cleared_alone(
    kept, sallowmere, job, lead, now
) -> None:
    photo = kept()
    photos.clear(
        photo, looked_at=looked(photo), by=lead, now=now, is_nothing_private=True
    )

    with pytest.raises(Http404):
        queries.cleared_photo(sallowmere, photo.ref)
    Approval.objects.create(job=job, quote_minor=1, asked_at=now)
    assert photo == queries.cleared_photo(sallowmere, photo.ref)
    photos.hide(photo, [CORNER], by=lead, now=now)
    with pytest.raises(Http404):
        queries.cleared_photo(sallowmere, photo.ref)
