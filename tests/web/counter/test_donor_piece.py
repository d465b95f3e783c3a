"""Do the pages and the bench say from which donor a device gets its piece?"""

import pytest

from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.job_state import Standing
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.records.models import Allotment, DonorPart, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.charges import donor_uses
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import custody, kitting, people, quoting
from turnscrew.web.records.services.refusal import RefusedError
from web.counter.worked import describe, taken
from web.counter_case import signed_in

DONOR = 35
"""A device that can give a camera, which the shelf does not hold."""


@pytest.fixture(name="served")
def served_device(sallowmere, lead, now) -> Job:
    """Take a donor, lay its camera apart; give the device that it is promised to."""
    describe(sallowmere, lead, now)
    quoting.keep_quotes(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    donor = sallowmere.jobs.get(line=DONOR)
    kitting.declare_donor(donor, reckoned(sallowmere, now), by=lead, now=now)
    kitting.allot(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    piece = DonorPart.objects.get(donor__job=donor, part__number="T-CM")
    kitting.test_donor_part(piece, is_good=True, by=lead, now=now, how="picture")
    kitting.lay_donor_part(piece, "box 35", by=lead, now=now)
    return Allotment.objects.get(donor_part=piece).job


def test_the_pages_of_device_and_part_name_donor_and_place(
    served, lead, now, clock
) -> None:
    donor = served.batch.jobs.get(line=DONOR)
    told = f"promised, from donor {donor.number}: box 35"

    for page in (f"/items/{served.item.ref}/", "/stock/T-CM/"):
        assert told in signed_in(lead).get(page).content.decode()
    people.speak_to(lead, "de", now=now)
    german = signed_in(lead).get("/stock/T-CM/")
    assert f"vom Spender {donor.number}: box 35" in german.content.decode()


def test_the_line_at_the_bench_says_where_the_piece_lies(served, lead, now) -> None:
    to = Standing("kitted", "shelf", lead.ref, main="quoted")
    custody.move(served, to, by=lead, now=now)
    job = Job.objects.get(pk=served.pk)

    _, run = bench_runs.state_and_run(taken(job, lead, now))

    [line] = [one for one in run.lines if one.says.startswith("Fit T-CM")]
    told = "From donor 35, tested and good: box 35."
    assert told in line.details
    said = Phrasebook(GERMAN).says(told)
    assert "Vom Spender 35, geprüft und gut: box 35." == said


def test_a_piece_that_fails_later_goes_to_nobody_any_more(
    served, lead, now, clock
) -> None:
    piece = DonorPart.objects.get(donor__job__line=DONOR, part__number="T-CM")
    page = f"/batches/{served.batch.ref}/donors/"
    told = {"act": "test", "part": piece.pk, "was": "good", "how": "no picture"}
    client = signed_in(lead)
    assert "Tested again" in client.get(page).content.decode()

    same = client.post(page, {**told, "is_good": "yes"}).content.decode()
    assert "found good already, wanted another result" in same
    unseen = client.post(page, {**told, "was": "", "is_good": "no"}).content.decode()
    assert "found good already, wanted one untested" in unseen
    client.post(page, {**told, "is_good": "no"})

    piece.refresh_from_db()
    wish = Allotment.objects.get(job=served, part__number="T-CM")
    assert (DonorPart.BAD, None, Allotment.SHORT) == (
        piece.state, wish.donor_part, wish.state,
    )  # fmt: skip
    client.post(page, {**told, "was": "bad", "is_good": "yes", "how": "clean socket"})
    wish.refresh_from_db()
    assert (piece.pk, Allotment.PROMISED) == (wish.donor_part_id, wish.state)
    assert () == audited().breaks


def test_what_was_fitted_is_not_tested_on_the_shelf(served, lead, now) -> None:
    piece = DonorPart.objects.get(donor__job__line=DONOR, part__number="T-CM")
    DonorPart.objects.filter(pk=piece.pk).update(state=DonorPart.USED)

    with pytest.raises(RefusedError, match="found used, wanted one that is here"):
        kitting.test_donor_part(
            piece, is_good=False, by=lead, now=now, how="x", was=DonorPart.USED
        )


def test_what_hands_took_from_a_donor_is_written_as_its_piece(
    served, lead, now, clock
) -> None:
    """Promised to one device, but fitted in another before anybody looked."""
    piece = DonorPart.objects.get(donor__job__line=DONOR, part__number="T-CM")
    page = f"/batches/{served.batch.ref}/donors/"
    told = {"act": "fitted", "part": piece.pk}
    client = signed_in(lead)
    other = served.batch.jobs.get(line=7)

    def entered(lines: str) -> str:
        told["lines"] = lines
        return client.post(page, told, follow=True).content.decode()

    assert "found no T-CM fitted off the shelf" in entered("7")
    kitting.take_fitted(other, {"T-CM": 1}, by=lead, now=now)
    piece.part.refresh_from_db()
    shelf = piece.part.on_hand
    assert "found 2, wanted one alone" in entered("7, 8")
    assert "T-CM: fitted in device 7" in entered("7")

    piece.refresh_from_db()
    piece.part.refresh_from_db()
    assert (DonorPart.USED, shelf + 1) == (piece.state, piece.part.on_hand)
    wish = Allotment.objects.get(job=served, part__number="T-CM")
    assert (Allotment.SHORT, None) == (wish.state, wish.donor_part)
    [credit] = donor_uses([piece.donor.job])
    assert other == credit.job
    assert "found used" in entered("7")
    assert () == audited().breaks
