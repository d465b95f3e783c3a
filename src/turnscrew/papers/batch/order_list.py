"""What is bought, by when, and what do donors save?"""

from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.stock.order import OrderLine
from turnscrew.papers.batch.beside import NOTHING, Beside
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    day_words,
    latest_words,
    owner_written,
    seen_written,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_ORDER = """
#d.opening
#if d.rows.len() > 0 [#table(
  columns: (15mm, 1fr, 14mm, 10mm, 14mm, 17mm, 32mm, 7mm), stroke: ruled, inset: 1.2mm,
  align: (left, left, right, right, right, right, left, center),
  row-head(w("part|number"), w("what"), w("needed"), w("buy"), w("each"), w("together"),
    w("order at the latest"), ""),
  ..for row in d.rows { (
    strong(row.part),
    [#row.what #for words in row.alike [ \\ *#w("Look-alike:")* #words ]
     #for words in row.waits [ \\ *#w("Not yet:")* #words ]
     \\ #text(size: 9pt)[#row.note, #w("for") #row.devices]],
    row.needed, row.buy, row.each, row.cost, row.latest, tick) },
  table.cell(colspan: 5, align: left)[*#w("Together"), #d.currency*],
  strong(d.total), [], [])]
#part(w("Donors to strip first"))
#if d.strips.len() == 0 [
  #w("Nothing that is stripped gives a part that is wanted.")
] else [
  #table(columns: (10mm, 34mm, 1fr, 30mm), stroke: ruled, inset: 1.5mm,
    align: (right, left, left, right),
    row-head(w("no."), w("donor"), w("gives"), w("saves") + ", " + d.currency),
    ..for row in d.strips { (strong(row.at(0)), ..row.slice(1)) })
]
#d.saved
#for words in d.odds [ #words \\ ]
#part(w("On arrival"))
#d.arrival
"""

_ON_ARRIVAL = (
    "Open at once; compare each part with a known one and with the look-alikes above; "
    "note the lot; photograph a part without marks on both sides before it goes to the "
    "shelf."
)


def order_list(
    answer: BatchAnswer, page: Page, beside: Beside = NOTHING
) -> bytes | None:
    """
    Set what is bought, by when at the latest, and which donors save buying.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.
    beside
        What records know of the devices beside that.

    Returns
    -------
    bytes or None
        The PDF; ``None`` if no part is wanted.
    """
    supply = answer.supply
    if not supply.uses and not supply.orders:
        return None
    parts = answer.batch.parts
    speech = speech_of(answer, page)
    money = speech.money
    saved = supply.without_minor - supply.cost_minor
    currency = written(answer.batch.terms.currency)
    gives: dict[int, list[str]] = {}
    for use in supply.uses:
        if use.donor:
            what = written(parts[use.demand.part].description)
            words = speech.told(f"{what} for {use.demand.device}")
            gives.setdefault(use.donor, []).append(words)
    data: dict[str, Any] = {
        "head": batch_head(answer, "Order list", page),
        "opening": (
            f"After {sum(u.source == 'stock' for u in supply.uses)} from the shelf "
            f"and {sum(u.source == 'donor' for u in supply.uses)} from donors."
        ),
        "currency": currency,
        "rows": [_order_row(speech, line, beside) for line in supply.orders],
        "total": money(supply.cost_minor),
        "strips": [
            (
                str(donor),
                _named(speech, donor),
                "; ".join(gives.get(donor, [])),
                money(supply.saved_minor.get(donor, 0)),
            )
            for donor in supply.donors.strips
        ],
        "saved": (
            f"Without donors {money(supply.without_minor)} would be bought; "
            f"they save {money(saved)} {currency}."
        ),
        "odds": [
            f"{written(parts[part].description)}: {wanted} wanted of {n} there; "
            f"enough pass their test with probability {p:.2f}."
            for part, (wanted, n, p) in supply.p_enough.items()
            if p < 1
        ],
        "arrival": _ON_ARRIVAL,
    }
    return batch_pdf(_ORDER, data, speech)


def look_alikes(answer: BatchAnswer, part: str) -> list[str]:
    """
    Tell what a part is easily taken for, and how to tell them apart.

    Parameters
    ----------
    answer
        The batch.
    part
        Part number.

    Returns
    -------
    list[str]
        Sentences.
    """
    return [
        f"not {written(', '.join(name for name in pair.parts if name != part))}: "
        f"{written(pair.tell)}"
        for pair in answer.batch.terms.look_alikes
        if part in pair.parts
    ]


def _named(speech: Speech, donor: int) -> str:
    device = speech.answer.by_name[donor]
    return f"{seen_written(device)}, {speech.told(owner_written(device))}"


def _order_row(speech: Speech, line: OrderLine, beside: Beside) -> dict[str, Any]:
    answer, money = speech.answer, speech.money
    part = answer.batch.parts[line.part]
    notes = [f"as planned ordered on {day_words(answer, line.order_day)}"]
    if part.lead_days is None:
        notes.append("lead not known: the longest known is used")
    if not line.is_priced:
        notes.append("price not known, so in no sum: ask for it")
    notes.append(f"arrives {day_words(answer, line.arrives_day)}")
    return {
        "part": written(line.part),
        "what": written(part.description),
        "alike": look_alikes(answer, line.part),
        "waits": list(beside.waits.get(line.part, ())),
        "note": "; ".join(map(speech.told, notes)),
        "devices": ", ".join(str(name) for name in line.devices),
        "needed": str(line.n_needed),
        "buy": str(line.n_bought),
        "each": money(line.cost_minor // line.n_bought if line.is_priced else None),
        "cost": money(line.cost_minor if line.is_priced else None),
        "latest": latest_words(answer, line.latest_day),
    }
