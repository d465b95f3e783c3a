"""Is a part that costs nothing believed only once somebody has said so?"""

import pytest

from turnscrew.web.records.models import OrderLine, Part
from turnscrew.web.records.queries.reckoning import reckoned
from web.counter_case import signed_in

ASKED = "T-GL2 costs 0.00: give its cost, or confirm that it is free"


@pytest.fixture
def free(sallowmere) -> Part:
    Part.objects.filter(number="T-GL2").update(cost_minor=0)
    return Part.objects.get(number="T-GL2")


def reasons(batch, now) -> str:
    return str(reckoned(batch, now).devices)


def test_no_quote_is_made_until_it_is_confirmed(
    free, sallowmere, lead, clock, now
) -> None:
    client = signed_in(lead)
    assert ASKED in reasons(sallowmere, now)
    assert "No quote is made with it" in client.get("/stock/T-GL2/").content.decode()

    answer = client.post("/stock/T-GL2/", {"act": "free"}, follow=True)

    assert "costs nothing, confirmed" in answer.content.decode()
    assert "No quote is made with it" not in answer.content.decode()
    assert ASKED not in reasons(sallowmere, now)


def test_what_has_a_cost_is_not_made_free(sallowmere, lead, clock) -> None:
    answer = signed_in(lead).post("/stock/T-GL2/", {"act": "free"})

    assert "wanted 0 in minor units" in answer.content.decode()
    assert not Part.objects.get(number="T-GL2").is_free


def test_it_is_not_ordered_at_nothing_until_somebody_confirms_it(
    sallowmere, lead, clock
) -> None:
    client, address = signed_in(lead), "/stock/T-GL2/"
    Part.objects.filter(number="T-GL2").update(cost_minor=0, is_free=False, breaks=[])
    entered = {"act": "order", "n": 1}

    refused = client.post(address, entered)

    assert 422 == refused.status_code
    assert "T-GL2: found no cost, wanted it set right" in refused.content.decode()
    assert 302 == client.post(address, {"act": "free"}).status_code
    gone_by = client.post(address, entered | {"expected_on": "2020-01-01"})
    assert 422 == gone_by.status_code
    assert "day: found 2020-01-01, wanted " in gone_by.content.decode()
    assert not OrderLine.objects.exists()
    assert 302 == client.post(address, entered).status_code
    assert 1 == OrderLine.objects.count()
