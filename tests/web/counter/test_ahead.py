"""Is a batch foretold before it comes, promised in tranches, marked where it lacks?"""

import csv
import re
from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta

import pytest
from django.test import Client

from turnscrew.core.batch.ahead import ModelAhead
from turnscrew.web.records.models import Batch, Entry, Finding, Job, LookAlike, Part
from turnscrew.web.records.queries.ahead import ahead_of
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.expecting import expected_of
from turnscrew.web.records.services.findings import note_finding
from web.browser.bench_case import describe
from web.conftest import SALLOWMERE
from web.counter_case import signed_in

TERMS = (SALLOWMERE / "terms.yaml").read_text("utf-8")
NO_LIMITS = re.sub(r"(?m)^(ask_limit|worth_ratio):.*\n", "", TERMS)
LATER = "2027-05-03"
TWO = "20 V80 by day 4\n10 V80 by day 8\n6 L240 by day 8\n2 R50"


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


def book(counter: Client, expected: str = "", terms: str = TERMS) -> Batch:
    answer = counter.post(
        "/batches/",
        {"act": "book", "name": "Second round", "received": LATER, "terms": terms,
         "expected": expected},
    )  # fmt: skip
    assert 302 == answer.status_code, answer.content.decode()[:3000]
    return Batch.objects.get(name="Second round")


def page_of(counter: Client, batch: Batch, page: str = "") -> str:
    text = counter.get(f"/batches/{batch.ref}/{page}").content.decode()
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)).replace("&#x27;", "'")


def receive(counter: Client, batch: Batch, model: str, serial: str, **more: str) -> Job:
    entered = {"act": "one", "model": model, "serial": serial, "lock": "not looked"}
    answer = counter.post(f"/batches/{batch.ref}/receive/", {**entered, **more})
    assert 302 == answer.status_code
    return Job.objects.get(serial=serial, batch=batch)


def test_a_batch_without_limits_is_booked_and_marked(counter, sallowmere) -> None:
    batch = book(counter, TWO, NO_LIMITS)
    text = counter.get(f"/batches/{batch.ref}/").content.decode()

    warning = "cannot quote against limits: the terms name none"
    assert f'<p class="wrong">{warning}</p>' in text
    # In plain sight: above how it stands and above every table.
    assert text.index(warning) < text.index('<p class="working">')
    assert "cannot quote" not in page_of(counter, sallowmere)


def test_a_batch_without_a_due_day_is_booked_and_marked(counter, sallowmere) -> None:
    batch = book(counter)
    text = counter.get(f"/batches/{batch.ref}/").content.decode()

    warning = "cannot promise: nobody said what is to come and by which day"
    assert f'<p class="wrong">{warning}</p>' in text
    assert text.index(warning) < text.index('<p class="working">')
    receive(counter, batch, "V80", "TV8-00001")
    assert "cannot promise: 1 device without a due day" in page_of(counter, batch)
    receive(counter, batch, "V80", "TV8-00002", due_day="4")
    assert "cannot promise: 1 device without a due day" in page_of(counter, batch)
    assert "cannot promise" not in page_of(counter, sallowmere)


def test_devices_to_come_without_a_day_are_told(counter, sallowmere) -> None:
    batch = book(counter, TWO)

    assert "cannot promise: 2 devices to come without a due day" in page_of(
        counter, batch
    )


def test_tranches_give_their_day_to_what_is_received(counter, sallowmere) -> None:
    batch = book(counter, "1 V80 by day 4\n2 V80 by day 8\nSHN-9999 by day 2")
    page = page_of(counter, batch)

    assert "Promised in tranches" in page
    assert "day 4, Thu 6 May 1 V80 1 0 0 0" in page
    assert "day 4, Thu 6 May 1 V80 1 0 0 0" in page_of(counter, batch, "ahead/")
    assert [4, 8] == [
        receive(counter, batch, "V80", f"TV8-0000{n}").due_day for n in (1, 2)
    ]
    assert 2 == receive(counter, batch, "L240", "PL3-00001", asset="SHN-9999").due_day
    # A day agreed for one device stays its own.
    assert 5 == receive(counter, batch, "V80", "TV8-00003", due_day="5").due_day
    assert 8 == receive(counter, batch, "V80", "TV8-00004").due_day
    assert receive(counter, batch, "V80", "TV8-00005").due_day is None
    assert "day 8, Wed 12 May 2 V80 2 2 0 0" in page_of(counter, batch)
    # What plans and promises reads the day of the device.
    assert 200 == counter.get(f"/batches/{batch.ref}/plan/").status_code
    assert "cannot promise: 1 device without a due day" in page_of(counter, batch)


def test_tranches_said_later_reach_those_that_are_here(counter, sallowmere) -> None:
    batch = book(counter)
    job = receive(counter, batch, "V80", "TV8-00001")
    address = f"/batches/{batch.ref}/ahead/"

    assert job.due_day is None
    told = {"act": "expect", "expected": "3 V80 by day 6"}
    assert 302 == counter.post(address, told).status_code
    job.refresh_from_db()
    assert 6 == job.due_day
    assert 302 == counter.post(address, {**told, "expected": ""}).status_code
    assert () == expected_of(batch)
    job.refresh_from_db()
    assert 6 == job.due_day
    assert 2 == Entry.objects.filter(verb="expected", subject=batch.ref).count()
    assert 2 == batch.expected.count() + 1
    assert () == audited().breaks


def test_what_cannot_be_read_is_refused_with_every_line(counter, sallowmere) -> None:
    wrong = {"act": "book", "name": "X", "received": LATER, "terms": TERMS,
             "expected": "3 V81\nV80 by day 4"}  # fmt: skip
    answer = counter.post("/batches/", wrong)
    text = answer.content.decode()

    assert 422 == answer.status_code
    assert "found 3 V81, wanted perhaps &quot;V80&quot;" in text
    assert "how many of V80" in text
    assert "3 V81\r\nV80 by day 4" in text or "3 V81\nV80 by day 4" in text
    assert not Batch.objects.filter(name="X").exists()


def test_a_forecast_stands_before_the_devices_are_there(counter, sallowmere) -> None:
    batch = book(counter, "26 V80 by day 4\n14 L240 by day 8")
    page = page_of(counter, batch)

    assert "Forecast" in page
    assert re.search(r"40 devices: [\d,]+ min, in eight cases of ten [\d,]+ to", page)
    assert "minutes as the terms set them" in page
    assert re.search(r"from \d+ devices? of it met before, of all customers", page)
    assert "T-AD Adhesive frame set single use" in page
    told = ahead_of(batch, batch_day(batch))
    assert told is not None
    minutes = {one.told.model: one.told.total for one in told.models}
    met = [MINUTES[found] for model, found in met_before() if model == "V80"]
    tablets = minutes["V80"]
    assert tablets is not None
    assert len(met) == told.models[0].told.n_met
    assert pytest.approx(26 * sum(met) / len(met)) == tablets.mean
    assert tablets.limits[0] < tablets.mean < tablets.limits[1]


MINUTES = {
    "T-GLS": 86, "T-BAT": 68, "T-CAM": 64, "T-SPK": 60, "T-KEY": 70, "T-ANT": 62,
    "T-LIQ": 64, "NFF": 39,
}  # fmt: skip
"""A tablet by the terms: 11 + 13 handling, 28 opening unless no fault, exchange."""


def met_before() -> Iterator[tuple[str, str]]:
    """Give model and fault of each device of the first round and from before it."""
    for name, fault in (("batch.csv", "found"), ("history.csv", "confirmed")):
        with (SALLOWMERE / name).open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                yield row.get("model") or row["family"], row[fault]


def batch_day(batch: Batch) -> datetime:
    return datetime.combine(batch.received, time(9), tzinfo=UTC)


def test_it_says_what_lacks_where_the_parts_list_was_lost(counter, sallowmere) -> None:
    LookAlike.objects.all().delete()
    Part.history.all().delete()
    Part.objects.all().delete()

    answer = counter.get(f"/batches/{sallowmere.ref}/ahead/")

    assert 409 == answer.status_code
    assert "on record, wanted them with their prices" in answer.content.decode()


def test_nothing_to_reckon_from_is_said_with_its_reason(counter, lead) -> None:
    batch = book(counter, "5 V80 by day 4\nSHN-0001 by day 4")
    page = page_of(counter, batch)

    assert "Of 6 of them nothing can be told" in page
    assert "unknown: none of it was here before, and no fault table" in page
    assert "model not known 1 unknown unknown: the terms do not name it" in page


def test_a_fault_table_foretells_a_model_nobody_met(counter, sallowmere, lead) -> None:
    batch = book(counter, "5 R50 by day 4")
    Finding.objects.all().delete()
    assert "unknown: none of it was here before" in page_of(counter, batch)
    describe(sallowmere, lead, batch_day(batch))
    told = ahead_of(batch, batch_day(batch))

    assert told is not None
    row: ModelAhead = told.models[0].told
    assert row.total is not None
    met = "from 0 devices of it met before, of all customers"
    assert f"{met}; the fault table counts as 30" in row.why
    assert 5 * 22 < row.total.mean < 5 * 60


def test_what_a_batch_teaches_is_not_known_before_it_came(
    counter, sallowmere, lead
) -> None:
    batch = book(counter, "5 V80 by day 4")
    before = ahead_of(batch, batch_day(batch))
    job = receive(counter, batch, "V80", "TV8-00001", found="T-GLS")
    later = batch_day(batch) + timedelta(days=3)
    note_finding(job, Finding.CONFIRMED, by=lead, now=later, code="T-LIQ")

    after = ahead_of(batch, later)
    assert before is not None and after is not None
    assert before.models[0].told.total == after.models[0].told.total


def test_a_finished_batch_shows_its_forecast_beside_what_it_took(
    counter, sallowmere
) -> None:
    codes = ["T-GLS", "T-BAT", "T-SPK", "T-CAM", "T-KEY", "T-ANT", "T-GLS", "NFF"]
    batch = book(counter, f"{len(codes)} V80 by day 4")
    for n, code in enumerate(codes):
        receive(counter, batch, "V80", f"TV8-0000{n}", rev="2", found=code)
    assert "Forecast beside actual" not in page_of(counter, batch, "ahead/")
    Job.objects.filter(batch=batch).update(state="packed")
    page = page_of(counter, batch, "ahead/")

    # By the terms: 8 x 24 handling, 7 x 28 opening, 34+16+8+12+18+10+34+15 exchange.
    assert "It took 535 min" in page
    told = page.replace("&nbsp;", " ")
    assert re.search(r"the forecast was [+-]\d+ % off, within 25 %", told)
    assert "Of 8 devices 0 were timed at the bench" in page


def test_it_may_be_looked_at_by_all_and_changed_by_the_counter(
    sallowmere, helper, desk, clock
) -> None:
    address = f"/batches/{sallowmere.ref}/ahead/"

    assert 200 == signed_in(helper).get(address).status_code
    assert (
        "Write what is to come" not in signed_in(helper).get(address).content.decode()
    )
    told = {"act": "expect", "expected": "3 V80 by day 6"}
    assert 404 == signed_in(helper).post(address, told).status_code
    assert 302 == signed_in(desk).post(address, told).status_code
