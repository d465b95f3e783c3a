"""Invoices, payments, comebacks."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from turnscrew.core.model.amounts import money
from turnscrew.papers.page import Size
from turnscrew.papers.set_aside import written
from turnscrew.web.counter import forms, set_right_forms, trade_forms
from turnscrew.web.counter.acts import Act, Done, Entered, Nothing, page
from turnscrew.web.counter.downloads import pdf
from turnscrew.web.records.queries import find, margins, money_page
from turnscrew.web.records.queries.charges import (
    charged_unfitted,
    in_other_money,
    late_credits,
)
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

    waiting = money_page.billable(batch)
    n_credits = len(late_credits(batch))

    def bill(entered: Entered) -> Done:
        n_shown = entered["n_credits_shown"]
        shown = None if n_shown is None else (entered["shown"], n_shown)
        made = invoicing.invoice(
            batch, by=person, now=timezone.localtime(), shown=shown
        )
        to = reverse("counter:invoiced", args=[made.ref])
        return Done(f"invoice {made.number}", to)

    initial = {"shown": invoicing.lines_of(waiting), "n_credits_shown": n_credits}
    form = trade_forms.Billed
    acts = {"bill": Act(bill, "Write the invoice", form, "money", initial)}

    def context() -> Mapping[str, Any]:
        return {
            "batch": batch,
            "billable": waiting,
            "unfitted": charged_unfitted(waiting),
            "bare": money_page.not_billable(batch),
            "n_credits": n_credits,
            "in_other_money": in_other_money(batch),
            "invoices": list(batch.invoices.all()),
        }

    return page(request, "counter/invoice.html", context, acts)


def invoiced(request: HttpRequest, ref: str) -> HttpResponse:
    """Show one invoice, and write what came in for it or went back."""
    one = find.invoice_named(ref)
    person = allow(request.person, "money")  # type: ignore[attr-defined]
    first = {"on": timezone.localdate(), "shown": one.owed_minor}

    def act(does: Callable[..., Done], label: str, form: Any = Nothing) -> Act:
        return Act(partial(does, one, person), label, form, "money", first)

    acts = {
        "pay": act(_pay, "Write the payment", forms.Payment),
        "correct": act(_correct, "Set it right", forms.PaymentCorrected),
        "remind": act(_remind, "Write as reminded"),
        "write_off": act(_write_off, "Write off the rest", trade_forms.WrittenOff),
        "pay_back": act(_pay_back, "Write as paid back", forms.PaidBack),
        "owe_again": act(_owe_again, "Take the write-off back", forms.Reason),
        **_came_back(one, person),
    }

    def context() -> Mapping[str, Any]:
        return money_page.invoice_page(find.invoice_named(ref))

    return page(request, "counter/invoiced.html", context, acts)


def _pay(one: Any, person: Any, entered: Entered) -> Done:
    before = money_page.written_off_minor(one)
    invoicing.pay(
        one, entered["minor"], on=entered["on"], how=entered["how"],
        by=person, now=timezone.localtime(),
    )  # fmt: skip
    if before != money_page.written_off_minor(one):
        return Done("payment written, and as much of the write-off taken back")
    return Done("payment written")


def _correct(one: Any, person: Any, entered: Entered) -> Done:
    right = None
    if entered["minor"]:
        right = money_page.Paid(entered["minor"], entered["on"], entered["how"])
    invoicing.correct_payment(
        money_page.payment_of(one, entered["payment"]), right, by=person,
        now=timezone.localtime(), words=entered["why"],
    )  # fmt: skip
    return Done("taken back; what is right is written")


def _remind(one: Any, person: Any, _: Entered) -> Done:
    invoicing.remind(one, by=person, now=timezone.localtime())
    return Done("reminder written")


def _write_off(one: Any, person: Any, entered: Entered) -> Done:
    invoicing.write_off(
        one, by=person, now=timezone.localtime(), words=entered["reason"],
        shown_minor=entered["shown"],
    )  # fmt: skip
    return Done("written off")


def _pay_back(one: Any, person: Any, entered: Entered) -> Done:
    gone = money_page.Paid(entered["minor"], entered["on"], entered["how"])
    invoicing.pay_back(one, gone, by=person, now=timezone.localtime())
    return Done("written as paid back")


def _came_back(one: Any, person: Any) -> Mapping[str, Act]:
    """Give the act that takes back what was written as paid back, if there is any."""
    told = [
        (str(entry), f"{gone.on}: {money(gone.minor)}, {written(gone.how)}")
        for entry, gone in money_page.paid_back(one).items()
    ]
    if not told:
        return {}
    does = partial(_take_back_pay_back, one, person)
    label, chosen = "Take it back: it never went", {"chosen": told}
    form = set_right_forms.PayBackTakenBack
    return {"came_back": Act(does, label, form, "money", options=chosen)}


def _take_back_pay_back(one: Any, person: Any, entered: Entered) -> Done:
    invoicing.take_back_pay_back(
        one,
        int(entered["row"]),
        by=person,
        now=timezone.localtime(),
        words=entered["why"],
    )
    return Done("taken back by a new entry")


def _owe_again(one: Any, person: Any, entered: Entered) -> Done:
    invoicing.take_back_write_off(
        one, by=person, now=timezone.localtime(), words=entered["reason"]
    )
    return Done("write-off taken back")


def paper(request: HttpRequest, ref: str) -> HttpResponse:
    """Give the paper of one invoice."""
    allow(request.person, "money")  # type: ignore[attr-defined]
    one = find.invoice_named(ref)
    size: Size = "letter" if request.GET.get("paper") == "letter" else "a4"
    sheet = paper_of(size, request.person.language)  # type: ignore[attr-defined]
    return pdf(invoice_bytes(one, sheet), f"invoice-{one.number}.pdf")


def money_owed(request: HttpRequest) -> HttpResponse:
    """Show what is owed and by when, what promises still cost, and what work earns."""
    allow(request.person, "money")  # type: ignore[attr-defined]
    now = timezone.localtime()

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
        job, now = find.job_named(entered["job"]), timezone.localtime()
        quoting.settle_comeback(job, entered["kind"], by=person, now=now)
        answer = reckoned(job.batch, now)
        anew = quoting.keep_quotes(job.batch, answer, by=person, now=now, only=job.line)
        told = f"device {job.line}: {entered['kind']}"
        return Done(f"{told}, quoted anew" if anew else told)

    acts = {"settle": Act(settle, "Settle", forms.ComebackClass, "people")}

    def context() -> Mapping[str, Any]:
        return {"jobs": money_page.comebacks()}

    return page(request, "counter/comebacks.html", context, acts)
