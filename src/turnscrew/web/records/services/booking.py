"""How does a batch come into the records?"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from django.db.models import Exists, OuterRef

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.batch import BatchLine, ListedDevice
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.device_number import FIRST_YEAR, LAST_YEAR, device_number
from turnscrew.core.model.job_state import Standing
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.terms import Terms
from turnscrew.files.batch_folder import unknown_in
from turnscrew.files.expected_text import read_expected
from turnscrew.files.terms_file import read_terms, without_customer
from turnscrew.web.records.models import (
    Accessory,
    Asset,
    Batch,
    Contact,
    Customer,
    Finding,
    Item,
    Job,
    ListedRow,
    Person,
    SignOff,
    Site,
)
from turnscrew.web.records.queries.free_stock import models_of_parts
from turnscrew.web.records.queries.locks import lock_in
from turnscrew.web.records.services import custody, parts_list
from turnscrew.web.records.services.expecting import expect, with_due_days
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep, keep_all
from turnscrew.web.records.services.lengths import too_long
from turnscrew.web.records.services.locks import note_lock
from turnscrew.web.records.services.on_record import require_on_record, require_open
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

_OFFSET = 1000
"""Lines of a second batch of the same day begin beyond this, so numbers stay apart."""

BENCH_PLACE = "goods-in"

_OF_PAST = (
    "asset_number", "serial", "model", "revision", "site", "reported", "closed_on",
    "ended_as", "parts_told", "results_told",
)  # fmt: skip

FIRST_OWNER = "Owner"
"""Name of whoever started the records, until somebody says another."""


@dataclass(frozen=True)
class Booking:
    """What is said when a batch is booked."""

    name: str
    received: date
    terms_text: str
    customer: Customer | None = None
    expected_text: str = ""


@writing
def load_folder(
    batch: BatchInput, terms_text: str, *, by: Person, now: datetime
) -> Batch:
    """Bring all that a batch's folder holds into the records at once."""
    parts_list.keep_parts(batch.parts.values(), batch.terms, by=by, now=now)
    keep_people(batch, by=by, now=now)
    terms = batch.terms
    customer = keep_customer(terms, now=now)
    keep_history(batch.past, customer, by=by, now=now)
    booked = book(
        Booking(terms.batch, terms.received, terms_text, customer), by=by, now=now
    )
    keep_list(booked, batch.listed, by=by, now=now)
    receive(booked, batch.lines, by=by, now=now)
    return booked


@writing
def book(said: Booking, *, by: Person, now: datetime) -> Batch:
    """Book a batch under terms that read well."""
    if not FIRST_YEAR <= said.received.year <= LAST_YEAR:
        # The number of a device bears two digits of the year.
        raise RefusedError(
            f"received: found {said.received}, wanted a day of the years {FIRST_YEAR} "
            f"to {LAST_YEAR}"
        )
    terms = read_terms(said.terms_text)
    expected = read_expected(said.expected_text, terms.models)
    customer = said.customer or keep_customer(terms, now=now)
    require_on_record(customer.pk)
    name = said.name.strip() or terms.batch
    told = {
        "name": name, "order_number": terms.customer.order,
        "contact": terms.customer.contact,
    }  # fmt: skip
    if wrong := too_long(Batch, told):
        raise RefusedError(*wrong)
    twin = Batch.objects.filter(customer=customer, name=name, received=said.received)
    if twin.exists():
        raise RefusedError(
            f"batch: found {name} of {said.received} booked already, wanted a new one"
        )
    batch = Batch(
        customer=customer,
        name=name,
        received=said.received,
        order_number=terms.customer.order,
        contact=terms.customer.contact,
        terms_text=without_customer(said.terms_text),
    )
    keep(batch, now)
    if expected:
        expect(batch, expected, by=by, now=now)
    return batch


def keep_customer(terms: Terms, *, now: datetime) -> Customer:
    """Give the customer the terms name, made if it is new."""
    told = terms.customer
    names = {"contract": told.contract, "tax_number": told.tax_number}
    wrong = too_long(Customer, {"name": told.name, **names}, "customer, ")
    wrong += too_long(Contact, {"name": told.contact}, "contact, ")
    if wrong:
        raise RefusedError(*wrong)
    customer = Customer.objects.filter(name=told.name, is_erased=False).first()
    if customer is None:
        customer = Customer(
            name=told.name, address="\n".join(told.address), contract=told.contract,
            tax_number=told.tax_number,
        )  # fmt: skip
        keep(customer, now)
    if told.contact:
        Contact.objects.get_or_create(customer=customer, name=told.contact)
    return customer


@writing
def keep_people(batch: BatchInput, *, by: Person, now: datetime) -> None:
    """Bring people into the records; who is known already is left alone."""
    wrong = [
        reason
        for key, told in batch.people.items()
        for kept, texts in (
            (Person, {"key": key, "name": told.name}),
            *((SignOff, {"skill": skill}) for skill in told.skills),
        )
        for reason in too_long(kept, texts, f"person {key:.40}, ")
    ]
    if wrong:
        raise RefusedError(*wrong)
    for n, (key, told) in enumerate(batch.people.items()):
        person = Person.objects.filter(key=key).first()
        if person is not None and person.minutes_a_day:
            continue
        if person is None:
            rights = Person.LEAD if key == Person.LEAD else Person.HELPER
            person = Person(key=key, rights=rights)
        # Who is on record keeps the name; the first owner had none yet.
        if not person.name or person.name == FIRST_OWNER:
            person.name = told.name
        person.order = n
        person.minutes_a_day, person.pay_minor = told.minutes_a_day, told.pay_minor
        person.pace = told.pace
        keep(person, now)
        # Who holds one holds it today, also where the batch is still to come.
        since = min(now.date(), batch.terms.received)
        for skill in told.skills:
            sign_off(person, skill, by=by, now=now, on=since)


@writing
def sign_off(
    person: Person,
    skill: str,
    *,
    by: Person,
    now: datetime,
    on: date,
    until: date | None = None,
    n_supervised: int = 0,
    n_left_over: int = 0,
) -> SignOff:
    """Write down that somebody may use a skill alone from a day on."""
    signed = SignOff(
        person=person, skill=skill, signed_by=by, on=on, until=until,
        n_supervised=n_supervised, n_left_over=n_left_over,
    )  # fmt: skip
    keep(signed, now)
    facts: dict[str, str | int | bool | None] = {
        "skill": skill, "on": on.isoformat(),
        "until": until.isoformat() if until else None,
    }  # fmt: skip
    append("bench", "signed off", person.ref, by=by, now=now, facts=facts)
    return signed


@writing
def keep_history(
    past: Iterable[PastJob], customer: Customer, *, by: Person, now: datetime
) -> None:
    """Bring closed jobs from before the records in, as jobs of a batch of their own."""
    past = tuple(past)
    if n_dayless := sum(job.day is None for job in past):
        raise RefusedError(
            f"history: found {counted(n_dayless, 'closed job')} without a day, wanted "
            "the day of each"
        )
    jobs = _not_yet_known(past, customer)
    if not jobs:
        return
    _refuse_too_long(
        (f"closed job {n}, ", job.family, job) for n, job in enumerate(jobs, 1)
    )
    first = min(job.day for job in jobs if job.day)
    batch = Batch(
        customer=customer, name="From before these records", received=first,
        terms_text="", closed_on=now.date(),
    )  # fmt: skip
    keep(batch, now)
    for line, told in enumerate(jobs, 1):
        _keep_past(batch, line, told, by=by, now=now)


def _not_yet_known(past: Iterable[PastJob], customer: Customer) -> list[PastJob]:
    """
    Leave out the closed jobs that are on record.

    What bears neither serial nor number is known by all that was told of it; two of
    one history that read alike are two.
    """
    rows = Job.objects.filter(batch__customer=customer, closed_on__isnull=False)
    numbered = set(
        rows.exclude(serial="", asset_number="").values_list(
            "serial", "asset_number", "closed_on"
        )
    )
    nameless = rows.filter(serial="", asset_number="").prefetch_related("findings")
    told = Counter(
        (
            *(getattr(job, name) for name in _OF_PAST),
            *sorted(one.code for one in job.findings.all()),
        )
        for job in nameless
    )
    new = []
    for job in past:
        alike = (*_past_fields(job).values(), *sorted(job.faults))
        if job.serial or job.asset:
            is_known = (job.serial, job.asset, job.day) in numbered
        else:
            is_known = told[alike] > 0
            told[alike] -= 1
        if not is_known:
            new.append(job)
    return new


def _past_fields(told: PastJob) -> dict[str, Any]:
    return {
        "asset_number": told.asset,
        "serial": told.serial,
        "model": told.family,
        "revision": told.revision,
        "site": told.site,
        "reported": "; ".join(told.signs),
        "closed_on": told.day,
        "ended_as": told.end,
        "parts_told": "; ".join(told.parts),
        "results_told": "; ".join(f"{name}={said}" for name, said in told.findings),
    }


def _keep_past(
    batch: Batch, line: int, told: PastJob, *, by: Person, now: datetime
) -> None:
    assert told.day is not None
    item = item_for(batch.customer, told, told.day, now=now)
    job = Job(
        batch=batch,
        item=item,
        line=line,
        number=f"H{batch.pk}-{line}",
        **_past_fields(told),
    )
    custody.enter(
        job, Standing("handed back", custody.CUSTOMER, custody.CUSTOMER), by=by, now=now
    )
    at = datetime.combine(told.day, time(12), tzinfo=now.tzinfo)
    for code in told.faults:
        Finding.objects.create(
            job=job, stage=Finding.CONFIRMED, code=code, by=by, at=at
        )


@writing
def keep_list(
    batch: Batch, listed: Iterable[ListedDevice], *, by: Person, now: datetime
) -> None:
    """Keep the customer's list; an earlier one ends where this one begins."""
    require_on_record(batch.customer_id)
    require_open(batch)
    rows = [
        ListedRow(
            batch=batch, row=one.row, asset=one.asset, serial=one.serial,
            model=one.model, revision=one.revision, site=one.site, since=now,
        )
        for one in listed
    ]  # fmt: skip
    ListedRow.objects.filter(batch=batch, until=None).update(until=now)
    keep_all(rows, lambda row: f"row {row.row}, ")


@writing
def receive(
    batch: Batch,
    lines: Iterable[BatchLine],
    *,
    by: Person,
    now: datetime,
    place: str = BENCH_PLACE,
    lock: str = "",
) -> list[Job]:
    """Receive devices: each gets its number, its place and its holder."""
    require_on_record(batch.customer_id)
    require_open(batch)
    lines = list(lines)
    terms = read_terms(batch.terms_text)
    wrong = [str(one) for one in unknown_in(lines, terms, models_of_parts(terms))]
    if wrong:
        raise RefusedError(*wrong)
    _refuse_too_long((f"line {one.line}, ", one.model, one) for one in lines)
    offset = _offset_of(batch)
    _refuse_taken(batch, lines, offset)
    jobs = []
    for line in with_due_days(batch, lines, offset):
        number = line.line + offset
        job = _receive_one(batch, number, line, place, by=by, now=now)
        told = lock or lock_in(line.remarks)
        if told:
            note_lock(job, told, by=by, now=now)
        jobs.append(job)
    return jobs


def _refuse_too_long(told: Iterable[tuple[str, str, BatchLine | PastJob]]) -> None:
    """Refuse devices with a text that is longer than a device has room for."""
    wrong = []
    for where, model, one in told:
        texts = {
            "serial": one.serial, "asset_number": one.asset, "model": model,
            "revision": one.revision, "site": one.site,
        }  # fmt: skip
        if isinstance(one, BatchLine):
            texts["accessories_told"] = "+".join(one.accessories)
            for kind in one.accessories:
                wrong += too_long(Accessory, {"kind": kind}, where)
        wrong += too_long(Job, texts, where)
    if wrong:
        raise RefusedError(*wrong)


def _refuse_taken(batch: Batch, lines: Iterable[BatchLine], offset: int) -> None:
    """Refuse lines whose number another device of the day bears already."""
    of_day = Job.objects.filter(batch__received=batch.received).exclude(
        batch__terms_text=""
    )
    bears = dict(of_day.values_list("line", "batch_id"))
    reasons = []
    for line in lines:
        at = line.line + offset
        if bears.get(at) == batch.pk:
            reasons.append(f"line {line.line}: received already")
        elif at in bears:
            reasons.append(
                f"line {line.line}: found number {at} borne by another batch of the "
                "day, wanted it received with that one, or on another day"
            )
        bears[at] = batch.pk
    if reasons:
        raise RefusedError(*reasons)


def next_line(batch: Batch) -> int:
    """Give the number of the next device of a batch."""
    last = Job.objects.filter(batch=batch).order_by("-line").first()
    return (last.line - _offset_of(batch) if last else 0) + 1


def _offset_of(batch: Batch) -> int:
    earlier = Batch.objects.filter(received=batch.received, pk__lt=batch.pk)
    return _OFFSET * earlier.exclude(terms_text="").count()


def _receive_one(
    batch: Batch, number: int, line: BatchLine, place: str, *, by: Person, now: datetime
) -> Job:
    item = item_for(batch.customer, line, batch.received, now=now)
    if line.site:
        Site.objects.get_or_create(customer=batch.customer, name=line.site)
    job = Job(
        batch=batch,
        item=item,
        line=number,
        number=device_number(batch.received, number),
        asset_number=line.asset,
        serial=line.serial,
        model=line.model,
        revision=line.revision,
        site=line.site,
        due_day=line.due_day,
        reported=line.reported,
        accessories_told="+".join(line.accessories),
        data_class=line.data,
        remarks=line.remarks,
    )
    custody.enter(job, Standing("received", place, by.ref), by=by, now=now)
    for kind, n in Counter(line.accessories).items():
        bring_accessory(batch, job, kind, n, by=by, now=now)
    if line.reported:
        note_finding(job, Finding.REPORTED, by=by, now=now, words=line.reported)
    for code in line.found:
        note_finding(job, Finding.SEEN, by=by, now=now, code=code)
    return job


@writing
def bring_accessory(
    batch: Batch, job: Job | None, kind: str, n: int, *, by: Person, now: datetime
) -> Accessory:
    """Write what came with a device, or with the batch."""
    require_on_record(batch.customer_id)
    kept, is_new = Accessory.objects.get_or_create(
        batch=batch, job=job, kind=kind, defaults={"n_in": n}
    )
    if not is_new:
        kept.n_in += n
        kept.save()
    subject = job.ref if job else batch.ref
    append(
        "custody", "accessory in", subject, by=by, now=now, facts={"kind": kind, "n": n}
    )
    return kept


def item_for(
    customer: Customer, told: BatchLine | PastJob, day: date, *, now: datetime
) -> Item:
    """
    Give the body with a serial, made if it is new; a blank serial is never the same.

    Two bodies of one batch with one serial are two bodies: whoever looks at them again
    decides, not the program.
    """
    model = told.model if isinstance(told, BatchLine) else told.family
    serial, revision, asset = told.serial, told.revision, told.asset
    item = None
    if serial:
        here = Job.objects.filter(item=OuterRef("pk"), closed_on=None)
        rows = Item.objects.filter(customer=customer, serial=serial, model=model)
        item = rows.exclude(Exists(here)).first()
    if item is None:
        item = Item(customer=customer, serial=serial, model=model, revision=revision)
        keep(item, now)
    elif revision and item.revision != revision:
        item.revision = revision
        keep(item, now)
    if asset and not item.assets.filter(number=asset, until=None).exists():
        item.assets.filter(until=None).update(until=day)
        Asset.objects.create(item=item, number=asset, since=day)
    return item
