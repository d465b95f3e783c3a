"""Programs of the workshop, each with a token of its own."""

from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from turnscrew.web.records.models import Person
from turnscrew.web.records.services.tokens import SCOPES, make_token


@pytest.fixture(autouse=True)
def the_day_it_was_received(clock) -> None:
    """Let the server's clock stand where the batch was received."""


class Program:
    """Asks with a token."""

    def __init__(self, token: str) -> None:
        self.client = Client()
        self.headers = {"authorization": f"Bearer {token}"}

    def read(self, path: str, **query: Any) -> Any:
        return self.client.get(f"/api/v1/{path}", query, headers=self.headers)

    def write(self, path: str, body: Any) -> Any:
        return self.client.post(
            f"/api/v1/{path}", body, "application/json", headers=self.headers
        )


@pytest.fixture
def program_of(now) -> Callable[..., Program]:
    def made(person: Person, *scopes: str) -> Program:
        return Program(make_token(person, "bench tablet", scopes or SCOPES, now))

    return made


@pytest.fixture
def program(lead, program_of) -> Program:
    return program_of(lead)


@pytest.fixture
def job(sallowmere) -> Any:
    return sallowmere.jobs.get(line=1)
