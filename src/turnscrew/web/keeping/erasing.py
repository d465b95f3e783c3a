"""How are people forgotten while money, counts and journals stay?"""

import json
from collections.abc import Callable, Iterable
from datetime import date, datetime
from typing import Any

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.contrib.sessions.models import Session
from django.db import connection, transaction
from django.db.models import F, Max, Q, QuerySet, Value
from django.db.models.functions import Concat
from simple_history.utils import update_change_reason

from turnscrew.core.model.job_state import ENDED
from turnscrew.files.terms_file import without_names
from turnscrew.web.keeping.personal import (
    BY_ORDER,
    BY_US,
    ERASED,
    NAMES,
    OF_CUSTOMER,
    PHRASES,
    WORDS,
    blank,
    names_in,
    replace,
    replace_in_facts,
    rows_with_past,
    words_of,
)
from turnscrew.web.keeping.tables import Model
from turnscrew.web.records.models import (
    Absence,
    ApiToken,
    Batch,
    BenchStroke,
    ContactLink,
    Customer,
    DataPart,
    EntryWords,
    Invoice,
    Job,
    Lot,
    Person,
    Photo,
    SignInLink,
    Site,
)
from turnscrew.web.records.photo_files import erase_files
from turnscrew.web.records.queries.charges import due_credits
from turnscrew.web.records.queries.money_page import billable
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing
from turnscrew.web.records.trouble import StorageError


@writing
def erase_customer(customer: Customer, *, by: Person, now: datetime) -> None:
    """
    Forget the people of a customer whose work is done and paid, each batch closed.

    Once more is allowed, for what an earlier erasure left.
    """
    customer = Customer.objects.select_for_update().get(pk=customer.pk)
    _require_done(customer)
    own = {model: _own(model, customer) for model in OF_CUSTOMER}
    names = set[str]().union(*(names_in(own[one], NAMES[one]) for one in NAMES))
    # A batch may be called after a model, and the model's name stays.
    batches = names_in(own[Batch], ["name"])
    names |= words_of(names - batches)
    _forget_words(_about(_refs(own)))
    _forget_words(_of_first_use(own[Lot]))
    for model, columns in WORDS.items():
        blank(own[model], columns)
    for one in rows_with_past(own[Site]):
        one.update(name=Concat(Value(f"{ERASED} "), F("pk")))
    for batch in rows_with_past(own[Batch]):
        _strip_terms(batch)
    for rows in own.values():
        replace(rows, names)
    replace_in_facts(own[BenchStroke], names)
    _forget_photos(own[Photo])
    own[ContactLink].update(is_withdrawn=True)
    customer.refresh_from_db()
    customer.is_erased = True
    keep(customer, now)
    update_change_reason(customer, f"{ERASED} by {by.ref}")


@writing
def erase_person(person: Person, *, by: Person, now: datetime) -> None:
    """Forget somebody who has left; what the hands did stays under a reference."""
    person = Person.objects.select_for_update().get(pk=person.pk)
    if not person.has_left:
        raise RefusedError(f"person: found {person.key} at work, wanted who has left")
    mine: QuerySet[Any] = Person.objects.filter(pk=person.pk)
    names = {name for name in names_in(mine, ["name"]) if " " in name}
    _forget_words(_about({person.ref}))
    _forget_words(lambda words: any(name in words.text for name in names))
    for model in WORDS | PHRASES:
        # Somebody of a customer may have the same name: those columns are left.
        replace(model._default_manager.all(), names, without=NAMES.get(model, ()))
    for model in BY_US:
        replace(model._default_manager.all(), names)
    _close_account(person)
    for rows in rows_with_past(mine):
        rows.update(name=ERASED, key=f"{ERASED}-{person.pk}")
    person.refresh_from_db()
    keep(person, now)
    update_change_reason(person, f"{ERASED} by {by.ref}")


def due_customers(today: date) -> list[Customer]:
    """List the customers that were kept long enough since their last closed job."""
    rows = Customer.objects.filter(is_erased=False).annotate(
        last=Max("batches__jobs__closed_on")
    )
    return [
        one
        for one in rows.order_by("pk")
        if one.last and _months_later(one.last, one.keep_months) <= today
    ]


def customer_by_ref(ref: str) -> Customer:
    """Find a customer by the reference."""
    customer = Customer.objects.filter(ref=ref).first()
    if customer is None:
        raise RefusedError(f"customer: found none under {ref}, wanted a reference")
    return customer


def compact() -> None:
    """Leave nothing of what was erased in the files of the database."""
    with connection.cursor() as cursor:
        if connection.vendor != "sqlite":
            cursor.execute("VACUUM FULL")
            return
        cursor.execute("VACUUM")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        if cursor.fetchone()[0]:
            raise StorageError(
                "records: found in use, wanted a moment alone to wipe what was erased;"
                " stop the server and run turnscrew erase --due again"
            )


def erase_removed_photos() -> None:
    """Delete files of removed photos that an interrupted erasure may have left."""
    for ref in Photo.objects.filter(is_removed=True).values_list("ref", flat=True):
        erase_files(ref)


def _require_done(customer: Customer) -> None:
    jobs = Job.objects.filter(batch__customer=customer)
    n_open = jobs.exclude(state__in=ENDED).count()
    invoices = Invoice.objects.filter(batch__customer=customer)
    n_open_invoices = invoices.exclude(owed_minor=0).count()
    n_here = DataPart.objects.filter(job__batch__customer=customer, end="").count()
    reasons = []
    if n_open:
        reasons.append(f"jobs: found {n_open} open, wanted none")
    if n_open_invoices:
        reasons.append(f"invoices: found {n_open_invoices} not settled, wanted none")
    n_credits = len(due_credits(jobs))
    if n_credits:
        reasons.append(f"credits of donors: found {n_credits} unbilled, wanted none")
    if n_here:
        reasons.append(f"parts with data: found {n_here} without an end, wanted none")
    # What an earlier erasure left is no longer billed to anybody.
    if not customer.is_erased:
        reasons += _left_to_bill(customer)
    if reasons:
        raise RefusedError(*reasons)


def _left_to_bill(customer: Customer) -> list[str]:
    """Say what is still to be billed or to come: it needs the customer's name."""
    open_ones = customer.batches.filter(closed_on=None)
    n_unbilled = sum(len(billable(batch)) for batch in open_ones)
    # One with devices here is told of by its devices.
    n_batches = open_ones.exclude(jobs__in=Job.objects.exclude(state__in=ENDED)).count()
    told = [
        (n_unbilled, f"devices: found {n_unbilled} on no invoice, wanted none"),
        (n_batches, f"batches: found {n_batches} not closed, wanted none"),
    ]
    return [words for n, words in told if n]


def _own(model: Model, customer: Customer) -> QuerySet[Any]:
    meant = Q(**{OF_CUSTOMER[model]: customer.pk})
    if way := BY_ORDER.get(model):
        meant |= Q(**{way: customer.pk}, job=None)
    return model._default_manager.filter(meant)


def _refs(own: dict[Model, QuerySet[Any]]) -> set[str]:
    return {
        ref
        for rows in own.values()
        if hasattr(rows.model, "ref")
        for ref in rows.values_list("ref", flat=True)
    }


def _about(refs: set[str]) -> Callable[[EntryWords], bool]:
    """Tell whether words are about one of these: as the subject or among the facts."""

    def is_about(words: EntryWords) -> bool:
        entry = words.entry
        return entry.subject in refs or not refs.isdisjoint(
            value for value in json.loads(entry.facts).values() if type(value) is str
        )

    return is_about


def _of_first_use(lots: QuerySet[Any]) -> Callable[[EntryWords], bool]:
    """Tell whether words say how a piece of these lots was first used."""
    told = set(lots.exclude(first_use_how="").values_list("part__ref", "first_use_how"))

    def is_of_one(words: EntryWords) -> bool:
        entry = words.entry
        is_first_use = (entry.journal, entry.verb) == ("stock", "first use")
        return is_first_use and (entry.subject, words.text.strip()) in told

    return is_of_one


def _forget_words(is_meant: Callable[[EntryWords], bool]) -> None:
    rows = EntryWords.objects.select_related("entry").iterator(chunk_size=2000)
    meant = [words.pk for words in rows if is_meant(words)]
    for first in range(0, len(meant), 500):
        EntryWords.objects.filter(pk__in=meant[first : first + 500]).delete()


def _strip_terms(batches: Iterable[Any]) -> None:
    for batch in batches:
        if not batch.terms_text:
            continue
        stripped = without_names(batch.terms_text, ERASED)
        type(batch)._default_manager.filter(pk=batch.pk).update(terms_text=stripped)


def _forget_photos(photos: QuerySet[Any]) -> None:
    refs = list(photos.values_list("ref", flat=True))
    photos.update(
        caption="", marks=[], masks=[], is_removed=True, is_cleared=False,
        client_key=None,
    )  # fmt: skip

    def erase() -> None:
        for ref in refs:
            erase_files(ref)

    # What is undone with the tables could not be undone with the files.
    transaction.on_commit(erase)


def _close_account(person: Person) -> None:
    ApiToken.objects.filter(person=person).delete()
    SignInLink.objects.filter(person=person).delete()
    Absence.objects.filter(person=person).delete()
    user = person.user
    for tries in (AccessAttempt, AccessFailureLog, AccessLog):
        tries.objects.filter(username=user.username if user else person.key).delete()
    if user is None:
        return
    for session in Session.objects.iterator():
        if session.get_decoded().get("_auth_user_id") == str(user.pk):
            session.delete()
    user.delete()


def _months_later(day: date, n_months: int) -> date:
    year, month = divmod(day.year * 12 + day.month - 1 + n_months, 12)
    # The first of the next month in place of a day the month does not have.
    try:
        return date(year, month + 1, day.day)
    except ValueError:
        return date(year, month + 2, 1)
