"""Is everything thrown away weighed or marked, and gone only against a receipt?"""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from turnscrew.web.records.models import Donor, DonorPart, Entry, Part, Waste
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.waste_page import USUAL_G
from turnscrew.web.records.services import kitting, waste
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in

PAGE = "/stock/waste/"
TO_YARD = {"receiver": "Wolder Yard", "receipt": "W-1"}


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def donor(sallowmere, lead, now) -> Donor:
    return kitting.declare_donor(
        sallowmere.jobs.get(line=2), reckoned(sallowmere, now), by=lead, now=now
    )


def test_it_marks_what_nobody_weighed(counter, sallowmere, lead, now) -> None:
    job = sallowmere.jobs.get(line=4)
    entered = {"act": "add", "kind": "glass", "mass_g": "", "job": job.number}
    assert 302 == counter.post(PAGE, entered).status_code

    first = Waste.objects.get()
    assert (USUAL_G["glass"], False, job) == (
        first.mass_g, first.is_weighed, first.job,
    )  # fmt: skip
    assert "not weighed: usual mass" in counter.get(PAGE).content.decode()

    # From now on what was weighed of the same model stands in.
    for grams in (80, 90, 130):
        waste.throw_away(waste.Scrap("glass", grams), by=lead, now=now, job=job)
    again = waste.throw_away(waste.Scrap("glass"), by=lead, now=now, job=job)
    assert (90, False) == (again.mass_g, again.is_weighed)
    other = waste.throw_away(waste.Scrap("glass"), by=lead, now=now)
    assert USUAL_G["glass"] == other.mass_g
    assert () == audited().breaks


@pytest.mark.parametrize(
    ("scrap", "reason"),
    [
        (waste.Scrap("paper"), "kind: found paper"),
        (waste.Scrap("glass", 0), "mass: found 0 g"),
        (waste.Scrap("glass", 2_000_000), "mass: found 2000000 g"),
    ],
)
def test_it_refuses_what_cannot_be(scrap, reason, lead, now) -> None:
    with pytest.raises(RefusedError, match=reason):
        waste.throw_away(scrap, by=lead, now=now)
    assert not Waste.objects.exists()


def test_it_waits_here_until_there_is_a_receipt(counter, lead, now) -> None:
    made = [
        waste.throw_away(waste.Scrap(kind, 100), by=lead, now=now)
        for kind in ("battery", "board")
    ]
    refs = [one.ref for one in made]
    bare = {"act": "gone", "rows": refs, "receiver": "Wolder Yard", "receipt": ""}
    answer = counter.post(PAGE, bare)
    assert 422 == answer.status_code
    assert 'value="Wolder Yard"' in answer.content.decode()
    assert (
        302 == counter.post(PAGE, {"act": "gone", "rows": refs, **TO_YARD}).status_code
    )

    assert {("Wolder Yard", "W-1", now.date())} == set(
        Waste.objects.values_list("receiver", "receipt", "gone_on")
    )
    assert 2 == Entry.objects.filter(journal="custody", verb="waste gone").count()
    assert () == audited().breaks
    with pytest.raises(RefusedError, match="found 0 of 2, wanted what is here"):
        waste.let_go(refs, waste.Receipt("Wolder Yard", "W-2"), by=lead, now=now)


def test_a_damaged_pack_goes_packed_and_labelled_by_itself(counter, lead, now) -> None:
    pack = waste.throw_away(waste.Scrap("damaged pack", 210), by=lead, now=now)
    entered = {"act": "gone", "rows": [pack.ref], **TO_YARD}

    answer = counter.post(PAGE, entered)
    assert 422 == answer.status_code
    assert "wanted it packed and labelled by itself" in answer.content.decode()
    assert 302 == counter.post(PAGE, {**entered, "is_apart": "on"}).status_code


def test_every_stripped_carcass_ends_in_a_receipt(
    counter, sallowmere, donor, lead, now
) -> None:
    number = donor.job.number
    assert number in counter.get(PAGE).content.decode()
    for part in donor.job.data_parts.all():
        kitting.end_data_part(
            part, "destroyed", by=lead, now=now, verified_how="drilled, seen"
        )
    address = f"/batches/{sallowmere.ref}/donors/"
    bare = {"act": "dispose", "line": 2, "receipt": "W-7"}
    assert 422 == counter.post(address, bare).status_code
    whole = {**bare, "receiver": "Wolder Yard", "mass_g": 1180}
    assert 302 == counter.post(address, whole).status_code

    gone = Waste.objects.get(job=donor.job)
    assert ("carcass", 1180, True, "Wolder Yard", "W-7", now.date()) == (
        gone.kind, gone.mass_g, gone.is_weighed, gone.receiver, gone.receipt,
        gone.gone_on,
    )  # fmt: skip
    assert () == audited().breaks


def test_the_audit_finds_a_mass_that_changed(lead, now) -> None:
    one = waste.throw_away(waste.Scrap("board", 100), by=lead, now=now)
    Waste.objects.filter(pk=one.pk).update(mass_g=90)

    assert [f"mass of waste {one.ref}"] == [str(b.where) for b in audited().breaks]


def test_it_asks_little_however_much_there_is(counter, sallowmere, lead, now) -> None:
    counts = []
    for n in (2, 20):
        for _ in range(n):
            job = sallowmere.jobs.get(line=4)
            waste.throw_away(waste.Scrap("glass", 100), by=lead, now=now, job=job)
        with CaptureQueriesContext(connection) as asked:
            assert 200 == counter.get(PAGE).status_code
        counts.append(len(asked))

    assert counts[0] == counts[1]


# --- where a donor's part lies ------------------------------------------------


def test_a_part_of_a_donor_is_found_by_where_it_lies(
    counter, sallowmere, donor, lead, now
) -> None:
    part = donor.parts.first()
    if part is None:
        part = DonorPart.objects.create(donor=donor, part=Part.objects.first())
    number = part.part.number
    assert "in the carcass" in counter.get(f"/stock/{number}/").content.decode()
    address = f"/batches/{sallowmere.ref}/donors/"
    entered = {"act": "lay", "part": part.pk, "place": " "}
    assert 422 == counter.post(address, entered).status_code
    entered["place"] = "box 7, shelf D"
    assert 302 == counter.post(address, entered).status_code

    for page in (f"/stock/{number}/", address):
        assert "box 7, shelf D" in counter.get(page).content.decode()
    told = Entry.objects.filter(journal="stock", verb="laid").get()
    assert "box 7, shelf D" in told.facts
    part.state = DonorPart.USED
    part.save()
    with pytest.raises(RefusedError, match="found it fitted already"):
        kitting.lay_donor_part(part, "elsewhere", by=lead, now=now)
    assert "box 7" not in counter.get(f"/stock/{number}/").content.decode().split(
        "What happened"
    )[0]  # fmt: skip


def test_a_carcass_with_nothing_useful_is_to_go(counter, donor) -> None:
    words = "nothing useful is left"
    donor.parts.update(state=DonorPart.UNTESTED)
    if donor.parts.exists():
        assert words not in counter.get(PAGE).content.decode()
    donor.parts.update(state=DonorPart.BAD)

    assert words in counter.get(PAGE).content.decode()
