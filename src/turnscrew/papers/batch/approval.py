"""What must the customer be asked, in one message?"""

from collections.abc import Sequence
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.price.limits import device_minor
from turnscrew.papers.batch.decision_words import besides_written
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    faults_written,
    full_date,
    latest_after,
    latest_words,
    owner_written,
    seen,
    seen_written,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_ASK = """
#text(size: 11pt)[
#w("To:") *#d.to* \\
#w("From: the workshop"), #d.day \\
#if d.order != "" [#w("Your order:") #d.order \\ ]
]
#v(2mm)
#d.opening
#table(columns: (9mm, 23mm, 15mm, 24mm, 1fr, 18mm, 30mm, 17mm),
  stroke: ruled, inset: 1.5mm,
  align: (right, left, left, left, left, right, left, center),
  row-head(w("no."), w("your no."), w("model"), w("site"), w("what is wrong"),
    w("cost") + ", " + d.currency, w("answer in hand by the morning of"),
    w("yes / no")),
  ..for row in d.rows { (strong(row.at(0)), ..row.slice(1), [#tick #h(1mm) #tick]) },
  table.cell(colspan: 5, align: left)[*#w("All") #d.rows.len()*],
  strong(d.total), [], [])
#for words in d.notes [ #words \\ ]
#v(4mm)
#block(breakable: false)[
  #grid(columns: (1fr, 1fr, 1fr), column-gutter: 6mm,
    [#w("name") #line-for(44mm)], [#w("date") #line-for(40mm)],
    [#w("signature") #line-for(36mm)])
]
"""


def approval_message(answer: BatchAnswer, page: Page) -> bytes | None:
    """
    Set the one message that lists every pending approval.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.

    Returns
    -------
    bytes or None
        The PDF; ``None`` if nothing that has a price is pending.
    """
    pending = _asked(answer)
    if not pending:
        return None
    terms = answer.batch.terms
    speech = speech_of(answer, page)
    money = speech.money
    to = [written(terms.customer.name), written(terms.customer.contact)]
    data: dict[str, Any] = {
        "head": batch_head(answer, "Approval wanted", page),
        "to": ", ".join(filter(None, to)),
        "order": written(terms.customer.order),
        "day": full_date(answer, answer.what_if.start_day),
        "currency": written(terms.currency),
        "opening": speech.told(_asking(speech)),
        "rows": [
            (
                str(d.name),
                owner_written(d),
                seen_written(d),
                written(d.line.site),
                faults_written(answer, d),
                money(d.decision.quote_minor),
                latest_words(answer, answer.answer_by[d.name]),
            )
            for d in pending
        ],
        "total": money(sum(d.decision.quote_minor or 0 for d in pending)),
        "notes": [
            written(speech.line(one)) for one in _asking_notes(answer, pending, speech)
        ],
    }
    return batch_pdf(_ASK, data, speech)


def approval_text(answer: BatchAnswer, page: Page = "a4") -> str | None:
    """
    Write the same message as plain text, to be sent.

    Parameters
    ----------
    answer
        The batch.
    page
        The paper, which says how amounts are written.

    Returns
    -------
    str or None
        The message; ``None`` if nothing that has a price is pending.
    """
    pending = _asked(answer)
    if not pending:
        return None
    currency = written(answer.batch.terms.currency)
    speech = speech_of(answer, page)
    money = speech.money
    lines = [speech.line(_asking(speech)), ""]
    for d in pending:
        owner = speech.says(owner_written(d))
        faults = speech.says(faults_written(answer, d))
        by = latest_after("by the morning of", answer, answer.answer_by[d.name])
        cost = speech.says(f"{money(d.decision.quote_minor)} {currency}")
        lines.append(
            f"{d.name:>3}  {owner}  {seen(d)}  {d.line.site}: {faults}; {cost}; "
            f"{speech.says(by)}"
        )
    total = money(sum(d.decision.quote_minor or 0 for d in pending))
    lines += [
        "",
        speech.says(f"{speech.told('All')} {len(pending)}: {total} {currency}"),
    ]
    lines += map(speech.line, _asking_notes(answer, pending, speech))
    return "\n".join([*lines, ""])


def _asked(answer: BatchAnswer) -> list[DecidedDevice]:
    """Give what a customer can answer for: what has a price."""
    return [d for d in answer.pending if d.decision.quote_minor is not None]


def _asking(speech: Speech) -> str:
    answer = speech.answer
    terms = answer.batch.terms
    limit = terms.ask_limit_minor
    above = ""
    if limit is not None:
        above = f" of {speech.money(limit)} {written(terms.currency)}"
        above += " with tax" if _is_taxed(answer) else ""
    return (
        f"We need your answer for the following (of {len(answer.devices)} received "
        f"{full_date(answer, 1)}), since mending costs more than the limit{above} or "
        "cannot be settled without you. All amounts are before tax. You may answer for "
        "single lines; only the lines you name are released."
    )


def _is_taxed(answer: BatchAnswer) -> bool:
    """Whether the limits count a tax that the amounts shown are without."""
    terms = answer.batch.terms
    return bool(terms.taxes and terms.limits_with_tax)


def _asking_notes(
    answer: BatchAnswer, pending: Sequence[DecidedDevice], speech: Speech
) -> list[str]:
    terms = answer.batch.terms
    notes = [
        f"No. {d.name}: {d.decision.reason}."
        for d in pending
        if d.decision.limit_minor is None
    ]
    unpriced = [str(d.name) for d in answer.pending if d.decision.quote_minor is None]
    if unpriced:
        notes.append(f"No. {', '.join(unpriced)}: no price is known yet; asked later.")
    notes += [
        f"No. {d.name}: {besides_written(answer, d)}." for d in pending if d.besides
    ]
    if _is_taxed(answer):
        counted = "; ".join(
            f"{d.name}: {speech.money(device_minor(d, terms))}" for d in pending
        )
        notes.append(f"With tax, as the limit counts it, no. {counted}.")
    spot = [
        str(d.name)
        for d in pending
        if (day := answer.answer_by[d.name]) is not None
        and day <= answer.what_if.start_day
    ]
    if spot:
        them = "it" if len(spot) == 1 else "them"
        notes.append(
            f"No. {', '.join(spot)}: needed on the spot; each day later makes {them} a "
            "day late."
        )
    return notes
