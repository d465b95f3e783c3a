"""Does a customer's page tell what failed, how sure that is, and what to advise?"""

import re
from datetime import timedelta

import pytest

from turnscrew.web.records.models import Customer
from turnscrew.web.records.queries.fleet_page import customer_fleet
from turnscrew.web.records.services import customers
from web.counter_case import signed_in

TABLETS = {"Night team": 60, "North round": 120, "South round": 130}


@pytest.fixture
def customer(sallowmere, now) -> Customer:
    """Give the customer of the example batch with its fleet counted."""
    one = Customer.objects.get(pk=sallowmere.customer_id)
    for site, n in TABLETS.items():
        customers.count_fleet(one, "V80", site, n, now=now)
    return one


def shown(answer) -> str:
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", answer.content.decode()))


def test_it_advises_on_the_glass_alone(customer, now) -> None:
    # The example batch: 9 fronts in a term, 6 of them at a place with 19 % of tablets.
    fleet = customer_fleet(customer, now)

    (advice,) = fleet.answer.advice
    assert ("V80", "T-GLS", "Night team") == (advice.model, advice.cause, advice.site)
    assert 0.0026 == pytest.approx(advice.chance, abs=5e-5)
    glass, packs, *_ = fleet.answer.causes
    assert (9, 5) == (glass.rate.failures, packs.rate.failures)
    assert 0.116 == pytest.approx(glass.rate.rate, abs=1e-3)
    assert 0.065 == pytest.approx(packs.rate.rate, abs=1e-3)


def test_it_shows_every_rate_with_its_limits(customer, lead, clock) -> None:
    page = shown(signed_in(lead).get(f"/customers/{customer.ref}/"))

    assert "T-GLS on V80: 6 of 9 at Night team" in page
    assert "0.061 to 0.203" in page
    assert "failures, no rate: devices there are not counted" in page
    assert "without a fault found count apart" in page
    assert "T-BAT on V80" not in page


def test_it_gives_counts_and_no_rate_where_nobody_counted(
    sallowmere, lead, clock, now
) -> None:
    one = Customer.objects.get(pk=sallowmere.customer_id)
    fleet = customer_fleet(one, now)

    assert () == fleet.answer.causes
    assert 0 < sum(n for _, n in fleet.not_counted)
    page = shown(signed_in(lead).get(f"/customers/{one.ref}/"))
    assert "No rate can be told" in page


def test_it_takes_the_newest_count_and_the_whole_where_no_place_is_counted(
    customer, now
) -> None:
    customers.count_fleet(customer, "V80", "Night team", 90, now=now)
    customers.count_fleet(customer, "V80", "", 999, now=now)
    customers.count_fleet(customer, "L240", "", 140, now=now)
    fleet = customer_fleet(customer, now)

    glass = fleet.answer.causes[0]
    years = 91 / 365.25
    assert 340 * years == pytest.approx(glass.rate.total_time)
    laptops = [one for one in fleet.answer.causes if one.model == "L240"]
    assert laptops
    assert {("all places",)} == {tuple(s for s, _ in one.by_site) for one in laptops}


def test_it_counts_what_was_received_in_the_time_alone(customer, now) -> None:
    later = customer_fleet(customer, now + timedelta(days=120))

    assert () == later.answer.causes
    assert (0, ()) == (later.n_without_fault, later.not_counted)
