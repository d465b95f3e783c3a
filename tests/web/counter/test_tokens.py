"""A lead sees who gave a program their rights, and takes them back."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client

from turnscrew.web.records.models import ApiToken, Person
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.tokens import make_token, withdraw_token
from web.counter_case import signed_in


def page_of(person: Person) -> str:
    return f"/people/{person.ref}/"


def shown(answer) -> str:
    told = re.sub("<[^>]+>", " ", answer.content.decode())
    return re.sub(r"\s+", " ", told)


def let_in(token: str) -> int:
    header = {"authorization": f"Bearer {token}"}
    return Client().get("/api/v1/whoami", headers=header).status_code


def test_it_lists_the_tokens_of_a_person(lead, helper, now, clock) -> None:
    make_token(helper, "bench tablet", ["read", "bench"], now, now + timedelta(days=9))
    make_token(helper, "old scale", ["stock"], now)
    make_token(lead, "money sheet", ["money"], now)
    withdraw_token(ApiToken.objects.get(name="old scale"))

    told = shown(signed_in(lead).get(page_of(helper)))

    assert "bench tablet read bench 1 Feb 2027 10 Feb 2027 Withdraw " in told
    assert "old scale stock 1 Feb 2027 1 Feb 2029 withdrawn " in told
    assert "money sheet" not in told


def test_it_shuts_a_program_out_by_a_button(lead, helper, now, clock) -> None:
    token, other = (make_token(helper, name, ["read"], now) for name in "ab")
    row = ApiToken.objects.get(name="a")
    assert 200 == let_in(token)

    answer = signed_in(lead).post(
        page_of(helper), {"act": "withdraw", "token": row.ref}, follow=True
    )

    assert "the token a lets nobody in any more" in shown(answer)
    assert (401, 200) == (let_in(token), let_in(other))


def test_it_withdraws_no_token_of_another_s_page(lead, helper, now, clock) -> None:
    token = make_token(lead, "n", ["read"], now)
    entered = {"act": "withdraw", "token": ApiToken.objects.get().ref}

    answer = signed_in(lead).post(page_of(helper), entered)

    assert 404 == answer.status_code
    assert 200 == let_in(token)


def test_it_keeps_tokens_for_a_lead(helper, desk, now, clock) -> None:
    token = make_token(helper, "bench tablet", ["read"], now)
    entered = {"act": "withdraw", "token": ApiToken.objects.get().ref}

    for one in (helper, desk):
        client = signed_in(one)
        assert "bench tablet" not in shown(client.get(page_of(helper)))
        assert 404 == client.post(page_of(helper), entered).status_code
    assert 200 == let_in(token)


def test_it_takes_an_end_within_two_years(lead, clock) -> None:
    client = signed_in(lead)
    entered = {"act": "token", "name": "n", "scopes": "read"}

    late = client.post(page_of(lead), {**entered, "expires_on": "2029-02-02"})
    assert (422, 0) == (late.status_code, ApiToken.objects.count())
    assert "expiry: found 2029-02-02, wanted 2029-02-01 or earlier" in shown(late)

    client.post(page_of(lead), {**entered, "expires_on": "2029-02-01"})
    assert 1 == ApiToken.objects.count()


def test_it_ends_a_token_of_a_leap_day_in_february(lead) -> None:
    leap_day = datetime(2028, 2, 29, 9, tzinfo=UTC)

    with pytest.raises(RefusedError, match="wanted 2030-02-28 or earlier"):
        make_token(lead, "n", ["read"], leap_day, leap_day + timedelta(days=731))
