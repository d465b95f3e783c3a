"""What must the customer be asked, in one message?"""

from collections.abc import Sequence
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.amounts import money
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.papers.batch.words import (
    batch_head,
    day_words,
    fault_words,
    full_date,
    owner_number,
    seen,
)
from turnscrew.papers.page import Page, compile_pdf, notation_of

_ASK = """
#text(size: 11pt)[
To: *#d.to* \\
From: the workshop, #d.day \\
#if d.order != "" [Your order: #d.order \\ ]
]
#v(2mm)
#d.opening
#table(columns: (9mm, 23mm, 15mm, 24mm, 1fr, 18mm, 30mm, 17mm),
  stroke: ruled, inset: 1.5mm,
  align: (right, left, left, left, left, right, left, center),
  row-head("no.", "your no.", "model", "site", "what is wrong", "cost, " + d.currency,
    "answer in hand by the morning of", "yes / no"),
  ..for row in d.rows { (strong(row.at(0)), ..row.slice(1), [#tick #h(1mm) #tick]) },
  table.cell(colspan: 5, align: left)[*All #d.rows.len()*], strong(d.total), [], [])
#for words in d.notes [ #words \\ ]
#v(4mm)
#block(breakable: false)[
  #grid(columns: (1fr, 1fr, 1fr), column-gutter: 6mm,
    [name #line-for(44mm)], [date #line-for(40mm)], [signature #line-for(36mm)])
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
        The PDF; ``None`` if nothing is pending.
    """
    pending = answer.pending
    if not pending:
        return None
    terms = answer.batch.terms
    notation = notation_of(page)
    money = notation.money
    data: dict[str, Any] = {
        "head": batch_head(answer, "Approval wanted", page),
        "to": f"{terms.customer.name}, {terms.customer.contact}".rstrip(", "),
        "order": terms.customer.order,
        "day": full_date(answer, answer.what_if.start_day),
        "currency": terms.currency,
        "opening": notation.prose(_asking(answer)),
        "rows": [
            (
                str(d.name),
                owner_number(d),
                seen(d),
                d.line.site,
                fault_words(answer, d),
                money(d.decision.quote_minor),
                day_words(answer, answer.answer_by[d.name]),
            )
            for d in pending
        ],
        "total": money(sum(d.decision.quote_minor or 0 for d in pending)),
        "notes": [notation.prose(one) for one in _asking_notes(answer, pending)],
    }
    return compile_pdf(_ASK, data, is_tagged=True)


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
        The message; ``None`` if nothing is pending.
    """
    pending = answer.pending
    if not pending:
        return None
    currency = answer.batch.terms.currency
    notation = notation_of(page)
    money = notation.money
    lines = [notation.prose(_asking(answer)), ""]
    for d in pending:
        lines.append(
            f"{d.name:>3}  {owner_number(d)}  {seen(d)}  {d.line.site}: "
            f"{fault_words(answer, d)}; {money(d.decision.quote_minor)} {currency}; "
            f"by the morning of {day_words(answer, answer.answer_by[d.name])}"
        )
    total = money(sum(d.decision.quote_minor or 0 for d in pending))
    lines += ["", f"All {len(pending)}: {total} {currency}"]
    lines += map(notation.prose, _asking_notes(answer, pending))
    return "\n".join([*lines, ""])


def _asking(answer: BatchAnswer) -> str:
    terms = answer.batch.terms
    limit = terms.ask_limit_minor
    above = f" of {money(limit)} {terms.currency}" if limit is not None else ""
    return (
        f"Of your {len(answer.devices)} devices received {full_date(answer, 1)}, these "
        f"need your answer, since mending them costs more than the limit{above} or "
        "cannot be settled without you. All amounts are before tax. You may answer for "
        "single lines; only the lines you name are released."
    )


def _asking_notes(answer: BatchAnswer, pending: Sequence[DecidedDevice]) -> list[str]:
    notes = [
        f"No. {d.name}: {d.decision.reason}."
        for d in pending
        if d.decision.quote_minor is None or d.decision.limit_minor is None
    ]
    spot = [
        str(d.name)
        for d in pending
        if (day := answer.answer_by[d.name]) is not None
        and day <= answer.what_if.start_day
    ]
    if spot:
        notes.append(
            f"No. {', '.join(spot)}: needed on the spot; each day later makes them a "
            "day late."
        )
    return notes
