"""Which papers go to the customer: receipt, invoice and evidence?"""

from dataclasses import dataclass
from datetime import date
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.amounts import money
from turnscrew.core.model.quote import Charge, DecidedDevice, net_sum
from turnscrew.core.price.account import InvoiceItem
from turnscrew.papers.batch.words import (
    DECISION_WORDS,
    batch_head,
    fault_words,
    full_date,
    owner_number,
    seen,
    serial_number,
    short_number,
)
from turnscrew.papers.page import Page, compile_pdf

_RECEIPT = """
Received on *#d.day* from *#d.customer*, order #d.order: *#d.rows.len() devices*.
#v(1mm)
#set text(size: 9pt)
#table(columns: (8mm, 25mm, 24mm, 15mm, 24mm, 24mm, 1fr), stroke: ruled, inset: 1.1mm,
  align: (right, left, left, left, left, left, left),
  row-head("no.", "your no.", "serial", "model", "site", "came with",
    "reported; seen on arrival"),
  ..for row in d.rows { (strong(row.at(0)), ..row.slice(1)) })
#part("Accessories")
#d.accessories
#part("Data")
#for words in d.data [ #words \\ ]
#block(breakable: false, above: 8mm, grid(columns: (1fr, 1fr), column-gutter: 8mm,
  [handed over by #line-for(56mm)], [received by #line-for(58mm)]))
"""

_INVOICE = """
#grid(columns: (1fr, auto), [
  *#d.customer* \\ #for words in d.address [ #words \\ ]
  #if d.tax-number != "" [ tax number #d.tax-number ]
], [
  #d.title for order *#d.order* \\ #d.day \\ amounts in #d.currency
])
#v(2mm)
#table(columns: (8mm, 24mm, 14mm, 24mm, 1fr, 20mm, 18mm), stroke: ruled, inset: 1.2mm,
  align: (right, left, left, left, left, right, right),
  row-head("no.", "your no.", "model", "site", "for", "before tax", "tax"),
  ..for item in d.items { (
    strong(item.no), item.owner, item.seen, item.site,
    [#item.words #for line in item.lines [ \\ #text(size: 9pt)[– #line] ]],
    item.net, item.tax) })
#block(breakable: false, width: 100%, above: 4mm, align(right,
  table(columns: (auto, 30mm), stroke: ruled, inset: 1.4mm, align: (left, right),
    ..d.sums.flatten())))
#for words in d.notes [ #words \\ ]
"""

_EVIDENCE = """
#let half(one) = block(width: 100%, height: 118mm, stroke: fine, inset: 3mm, {
  grid(columns: (1fr, auto),
    text(size: 14pt, weight: "bold")[Device #one.short #h(3mm) #one.owner],
    [#one.seen, serial #one.serial])
  grid(columns: (24mm, 1fr), row-gutter: 1.6mm, column-gutter: 3mm,
    strong[site], one.site,
    strong[said], one.said,
    strong[found], one.found,
    strong[done], one.done,
    strong[parts], one.parts,
    strong[before], one.past,
    strong[observed], one.holds)
  v(1mm)
  table(columns: (1fr, 17mm, 14mm, 13mm, 18mm, 20mm, 44mm), stroke: hair, inset: 1.7mm,
    align: (left, center, center, center, center, center, left),
    row-head("check before hand-back", "measured", "passed", "failed", "not tested",
      "not applicable", "not possible, because"),
    ..for words in one.checks { (words, [], [], [], [], [], []) })
  place(bottom)[advice: #line-for(80mm) #h(4mm) done by #line-for(28mm) #h(2mm)
    second look #line-for(22mm)]
})
#grid(columns: (1fr,), row-gutter: 4mm, ..d.halves.map(half))
"""

_CHECKS = (
    "starts, and stops when told",
    "picture and touch or keys, whole face",
    "the fault that was found, tried again",
    "charges; level at hand-back in %",
    "radio, sound, camera as fitted",
)


def receipt(answer: BatchAnswer, page: Page) -> bytes:
    """
    Set the receipt for what was handed over.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    terms = answer.batch.terms
    lines = [device.line for device in answer.devices]
    held = sum(line.data == "P" for line in lines)
    unknown = sum(not line.data for line in lines)
    contract = terms.customer.contract or "no contract on file"
    data: dict[str, Any] = {
        "head": batch_head(answer, "Receipt", page),
        "day": full_date(answer, 1),
        "customer": terms.customer.name,
        "order": terms.customer.order or "without number",
        "rows": [
            (
                str(d.name),
                owner_number(d),
                serial_number(d),
                seen(d),
                d.line.site,
                " + ".join(d.line.accessories) or "nothing",
                "; ".join(text for text in (d.line.reported, d.line.remarks) if text),
            )
            for d in answer.devices
        ],
        "accessories": _accessory_words(answer),
        "data": [
            f"{held} may hold data of persons, {unknown} of unknown class are treated "
            f"the same, {len(lines) - held - unknown} hold none.",
            f"Terms: {contract}. Nobody looks at anything stored; powered only for "
            "start-up and function tests; storage that is exchanged goes back or has "
            "its end recorded.",
        ],
    }
    return compile_pdf(_RECEIPT, data, is_tagged=True)


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
    sums = [
        ("repairs", money(account.repairs_minor)),
        ("diagnosis of what is stripped", money(account.strip_diagnosis_minor)),
        ("no fault found, trials", money(account.no_fault_found_minor)),
        ("total", money(account.total_minor)),
        ("credit for donor parts", money(-account.donor_credit_minor)),
        ("before tax", money(account.invoice_minor)),
    ]
    if terms.taxes:
        names = ", ".join(f"{tax.name} {tax.percent} %" for tax in terms.taxes)
        sums.append((f"tax ({names})", money(account.tax_minor)))
    sums.append(("to pay", money(account.invoice_minor + account.tax_minor)))
    notes = [
        "Each part and the labour of each device are rounded by themselves, half a "
        "minor unit upwards"
        + (", and tax line by line." if terms.taxes else "; no tax is in the terms.")
    ]
    title = "Draft invoice"
    day = full_date(answer, max(answer.planned.plan_in_use.last_day, 1))
    if sent is not None:
        title, day = f"Invoice {sent.number}", sent.on.strftime("%d %b %Y")
        notes.append(f"To be paid by {sent.due_on:%d %b %Y}.")
    elif answer.pending:
        names = ", ".join(str(device.name) for device in answer.pending)
        notes.append(f"Subject to approval: {names}.")
    if sent is None and terms.customer.is_tax_number_odd():
        notes.append(
            "Look at the tax number: found no two letters of a country with 2 to 12 "
            "letters and digits after them."
        )
    data: dict[str, Any] = {
        "head": batch_head(answer, "Invoice, draft" if sent is None else title, page),
        "customer": terms.customer.name,
        "address": terms.customer.address,
        "tax-number": terms.customer.tax_number,
        "order": terms.customer.order or "without number",
        "title": title,
        "day": day,
        "currency": terms.currency,
        "items": [_item(answer, item) for item in answer.items],
        "sums": sums,
        "notes": notes,
    }
    return compile_pdf(_INVOICE, data, is_tagged=True)


def evidence(answer: BatchAnswer, page: Page) -> bytes:
    """
    Set half a page of evidence for every device that goes back working.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    data: dict[str, Any] = {
        "head": batch_head(
            answer,
            "Evidence",
            page,
            "Filled in at the final test; no claim to any test standard.",
        ),
        "halves": [_half(answer, d) for d in answer.devices if d.is_mended],
    }
    return compile_pdf(_EVIDENCE, data, is_tagged=True)


def _item(answer: BatchAnswer, item: InvoiceItem) -> dict[str, Any]:
    device = item.device
    lines = (*item.charges, *item.credits)
    words = f"{DECISION_WORDS[device.decision.code]}: {fault_words(answer, device)}"
    if device.decision.code == "comeback":
        words += "; no charge"
    elif device.decision.code in {"go", "ask"}:
        words = fault_words(answer, device)
    return {
        "no": str(device.name),
        "owner": owner_number(device),
        "seen": seen(device),
        "site": device.line.site,
        "words": words,
        "lines": [_line_words(line) for line in lines],
        "net": money(net_sum(lines)),
        "tax": money(sum(line.tax_minor for line in lines)),
    }


def _line_words(line: Charge) -> str:
    return f"{line.says}: {money(line.net_minor)}"


def _half(answer: BatchAnswer, device: DecidedDevice) -> dict[str, Any]:
    parts = answer.batch.parts
    used = [
        f"{parts[use.demand.part].description}"
        + (f" (from donor {use.donor})" if use.donor else "")
        for use in answer.supply.by_device.get(device.name, ())
    ]
    is_trial = device.decision.code == "no_fault_found"
    done = "trial: hours, load, position" if is_trial else "exchanged, see parts"
    return {
        "short": short_number(answer, device),
        "owner": owner_number(device),
        "seen": seen(device),
        "serial": serial_number(device),
        "site": device.line.site or "not said",
        "said": device.line.reported or "nothing",
        "found": fault_words(answer, device),
        "done": done,
        "parts": ", ".join(used) or "none",
        "past": "; ".join(device.past) or "not known here",
        "holds": "; ".join(map(str, device.holds)) or "nothing out of the ordinary",
        "checks": _CHECKS,
    }


def _accessory_words(answer: BatchAnswer) -> str:
    counts: dict[str, int] = {}
    for device in answer.devices:
        for name in device.line.accessories:
            counts[name] = counts.get(name, 0) + 1
    words = [f"{n} {name}" for name, n in sorted(counts.items())]
    return ("Together: " + ", ".join(words) + ".") if words else "None came."
