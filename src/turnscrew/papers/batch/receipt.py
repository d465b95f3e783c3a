"""What does the customer get for what was handed over?"""

from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.papers.batch.beside import HALF, NOTHING, Beside
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    full_date,
    owner_written,
    seen_written,
    serial_written,
    short_number,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_MOST_WITHOUT_LIST = 2
"""Devices whose halves fill one sheet and need no list before them."""

_ON_ARRIVAL = frozenset({"pack", "liquid", "glass", "wet", "contaminated", "locked"})
"""Holds that tell how a device came; the others are the workshop's own affair."""

_RECEIPT = (
    HALF
    + """
#let signed = grid(columns: (1fr, 1fr), column-gutter: 8mm,
  [#w("handed over by") #line-for(56mm)], [#w("received by") #line-for(56mm)])
#if d.is-listed [
  #w("Received on") *#d.day* #w("from") *#d.customer*, #w("order") #d.order:
  *#d.rows.len() #w("devices")*.
  #v(1mm)
  #text(size: 9pt, table(columns: (8mm, 25mm, 24mm, 15mm, 24mm, 24mm, 1fr),
    stroke: ruled, inset: 1.1mm,
    align: (right, left, left, left, left, left, left),
    row-head(w("no."), w("your no."), w("serial"), w("model"), w("site"),
      w("came with"), w("reported; seen on arrival")),
    ..for row in d.rows { (strong(row.at(0)), ..row.slice(1)) }))
  #part(w("Accessories"))
  #d.accessories
  #part(w("Data"))
  #for words in d.data [ #words \\ ]
  #block(breakable: false, above: 8mm, signed)
  #pagebreak()
]
#let one-half(one) = half({
  half-head(one)
  [#w("Received on") *#d.day* #w("from") *#d.customer*, #w("order") #d.order.]
  v(1mm)
  named(w("site"), one.site, w("came with"), one.with, w("reported"), one.reported,
    w("condition"), one.condition, w("heed"), one.heed, w("photos"), one.photos,
    w("data"), one.data)
  if not one.is-known [
    #v(2mm) #w("Filled in on arrival:") \\
    #for words in (w("marks, cracks, dents"), w("missing feet, screws, trims"),
      w("gap of the case in mm")) [ #box(width: 52mm, words) #line-for(110mm) \\ ]
  ]
}, [#text(size: 9pt, for words in d.terms [ #words \\ ]) #v(4mm) #signed])
#grid(columns: (1fr,), row-gutter: 4mm, ..d.halves.map(one-half))
"""
)


def receipt(answer: BatchAnswer, page: Page, beside: Beside = NOTHING) -> bytes | None:
    """
    Set the receipt: half a page a device, behind a list where there are several.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.
    beside
        What records know of the devices.

    Returns
    -------
    bytes or None
        The PDF; ``None`` if nothing was received.
    """
    if not answer.devices:
        return None
    terms = answer.batch.terms
    lines = [device.line for device in answer.devices]
    held = sum(line.data == "P" for line in lines)
    unknown = sum(not line.data for line in lines)
    speech = speech_of(answer, page)
    contract = written(terms.customer.contract) or "no contract on file"
    promise = (
        f"Terms: {contract}. Nobody looks at anything stored; powered only for "
        "start-up and function tests; storage that is exchanged goes back or has "
        "its end recorded."
    )
    data: dict[str, Any] = {
        "head": batch_head(answer, "Receipt", page),
        "day": full_date(answer, 1),
        "customer": written(terms.customer.name),
        "order": written(terms.customer.order) or "without number",
        "is-listed": len(lines) > _MOST_WITHOUT_LIST,
        "rows": [_row(device) for device in answer.devices],
        "accessories": _accessory_words(answer),
        "data": [
            f"Devices that may hold data of persons: {held}; of unknown class, treated "
            f"the same: {unknown}; that hold none: {len(lines) - held - unknown}.",
            promise,
        ],
        "terms": [promise],
        "halves": [_half(speech, device, beside) for device in answer.devices],
    }
    return batch_pdf(_RECEIPT, data, speech)


def _row(device: DecidedDevice) -> tuple[str, ...]:
    line = device.line
    return (
        str(device.name),
        owner_written(device),
        serial_written(device),
        seen_written(device),
        written(line.site),
        written(" + ".join(line.accessories)) or "nothing",
        written("; ".join(text for text in (line.reported, line.remarks) if text)),
    )


def _half(speech: Speech, device: DecidedDevice, beside: Beside) -> dict[str, Any]:
    line = device.line
    told = speech.told
    heed = [told(hold.says) for hold in device.holds if hold.kind in _ON_ARRIVAL]
    photos = beside.arrival.get(device.name, "")
    condition = told(beside.condition.get(device.name, ""))
    decided = beside.data.get(device.name, "")
    return {
        "short": short_number(speech.answer, device),
        "owner": owner_written(device),
        "seen": seen_written(device),
        "serial": serial_written(device),
        "site": written(line.site) or "not said",
        "with": written(" + ".join(line.accessories)) or "nothing",
        "reported": written(line.reported) or "nothing",
        "condition": "; ".join(filter(None, [written(line.remarks), condition]))
        or "nothing was noted",
        "heed": "; ".join(dict.fromkeys(heed)) or "nothing out of the ordinary",
        "photos": photos or "none on record",
        "data": _data_words(line.data)
        + (f"; decided: {told(decided)}" * bool(decided)),
        "is-known": bool(line.remarks or photos or condition),
    }


def _data_words(kind: str) -> str:
    if kind == "N":
        return "holds none"
    said = "may hold data of persons" if kind == "P" else "class not said"
    return f"{said}: not looked at, powered for tests alone"


def _accessory_words(answer: BatchAnswer) -> str:
    counts: dict[str, int] = {}
    for device in answer.devices:
        for name in device.line.accessories:
            counts[name] = counts.get(name, 0) + 1
    words = [f"{n} {written(name)}" for name, n in sorted(counts.items())]
    return ("Together: " + ", ".join(words) + ".") if words else "None came."
