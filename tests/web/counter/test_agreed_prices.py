"""Is a device billed as it was agreed, and every piece of a donor credited once?"""

from decimal import Decimal

import pytest

from turnscrew.core.model.past_job import PastJob
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    DonorPart,
    Invoice,
    InvoiceLine,
    Job,
    Part,
)
from turnscrew.web.records.queries import packs
from turnscrew.web.records.queries.charges import charged_minor
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    arrival,
    booking,
    findings,
    invoicing,
    kitting,
    quoting,
)
from turnscrew.web.records.services.handing_back import closing_refusals
from turnscrew.web.records.services.refusal import RefusedError


@pytest.fixture
def asked(sallowmere, lead, clock) -> Batch:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    quoting.ask(sallowmere, answer, by=lead, now=clock.at)
    return sallowmere


def handed_back(batch: Batch, *lines: int) -> None:
    """Put devices where they may be billed; how they came there is told elsewhere."""
    batch.jobs.filter(line__in=lines).update(
        state="handed back", main_state="handed back"
    )


def dearer(number: str, minor: int) -> None:
    part = Part.objects.get(number=number)
    part.cost_minor = minor
    part.save()


@pytest.mark.parametrize("cost_minor", [3_700, 6_000])
def test_a_yes_holds_its_price_when_a_part_grows_dearer(
    asked, lead, clock, cost_minor
) -> None:
    quoting.give_answers(asked, {4: True}, name="desk", by=lead, now=clock.at)
    agreed = asked.jobs.get(line=4).approvals.last().quote_minor
    dearer("T-GL2", cost_minor)
    kept = quoting.keep_quotes(asked, reckoned(asked, clock.at), by=lead, now=clock.at)

    assert 4 not in {quote.job.line for quote in kept}
    # A device that nobody said yes to is quoted anew.
    assert {12, 26} <= {quote.job.line for quote in kept}
    handed_back(asked, 4)
    bill = invoicing.invoice(asked, by=lead, now=clock.at)
    assert agreed == sum(one.net_minor for one in bill.lines.filter(job__line=4))


def test_what_was_mended_is_not_quoted_anew(asked, lead, clock) -> None:
    quote = asked.jobs.get(line=9).quotes.last()
    handed_back(asked, 9)
    dearer("T-CM", 20_000)
    quoting.keep_quotes(asked, reckoned(asked, clock.at), by=lead, now=clock.at)

    assert quote == asked.jobs.get(line=9).quotes.last()


def test_another_fault_found_since_is_quoted_in_spite_of_a_yes(
    asked, lead, clock
) -> None:
    quoting.give_answers(asked, {4: True}, name="desk", by=lead, now=clock.at)
    clock.move_on(hours=1)
    job = asked.jobs.get(line=4)
    findings.note_finding(job, "confirmed", code="T-SPK", by=lead, now=clock.at)
    kept = quoting.keep_quotes(asked, reckoned(asked, clock.at), by=lead, now=clock.at)

    assert 4 in {quote.job.line for quote in kept}


def test_pieces_fitted_after_their_donor_was_billed_are_credited_once(
    asked, lead, clock
) -> None:
    told = {"by": lead, "now": clock.at}
    for line in (2, 6, 14, 17, 34):
        kitting.declare_donor(
            asked.jobs.get(line=line), reckoned(asked, clock.at), **told
        )
    for piece in DonorPart.objects.all():
        kitting.test_donor_part(piece, is_good=True, how="known good", **told)
    kitting.allot(asked, reckoned(asked, clock.at), **told)
    invoicing.invoice(asked, **told)
    assert not InvoiceLine.objects.filter(net_minor__lt=0).exists()

    wishes = Allotment.objects.filter(donor_part__isnull=False).exclude(job__line=56)
    lines = sorted({wish.job.line for wish in wishes})
    for line in lines:
        kitting.fit(Job.objects.get(batch=asked, line=line), **told)
    handed_back(asked, *lines)
    n_late = len(wishes)
    assert f"{n_late} credits of a donor on no invoice" in closing_refusals(asked)
    second = invoicing.invoice(asked, **told)

    assert not [one for one in closing_refusals(asked) if "credit" in one]
    credits = second.lines.filter(net_minor__lt=0)
    # By hand of the example: the pieces of its donors are worth 106.60 to their users.
    assert -10_660 == sum(one.net_minor for one in credits)
    handed_back(asked, 10)
    third = invoicing.invoice(asked, **told)
    assert not third.lines.filter(net_minor__lt=0).exists()
    # What each invoice says is what the audit adds up from the records.
    for bill in Invoice.objects.all():
        assert bill.total_minor == charged_minor(bill)


def test_a_gap_that_was_measured_asks_to_isolate_the_pack(
    sallowmere, lead, clock
) -> None:
    job = sallowmere.jobs.get(line=10)
    assert "" == packs.pack_caution(job, clock.at)
    arrival.note_condition(job, Decimal("2.0"), {}, by=lead, now=clock.at)

    job = sallowmere.jobs.get(line=10)
    assert packs.CAUTION == packs.pack_caution(job, clock.at)
    arrival.note_condition(job, Decimal("1.9"), {}, by=lead, now=clock.at)
    assert "" == packs.pack_caution(sallowmere.jobs.get(line=10), clock.at)


def test_a_closed_job_without_a_day_is_refused_and_not_dropped(
    sallowmere, lead, clock
) -> None:
    past = [PastJob(family="L240", end="mended", confirmed="L-FAN", serial="PL3-1")]
    n = Job.objects.count()

    with pytest.raises(RefusedError, match="found 1 closed job without a day"):
        booking.keep_history(past, sallowmere.customer, by=lead, now=clock.at)
    assert n == Job.objects.count()
