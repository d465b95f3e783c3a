"""Are people forgotten, and nothing else?"""

from datetime import date, timedelta

import pytest
from django.contrib.auth.models import User
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.sessions.models import Session
from django.db.models import CharField, TextField

from turnscrew.files.terms_file import read_terms
from turnscrew.web.keeping import erasing
from turnscrew.web.keeping.personal import OF_CUSTOMER, PHRASES, WORDS
from turnscrew.web.keeping.tables import carried, rows_of
from turnscrew.web.records.models import (
    Absence,
    ApiToken,
    Batch,
    Bench,
    BenchRun,
    BenchStroke,
    ContactLink,
    Customer,
    DataPart,
    Donor,
    Entry,
    EntryWords,
    Finding,
    Invoice,
    Job,
    KnownGood,
    Part,
    Person,
    Photo,
    Quote,
    SignInLink,
    Site,
    SupplierReturn,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.money_page import Paid
from turnscrew.web.records.services import (
    adapters,
    arrival,
    booking,
    custody,
    customers,
    invoicing,
    kitting,
    locks,
    people,
    quoting,
    safety,
    stock,
    supplier,
    trials,
    waste,
)
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.keep import keep
from turnscrew.web.records.services.photos import add_photo
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.setting_right import (
    RightReturn,
    RightWaste,
    correct_return,
    correct_waste,
)
from turnscrew.web.records.services.tokens import make_token
from turnscrew.web.records.services.written_yes import Agreed, write_yes
from web.conftest import sallowmere_contents
from web.keeping.names import NAME, names_everywhere, picture

# Texts that are no words about people: codes, numbers of devices, states, money.
NOT_WORDS = {
    "accessories_told", "answer", "asked", "asset", "asset_number", "code",
    "columns_text", "comeback_class", "data_allowed", "data_class", "end",
    "ended_as", "event", "holder", "kind", "main_state", "model", "number",
    "parts_told", "place", "ref", "result", "results_told", "revision", "says",
    "serial", "sha256", "stage", "state", "suffix", "supplier", "terms_text", "use",
    "verdict", "what", "client_key", "agent", "agrees", "belongs", "cause", "face",
    "lock", "surface", "look", "shows", "cover", "first_use", "outcome",
    "act", "bench", "name", "standing",
}  # fmt: skip


@pytest.fixture
def done(sallowmere, lead, now) -> Customer:
    """Give the customer of the example, all work ended, names everywhere."""
    names_everywhere(sallowmere, by=lead, now=now)
    return sallowmere.customer


def everything() -> str:
    tables = carried(with_secrets=True)
    return "\n".join(
        str(row)
        for model in tables.values()
        for row in rows_of(model, with_secrets=True)
    )


def counts() -> dict[str, int]:
    return {
        name: model._default_manager.count()
        for name, model in carried(with_secrets=True).items()
        if "historical" not in name and name != "records_entrywords"
    }


def test_it_knows_every_table_and_column_of_customers() -> None:
    for model, way in OF_CUSTOMER.items():
        assert way == "pk" or model._default_manager.filter(**{way: 1}).query
        texts = {
            field.attname
            for field in model._meta.concrete_fields
            if isinstance(field, CharField | TextField)
        }
        if model not in {Site, Quote}:
            words = {*WORDS.get(model, ()), *PHRASES.get(model, ())}
            assert texts <= words | NOT_WORDS, model


def test_it_leaves_no_name_of_a_customer_anywhere(done, lead, now) -> None:
    before = everything()
    names = [NAME, "Sallowmere", done.name, "Office", "SHN-27-014"]
    assert [name for name in names if name not in before] == []

    erasing.erase_customer(done, by=lead, now=now)

    after = everything()
    assert [name for name in names if name in after] == []
    assert () == audited().breaks
    assert audited().n_words_erased > 0
    done.refresh_from_db()
    assert (True, "erased", "erased") == (done.is_erased, done.name, done.address)


def test_it_keeps_counts_money_and_journals(done, lead, now) -> None:
    before = counts()
    entries = audited().n_entries
    jobs = standing()
    erasing.erase_customer(done, by=lead, now=now)

    assert before == counts()
    assert entries == audited().n_entries
    assert jobs == standing()


def standing() -> list[tuple[object, ...]]:
    kept = ("pk", "state", "model", "serial", "closed_on")
    return list(Job.objects.order_by("pk").values_list(*kept))


@pytest.mark.parametrize("name", ["customer", "returned", "270201", "storage"])
def test_it_takes_no_name_out_of_codes_states_and_numbers(
    done, lead, now, name
) -> None:
    done.contacts.create(name=name, reach=f"{name}@example.org")
    Batch.objects.update(name=name)
    Donor.objects.update(use="same customer")
    Finding.objects.create(
        job=Job.objects.first(), stage=Finding.SEEN, result=f"of {name}, not{name}",
        by=lead, at=now,
    )  # fmt: skip
    before = coded()
    erasing.erase_customer(done, by=lead, now=now)

    assert before == coded()
    assert () == audited().breaks
    assert f"of erased, not{name}" == Finding.objects.latest("pk").result
    assert read_terms(Batch.objects.exclude(terms_text="").get().terms_text).faults


def coded() -> list[tuple[object, ...]]:
    kept = (
        "pk", "number", "state", "main_state", "place", "holder", "data_class",
        "ended_as", "accessories_told",
    )  # fmt: skip
    rows = [*Job.objects.order_by("pk").values_list(*kept)]
    rows += Job.history.order_by("pk").values_list(*kept)
    rows += Donor.objects.order_by("pk").values_list("pk", "use")
    rows += DataPart.objects.order_by("pk").values_list("pk", "end")
    return rows


def test_it_leaves_no_name_told_at_a_bench(done, lead, now) -> None:
    job = Job.objects.first()
    run = BenchRun.objects.create(
        job=job, number=1, at=now, by=lead, why=f"Mrs {NAME} asked"
    )
    facts = {"answer": "skip", "reason": f"Mrs {NAME} said", "other": f"{NAME}, note"}
    BenchStroke.objects.create(
        run=run, client_key="1", told_at=now, at=now, by=lead, act="skip", line=0,
        facts=facts, against=f"line 1: found {NAME}",
    )  # fmt: skip
    Bench.objects.create(
        name="bench 1", in_hand=job, layer=f"tray of {NAME}", by=lead, seen_at=now
    )
    assert NAME in everything()

    erasing.erase_customer(done, by=lead, now=now)

    assert NAME not in everything()
    assert {"answer": "skip", "reason": "erased", "other": "erased, note"} == (
        BenchStroke.objects.get().facts
    )
    assert "bench 1" == Bench.objects.get().name


@pytest.mark.parametrize(
    ("typed", "left"),
    [
        (f"SSD of Mrs {NAME}", "SSD of Mrs erased"),
        (f"{NAME}s SSD", "erased SSD"),
        ("Ottoline's SSD", "erased's SSD"),
        (f"SSD {NAME}2", f"SSD {NAME}2"),
        ("example of an SSD", "example of an SSD"),
    ],
)
def test_it_takes_each_word_of_a_name_out_of_what_stays(
    sallowmere, lead, now, typed, left
) -> None:
    Job.objects.update(state="returned unrepaired", closed_on=now.date())
    Batch.objects.update(closed_on=now.date())
    sallowmere.customer.contacts.create(
        name=f"Ottoline {NAME}", reach="ottoline@example.org"
    )
    job = sallowmere.jobs.first()
    DataPart.objects.create(job=job, what=typed, end="returned")
    Finding.objects.create(job=job, stage=Finding.SEEN, result=typed, by=lead, at=now)

    erasing.erase_customer(sallowmere.customer, by=lead, now=now)

    assert [left] == list(DataPart.objects.values_list("what", flat=True))
    assert left == Finding.objects.latest("pk").result


def test_it_leaves_other_customers_alone(done, lead, now) -> None:
    other = Customer(name=f"House of {NAME}", address="Elsewhere")
    keep(other, now)
    words = EntryWords.objects.filter(entry__journal="stock").count()

    erasing.erase_customer(done, by=lead, now=now)

    other.refresh_from_db()
    assert (f"House of {NAME}", "Elsewhere") == (other.name, other.address)
    assert 0 < EntryWords.objects.filter(entry__journal="stock").count() < words


def test_it_deletes_photos_and_closes_links(
    done, lead, now, settings, django_capture_on_commit_callbacks
) -> None:
    assert [] != list(settings.PHOTOS.iterdir())
    with django_capture_on_commit_callbacks(execute=True):
        erasing.erase_customer(done, by=lead, now=now)

    assert [] == list(settings.PHOTOS.iterdir())
    assert {True} == set(Photo.objects.values_list("is_removed", flat=True))
    assert {True} == set(ContactLink.objects.values_list("is_withdrawn", flat=True))


def test_it_deletes_files_that_an_interrupted_erasure_left(
    done, lead, now, settings
) -> None:
    erasing.erase_customer(done, by=lead, now=now)
    assert [] != list(settings.PHOTOS.iterdir())

    erasing.erase_removed_photos()

    assert [] == list(settings.PHOTOS.iterdir())


def test_it_keeps_who_erased_and_when(done, lead, now) -> None:
    later = now + timedelta(days=1)
    erasing.erase_customer(done, by=lead, now=later)
    last = done.history.latest()

    assert (later, f"erased by {lead.ref}") == (
        last.history_date,
        last.history_change_reason,
    )


def test_it_refuses_while_work_money_or_stored_words_are_open(
    sallowmere, lead, now
) -> None:
    job = sallowmere.jobs.first()
    DataPart.objects.create(job=job, what="storage")
    Invoice.objects.create(
        batch=sallowmere, number="1", on=now.date(), due_on=now.date(), net_minor=5,
        tax_minor=0, owed_minor=5,
    )  # fmt: skip
    before = everything()
    with pytest.raises(RefusedError) as refused:
        erasing.erase_customer(sallowmere.customer, by=lead, now=now)

    assert (
        "jobs: found 60 open, wanted none",
        "invoices: found 1 not settled, wanted none",
        "parts with data: found 1 without an end, wanted none",
    ) == refused.value.reasons
    assert before == everything()


def test_it_refuses_what_is_not_billed_yet(done, sallowmere, lead, now) -> None:
    sallowmere.jobs.filter(line__lte=2).update(
        state="handed back", main_state="handed back"
    )
    Batch.objects.filter(pk=sallowmere.pk).update(closed_on=None)
    before = everything()

    with pytest.raises(RefusedError) as refused:
        erasing.erase_customer(done, by=lead, now=now)

    assert (
        "devices: found 2 on no invoice, wanted none",
        "batches: found 1 not closed, wanted none",
    ) == refused.value.reasons
    assert before == everything()


def test_it_refuses_while_a_batch_is_booked_and_empty(done, lead, now) -> None:
    asked = booking.Booking("Again", now.date(), sallowmere_terms(), done)
    booking.book(asked, by=lead, now=now)

    with pytest.raises(RefusedError, match="batches: found 1 not closed"):
        erasing.erase_customer(done, by=lead, now=now)

    assert not Customer.objects.get(pk=done.pk).is_erased


def test_it_erases_again_what_an_earlier_one_left(done, lead, now) -> None:
    erasing.erase_customer(done, by=lead, now=now)
    # Records of an earlier edition may hold such a contact.
    done.contacts.create(name=f"Ottoline {NAME}", reach="desk 4")
    Finding.objects.create(
        job=Job.objects.first(), stage=Finding.SEEN, result=f"for Ottoline {NAME}",
        by=lead, at=now,
    )  # fmt: skip
    assert NAME in everything()

    erasing.erase_customer(done, by=lead, now=now)

    assert NAME not in everything()
    assert "for erased" == Finding.objects.latest("pk").result
    assert () == audited().breaks


WRITES = {
    "contact": lambda b, by, now: customers.add_contact(b.customer, NAME, "desk 4"),
    "fleet": lambda b, by, now: customers.count_fleet(
        b.customer, "V80", NAME, 3, now=now
    ),
    "batch": lambda b, by, now: booking.book(
        booking.Booking("Again", now.date(), sallowmere_terms(), b.customer),
        by=by, now=now,
    ),
    "device": lambda b, by, now: booking.receive(b, [], by=by, now=now),
    "list": lambda b, by, now: booking.keep_list(b, [], by=by, now=now),
    "link": lambda b, by, now: people.invite(b, NAME, by=by, now=now),
    "finding": lambda b, by, now: note_finding(
        b.jobs.first(), Finding.SEEN, by=by, now=now, words=NAME
    ),
    "photo": lambda b, by, now: add_photo(b.jobs.first(), picture(), by=by, now=now),
    "incident": lambda b, by, now: safety.report_incident(
        "near miss", NAME, by=by, now=now, job=b.jobs.first()
    ),
    "pack": lambda b, by, now: safety.log_pack(
        NAME, "warm", by=by, now=now, place="box", job=b.jobs.first()
    ),
    "waste": lambda b, by, now: waste.throw_away(
        waste.Scrap("pack", what=NAME), by=by, now=now, job=b.jobs.first()
    ),
    "lock": lambda b, by, now: locks.ask_administrator(
        b.jobs.first(), NAME, now.date() + timedelta(days=3), by=by, now=now
    ),
    "trial": lambda b, by, now: trials.plan_trial(
        b.jobs.first(), trials.TrialPlan(60, NAME, "upright", 20, 60), by=by, now=now
    ),
    "return": lambda b, by, now: supplier.begin_return(
        Part.objects.first(), supplier.Faulty(1, "on test", NAME, "credit"),
        by=by, now=now, job=b.jobs.first(),
    ),
    "adapter": lambda b, by, now: adapters.check_adapter(
        b.accessories.first(),
        adapters.AdapterFound(
            belongs="yes", is_label_read=True, is_cable_whole=True, owner=NAME
        ),
        by=by, now=now,
    ),
    "damage": lambda b, by, now: arrival.mark_damage(
        b.jobs.first(), arrival.Damage("front", "crack", 1, 1, NAME), by=by, now=now
    ),
    "terms": lambda b, by, now: custody.decide_data(
        b.jobs.first(), "C", custody.DataTerms("no start", NAME, None, NAME),
        by=by, now=now,
    ),
    "data": lambda b, by, now: kitting.keep_data_part(
        b.jobs.first(), by=by, now=now, what=NAME, serial=NAME
    ),
    "accessory": lambda b, by, now: booking.bring_accessory(
        b, None, NAME, 1, by=by, now=now
    ),
    "answer": lambda b, by, now: quoting.give_answers(
        b, {1: True}, name=NAME, by=by, now=now
    ),
    "other answer": lambda b, by, now: quoting.correct_answer(
        b.jobs.exclude(approvals=None).get(), is_yes=False, name=NAME, by=by, now=now,
        words=NAME,
    ),
    "end of trial": lambda b, by, now: trials.end_trial(
        b.jobs.first(), trials.TrialEnd(60, NAME, "shown", NAME), by=by, now=now
    ),
    "unlocked": lambda b, by, now: locks.answer_request(
        b.jobs.first(), is_open=True, by=by, now=now, words=NAME
    ),
    "yes": lambda b, by, now: write_yes(
        b, [], Agreed("label", NAME, now.date()), by=by, now=now
    ),
}  # fmt: skip


def sallowmere_terms() -> str:
    return sallowmere_contents()["terms.yaml"].decode()


@pytest.mark.parametrize("what", WRITES)
def test_it_lets_nothing_personal_in_afterwards(
    done, sallowmere, lead, now, settings, what
) -> None:
    erasing.erase_customer(done, by=lead, now=now)
    before, files = everything(), sorted(settings.PHOTOS.rglob("*.*"))

    with pytest.raises(RefusedError) as refused:
        WRITES[what](sallowmere, lead, now)

    (reason,) = refused.value.reasons
    assert reason in {
        "customer: found one erased, wanted one on record",
        "device: found one of an erased customer, wanted it left out of the words",
    }
    assert before == everything()
    assert files == sorted(settings.PHOTOS.rglob("*.*"))


def test_it_writes_late_money_without_words(done, sallowmere, lead, now) -> None:
    erasing.erase_customer(done, by=lead, now=now)
    told, bill = {"by": lead, "now": now}, Invoice.objects.get()
    Invoice.objects.filter(pk=bill.pk).update(owed_minor=700)

    late = invoicing.pay(bill, 500, on=now.date(), how=f"by {NAME}", **told)
    right = Paid(600, now.date(), f"for {NAME}")
    invoicing.correct_payment(late, right, words=f"as {NAME} says", **told)
    invoicing.write_off(bill, words=f"{NAME} is gone", **told)
    invoicing.take_back_write_off(bill, words=f"{NAME} is back", **told)
    invoicing.pay(bill, 150, on=now.date(), how="", **told)
    gone = Paid(50, now.date(), f"to {NAME}")
    invoicing.pay_back(bill, gone, **told)
    entry = Entry.objects.get(verb="paid back")
    invoicing.take_back_pay_back(bill, entry.sequence, words=NAME, **told)

    bill.refresh_from_db()
    assert -50 == bill.owed_minor
    assert NAME not in everything()
    assert ["words left out: customer erased"] * 2 + ["not said"] == list(
        bill.payments.filter(minor__gt=0).order_by("pk").values_list("how", flat=True)
    )


def test_it_ends_what_is_open_without_words(done, sallowmere, lead, now) -> None:
    told, job = {"by": lead, "now": now}, sallowmere.jobs.first()
    incident = safety.report_incident("near miss", "smoke", job=job, **told)
    faulty = supplier.Faulty(2, supplier.FIRST_USE, "dead", "seen", "credit")
    row = supplier.begin_return(Part.objects.first(), faulty, job=job, **told)
    scrap = waste.throw_away(waste.Scrap("board", 80), job=job, **told)
    erasing.erase_customer(done, **told)

    safety.close_incident(incident, learnt=f"ask {NAME}", **told)
    correct_return(row, RightReturn(n=1), words=f"as {NAME} says", **told)

    with pytest.raises(RefusedError, match="device: found one of an erased customer"):
        correct_waste(scrap, RightWaste(what=f"{NAME}'s"), words="why", **told)
    correct_waste(scrap, RightWaste(mass_g=90), words=f"as {NAME} says", **told)
    supplier.settle_return(row, "written off", words=f"{NAME} has it", **told)

    assert NAME not in everything()
    assert 1 == SupplierReturn.objects.get(pk=row.pk).n
    with pytest.raises(RefusedError, match="device: found one of an erased customer"):
        correct_return(row, RightReturn(reason=f"{NAME}'s"), words="why", **told)


def test_it_ends_a_return_of_the_customers_own_order_without_words(
    done, lead, now
) -> None:
    told = {"by": lead, "now": now}
    erasing.erase_customer(done, **told)
    row = SupplierReturn.objects.get(end="")
    assert ("erased", "erased") == (row.reason, row.evidence)

    supplier.settle_return(row, "written off", words=f"{NAME} has it", **told)

    assert NAME not in everything()


def test_it_finds_customers_due_by_their_last_closed_job(done, now) -> None:
    Customer.objects.filter(pk=done.pk).update(keep_months=13)
    Customer.objects.create(name="Never here", keep_months=0)
    last_day = date(2028, 3, 1)

    assert [] == erasing.due_customers(last_day - timedelta(days=1))
    assert [done] == erasing.due_customers(last_day)


@pytest.mark.parametrize(
    ("closed", "n_months", "due"),
    [
        (date(2027, 1, 31), 1, date(2027, 3, 1)),
        (date(2024, 2, 29), 12, date(2025, 3, 1)),
        (date(2027, 12, 31), 0, date(2027, 12, 31)),
        (date(2026, 11, 30), 3, date(2027, 3, 1)),
    ],
)
def test_it_counts_months_by_the_calendar(done, closed, n_months, due) -> None:
    Job.objects.update(closed_on=closed)
    Customer.objects.update(keep_months=n_months)

    assert [] == erasing.due_customers(due - timedelta(days=1))
    assert [done] == erasing.due_customers(due)


# --- people -----------------------------------------------------------------


@pytest.fixture
def gone(sallowmere, lead, now) -> Person:
    """Give somebody who worked here, was named in words, and has left."""
    person = people.add_person("jolanda", "Jolanda Quillfeather", "helper", now=now)
    make_token(person, "bench of Jolanda", ["read"], now)
    people.link_for(person, now=now)
    people.be_away(person, now.date(), now.date(), now=now)
    job = sallowmere.jobs.first()
    note_finding(
        job, Finding.SEEN, by=person, now=now, words="Jolanda Quillfeather saw"
    )
    good = KnownGood(what="pack", verified_with=f"by {person.name}, meter 2")
    keep(good, now)
    part = stock.Part.objects.first()
    stock.count(part, 3, by=lead, now=now, words=f"counted by {person.name}")
    session = SessionStore()
    session["_auth_user_id"] = str(person.user_id)
    session.create()
    people.let_go(person, now=now)
    return person


def test_it_leaves_no_name_of_somebody_who_left(gone, lead, now) -> None:
    assert "Jolanda Quillfeather" in everything()
    erasing.erase_person(gone, by=lead, now=now)

    assert "olanda" not in everything()
    gone.refresh_from_db()
    assert ("erased", f"erased-{gone.pk}", None) == (gone.name, gone.key, gone.user)
    assert () == audited().breaks
    assert 1 == Finding.objects.filter(words="erased saw", by=gone).count()
    assert "by erased, meter 2" == KnownGood.objects.get().verified_with


def test_it_closes_every_way_in(gone, lead, now) -> None:
    erasing.erase_person(gone, by=lead, now=now)

    assert not User.objects.filter(username="jolanda").exists()
    assert 0 == ApiToken.objects.count() + SignInLink.objects.count()
    assert 0 == Session.objects.count() + Absence.objects.count()


def test_it_leaves_a_customer_of_the_same_name_alone(gone, lead, now) -> None:
    Batch.objects.update(contact=gone.name)
    erasing.erase_person(gone, by=lead, now=now)

    assert {gone.name} == set(Batch.objects.values_list("contact", flat=True))


def test_it_refuses_to_erase_somebody_at_work(helper, lead, now) -> None:
    with pytest.raises(RefusedError, match="found helper at work, wanted who has left"):
        erasing.erase_person(helper, by=lead, now=now)


# --- files ------------------------------------------------------------------


def test_it_leaves_no_byte_of_a_name_in_the_files(workshop) -> None:
    ref = workshop.write("names_everywhere").stdout.strip()
    assert [] != [path for path in workshop.home.iterdir() if path.name == "photos"]
    names = [NAME.encode(), b"Sallowmere", b"Office", b"SHN-27-014"]
    if not workshop.address:
        kept = contents(workshop)
        assert [] == [name for name in names if name not in kept]

    done = workshop.turnscrew("erase", "--customer", ref)

    assert (0, "whole") == (done.returncode, done.stdout.splitlines()[-1])
    assert [] == [name for name in names if name in contents(workshop)]
    assert [] == list((workshop.home / "photos").iterdir())
    assert [] == [n for n in names if n.decode() in workshop.write("everything").stdout]


def contents(workshop) -> bytes:
    paths = (path for path in workshop.home.rglob("*") if path.is_file())
    return b"".join(path.read_bytes() for path in paths)


def test_it_erases_nobody_before_the_day(workshop) -> None:
    workshop.write("names_everywhere")
    done = workshop.turnscrew("erase", "--due")

    assert 0 == done.returncode
    assert NAME in workshop.write("everything").stdout


def test_it_wants_to_know_whom(workshop) -> None:
    none = workshop.turnscrew("erase")
    two = workshop.turnscrew("erase", "--due", "--person", "lead")

    assert [2, 2] == [none.returncode, two.returncode]
    assert "wanted exactly one of --due, --customer and --person" in none.stderr


def test_it_tells_why_a_customer_was_not_erased(workshop) -> None:
    ref = workshop.write("customer").stdout.strip()
    done = workshop.turnscrew("erase", "--customer", ref)

    assert 1 == done.returncode
    assert f"{ref}: not erased: jobs: found 60 open" in done.stdout
