"""Is it kept who looked at whose record, small, and shown to the lead alone?"""

from io import BytesIO

import pytest
from django.test import Client
from PIL import Image

from turnscrew.web.keeping import erasing
from turnscrew.web.records.models import Approval, Job, Viewing
from turnscrew.web.records.photo_files import drawing_of
from turnscrew.web.records.services import people, photos
from web.counter_case import signed_in


@pytest.fixture
def job(sallowmere) -> Job:
    return sallowmere.jobs.get(line=3)


@pytest.fixture
def photo(job, lead, clock):
    drawn = BytesIO()
    Image.effect_noise((320, 240), 90).convert("RGB").save(drawn, "PNG")
    kept = photos.add_photo(job, drawn.getvalue(), by=lead, now=clock.at)
    photos.clear(
        kept, looked_at=drawing_of(kept), by=lead, now=clock.at, is_nothing_private=True
    )
    return kept


def viewings() -> list[tuple[str, str, str]]:
    return sorted(Viewing.objects.values_list("who", "what", "about"))


def test_a_look_at_a_device_is_kept_once_an_hour(job, lead, helper, clock) -> None:
    page = f"/items/{job.item.ref}/"
    for _ in range(3):
        signed_in(helper).get(page)
    assert [(helper.ref, "device", job.item.ref)] == viewings()

    clock.move_on(hours=1)
    signed_in(helper).get(page)
    signed_in(lead).get(page)

    assert 3 == Viewing.objects.count()


def test_a_lead_sees_who_looked_and_a_helper_does_not(job, lead, helper, clock) -> None:
    page = f"/items/{job.item.ref}/"
    assert "Who looked at it" not in signed_in(helper).get(page).content.decode()

    shown = signed_in(lead).get(page).content.decode()

    assert "Who looked at it" in shown
    assert "Joss Harrowell, device" in shown


def test_a_look_at_a_photo_is_kept_in_every_way(
    job, photo, lead, helper, clock
) -> None:
    wanted = [(helper.ref, "photo", photo.ref)]
    for address in (
        f"/photos/{photo.ref}/",
        f"/photos/{photo.ref}/small/",
        f"/jobs/{job.ref}/photos/",
    ):
        Viewing.objects.all().delete()
        assert 200 == signed_in(helper).get(address).status_code
        assert wanted == viewings()

    shown = signed_in(lead).get(f"/items/{job.item.ref}/").content.decode()
    assert "Joss Harrowell, photo" in shown


def test_the_contact_is_kept_too_by_the_link(sallowmere, photo, lead, clock) -> None:
    Approval.objects.create(job=photo.job, quote_minor=1, asked_at=clock.at)
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=clock.at)
    address = f"/answer/{people.contact_address(link)}/"
    stranger = Client()
    assert 200 == stranger.get(address).status_code
    assert 200 == stranger.get(f"{address}photos/{photo.ref}/").status_code

    assert {
        (link.ref, "answer", sallowmere.ref), (link.ref, "photo", photo.ref),
    } == set(viewings())  # fmt: skip
    customer = f"/customers/{sallowmere.customer.ref}/"
    shown = signed_in(lead).get(customer).content.decode()
    assert "Wen Arkady of the customer, answer" in shown


def test_a_look_at_the_contacts_of_a_customer_is_kept(
    sallowmere, desk, lead, clock
) -> None:
    customer = f"/customers/{sallowmere.customer.ref}/"
    assert (
        "Who looked at this page" not in signed_in(desk).get(customer).content.decode()
    )
    assert [(desk.ref, "customer", sallowmere.customer.ref)] == viewings()

    assert "Noor Amsel, customer" in signed_in(lead).get(customer).content.decode()


def test_nothing_of_it_names_anybody_once_they_are_erased(
    job, helper, lead, clock
) -> None:
    signed_in(helper).get(f"/items/{job.item.ref}/")
    people.let_go(helper, now=clock.at)
    erasing.erase_person(helper, by=lead, now=clock.at)

    # That somebody looked stays under a reference, as all that hands did.
    assert 1 == Viewing.objects.filter(who=helper.ref).count()
    shown = signed_in(lead).get(f"/items/{job.item.ref}/").content.decode()
    assert "Harrowell" not in shown
    assert "erased, device" in shown
