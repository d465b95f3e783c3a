"""Does a device whose promised piece went elsewhere wait for another one?"""

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Allotment, Donor, DonorPart, Job, Part
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import custody, kitting, stock
from turnscrew.web.records.services.refusal import RefusedError
from web.browser.bench_case import kitted

KEYPAD = "H-KP"
"""Part of a scanner's keypad in the example."""

OTHER, LAST = 18, 20
"""Two devices of the batch; the second one is served after the first."""


@pytest.fixture
def part(batch, lead, now) -> Part:
    """Lay one piece on the shelf, promised to the later of two devices."""
    part = Part.objects.get(number=KEYPAD)
    stock.count(part, 1, by=lead, now=now, words="looked")
    part.refresh_from_db()
    stock.promise(part, batch.jobs.get(line=LAST), by=lead, now=now)
    return Part.objects.get(pk=part.pk)


def state_of(batch, line: int) -> str:
    wishes = Allotment.objects.filter(job__batch=batch, job__line=line)
    return wishes.get(part__number=KEYPAD).state


def to_kitted(job: Job, lead, now, reason: str = "") -> None:
    to = Standing("kitted", "shelf", lead.ref, reason=reason)
    custody.move(job, to, by=lead, now=now)


@pytest.fixture
def quoted(batch, lead, now) -> Job:
    job = batch.jobs.get(line=LAST)
    for state in ("diagnosed", "quoted"):
        custody.move(job, Standing(state, "shelf", lead.ref), by=lead, now=now)
        job.refresh_from_db()
    return job


def test_what_is_fitted_elsewhere_is_promised_to_nobody(
    part, batch, quoted, lead, now
) -> None:
    kitting.take_and_fit(part, kitted(batch, OTHER, lead, now), by=lead, now=now)

    part.refresh_from_db()
    assert (Allotment.USED, Allotment.SHORT) == (
        state_of(batch, OTHER), state_of(batch, LAST),
    )  # fmt: skip
    assert (0, 0) == (part.on_hand, part.promised)
    assert () == audited().breaks
    with pytest.raises(RefusedError, match="parts: found none for it yet of H-KP"):
        to_kitted(quoted, lead, now)


def test_who_has_a_reason_kits_without_the_part(part, quoted, lead, now) -> None:
    stock.count(part, 0, by=lead, now=now, words="nothing there")

    to_kitted(quoted, lead, now, reason="it comes by courier at noon")

    assert "kitted" == Job.objects.get(pk=quoted.pk).state


def test_what_is_found_again_goes_back_to_whoever_waits(
    part, batch, quoted, lead, now
) -> None:
    stock.count(part, 0, by=lead, now=now, words="nothing there")
    before = state_of(batch, LAST)
    stock.count(part, 1, by=lead, now=now, words="behind the box")

    assert (Allotment.SHORT, Allotment.PROMISED) == (before, state_of(batch, LAST))
    to_kitted(quoted, lead, now)
    assert () == audited().breaks


def test_a_piece_in_a_kit_stays_with_its_device(part, batch, quoted, lead, now) -> None:
    to_kitted(quoted, lead, now)
    stock.count(part, 0, by=lead, now=now, words="nothing on the shelf")

    part.refresh_from_db()
    assert Allotment.PROMISED == state_of(batch, LAST)
    assert 1 == part.short


def test_a_good_piece_of_a_donor_serves_whose_piece_is_gone(
    part, batch, lead, now
) -> None:
    donor = Donor.objects.create(job=batch.jobs.get(line=21))
    piece = DonorPart.objects.create(
        donor=donor, part=part, state=DonorPart.GOOD, place="shelf"
    )
    stock.count(part, 0, by=lead, now=now, words="nothing there")

    assert Allotment.PROMISED == state_of(batch, LAST)
    assert batch.jobs.get(line=LAST) == Allotment.objects.get(donor_part=piece).job
    assert () == audited().breaks
