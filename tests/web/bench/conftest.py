"""The example batch described, with a lead and a helper signed in at their benches."""

from collections.abc import Iterator
from datetime import UTC, datetime
from importlib import import_module
from typing import Any

import pytest
from django.apps import apps
from django.db import connection, transaction
from django.test import Client

from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.bench import telling
from turnscrew.web.records.models import Batch, Description, Head, Person
from turnscrew.web.records.queries import bench_diagnosis, bench_runs
from turnscrew.web.records.services import booking
from web.browser.bench_case import describe
from web.conftest import Statements, person, sallowmere_contents
from web.counter_case import signed_in

_described: list[dict[str, Any]] = []
"""What was read of the descriptions once; reading them takes seconds."""


@pytest.fixture(scope="module")
def base(django_db_setup, django_db_blocker) -> Iterator[None]:
    """Load the example batch once for a module; each test takes back its own."""
    now = datetime(2027, 2, 1, 9, tzinfo=UTC)
    with django_db_blocker.unblock():
        with transaction.atomic():
            if not Head.objects.exists():
                begin = import_module(
                    "turnscrew.web.records.migrations.0002_journals_only_grow"
                )
                begin.begin(apps, Statements())
            lead = person("lead", "Imke Vasterling", Person.LEAD)
            person("helper", "Joss Harrowell", Person.HELPER)
            contents = sallowmere_contents()
            batch = booking.load_folder(
                read_batch_folder(contents), contents["terms.yaml"].decode(),
                by=lead, now=now,
            )  # fmt: skip
            _describe_once(batch, lead, now)
            yield
            transaction.set_rollback(True)


def _describe_once(batch: Batch, lead: Person, now: datetime) -> None:
    if not _described:
        describe(batch, lead, now)
        _described.extend(Description.objects.values())
        return
    for row in _described:
        Description.objects.create(**row | {"by_id": lead.pk})


class Outside:
    """Tells a service's transaction from the one around every test."""

    def __init__(self) -> None:
        self.depth = len(connection.savepoint_ids)

    @property
    def in_atomic_block(self) -> bool:
        return len(connection.savepoint_ids) > self.depth


@pytest.fixture(autouse=True)
def nothing_known(db, monkeypatch) -> Iterator[None]:
    """Forget what was read before, and keep at hand what is kept in earnest."""
    _forget()
    monkeypatch.setattr(bench_runs, "connection", Outside())
    monkeypatch.setattr(telling, "SEARCH_S", 0.05)
    yield
    _forget()


def _forget() -> None:
    bench_diagnosis._table.cache_clear()


@pytest.fixture
def lead(base, db) -> Person:
    return Person.objects.get(key="lead")


@pytest.fixture
def helper(base, db) -> Person:
    return Person.objects.get(key="helper")


@pytest.fixture
def batch(base, db) -> Batch:
    return Batch.objects.exclude(terms_text="").get()


@pytest.fixture
def at_lead(lead, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def at_helper(helper, clock) -> Client:
    return signed_in(helper)
