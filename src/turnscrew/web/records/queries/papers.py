"""Which papers does a batch on record have, and how is one made?"""

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby
from typing import Literal

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.price.account import account_of
from turnscrew.web.records.convert import item_of
from turnscrew.web.records.models import Entry, Invoice
from turnscrew.web.records.queries.reckoning import reckoned

Page = Literal["a4", "letter"]

TITLES = {
    "batch-sheet.pdf": "Batch sheet",
    "approval-message.pdf": "Approvals, to print",
    "approval-message.txt": "Approvals, to send",
    "order-list.pdf": "Order list",
    "kit-lists.pdf": "Kit lists",
    "device-labels.pdf": "Device labels",
    "isolation-labels.pdf": "Isolation labels",
    "donor-cards.pdf": "Donor cards",
    "receipt.pdf": "Receipt to the customer",
    "invoice.pdf": "Invoice of the whole batch, as planned",
    "evidence.pdf": "Test and evidence pages",
}


def papers_of(people: Iterable[str]) -> list[tuple[str, str]]:
    """Name the papers of a batch with their titles."""
    sheets = {f"day-sheet-{key}.pdf": f"Day sheet, {key}" for key in people}
    return list({**TITLES, **sheets}.items())


def invoice_bytes(invoice: Invoice, size: Page) -> bytes:
    """Make the paper of an invoice that was sent, from its own lines."""
    from turnscrew.papers.batch import trade  # noqa: PLC0415 - the typesetter is slow

    at = Entry.objects.get(subject=invoice.ref, verb="invoiced").at
    answer = reckoned(invoice.batch, at, past_time=True)
    lines = invoice.lines.select_related("job").order_by("job__line", "id")
    items = tuple(
        item_of(answer.by_name[line], own)
        for line, own in groupby(lines, key=lambda row: row.job.line)
    )
    account = account_of(items, (), answer.batch.parts, 0)
    sent = trade.Sent(invoice.number, invoice.on, invoice.due_on)
    return trade.invoice(replace(answer, items=items, account=account), size, sent)


def paper_bytes(name: str, answer: BatchAnswer, size: Page) -> bytes | None:
    """Make one paper; nothing if there is no such paper or nothing to say."""
    # The typesetter is slow to load, and most pages print nothing.
    from turnscrew.papers.batch.every import every_paper  # noqa: PLC0415

    papers = every_paper(answer, size, ())
    if name not in papers:
        return None
    content = papers[name]()
    return content.encode() if isinstance(content, str) else content
