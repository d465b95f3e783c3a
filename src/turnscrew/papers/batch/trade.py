"""What does the customer pay?"""

from dataclasses import dataclass
from datetime import date
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.quote import Charge, net_sum
from turnscrew.core.price.account import InvoiceItem
from turnscrew.core.price.quote import is_taxed_by
from turnscrew.papers.batch.decision_words import DECISION_WORDS
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    faults_written,
    full_date,
    owner_written,
    seen_written,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_INVOICE = """
#grid(columns: (1fr, 86mm), column-gutter: 4mm, broken[
  *#d.customer* \\ #for words in d.address [ #words \\ ]
  #if d.tax-number != "" [ #w("tax number") #d.tax-number ]
], broken[
  #d.title #w("for order") *#d.order* \\ #d.day \\ #w("amounts in") #d.currency
])
#v(2mm)
#set table.cell(breakable: false)
#table(columns: (8mm, 24mm, 14mm, 24mm, 1fr, 20mm, 18mm), stroke: ruled, inset: 1.2mm,
  align: (right, left, left, left, left, right, right),
  row-head(w("no."), w("your no."), w("model"), w("site"), w("for"),
    w("before tax"), w("tax")),
  ..for item in d.items { (
    strong(item.no), item.owner, item.seen, item.site,
    [#item.words #for line in item.lines [ \\ #text(size: 9pt)[– #line] ]],
    item.net, item.tax) })
#block(breakable: false, width: 100%, above: 4mm, align(right,
  table(columns: (auto, 30mm), stroke: ruled, inset: 1.4mm, align: (left, right),
    ..d.sums.flatten())))
#for words in d.notes [ #words \\ ]
"""


@dataclass(frozen=True)
class Sent:
    """
    What an invoice bears once it is sent.

    Parameters
    ----------
    number
        Its number.
    on
        Day it was written.
    due_on
        Day by which it is to be paid.
    """

    number: str
    on: date
    due_on: date


def invoice(answer: BatchAnswer, page: Page, sent: Sent | None = None) -> bytes:
    """
    Set the invoice: one item a device, credits, tax apart.

    One that stands below nothing is a credit, and has no day to be paid by.

    Parameters
    ----------
    answer
        The batch, with the items of the invoice.
    page
        Size of the paper.
    sent
        What it bears; a draft without.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    terms = answer.batch.terms
    account = answer.account
    items = answer.items if sent else answer.summed
    speech = speech_of(answer, page)
    money = speech.money
    sums = [
        ("repairs", money(account.repairs_minor)),
        ("diagnosis of what is stripped", money(account.strip_diagnosis_minor)),
        ("no fault found, trials", money(account.no_fault_found_minor)),
        ("total", money(account.total_minor)),
        ("credit for donor parts", money(-account.donor_credit_minor)),
        ("before tax", money(account.invoice_minor)),
    ]
    if terms.taxes:
        sums.append((_tax_words(answer, sent), money(account.tax_minor)))
    owed = account.invoice_minor + account.tax_minor
    sums.append(
        ("credit to you", money(-owed)) if owed < 0 else ("to pay", money(owed))
    )
    notes = [
        "Each part and the labour of each device are rounded by themselves, half a "
        "minor unit upwards"
        + (", and tax line by line." if terms.taxes else "; no tax is in the terms.")
    ]
    title = "Draft invoice"
    day = full_date(answer, max(answer.planned.plan_in_use.last_day, 1))
    if sent is not None:
        kind = "Credit" if owed < 0 else "Invoice"
        title, day = f"{kind} {written(sent.number)}", sent.on.strftime("%d %b %Y")
        notes += [f"To be paid by {sent.due_on:%d %b %Y}."] if owed > 0 else []
    elif answer.pending:
        names = ", ".join(str(device.name) for device in answer.pending)
        told = (
            "Subject to approval" if answer.is_open_counted else "Not agreed, not on it"
        )
        notes.append(f"{told}: {names}.")
    if sent is None and terms.customer.is_tax_number_odd():
        notes.append(
            "Look at the tax number: found no two letters of a country with 2 to 12 "
            "letters and digits after them."
        )
    data: dict[str, Any] = {
        "head": batch_head(answer, "Invoice, draft" if sent is None else title, page),
        "customer": written(terms.customer.name),
        "address": [written(words) for words in terms.customer.address],
        "tax-number": written(terms.customer.tax_number),
        "order": written(terms.customer.order) or "without number",
        "title": title,
        "day": day,
        "currency": written(terms.currency),
        "items": [_item(speech, item) for item in items],
        "sums": sums,
        "notes": notes,
    }
    return batch_pdf(_INVOICE, data, speech)


def _tax_words(answer: BatchAnswer, sent: Sent | None) -> str:
    """Name the rates; of lines by other ones, as of a credit from elsewhere, none."""
    terms = answer.batch.terms
    lines = (line for one in answer.items for line in (*one.charges, *one.credits))
    # A draft is reckoned by these very rates.
    if sent is not None and not all(is_taxed_by(line, terms) for line in lines):
        return "tax"
    names = ", ".join(f"{written(tax.name)} {tax.percent} %" for tax in terms.taxes)
    return f"tax ({names})"


def _item(speech: Speech, item: InvoiceItem) -> dict[str, Any]:
    device = item.device
    lines = (*item.charges, *item.credits)
    says = [_charge_words(charge) for charge in item.charges]
    says += [credit.says for credit in item.credits]
    faults = speech.told(faults_written(speech.answer, device))
    words = DECISION_WORDS[device.decision.code]
    if device.decision.code in {"go", "ask"}:
        words = faults
    elif device.decision.code != "no_fault_found":
        words += f": {faults}"
    if device.decision.code == "comeback" and not lines:
        words += "; no charge"
    return {
        "no": str(device.name),
        "owner": owner_written(device),
        "seen": seen_written(device),
        "site": written(device.line.site),
        "words": words,
        "lines": [
            f"{speech.told(words)}: {speech.money(line.net_minor)}"
            for words, line in zip(says, lines, strict=True)
        ],
        "net": speech.money(net_sum(lines)),
        "tax": speech.money(sum(line.tax_minor for line in lines)),
    }


def _charge_words(charge: Charge) -> str:
    # A part is billed under the words it had then, which the list may have changed.
    return written(charge.says) if charge.kind == "parts" else charge.says
