"""Every page with something on record behind it."""

import re
from collections.abc import Mapping
from io import BytesIO

import pytest
from django.contrib.auth.models import User
from PIL import Image

from turnscrew.core.model.job_state import Standing
from turnscrew.web.counter import urls
from turnscrew.web.records.models import Approval, Batch, Invoice, Job, Part
from turnscrew.web.records.photo_files import drawing_of
from turnscrew.web.records.services import (
    custody,
    customers,
    descriptions,
    handing_back,
    part_photos,
    people,
    photos,
)
from turnscrew.web.records.services.journal import append
from web.conftest import SALLOWMERE
from web.known_faults import all_is_known

PASSWORD = "seven brass hinges turning"


@pytest.fixture(autouse=True)
def the_day_it_was_received(clock) -> None:
    """Let the server's clock stand where the batch was received."""


def page_routes() -> list[str]:
    """List the routes of all pages as they are written in the list of addresses."""
    return [str(one.pattern) for one in urls.urlpatterns]


@pytest.fixture
def named(sallowmere, desk, lead, now, settings, tmp_path) -> Mapping[str, str]:
    """Give something on record for every name in an address."""
    manual = tmp_path / "manual"
    manual.mkdir()
    (manual / "index.html").write_text("<p>How it is done.</p>", "utf-8")
    settings.DOCS = str(manual)
    job = sallowmere.jobs.get(line=1)
    file = BytesIO()
    Image.effect_noise((64, 64), 60).save(file, "PNG")
    photo = photos.add_photo(job, file.getvalue(), by=lead, now=now)
    photos.clear(
        photo, looked_at=drawing_of(photo), by=lead, now=now, is_nothing_private=True
    )
    [part_photo] = part_photos.keep_part_photos(
        Part.objects.first(), part_photos.looked_at({"front": file.getvalue()}),
        by=lead, now=now, is_known_good=True,
    )  # fmt: skip
    Approval.objects.create(job=job, quote_minor=12_345, asked_at=now)
    invoice = Invoice.objects.create(
        batch=sallowmere, number="T-1", on=now.date(), due_on=now.date(),
        net_minor=0, tax_minor=0, owed_minor=0,
    )  # fmt: skip
    append("money", "invoiced", invoice.ref, by=lead, now=now, facts={"minor": 0})
    packed = sallowmere.jobs.get(line=30)
    all_is_known([packed], by=lead, now=now)
    for state in ("quoted", "final-tested", "packed"):
        custody.move(packed, Standing(state, "bench 1", lead.ref), by=lead, now=now)
    tranche = handing_back.hand_back(
        sallowmere, [30], taken_by="Office", by=lead, now=now
    )
    text = (SALLOWMERE / "grondle-r50.device.yaml").read_text("utf-8")
    description = descriptions.keep_description("R50", text, by=lead, now=now)
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=now)
    customers.count_fleet(sallowmere.customer, "V80", "Night team", 60, now=now)
    return {
        "batches": sallowmere.ref,
        "items": job.item.ref,
        "jobs": job.ref,
        "journal": job.ref,
        "customers": sallowmere.customer.ref,
        "money": invoice.ref,
        "people": desk.ref,
        "photos": photo.ref,
        "picture": part_photo.ref,
        "descriptions": description.ref,
        "model": description.model,
        "number": Part.objects.first().number,
        "token": people.link_for(desk, now=now),
        "address": people.contact_address(link),
        "name": "batch-sheet.pdf",
        "copy": "shown",
        "file": "index.html",
        "tranche": tranche.ref,
    }


def address_of(route: str, named: Mapping[str, str]) -> str:
    """Fill the names of a route in."""
    family = route.split("/")[0] if route else ""
    if "/photos/" in route and route.startswith("answer"):
        family = "photos"

    def fill(match: re.Match[str]) -> str:
        name = match[1]
        return named[family if name == "ref" else name]

    return "/" + re.sub(r"<(?:\w+:)?(\w+)>", fill, route)


def secrets_of(batch: Batch) -> list[str]:
    """List words that no stranger may ever read."""
    job = Job.objects.filter(batch=batch).exclude(serial="").first()
    return [
        batch.customer.name, batch.name, job.serial, job.number, "Imke", "Joss",
        "Noor", "12345", "123.45",
    ]  # fmt: skip


@pytest.fixture
def desk_account(desk) -> User:
    desk.user.set_password(PASSWORD)
    desk.user.save()
    return desk.user
