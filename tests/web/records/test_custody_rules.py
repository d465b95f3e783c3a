"""What holds of clocks that go back, of donors and of what they may give?"""

from dataclasses import replace
from datetime import timedelta

import pytest

from turnscrew.core.model.batch import BatchLine
from turnscrew.errors import BadFileError
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    Customer,
    DonorPart,
    Entry,
    Job,
    Part,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.bench_page import bench_state
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import booking, handing_back, kitting, locks, stock
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.refusal import RefusedError
from web.conftest import sallowmere_contents
from web.counter_case import signed_in

DONOR, WAITING = 14, 8
"""A laptop to be stripped, whose fan another of the example batch can have."""


def test_a_clock_set_back_keeps_the_order_and_is_marked(
    sallowmere, lead, now, clock
) -> None:
    job = Job.objects.get(batch=sallowmere, line=8)
    for minutes in (10, -30, 20):
        append(
            "custody", "moved", job.ref, by=lead, now=now + timedelta(minutes=minutes),
            facts={"state": "received", "place": "shelf", "holder": lead.ref,
                   "until": None},
        )  # fmt: skip
    last = list(Entry.objects.filter(journal="custody").order_by("-sequence")[:3])

    assert [False, True, False] == [one.is_clock_doubtful for one in last[::-1]]
    assert last[0].sequence == last[2].sequence + 2
    assert () == audited().breaks
    shown = signed_in(lead).get(f"/items/{job.item.ref}/").content.decode()
    assert "doubtful" in shown


def taken_from_donor(sallowmere, lead, now, *, consent: str) -> Allotment:
    """Promise a donor's part to a device, which then turns out another customer's."""
    answer = reckoned(sallowmere, now)
    donor = kitting.declare_donor(
        Job.objects.get(batch=sallowmere, line=DONOR), answer, by=lead, now=now,
        consent=consent,
    )  # fmt: skip
    part = DonorPart.objects.filter(donor=donor, part__number="C-FN").get()
    part.state = DonorPart.GOOD
    part.save()
    other = Job.objects.get(batch=sallowmere, line=WAITING)
    other.batch = Batch.objects.create(
        customer=Customer.objects.create(name="Somebody else"), name="Elsewhere",
        received=sallowmere.received, terms_text=sallowmere.terms_text,
    )  # fmt: skip
    other.save()
    return Allotment.objects.create(
        job=other, part=part.part, donor_part=part, state=Allotment.PROMISED, at=now
    )


def test_a_donors_part_goes_to_nobody_else_without_consent(
    sallowmere, lead, now
) -> None:
    wish = taken_from_donor(sallowmere, lead, now, consent="")

    with pytest.raises(RefusedError, match="another customer, no consent given"):
        kitting.fit(wish.job, by=lead, now=now)
    wish.refresh_from_db()
    assert Allotment.PROMISED == wish.state


def test_consent_alone_does_not_widen_what_the_terms_allow(
    sallowmere, lead, now
) -> None:
    wish = taken_from_donor(sallowmere, lead, now, consent="the equipment desk")
    donor_part = wish.donor_part
    assert donor_part is not None

    assert "same customer" == donor_part.donor.use
    with pytest.raises(RefusedError, match="another customer, no consent given"):
        kitting.fit(wish.job, by=lead, now=now)


@pytest.mark.parametrize("part", ["C-BT", "C-SD"])
def test_terms_that_list_packs_or_storage_for_harvest_are_refused(part) -> None:
    contents = dict(sallowmere_contents())
    text = contents["terms.yaml"].decode()
    spoilt = text.replace("harvest: [C-KBA", f"harvest: [{part}, C-KBA")
    assert spoilt != text

    with pytest.raises(BadFileError) as refused:
        read_batch_folder({**contents, "terms.yaml": spoilt.encode()})
    assert any(part in str(problem) for problem in refused.value.problems)


def test_a_donor_gives_no_pack_and_no_storage_whatever_the_terms_list(
    sallowmere, lead, now
) -> None:
    text = sallowmere.terms_text
    told = text.replace("C-KBA, C-KBB, C-FN", "C-BT, C-SD, C-FN", 1)
    told = told.replace("never: [C-BT, C-SD, T-BT]", "never: []")
    assert "never: []" in told and "harvest: [C-BT, C-SD, C-FN" in told
    sallowmere.terms_text = told
    sallowmere.save()
    donor = Job.objects.get(batch=sallowmere, line=DONOR)
    answer = reckoned(sallowmere, now)

    kitting.declare_donor(donor, answer, by=lead, now=now)

    given = DonorPart.objects.filter(donor__job=donor)
    assert "C-FN" in given.values_list("part__number", flat=True)
    assert not given.filter(part__number__in=["C-BT", "C-SD"]).exists()
    assert ("C-BT", "C-SD") == answer.batch.never_harvested


def test_a_piece_of_a_donor_that_is_given_back_goes_to_who_waits(
    sallowmere, lead, now
) -> None:
    answer = reckoned(sallowmere, now)
    donated = sallowmere.jobs.get(line=DONOR)
    donor = kitting.declare_donor(donated, answer, by=lead, now=now)
    piece = DonorPart.objects.get(donor=donor, part__number="C-FN")
    waiting = {
        line: stock.want(piece.part, sallowmere.jobs.get(line=line), by=lead, now=now)
        for line in (22, 38, WAITING)
    }
    sallowmere.jobs.filter(line=22).update(due_day=None)
    sallowmere.jobs.filter(line=38).update(due_day=9)
    kitting.test_donor_part(piece, is_good=True, by=lead, now=now, how="runs quietly")
    first = waiting[WAITING]
    first.refresh_from_db()
    assert piece == first.donor_part

    stock.release(first, by=lead, now=now, words="the customer said no")

    for wish in waiting.values():
        wish.refresh_from_db()
    # The earliest day first; who has none comes last, whatever the database thinks.
    assert {WAITING: "released", 38: "promised", 22: "short"} == {
        line: wish.state for line, wish in waiting.items()
    }
    assert piece == waiting[38].donor_part


def test_devices_named_that_are_not_there_are_not_passed_over(
    sallowmere, lead, now
) -> None:
    for write in (
        lambda lines: handing_back.hand_back(
            sallowmere, lines, taken_by="Office", by=lead, now=now
        ),
        lambda lines: locks.note_locks(sallowmere, lines, "locked", by=lead, now=now),
        lambda lines: kitting.fit_several(sallowmere, lines, by=lead, now=now),
    ):
        with pytest.raises(RefusedError, match="found 99, wanted lines of this batch"):
            write([1, 99])
    assert "" == sallowmere.jobs.get(line=1).lock


def test_the_bench_lists_what_has_no_day_last(sallowmere, lead, now) -> None:
    sallowmere.jobs.filter(line__in=[1, 2, 3]).update(state="kitted")
    sallowmere.jobs.filter(line=1).update(due_day=None)

    ready = bench_state("bench", lead, now)["ready"]
    assert [2, 3, 1] == [one["line"] for one in ready]


def test_days_of_two_batches_are_compared_by_their_dates(sallowmere, lead, now) -> None:
    later = Batch.objects.create(
        customer=sallowmere.customer, name="Second round",
        received=sallowmere.received + timedelta(days=21),
        terms_text=sallowmere.terms_text,
    )  # fmt: skip
    moved = sallowmere.jobs.get(line=38)
    sallowmere.jobs.filter(line=38).update(batch=later, due_day=3)
    sallowmere.jobs.filter(line=WAITING).update(due_day=10)
    part = Part.objects.get(number="C-FN")
    behind = stock.want(part, Job.objects.get(pk=moved.pk), by=lead, now=now)
    first = stock.want(part, sallowmere.jobs.get(line=WAITING), by=lead, now=now)
    Part.objects.filter(pk=part.pk).update(on_hand=part.promised + 1)

    stock.serve_waiting(part, by=lead, now=now)

    for wish in (behind, first):
        wish.refresh_from_db()
    # Day 3 of a batch that came three weeks later is after day 10 of this one.
    assert ("short", "promised") == (behind.state, first.state)
    Job.objects.filter(pk__in=[moved.pk, first.job_id]).update(state="kitted")
    assert [WAITING, 38] == [
        one["line"] for one in bench_state("bench", lead, now)["ready"]
    ]


def test_two_devices_of_a_day_never_bear_one_number(sallowmere, lead, now) -> None:
    by = {"by": lead, "now": now}
    many = BatchLine(line=1001, serial="MANY-1", model="V80", revision="1")
    booking.receive(sallowmere, [many], **by)
    said = booking.Booking(
        "Second", sallowmere.received, sallowmere.terms_text, sallowmere.customer
    )
    second = booking.book(said, **by)
    lines = [replace(many, line=n, serial=f"TWO-{n}") for n in (1, 2, 2)]

    with pytest.raises(RefusedError) as refused:
        booking.receive(second, lines, **by)

    assert (
        "line 1: found number 1001 borne by another batch of the day, wanted it "
        "received with that one, or on another day",
        "line 2: received already",
    ) == refused.value.reasons
    assert not second.jobs.exists()
    assert 1 == len(booking.receive(second, lines[1:2], **by))
