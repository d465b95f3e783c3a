"""Does the credit of a donor stay true to what was billed?"""

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import (
    Allotment,
    Entry,
    Invoice,
    Job,
    Part,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import (
    handing_back,
    invoicing,
    movement_back,
)
from turnscrew.web.records.services.custody import enter
from turnscrew.web.records.services.refusal import RefusedError
from web.counter.donor_case import DONOR, USER, fan_given
from web.counter_case import signed_in


@pytest.fixture(name="fan")
def fan_fitted(sallowmere, lead, now) -> Part:
    """Strip the one, fit its fan into the other, which goes back mended."""
    fan, _, user = fan_given(sallowmere, lead, now)
    by = {"by": lead, "now": now}
    enter(user, Standing("packed", "shelf", lead.ref), **by)
    handing_back.hand_back(sallowmere, [USER], taken_by="porter", **by)
    return fan


def credits_on(bill: Invoice) -> list[Job]:
    return [line.job for line in bill.lines.exclude(credits=None)]


def test_a_donor_that_goes_back_is_charged_for_nothing(
    fan, sallowmere, lead, now
) -> None:
    donor = sallowmere.jobs.get(line=DONOR)
    handing_back.return_unrepaired(
        donor, by=lead, now=now, reason="wanted back", taken_by="Wen"
    )

    bill = invoicing.invoice(sallowmere, by=lead, now=now)

    # It was quoted as a strip; what it gave is credited all the same.
    assert donor.quotes.last().quote_minor
    assert [donor] == credits_on(bill)
    assert 1 == bill.lines.filter(job=donor).count()
    assert () == audited().breaks


def test_a_donor_that_stays_pays_once(fan, sallowmere, lead, now) -> None:
    donor = sallowmere.jobs.get(line=DONOR)

    bill = invoicing.invoice(sallowmere, by=lead, now=now)

    assert [donor] == credits_on(bill)
    assert bill.lines.filter(job=donor, credits=None).exists()
    assert () == audited().breaks


def test_a_piece_that_was_credited_is_not_taken_back(
    fan, sallowmere, lead, now, clock
) -> None:
    bill = invoicing.invoice(sallowmere, by=lead, now=now)
    used = Entry.objects.filter(journal="stock", subject=fan.ref, verb="used").last()
    told = f"found its credit on invoice {bill.number}, wanted a piece that is on none"

    with pytest.raises(RefusedError, match=told):
        movement_back.correct(fan, used.sequence, by=lead, now=now, words="a slip")

    use = Allotment.objects.get(part=fan, job__line=USER, state=Allotment.USED)
    assert bill == use.credit.invoice
    assert () == audited().breaks
    assert 200 == signed_in(lead).get(f"/stock/{fan.number}/").status_code


def test_a_piece_that_is_on_no_invoice_is_taken_back(
    fan, sallowmere, lead, now
) -> None:
    used = Entry.objects.filter(journal="stock", subject=fan.ref, verb="used").last()

    movement_back.correct(fan, used.sequence, by=lead, now=now, words="a slip")

    bill = invoicing.invoice(sallowmere, by=lead, now=now)
    assert [] == credits_on(bill)
    assert () == audited().breaks
