"""Tokens: who gets in, for what, and what the others are told."""

from datetime import timedelta
from hashlib import sha256

import pytest
from django.test import Client

from turnscrew.web.api.routes import api
from turnscrew.web.records.models import ApiToken
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.tokens import make_token, withdraw_token

UNKNOWN = [
    {"where": "Authorization", "found": "no token that holds", "wanted": "Bearer TOKEN"}
]


def routes() -> list[tuple[str, str]]:
    paths = api.get_openapi_schema(path_prefix="/api/")["paths"]
    return [
        (method, path.replace("{ref}", "0" * 16).replace("{name}", "stock"))
        for path, methods in paths.items()
        for method in methods
    ]


def test_it_keeps_the_digest_of_a_token_and_never_the_token(lead, now) -> None:
    token = make_token(lead, "bench tablet", ["read"], now)

    row = ApiToken.objects.get()
    assert sha256(token.encode()).hexdigest() == row.token_digest
    assert not any(token in str(value) for value in vars(row).values())


def test_it_tells_whose_token_it_is(program_of, helper) -> None:
    answer = program_of(helper, "bench", "read").read("whoami")

    assert 200 == answer.status_code
    assert {
        "person": helper.ref,
        "name": "Joss Harrowell",
        "rights": "helper",
        "token": "bench tablet",
        "scopes": ["bench", "read"],
    } == answer.json()


@pytest.mark.parametrize(("method", "path"), routes())
def test_it_asks_a_stranger_for_a_token_on_every_route(db, method, path) -> None:
    answer = Client().generic(method.upper(), path)

    assert 401 == answer.status_code
    assert "Bearer" == answer["WWW-Authenticate"]
    assert UNKNOWN == answer.json()["problems"]


@pytest.mark.parametrize(
    "header", ["", "Bearer", "Bearer ", "Basic abc", "Bearer \xff\xfe", "bearer x y"]
)
def test_it_asks_for_a_token_when_another_header_is_shown(db, header) -> None:
    answer = Client().get("/api/v1/whoami", headers={"authorization": header})

    assert 401 == answer.status_code


def test_it_takes_no_session_for_a_token(lead) -> None:
    client = Client()
    client.force_login(lead.user, "django.contrib.auth.backends.ModelBackend")

    assert 401 == client.get("/api/v1/whoami").status_code


def test_it_shuts_a_withdrawn_token_out(program) -> None:
    withdraw_token(ApiToken.objects.get())

    assert 401 == program.read("whoami").status_code


def test_it_shuts_an_expired_token_out(lead, now) -> None:
    token = make_token(lead, "old", ["read"], now - timedelta(days=1), now)

    answer = Client().get(
        "/api/v1/whoami", headers={"authorization": f"Bearer {token}"}
    )
    assert 401 == answer.status_code


def test_it_shuts_the_tokens_of_somebody_out_who_has_left(lead, program) -> None:
    lead.has_left = True
    lead.save()

    assert 401 == program.read("whoami").status_code


def test_it_shuts_the_tokens_of_a_closed_account_out(lead, program) -> None:
    lead.user.is_active = False
    lead.user.save()

    assert 401 == program.read("whoami").status_code


def test_it_tells_which_scope_is_missing(program_of, lead) -> None:
    answer = program_of(lead, "read").read("audit")

    assert 403 == answer.status_code
    assert [
        {"where": "scope of the token", "found": "read", "wanted": "audit"}
    ] == answer.json()["problems"]


@pytest.mark.parametrize(
    ("who", "path"),
    [
        ("helper", "audit"),
        ("helper", "journals/money"),
        ("helper", "batches/{batch}/reckoning"),
        ("desk", "audit"),
        ("desk", "journals/custody"),
    ],
)
def test_it_shows_nothing_to_whom_it_is_not_for(
    program_of, helper, desk, sallowmere, request, who, path
) -> None:
    asked = program_of(request.getfixturevalue(who))

    assert 404 == asked.read(path.format(batch=sallowmere.ref)).status_code


def test_it_lets_nobody_write_at_the_bench_who_may_not(program_of, desk, job) -> None:
    asked = program_of(desk)
    done = {"verb": "action", "facts": {"step": 1}}

    assert 404 == asked.write(f"jobs/{job.ref}/actions", done).status_code
    assert (
        404
        == asked.write(
            f"jobs/{job.ref}/findings", {"stage": "seen", "code": "L-FAN"}
        ).status_code
    )


def test_it_lets_the_desk_move_devices_by_its_own_right(program_of, desk, job) -> None:
    asked = program_of(desk, "bench", "counter")

    answer = asked.write(
        f"jobs/{job.ref}/move", {"state": "identified", "place": "shelf 2"}
    )
    assert 200 == answer.status_code
    assert desk.ref == answer.json()["standing"]["holder"]


def test_it_tells_what_a_part_costs_to_those_with_money_alone(
    program_of, helper, lead, sallowmere
) -> None:
    number = program_of(lead).read("parts").json()["parts"][0]["part"]["part"]

    def cost(asked) -> int | None:
        return asked.read(f"parts/{number}").json()["part"]["cost_minor"]

    assert cost(program_of(lead)) > 0
    assert cost(program_of(lead, "read")) is None
    assert cost(program_of(helper)) is None


@pytest.mark.parametrize(
    ("name", "scopes", "days", "said"),
    [
        (" ", ["read"], 1, "name: found 0 characters"),
        ("n" * 61, ["read"], 1, "name: found 61 characters"),
        ("n", [], 1, "scopes: found none"),
        ("n", ["all", "read"], 1, "scopes: found all"),
        ("n", ["read"], -1, "expiry: found"),
        ("n", ["read"], 732, "expiry: found 2029-02-02, wanted 2029-02-01 or earlier"),
    ],
)
def test_it_refuses_to_make_a_token_that_makes_no_sense(
    lead, now, name, scopes, days, said
) -> None:
    with pytest.raises(RefusedError, match=said):
        make_token(lead, name, scopes, now, now + timedelta(days=days))
    assert not ApiToken.objects.exists()


def test_it_makes_no_token_for_somebody_who_has_left(lead, now) -> None:
    lead.has_left = True

    with pytest.raises(RefusedError, match="who has left"):
        make_token(lead, "n", ["read"], now)
