"""Invoices, payments, comebacks."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from turnscrew.papers.page import Size
from turnscrew.web.counter import forms
from turnscrew.web.counter.acts import Act, Done, Entered, page
from turnscrew.web.counter.downloads import pdf
from turnscrew.web.records.queries import find, margins, money_page
from turnscrew.web.records.queries.charges import late_credits
from turnscrew.web.records.queries.papers import invoice_bytes, paper_of
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.rights import allow
from turnscrew.web.records.services import invoicing, quoting

_PROMISE_DAYS = 90
"""Shown where no batch says otherwise. [days]"""


def invoice(request: HttpRequest, ref: str) -> HttpResponse:
    """Bill what has left and is on no invoice yet."""
    batch = find.batch_with_terms(ref)
    person = allow(request.person, "money")  # type: ignore[attr-defined]

    def bill(_: Entered) -> Done:
        made = invoicing.invoice(batch, by=person, now=timezone.now())
        to = reverse("counter:invoiced", args=[made.ref])
        return Done(f"invoice {made.number}", to)

    acts = {"bill": Act(bill, "Write the invoice", right="money")}

    def context() -> Mapping[str, Any]:
        return {
            "batch": batch,
            "billable": money_page.billable(batch),
            "bare": money_page.not_billable(batch),
            "n_credits": len(late_credits(batch)),
            "invoices": list(batch.invoices.all()),
        }

    return page(request, "counter/invoice.html", context, acts)


def invoiced(request: HttpRequest, ref: str) -> HttpResponse:
    """Show one invoice, and write what came in for it."""
    one = find.invoice_named(ref)
    person = allow(request.person, "money")  # type: ignore[attr-defined]

    def pay(entered: Entered) -> Done:
        before = money_page.written_off_minor(one)
        invoicing.pay(
            one, entered["minor"], on=entered["on"], how=entered["how"],
            by=person, now=timezone.now(),
        )  # fmt: skip
        return _paid(before - money_page.written_off_minor(one))

    def correct(entered: Entered) -> Done:
        right = None
        if entered["minor"]:
            right = invoicing.Paid(entered["minor"], entered["on"], entered["how"])
        invoicing.correct_payment(
            money_page.payment_of(one, entered["payment"]), right, by=person,
            now=timezone.now(), words=entered["why"],
        )  # fmt: skip
        return Done("taken back; what is right is written")

    def remind(_: Entered) -> Done:
        invoicing.remind(one, now=timezone.now())
        return Done("reminder written")

    def write_off(entered: Entered) -> Done:
        invoicing.write_off(one, by=person, now=timezone.now(), words=entered["reason"])
        return Done("written off")

    def owe_again(entered: Entered) -> Done:
        invoicing.take_back_write_off(
            one, by=person, now=timezone.now(), words=entered["reason"]
        )
        return Done("write-off taken back")

    first = {"on": timezone.localdate()}
    acts = {
        "pay": Act(pay, "Write the payment", forms.Payment, "money", first),
        "correct": Act(correct, "Set it right", forms.PaymentCorrected, "money", first),
        "remind": Act(remind, "Write as reminded", right="money"),
        "write_off": Act(write_off, "Write off the rest", forms.Reason, "money"),
        "owe_again": Act(owe_again, "Take the write-off back", forms.Reason, "money"),
    }

    def context() -> Mapping[str, Any]:
        return money_page.invoice_page(find.invoice_named(ref))

    return page(request, "counter/invoiced.html", context, acts)


def _paid(taken_back_minor: int) -> Done:
    """Say what a payment did, beside what it took back of a write-off."""
    if taken_back_minor:
        return Done("payment written, and as much of the write-off taken back")
    return Done("payment written")


def paper(request: HttpRequest, ref: str) -> HttpResponse:
    """Give the paper of one invoice."""
    allow(request.person, "money")  # type: ignore[attr-defined]
    one = find.invoice_named(ref)
    size: Size = "letter" if request.GET.get("paper") == "letter" else "a4"
    sheet = paper_of(size, request.person.language)  # type: ignore[attr-defined]
    return pdf(invoice_bytes(one, sheet), f"invoice-{one.number}.pdf")


def money(request: HttpRequest) -> HttpResponse:
    """Show what is owed and by when, what promises still cost, and what work earns."""
    allow(request.person, "money")  # type: ignore[attr-defined]
    now = timezone.now()

    def context() -> Mapping[str, Any]:
        earned = margins.work_earned(now)
        return {
            "owed": money_page.owed(now.date()),
            "settled": money_page.settled(),
            "not_invoiced": money_page.not_invoiced(),
            "promises": margins.promises_open(now, _PROMISE_DAYS, earned),
            "earned": earned,
        }

    return page(request, "counter/money.html", context)


def comebacks(request: HttpRequest) -> HttpResponse:
    """Show what came back, the earlier job beside it, and settle its class."""
    person = request.person  # type: ignore[attr-defined]

    def settle(entered: Entered) -> Done:
        job, now = find.job_named(entered["job"]), timezone.now()
        quoting.settle_comeback(job, entered["kind"], by=person, now=now)
        answer = reckoned(job.batch, now)
        anew = quoting.keep_quotes(job.batch, answer, by=person, now=now, only=job.line)
        told = f"device {job.line}: {entered['kind']}"
        return Done(f"{told}, quoted anew" if anew else told)

    acts = {"settle": Act(settle, "Settle", forms.ComebackClass, "people")}

    def context() -> Mapping[str, Any]:
        return {"jobs": money_page.comebacks()}

    return page(request, "counter/comebacks.html", context, acts)
