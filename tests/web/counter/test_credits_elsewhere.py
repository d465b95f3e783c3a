"""Is a donor's piece that went into another batch credited for what it is?"""

from datetime import date

import pypdfium2
import pytest

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.job_state import Standing
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.records.models import Batch, DonorPart, Job, Part
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.charges import late_credits
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    booking,
    custody,
    handing_back,
    invoicing,
    kitting,
    quoting,
    stock,
)
from turnscrew.web.records.services.receiving_next import receive_next
from turnscrew.web.records.services.safety import log_pack
from web.conftest import sallowmere_contents
from web.counter.donor_case import DONOR
from web.counter_case import signed_in
from web.known_faults import all_is_known

TAXES = """taxes:
  - {name: VAT, percent: 19, on: [labour]}
  - {name: Levy, percent: PARTS, on: [parts]}
"""


def taxed(terms: str, parts_percent: str) -> str:
    rates = TAXES.replace("PARTS", parts_percent)
    limits = f"ask_limit: 95.00\nlimits_with_tax: yes\n{rates}"
    return terms.replace("ask_limit: 95.00", limits)


@pytest.fixture
def first(lead, helper, now) -> Batch:
    contents = dict(sallowmere_contents())
    terms = taxed(contents["terms.yaml"].decode(), "7.5")
    contents["terms.yaml"] = terms.encode()
    return booking.load_folder(read_batch_folder(contents), terms, by=lead, now=now)


def fan_given(first: Batch, terms: str, lead, clock, *, is_billed: bool = True) -> Job:
    """Fit the fan of a donor into the one device of a second batch, and bill that."""
    by = {"by": lead, "now": clock.at}
    quoting.ask_all(first, **by)
    fan = Part.objects.get(number="C-FN")
    stock.count(fan, 0, words="an empty box", **by)
    donor = first.jobs.get(line=DONOR)
    kitting.declare_donor(donor, reckoned(first, clock.at), **by)
    log_pack("its pack", "taken out", place="fire box 1", job=donor, **by)
    clock.move_on(days=7)
    by = {"by": lead, "now": clock.at}
    second = booking.book(
        booking.Booking("second round", date(2027, 2, 8), terms, first.customer), **by
    )
    came = BatchLine(
        1, "PL3-99001", "L240", "SHN-9001", "B", found=("L-FAN",), reported="loud"
    )
    receive_next(second, came, **by)
    quoting.keep_quotes(second, reckoned(second, clock.at), **by)
    job = second.jobs.get()
    stock.want(fan, job, **by)
    piece = DonorPart.objects.get(donor__job=donor, part=fan)
    kitting.test_donor_part(piece, is_good=True, how="spins", **by)
    kitting.fit(job, **by)
    all_is_known([job], **by)
    for state in ("final-tested", "packed"):
        to = Standing(state, "shelf", lead.ref)
        custody.move(Job.objects.get(pk=job.pk), to, **by)
    handing_back.hand_back(second, [1], taken_by="Wen", **by)
    if is_billed:
        invoicing.invoice(second, **by)
    return job


def words_of(bill, lead) -> str:
    answer = signed_in(lead).get(f"/money/{bill.ref}/paper/")
    with pypdfium2.PdfDocument(answer.content) as paper:
        text = " ".join(page.get_textpage().get_text_range() for page in paper)
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("percent", "tax_minor", "is_named"), [("3", -38, False), ("7.5", -96, True)]
)
def test_a_credit_names_the_batch_and_no_rate_that_was_not_used(
    first, lead, clock, percent, tax_minor, is_named
) -> None:
    terms = first.terms_text.replace("percent: 7.5", f"percent: {percent}")
    fan_given(first, terms, lead, clock)

    bill = invoicing.invoice(first, by=lead, now=clock.at)

    credit = bill.lines.exclude(credits=None).get()
    assert credit.says.endswith("used for device 1 of second round")
    text = words_of(bill, lead)
    assert "used for device 1 of second round" in text
    assert tax_minor == credit.tax_minor
    assert ("tax (VAT 19 %, Levy 7.5 %)" in text) == is_named
    # Nothing is to be paid of what is a credit.
    assert bill.owed_minor < 0
    assert f"Credit {bill.number}" in text
    assert f"credit to you {-bill.owed_minor / 100:.2f}" in text
    assert "to pay" not in text
    assert "To be paid by" not in text
    assert () == audited().breaks


def test_what_was_paid_in_another_currency_is_told_and_not_credited(
    first, lead, clock
) -> None:
    terms = first.terms_text.replace("currency: cu", "currency: zz")
    job = fan_given(first, terms, lead, clock, is_billed=False)

    address = f"/batches/{first.ref}/invoice/"
    # Before it is billed, nobody has paid for it in whatever money.
    assert "another currency" not in signed_in(lead).get(address).content.decode()
    invoicing.invoice(job.batch, by=lead, now=clock.at)
    page = signed_in(lead).get(address).content.decode()
    told = "Used where another currency is paid, and not credited"
    assert f"{told}: C-FN (1, " in page
    assert [] == late_credits(first)
    bill = invoicing.invoice(first, by=lead, now=clock.at)
    assert not bill.lines.exclude(credits=None).exists()
    assert () == audited().breaks
