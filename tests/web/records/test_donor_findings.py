"""Does a donor give no more what something found on it later spoils?"""

import pytest

from turnscrew.web.records.models import Allotment, DonorPart, Finding, Job, Part
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.stock_page import part_record
from turnscrew.web.records.services import findings, kitting, quoting, stock
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in

DONOR, USER = 14, 42
"""A laptop to be stripped, and one that waits for its fan."""


@pytest.fixture(name="donor")
def donor_taken(sallowmere, lead, now) -> Job:
    by = {"by": lead, "now": now}
    stock.count(Part.objects.get(number="C-FN"), 0, words="an empty box", **by)
    donor = sallowmere.jobs.get(line=DONOR)
    kitting.declare_donor(donor, reckoned(sallowmere, now), **by)
    user = sallowmere.jobs.get(line=USER)
    stock.want(Part.objects.get(number="C-FN"), user, **by)
    return Job.objects.get(pk=donor.pk)


def states(donor: Job) -> dict[str, str]:
    rows = DonorPart.objects.filter(donor__job=donor)
    return dict(rows.values_list("part__number", "state"))


def confirmed(donor: Job, code: str, by, now) -> Finding:
    return findings.note_finding(donor, Finding.CONFIRMED, by=by, now=now, code=code)


def test_a_donor_found_wet_gives_what_outlasts_it_alone(
    donor, lead, now, clock
) -> None:
    fan = DonorPart.objects.get(donor__job=donor, part__number="C-FN")
    kitting.test_donor_part(fan, is_good=True, by=lead, now=now, how="spins")
    wish = Allotment.objects.get(donor_part=fan)

    confirmed(donor, "L-LIQ", lead, now)

    told = states(donor)
    assert {"C-PV"} == {name for name, one in told.items() if one == "untested"}
    assert {"withdrawn"} == {one for name, one in told.items() if name != "C-PV"}
    wish.refresh_from_db()
    assert (Allotment.SHORT, None) == (wish.state, wish.donor_part)
    assert [] == part_record(fan.part).from_donors
    batch = donor.batch
    assert {DONOR: ("C-PV",)} == reckoned(batch, now).batch.pieces_left
    page = signed_in(lead).get(f"/batches/{batch.ref}/donors/").content.decode()
    assert "withdrawn" in page
    assert f'id="how-{fan.pk}"' not in page


def test_it_refuses_to_test_what_is_withdrawn(donor, lead, now) -> None:
    confirmed(donor, "L-FAN", lead, now)
    fan = DonorPart.objects.get(donor__job=donor, part__number="C-FN")

    assert {"C-FN"} == {
        name for name, one in states(donor).items() if one == "withdrawn"
    }
    with pytest.raises(RefusedError, match="found withdrawn already"):
        kitting.test_donor_part(fan, is_good=True, by=lead, now=now, how="spins")


def test_it_brings_back_what_was_withdrawn_for_nothing(donor, lead, now) -> None:
    before = states(donor)
    finding = confirmed(donor, "L-LIQ", lead, now)
    assert before != states(donor)

    findings.withdraw_finding(finding, by=lead, now=now, words="another device")

    assert before == states(donor)


@pytest.mark.parametrize("is_known", [True, False])
def test_a_donors_storage_that_fails_is_never_cleared(
    sallowmere, lead, now, is_known
) -> None:
    donor = sallowmere.jobs.get(line=DONOR)
    if is_known:
        confirmed(donor, "L-SSD", lead, now)
        confirmed(donor, "L-DSP", lead, now)
    kitting.declare_donor(donor, reckoned(sallowmere, now), by=lead, now=now)
    if not is_known:
        assert donor.data_parts.get().is_readable
        confirmed(Job.objects.get(pk=donor.pk), "L-SSD", lead, now)

    part = donor.data_parts.get()

    assert not part.is_readable
    told = {"by": lead, "now": now, "verified_how": "pierced"}
    with pytest.raises(RefusedError, match="found cleared, wanted one of returned"):
        kitting.end_data_part(part, "cleared", **told)
    kitting.end_data_part(part, "destroyed", **told)


def test_a_donor_is_given_no_yes_any_more(sallowmere, lead, now) -> None:
    by = {"by": lead, "now": now}
    quoting.keep_quotes(sallowmere, reckoned(sallowmere, now), **by)
    quoting.ask(sallowmere, reckoned(sallowmere, now), **by)
    quoting.give_answers(sallowmere, {4: False}, name="desk", **by)
    donor = sallowmere.jobs.get(line=4)
    kitting.declare_donor(donor, reckoned(sallowmere, now), **by)
    told = {"name": "desk", "words": "they changed their mind", **by}
    donor = sallowmere.jobs.get(line=4)

    with pytest.raises(RefusedError, match="found it taken as a donor"):
        quoting.correct_answer(donor, is_yes=True, **told)

    assert "no" == donor.approvals.last().answer
    kitting.allot(sallowmere, reckoned(sallowmere, now), **by)
    assert not donor.allotments.filter(state=Allotment.PROMISED).exists()


def test_what_was_found_before_pieces_were_withdrawn_is_seen_too(
    donor, lead, now
) -> None:
    """As records of before hold it: wet, and its pieces still to be tested."""
    confirmed(donor, "L-LIQ", lead, now)
    DonorPart.objects.filter(donor__job=donor).update(state=DonorPart.UNTESTED)
    fan = DonorPart.objects.get(donor__job=donor, part__number="C-FN")
    with pytest.raises(RefusedError, match="found withdrawn already"):
        kitting.test_donor_part(fan, is_good=True, by=lead, now=now, how="spins")

    DonorPart.objects.filter(donor__job=donor).update(state=DonorPart.GOOD)
    kitting.allot(donor.batch, reckoned(donor.batch, now), by=lead, now=now)
    assert "withdrawn" == states(donor)["C-FN"]
    assert not Allotment.objects.filter(donor_part=fan).exists()
