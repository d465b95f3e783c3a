"""Who works here, what time it is, and the example batch in the records."""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta
from importlib import import_module
from pathlib import Path

import pytest
from django.apps import apps
from django.db import connection
from django.utils import translation

from turnscrew.files.batch_folder import is_of_batch, read_batch_folder
from turnscrew.web.records.models import Batch, Head, Person
from turnscrew.web.records.services import booking
from web.kept_batch import KeptBatch

SALLOWMERE = Path(__file__).resolve().parents[2] / "examples" / "sallowmere"


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    django_db_modify_db_settings_parallel_suffix, tmp_path_factory
) -> None:
    """
    Keep the tables in a file, as in earnest; each of several runners has its own.

    In memory SQLite lets no two threads at a table, so that a page that asks while
    another writes would be refused here and nowhere else.
    """
    from django.db import connections  # noqa: PLC0415 - needs the settings

    database = connections["default"]
    if database.vendor == "sqlite":
        file = tmp_path_factory.mktemp("records") / "test.sqlite3"
        database.settings_dict["TEST"]["NAME"] = str(file)


@pytest.fixture(autouse=True)
def photos_apart(settings, tmp_path) -> None:
    settings.PHOTOS = tmp_path / "photos"


@pytest.fixture(autouse=True)
def spoken_anew() -> Iterator[None]:
    """Leave no language behind in which a page was asked for: each request sets it."""
    yield
    translation.deactivate()


@pytest.fixture(autouse=True)
def journals(request) -> Iterator[None]:
    """
    Give every test whole journals, and let those end that empty all tables.

    A test with a server of its own ends with empty tables, journals among them, which
    the database would otherwise rightly refuse.
    """
    wanted = set(request.fixturenames)
    is_emptied = bool(wanted & {"transactional_db", "live_server"})
    if not is_emptied and "db" not in wanted:
        yield
        return
    request.getfixturevalue("transactional_db" if is_emptied else "db")
    migration = import_module(
        "turnscrew.web.records.migrations.0002_journals_only_grow"
    )
    if not Head.objects.exists():
        migration.begin(apps, Statements())
    yield
    if is_emptied:
        migration.end(apps, Statements())


class Statements:
    """Runs statements one by one, as a migration would."""

    connection = connection

    def execute(self, statement: str) -> None:
        with connection.cursor() as cursor:
            cursor.execute(statement)


@pytest.fixture
def now() -> datetime:
    return datetime(2027, 2, 1, 9, tzinfo=UTC)


@pytest.fixture
def lead(db) -> Person:
    return person("lead", "Imke Vasterling", Person.LEAD)


@pytest.fixture
def helper(db) -> Person:
    return person("helper", "Joss Harrowell", Person.HELPER)


@pytest.fixture
def desk(db) -> Person:
    return person("desk", "Noor Amsel", Person.DESK)


def person(key: str, name: str, rights: str) -> Person:
    """Make somebody who can sign in by key."""
    from django.contrib.auth.models import User  # noqa: PLC0415 - needs the settings

    user = User.objects.create_user(key, password=None)
    return Person.objects.create(key=key, name=name, rights=rights, user=user)


def sallowmere_contents() -> Mapping[str, bytes]:
    """Give the files of the example batch."""
    return {
        path.name: path.read_bytes()
        for path in sorted(SALLOWMERE.iterdir())
        if is_of_batch(path.name)
    }


@pytest.fixture(scope="session")
def kept_batch() -> KeptBatch:
    return KeptBatch()


@pytest.fixture
def sallowmere(lead, helper, now, kept_batch) -> Batch:
    """Give the example batch as it was received, line by line."""
    return kept_batch.of((lead, helper), lambda: received(lead, now))


def received(lead: Person, now: datetime) -> Batch:
    contents = sallowmere_contents()
    handed_in = read_batch_folder(contents)
    terms_text = contents["terms.yaml"].decode()
    return booking.load_folder(handed_in, terms_text, by=lead, now=now)


class Clock:
    """A clock that stands until it is moved on."""

    def __init__(self, at: datetime) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at

    def move_on(self, **by: float) -> datetime:
        self.at += timedelta(**by)
        return self.at


@pytest.fixture
def clock(monkeypatch, now) -> Clock:
    """Let it be the day the example batch was received, for every page."""
    standing = Clock(now)
    monkeypatch.setattr("django.utils.timezone.now", standing)
    return standing
