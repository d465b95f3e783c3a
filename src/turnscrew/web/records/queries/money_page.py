"""Who owes what since when, and what happens next about it?"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Any

from turnscrew.core.model.amounts import counted
from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import (
    Batch,
    Customer,
    Entry,
    Invoice,
    Job,
    Payment,
)
from turnscrew.web.records.queries.charges import due_credits
from turnscrew.web.records.queries.in_parts import among
from turnscrew.web.records.queries.item_page import journal_of
from turnscrew.web.records.queries.terms_text import currency_of
from turnscrew.web.records.refusal import RefusedError

BILLABLE = ("handed back", "promise over", "donor", "disposed")
"""States in which a device may be billed."""


@dataclass(frozen=True)
class Owed:
    """One invoice with its currency, its age and the next thing to do."""

    invoice: Invoice
    currency: str
    days_late: int
    next_action: str

    @property
    def is_due(self) -> bool:
        """Whether somebody waits for money by now, the workshop or the customer."""
        return self.days_late > 0 or self.is_credit

    @property
    def is_credit(self) -> bool:
        """Whether more came in than was owed."""
        return self.invoice.owed_minor < 0


@dataclass(frozen=True)
class Stand:
    """How a customer stands: what is owed, what is too much, what was given up."""

    currency: str
    owed_minor: int
    credit_minor: int
    written_off_minor: int


def owed(today: date) -> list[Owed]:
    """Give the invoices not settled, the oldest first."""
    rows = Invoice.objects.exclude(owed_minor=0).select_related("batch__customer")
    return [
        Owed(one, currency_of(one.batch), _days_late(one, today), _next(one, today))
        for one in rows.order_by("due_on", "id")
    ]


def stands_of(customer: Customer) -> tuple[Stand, ...]:
    """
    Add up the invoices of a customer, each currency for itself.

    What is too much settles no other invoice.
    """
    rows = Invoice.objects.filter(batch__customer=customer).select_related("batch")
    given_up = _written_off(rows)
    by_currency: dict[str, list[Invoice]] = {}
    for one in rows.order_by("id"):
        by_currency.setdefault(currency_of(one.batch), []).append(one)
    return tuple(
        Stand(
            currency=currency,
            owed_minor=sum(one.owed_minor for one in own if one.owed_minor > 0),
            credit_minor=-sum(one.owed_minor for one in own if one.owed_minor < 0),
            written_off_minor=sum(given_up[one.ref] for one in own),
        )
        for currency, own in by_currency.items()
    )


def written_off_minor(invoice: Invoice) -> int:
    """Give what of an invoice was given up and did not come in since."""
    return _written_off([invoice])[invoice.ref]


@dataclass(frozen=True)
class Paid:
    """What came in, or went back, on which day, by which way."""

    minor: int
    on: date
    how: str


def paid_back(invoice: Invoice) -> dict[int, Paid]:
    """Give by entry what went back to the customer of an invoice, and holds."""
    rows = Entry.objects.filter(journal="money", subject=invoice.ref)
    gone = set(rows.exclude(corrects=0).values_list("corrects", flat=True))
    back = rows.filter(verb="paid back").exclude(sequence__in=gone)
    found = {}
    for row in back.select_related("words").order_by("sequence"):
        entry = ledger_entry(row)
        on = date.fromisoformat(entry.text("on"))
        # Words may have been erased.
        how = row.words.text if hasattr(row, "words") else ""
        found[row.sequence] = Paid(entry.n("minor"), on, how)
    return found


def _written_off(invoices: Iterable[Invoice]) -> Counter[str]:
    """Give by invoice what is given up, as the journal of money says."""
    refs = [invoice.ref for invoice in invoices]
    ways = {"written off": 1, "write-off taken back": -1}
    rows = Entry.objects.filter(journal="money", verb__in=ways).order_by("sequence")
    left = Counter[str]()
    for row in among(rows, "subject", refs):
        left[row.subject] += ways[row.verb] * ledger_entry(row).n("minor")
    return left


def _days_late(one: Invoice, today: date) -> int:
    # Nobody is late with what is theirs.
    return max(0, (today - one.due_on).days) if one.owed_minor > 0 else 0


def _next(one: Invoice, today: date) -> str:
    if one.owed_minor < 0:
        return "credit: pay back or set against the next invoice"
    if today <= one.due_on:
        return f"wait until {one.due_on:%d %b %Y}"
    if one.reminded_on is None:
        return "remind"
    since = (today - one.reminded_on).days
    if since < 14:
        return f"reminded {counted(since, 'day')} ago: wait until 14"
    return "remind again, or call"


def settled(n: int = 50) -> list[tuple[Invoice, int]]:
    """Give the latest settled invoices, each with what of it was given up."""
    rows = Invoice.objects.filter(owed_minor=0).select_related("batch__customer")
    latest = list(rows.order_by("-id")[:n])
    given_up = _written_off(latest)
    return [(one, given_up[one.ref]) for one in latest]


def not_invoiced() -> list[tuple[Batch, int, int]]:
    """Count by batch the devices that left, and the credits, that are on no invoice."""
    rows = Job.objects.filter(
        state__in=BILLABLE,
        batch__closed_on=None,
        invoice_lines=None,
    ).exclude(batch__terms_text="")
    counts = Counter(rows.values_list("batch_id", flat=True))
    # A piece may be charged in another batch, long after that of its donor was closed.
    donors = Job.objects.exclude(donor=None)
    credits = Counter(one.donor.batch_id for one in due_credits(donors))
    found = Batch.objects.in_bulk(sorted({*counts, *credits})).items()
    return [(batch, counts[pk], credits[pk]) for pk, batch in found]


def comebacks() -> list[Job]:
    """Give the comebacks, the latest first."""
    rows = Job.objects.exclude(comeback_class="").select_related(
        "item", "batch", "comeback_of__batch"
    )
    return list(rows.order_by("-id")[:200])


def billable(batch: Batch) -> list[Job]:
    """Give the devices of a batch that may be billed and are on no invoice yet."""
    rows = batch.jobs.filter(state__in=BILLABLE, invoice_lines=None)
    return list(rows.order_by("line"))


def not_billable(batch: Batch) -> list[Job]:
    """Give the devices of a batch that are on no invoice and can be on none yet."""
    rows = batch.jobs.filter(invoice_lines=None).exclude(state__in=BILLABLE)
    return list(rows.order_by("line"))


def payment_of(invoice: Invoice, pk: int) -> Payment:
    """Give one payment of an invoice."""
    one = invoice.payments.filter(pk=pk).first()
    if one is None:
        raise RefusedError(f"payment: found {pk}, wanted the number of one listed here")
    return one


def invoice_page(invoice: Invoice) -> dict[str, Any]:
    """Give an invoice with its lines by device, and what came in for it."""
    lines = list(invoice.lines.select_related("job__item").order_by("job__line", "id"))
    devices = [
        (job, own, sum(line.net_minor for line in own))
        for job, own in (
            (job, list(rows)) for job, rows in groupby(lines, key=lambda one: one.job)
        )
    ]
    journal = journal_of(invoice.ref)
    return {
        "invoice": invoice,
        "written_off_minor": written_off_minor(invoice),
        "currency": currency_of(invoice.batch),
        "batch": invoice.batch,
        "devices": devices,
        "payments": list(invoice.payments.all()),
        "entries": journal[0],
        "n_entries": journal[1],
    }
