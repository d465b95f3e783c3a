"""Is a parcel booked in once, whoever holds the sheet, and is nothing typed lost?"""

import re
from typing import Any

import pytest
from django.test import Client

from turnscrew.web.records.models import OrderLine, Part
from turnscrew.web.records.services import setting_right, stock
from web.counter_case import signed_in

PAGE = "/stock/goods-in/"


@pytest.fixture(name="order")
def glass_ordered(sallowmere, lead, now) -> OrderLine:
    glass = Part.objects.get(number="T-GL2")
    return stock.order(glass, 4, by=lead, now=now, cost_minor=4 * 3150)


def sheet(client: Client, order: OrderLine, n: int) -> dict[str, Any]:
    """Fill in the sheet of an order as the page shows it now."""
    text = client.get(PAGE).content.decode()
    form = next(one for one in text.split("<form") if order.ref in one)
    hidden = re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', form)
    told = {name: value for name, value in hidden if name != "csrfmiddlewaretoken"}
    return told | {
        "n": n, "lot": "lot 77", "marks_seen": "as the known one",
        "outcome": "accepted", "asked": "credit",
    }  # fmt: skip


def on_hand(order: OrderLine) -> int:
    return Part.objects.get(pk=order.part_id).on_hand


def test_the_second_of_two_with_one_part_delivery_is_told(
    order, lead, helper, clock
) -> None:
    before = on_hand(order)
    first, second = signed_in(lead), signed_in(helper)
    mine, theirs = sheet(first, order, 2), sheet(second, order, 2)

    assert 302 == first.post(PAGE, mine).status_code
    told = second.post(PAGE, theirs)

    page = told.content.decode()
    assert 422 == told.status_code
    assert "found 2 still to come by now, wanted the 4 that the page showed" in page
    assert 'value="lot 77"' in page
    assert before + 2 == on_hand(order)
    # What came beside it is booked in from the page as it stands now.
    assert 302 == second.post(PAGE, sheet(second, order, 2)).status_code
    assert before + 4 == on_hand(order)


def test_the_second_of_two_with_a_whole_delivery_keeps_what_was_typed(
    order, lead, helper, clock
) -> None:
    before = on_hand(order)
    first, second = signed_in(lead), signed_in(helper)
    mine, theirs = sheet(first, order, 4), sheet(second, order, 4)
    assert 302 == first.post(PAGE, mine).status_code

    told = second.post(PAGE, theirs)

    page = told.content.decode()
    assert 422 == told.status_code
    assert "found 0 still to come by now, wanted the 4 that the page showed" in page
    assert 'value="lot 77"' in page
    assert 'value="as the known one"' in page
    assert before + 4 == on_hand(order)
    assert order.ref not in second.get(PAGE).content.decode()


def test_a_parcel_whose_order_was_called_off_is_told(order, lead, now, clock) -> None:
    client = signed_in(lead)
    typed = sheet(client, order, 4)
    right = setting_right.RightOrder(n=0)
    setting_right.correct_order(order, right, by=lead, now=now, words="called off")

    told = client.post(PAGE, typed)

    page = told.content.decode()
    assert 422 == told.status_code
    assert "found it called off meanwhile, wanted one that awaits pieces" in page
    assert 'value="lot 77"' in page


def test_an_order_that_never_was_is_not_there(order, lead, clock) -> None:
    client = signed_in(lead)

    told = client.post(PAGE, sheet(client, order, 1) | {"order": "261130000X"})

    assert 404 == told.status_code
