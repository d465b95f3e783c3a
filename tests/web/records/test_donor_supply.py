"""Is a piece of a donor reckoned with only as long as it is really there?"""

from collections.abc import Iterable
from datetime import datetime

import pytest

from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.records.models import Allotment, Batch, DonorPart, Job, Part, Person
from turnscrew.web.records.queries.batch_page import order_needs
from turnscrew.web.records.queries.order_today import order_today
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    booking,
    handing_back,
    kitting,
    quoting,
    stock,
)
from web.conftest import sallowmere_contents

CAMERA = "T-CM"
DONORS, WAITING = (2, 6, 17, 35), (9, 32, 37)
"""Devices that can give a camera, and those that want one; the shelf holds none."""


@pytest.fixture(name="quoted")
def quoted_batch(sallowmere, lead, now) -> Batch:
    quoting.keep_quotes(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    return sallowmere


def declared(batch: Batch, lines: Iterable[int], by: Person, now: datetime) -> None:
    """Take devices as donors and allot the parts."""
    for line in lines:
        job = batch.jobs.get(line=line)
        kitting.declare_donor(job, reckoned(batch, now), by=by, now=now)
    kitting.allot(batch, reckoned(batch, now), by=by, now=now)


def cameras_found(by: Person, now: datetime, *, is_good: bool) -> None:
    for piece in DonorPart.objects.filter(part__number=CAMERA):
        kitting.test_donor_part(piece, is_good=is_good, by=by, now=now, how="picture")


def n_to_order(batch: Batch, now: datetime) -> int:
    needs = order_needs(batch, reckoned(batch, now))
    return sum(one.n_left for one in needs if one.number == CAMERA)


def test_what_was_tested_bad_is_ordered(quoted, lead, now) -> None:
    declared(quoted, DONORS, lead, now)
    assert 0 == n_to_order(quoted, now)

    cameras_found(lead, now, is_good=False)

    assert len(WAITING) == n_to_order(quoted, now)
    rows = [row for row in order_today(now).rows if row.part.number == CAMERA]
    assert [len(WAITING)] == [row.purchase.n_wanted for row in rows]
    uses = reckoned(quoted, now).supply.uses
    assert {"order"} == {one.source for one in uses if one.demand.part == CAMERA}
    past = reckoned(quoted, now, past_time=True)
    assert CAMERA not in past.batch.pieces_left[DONORS[0]]


def second_round(by: Person, now: datetime) -> Batch:
    """The same devices once more for the same customer, with other serials."""
    contents = dict(sallowmere_contents())
    terms = contents["terms.yaml"].decode().replace("first round", "second round")
    contents["terms.yaml"] = terms.encode()
    for model in (b"PL3-", b"TV8-", b"GR5-"):
        contents["batch.csv"] = contents["batch.csv"].replace(model, model + b"9")
    batch = booking.load_folder(read_batch_folder(contents), terms, by=by, now=now)
    quoting.keep_quotes(batch, reckoned(batch, now), by=by, now=now)
    return batch


def test_what_another_batch_was_promised_is_ordered_by_its_own(
    quoted, lead, now
) -> None:
    other = second_round(lead, now)
    kitting.allot(other, reckoned(other, now), by=lead, now=now)
    declared(quoted, DONORS, lead, now)

    cameras_found(lead, now, is_good=True)

    went = Allotment.objects.filter(donor_part__part__number=CAMERA)
    assert {other.pk: 3, quoted.pk: 1} == {
        batch.pk: went.filter(job__batch=batch).count() for batch in (other, quoted)
    }
    # The other batch has its three, so that it buys none and strips nothing for them.
    assert 2 == n_to_order(quoted, now)
    assert 0 == n_to_order(other, now)
    uses = reckoned(other, now).supply.uses
    assert {"stock"} == {one.source for one in uses if one.demand.part == CAMERA}


def test_what_left_with_its_donor_is_ordered(quoted, lead, now) -> None:
    declared(quoted, DONORS[:2], lead, now)
    cameras_found(lead, now, is_good=True)
    served = Allotment.objects.filter(donor_part__isnull=False).order_by("id")
    first, second = [wish.job for wish in served]
    kitting.fit(first, by=lead, now=now)

    for line in DONORS[:2]:
        donor = Job.objects.get(batch=quoted, line=line)
        handing_back.return_unrepaired(
            donor, by=lead, now=now, reason="wanted back", taken_by="Wen"
        )

    # One was fitted before and is wanted no more; others may still give theirs.
    uses = reckoned(quoted, now).supply.uses
    assert {"stock": 1, "donor": 2} == {
        source: sum(one.source == source for one in uses if one.demand.part == CAMERA)
        for source in ("stock", "donor")
    }
    given = {one.donor for one in uses if one.demand.part == CAMERA and one.donor}
    assert given == set(DONORS[2:])
    assert Allotment.SHORT == second.allotments.get(part__number=CAMERA).state
    assert 0 == Part.objects.get(number=CAMERA).on_hand


def test_the_plan_keeps_to_the_pieces_given(quoted, lead, now) -> None:
    declared(quoted, DONORS, lead, now)
    for piece in DonorPart.objects.filter(part__number=CAMERA).order_by("-id"):
        kitting.test_donor_part(piece, is_good=True, by=lead, now=now, how="picture")
        place = f"box {piece.donor.job.line}"
        kitting.lay_donor_part(piece, place, by=lead, now=now)
    given = {9: 35, 32: 17, 37: 6}
    planned = {9: 2, 32: 6, 37: 17}

    def by_plan() -> dict[int, int]:
        uses = reckoned(quoted, now).supply.uses
        return {
            one.demand.device: one.donor for one in uses if one.demand.part == CAMERA
        }

    assert planned != given == by_plan()
    kitting.fit(quoted.jobs.get(line=9), by=lead, now=now)
    camera = Part.objects.get(number=CAMERA)
    stock.count(camera, 5, by=lead, now=now, words="five came to light")

    assert given == by_plan()
    [piece] = [
        one for one in reckoned(quoted, now).batch.given
        if (one.device, one.part) == (9, CAMERA)
    ]  # fmt: skip
    assert (35, "35", "box 35", True) == (
        piece.donor, piece.donor_words, piece.place, piece.is_fitted
    )  # fmt: skip
