"""Is a device billed as it was agreed, and every piece of a donor credited once?"""

from datetime import timedelta
from decimal import Decimal
from importlib import import_module

import pytest
from django.apps import apps

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.ledger.chain import Break
from turnscrew.core.model.amounts import money
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.quote import net_sum
from turnscrew.web.records.models import (
    Allotment,
    Approval,
    Batch,
    DonorPart,
    Invoice,
    InvoiceLine,
    Job,
    Part,
    Quote,
)
from turnscrew.web.records.queries import packs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.charges import (
    agreed_quotes,
    charged_minor,
    late_credits,
)
from turnscrew.web.records.queries.contact_page import questions_of
from turnscrew.web.records.queries.permission import permission_refusal
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
from web.counter_case import signed_in


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


def test_a_question_about_what_is_billed_waits_for_nobody(asked, lead, clock) -> None:
    quoting.give_answers(asked, {4: True}, name="desk", by=lead, now=clock.at)
    job = asked.jobs.get(line=4)
    dearer = job.approvals.last().quote_minor + 1_000
    asked_again = Approval.objects.create(
        job=job, quote_minor=dearer, asked_at=clock.at
    )
    assert asked_again in questions_of(asked)
    handed_back(asked, 4)
    bill = invoicing.invoice(asked, by=lead, now=clock.at)

    assert asked_again not in questions_of(asked)
    with pytest.raises(RefusedError, match="line: found 4, wanted one that waits"):
        quoting.give_answers(asked, {4: False}, name="desk", by=lead, now=clock.at)
    assert bill.total_minor == charged_minor(bill)


def test_what_was_mended_is_not_quoted_anew(asked, lead, clock) -> None:
    quote = asked.jobs.get(line=9).quotes.last()
    handed_back(asked, 9)
    dearer("T-CM", 20_000)
    quoting.keep_quotes(asked, reckoned(asked, clock.at), by=lead, now=clock.at)

    assert quote == asked.jobs.get(line=9).quotes.last()


@pytest.mark.parametrize("is_billed", [False, True])
def test_what_left_mended_is_priced_as_agreed_and_not_asked_about(
    sallowmere, lead, clock, is_billed
) -> None:
    before = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, before, by=lead, now=clock.at)
    handed_back(sallowmere, 1)
    if is_billed:
        invoicing.invoice(sallowmere, by=lead, now=clock.at)
    clock.move_on(days=2)
    dearer("C-KBA", 3_400)
    dearer("C-KBB", 3_850)
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    asked = quoting.ask(sallowmere, answer, by=lead, now=clock.at)

    assert minor_of(before, 1) == minor_of(answer, 1)
    # The same fault on a device that is still here.
    assert minor_of(before, 8) < minor_of(answer, 8)
    lines = {one.job.line for one in asked}
    assert (False, True) == (1 in lines, 8 in lines)
    was, now = (net_sum(one.items[0].charges) for one in (before, answer))
    assert was == now


def minor_of(answer: BatchAnswer, line: int) -> int:
    return answer.by_name[line].decision.quote_minor


def test_a_print_of_then_knows_no_quote_of_later(sallowmere, lead, clock) -> None:
    quoting.keep_quotes(
        sallowmere, reckoned(sallowmere, clock.at), by=lead, now=clock.at
    )
    job = sallowmere.jobs.get(line=4)
    at = clock.at
    clock.move_on(hours=1)
    quoting.ask(sallowmere, reckoned(sallowmere, clock.at), by=lead, now=clock.at)
    clock.move_on(hours=1)
    quoting.give_answers(sallowmere, {4: True}, name="desk", by=lead, now=clock.at)

    assert [job.quotes.get()] == agreed_quotes([job])
    assert [] == agreed_quotes([job], at)
    assert [] == agreed_quotes([job], at + timedelta(hours=1))
    assert [job.quotes.get()] == agreed_quotes([job], clock.at)


def test_what_was_found_otherwise_is_priced_anew_though_it_left(
    sallowmere, lead, clock
) -> None:
    before = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, before, by=lead, now=clock.at)
    handed_back(sallowmere, 1)
    clock.move_on(hours=1)
    job = sallowmere.jobs.get(line=1)
    findings.note_finding(job, "confirmed", code="L-FAN", by=lead, now=clock.at)

    assert minor_of(before, 1) != minor_of(reckoned(sallowmere, clock.at), 1)


def test_another_fault_found_since_is_quoted_in_spite_of_a_yes(
    asked, lead, clock
) -> None:
    quoting.give_answers(asked, {4: True}, name="desk", by=lead, now=clock.at)
    clock.move_on(hours=1)
    job = asked.jobs.get(line=4)
    findings.note_finding(job, "confirmed", code="T-SPK", by=lead, now=clock.at)
    kept = quoting.keep_quotes(asked, reckoned(asked, clock.at), by=lead, now=clock.at)

    assert 4 in {quote.job.line for quote in kept}


@pytest.fixture
def stripped(asked, lead, clock) -> Batch:
    """Give the batch with donors whose good pieces are promised to others."""
    told = {"by": lead, "now": clock.at}
    for line in (2, 6, 14, 17, 34):
        kitting.declare_donor(
            asked.jobs.get(line=line), reckoned(asked, clock.at), **told
        )
    for piece in DonorPart.objects.all():
        kitting.test_donor_part(piece, is_good=True, how="known good", **told)
    kitting.allot(asked, reckoned(asked, clock.at), **told)
    return asked


def user_of_a_piece(batch: Batch, lead, clock) -> Job:
    """Fit a donor's piece into a device that is mended for money; give that device."""
    wishes = Allotment.objects.exclude(donor_part=None).exclude(state="used")
    job = next(
        wish.job
        for wish in wishes.filter(job__batch=batch).order_by("job__line")
        if wish.job.quotes.last().code == "go"
    )
    kitting.fit(job, by=lead, now=clock.at)
    return job


def credits_on(bill: Invoice) -> list[tuple[int, int]]:
    return sorted(
        (one.credits.job.line, one.net_minor)
        for one in bill.lines.exclude(credits=None)
    )


def paid_for_piece(job: Job) -> int:
    use = job.allotments.exclude(donor_part=None).first()
    rows = job.quotes.last().charges
    (net,) = [row["net_minor"] for row in rows if row["part"] == use.part.number]
    return net


def test_a_piece_earns_a_credit_only_once_its_device_is_billed(
    stripped, lead, clock
) -> None:
    told = {"by": lead, "now": clock.at}
    job = user_of_a_piece(stripped, lead, clock)
    Job.objects.filter(pk=job.pk).update(state="returned unrepaired")

    first = invoicing.invoice(stripped, **told)

    assert [] == credits_on(first)
    assert not first.lines.filter(net_minor__lt=0).exists()
    assert not [one for one in closing_refusals(stripped) if "credit" in one]
    with pytest.raises(RefusedError, match="found none to bill"):
        invoicing.invoice(stripped, **told)

    handed_back(stripped, job.line)
    second = invoicing.invoice(stripped, **told)

    assert [(job.line, -paid_for_piece(job))] == credits_on(second)
    assert [first.total_minor, second.total_minor] == list(
        map(charged_minor, Invoice.objects.all())
    )


def test_a_piece_in_a_device_that_its_owner_refused_earns_none(
    stripped, lead, clock
) -> None:
    told = {"by": lead, "now": clock.at}
    job = user_of_a_piece(stripped, lead, clock)
    quote = job.quotes.get()
    job.quotes.update(code="ask")
    Approval.objects.create(
        job=job, quote_minor=quote.quote_minor, asked_at=clock.at, answer=Approval.NO
    )
    handed_back(stripped, job.line)

    bill = invoicing.invoice(stripped, **told)

    assert ["refused by the customer, no charge"] == [
        one.says for one in bill.lines.filter(job=job)
    ]
    assert [] == credits_on(bill)
    assert bill.total_minor == charged_minor(bill)


def test_a_piece_more_than_was_charged_earns_no_second_credit(
    stripped, lead, clock
) -> None:
    job = user_of_a_piece(stripped, lead, clock)
    use = job.allotments.exclude(donor_part=None).get()
    piece = DonorPart.objects.create(
        donor=use.donor_part.donor, part=use.part, state=DonorPart.USED
    )
    Allotment.objects.create(
        part=use.part, job=job, state=Allotment.USED, donor_part=piece, at=clock.at,
        used_at=clock.at,
    )  # fmt: skip
    handed_back(stripped, job.line)

    bill = invoicing.invoice(stripped, by=lead, now=clock.at)

    assert [(job.line, -paid_for_piece(job))] == credits_on(bill)
    assert [] == late_credits(stripped)


def test_a_part_that_is_called_something_else_is_not_credited_again(
    stripped, lead, clock
) -> None:
    job = user_of_a_piece(stripped, lead, clock)
    handed_back(stripped, job.line)
    invoicing.invoice(stripped, by=lead, now=clock.at)
    Part.objects.update(description="what it is called now")

    assert [] == late_credits(stripped)


def test_a_piece_charged_in_another_batch_is_waited_for_on_the_page_of_money(
    stripped, lead, clock
) -> None:
    told = {"by": lead, "now": clock.at}
    job = user_of_a_piece(stripped, lead, clock)
    said = booking.Booking(
        "second round", clock.at.date(), stripped.terms_text, stripped.customer
    )
    other = booking.book(said, **told)
    Job.objects.filter(pk=job.pk).update(batch=other, state="handed back")
    invoicing.invoice(stripped, **told)
    Batch.objects.filter(pk=stripped.pk).update(closed_on=clock.at.date())
    waits = "1 credit of a donor on no invoice"
    pages = ("/money/", "/", f"/batches/{stripped.ref}/invoice/")
    client = signed_in(lead)
    assert not any(waits in client.get(one).content.decode() for one in pages)

    invoicing.invoice(other, **told)

    assert all(waits in client.get(one).content.decode() for one in pages)
    assert waits in closing_refusals(stripped)
    bill = invoicing.invoice(stripped, **told)
    assert [(job.line, -paid_for_piece(job))] == credits_on(bill)
    assert not any(waits in client.get(one).content.decode() for one in pages)


def test_credits_of_before_are_named_by_their_words(stripped, lead, clock) -> None:
    lines = Allotment.objects.exclude(donor_part=None).exclude(job__line=56)
    users = sorted({wish.job.line for wish in lines})
    for line in users:
        kitting.fit(stripped.jobs.get(line=line), by=lead, now=clock.at)
    handed_back(stripped, *users)
    bill = invoicing.invoice(stripped, by=lead, now=clock.at)
    named = dict(bill.lines.exclude(credits=None).values_list("pk", "credits"))
    assert len(named) > 2
    renamed = min(named)
    InvoiceLine.objects.update(credits=None)
    InvoiceLine.objects.filter(pk=renamed).update(
        says="credit: as it was called then", net_minor=-1, tax_minor=0
    )

    import_module(
        "turnscrew.web.records.migrations.0014_credit_names_its_piece"
    ).named_by_words(apps, None)

    assert named == dict(bill.lines.exclude(credits=None).values_list("pk", "credits"))
    # A credit by the older rule stands as it was billed, whatever it would be today.
    lines = bill.lines.values_list("net_minor", "tax_minor")
    assert sum(net + tax for net, tax in lines) == charged_minor(bill)


def test_a_donor_that_went_back_unbilled_is_credited_all_the_same(
    stripped, lead, clock
) -> None:
    job = user_of_a_piece(stripped, lead, clock)
    donor = job.allotments.exclude(donor_part=None).get().donor_part.donor.job
    Job.objects.filter(pk=donor.pk).update(state="returned unrepaired")
    assert [] == late_credits(stripped)

    handed_back(stripped, job.line)
    bill = invoicing.invoice(stripped, by=lead, now=clock.at)

    assert [(job.line, -paid_for_piece(job))] == credits_on(bill)


def test_pieces_fitted_after_their_donor_was_billed_are_credited_once(
    stripped, lead, clock
) -> None:
    asked, told = stripped, {"by": lead, "now": clock.at}
    invoicing.invoice(asked, **told)
    assert not InvoiceLine.objects.filter(net_minor__lt=0).exists()

    wishes = Allotment.objects.filter(donor_part__isnull=False).exclude(job__line=56)
    lines = sorted({wish.job.line for wish in wishes})
    for line in lines:
        kitting.fit(Job.objects.get(batch=asked, line=line), **told)
    handed_back(asked, *lines)
    # The devices that they went into are on no invoice yet.
    assert [] == late_credits(asked)
    second = invoicing.invoice(asked, **told)

    assert [] == late_credits(asked)
    assert len(wishes) == len(credits_on(second))
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


def test_the_limit_of_a_day_is_one_of_each_day(sallowmere, lead, clock) -> None:
    text = sallowmere.terms_text
    sallowmere.terms_text = text.replace(
        "ask_limit: 95.00", "day_limit: 500.00\nask_limit: 95.00"
    )
    sallowmere.save()

    def by_code(code: str) -> set[int]:
        devices = reckoned(sallowmere, clock.at).devices
        return {one.name for one in devices if one.decision.code == code}

    first, asked = by_code("go"), by_code("ask")
    quoting.keep_quotes(
        sallowmere, reckoned(sallowmere, clock.at), by=lead, now=clock.at
    )
    clock.move_on(minutes=30)
    assert (first, asked) == (by_code("go"), by_code("ask"))

    clock.move_on(days=1)
    second = by_code("go")
    assert first < second
    page = signed_in(lead).get(f"/batches/{sallowmere.ref}/").content.decode()
    answer = reckoned(sallowmere, clock.at)
    today = sum(answer.by_name[n].decision.quote_minor for n in second - first)
    assert 0 < today <= 50_000
    assert f"500.00, {money(50_000 - today)} left" in page


def test_what_was_asked_for_the_limit_of_a_day_waits_for_its_answer(
    sallowmere, lead, clock
) -> None:
    text = sallowmere.terms_text
    sallowmere.terms_text = text.replace(
        "ask_limit: 95.00", "day_limit: 500.00\nask_limit: 95.00"
    )
    sallowmere.save()
    quoting.ask_all(sallowmere, by=lead, now=clock.at)
    out = {one.job.line: one.job for one in questions_of(sallowmere)}

    clock.move_on(days=1)
    quoting.keep_quotes(
        sallowmere, reckoned(sallowmere, clock.at), by=lead, now=clock.at
    )

    answer = reckoned(sallowmere, clock.at)
    assert {answer.by_name[n].decision.code for n in out} == {"ask"}
    held = "the customer was asked, and has not answered yet"
    waiting = {n for n in out if answer.by_name[n].decision.reason == held}
    assert waiting
    line = min(waiting)
    assert "found none yet" in permission_refusal(out[line], "open")

    given = {n: n != line for n in waiting}
    quoting.give_answers(
        sallowmere, given, name="Ottilie Brandreth", by=lead, now=clock.at
    )

    refused = {n for n in waiting if permission_refusal(out[n], "open")}
    assert {line} == refused


def test_what_was_billed_by_another_rule_breaks_no_audit(stripped, lead, clock) -> None:
    def of_invoices() -> list[Break]:
        return [one for one in audited().breaks if "invoice" in one.where]

    job = user_of_a_piece(stripped, lead, clock)
    handed_back(stripped, job.line)
    bill = invoicing.invoice(stripped, by=lead, now=clock.at)
    assert [] == of_invoices()
    # As if less were owed of it by the rules of today.
    Quote.objects.update(charges=[])
    assert charged_minor(bill) != bill.total_minor

    before = import_module("turnscrew.web.records.migrations.0017_billed_before")
    before.stand_as_billed(apps, None)

    assert bill.total_minor == charged_minor(bill)
    assert [] == of_invoices()


def test_what_went_back_as_it_came_is_agreed_at_nothing(
    sallowmere, lead, clock
) -> None:
    def keep() -> None:
        answer = reckoned(sallowmere, clock.at)
        quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
        clock.move_on(minutes=5)

    keep()
    [job] = sallowmere.jobs.filter(line=1)
    [before] = agreed_quotes([job])
    assert before.charges != []
    sallowmere.jobs.filter(line=1).update(state="returned unrepaired")
    keep()

    assert [[]] == [one.charges for one in agreed_quotes([job])]
