"""Are pieces promised only to devices that are here, and from donors that are?"""

from datetime import datetime, timedelta

import pytest

from turnscrew.web.records.models import (
    Allotment,
    Batch,
    DonorPart,
    Entry,
    Finding,
    Job,
    Part,
    Person,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.order_today import order_today
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.stock_page import part_record
from turnscrew.web.records.services import (
    handing_back,
    kitting,
    stock,
    supplier,
    waste,
)
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.safety import log_pack
from turnscrew.web.records.services.setting_right import (
    RightReturn,
    correct_return,
)
from web.counter_case import signed_in

DONOR, SECOND, WAITING, OTHER = 14, 17, 8, 22
"""Two laptops to be stripped, whose fans two others of the example batch can have."""

FAN = "C-FN"


@pytest.fixture
def shelf_bare(sallowmere, lead, now) -> Part:
    """Give the fan of the example batch, with none on the shelf."""
    fan = Part.objects.get(number=FAN)
    stock.count(fan, 0, by=lead, now=now, words="an empty box")
    return fan


def stripped(batch: Batch, line: int, by: Person, now: datetime) -> DonorPart:
    """Take a device as a donor; give its fan."""
    donor = kitting.declare_donor(
        batch.jobs.get(line=line), reckoned(batch, now), by=by, now=now
    )
    place = "fire box 1"
    log_pack("its pack", "taken out", by=by, now=now, place=place, job=donor.job)
    fan = Part.objects.get(number=FAN)
    return DonorPart.objects.get_or_create(donor=donor, part=fan)[0]


def promised_from(piece: DonorPart, batch: Batch, by: Person, now: datetime):
    wish = stock.want(piece.part, batch.jobs.get(line=WAITING), by=by, now=now)
    kitting.test_donor_part(piece, is_good=True, by=by, now=now, how="runs quietly")
    wish.refresh_from_db()
    assert (piece, Allotment.PROMISED) == (wish.donor_part, wish.state)
    return wish


def test_a_piece_that_left_with_its_donor_is_wanted_anew(
    sallowmere, shelf_bare, lead, now
) -> None:
    piece = stripped(sallowmere, DONOR, lead, now)
    wish = promised_from(piece, sallowmere, lead, now)

    handing_back.return_unrepaired(
        piece.donor.job, by=lead, now=now, reason="wants it back", taken_by="Wen Arkady"
    )

    wish.refresh_from_db()
    assert (None, Allotment.SHORT) == (wish.donor_part, wish.state)
    assert "short" == Entry.objects.filter(subject=piece.part.ref).last().verb
    due = {row.part.number: row for row in order_today(now).rows}
    assert due[FAN].purchase.n_wanted
    # Nobody is promised it again, neither a new wish nor when a kit is made anew.
    kitting.allot(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    assert not Allotment.objects.filter(donor_part=piece).exists()
    assert [] == part_record(piece.part).from_donors
    fitted = kitting.fit(wish.job, by=lead, now=now)
    assert FAN not in {one.part.number for one in fitted}
    assert () == audited().breaks


def test_another_donor_gives_what_left_with_the_first(
    sallowmere, shelf_bare, lead, now
) -> None:
    piece = stripped(sallowmere, DONOR, lead, now)
    wish = promised_from(piece, sallowmere, lead, now)
    second = stripped(sallowmere, SECOND, lead, now)
    kitting.test_donor_part(second, is_good=True, by=lead, now=now, how="runs")

    handing_back.return_unrepaired(
        piece.donor.job, by=lead, now=now, reason="asked", taken_by="Wen Arkady"
    )

    wish.refresh_from_db()
    assert (second, Allotment.PROMISED) == (wish.donor_part, wish.state)


@pytest.mark.parametrize(("place", "stays"), [("", False), ("box 3", True)])
def test_a_carcass_takes_along_only_what_was_not_laid_apart(
    sallowmere, shelf_bare, lead, now, place, stays
) -> None:
    piece = stripped(sallowmere, DONOR, lead, now)
    wish = promised_from(piece, sallowmere, lead, now)
    if place:
        kitting.lay_donor_part(piece, place, by=lead, now=now)
    for part in piece.donor.job.data_parts.all():
        kitting.end_data_part(part, "destroyed", by=lead, now=now, verified_how="seen")

    receipt = waste.Receipt("Wolder Yard", "W-1")
    handing_back.dispose(piece.donor.job, receipt=receipt, by=lead, now=now)

    wish.refresh_from_db()
    assert (Allotment.PROMISED if stays else Allotment.SHORT) == wish.state


def test_what_goes_back_unfitted_frees_its_piece_for_who_waits(
    sallowmere, lead, now
) -> None:
    Part.objects.filter(number=FAN).update(on_hand=1, promised=0)
    fan = Part.objects.get(number=FAN)
    going, staying = (sallowmere.jobs.get(line=line) for line in (WAITING, OTHER))
    kept = stock.promise(fan, going, by=lead, now=now)
    waits = stock.promise(fan, staying, by=lead, now=now)
    assert ("promised", "short") == (kept.state, waits.state)
    Job.objects.filter(pk=going.pk).update(state="packed", main_state="packed")

    handing_back.hand_back(
        sallowmere, [WAITING], taken_by="the porter", by=lead, now=now
    )

    kept.refresh_from_db()
    waits.refresh_from_db()
    assert ("released", "promised") == (kept.state, waits.state)
    assert 1 == Part.objects.get(pk=fan.pk).promised


@pytest.fixture
def waiting(sallowmere, shelf_bare, lead, now) -> Allotment:
    """Give a wish for a fan that nothing on the shelf can meet."""
    return stock.promise(shelf_bare, sallowmere.jobs.get(line=OTHER), by=lead, now=now)


@pytest.mark.parametrize("verb", ["received", "found"])
def test_what_somebody_lays_on_the_shelf_goes_to_who_waits(
    waiting, lead, now, verb
) -> None:
    assert Allotment.SHORT == waiting.state
    entered = {"act": "move", "verb": verb, "n": 2, "why": "behind the drawer"}
    assert 302 == signed_in(lead).post(f"/stock/{FAN}/", entered).status_code

    waiting.refresh_from_db()
    fan = Part.objects.get(number=FAN)
    assert (Allotment.PROMISED, 1, 1) == (waiting.state, fan.promised, fan.free)
    assert () == audited().breaks


def test_what_a_return_took_wrongly_goes_to_who_waits(
    sallowmere, shelf_bare, lead, now
) -> None:
    by = {"by": lead, "now": now}
    stock.count(shelf_bare, 2, words="two after all", **by)
    told = supplier.Faulty(2, supplier.ON_SHELF, "bent", "seen", is_on_shelf=True)
    row = supplier.begin_return(shelf_bare, told, **by)
    wish = stock.promise(shelf_bare, sallowmere.jobs.get(line=OTHER), **by)
    assert Allotment.SHORT == wish.state

    correct_return(row, RightReturn(n=1), words="one is good", **by)

    wish.refresh_from_db()
    assert Allotment.PROMISED == wish.state
    assert () == audited().breaks


def test_with_an_empty_shelf_the_piece_of_a_donor_is_promised(
    sallowmere, shelf_bare, lead, now
) -> None:
    piece = stripped(sallowmere, DONOR, lead, now)
    kitting.test_donor_part(piece, is_good=True, by=lead, now=now, how="runs quietly")
    Allotment.objects.all().delete()

    wish = stock.promise(
        shelf_bare, sallowmere.jobs.get(line=WAITING), by=lead, now=now
    )

    assert (Allotment.PROMISED, piece) == (wish.state, wish.donor_part)
    late = stock.promise(shelf_bare, sallowmere.jobs.get(line=OTHER), by=lead, now=now)
    assert (Allotment.SHORT, None) == (late.state, late.donor_part)
    assert () == audited().breaks


def test_no_device_waits_beside_a_piece_that_lies_free(sallowmere, lead, now) -> None:
    """The plan keeps pieces for devices that have left; the shelf does not."""
    answer = reckoned(sallowmere, now)
    Job.objects.filter(batch=sallowmere, line=54).update(state="handed back")
    kitting.allot(sallowmere, answer, by=lead, now=now)

    waiting = Allotment.objects.filter(state=Allotment.SHORT)
    free = {part.number: part.free for part in Part.objects.all()}
    assert [] == [one.part.number for one in waiting if free[one.part.number] > 0]


def found_anew(batch: Batch, by: Person, now: datetime) -> Job:
    """Allot the parts; then find a keyboard worn where a fan was to go in."""
    kitting.allot(batch, reckoned(batch, now), by=by, now=now)
    wish = Allotment.objects.filter(
        part__number=FAN, state=Allotment.PROMISED, job__batch=batch
    ).first()
    assert "L-FAN" in reckoned(batch, now).by_name[wish.job.line].line.found
    later = now + timedelta(hours=2)
    note_finding(wish.job, Finding.CONFIRMED, by=by, now=later, code="L-KBD")
    return wish.job


def test_what_is_needed_no_more_is_freed_for_who_waits(sallowmere, lead, now) -> None:
    job = found_anew(sallowmere, lead, now)
    fan = Part.objects.get(number=FAN)
    n_free = fan.free
    later = now + timedelta(hours=3)

    kitting.allot(sallowmere, reckoned(sallowmere, later), by=lead, now=later)

    live = job.allotments.exclude(state=Allotment.RELEASED)
    needed = reckoned(sallowmere, later).by_name[job.line].parts
    assert sorted(needed) == sorted(wish.part.number for wish in live)
    assert FAN not in needed
    fan.refresh_from_db()
    n_short = Allotment.objects.filter(part=fan, state=Allotment.SHORT).count()
    assert fan.free == n_free + 1 or n_short == fan.free == 0
    assert () == audited().breaks


def test_nothing_is_written_as_fitted_that_is_needed_no_more(
    sallowmere, lead, now
) -> None:
    job = found_anew(sallowmere, lead, now)
    later = now + timedelta(hours=3)

    fitted = kitting.fit(job, by=lead, now=later)

    assert FAN not in {wish.part.number for wish in fitted}
    assert FAN in {wish.part.number for wish in job.allotments.filter(
        state=Allotment.PROMISED
    )}  # fmt: skip


def test_what_was_promised_to_a_donor_is_free_when_its_carcass_goes(
    sallowmere, lead, now
) -> None:
    piece = stripped(sallowmere, DONOR, lead, now)
    fan = piece.part
    stock.count(fan, 1, by=lead, now=now, words="one in the box")
    stock.promise(fan, piece.donor.job, by=lead, now=now)
    for part in piece.donor.job.data_parts.all():
        kitting.end_data_part(part, "destroyed", by=lead, now=now, verified_how="drill")

    receipt = waste.Receipt("Wolder Waste", "W-7")
    handing_back.dispose(piece.donor.job, by=lead, now=now, receipt=receipt)

    fan.refresh_from_db()
    assert (1, 0) == (fan.on_hand, fan.promised)
