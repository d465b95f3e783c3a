"""Is it told what a long list leaves out, and is no open order left out?"""

import pytest
from django.test import Client

from turnscrew.web.records.models import OrderLine, Part
from turnscrew.web.records.services import stock, supplier, waste
from web.counter_case import signed_in


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def fan(sallowmere) -> Part:
    return Part.objects.get(number="C-FN")


def test_an_old_order_still_open_is_set_right(counter, fan, lead, clock) -> None:
    for n in range(1, 26):
        stock.order(fan, n, by=lead, now=clock.at, cost_minor=1)
    first = OrderLine.objects.order_by("id").first()
    OrderLine.objects.exclude(pk=first.pk).update(n=0)
    address = f"/stock/{fan.number}/"
    page = counter.get(address).content.decode()
    assert "1 ordered, 0 came" in page
    assert "4 older ones are not shown." in page

    entered = {"act": "order_right", "row": first.pk, "n": 0, "why": "never came"}
    assert 302 == counter.post(address, entered).status_code

    first.refresh_from_db()
    assert first.is_called_off


def test_lines_of_waste_left_out_are_told(counter, sallowmere, lead, clock) -> None:
    made = [
        waste.throw_away(waste.Scrap("battery", 100, "pack"), by=lead, now=clock.at)
        for _ in range(101)
    ]
    receipt = waste.Receipt("Wolder Waste", "R1")
    waste.let_go([one.ref for one in made], receipt, by=lead, now=clock.at)

    assert "1 older one is not shown." in counter.get("/stock/waste/").content.decode()


def test_ended_returns_left_out_are_told(counter, fan, lead, clock) -> None:
    for _ in range(51):
        told = supplier.Faulty(1, "first use", "dead", "no light")
        row = supplier.begin_return(fan, told, by=lead, now=clock.at)
        supplier.settle_return(
            row, "written off", by=lead, now=clock.at, words="too old"
        )

    page = counter.get("/stock/returns/").content.decode()
    assert "1 older one is not shown." in page


def test_parts_left_out_are_told(counter, sallowmere) -> None:
    n = Part.objects.filter(retired_on=None).count()
    assert "not shown" not in counter.get("/stock/").content.decode()
    Part.objects.bulk_create(
        Part(ref=f"{at:032x}", number=f"A{at:04}", description="thing")
        for at in range(500)
    )

    page = counter.get("/stock/").content.decode()
    assert f"{n} more parts are not shown: look for them" in page
