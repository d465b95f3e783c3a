"""Is a form of an earlier sign-in refused in words, with what was entered in it?"""

import json
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.test import Client

from turnscrew.web.records.models import Head

WORD = "a long word of the lead"
ENTERED = {
    "act": "confirm", "once": "1" * 32, "lines": ["1", "2", "3"], "code": "L-FAN",
    "cause": "worn <bearing>", "password": "hidden word", "again": "hidden word",
}  # fmt: skip


@pytest.fixture
def browser(lead) -> Client:
    """Give the lead's browser, that holds a proof for its forms."""
    lead.user.set_password(WORD)
    lead.user.save()
    client = Client(enforce_csrf_checks=True)
    sign_in(client)
    return client


def sign_in(client: Client) -> None:
    seal = seal_of(client, "/sign-in/")
    sent = {"csrfmiddlewaretoken": seal, "username": "lead", "password": WORD}
    assert 302 == client.post("/sign-in/", sent).status_code


def seal_of(client: Client, address: str) -> str:
    return str(client.get(address).context["csrf_token"])


def post_late(client: Client, address: str) -> Any:
    """Send a form that was opened before the sign-in ended and began anew."""
    seal = seal_of(client, "/batches/")
    Session.objects.all().delete()
    sign_in(client)
    return client.post(address, ENTERED | {"csrfmiddlewaretoken": seal})


def told(answer: Any) -> list[tuple[str, str]]:
    return list(answer.context["entered"])


def entries() -> list[int]:
    return list(Head.objects.order_by("journal").values_list("sequence", flat=True))


WANTED = [
    ("lines", "1"), ("lines", "2"), ("lines", "3"), ("code", "L-FAN"),
    ("cause", "worn <bearing>"),
]  # fmt: skip


def test_it_says_what_was_entered_and_where_to_enter_it(browser, sallowmere) -> None:
    before = entries()
    address = f"/batches/{sallowmere.ref}/"
    answer = post_late(browser, address)
    page = answer.content.decode()

    assert (403, WANTED) == (answer.status_code, told(answer))
    assert "Not done: the form was too old" in page
    assert f'<a href="{address}">Open the page anew</a>' in page
    assert "worn &lt;bearing&gt;" in page
    assert "hidden word" not in page
    assert "DEBUG" not in page
    assert before == entries()


def test_it_says_so_in_the_language_of_the_person(browser, sallowmere, lead) -> None:
    lead.language = "de"
    lead.save()
    page = post_late(browser, "/batches/").content.decode()

    assert "Nicht getan: das Formular war zu alt" in page
    assert "hat sich hier jemand neu angemeldet" in page


def test_it_leads_whoever_wanted_to_go_out_to_a_page(browser, sallowmere) -> None:
    page = post_late(browser, "/sign-out/").content.decode()

    assert '<a href="/">To the first page</a>' in page
    assert 'href="/sign-out/"' not in page


def test_it_says_so_to_a_bench_in_json(browser, sallowmere) -> None:
    seal = browser.get("/bench/state/").json()["token"]
    Session.objects.all().delete()
    sign_in(browser)
    answer = browser.post(
        "/bench/tell/", json.dumps({"strokes": []}), "application/json",
        headers={"X-CSRFToken": seal},
    )  # fmt: skip

    assert 403 == answer.status_code
    assert ["Signed in anew meanwhile: press again; nothing told here is lost"] == (
        answer.json()["reasons"]
    )
    seal = browser.get("/bench/state/").json()["token"]
    answer = browser.post(
        "/bench/tell/", json.dumps({"strokes": []}), "application/json",
        headers={"X-CSRFToken": seal},
    )  # fmt: skip
    assert {"became": []} == answer.json()


def test_an_ended_sign_in_shows_every_value_but_no_secret(browser, sallowmere) -> None:
    seal = seal_of(browser, "/batches/")
    Session.objects.all().delete()
    answer = browser.post("/batches/", ENTERED | {"csrfmiddlewaretoken": seal})

    assert (404, WANTED) == (answer.status_code, told(answer))
    assert "hidden word" not in answer.content.decode()
