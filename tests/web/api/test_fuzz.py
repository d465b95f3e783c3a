"""Does every route answer as described, whatever is sent to it?"""

import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, settings
from schemathesis.specs.openapi.checks import positive_data_acceptance

from turnscrew.web.api.routes import api
from turnscrew.web.records.models import ApiToken, Item, Job, Part
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services.tokens import SCOPES, digest_of
from turnscrew.web.wsgi import application

schema = schemathesis.openapi.from_dict(api.get_openapi_schema(path_prefix="/api/"))
schema.app = application

# Requests are made up before there are records, so the token cannot be made by chance.
TOKEN = "one for all that is made up"


@schema.auth(refresh_interval=None)
class Bearer:
    def get(self, case: Any, context: Any) -> str:
        return f"Bearer {TOKEN}"

    def set(self, case: Any, token: str, context: Any) -> None:
        case.headers["Authorization"] = token


_REF = re.compile("[0-9a-f]{16}")


@pytest.fixture
def known(sallowmere) -> dict[str, str]:
    """Give something on record to name in each family of addresses."""
    job = sallowmere.jobs.first()
    return {
        "batches": sallowmere.ref,
        "jobs": job.ref,
        "items": Item.objects.get(jobs=job).ref,
        "parts": Part.objects.first().number,
        "job": job.ref,
    }


def name_known(case: Any, known: dict[str, str]) -> None:
    """Let well-formed names mean what is there, or nothing would ever be found."""
    family = case.path.split("/")[3]
    if _REF.fullmatch(case.path_parameters.get("ref", "")):
        case.path_parameters["ref"] = known[family]
    # The many texts that are no part's number are sent as they are now and then.
    number = case.path_parameters.get("number", "")
    if number.isalnum():
        case.path_parameters["number"] = known["parts"]
    if isinstance(case.body, dict) and _REF.fullmatch(str(case.body.get("job", ""))):
        case.body["job"] = known["job"]


@pytest.fixture(autouse=True)
def one_connection() -> Iterator[None]:
    """Keep requests from closing the connection that the whole test stands on."""
    ends = (request_started, request_finished)
    for signal in ends:
        signal.disconnect(close_old_connections)
    yield
    for signal in ends:
        signal.connect(close_old_connections)


@pytest.fixture
def token(lead, now) -> None:
    ApiToken.objects.create(
        person=lead,
        name="fuzz",
        token_digest=digest_of(TOKEN),
        scopes=" ".join(SCOPES),
        made_at=now,
    )


@schema.parametrize()
@settings(
    max_examples=25,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
def test_it_answers_as_described(case, token, known) -> None:
    name_known(case, known)

    # Well-formed requests may still ask for what the records do not allow.
    case.call_and_validate(excluded_checks=[positive_data_acceptance])


def test_it_lets_the_fuzz_reach_behind_every_route(token, known) -> None:
    bodies = {
        "move": {"state": "identified", "place": "a"},
        "findings": {"stage": "seen", "code": "L-FAN"},
        "actions": {"verb": "action"},
        "take": {"job": known["job"]},
        "promise": {"job": known["job"]},
        "count": {"n": 3},
    }
    headers = {"Authorization": f"Bearer {TOKEN}"}
    answers: Counter[int] = Counter()
    for operation in schema.get_all_operations():
        one = operation.ok()
        body = bodies.get(one.path.split("/")[-1])
        case = one.Case(
            path_parameters={
                name: {"ref": "0" * 16, "number": "a", "name": "stock"}[name]
                for name in re.findall(r"{(\w+)}", one.path)
            },
            **({"body": body, "media_type": "application/json"} if body else {}),
        )
        name_known(case, known)
        answers[case.call(headers=headers).status_code] += 1

    assert {200: len(list(schema.get_all_operations()))} == answers
    assert [] == [one for one in audited().breaks]
    assert Job.objects.filter(ref=known["job"], state="identified").exists()
