"""What other processes do to the records in these tests: ``-m web.keeping.writers``."""

# The settings come first; and what is printed is what the tests read.
# ruff: noqa: E402, T201

import json
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from hashlib import sha256
from io import BytesIO

import django

django.setup()

from django.apps import apps
from django.conf import settings
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.sessions.models import Session
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder
from django.test import Client
from PIL import Image

from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.keeping.owner import first_owner, make_sign_in_link
from turnscrew.web.keeping.tables import carried, rows_of
from turnscrew.web.keeping.upgrade import bring_up_to_date
from turnscrew.web.records.models import (
    Allotment,
    ApiToken,
    Batch,
    Customer,
    Entry,
    Head,
    Job,
    Part,
    Person,
    Photo,
    SignInLink,
)
from turnscrew.web.records.queries import trial_restore
from turnscrew.web.records.services import stock
from turnscrew.web.records.services.booking import load_folder
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.people import link_for
from turnscrew.web.records.services.photos import add_photo
from turnscrew.web.records.services.tokens import make_token
from turnscrew.web.records.trouble import StorageError, told_plainly
from web.conftest import sallowmere_contents
from web.keeping import first_records, names

NOW = datetime(2027, 2, 1, 9, tzinfo=UTC)
PART = "C-FN"
FULL = {
    "sqlite": ["PRAGMA page_count"],
    # Nobody fills a server's disk for a test: its own words are said in its place.
    "postgresql": [
        """
        CREATE FUNCTION full_disk() RETURNS trigger AS $$
        BEGIN RAISE EXCEPTION 'could not extend file: No space left on device'
        USING ERRCODE = '53100'; END $$ LANGUAGE plpgsql
        """,
        """
        CREATE TRIGGER full_disk BEFORE INSERT ON records_entry FOR EACH ROW
        WHEN (NEW.sequence > 40) EXECUTE FUNCTION full_disk()
        """,
    ],
}


def populate() -> None:
    bring_up_to_date()
    owner = first_owner(NOW)
    contents = sallowmere_contents()
    batch = read_batch_folder(contents)
    load_folder(batch, contents["terms.yaml"].decode(), by=owner, now=NOW)


def promise(first: str, n: str) -> None:
    """Promise a piece to some jobs, one after the other, from a signal on."""
    by, part = lead(), Part.objects.get(number=PART)
    jobs = Job.objects.filter(line__gte=int(first), batch__closed_on=None)[: int(n)]
    for job in wait_with(list(jobs)):
        print(stock.promise(part, job, by=by, now=NOW).state, flush=True)


def take(first: str, n: str) -> None:
    """Take a piece off the shelf for some jobs, promised or not."""
    by, part = lead(), Part.objects.get(number=PART)
    jobs = Job.objects.filter(line__gte=int(first), batch__closed_on=None)[: int(n)]
    for job in wait_with(list(jobs)):
        print(stock.take(part, job, by=by, now=NOW).state, flush=True)


def shelf() -> None:
    """Tell how the part stands, and how many entries its journal has."""
    part = Part.objects.get(number=PART)
    told = {
        "on_hand": part.on_hand,
        "promised": part.promised,
        "free": part.free,
        "short": Allotment.objects.filter(part=part, state="short").count(),
        "entries": Head.objects.get(journal="stock").sequence,
    }
    print(json.dumps(told))


def promise_now(first: str, n: str) -> None:
    by, part = lead(), Part.objects.get(number=PART)
    for job in Job.objects.filter(line__gte=int(first))[: int(n)]:
        stock.promise(part, job, by=by, now=NOW)


def storm(n: str) -> None:
    """Move pieces until somebody says stop; say so after each."""
    by, part = lead(), Part.objects.get(number=PART)
    for _ in range(int(n)):
        stock.move_stock(part, "received", 1, by=by, now=NOW)
        print(part.on_hand, flush=True)


def storm_on_a_full_disk() -> None:
    """Tell how many moves were acknowledged, how many are there, and what was said."""
    by, part = lead(), Part.objects.get(number=PART)
    before = Head.objects.get(journal="stock").sequence
    with connection.cursor() as cursor:
        for statement in FULL[connection.vendor]:
            cursor.execute(statement)
            n_pages = (cursor.fetchone() or (0,))[0] if cursor.description else 0
        if n_pages:
            cursor.execute(f"PRAGMA max_page_count = {n_pages + 4}")
    n = 0
    try:
        with told_plainly():
            while n < 10_000:
                stock.move_stock(part, "found", 1, by=by, now=NOW, words="x" * 500)
                n += 1
    except StorageError as error:
        said = str(error)
    print(n, Head.objects.get(journal="stock").sequence - before, said, sep="\n")


def sign_in() -> None:
    session = SessionStore()
    session["_auth_user_id"] = str(lead().user_id)
    session.create()


def sessions() -> None:
    print(Session.objects.count())


def break_head() -> None:
    Head.objects.filter(journal="money").update(sequence=5)


def rewrite_an_entry() -> None:
    try:
        Entry.objects.filter(sequence=1).update(verb="moved")
    except DatabaseError as error:
        print(error)


def take_a_step_beyond() -> None:
    MigrationRecorder(connection).record_applied("records", "9999_beyond")


def awkward() -> None:
    """Write what spreadsheets, cells and other databases stumble over."""
    customer = Customer.objects.get()
    customer.name, customer.address = "=1+1", '\'@two\r\nlines, "quoted"; \u2603'
    keep(customer, NOW)
    part = Part.objects.get(number=PART)
    part.breaks = [[10, 950], [20, "'=x"]]
    keep(part, NOW)
    stock.count(part, 7, by=lead(), now=NOW, words="-5\tfell")
    make_token(lead(), "bench", ["read"], NOW)
    make_sign_in_link(lead(), NOW)
    user = lead().user
    user.set_password("a word nobody guesses")
    user.save()
    sign_in()


def secrets() -> None:
    print(lead().user.password, Session.objects.get().session_key)
    print(ApiToken.objects.get().token_digest, SignInLink.objects.get().token_digest)


def first_tables() -> None:
    """Make records as the first program made them, by its own tables."""
    executor = MigrationExecutor(connection)
    first = [("records", "0002_journals_only_grow")]
    executor.migrate(first)
    apps = MigrationExecutor(connection).loader.project_state(first).apps
    first_records.fill(lambda name: apps.get_model("records", name), NOW)


def upgrade() -> None:
    bring_up_to_date()


def first_counts() -> None:
    """Tell how many rows of each of the first tables there are."""
    for name in sorted(first_records.TABLES):
        print(name, apps.get_model("records", name)._default_manager.count())


def names_everywhere() -> None:
    """Write names everywhere, a former one of the customer too; tell which it is."""
    batch = Batch.objects.exclude(terms_text="").get()
    names.names_everywhere(batch, by=lead(), now=NOW)
    customer()


def photograph() -> None:
    """Take a photo of two devices each."""
    for job in Job.objects.filter(line__lt=3, batch__closed_on=None):
        file = BytesIO()
        Image.effect_noise((64, 64), 60 + job.line).save(file, "PNG")
        add_photo(job, file.getvalue(), by=lead(), now=NOW)


def open_pages() -> None:
    """Tell which pages do not open for a lead, of all that name a record."""
    someone = Person.objects.filter(rights="lead", has_left=False).first()
    link_for(someone, now=NOW)
    client = Client()
    client.force_login(someone.user, settings.AUTHENTICATION_BACKENDS[1])
    client.raise_request_exception = False
    n = 0
    for address in addresses():
        status = client.get(address, headers={"host": "localhost"}).status_code
        n += 1
        if status >= 500:
            print(address, status)
    print(n, "pages asked for")


def addresses() -> Iterator[str]:
    yield from ("/", "/batches/", "/stock/", "/stock/goods-in/", "/stock/returns/")
    yield from ("/stock/waste/", "/stock/known-good/", "/stock/order/", "/money/")
    yield from ("/comebacks/", "/safety/", "/people/", "/descriptions/", "/handover/")
    yield from ("/own-times/", "/audit/", "/find/?code=1", "/bench/")
    for batch in Batch.objects.all():
        for part in ("", "receive/", "list/", "approvals/", "plan/", "papers/",
                     "order/", "donors/", "accessories/", "hand-back/", "invoice/",
                     "papers/batch-sheet.pdf"):  # fmt: skip
            yield f"/batches/{batch.ref}/{part}"
    for job in Job.objects.order_by("line")[:12]:
        yield f"/items/{job.item.ref}/"
        yield f"/items/{job.item.ref}/checks/"
        yield f"/jobs/{job.ref}/photos/"
    for photo in Photo.objects.all():
        yield f"/photos/{photo.ref}/"
        yield f"/photos/{photo.ref}/original/"
        yield f"/photos/{photo.ref}/shown/"
    for part in Part.objects.all()[:5]:
        yield f"/stock/{part.number}/"
    for one in Customer.objects.all():
        yield f"/customers/{one.ref}/"
        yield f"/customers/{one.ref}/fleet/"
    for person in Person.objects.all():
        yield f"/people/{person.ref}/"


def told_in_part() -> None:
    """Tell what the journals say of a restore in part."""
    for entry in Entry.objects.filter(verb="restored in part"):
        words = getattr(entry, "words", "")
        print(entry.journal, entry.facts, words, sep="\n")


def after_a_restore() -> None:
    told_in_part()
    print("pages:")
    open_pages()


def trials() -> None:
    """Tell what the page of today says of trials of a restore."""
    asked = trial_restore.asked_for(NOW)
    last = trial_restore.last_trial()
    print(json.dumps({
        "is_asked": asked is not None,
        "newest": asked.newest.file if asked and asked.newest else "",
        "is_whole": last.is_whole if last else None,
        "words": last.words if last else "",
    }))  # fmt: skip


def customer() -> None:
    print(Customer.objects.get().ref)


def everything() -> None:
    for model in carried(with_secrets=True).values():
        for row in rows_of(model, with_secrets=True):
            print(row)


def open_tables() -> None:
    tables(with_secrets=False)


def tables(*, with_secrets: bool = True) -> None:
    """Tell every table by its name, its length and a digest of its rows."""
    for name, model in sorted(carried(with_secrets=with_secrets).items()):
        digest, n = sha256(), 0
        for row in rows_of(model, with_secrets=with_secrets):
            digest.update(json.dumps(row, sort_keys=True).encode())
            n += 1
        print(name, n, digest.hexdigest())


def wait_with(things: list) -> list:
    """Wait for the word of the parent, so that all begin at once."""
    print("ready", flush=True)
    sys.stdin.readline()
    return things


def lead():
    return Person.objects.get(key="lead")


if __name__ == "__main__":
    globals()[sys.argv[1]](*sys.argv[2:])
