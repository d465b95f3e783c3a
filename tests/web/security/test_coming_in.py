"""How strangers are kept out at the door."""

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.db.models import F
from django.test import Client

from web.counter_case import signed_in
from web.security.conftest import PASSWORD

SIGN_IN = "/sign-in/"


def entered(client: Client, password: str = PASSWORD, **more: str):
    return client.post(SIGN_IN, {"username": "desk", "password": password, **more})


def test_it_lets_in_by_name_and_password(desk_account) -> None:
    client = Client()

    assert "/" == entered(client).url
    assert 200 == client.get("/").status_code


@pytest.mark.parametrize(
    "bad",
    [
        "https://elsewhere.example/", "//elsewhere.example/", "/\\elsewhere.example",
        "https:elsewhere.example", "javascript:alert(1)", "http://testserver@other/",
        "\thttps://elsewhere.example", "///elsewhere.example", "ftp://testserver/",
    ],
)  # fmt: skip
def test_it_leads_nowhere_else_after_coming_in(desk_account, bad) -> None:
    assert "/" == entered(Client(), next=bad).url


def test_it_leads_to_the_page_that_was_asked_for(desk_account) -> None:
    assert "/stock/" == entered(Client(), next="/stock/").url


def test_it_gives_a_new_session_to_whoever_comes_in(desk_account) -> None:
    client = Client()
    session = client.session
    session["planted"] = "by somebody else"
    session.save()
    client.cookies["sessionid"] = session.session_key

    entered(client)
    assert session.session_key != client.cookies["sessionid"].value
    stale = Client()
    stale.cookies["sessionid"] = session.session_key
    assert 302 == stale.get("/").status_code


def test_it_ends_the_session_of_whoever_goes_out(desk) -> None:
    client = signed_in(desk)
    cookie = client.cookies["sessionid"].value

    client.post("/sign-out/")
    stale = Client()
    stale.cookies["sessionid"] = cookie
    assert 302 == stale.get("/").status_code


def test_it_locks_a_name_after_five_wrong_passwords(desk_account) -> None:
    answers = [entered(Client(), "wrong").status_code for _ in range(5)]

    assert [422] * 4 == answers[:4]
    locked = entered(Client())
    assert 429 == locked.status_code
    assert "sessionid" not in locked.cookies


@pytest.mark.parametrize(("minutes", "status"), [(14, 429), (16, 302)])
def test_it_unlocks_after_a_quarter_of_an_hour(desk_account, minutes, status) -> None:
    for _ in range(5):
        entered(Client(), "wrong")
    # The lock has a clock of its own.
    AccessAttempt.objects.update(
        attempt_time=F("attempt_time") - timedelta(minutes=minutes)
    )

    assert status == entered(Client()).status_code


def test_it_does_not_tell_whether_a_name_is_known(desk_account) -> None:
    def page(name: str) -> str:
        client = Client()
        answer = client.post(SIGN_IN, {"username": name, "password": "wrong"})
        assert 422 == answer.status_code
        token = client.cookies["csrftoken"].value
        return answer.content.decode().replace(name, "").replace(token, "")

    known, unknown = page("desk"), page("nobody")
    cut = [text.split("csrfmiddlewaretoken")[0] for text in (known, unknown)]
    assert cut[0] == cut[1]


def test_it_hides_its_cookies_from_scripts_and_other_sites(desk_account) -> None:
    client = Client()
    client.get(SIGN_IN)
    entered(client)

    for name in ("sessionid", "csrftoken"):
        assert client.cookies[name]["httponly"], name
        assert "Lax" == client.cookies[name]["samesite"], name


def test_it_sends_cookies_by_https_alone_when_shared(desk_account, settings) -> None:
    settings.SESSION_COOKIE_SECURE = settings.CSRF_COOKIE_SECURE = True
    client = Client()
    client.get(SIGN_IN, secure=True)
    client.post(SIGN_IN, {"username": "desk", "password": PASSWORD}, secure=True)

    assert client.cookies["sessionid"]["secure"]
    assert client.cookies["csrftoken"]["secure"]


def test_it_answers_no_other_host(db) -> None:
    assert 400 == Client().get("/", headers={"host": "elsewhere.example"}).status_code
