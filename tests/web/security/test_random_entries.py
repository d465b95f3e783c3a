"""Does every form take or refuse, in words, whatever is entered into it?"""

import random
from io import BytesIO
from typing import Any

import pytest
from django import forms
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from PIL import Image

from turnscrew.web.counter.fields import AmountField, LinesField
from turnscrew.web.records.models import Photo
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import photos
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in
from web.security.conftest import address_of, page_routes

ODD = (
    "", " ", "0", "1", "-1", "3", "1,5", "1.5", "1e9", "nan", "inf", "9" * 30, "12,3-9",
    "1-10001", "9999999-9999999", "2027-02-01", "2027-02-30", "0001-01-01",
    "9999-12-31",
    "yes", "no", "on", "a\0b", "\u202eabc", "😀" * 50, "x" * 5000, "<b>&amp;", "'; --",
    "{{ 1 }}", "{% x %}", "%s%n", "=1+1", "../../x", "\r\nSet-Cookie: a=b", "١٢٣", "²",
    "0" * 16, "\ud7ff", "\ufeff", "a: [b", "line,serial\n1,X", "[" * 3000, "🙂\n" * 300,
    "#eval(1)", "NULL", "true", "C-FN", "L240", "lead", "mended", "received",
)  # fmt: skip


def entry_for(field: forms.Field, initial: Any, rng: random.Random) -> Any:
    """Draw what is entered into a field: now and then what it asks for."""
    if isinstance(field, forms.FileField):
        content = rng.choice(ODD).encode("utf-8", "replace")
        name = rng.choice(("a.csv", "terms.yaml", "batch.xlsx", "parts.ods", "x.jpg"))
        return SimpleUploadedFile(name, content) if rng.random() < 0.7 else ""
    choices = [str(key) for key, _ in getattr(field, "choices", []) if key != ""]
    if choices and rng.random() < 0.6:
        return rng.choice(choices)
    if isinstance(initial, str | int) and initial != "" and rng.random() < 0.4:
        return str(initial)
    return rng.choice(ODD)


def entries_for(form: forms.Form, rng: random.Random) -> dict[str, Any]:
    entered = {}
    for name, field in form.fields.items():
        if rng.random() < 0.9:
            initial = form.get_initial_for_field(field, name)
            entered[name] = entry_for(field, initial, rng)
    return entered


def test_it_takes_or_refuses_whatever_is_entered_anywhere(lead, named, n_fuzz) -> None:
    client = signed_in(lead)
    rng = random.Random(20270201)
    met: set[tuple[str, str]] = set()
    taken = refused = 0
    for route in page_routes():
        address = address_of(route, named)
        shown = client.get(address)
        known = (shown.context or {}).get("forms") if shown.context else None
        for act, form in (known or {}).items():
            met.add((route, act))
            for _ in range(max(2, n_fuzz // 40)):
                sent = {"act": act, **entries_for(form, rng)}
                with transaction.atomic():
                    # An error in a page is raised here, not shown as a page.
                    answer = client.post(address, sent)
                    assert answer.status_code in {200, 302, 404, 422, 400}, (act, sent)
                    taken += answer.status_code == 302
                    refused += answer.status_code == 422
                    transaction.set_rollback(True)

    assert len(met) > 50
    assert taken > 20
    assert refused > 50
    assert () == audited().breaks


def extremes_of(field: forms.Field) -> tuple[str, ...]:
    """Give the ends of what a field takes, and what lies far beyond."""
    if isinstance(field, LinesField):
        return (",".join(f"{n}0001-{n + 1}0000" for n in range(30)),)
    if isinstance(field, forms.DateField):
        return ("0001-01-01", "1900-01-01", "2199-12-31", "9999-12-31")
    if isinstance(field, forms.IntegerField):
        ends = (field.min_value, field.max_value)
        return ("-1", "9" * 30, str(2**31), *(str(end) for end in ends if end))
    if isinstance(field, AmountField):
        return ("999999999.99", "9" * 14)
    if isinstance(field, forms.CharField):
        return ("a\0b", "x" * min(field.max_length or 9_999, 9_999), "\ud7ff")
    return ()


def likely(field: forms.Field, initial: Any) -> str:
    """Give what is mostly taken."""
    choices = [str(key) for key, _ in getattr(field, "choices", []) if key != ""]
    if choices:
        return choices[0]
    if isinstance(initial, str | int) and initial != "":
        return str(initial)
    if isinstance(field, forms.DateField):
        return "2027-02-02"
    return "1" if isinstance(field, forms.IntegerField | LinesField) else "12"


def test_it_takes_or_refuses_the_ends_of_every_field(lead, named, n_fuzz) -> None:
    client = signed_in(lead)
    rng = random.Random(20270202)
    n_met = 0
    for route in page_routes():
        address = address_of(route, named)
        shown = client.get(address)
        known = (shown.context or {}).get("forms") if shown.context else None
        for act, form in (known or {}).items():
            usual = {
                name: likely(field, form.get_initial_for_field(field, name))
                for name, field in form.fields.items()
            }
            for name, field in form.fields.items():
                ends = extremes_of(field)
                for extreme in rng.sample(ends, min(len(ends), max(1, n_fuzz // 120))):
                    sent = {"act": act, **usual, name: extreme}
                    with transaction.atomic():
                        # An error in a page is raised here, not shown as a page.
                        answer = client.post(address, sent)
                        told = (route, act, name, extreme[:40])
                        assert answer.status_code in {302, 404, 422}, told
                        if answer.status_code == 302:
                            # What was taken must be shown as well.
                            assert client.get(address).status_code in {200, 302, 404}
                        n_met += 1
                        transaction.set_rollback(True)

    assert n_met > 150
    assert () == audited().breaks


def pictures() -> dict[str, bytes]:
    """Give sound pictures of every kind, one of them moving."""
    noise = Image.effect_noise((48, 48), 60).convert("RGB")
    other = noise.transpose(Image.Transpose.ROTATE_90)
    made = {}
    for kind in ("JPEG", "PNG", "WEBP"):
        file = BytesIO()
        noise.save(file, kind)
        made[kind] = file.getvalue()
    for kind in ("PNG", "WEBP", "GIF"):
        file = BytesIO()
        noise.save(file, kind, save_all=True, append_images=[other], duration=100)
        made[f"{kind} moving"] = file.getvalue()
    return made


def kept_or_refused(job: Any, content: bytes, by: Any, now: Any) -> str:
    with transaction.atomic():
        try:
            photos.add_photo(job, content, by=by, now=now)
            told = "kept"
        except RefusedError as error:
            assert error.reasons
            told = "refused"
        transaction.set_rollback(True)
    return told


@pytest.mark.parametrize("kind", pictures())
def test_it_keeps_or_refuses_any_spoilt_picture(
    kind, sallowmere, lead, now, n_fuzz
) -> None:
    rng = random.Random(kind)
    whole = pictures()[kind]
    job = sallowmere.jobs.get(line=1)
    ends = []
    for _ in range(max(10, n_fuzz // 3)):
        content = bytearray(whole)
        for _ in range(rng.randint(1, 6)):
            content[rng.randrange(len(content))] = rng.randrange(256)
        cut = rng.choice((len(content), rng.randrange(len(content))))
        ends.append(kept_or_refused(job, bytes(content[:cut]), lead, now))

    assert "refused" in ends
    assert not Photo.objects.filter(job=job).exists()


def test_it_refuses_pictures_that_claim_to_be_endless(sallowmere, lead, now) -> None:
    whole = pictures()["PNG"]
    job = sallowmere.jobs.get(line=1)
    wide = whole[:16] + (2**31 - 1).to_bytes(4, "big") * 2 + whole[24:]
    page = b"<html><script>alert(1)</script>" + whole
    for content in (wide, page, b"GIF89a" + whole, b"%PDF-1.7\n" + whole, b""):
        assert "refused" == kept_or_refused(job, content, lead, now)
