"""Does a parts list come in by itself, where terms named parts nobody had?"""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from turnscrew.core.model.batch import BatchLine
from turnscrew.web.records.models import Batch, Part
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import booking
from web.conftest import SALLOWMERE, sallowmere_contents
from web.counter_case import signed_in

PARTS = (SALLOWMERE / "parts.csv").read_text("utf-8")


@pytest.fixture
def client(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def batch(lead, clock) -> Batch:
    """Give a batch that was booked by its terms alone, and one device of it."""
    terms = sallowmere_contents()["terms.yaml"].decode()
    said = booking.Booking("By hand", clock.at.date(), terms)
    made = booking.book(said, by=lead, now=clock.at)
    line = BatchLine(1, "TV8-11111", "V80", revision="2", found=("T-GLS",))
    booking.receive(made, [line], by=lead, now=clock.at)
    return made


def test_a_batch_whose_parts_nobody_had_is_reckoned_once_they_came(
    client, batch
) -> None:
    page = client.get(f"/batches/{batch.ref}/")
    assert 409 == page.status_code
    assert "the page Stock takes a parts list" in page.content.decode()
    paper = client.get(f"/batches/{batch.ref}/papers/receipt.pdf")
    assert 409 == paper.status_code
    assert "the page Stock takes a parts list" in paper.content.decode()
    assert 200 == client.get("/stock/").status_code

    sent = {"act": "parts", "pasted": PARTS.replace(",", "\t")}
    refused = client.post("/stock/", sent | {"pasted": "part\tcost\nX-1\tmuch"})
    assert 422 == refused.status_code
    answer = client.post("/stock/", sent, follow=True)

    n = len(PARTS.strip().splitlines()) - 1
    assert f"{n} new parts of {n}" in answer.content.decode()
    assert n == Part.objects.count()
    assert 200 == client.get(f"/batches/{batch.ref}/").status_code
    assert () == audited().breaks


def test_what_a_list_says_otherwise_is_told_and_known_parts_stay(
    client, sallowmere
) -> None:
    n, table = Part.objects.count(), PARTS.splitlines()
    row = next(one for one in table if one.startswith("C-FN,"))
    other = "\n".join([table[0], row.replace("9.80", "12.40")])
    file = SimpleUploadedFile("parts.csv", other.encode())

    page = client.post("/stock/", {"act": "parts", "file": file}, follow=True)

    told = page.content.decode()
    assert "0 new parts of 1" in told
    assert "part C-FN, cost: found 12.40, kept 9.80 as on record" in told
    assert n == Part.objects.count()
    assert 980 == Part.objects.get(number="C-FN").cost_minor
