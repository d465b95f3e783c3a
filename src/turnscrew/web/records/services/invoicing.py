"""How is a batch billed, and how does money come in?"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from django.db.models import Sum

from turnscrew.core.model.amounts import money
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    Entry,
    Invoice,
    InvoiceLine,
    Job,
    Payment,
    Person,
    Quote,
)
from turnscrew.web.records.queries.bench_runs import left_as_they_were
from turnscrew.web.records.queries.charges import (
    agreed_quotes,
    due_credits,
    late_credits,
    refused_jobs,
    unanswered_jobs,
)
from turnscrew.web.records.queries.closing import NOT_MENDED
from turnscrew.web.records.queries.money_page import (
    Paid,
    billable,
    paid_back,
    written_off_minor,
)
from turnscrew.web.records.queries.outdated import outdated
from turnscrew.web.records.services.journal import append
from turnscrew.web.records.services.keep import keep_all
from turnscrew.web.records.services.on_record import words_about
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing

PAY_DAYS = 30
"""Days to pay if nothing else was agreed; common practice, no source. [days]"""

_WRITTEN_TWICE = (
    "payment: found the same one written already, wanted another; "
    "if it came twice, say so under how"
)


@writing
def invoice(
    batch: Batch, *, by: Person, now: datetime, pay_days: int = PAY_DAYS,
    shown: tuple[str, int] | None = None,
) -> Invoice:  # fmt: skip
    """
    Bill every device that may be billed and is on no invoice yet.

    What is charged for a donor's piece, here or on an earlier invoice, is credited. It
    is refused where it would be over other devices, or other credits of earlier
    invoices, than were ``shown``.
    """
    jobs = billable(batch)
    if shown is not None:
        _refuse_others(jobs, len(late_credits(batch)), shown)
    credits = due_credits(batch.jobs.all(), jobs)
    if not jobs and not credits:
        raise RefusedError("devices: found none to bill, wanted one or more")
    quotes = {quote.job_id: quote for quote in agreed_quotes(jobs)}
    free = _free(jobs)
    priced = quotes.keys() | free.keys()
    reasons = []
    bare = [job for job in jobs if job.pk not in priced]
    if bare:
        reasons.append(
            f"device {lines_of(bare)}: no quote agreed, wanted one to bill by"
        )
    told = outdated(jobs, quotes)
    reasons += [
        f"device {job.line}: quoted as a repair, but {told[job.pk]}, wanted its quote"
        " kept anew on the page of the batch"
        for job in jobs
        if job.pk in told
    ]
    if reasons:
        raise RefusedError(*reasons)
    made = Invoice.objects.create(
        batch=batch, number=_next_number(now), on=now.date(),
        due_on=now.date() + timedelta(days=pay_days),
        net_minor=0, tax_minor=0, owed_minor=0,
    )  # fmt: skip
    keep_all(
        [
            *(
                _line(made, job, row)
                for job in jobs
                for row in _rows(quotes.get(job.pk), free.get(job.pk, ""))
            ),
            *(_line(made, one.donor, one.row, one.use) for one in credits),
        ]
    )
    sums = made.lines.aggregate(net=Sum("net_minor"), tax=Sum("tax_minor"))
    made.net_minor, made.tax_minor = sums["net"] or 0, sums["tax"] or 0
    made.owed_minor = made.total_minor
    made.save()
    append(
        "money", "invoiced", made.ref, by=by, now=now,
        facts={"minor": made.total_minor, "net": made.net_minor, "n": len(jobs)},
    )  # fmt: skip
    return made


def lines_of(jobs: Iterable[Job]) -> str:
    """Name devices by their lines, as a page shows them."""
    return ", ".join(str(job.line) for job in jobs)


def _refuse_others(jobs: Iterable[Job], n_credits: int, shown: tuple[str, int]) -> None:
    lines_shown, n_shown = shown
    lines = lines_of(jobs)
    reasons = []
    if lines != lines_shown:
        reasons.append(
            f"devices: found {lines or 'none'} to bill by now, wanted "
            f"{lines_shown or 'none'} as the page showed"
        )
    if n_credits != n_shown:
        reasons.append(
            f"credits: found {n_credits} on no invoice by now, wanted {n_shown} as the "
            "page showed"
        )
    if reasons:
        raise RefusedError(*reasons)


def _free(jobs: Iterable[Job]) -> dict[int, str]:
    """Say by job why nothing is charged where no quote was agreed that was done."""
    says = {
        job.pk: "nothing was mended, no charge"
        for job in jobs
        if job.ended_as == NOT_MENDED
    }
    says |= dict.fromkeys(left_as_they_were(jobs), "closed up as it is, no charge")
    says |= dict.fromkeys(refused_jobs(jobs), "refused by the customer, no charge")
    never = "never answered by the customer, no charge"
    return says | dict.fromkeys(unanswered_jobs(jobs), never)


def _rows(quote: Quote | None, says: str) -> list[dict[str, Any]]:
    """Give the lines of what one device pays, or why it pays nothing."""
    rows = [] if quote is None else list(quote.charges)
    if not rows:
        if quote is not None:
            says = "comeback, no charge" if quote.code == "comeback" else "no charge"
        rows = [{"kind": "labour", "says": says, "net_minor": 0, "tax_minor": 0}]
    return rows


def _line(
    made: Invoice, job: Job, row: dict[str, Any], use: Allotment | None = None
) -> InvoiceLine:
    return InvoiceLine(
        credits=use,
        invoice=made, job=job, kind=row["kind"], says=row["says"],
        n=row.get("n", 1), net_minor=row["net_minor"], tax_minor=row["tax_minor"],
    )  # fmt: skip


def _next_number(now: datetime) -> str:
    """Give the next number of the year, without a gap."""
    year = f"{now:%Y}-"
    numbers = Invoice.objects.filter(number__startswith=year).values_list("number")
    n = 1 + max((int(number.removeprefix(year)) for (number,) in numbers), default=0)
    return f"{year}{n:04d}"


@writing
def pay(
    invoiced: Invoice, minor: int, *, on: date, how: str, by: Person, now: datetime
) -> Payment:
    """
    Write money that came in; more than is owed is a credit, not an error.

    What was given up and comes in after all takes as much of the write-off back.
    """
    reasons = []
    if minor < 1:
        reasons.append(f"amount: found {minor}, wanted more than nothing")
    if on > now.date():
        reasons.append(f"day: found {on}, wanted {now.date()} or earlier")
    if reasons:
        raise RefusedError(*reasons)
    invoiced = Invoice.objects.select_for_update().get(pk=invoiced.pk)
    how = _words(invoiced, how.strip()) or "not said"
    told = {"minor": minor, "on": on, "how": how}
    if invoiced.payments.filter(**told, taken_back_on=None).exists():
        raise RefusedError(_WRITTEN_TWICE)
    payment = Payment.objects.create(invoice=invoiced, **told)
    invoiced.owed_minor -= minor
    invoiced.save()
    entry = append(
        "money", "paid", invoiced.ref, by=by, now=now, facts={"minor": minor}
    )
    back = min(-invoiced.owed_minor, written_off_minor(invoiced))
    if back > 0:
        facts = {"minor": back, "payment": entry.sequence}
        words = "it was paid after all"
        _owe_again(invoiced, facts, by=by, now=now, words=words)
    return payment


def _words(invoiced: Invoice, words: str) -> str:
    """Give words to keep beside money: a late payment of somebody erased has none."""
    return words_about(invoiced.batch.customer_id, words)


def _owe_again(
    invoiced: Invoice,
    facts: Mapping[str, int],
    *,
    by: Person,
    now: datetime,
    words: str,
) -> None:
    """Take so much of a write-off back, with the entry of what came in if any did."""
    invoiced.owed_minor += facts["minor"]
    invoiced.save()
    append(
        "money", "write-off taken back", invoiced.ref, by=by, now=now, facts=facts,
        words=words,
    )  # fmt: skip


def _give_up(
    invoiced: Invoice, minor: int, *, by: Person, now: datetime, words: str
) -> None:
    """Give so much of what is owed up."""
    invoiced.owed_minor -= minor
    invoiced.save()
    append(
        "money", "written off", invoiced.ref, by=by, now=now, facts={"minor": minor},
        words=_words(invoiced, words),
    )  # fmt: skip


@writing
def correct_payment(
    wrong: Payment, right: Paid | None, *, by: Person, now: datetime, words: str
) -> Payment | None:
    """
    Take a payment back by a new entry that names it, and write the right one.

    The wrong one stays readable with who took it back, when and why; nothing in its
    place means that no money came in. What was given up before it came in is given up
    again.
    """
    wrong = Payment.objects.select_for_update(of=("self",)).select_related(
        "invoice"
    ).get(pk=wrong.pk)  # fmt: skip
    reasons = []
    if not words.strip():
        reasons.append("why: found nothing, wanted why it was wrong")
    if wrong.taken_back_on is not None:
        reasons.append("payment: found one taken back already, wanted one that holds")
    if reasons:
        raise RefusedError(*reasons)
    bill = Invoice.objects.select_for_update().get(pk=wrong.invoice_id)
    wrong.taken_back_on = now.date()
    wrong.save()
    bill.owed_minor += wrong.minor
    bill.save()
    entry = _entry_of(wrong, bill)
    append(
        "money", "payment taken back", bill.ref, by=by, now=now,
        words=_words(bill, words),
        facts={"minor": wrong.minor, "on": wrong.on.isoformat()}, corrects=entry,
    )  # fmt: skip
    again = min(_owed_again_for(entry, bill), bill.owed_minor)
    if again > 0:
        _give_up(bill, again, by=by, now=now, words=words)
    if right is None:
        return None
    return pay(bill, right.minor, on=right.on, how=right.how, by=by, now=now)


def _entry_of(payment: Payment, bill: Invoice) -> int:
    """Find the entry that wrote a payment: of those of one amount, its place tells."""
    alike = bill.payments.filter(minor=payment.minor, pk__lt=payment.pk)
    rows = Entry.objects.filter(journal="money", subject=bill.ref, verb="paid")
    entries = [ledger_entry(row) for row in rows.order_by("sequence")]
    places = [one.sequence for one in entries if one.n("minor") == payment.minor]
    return dict(enumerate(places)).get(alike.count(), 0)


def _owed_again_for(payment: int, bill: Invoice) -> int:
    """Give how much of a write-off the entry of a payment took back [minor units]."""
    rows = Entry.objects.filter(
        journal="money", subject=bill.ref, verb="write-off taken back"
    )
    entries = [ledger_entry(row) for row in rows] if payment else []
    return sum(one.n("minor") for one in entries if one.n("payment") == payment)


@writing
def write_off(
    invoiced: Invoice, *, by: Person, now: datetime, words: str,
    shown_minor: int | None = None,
) -> None:  # fmt: skip
    """
    Give up what is still owed, with the reason.

    More or less may be owed by now than was shown, and whoever gives it up meant that.
    """
    if not words.strip():
        raise RefusedError("reason: found none, wanted why it is given up")
    invoiced = Invoice.objects.select_for_update().get(pk=invoiced.pk)
    if invoiced.owed_minor <= 0:
        raise RefusedError("invoice: found nothing owed, wanted one that is")
    if shown_minor not in {None, invoiced.owed_minor}:
        raise RefusedError(
            f"invoice: found {money(invoiced.owed_minor)} owed by now, wanted the "
            f"{money(shown_minor)} that the page showed"
        )
    _give_up(invoiced, invoiced.owed_minor, by=by, now=now, words=words)


@writing
def pay_back(invoiced: Invoice, gone: Paid, *, by: Person, now: datetime) -> None:
    """Write that a credit was paid back, or set against another invoice."""
    invoiced = Invoice.objects.select_for_update().get(pk=invoiced.pk)
    gone = replace(gone, how=_words(invoiced, gone.how))
    most = -invoiced.owed_minor
    reasons = []
    if most <= 0:
        reasons.append("invoice: found no credit, wanted one that has some")
    elif not 1 <= gone.minor <= most:
        found = money(gone.minor)
        reasons.append(f"amount: found {found}, wanted {money(1)} to {money(most)}")
    elif _is_paid_back(invoiced, gone):
        reasons.append(_WRITTEN_TWICE)
    if gone.on > now.date():
        reasons.append(f"day: found {gone.on}, wanted {now.date()} or earlier")
    if not gone.how.strip():
        reasons.append("how: found nothing, wanted the way it went back")
    if reasons:
        raise RefusedError(*reasons)
    invoiced.owed_minor += gone.minor
    invoiced.save()
    append(
        "money", "paid back", invoiced.ref, by=by, now=now, words=gone.how,
        facts={"minor": gone.minor, "on": gone.on.isoformat()},
    )  # fmt: skip


def _is_paid_back(invoiced: Invoice, gone: Paid) -> bool:
    """Say whether the very same was written already: a button pressed twice."""
    return gone in paid_back(invoiced).values()


@writing
def take_back_pay_back(
    invoiced: Invoice, entry: int, *, by: Person, now: datetime, words: str
) -> None:
    """Take back by a new entry what was written as paid back and never went."""
    invoiced = Invoice.objects.select_for_update().get(pk=invoiced.pk)
    reasons = []
    if not words.strip():
        reasons.append("why: found nothing, wanted why it was wrong")
    wrong = paid_back(invoiced).get(entry)
    if wrong is None:
        reasons.append(
            f"entry: found {entry}, wanted one that wrote a credit as paid back and "
            "holds"
        )
    if reasons or wrong is None:
        raise RefusedError(*reasons)
    invoiced.owed_minor -= wrong.minor
    invoiced.save()
    append(
        "money", "pay-back taken back", invoiced.ref, by=by, now=now,
        words=_words(invoiced, words),
        facts={"minor": wrong.minor, "on": wrong.on.isoformat()}, corrects=entry,
    )  # fmt: skip


@writing
def take_back_write_off(
    invoiced: Invoice, *, by: Person, now: datetime, words: str
) -> None:
    """Owe again all that was given up and is given up still, with the reason."""
    invoiced = Invoice.objects.select_for_update().get(pk=invoiced.pk)
    minor = written_off_minor(invoiced)
    reasons = []
    if not words.strip():
        reasons.append("reason: found none, wanted why it is owed after all")
    if not minor:
        reasons.append("invoice: found nothing written off, wanted one that is")
    if reasons:
        raise RefusedError(*reasons)
    words = _words(invoiced, words)
    _owe_again(invoiced, {"minor": minor}, by=by, now=now, words=words)


@writing
def remind(invoiced: Invoice, *, by: Person, now: datetime) -> None:
    """Write that the customer was reminded, of how much; once a day."""
    invoiced = Invoice.objects.select_for_update().get(pk=invoiced.pk)
    reasons = []
    if invoiced.owed_minor <= 0:
        reasons.append("invoice: found nothing owed, wanted one that is")
    if invoiced.reminded_on == now.date():
        reasons.append("reminder: found one of today, wanted none so soon after it")
    if reasons:
        raise RefusedError(*reasons)
    invoiced.reminded_on = now.date()
    invoiced.save()
    append(
        "money", "reminded", invoiced.ref, by=by, now=now,
        facts={"minor": invoiced.owed_minor},
    )  # fmt: skip
