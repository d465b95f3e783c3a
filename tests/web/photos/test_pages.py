"""The pages of photos: who sees what, and what is refused."""

import os
import re
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.web.records.models import Approval, Customer, Photo
from turnscrew.web.records.photo_files import drawing_of, path_of
from turnscrew.web.records.services import people, photos
from web.counter_case import signed_in
from web.photos.conftest import board, written

pytestmark = pytest.mark.usefixtures("clock")


def sent(content: bytes, name: str = "a.jpg", kind: str = "image/jpeg") -> Any:
    return SimpleUploadedFile(name, content, kind)


def added(client: Client, job: Any, file: Any, key: str = "0123456789abcdef") -> Any:
    entered = {"act": "add", "photo": file, "key": key, "caption": "the hinge"}
    return client.post(f"/jobs/{job.ref}/photos/", entered)


def shown_on(page: str) -> str:
    (told,) = set(re.findall(r'name="looked_at" value="(\w+)"', page))
    return told


@pytest.fixture
def client(helper, job) -> Client:
    return signed_in(helper)


def test_it_takes_a_photo_and_tells_how_good_it_is(client, job, jpeg) -> None:
    answer = added(client, job, sent(jpeg))

    photo = Photo.objects.get()
    page = client.get(answer.url).content.decode()
    assert f"/photos/{photo.ref}/" == answer.url
    assert "Sharp and bright enough" in page
    assert "Not cleared: no customer sees it." in page
    assert "the hinge" in client.get(f"/jobs/{job.ref}/photos/").content.decode()


def test_it_names_the_camera_of_the_tablet_and_labels_every_field(client, job) -> None:
    page = client.get(f"/jobs/{job.ref}/photos/").content.decode()

    assert re.search(r'<input type="file"[^>]*accept="image/\*"', page)
    assert 'capture="environment"' in page
    fields = re.findall(r'<(?:input|select)[^>]* id="(add-[^"]+)"[^>]*', page)
    hidden = re.findall(r'<input type="hidden"[^>]* id="(add-[^"]+)"', page)
    labelled = re.findall(r'<label for="(add-[^"]+)"', page)
    assert {"add-photo", "add-caption"} == set(labelled) == set(fields) - set(hidden)


def test_it_keeps_one_of_two_taps_on_the_button(client, job, jpeg) -> None:
    first, second = (added(client, job, sent(jpeg)) for _ in range(2))

    assert first.url == second.url
    assert 1 == Photo.objects.count()


@pytest.mark.parametrize(
    ("content", "name", "kind"),
    [
        (b"<html><script>alert(1)</script>", "a.jpg", "image/jpeg"),
        (b"<svg onload='alert(1)'/>", "a.png", "image/png"),
        (b"PK\x03\x04", "a.webp", "image/webp"),
        (written(board(), "GIF"), "a.jpg", "image/jpeg"),
    ],
)
def test_it_believes_neither_name_nor_type_of_a_file(
    client, job, content, name, kind
) -> None:
    answer = added(client, job, sent(content, name, kind))

    assert 422 == answer.status_code
    assert "found something else, wanted a JPEG, PNG or WebP" in answer.content.decode()
    assert not Photo.objects.exists()


def test_it_says_how_a_phone_takes_pictures_that_can_be_read(client, job) -> None:
    heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic"
    answer = added(client, job, sent(heic, "a.heic", "image/heic"))
    words = "photo: found HEIC, wanted a JPEG, PNG or WebP picture: in the settings"

    assert 422 == answer.status_code
    assert words in answer.content.decode()
    german = Phrasebook(GERMAN).says(
        f"{words} of the phone's camera choose the most compatible format"
    )
    assert german.startswith("Foto: HEIC gefunden, gesucht ein Bild als JPEG")


@pytest.mark.parametrize(
    "name",
    ["../../secret", "..\\..\\secret", "/etc/cron.d/x.jpg", "a\0b.jpg", "x" * 90],
)
def test_it_names_no_file_after_the_sender(client, job, jpeg, settings, name) -> None:
    added(client, job, sent(jpeg, name))

    photo = Photo.objects.get()
    outside = [p for p in settings.PHOTOS.parent.rglob("*") if p != settings.PHOTOS]
    assert all(path.parent == settings.PHOTOS for path in outside)
    assert {photo.ref} == {path.name[:16] for path in outside}


def test_it_drops_what_hangs_behind_a_picture(client, job, jpeg) -> None:
    added(client, job, sent(jpeg + b"<script>alert(1)</script>PK\x03\x04"))

    photo = Photo.objects.get()
    original = client.get(f"/photos/{photo.ref}/original/")
    assert b"script" not in original.content
    assert b"PK\x03\x04" not in original.content


@pytest.mark.parametrize("copy", ["shown", "small", "marked", "cleared"])
def test_a_copy_that_was_lost_is_made_again(client, job, jpeg, copy, lead, now) -> None:
    address = added(client, job, sent(jpeg)).url
    photo = Photo.objects.get()
    photos.draw(photo, [Mark("point", 40, 40)], by=lead, now=now)
    photo.refresh_from_db()
    photos.clear(
        photo, looked_at=drawing_of(photo), by=lead, now=now, is_nothing_private=True
    )
    photo.refresh_from_db()
    whole = client.get(f"{address}{copy}/").content
    path_of(photo, copy).unlink()

    assert whole == client.get(f"{address}{copy}/").content
    mark = {"act": "mark", "kind": "point", "x": "30", "y": "20", "says": "crack"}
    assert 302 == client.post(address, mark).status_code
    assert "is lost" not in client.get(address).content.decode()


def test_a_photo_that_is_lost_says_so_and_keeps_what_was_entered(
    client, job, jpeg, settings
) -> None:
    address = added(client, job, sent(jpeg)).url
    for path in settings.PHOTOS.iterdir():
        path.unlink()
    told = "found its file lost, wanted it removed and taken again"

    page = client.get(address)
    assert (200, True) == (page.status_code, told in page.content.decode())
    mark = {"act": "mark", "kind": "point", "x": "30", "y": "20", "says": "crack here"}
    answer = client.post(address, mark)
    assert (422, True) == (answer.status_code, told in answer.content.decode())
    assert "crack here" in answer.content.decode()
    removed = client.post(address, {"act": "remove", "why": "its file is lost"})
    assert 302 == removed.status_code


def test_it_says_that_the_disk_is_full_and_leaves_nothing(
    client, job, jpeg, settings, monkeypatch
) -> None:
    n_written = []

    def fsync(_: int) -> None:
        n_written.append(1)
        if len(n_written) == 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fsync)
    answer = added(client, job, sent(jpeg))

    assert 422 == answer.status_code
    assert "records: found no room left" in answer.content.decode()
    assert [] == list(settings.PHOTOS.iterdir())
    assert not Photo.objects.exists()


def test_it_refuses_a_file_that_is_too_large_in_words(client, job, jpeg, settings):
    settings.UPLOAD_LIMIT_BYTES = len(jpeg) - 1

    answer = added(client, job, sent(jpeg))
    assert 422 == answer.status_code
    assert f"found {len(jpeg)} bytes" in answer.content.decode()


def test_it_serves_pictures_as_pictures_alone(client, kept) -> None:
    photo = kept()

    for copy, way in (("shown", "inline"), ("small", "inline"), ("original", "attach")):
        answer = client.get(f"/photos/{photo.ref}/{copy}/")
        assert 200 == answer.status_code
        assert answer["Content-Type"] in {"image/webp", "image/jpeg"}
        assert "nosniff" == answer["X-Content-Type-Options"]
        assert answer["Content-Disposition"].startswith(way)
        assert "private" in answer["Cache-Control"]
        assert "default-src 'none'" in answer["Content-Security-Policy"]


def test_it_shows_a_stranger_no_photo(kept) -> None:
    photo = kept()

    for address in (
        f"/photos/{photo.ref}/", f"/photos/{photo.ref}/shown/",
        f"/photos/{photo.ref}/original/", f"/jobs/{photo.job.ref}/photos/",
    ):  # fmt: skip
        assert 404 == Client().get(address).status_code


@pytest.mark.parametrize("copy", ["cleared", "marked", "other", "shown-", "_"])
def test_it_gives_no_copy_that_is_not_there(client, kept, copy) -> None:
    photo = kept()

    assert 404 == client.get(f"/photos/{photo.ref}/{copy}/").status_code
    assert 404 == client.get(f"/photos/{'0' * 16}/shown/").status_code


def test_it_marks_masks_and_clears_by_typed_numbers(client, kept) -> None:
    photo = kept()
    address = f"/photos/{photo.ref}/"

    def enter(act: str, **entered: Any) -> int:
        entered["looked_at"] = shown_on(client.get(address).content.decode())
        return client.post(address, {"act": act, **entered}).status_code

    assert 302 == enter("mark", kind="text", x="10", y="20.5", says="<b>bent</b>")
    assert 302 == enter("mark", kind="arrow", x="1", y="1", to_x="50", to_y="50")
    assert 302 == enter("unmark", n="2")
    assert 302 == enter("mask", left="0", top="0", right="25", bottom="25")
    assert 422 == enter("mask", left="50", top="0", right="25", bottom="25")
    assert 422 == enter("mask", left="nan", top="0", right="25", bottom="25")
    assert 422 == enter("unmask", n="2")
    assert 422 == enter("clear")
    assert 302 == enter("clear", seen="masked")
    page = client.get(address).content.decode()
    assert "text at 10.0, 20.5 %: &lt;b&gt;bent&lt;/b&gt;" in page
    assert "left 0.0 to 25.0, top 0.0 to 25.0 %" in page
    assert f'src="/photos/{photo.ref}/cleared/"' in page
    assert 200 == client.get(f"/photos/{photo.ref}/cleared/").status_code
    assert 302 == enter("unmask", n="1")
    assert "Not cleared" in client.get(address).content.decode()
    assert 422 == enter("clear", seen="masked")
    assert 302 == enter("clear", seen="nothing")


def test_what_the_customer_would_see_is_shown_before_it_is_cleared(
    client, kept, lead, now
) -> None:
    photo = kept()
    photos.hide(photo, [Mask(0, 0, 25, 25)], by=lead, now=now)
    address = f"/photos/{photo.ref}/"

    assert f'src="{address}preview/"' in client.get(address).content.decode()
    answer = client.get(f"{address}preview/")
    seen = np.asarray(Image.open(BytesIO(answer.content)).convert("L"))
    assert 0 == seen[:100, :140].max()
    assert seen[200:].max() > 150
    assert 404 == client.get(f"{address}cleared/").status_code
    assert 404 == Client().get(f"{address}preview/").status_code
    photo.refresh_from_db()
    then = drawing_of(photo)
    photos.clear(photo, looked_at=then, by=lead, now=now)
    assert "preview/" not in client.get(address).content.decode()


def test_a_page_of_a_while_ago_clears_nothing_and_is_shown_anew(
    client, kept, lead, now
) -> None:
    photo = kept()
    photos.hide(photo, [Mask(0, 0, 25, 25), Mask(50, 50, 60, 60)], by=lead, now=now)
    address = f"/photos/{photo.ref}/"
    then = shown_on(client.get(address).content.decode())
    photos.take_away(photo, "masks", 2, looked_at=then, by=lead, now=now)

    for act in ({"act": "clear", "seen": "masked"}, {"act": "unmask", "n": "1"}):
        answer = client.post(address, {**act, "looked_at": then})
        page = answer.content.decode()
        assert 422 == answer.status_code
        assert "found other marks or masks by now, wanted those looked at" in page
        assert then != shown_on(page)
    photo.refresh_from_db()
    assert (1, False) == (len(photo.masks), photo.is_cleared)
    again = {"act": "clear", "seen": "masked", "looked_at": shown_on(page)}
    assert 302 == client.post(address, again).status_code


def test_it_removes_a_photo_to_be_taken_again(client, kept) -> None:
    photo = kept()

    answer = client.post(f"/photos/{photo.ref}/", {"act": "remove", "why": "blurred"})
    assert f"/jobs/{photo.job.ref}/photos/" == answer.url
    assert 404 == client.get(f"/photos/{photo.ref}/").status_code
    assert 404 == client.get(f"/photos/{photo.ref}/original/").status_code


def test_a_refused_file_is_to_be_chosen_again(client, job) -> None:
    answer = added(client, job, sent(b"no picture"))

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert "To what you entered; choose the files again" in page
    assert "nothing is lost" not in page


def test_what_was_entered_for_a_removed_photo_is_told_beside_the_others(
    client, kept, lead, now
) -> None:
    photo = kept()
    address = f"/photos/{photo.ref}/"
    form = client.get(address).content.decode().split('id="mark-form"')[1]
    once = re.search(r'name="once" value="(\w+)"', form)
    assert once is not None
    photos.remove(photo, by=lead, now=now, words="blurred")

    entered = {"act": "mark", "once": once[1], "kind": "ring", "says": "worn pin"}
    answer = client.post(address, entered)

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert "found this not to be done any more" in page
    assert "<td>worn pin</td>" in page
    assert f"Photos of {photo.job.number}" in page


def test_it_puts_no_script_and_no_style_into_its_pages(client, kept) -> None:
    photo = kept()

    for address in (f"/photos/{photo.ref}/", f"/jobs/{photo.job.ref}/photos/"):
        page = client.get(address).content.decode()
        assert [] == re.findall(r"<style|style=|\son\w+=|<script(?![^>]*src=)", page)


def test_it_lets_a_contact_see_cleared_photos_of_their_own_devices_alone(
    kept, sallowmere, job, lead, now
) -> None:
    photo = kept()
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=now)
    signed = people.contact_address(link)
    address = f"/answer/{signed}/photos/{photo.ref}/"
    contact = Client()

    assert 404 == contact.get(address).status_code
    photos.hide(photo, [Mask(0, 0, 25, 25)], by=lead, now=now)
    photo.refresh_from_db()
    photos.clear(photo, looked_at=drawing_of(photo), by=lead, now=now)
    assert 404 == contact.get(address).status_code
    Approval.objects.create(job=job, quote_minor=1, asked_at=now)
    answer = contact.get(address)
    assert (200, "image/webp") == (answer.status_code, answer["Content-Type"])
    assert "no-store" in answer["Cache-Control"]
    forged = signed[:-1] + ("A" if signed[-1] != "A" else "B")
    assert 404 == contact.get(f"/answer/{forged}/photos/{photo.ref}/").status_code

    other = Customer.objects.create(name="Another house")
    sallowmere.pk, sallowmere.ref, sallowmere.customer = None, "f" * 16, other
    sallowmere._state.adding = True
    sallowmere.save()
    foreign = people.contact_address(people.invite(sallowmere, "X", by=lead, now=now))
    assert 404 == contact.get(f"/answer/{foreign}/photos/{photo.ref}/").status_code
