"""Is model and revision told from outside, look by look, and kept beside the list?"""

import re
from urllib.parse import quote

import pytest
from django.test import Client

from turnscrew.web.records.models import Batch, Entry, Job, ListedRow, Sighting
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.recognition import (
    known_here,
    recognition_of,
    recognition_of_job,
)
from turnscrew.web.records.services import recognition
from turnscrew.web.records.services.refusal import RefusedError
from web.browser.bench_case import describe
from web.counter_case import signed_in

VENTS = "vents on the left edge"
DOTS = "dots beside the dock contacts"
NEW = "PL3-99999"
"""A serial of the laptops that no device here bears."""


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def described(sallowmere, lead, clock) -> Batch:
    describe(sallowmere, lead, clock.at)
    return sallowmere


def receiving(batch: Batch, scan: str = "", **saw: str) -> str:
    looks = "".join(f"&saw={quote(f'{look}::{said}')}" for look, said in saw.items())
    return f"/batches/{batch.ref}/receive/?scan={quote(scan)}{looks}"


def told(counter: Client, address: str) -> str:
    text = counter.get(address).content.decode()
    panel = text.partition('id="recognition"')[2].partition("</section>")[0]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", panel)).replace("&#x27;", "'")


def test_it_says_that_no_model_is_described(counter, sallowmere) -> None:
    page = told(counter, receiving(sallowmere, NEW))

    assert "Unknown: no model is described" in page
    assert recognition_of(NEW, {}) is None


def test_it_says_that_nothing_was_looked_at(counter, described) -> None:
    page = told(counter, receiving(described))

    assert "Nothing was looked at yet" in page
    assert "Not sure yet; most likely" in page


def test_the_number_tells_the_family_and_the_look_that_parts_the_rest(
    counter, described
) -> None:
    page = told(counter, receiving(described, NEW))

    assert "The look that tells most" in page
    assert f"{VENTS}? three two something else cannot be seen" in page
    ranked = recognition_of(NEW, {})
    assert ranked is not None
    assert {"L240"} == {one.known.model for one in ranked.candidates[:2]}
    assert not ranked.is_sure


COUNTS_NOTHING = "in the confidence below it counts nothing"


def test_it_says_that_the_revision_written_counts_nothing(counter, described) -> None:
    """Device 13 came as revision B; by number and past alone it is rather an A."""
    job = Job.objects.get(batch=described, line=13)
    page = told(counter, f"/items/{job.item.ref}/")

    assert "Not sure yet; most likely: L240 A" in page
    assert "Written of it, or on the customer's list: L240 B. " in page
    assert COUNTS_NOTHING in page

    job.revision = ""
    job.save()
    assert COUNTS_NOTHING not in told(counter, f"/items/{job.item.ref}/")


def test_it_says_that_the_revision_on_the_list_counts_nothing(
    counter, described
) -> None:
    row = ListedRow.objects.filter(batch=described, revision__contains="B").first()
    assert row is not None
    plain = told(counter, receiving(described, row.asset))

    assert "on the customer's list: L240 B. " in plain
    assert COUNTS_NOTHING in plain
    sure = told(counter, receiving(described, row.asset, **{VENTS: "two"}))
    assert "Told from outside: L240 B" in sure
    assert COUNTS_NOTHING not in sure


def test_an_answer_tells_the_revision_and_what_confirms_it(counter, described) -> None:
    page = told(counter, receiving(described, NEW, **{VENTS: "two"}))

    assert re.search(r"Told from outside: L240 B, 9[5-9] %", page)
    assert "Confirm when opened: L240 B: square shield can beside the fan" in page
    assert "Order nothing before that is seen." in page
    assert f"{VENTS}: two" in page


def test_what_cannot_be_seen_is_not_asked_again_and_tells_nothing(
    counter, described
) -> None:
    page = told(counter, receiving(described, NEW, **{VENTS: ""}))
    ranked, before = recognition_of(NEW, {VENTS: ""}), recognition_of(NEW, {})

    assert f"{VENTS}: cannot be seen" in page
    assert f"{VENTS}? three" not in page
    assert ranked is not None and before is not None
    assert [one.p for one in before.candidates] == [one.p for one in ranked.candidates]


def test_a_look_that_no_description_knows_is_left_out(counter, described) -> None:
    looks = {"colour of the moon": "green", VENTS: "nine"}
    page = told(counter, receiving(described, NEW, **looks))

    assert "green" not in page
    assert "nine" not in page
    assert "Seen so far" not in page


def test_what_was_seen_is_kept_with_the_device_received(counter, described) -> None:
    address = receiving(described, NEW, **{VENTS: "two"})
    counter.post(address, {"act": "one", "serial": NEW, "model": "L240", "rev": "B",
                           "lock": "not looked"})  # fmt: skip
    job = Job.objects.get(serial=NEW)
    kept = Sighting.objects.get(job=job)
    assert (VENTS, "two") == (kept.look, kept.shows)
    assert () == audited().breaks


def test_the_body_counts_for_parts_and_the_list_keeps_its_word(
    counter, described
) -> None:
    """Line 31 of the example: the list says revision 1, the body is of revision 2."""
    row = ListedRow.objects.get(batch=described, asset="SHN-0310")
    Job.objects.filter(batch=described, line=31).update(asset_number="", serial="")
    address = receiving(described, row.asset, **{DOTS: "two"})
    page = counter.get(address).content.decode()

    assert "the list says V80 1, the body shows V80 2: parts go by the body" in page
    assert re.search(r'name="rev" value="2"', page)
    row.refresh_from_db()
    assert "1" in row.revision


def test_a_number_of_another_model_is_set_aside_and_told(counter, described) -> None:
    page = told(counter, receiving(described, NEW, **{DOTS: "two"}))

    assert "The number speaks against what the body shows. Both are kept" in page
    assert "most likely: V80 2" in page


def test_what_no_revision_shows_is_told(counter, described) -> None:
    looks = {VENTS: "something else", DOTS: "something else",
             "mark on the plate under the battery door": "something else"}  # fmt: skip
    page = told(counter, receiving(described, **looks))

    assert "No known revision shows all that was seen" in page


def test_a_tie_is_told(counter, described) -> None:
    # With as many of each here before, nothing parts the two revisions.
    counts = {one.revision: one.n_before for one in known_here() if one.model == "R50"}
    more = max(counts, key=lambda name: counts[name])
    for job in described.jobs.filter(model="R50", revision=more)[
        : abs(counts["K"] - counts["L"])
    ]:
        job.item.revision = ""
        job.item.save()
    page = told(counter, receiving(described, "GR5-00001"))

    assert "A tie: R50 K, R50 L. Nothing that was seen parts them." in page


def test_the_page_of_a_device_asks_keeps_and_ranks(counter, described) -> None:
    job = described.jobs.get(line=1)
    address = f"/items/{job.item.ref}/"
    asked = {"act": "saw", "look": VENTS}

    assert f"{VENTS}? three two" in told(counter, address)
    assert 302 == counter.post(address, {**asked, "shows": "three"}).status_code
    assert 302 == counter.post(address, {**asked, "shows": "two"}).status_code
    assert "L240 B" in told(counter, address)
    ranked = recognition_of_job(job).ranked
    assert ranked is not None
    assert ("L240 B", True) == (ranked.best.known.name, ranked.is_sure)
    # The newest counts; the first stays on record.
    assert ["three", "two"] == [one.shows for one in job.sightings.all()]
    facts = [one.facts for one in Entry.objects.filter(subject=job.ref, verb="arrival")]
    assert 2 == sum(VENTS in text for text in facts)
    assert 422 == counter.post(address, {**asked, "look": "none such"}).status_code
    assert 422 == counter.post(address, {**asked, "shows": "nine"}).status_code
    assert 302 == counter.post(address, {**asked, "shows": ""}).status_code


def test_taking_it_for_a_revision_changes_the_device_and_not_the_list(
    counter, described, lead, clock
) -> None:
    job = described.jobs.get(line=31)
    row = ListedRow.objects.get(batch=described, asset=job.asset_number)
    before = row.revision
    address = f"/items/{job.item.ref}/"
    answer = counter.post(address, {"act": "take", "revision": "1"})
    job.refresh_from_db()
    row.refresh_from_db()

    assert (302, "1", "1") == (answer.status_code, job.revision, job.item.revision)
    assert before == row.revision
    assert () == audited().breaks
    with pytest.raises(RefusedError, match="found Z, wanted 1, 2"):
        recognition.take_for(job, "Z", by=lead, now=clock.at)
    assert 422 == counter.post(address, {"act": "take", "revision": "Z"}).status_code


def test_the_body_asked_about_is_no_witness_for_itself(described) -> None:
    job = described.jobs.get(line=1)
    whole = {one.name: one.n_before for one in known_here()}
    without = {one.name: one.n_before for one in known_here(job.item)}

    assert whole["L240 B"] - 1 == without["L240 B"]
    assert whole["L240 A"] == without["L240 A"]
