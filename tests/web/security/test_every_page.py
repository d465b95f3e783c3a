"""What holds on every page there is, and on every one there will be."""

import re

import pytest
from django.contrib.contenttypes.models import ContentType
from django.http import HttpResponse
from django.test import Client
from django.urls import resolve

from turnscrew.web.records.models import Entry, Job, Photo, Quote
from web.counter_case import signed_in
from web.security.conftest import address_of, page_routes, secrets_of

OPEN = {"sign-in/", "first/<str:token>/"}
"""Pages made for strangers; they tell nothing."""

FOR_CONTACTS = {
    "answer/<str:address>/", "answer/<str:address>/photos/<slug:ref>/",
}  # fmt: skip
"""Pages for whoever holds a signed address."""

NOT_FOR = {
    "helper": (
        "money/",
        "batches/<slug:ref>/invoice/",
        "audit/",
        "batches/<slug:ref>/approvals/",
        "batches/<slug:ref>/order/",
        "stock/order/",
        "batches/<slug:ref>/papers/<str:name>",
        "customers/<slug:ref>/fleet/report/",
    ),
    "desk": ("audit/",),
}
"""What the addresses begin with that are not there for somebody."""


def count_rows() -> dict[str, int]:
    return {
        kind.model: kind.model_class().objects.count()
        for kind in ContentType.objects.filter(app_label="records")
        if kind.model_class() is not None
    }


def test_it_meets_every_page_with_something_behind_it(lead, named) -> None:
    client = signed_in(lead)
    answers = {
        route: client.get(address_of(route, named)).status_code
        for route in page_routes()
    }

    assert {"sign-out/": 405} == {
        route: status for route, status in answers.items() if status != 200
    }


@pytest.mark.parametrize("who", ["helper", "desk"])
def test_it_leads_nobody_to_what_is_not_there_for_them(who, named, request) -> None:
    client = signed_in(request.getfixturevalue(who))
    links: dict[str, tuple[str, str]] = {}
    for route in page_routes():
        page = client.get(address_of(route, named))
        if page.status_code != 200 or "html" not in page["Content-Type"]:
            continue
        text = page.content.decode()
        assert "<button></button>" not in text, route
        for link in re.findall(r'href="(/[^"#?]*)', text):
            if not link.startswith("/static/"):
                links.setdefault(resolve(link).route, (link, route))
    dead = {
        link: (404, route)
        for link, route in links.values()
        if client.get(link).status_code == 404
    }

    assert len(links) > 20
    assert {} == dead


def test_it_tells_a_stranger_nothing_on_any_page(sallowmere, named) -> None:
    words = [word for word in secrets_of(sallowmere) if word]
    for route in page_routes():
        for method in ("get", "post", "head", "put", "delete", "options", "patch"):
            if route in FOR_CONTACTS:
                continue
            answer: HttpResponse = getattr(Client(), method)(address_of(route, named))
            told = answer.content.decode(errors="replace")
            assert [] == [word for word in words if word in told], (route, method)
            if route not in OPEN and answer.status_code != 404:
                assert (302, "/sign-in/") == (answer.status_code, answer.url), route


def test_it_shows_who_has_left_nothing(sallowmere, named, helper) -> None:
    client = signed_in(helper)
    helper.has_left = True
    helper.save()

    for route in set(page_routes()) - OPEN - FOR_CONTACTS - {""}:
        assert 404 == client.get(address_of(route, named)).status_code, route


def test_it_lets_no_account_in_that_belongs_to_nobody(named, django_user_model) -> None:
    client = Client()
    client.force_login(
        django_user_model.objects.create_superuser("root"),
        "django.contrib.auth.backends.ModelBackend",
    )

    for route in set(page_routes()) - OPEN - FOR_CONTACTS - {""}:
        assert 404 == client.get(address_of(route, named)).status_code, route


@pytest.mark.parametrize("who", ["helper", "desk"])
def test_it_hides_what_is_not_for_somebody(who, named, request) -> None:
    client = signed_in(request.getfixturevalue(who))
    answers = {
        route: client.get(address_of(route, named)).status_code
        for route in page_routes()
    }

    hidden = {route for route in answers if route.startswith(NOT_FOR[who])}
    assert hidden == {route for route, status in answers.items() if status == 404}
    assert not {status for status in answers.values()} & {403, 500}


def test_it_takes_nothing_without_a_proof_that_the_form_was_ours(lead, named) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(lead.user, "django.contrib.auth.backends.ModelBackend")
    before = count_rows()

    for route in page_routes():
        for person in (client, Client(enforce_csrf_checks=True)):
            answer = person.post(address_of(route, named), {"act": "add"})
            # Strangers find nothing at all, so there is nothing to prove.
            wanted = {403} if person is client else {403, 404, 302}
            assert answer.status_code in wanted, route
    assert before == count_rows()


def test_it_does_nothing_that_only_others_may(named, request, sallowmere) -> None:
    acts = {
        "helper": [
            ("batches/<slug:ref>/", "quote"), ("batches/<slug:ref>/", "close"),
            ("batches/<slug:ref>/invoice/", "bill"), ("people/<slug:ref>/", "let_go"),
            ("people/<slug:ref>/", "sign_off"), ("people/", "add"),
            ("customers/<slug:ref>/", "keep"),
            ("batches/<slug:ref>/hand-back/", "give"),
        ],
        "desk": [
            ("people/<slug:ref>/", "sign_off"), ("people/<slug:ref>/", "let_in"),
            ("people/", "add"), ("batches/<slug:ref>/", "fitted"), ("audit/", "run"),
        ],
    }  # fmt: skip
    before = Entry.objects.count(), Quote.objects.count()
    for who, tried in acts.items():
        client = signed_in(request.getfixturevalue(who))
        for route, act in tried:
            answer = client.post(address_of(route, named), {"act": act})
            assert 404 == answer.status_code, (who, route, act)
    assert before == (Entry.objects.count(), Quote.objects.count())


def test_it_sends_every_page_with_strict_headers(lead, named) -> None:
    client = signed_in(lead)
    for route in page_routes():
        answer = client.get(address_of(route, named))
        policy = answer["Content-Security-Policy"]
        assert "default-src 'none'" in policy, route
        assert "frame-ancestors 'none'" in policy, route
        assert "unsafe" not in policy, route
        assert "*" not in policy, route
        assert "nosniff" == answer["X-Content-Type-Options"], route
        assert "DENY" == answer["X-Frame-Options"], route
        assert "same-origin" == answer["Referrer-Policy"], route
        assert "same-origin" == answer["Cross-Origin-Opener-Policy"], route


def test_it_writes_no_script_and_no_style_into_any_page(lead, named) -> None:
    client = signed_in(lead)
    for route in page_routes():
        answer = client.get(address_of(route, named))
        if answer["Content-Type"].startswith("text/html"):
            page = answer.content.decode()
            assert " style=" not in page, route
            assert "<style" not in page, route
            assert "javascript:" not in page, route
            assert page.count("<script") == page.count('<script src="/static/'), route


@pytest.mark.parametrize("odd", ["0" * 16, "..", "%2e%2e%2f", "%00", "'--", "<b>"])
def test_it_finds_nothing_under_odd_names(lead, named, odd) -> None:
    client = signed_in(lead)
    for route in page_routes():
        if "<" not in route or route.startswith(("first/", "answer/")):
            continue
        address = address_of(route, dict.fromkeys(named, odd))
        assert 404 == client.get(address).status_code, route


def test_it_writes_what_was_entered_as_words_never_as_a_page(lead, named) -> None:
    client = signed_in(lead)
    bad = "<script>alert(1)</script>\"'>"
    Job.objects.update(reported=bad, remarks=bad, reason=bad, site=bad[:60])
    Photo.objects.update(caption=bad)
    for route in page_routes():
        answer = client.get(address_of(route, named))
        assert b"<script>alert" not in answer.content, route


def test_it_gives_no_table_that_a_spreadsheet_would_run(lead, named) -> None:
    client = signed_in(lead)
    Job.objects.update(reported="=1+1", remarks="@SUM(A1)", asset_number="+1")
    for route in page_routes():
        answer = client.get(address_of(route, named))
        kind = answer["Content-Type"]
        assert not kind.startswith(("text/csv", "application/vnd")), route
