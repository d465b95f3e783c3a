"""Pages lose nothing entered, show each what is theirs, and ask the database little."""

import re
from datetime import timedelta
from typing import Any

import pypdfium2
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django_otp.plugins.otp_static.models import StaticDevice

from turnscrew.core.model.device_number import device_number
from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.job_state import Standing
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.counter.fields import AmountField, LinesField
from turnscrew.web.records.models import (
    Batch,
    Entry,
    Finding,
    Job,
    Part,
    Person,
    Quote,
    SignInLink,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    booking,
    custody,
    invoicing,
    kitting,
    people,
    quoting,
)
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from web.conftest import sallowmere_contents
from web.counter_case import signed_in
from web.known_faults import all_is_known

# Reads of a page may not grow with the batch; each figure is a little above today's.
MOST_QUERIES = {
    "": 55, "receive/": 32, "list/": 32, "approvals/": 36, "plan/": 37, "order/": 35,
    "donors/": 33, "hand-back/": 12, "invoice/": 10, "papers/": 8,
}  # fmt: skip
MOST_QUERIES_ALONE = {
    "/": 25, "/batches/": 8, "/stock/": 10, "/stock/C-KBA/": 19, "/stock/goods-in/": 8,
    "/money/": 25, "/comebacks/": 8, "/safety/": 12,
    "/stock/returns/": 12, "/stock/waste/": 12,
    "/people/": 10,
}  # fmt: skip
MOST_QUERIES_OF_AN_ITEM = 46


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


def n_queries(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert 200 == client.get(address).status_code
    return len(asked)


def test_it_asks_the_database_little(counter, sallowmere) -> None:
    asked = {
        page: n_queries(counter, f"/batches/{sallowmere.ref}/{page}")
        for page in MOST_QUERIES
    }
    alone = {page: n_queries(counter, page) for page in MOST_QUERIES_ALONE}
    item = sallowmere.jobs.get(line=56).item.ref

    assert {} == {page: n for page, n in asked.items() if n > MOST_QUERIES[page]}
    assert {} == {page: n for page, n in alone.items() if n > MOST_QUERIES_ALONE[page]}
    assert n_queries(counter, f"/items/{item}/") <= MOST_QUERIES_OF_AN_ITEM


def test_it_keeps_what_was_entered_when_it_is_refused(counter, sallowmere) -> None:
    job = sallowmere.jobs.get(line=1)
    entered = {
        "act": "move", "lines": "1-3", "state": "awaiting part", "place": "shelf 3",
        "holder": job.holder, "until": "", "reason": "",
    }  # fmt: skip

    answer = counter.post(f"/batches/{sallowmere.ref}/", entered)

    page = answer.content.decode()
    assert 422 == answer.status_code
    told = re.findall(r"device [123]: (?:day|reason): found none", page)
    assert 6 == len(set(told))
    # Told at the top, where the eye is after the page came again.
    assert page.index("Not done") < page.index("How many in each state")
    assert 'value="1-3"' in page
    assert 'value="shelf 3"' in page
    assert {"received"} == set(sallowmere.jobs.values_list("state", flat=True))


@pytest.mark.parametrize(
    ("rights", "address", "is_shown"),
    [
        ("helper", "/money/", False),
        ("helper", "/audit/", False),
        ("helper", "/stock/", True),
        ("desk", "/money/", True),
        ("desk", "/audit/", False),
        ("desk", "/people/", True),
    ],
)
def test_it_shows_each_what_is_theirs(
    rights, address, is_shown, helper, desk, clock
) -> None:
    person = {"helper": helper, "desk": desk}[rights]

    answer = signed_in(person).get(address)

    assert (200 if is_shown else 404) == answer.status_code


def test_it_does_nothing_for_who_may_not(sallowmere, helper, desk, clock) -> None:
    at_bench, at_desk = signed_in(helper), signed_in(desk)
    batch = f"/batches/{sallowmere.ref}/"

    assert 404 == at_bench.post(batch, {"act": "quote"}).status_code
    assert 404 == at_bench.post(f"{batch}invoice/", {"act": "bill"}).status_code
    entered = {"act": "sign_off", "skill": "battery"}
    assert 404 == at_desk.post(f"/people/{helper.ref}/", entered).status_code
    assert 404 == at_desk.post(batch, {"act": "no such act"}).status_code


def test_it_lets_a_link_in_once(lead, clock) -> None:
    token = people.link_for(lead, now=clock.at)
    stranger, thief = Client(), Client()

    assert 200 == stranger.get(f"/first/{token}/").status_code
    assert 302 == stranger.post(f"/first/{token}/").status_code
    assert 200 == stranger.get("/account/").status_code
    assert 404 == thief.post(f"/first/{token}/").status_code
    assert token not in SignInLink.objects.get().token_digest


def test_it_lets_somebody_in_who_came_with_a_batch(db, clock) -> None:
    person = Person.objects.create(key="ren", name="Ren Aldous", rights=Person.HELPER)
    token = people.link_for(person, now=clock.at)

    assert 302 == Client().post(f"/first/{token}/").status_code
    person.refresh_from_db()
    assert "ren" == person.user.username


def test_it_lets_an_old_link_in_no_more(lead, clock) -> None:
    token = people.link_for(lead, now=clock.at)
    clock.move_on(hours=25)

    assert 404 == Client().post(f"/first/{token}/").status_code


def test_it_lets_nobody_in_who_has_left(helper, clock) -> None:
    client = signed_in(helper)
    assert 200 == client.get("/").status_code
    people.let_go(helper, now=clock.at)

    assert 302 == client.get("/").status_code
    assert 404 == client.get("/stock/").status_code


def test_who_has_left_is_taken_back_and_gets_no_link_before(
    counter, helper, clock
) -> None:
    address = f"/people/{helper.ref}/"
    counter.post(address, {"act": "let_go"})
    assert ["take_back"] == list(counter.get(address).context["forms"])
    with pytest.raises(RefusedError, match="found one who has left"):
        people.link_for(helper, now=clock.at)

    assert 302 == counter.post(address, {"act": "take_back"}).status_code
    with pytest.raises(RefusedError, match="wanted one who left"):
        people.take_back(helper, now=clock.at)
    token = people.link_for(helper, now=clock.at)
    assert 302 == Client().post(f"/first/{token}/").status_code


def test_the_last_lead_is_not_let_go(counter, lead, helper, clock) -> None:
    answer = counter.post(f"/people/{lead.ref}/", {"act": "let_go"})
    assert 422 == answer.status_code
    assert "lead: found no other with an account" in answer.content.decode()

    second = people.add_person("second", "Odo Brandt", Person.LEAD, now=clock.at)
    assert 302 == counter.post(f"/people/{second.ref}/", {"act": "let_go"}).status_code
    with pytest.raises(RefusedError, match="found no other"):
        people.let_go(lead, now=clock.at)


def test_a_link_asks_for_the_second_factor_and_a_lead_takes_it_away(
    counter, helper, clock
) -> None:
    device = StaticDevice.objects.create(user=helper.user, name="codes")
    device.token_set.create(token="abcd1234")
    address = f"/first/{people.link_for(helper, now=clock.at)}/"
    client = Client()
    assert "Code of the second device" in client.get(address).content.decode()
    wrong = client.post(address, {"otp_token": "x"})
    assert 422 == wrong.status_code
    assert "code: found none or a wrong one" in wrong.content.decode()
    device.throttle_reset()
    assert 302 == client.post(address, {"otp_token": "abcd1234"}).status_code
    assert 200 == client.get("/account/").status_code

    token = people.link_for(helper, now=clock.at)
    counter.post(f"/people/{helper.ref}/", {"act": "take_factor"})
    assert "take_factor" not in counter.get(f"/people/{helper.ref}/").context["forms"]
    assert 302 == client.post(f"/first/{token}/").status_code
    assert 200 == client.get("/account/").status_code


def test_it_asks_for_the_second_factor_once_set_up(lead, clock) -> None:
    lead.user.set_password("a long word of the lead")
    lead.user.save()
    client = signed_in(lead)
    client.post("/account/", {"act": "begin"})
    device = lead.user.totpdevice_set.get()
    wrong = client.post("/account/", {"act": "confirm", "code": "000000"})
    assert 422 == wrong.status_code

    from django_otp.oath import TOTP  # noqa: PLC0415 - stands beside its use

    totp = TOTP(device.bin_key, device.step, device.t0, device.digits, device.drift)
    device.throttle_reset()
    code = f"{totp.token():06d}"
    assert 302 == client.post("/account/", {"act": "confirm", "code": code}).status_code
    page = client.get("/account/").content.decode()
    recovery = re.findall(r"<li>([a-z0-9]{8})</li>", page)
    assert 8 == len(recovery)

    named = {"username": "lead", "password": "a long word of the lead"}
    other = Client()
    assert 422 == other.post("/sign-in/", named).status_code
    assert 302 == other.get("/").status_code
    with_code = {**named, "otp_token": recovery[0]}
    assert 302 == other.post("/sign-in/", with_code).status_code
    assert 200 == other.get("/").status_code


def test_it_finds_a_device_by_its_line_while_it_is_here(counter, sallowmere) -> None:
    job = sallowmere.jobs.get(line=19)
    assert f"/items/{job.item.ref}/" == counter.get("/find/", {"code": "19"}).url
    Job.objects.filter(pk=job.pk).update(state="handed back")
    page = counter.get("/find/", {"code": "19"}).content.decode()
    assert "not on record" in page
    assert f"/items/{job.item.ref}/" in page
    assert f"handed back, {sallowmere.name}" in page


def test_it_names_a_device_whose_number_is_one_slip_away(counter, sallowmere) -> None:
    job = sallowmere.jobs.get(line=7)
    typed = job.serial[:-2] + job.serial[-1] + job.serial[-2]
    page = counter.get("/find/", {"code": typed}).content.decode()
    assert "not on record" in page
    assert f"/items/{job.item.ref}/" in page
    assert f"{job.serial}: neighbours swapped" in page
    assert "/items/" not in counter.get("/find/", {"code": "xyzzy"}).content.decode()


def test_it_finds_by_every_number_and_refuses_a_slip(counter, sallowmere) -> None:
    job = sallowmere.jobs.get(line=7)
    for code in (job.number, job.number.lower(), job.serial, job.asset_number):
        answer = counter.get("/find/", {"code": code})
        assert f"/items/{job.item.ref}/" == answer["Location"]
    slip = job.number[:-2] + ("1" if job.number[-2] != "1" else "2") + job.number[-1]
    page = counter.get("/find/", {"code": slip}).content.decode()
    assert "the check character is wrong" in page
    assert "not on record" in counter.get("/find/", {"code": "xyz"}).content.decode()


def test_it_tells_two_bodies_with_one_serial_apart(counter, sallowmere) -> None:
    serial = sallowmere.jobs.get(line=18).serial
    page = counter.get("/find/", {"code": serial}).content.decode()

    items = set(
        sallowmere.jobs.filter(serial=serial).values_list("item__ref", flat=True)
    )
    assert 2 == len(items)
    assert all(f"/items/{ref}/" in page for ref in items)


def test_it_takes_a_wrong_entry_back_with_a_new_one(counter, sallowmere, lead) -> None:
    part = Part.objects.get(number="C-FN")
    entered = {"act": "move", "verb": "lost", "n": 2, "why": "fell behind the shelf"}
    counter.post("/stock/C-FN/", entered)
    wrong = Entry.objects.filter(journal="stock", verb="lost").get()
    taken_back = {"act": "correct", "sequence": wrong.sequence, "why": "found again"}

    assert 302 == counter.post("/stock/C-FN/", taken_back).status_code
    assert 422 == counter.post("/stock/C-FN/", taken_back).status_code
    part.refresh_from_db()
    assert 3 == part.on_hand
    new = Entry.objects.get(journal="stock", corrects=wrong.sequence)
    assert ("found", '{"n":2}') == (new.verb, new.facts)


@pytest.mark.parametrize(
    "as_of",
    ["0001-01-01T00:00+23:59", "9999-12-31T23:59-23:59", "1899-12-31", "2200-01-01"],
)
def test_it_reads_no_time_beyond_the_calendar(counter, sallowmere, as_of) -> None:
    papers, asked = f"/batches/{sallowmere.ref}/papers/", {"as_of": as_of}

    listed = counter.get(papers, asked)

    assert f"as of: found {as_of}, wanted" in listed.content.decode()
    assert 404 == counter.get(f"{papers}order-list.pdf", asked).status_code


def test_it_shows_the_same_papers_as_of_then(counter, sallowmere, lead, clock) -> None:
    then = clock.at
    address = f"/batches/{sallowmere.ref}/papers/order-list.pdf"
    as_of = {"as_of": then.isoformat()}
    before = counter.get(address, as_of).content
    clock.move_on(hours=2)
    stock = {"act": "count", "n": 0, "why": "empty"}
    counter.post("/stock/T-GL2/", stock)
    job = sallowmere.jobs.get(line=3)
    counter.post(
        f"/items/{job.item.ref}/",
        {"act": "find", "stage": "confirmed", "code": "T-GLS"},
    )

    assert before == counter.get(address, as_of).content
    assert before != counter.get(address).content
    assert b"%PDF" == before[:4]


def test_it_writes_no_check_for_another_day(counter, lead, clock) -> None:
    people.begin_safety()
    page = counter.get("/safety/").content.decode()
    assert 9 == page.count("<strong>now</strong>")
    kind = re.findall(r'name="kind" value="(\d+)"', page)[0]
    passed = {"act": "check", "kind": kind, "result": "passed", "reading": "1.2 MΩ"}
    counter.post("/safety/", passed)
    assert 8 == counter.get("/safety/").content.decode().count("<strong>now</strong>")
    counter.post("/safety/", {**passed, "result": "failed"})
    assert 9 == counter.get("/safety/").content.decode().count("<strong>now</strong>")


def test_it_gives_the_past_of_body_and_number_when_they_disagree(
    counter, sallowmere
) -> None:
    first, second = (sallowmere.jobs.get(line=n) for n in (3, 4))
    second.item.assets.create(number=first.asset_number, since=sallowmere.received)

    page = counter.get(f"/items/{first.item.ref}/").content.decode()

    assert "Another body bore the same number" in page
    assert f"/items/{second.item.ref}/" in page


@pytest.mark.parametrize(
    ("text", "minor"), [("116.12", 11612), ("5", 500), ("0.5", 50), ("", None)]
)
def test_it_reads_amounts(text, minor) -> None:
    assert minor == AmountField(required=False).clean(text)


@pytest.mark.parametrize("text", ["1,5", "1.234", "-3", "x", "1e3", "1 000"])
def test_it_guesses_no_amount(text) -> None:
    from django.core.exceptions import ValidationError  # noqa: PLC0415

    with pytest.raises(ValidationError, match="wanted an amount"):
        AmountField().clean(text)


def test_it_reads_lines_as_they_are_said() -> None:
    read: Any = LinesField().clean

    assert [1, 3, 4, 5] == read("1, 3-5")
    assert [40, 59] == read("40 59 40")


def test_a_scanned_number_acts_on_that_device_or_on_none(
    counter, sallowmere, lead, clock
) -> None:
    """The device of another batch is not taken for the one with the same line."""
    here, address = sallowmere.jobs.get(line=3), f"/batches/{sallowmere.ref}/"
    sent = {"act": "lock", "lock": "neither"}
    assert 302 == counter.post(address, {**sent, "lines": f"*{here.number.lower()}*"})\
        .status_code  # fmt: skip
    here.refresh_from_db()
    assert "neither" == here.lock

    other = sallowmere.jobs.get(line=4)
    theirs = device_number(sallowmere.received + timedelta(days=1), 4)
    slip = other.number[:-1] + ("A" if other.number[-1] != "A" else "B")
    for number, told in (
        (theirs, f"found {theirs}, wanted a workshop number of this batch"),
        (slip, f"{slip}: the check character is wrong, look again"),
    ):
        answer = counter.post(address, {**sent, "lines": f"5, {number}"})
        assert 422 == answer.status_code
        assert told in answer.content.decode()
        assert "„" not in Phrasebook(GERMAN_COUNTER).says(told)
    assert {""} == set(
        sallowmere.jobs.filter(line__in=(4, 5)).values_list("lock", flat=True)
    )


def test_yes_and_no_to_one_device_are_told_however_it_is_named(
    counter, sallowmere
) -> None:
    number = sallowmere.jobs.get(line=40).number
    sent = {"act": "take", "name": "M. Ondine", "yes": "40", "no": number, "seen": ""}

    answer = counter.post(f"/batches/{sallowmere.ref}/approvals/", sent)

    assert "found yes and no to 40, wanted one" in answer.content.decode()


def test_it_closes_no_finding_without_why(counter, sallowmere, lead, clock) -> None:
    job: Job = sallowmere.jobs.get(line=2)
    finding = job.findings.get(stage=Finding.SEEN)
    address = f"/items/{job.item.ref}/"
    bare = {"act": "withdraw", "finding": finding.pk, "why": ""}

    assert 422 == counter.post(address, bare).status_code
    counter.post(address, {**bare, "why": "dirt on the glass"})
    clock.move_on(minutes=1)
    answer = reckoned(sallowmere, clock.at)
    assert () == answer.by_name[2].line.found
    assert quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)


def test_it_closes_nothing_while_the_tray_holds_a_screw(sallowmere, lead, now) -> None:
    job = sallowmere.jobs.get(line=1)
    for state in ("quoted", "kitted", "open", "tested open"):
        custody.move(job, Standing(state, "bench 1", lead.ref), by=lead, now=now)
    taken = {"kind": "A", "n": 5}
    append("bench", "taken", job.ref, by=lead, now=now, facts=taken)
    append("bench", "refitted", job.ref, by=lead, now=now, facts={**taken, "n": 4})

    with pytest.raises(RefusedError, match="found 1 of kind A, wanted none"):
        custody.move(job, Standing("closed", "bench 1", lead.ref), by=lead, now=now)
    append("bench", "left out", job.ref, by=lead, now=now, facts={**taken, "n": 1})
    custody.move(job, Standing("closed", "bench 1", lead.ref), by=lead, now=now)
    assert () == audited().breaks


def test_it_shows_no_amounts_to_the_helper(sallowmere, helper, lead, clock) -> None:
    at_bench = signed_in(helper)
    batch = f"/batches/{sallowmere.ref}/"
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    item = sallowmere.jobs.get(line=4).item.ref

    for address in (batch, f"/items/{item}/", "/stock/T-GL2/", f"{batch}donors/"):
        page = at_bench.get(address).content.decode()
        assert "116.12" not in page
        assert "34.00" not in page
    for closed in (
        "approvals/",
        "order/",
        "papers/invoice.pdf",
        "papers/order-list.pdf",
    ):
        assert 404 == at_bench.get(batch + closed).status_code
    assert 200 == at_bench.get(f"{batch}papers/kit-lists.pdf").status_code


def test_it_reads_nothing_of_what_is_too_large(client) -> None:
    large = {"content-length": str(10**9)}
    answer = client.post("/sign-in/", headers=large)
    german = client.post("/sign-in/", headers={**large, "accept-language": "de"})

    assert 413 == answer.status_code
    page = answer.content.decode()
    assert "1000 MB came, wanted 20 MB or fewer" in page
    assert '<a href="/sign-in/">Back to where it was sent</a>' in page
    assert "1000 MB kamen, gesucht 20 MB oder weniger" in german.content.decode()


def test_it_hands_back_against_a_signature_alone(
    counter, sallowmere, lead, clock
) -> None:
    job = sallowmere.jobs.get(line=30)
    all_is_known([job], by=lead, now=clock.at)
    for state in ("quoted", "final-tested", "packed"):
        custody.move(job, Standing(state, "bench 1", lead.ref), by=lead, now=clock.at)
    entered = {
        "act": "move", "lines": "30", "state": "handed back", "place": "door",
        "holder": lead.ref,
    }  # fmt: skip

    assert 422 == counter.post(f"/batches/{sallowmere.ref}/", entered).status_code
    assert 422 == counter.post(f"/items/{job.item.ref}/", entered).status_code
    job.refresh_from_db()
    assert "packed" == job.state


def test_it_frees_the_parts_of_a_device_the_customer_gives_up(
    sallowmere, lead, clock
) -> None:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    quoting.ask(sallowmere, answer, by=lead, now=clock.at)
    kitting.allot(sallowmere, answer, by=lead, now=clock.at)
    glass = Part.objects.get(number="T-GL2")
    served = set(glass.allotments.filter(state="promised").values_list("job__line"))
    first = min(line for (line,) in served if line in {4, 11, 12, 26, 40, 59})

    no = {first: False}
    quoting.give_answers(sallowmere, no, name="desk", by=lead, now=clock.at)

    after = set(glass.allotments.filter(state="promised").values_list("job__line"))
    assert len(served) == len(after)
    assert 1 == len(after - served)
    assert (first,) not in after
    assert () == audited().breaks


def test_it_refuses_models_and_faults_the_terms_do_not_know(
    counter, sallowmere
) -> None:
    n = sallowmere.jobs.count()
    entered = {
        "act": "one",
        "serial": "X1",
        "model": "L24O",
        "lock": "neither",
        "found": "L-KBB",
    }
    page = counter.post(f"/batches/{sallowmere.ref}/receive/", entered)

    assert 422 == page.status_code
    assert b"L240" in page.content
    assert b"L-KBD" in page.content
    item = sallowmere.jobs.get(line=1).item.ref
    wrong = {"act": "find", "stage": "seen", "code": "T-GLA"}
    assert b"T-GLS" in counter.post(f"/items/{item}/", wrong).content
    assert n == sallowmere.jobs.count()


def test_it_takes_the_same_files_once(counter, sallowmere) -> None:
    def load(**changed: bytes) -> int:
        files = {**sallowmere_contents(), **changed}
        chosen = [SimpleUploadedFile(name, told) for name, told in files.items()]
        return counter.post("/batches/", {"act": "load", "chosen": chosen}).status_code

    terms = sallowmere_contents()["terms.yaml"]
    n = Job.objects.count()
    assert 422 == load()
    assert n == Job.objects.count()
    second = terms.replace(b"first round of 2027", b"a second round of 2027")
    assert 302 == load(**{"terms.yaml": second})
    # The closed jobs of its history are on record already.
    assert n + 60 == Job.objects.count()
    numbers = Job.objects.filter(batch__name__contains="second").values_list("number")
    assert all(len(number) == 11 for (number,) in numbers)
    assert () == audited().breaks


def test_it_leaves_what_was_billed_as_it_was_billed(sallowmere, lead, clock) -> None:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    kitting.declare_donors(sallowmere, [2], answer, by=lead, now=clock.at)
    invoicing.invoice(sallowmere, by=lead, now=clock.at)
    before = Quote.objects.get(job__batch=sallowmere, job__line=2)
    clock.move_on(minutes=5)
    terms = sallowmere.terms_text.replace(
        "rate_per_hour: 48.00", "rate_per_hour: 60.00"
    )
    Batch.objects.filter(pk=sallowmere.pk).update(terms_text=terms)
    sallowmere.refresh_from_db()

    dearer = reckoned(sallowmere, clock.at)
    assert quoting.keep_quotes(sallowmere, dearer, by=lead, now=clock.at)
    assert before == Quote.objects.filter(job=before.job).last()
    assert () == audited().breaks


def test_it_has_no_page_for_jobs_from_before_the_records(counter, sallowmere) -> None:
    before = Batch.objects.get(terms_text="")

    assert 404 == counter.get(f"/batches/{before.ref}/").status_code
    assert (
        b"from before these records"
        in counter.get(f"/items/{before.jobs.all()[0].item.ref}/").content
    )
    photos = counter.get(f"/jobs/{before.jobs.all()[0].ref}/photos/").content
    assert b"from before these records" in photos
    assert before.ref.encode() not in photos


def test_it_says_that_nothing_was_booked_at_that_time(counter, sallowmere) -> None:
    papers = f"/batches/{sallowmere.ref}/papers/"
    for as_of in ("2026-01-01", "tomorrow", "2027-13-01"):
        assert b"as of: found" in counter.get(papers, {"as_of": as_of}).content
        answer = counter.get(f"{papers}receipt.pdf", {"as_of": as_of})
        assert 404 == answer.status_code
    # The day alone means its end.
    same_day = counter.get(f"{papers}receipt.pdf", {"as_of": "2027-02-01"})
    assert 200 == same_day.status_code


def test_it_shows_what_was_entered_after_the_sign_in_ended(
    counter, sallowmere, clock
) -> None:
    clock.move_on(hours=13)
    entered = {"act": "move", "lines": "8, 10-12", "place": "shelf 3"}
    answer = counter.post(f"/batches/{sallowmere.ref}/", entered)
    page = answer.content.decode()

    assert 404 == answer.status_code
    assert "8, 10-12" in page
    assert "shelf 3" in page
    assert sallowmere.name not in page
    secret = {"act": "password", "password": "hush hush", "again": "hush hush"}
    assert "hush" not in counter.post("/account/", secret).content.decode()


@pytest.mark.parametrize("state", ["kitted", "awaiting part"])
def test_it_goes_on_only_with_the_yes_that_is_needed(
    state, sallowmere, lead, clock
) -> None:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    job = sallowmere.jobs.get(line=40)
    to = Standing(state, "bench 1", lead.ref, clock.at.date(), reason="glass")

    with pytest.raises(RefusedError, match="answer: found none asked for"):
        custody.move(job, to, by=lead, now=clock.at)
    quoting.ask(sallowmere, answer, by=lead, now=clock.at)
    with pytest.raises(RefusedError, match="answer: found none yet"):
        custody.move(job, to, by=lead, now=clock.at)
    said = {40: True, 59: False}
    quoting.give_answers(sallowmere, said, name="desk", by=lead, now=clock.at)
    custody.move(job, to, by=lead, now=clock.at)
    with pytest.raises(RefusedError, match="answer: found no, wanted"):
        custody.move(sallowmere.jobs.get(line=59), to, by=lead, now=clock.at)


def test_it_writes_one_payment_once(sallowmere, lead, clock) -> None:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    kitting.declare_donors(sallowmere, [2], answer, by=lead, now=clock.at)
    bill = invoicing.invoice(sallowmere, by=lead, now=clock.at)

    def pay(how: str) -> None:
        invoicing.pay(bill, 100, on=bill.on, how=how, by=lead, now=clock.at)

    pay("bank")
    with pytest.raises(RefusedError, match="written already"):
        pay("bank")
    pay("bank, the second of two")
    assert 2 == bill.payments.count()


def test_it_names_packs_not_isolated_until_they_are(
    counter, sallowmere, lead, clock
) -> None:
    address = f"/batches/{sallowmere.ref}/"
    assert "not isolated yet" in counter.get(address).content.decode()
    for line in (13, 14, 23, 24, 25, 31, 48, 53, 54, 57):
        job = sallowmere.jobs.get(line=line)
        custody.isolate(job, by=lead, now=clock.at, reason="")

    assert "not isolated yet" not in counter.get(address).content.decode()


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_it_prints_what_somebody_may_do_alone(
    sallowmere, lead, helper, clock, size
) -> None:
    booking.sign_off(
        helper, "fine soldering", by=lead, now=clock.at, on=clock.at.date(),
        n_supervised=7,
    )  # fmt: skip
    page = signed_in(helper)
    address = f"/people/{helper.ref}/card-{size}.pdf"
    assert address in page.get(f"/people/{helper.ref}/").content.decode()
    pdf = pypdfium2.PdfDocument(page.get(address).content)
    told = pdf[0].get_textpage().get_text_bounded()

    assert "fine soldering" in told
    assert "Imke Vasterling" in told
    assert 404 == page.get(f"/people/nobody/card-{size}.pdf").status_code
