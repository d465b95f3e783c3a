"""Does an order wait for what only the open device shows?"""

import re

import pypdfium2
import pytest
from django.test import Client

from turnscrew.web.records.models import Batch, Job, OrderLine, Part
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.order_waits import order_waits
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import stock
from turnscrew.web.records.services.recognition import take_for
from turnscrew.web.records.services.refusal import RefusedError
from web.counter.worked import describe
from web.counter_case import signed_in

PART = "C-KBB"
"""Fits revision B of the L240 alone, which is sure only once open."""

WORDS = "is sure only once open: square shield can beside the fan"


@pytest.fixture
def described(sallowmere, lead, now, clock) -> Batch:
    describe(sallowmere, lead, now)
    return sallowmere


@pytest.fixture
def counter(lead) -> Client:
    return signed_in(lead)


def waits(batch: Batch, now) -> dict[str, list[str]]:
    return order_waits(batch, reckoned(batch, now))


def devices(batch: Batch, now) -> list[Job]:
    """Give those the order of the part is for."""
    uses = reckoned(batch, now).supply.uses
    lines = [one.demand.device for one in uses
             if (one.demand.part, one.source) == (PART, "order")]  # fmt: skip
    return list(batch.jobs.filter(line__in=lines))


def ticked(client: Client, address: str) -> set[str]:
    page = client.get(address).content.decode()
    boxes = re.findall(r'<input type="checkbox" name="numbers"[^>]*>', page)
    return {re.search('value="([^"]+)"', one)[1] for one in boxes if "checked" in one}


def test_what_fits_one_revision_alone_waits_for_the_open_device(described, now) -> None:
    told = waits(described, now)
    (job,) = devices(described, now)

    assert [f"device {job.line}: B {WORDS}, seen once the upper case is off"] == (
        told[PART]
    )
    # What fits every revision of its model waits for nothing.
    assert not {"C-BT", "H-WN"} & set(told)


def test_the_pages_name_it_and_leave_it_unticked(described, counter) -> None:
    for address in (f"/batches/{described.ref}/order/", "/stock/order/"):
        page = counter.get(address).content.decode()

        assert "Not yet: device" in page
        assert WORDS in page
        assert PART not in ticked(counter, address)
        assert "C-BT" in ticked(counter, address)


def test_the_list_and_its_sum_stay_whole(described, now, counter) -> None:
    assert 32_200 == reckoned(described, now).supply.cost_minor
    assert "322.00" in counter.get(f"/batches/{described.ref}/order/").content.decode()


def test_seen_open_it_is_ordered_with_the_rest(described, counter, now) -> None:
    (job,) = devices(described, now)
    entered = {"act": "take", "revision": "B", "is_open": "on"}

    page = counter.post(f"/items/{job.item.ref}/", entered, follow=True)

    assert "taken for L240 B, seen open" in page.content.decode()
    assert PART not in waits(described, now)
    assert PART in ticked(counter, f"/batches/{described.ref}/order/")
    assert () == audited().breaks


def test_a_look_from_outside_alone_does_not_make_it_sure(described, lead, now) -> None:
    (job,) = devices(described, now)
    take_for(job, "B", by=lead, now=now)

    assert PART in waits(described, now)


def test_seen_open_as_another_revision_it_wants_another_part(
    described, lead, now
) -> None:
    (job,) = devices(described, now)
    take_for(job, "A", by=lead, now=now, is_open=True)

    assert [] == devices(described, now)
    assert PART not in waits(described, now)


def test_whoever_orders_may_order_it_all_the_same(described, counter) -> None:
    address = f"/batches/{described.ref}/order/"
    entered = {"act": "place", "numbers": [PART]}

    counter.post(address, entered, follow=True)

    assert 1 == OrderLine.objects.filter(part__number=PART).count()


def test_nothing_waits_where_no_description_says_so(sallowmere, now) -> None:
    assert {} == waits(sallowmere, now)


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "Not yet: device 39: B is sure only once open: square shield can"),
        ("de", "Noch nicht: Gerät 39: B ist erst offen sicher: square shield can"),
    ],
)
def test_the_printed_list_says_so_too(
    described, counter, lead, language, words
) -> None:
    lead.language = language
    lead.save()
    answer = counter.get(f"/batches/{described.ref}/papers/order-list.pdf")

    pages = pypdfium2.PdfDocument(answer.content)
    read = " ".join(page.get_textpage().get_text_range() for page in pages)
    assert words in re.sub(r"\s+", " ", read)


def test_a_part_that_is_waited_for_is_not_retired(sallowmere, lead, now) -> None:
    part = Part.objects.get(number="H-DP")
    stock.want(part, sallowmere.jobs.get(line=60), by=lead, now=now)

    with pytest.raises(RefusedError, match="found 1 pieces still wanted, wanted none"):
        stock.retire(part, by=lead, now=now, words="the model is gone")


def test_what_is_retired_is_told_and_left_unticked(sallowmere, lead, clock) -> None:
    part = Part.objects.get(number="H-KP")
    stock.count(part, 0, by=lead, now=clock.at, words="an empty box")
    stock.retire(part, by=lead, now=clock.at, words="the model is gone")
    counter = signed_in(lead)
    for address in (f"/batches/{sallowmere.ref}/order/", "/stock/order/"):
        page = counter.get(address).content.decode()

        assert "retired on 2027-02-01: use it again first" in page
        assert "H-KP" not in ticked(counter, address)
        assert "C-BT" in ticked(counter, address)
