"""Is what was written wrong of a part set right on its page, and told so?"""

from datetime import timedelta

import pytest
from django.test import Client

from turnscrew.web.records.models import Entry, Part
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.batch_input import batch_input
from turnscrew.web.records.queries.reckoning import reckoned
from web.counter_case import signed_in

PAGE = "/stock/C-FN/"
RIGHT = {
    "act": "part_right", "minor": "19.80", "lead_days": "7", "pack": "5",
    "breaks": "20: 17.50; 50: 15", "supplier": "Fans of Mill Lane", "place": "B4",
    "description": "Fan, left", "why": "the new list",
}  # fmt: skip


@pytest.fixture
def client(sallowmere, lead, clock) -> Client:
    return signed_in(lead)


def fan() -> Part:
    return Part.objects.get(number="C-FN")


def test_all_of_it_is_set_right_by_a_new_entry(client, sallowmere, clock) -> None:
    before = clock.at
    clock.at += timedelta(hours=1)

    answer = client.post(PAGE, RIGHT)

    assert (302, PAGE) == (answer.status_code, answer.url)
    one = fan()
    assert (1980, 7, 5) == (one.cost_minor, one.lead_days, one.pack)
    assert [[20, 1750], [50, 1500]] == one.breaks
    said = (one.supplier, one.place, one.description)
    assert ("Fans of Mill Lane", "B4", "Fan, left") == said
    page = client.get(PAGE).content.decode()
    assert "the new list (description was: Fan; lead days was: 5; pack was: 1;" in page
    assert "19.80, minor was 9.80" in page
    assert (
        980 == batch_input(sallowmere, before, past_time=True).parts["C-FN"].cost_minor
    )
    assert () == audited().breaks


def test_a_quote_is_made_with_the_right_price(client, sallowmere, now) -> None:
    Part.objects.filter(number="C-FN").update(cost_minor=0)
    assert "C-FN costs 0.00" in str(reckoned(sallowmere, now).devices)

    client.post(PAGE, {"act": "part_right", "minor": "9.80", "why": "left out"})

    assert "C-FN costs 0.00" not in str(reckoned(sallowmere, now).devices)


def test_a_dash_takes_the_lower_costs_away(client) -> None:
    client.post(PAGE, {"act": "part_right", "breaks": "10: 9", "why": "offered"})
    assert [[10, 900]] == fan().breaks

    client.post(PAGE, {"act": "part_right", "breaks": "-", "why": "withdrawn"})

    assert [] == fan().breaks
    assert "(breaks was: 10: 9.00)" in client.get(PAGE).content.decode()


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"why": " ", "minor": "3"}, "This field is required"),
        ({"minor": "9.80"}, "found what stands there, wanted another"),
        ({"lead_days": "1001"}, "1000"),
        ({"breaks": "20: 3; 10: 4"}, "found 20, 10, wanted rising numbers, each once"),
        ({"breaks": "ten: 3"}, "wanted a number and the cost from it on"),
        ({"breaks": "10"}, "wanted a number and the cost from it on"),
        ({"supplier": "x" * 121}, "120"),
    ],
)
def test_what_is_wrong_is_refused_with_its_reason(client, wrong, told) -> None:
    answer = client.post(PAGE, {"act": "part_right", "why": "a slip", **wrong})

    assert 422 == answer.status_code
    assert told in answer.content.decode()
    assert not Entry.objects.filter(verb="part corrected").exists()
    assert 980 == fan().cost_minor


def test_who_sees_no_money_neither_sets_nor_sees_a_price(client, helper) -> None:
    client.post(PAGE, RIGHT)
    theirs = signed_in(helper)

    page = theirs.get(PAGE).content.decode()
    answer = theirs.post(PAGE, RIGHT | {"minor": "1"})

    assert 404 == answer.status_code
    assert "19.80" not in page
    assert "17.50" not in page
