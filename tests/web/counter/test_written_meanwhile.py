"""Is what somebody else wrote meanwhile told before a whole form is written over it?"""

import json
import re
from html import unescape

import pytest

from turnscrew.web.records.models import OrderLine, Part
from turnscrew.web.records.queries.order_today import order_today
from turnscrew.web.records.services import custody, customers, part_photos, stock
from web.counter_case import signed_in

TOLD = "found Hafenweg 2 written meanwhile, wanted it looked at"


def carried(page: str, act: str) -> str:
    """Give what the form of an act carries of what stands there."""
    form = page.split(f'id="{act}-form"')[1].split("</form>")[0]
    return unescape(re.search(r'name="was" value="([^"]*)"', form)[1])


@pytest.fixture
def entered(sallowmere) -> dict[str, object]:
    one = sallowmere.customer
    names = (
        "name", "address", "contract", "tax_number", "keep_months",
        "charge_low_percent", "charge_high_percent",
    )  # fmt: skip
    return {name: getattr(one, name) for name in names}


def test_a_new_address_is_not_lost_to_an_old_page(
    sallowmere, entered, lead, clock
) -> None:
    one, client = sallowmere.customer, signed_in(lead)
    address = f"/customers/{one.ref}/"
    was = carried(client.get(address).content.decode(), "keep")
    newer = entered | {"address": "Hafenweg 2"}
    customers.keep_customer_data(one, now=clock.at, **newer)

    lines = str(entered["address"]).replace("\n", "\r\n")
    mine = entered | {
        "act": "keep", "was": was, "tax_number": "T-7", "address": lines
    }  # fmt: skip
    answer = client.post(address, mine)

    assert 422 == answer.status_code
    page = answer.content.decode()
    assert f"{TOLD}; it stands here now" in page
    assert 'value="T-7"' in page
    assert "Hafenweg 2</textarea>" in page
    one.refresh_from_db()
    assert ("Hafenweg 2", "") == (one.address, one.tax_number)


def test_all_that_was_written_meanwhile_is_told_at_once(
    sallowmere, entered, lead, clock
) -> None:
    one, client = sallowmere.customer, signed_in(lead)
    address = f"/customers/{one.ref}/"
    was = carried(client.get(address).content.decode(), "keep")
    newer = entered | {"address": "Hafenweg 2", "keep_months": 7, "contract": ""}
    customers.keep_customer_data(one, now=clock.at, **newer)

    mine = entered | {"act": "keep", "was": was, "tax_number": "T-7"}
    answer = client.post(address, mine)

    assert 422 == answer.status_code
    page = answer.content.decode()
    for found in ("Hafenweg 2", "7", "nothing"):
        said = f"found {found} written meanwhile, wanted it looked at; it stands here"
        assert said in page
    assert "Hafenweg 2</textarea>" in page


def test_what_both_changed_is_written_over_once_it_was_told(
    sallowmere, entered, lead, clock
) -> None:
    one, client = sallowmere.customer, signed_in(lead)
    address = f"/customers/{one.ref}/"
    was = carried(client.get(address).content.decode(), "keep")
    newer = entered | {"address": "Hafenweg 2"}
    customers.keep_customer_data(one, now=clock.at, **newer)

    mine = entered | {"act": "keep", "was": was, "address": "Kai 3"}
    page = client.post(address, mine).content.decode()
    assert f"{TOLD}; pressed once more, what is entered here" in page
    assert "Kai 3</textarea>" in page
    again = mine | {"was": carried(page, "keep")}
    assert 302 == client.post(address, again).status_code

    one.refresh_from_db()
    assert "Kai 3" == one.address


def test_what_both_wrote_alike_is_in_nobody_s_way(
    sallowmere, entered, lead, clock
) -> None:
    one, client = sallowmere.customer, signed_in(lead)
    address = f"/customers/{one.ref}/"
    was = carried(client.get(address).content.decode(), "keep")
    newer = entered | {"address": "Hafenweg 2"}
    customers.keep_customer_data(one, now=clock.at, **newer)

    answer = client.post(address, newer | {"act": "keep", "was": was})

    assert 302 == answer.status_code


def test_what_is_allowed_with_data_is_not_widened_by_an_old_page(
    sallowmere, lead, clock
) -> None:
    job, client = sallowmere.jobs.first(), signed_in(lead)
    address = f"/items/{job.item.ref}/"
    page = client.get(address).content.decode()
    terms = custody.DataTerms("no start", "Wen Arkady")
    custody.decide_data(job, "P", terms, by=lead, now=clock.at)
    wider = {
        "act": "decide", "was": carried(page, "decide"), "data_class": "P",
        "allowed": "test image only", "said_by": "Wen Arkady", "until": "",
        "decision": "",
    }  # fmt: skip

    answer = client.post(address, wider)

    assert 422 == answer.status_code
    assert "found no start written meanwhile" in answer.content.decode()
    job.refresh_from_db()
    assert "no start" == job.data_allowed


@pytest.mark.parametrize("was", ["", "no text of ours", "[]", "7", "null"])
def test_a_form_that_carries_nothing_is_taken_as_it_is(
    sallowmere, entered, lead, clock, was
) -> None:
    """As a program sends it that never read the page."""
    address = f"/customers/{sallowmere.customer.ref}/"
    mine = entered | {"act": "keep", "was": was}

    assert 302 == signed_in(lead).post(address, mine).status_code


def test_marks_and_levels_of_a_part_are_not_lost_to_an_old_page(
    sallowmere, lead, clock
) -> None:
    part, client = Part.objects.first(), signed_in(lead)
    address = f"/stock/{part.number}/"
    page = client.get(address).content.decode()
    part_photos.keep_known_piece(part, "three dots", {}, by=lead, now=clock.at)
    stock.keep_reorder_point(part, 7, now=clock.at)

    marks = {"act": "known", "was": carried(page, "known"), "marks": "one bar"}
    level = {"act": "buy_again", "was": carried(page, "buy_again"), "n": "2"}
    told = [client.post(address, one) for one in (marks, level)]

    assert [422, 422] == [one.status_code for one in told]
    assert "found three dots written meanwhile" in told[0].content.decode()
    assert "found 7 written meanwhile" in told[1].content.decode()
    part.refresh_from_db()
    assert ("three dots", 7) == (part.marks, part.reorder_point)
    again = marks | {"was": carried(told[0].content.decode(), "known")}
    assert 302 == client.post(address, again).status_code
    part.refresh_from_db()
    assert "one bar" == part.marks


def sent_with(page: str, act: str, name: str) -> str:
    """Give what a hidden field of the form of an act is sent with."""
    form = page.split(f'id="{act}-form"')[1].split("</form>")[0]
    return unescape(re.search(rf'name="{name}" value="([^"]*)"', form)[1])


@pytest.mark.parametrize("kind", ["of a batch", "of all"])
def test_an_order_is_written_as_the_page_showed_it_or_not_at_all(
    kind, sallowmere, lead, clock
) -> None:
    batch = f"/batches/{sallowmere.ref}/order/"
    address = batch if kind == "of a batch" else "/stock/order/"
    client, part = signed_in(lead), order_today(clock.at).due[0].part
    Part.objects.filter(pk=part.pk).update(pack=1, breaks=[], cost_minor=4_100)
    old = client.get(address).content.decode()
    n, _ = json.loads(sent_with(old, "place", "shown"))[part.number]
    Part.objects.filter(pk=part.pk).update(cost_minor=4_200)
    entered = {"act": "place", "numbers": [part.number]}

    refused = client.post(
        address, entered | {"shown": sent_with(old, "place", "shown")}
    )

    page = refused.content.decode()
    assert 422 == refused.status_code
    assert (
        f"{part.number}: found {n} to buy for {n * 42}.00 by now, "
        f"wanted the {n} for {n * 41}.00 that the page showed"
    ) in page
    assert not OrderLine.objects.exists()
    shown = sent_with(page, "place", "shown")
    assert 302 == client.post(address, entered | {"shown": shown}).status_code
    assert n * 4_200 == sum(line.cost_minor for line in OrderLine.objects.all())


def test_what_is_ordered_by_figures_made_up_is_refused_on_the_page(
    sallowmere, lead, clock
) -> None:
    client = signed_in(lead)
    entered = {"act": "place", "numbers": [order_today(clock.at).due[0].part.number]}

    for shown in ("[1]", '{"H-DP": 1}', "{}", "x"):
        refused = client.post("/stock/order/", entered | {"shown": shown})
        assert 422 == refused.status_code
    assert not OrderLine.objects.exists()


def test_a_count_by_an_old_page_loses_nothing_that_came_meanwhile(
    sallowmere, lead, now, clock
) -> None:
    client, address = signed_in(lead), "/stock/T-SP/"
    old = client.get(address).content.decode()
    part = Part.objects.get(number="T-SP")
    n = part.on_hand
    stock.move_by_hand(part, "received", 2, by=lead, now=now, words="a parcel")
    entered = {"act": "count", "n": n}

    refused = client.post(
        address, entered | {"on_hand": sent_with(old, "count", "on_hand")}
    )

    page = refused.content.decode()
    assert 422 == refused.status_code
    assert (
        f"count: found {n + 2} in the books by now, wanted the {n} that the page showed"
    ) in page
    part.refresh_from_db()
    assert n + 2 == part.on_hand
    shown = sent_with(page, "count", "on_hand")
    assert 302 == client.post(address, entered | {"on_hand": shown}).status_code
    part.refresh_from_db()
    assert n == part.on_hand


def test_two_who_say_the_same_of_a_part_turn_nothing_back(
    sallowmere, lead, now, clock
) -> None:
    client, address = signed_in(lead), "/stock/C-KBA/"
    part = Part.objects.get(number="C-KBA")
    stock.count(part, 0, by=lead, now=now, words="none")
    old = client.get(address).content.decode()
    sold = {"act": "sold", "is_sold": sent_with(old, "sold", "is_sold")}
    gone = {
        "act": "retire", "reason": "the model is gone",
        "is_retired": sent_with(old, "retire", "is_retired"),
    }  # fmt: skip

    for _ in "two":
        assert 302 == client.post(address, sold).status_code
        part.refresh_from_db()
        assert part.is_sold_no_more
    assert 302 == client.post(address, gone).status_code
    refused = client.post(address, gone)

    assert 422 == refused.status_code
    assert "wanted one in use" in refused.content.decode()
    part.refresh_from_db()
    assert part.retired_on is not None
    assert "1" == sent_with(refused.content.decode(), "retire", "is_retired")
    again = gone | {"is_retired": "1", "reason": "one came back"}
    assert 302 == client.post(address, again).status_code
