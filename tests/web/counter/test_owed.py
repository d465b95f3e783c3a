"""Does every invoice age, have a next action, and stay right when it was wrong?"""

import json
import re
from datetime import timedelta

import pytest
from django.test import Client

from turnscrew.core.model.amounts import money
from turnscrew.web.records.models import Approval, Batch, Entry, Invoice, Payment
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.money_page import (
    Paid,
    Stand,
    owed,
    stands_of,
    written_off_minor,
)
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import custody, invoicing, kitting, quoting
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def bill(sallowmere, lead, clock) -> Invoice:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    kitting.declare_donors(sallowmere, [2], answer, by=lead, now=clock.at)
    made = invoicing.invoice(sallowmere, by=lead, now=clock.at)
    assert made.owed_minor > 0
    return made


def test_every_invoice_not_settled_has_a_next_action(bill, lead, clock) -> None:
    seen = []
    for days in (0, 30, 31, 45):
        [one] = owed(bill.on + timedelta(days=days))
        seen.append((one.days_late, one.next_action))
    assert [
        (0, "wait until 03 Mar 2027"), (0, "wait until 03 Mar 2027"),
        (1, "remind"), (15, "remind"),
    ] == seen  # fmt: skip

    invoicing.remind(bill, by=lead, now=clock.at + timedelta(days=31))
    after = [owed(bill.on + timedelta(days=n))[0].next_action for n in (40, 45, 46)]
    assert [
        "reminded 9 days ago: wait until 14", "remind again, or call",
        "remind again, or call",
    ] == after  # fmt: skip


def test_its_age_is_on_the_page_and_on_that_of_the_morning(
    counter, bill, lead, clock
) -> None:
    clock.move_on(days=40)
    client = signed_in(lead)
    for address in ("/money/", "/"):
        page = client.get(address).content.decode()
        assert bill.number in page
        assert "remind" in page
    assert '<td class="n">10</td>' in client.get("/money/").content.decode()
    assert "10 days late" in client.get("/").content.decode()


def test_more_than_is_owed_is_a_credit(counter, bill, lead, clock) -> None:
    more = bill.owed_minor + 500
    invoicing.pay(bill, more, on=bill.on, how="bank", by=lead, now=clock.at)

    bill.refresh_from_db()
    assert -500 == bill.owed_minor
    [one] = owed(bill.on + timedelta(days=90))
    assert "credit: pay back or set against the next invoice" == one.next_action
    # Nobody is late with what is theirs, but it waits to be paid back.
    assert (0, True) == (one.days_late, one.is_due)
    told = counter.get("/").content.decode()
    assert "credit \u22125.00 cu" in told
    assert "\u22125.00 cu owed" not in told
    assert "credit" in counter.get(f"/money/{bill.ref}/").content.decode()
    assert () == audited().breaks


def test_what_is_paid_after_a_write_off_takes_as_much_of_it_back(
    counter, bill, lead, clock
) -> None:
    """Common practice of book-keeping, no source."""
    owed_first = bill.owed_minor
    invoicing.pay(bill, 100, on=bill.on, how="bank", by=lead, now=clock.at)
    invoicing.write_off(bill, by=lead, now=clock.at, words="the firm is closed")
    left = owed_first - 100
    assert left == written_off_minor(bill)
    customer = bill.batch.customer
    pages = {
        "invoice": f"/money/{bill.ref}/", "money": "/money/",
        "customer": f"/customers/{customer.ref}/",
    }  # fmt: skip

    def given_up(sum_said: str) -> list[str]:
        words = re.compile(f"{re.escape(sum_said)}( cu)? written off")
        return [
            name for name, address in pages.items()
            if words.search(counter.get(address).content.decode())
        ]  # fmt: skip

    assert list(pages) == given_up(money(left))
    later = clock.move_on(days=60).date()
    # Nobody stays signed in for so long.
    counter = signed_in(lead)
    entered = {"act": "pay", "minor": "2.50", "on": later.isoformat(), "how": "bank"}
    html = counter.post(pages["invoice"], entered, follow=True).content.decode()

    bill.refresh_from_db()
    assert (0, left - 250) == (bill.owed_minor, written_off_minor(bill))
    assert "payment written, and as much of the write-off taken back" in html
    assert list(pages) == given_up(money(left - 250))
    assert [] == owed(later)
    back = Entry.objects.get(journal="money", verb="write-off taken back")
    assert '"minor":250' in back.facts
    # All that was given up comes in, and a little more: that alone is a credit.
    invoicing.pay(bill, left, on=later, how="in cash", by=lead, now=clock.at)
    bill.refresh_from_db()
    assert (-250, 0) == (bill.owed_minor, written_off_minor(bill))
    assert (Stand("cu", 0, 250, 0),) == stands_of(customer)
    assert "2.50 cu paid too much" in counter.get(pages["customer"]).content.decode()
    assert [] == given_up("0.00")
    assert () == audited().breaks


def test_a_credit_is_paid_back_and_settled(counter, bill, lead, clock) -> None:
    address = f"/money/{bill.ref}/"
    act = {"act": "pay_back", "minor": "2.00", "on": bill.on.isoformat(), "how": "bank"}
    assert "Write as paid back" not in counter.get(address).content.decode()
    assert 422 == counter.post(address, act).status_code
    more = bill.owed_minor + 250
    invoicing.pay(bill, more, on=bill.on, how="bank", by=lead, now=clock.at)

    page = counter.post(address, act, follow=True).content.decode()
    assert "written as paid back" in page
    bill.refresh_from_db()
    assert -50 == bill.owed_minor
    page = counter.post(address, act).content.decode()
    assert "amount: found 2.00, wanted 0.01 to 0.50" in page
    rest = Paid(50, bill.on, "set against the next invoice")
    invoicing.pay_back(bill, rest, by=lead, now=clock.at)

    bill.refresh_from_db()
    assert 0 == bill.owed_minor
    assert [] == owed(bill.on + timedelta(days=60))
    assert () == audited().breaks


@pytest.mark.parametrize(
    ("minor", "days", "how", "why"),
    [
        (0, 0, "bank", "amount: found 0.00, wanted 0.01 to 1.00"),
        (101, 0, "bank", "amount: found 1.01"),
        (1, 1, "bank", "day: found"),
        (1, 0, " ", "how: found nothing"),
    ],
)
def test_it_pays_back_nothing_but_a_credit(bill, lead, clock, minor, days, how, why):
    more = bill.owed_minor + 100
    invoicing.pay(bill, more, on=bill.on, how="bank", by=lead, now=clock.at)
    gone = Paid(minor, clock.at.date() + timedelta(days=days), how)

    with pytest.raises(RefusedError, match=why):
        invoicing.pay_back(bill, gone, by=lead, now=clock.at)


def test_what_was_given_up_is_given_up_again_when_less_came_in(
    bill, lead, clock
) -> None:
    """What the payment had taken back goes with it; what is right takes its own."""
    told = {"by": lead, "now": clock.at}
    invoicing.write_off(bill, words="the firm is closed", **told)
    paid = invoicing.pay(bill, 300, on=bill.on, how="bank", **told)
    right = Paid(200, bill.on, "bank")
    less = invoicing.correct_payment(paid, right, words="misread", **told)

    bill.refresh_from_db()
    assert (0, bill.total_minor - 200) == (bill.owed_minor, written_off_minor(bill))
    invoicing.correct_payment(less, None, words="of another customer", **told)
    bill.refresh_from_db()
    assert (0, bill.total_minor) == (bill.owed_minor, written_off_minor(bill))
    assert () == audited().breaks


@pytest.mark.parametrize(("which", "owed_then"), [("first", 100), ("second", 0)])
def test_of_two_payments_of_one_amount_the_one_that_is_wrong_is_taken_back(
    bill, lead, clock, which, owed_then
) -> None:
    """The second took as much of the write-off back as came in; the first did not."""
    told = {"by": lead, "now": clock.at}
    paid = {"first": invoicing.pay(bill, 100, on=bill.on, how="bank", **told)}
    invoicing.write_off(bill, words="the firm is closed", **told)
    paid["second"] = invoicing.pay(bill, 100, on=bill.on, how="cash", **told)
    about = Entry.objects.filter(journal="money", subject=bill.ref).order_by("sequence")
    wrote = [row.sequence for row in about.filter(verb="paid")]

    invoicing.correct_payment(paid[which], None, words="of another customer", **told)

    bill.refresh_from_db()
    left = bill.total_minor - 100 - owed_then
    assert (owed_then, left) == (bill.owed_minor, written_off_minor(bill))
    taken = about.get(verb="payment taken back").corrects
    assert dict(zip(paid, wrote, strict=True))[which] == taken
    assert () == audited().breaks


def test_what_never_went_back_is_a_credit_again(counter, bill, lead, clock) -> None:
    address = f"/money/{bill.ref}/"
    invoicing.pay(
        bill, bill.owed_minor + 250, on=bill.on, how="bank", by=lead, now=clock.at
    )
    gone = Paid(200, bill.on, "bank")
    invoicing.pay_back(bill, gone, by=lead, now=clock.at)
    entry = Entry.objects.get(journal="money", verb="paid back")
    act = {"act": "came_back", "row": entry.sequence, "why": "the bank sent it back"}
    assert "2.00, bank" in counter.get(address).content.decode()
    assert 422 == counter.post(address, {**act, "why": ""}).status_code
    assert 422 == counter.post(address, {**act, "row": 1}).status_code

    page = counter.post(address, act, follow=True).content.decode()

    bill.refresh_from_db()
    assert -250 == bill.owed_minor
    assert f"corrects entry {entry.sequence}" in page
    # Once is enough, and the very same may go in earnest now.
    with pytest.raises(RefusedError, match=f"entry: found {entry.sequence}, wanted"):
        invoicing.take_back_pay_back(
            bill, entry.sequence, by=lead, now=clock.at, words="twice"
        )
    invoicing.pay_back(bill, gone, by=lead, now=clock.at)
    bill.refresh_from_db()
    assert -50 == bill.owed_minor
    assert () == audited().breaks


def test_a_write_off_is_taken_back_with_the_reason(counter, bill, lead, clock) -> None:
    address, act = f"/money/{bill.ref}/", {"act": "owe_again", "reason": "wrong one"}
    assert "Take the write-off back" not in counter.get(address).content.decode()
    assert 422 == counter.post(address, act).status_code
    invoicing.write_off(bill, by=lead, now=clock.at, words="the firm is closed")
    assert "Take the write-off back" in counter.get(address).content.decode()
    with pytest.raises(RefusedError, match="reason: found none"):
        invoicing.take_back_write_off(bill, by=lead, now=clock.at, words=" ")

    assert 302 == counter.post(address, act).status_code

    bill.refresh_from_db()
    assert (bill.total_minor, 0) == (bill.owed_minor, written_off_minor(bill))
    assert () == audited().breaks


def test_how_a_customer_stands_is_for_those_with_money_alone(
    bill, lead, helper, clock
) -> None:
    address = f"/customers/{bill.batch.customer.ref}/"
    words = f"{money(bill.owed_minor)} cu owed"

    assert words in signed_in(lead).get(address).content.decode()
    assert words not in signed_in(helper).get(address).content.decode()


def test_what_may_be_held_back_is_for_local_law_to_say(counter) -> None:
    page = counter.get("/money/").content.decode()

    assert "is for local law and the agreed terms to say" in page
    assert "Data and private property of persons are never held back." in page


# --- corrections --------------------------------------------------------------


def test_a_wrong_payment_is_set_right_by_a_new_one(counter, bill, lead, clock) -> None:
    before = bill.owed_minor
    wrong = invoicing.pay(bill, 1010, on=bill.on, how="bank", by=lead, now=clock.at)
    entry = Entry.objects.get(journal="money", verb="paid")
    entered = {
        "act": "correct", "payment": wrong.pk, "minor": "10.01", "on": "2027-02-01",
        "how": "bank", "why": "digits turned about",
    }  # fmt: skip
    assert 302 == counter.post(f"/money/{bill.ref}/", entered).status_code
    assert 422 == counter.post(f"/money/{bill.ref}/", entered).status_code

    bill.refresh_from_db()
    wrong.refresh_from_db()
    assert before - 1001 == bill.owed_minor
    assert (1010, clock.at.date()) == (wrong.minor, wrong.taken_back_on)
    back = Entry.objects.get(journal="money", verb="payment taken back")
    assert (entry.sequence, lead.ref, "digits turned about") == (
        back.corrects, back.author, back.words.text,
    )  # fmt: skip
    assert () == audited().breaks
    page = counter.get(f"/money/{bill.ref}/").content.decode()
    assert "digits turned about" in page
    assert "taken back 1 Feb 2027" in page
    assert f"corrects entry {entry.sequence}" in page


def test_no_payment_comes_in_on_a_day_to_come(counter, bill, lead, clock) -> None:
    told = {"by": lead, "now": clock.at}
    wrong = invoicing.pay(bill, 1010, on=bill.on, how="bank", **told)
    address, before = f"/money/{bill.ref}/", Entry.objects.count()
    paid = {"minor": "10.01", "on": "2027-02-02", "how": "bank"}
    acts = [
        {"act": "pay", **paid},
        {"act": "correct", "payment": wrong.pk, "why": "the day", **paid},
    ]

    for entered in acts:
        answer = counter.post(address, entered)
        assert 422 == answer.status_code
        wanted = "day: found 2027-02-02, wanted 2027-02-01 or earlier"
        assert wanted in answer.content.decode()

    wrong.refresh_from_db()
    assert (None, before) == (wrong.taken_back_on, Entry.objects.count())


def test_a_payment_that_never_came_leaves_nothing(bill, lead, clock) -> None:
    before = bill.owed_minor
    wrong = invoicing.pay(bill, 900, on=bill.on, how="bank", by=lead, now=clock.at)
    with pytest.raises(RefusedError, match="why: found nothing"):
        invoicing.correct_payment(wrong, None, by=lead, now=clock.at, words=" ")
    invoicing.correct_payment(
        wrong, None, by=lead, now=clock.at, words="of another customer"
    )

    bill.refresh_from_db()
    assert before == bill.owed_minor
    # The very same may come in earnest now.
    invoicing.pay(bill, 900, on=bill.on, how="bank", by=lead, now=clock.at)
    assert 2 == Payment.objects.count()
    assert () == audited().breaks


def test_a_wrong_answer_is_set_right_by_a_new_one(
    counter, sallowmere, lead, clock
) -> None:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    quoting.ask(sallowmere, answer, by=lead, now=clock.at)
    quoting.give_answers(
        sallowmere, {40: False}, name="Wen Arkady", by=lead, now=clock.at
    )
    job = sallowmere.jobs.get(line=40)
    address = f"/batches/{sallowmere.ref}/approvals/"
    entered = {
        "act": "correct", "line": 40, "answer": "yes", "name": "Wen Arkady",
        "why": "meant device 41",
    }  # fmt: skip
    assert 422 == counter.post(address, {**entered, "answer": "no"}).status_code
    assert 422 == counter.post(address, {**entered, "line": 59}).status_code
    assert 302 == counter.post(address, entered).status_code

    old, new = job.approvals.order_by("id")
    assert ("no", "yes", old) == (old.answer, new.answer, new.corrects)
    told = Entry.objects.get(journal="money", verb="answer corrected")
    refused = Entry.objects.get(journal="money", verb="refused", subject=job.ref)
    assert (refused.sequence, "meant device 41") == (told.corrects, told.words.text)
    assert '"was":"no"' in told.facts
    to = custody.Standing("kitted", "bench 1", lead.ref)
    custody.move(job, to, by=lead, now=clock.at)
    assert () == audited().breaks
    assert Approval.YES == job.approvals.last().answer
    page = counter.get(address).content.decode()
    assert "corrects the one before" in page


def test_every_reminder_is_kept_with_what_was_owed(counter, bill, lead, clock) -> None:
    first = bill.owed_minor
    clock.move_on(days=40)
    counter = signed_in(lead)
    address = f"/money/{bill.ref}/"
    counter.post(address, {"act": "remind"}, follow=True)
    twice = counter.post(address, {"act": "remind"})
    assert "found one of today" in twice.content.decode()
    bill.refresh_from_db()
    invoicing.pay(bill, 100, on=bill.on, how="bank", by=lead, now=clock.at)
    clock.move_on(days=20)
    counter = signed_in(lead)
    html = counter.post(address, {"act": "remind"}, follow=True).content.decode()

    told = Entry.objects.filter(journal="money", verb="reminded").order_by("sequence")
    assert [first, first - 100] == [json.loads(one.facts)["minor"] for one in told]
    assert 2 == html.count("reminded: minor")
    assert () == audited().breaks


def test_sums_of_two_currencies_are_not_added_up(counter, bill, lead, clock) -> None:
    customer = bill.batch.customer
    other = Batch.objects.create(
        customer=customer, name="Second round", received=bill.on,
        terms_text=bill.batch.terms_text.replace("currency: cu", "currency: xx"),
    )  # fmt: skip
    Invoice.objects.create(
        batch=other, number="2027-0900", on=bill.on, due_on=bill.due_on,
        net_minor=5000, tax_minor=0, owed_minor=5000,
    )  # fmt: skip

    assert (
        Stand("cu", bill.owed_minor, 0, 0),
        Stand("xx", 5000, 0, 0),
    ) == stands_of(customer)
    html = counter.get(f"/customers/{customer.ref}/").content.decode()
    assert f"{money(bill.owed_minor)} cu owed" in html
    assert "50.00 xx owed" in html
    assert "50.00 xx" in counter.get("/money/").content.decode()
