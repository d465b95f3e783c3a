"""Which paper goes with devices that are handed back?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.papers.batch.speech import batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    faults_written,
    owner_written,
    seen_written,
    serial_written,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_NOTE = """
#w("Handed back on") *#d.day* #w("to") *#d.taken_by* #w("for") *#d.customer*,
#w("order") #d.order:
*#d.rows.len() #if d.rows.len() == 1 { w("device") } else { w("devices") }*.
#v(1mm)
#if d.rows.len() > 0 {
  table(columns: (8mm, 25mm, 26mm, 16mm, 1fr, 44mm), stroke: ruled, inset: 1.2mm,
    align: (right, left, left, left, left, left),
    row-head(w("no."), w("your no."), w("serial"), w("model"), w("done"),
      w("goes back with it")),
    ..for row in d.rows { (strong(row.at(0)), ..row.slice(1)) })
}
#if d.note != "" [ #d.note ]
#if d.strays.len() > 0 [
  #part(w("Goes back too, of no device here"))
  #for words in d.strays [ #words \\ ]
]
#if d.explained.len() > 0 [
  #part(w("Came with them and does not go back"))
  #table(columns: (8mm, 44mm, 1fr), stroke: ruled, inset: 1.2mm,
    align: (right, left, left), row-head(w("no."), w("what"), w("why")),
    ..d.explained.flatten())
]
#if d.taken.len() > 0 [
  #part(w("Taken out of it and not in it any more"))
  #table(columns: (8mm, 1fr, 64mm), stroke: ruled, inset: 1.2mm,
    align: (right, left, left), row-head(w("no."), w("what"), w("where it is")),
    ..d.taken.flatten())
]
#if d.passed.len() > 0 [
  #part(w("Passed over at the bench"))
  #table(columns: (8mm, 1fr, 54mm), stroke: ruled, inset: 1.2mm,
    align: (right, left, left), row-head(w("no."), w("what"), w("why")),
    ..d.passed.flatten())
]
#if d.adapters.len() > 0 [
  #part(w("Adapters"))
  #d.no-standard \\
  #for words in d.adapters [ #words \\ ]
]
#part(w("Stays for now"))
#if d.stays.len() == 0 [ #w("Nothing.") ] else [
  #for words in d.stays [ #words \\ ]
]
#block(breakable: false, above: 8mm, grid(columns: (1fr, 1fr), column-gutter: 8mm,
  [#w("handed over by") #line-for(56mm)], [#w("received by") #line-for(58mm)]))
"""


@dataclass(frozen=True)
class HandBack:
    """
    What was handed back together.

    Words are English; what a person wrote in them is marked by ``written``, and what is
    a person's words as a whole needs no mark.

    Parameters
    ----------
    on
        The day.
    taken_by
        Who took it.
    lines
        Numbers of the devices.
    goes_with
        What goes back with a device, in words, by number.
    stays
        What stays for now and why, a line each.
    note
        What was said about it.
    adapters
        How each adapter of a device stands, in words, by number.
    as_it_came
        Numbers of those on which nothing was done.
    strays
        What goes back that came with none of these devices, a line each.
    explained
        What came and does not go back: device or nothing, what it is, why.
    passed_over
        What was passed over at the bench, each with its reason, by number.
    taken_out
        What was taken out of a device that goes back as it came, and where it is, by
        number.
    """

    on: date
    taken_by: str
    lines: Sequence[int]
    goes_with: dict[int, str]
    stays: Sequence[str]
    note: str = ""
    adapters: Mapping[int, Sequence[str]] = field(default_factory=dict)
    as_it_came: frozenset[int] = frozenset()
    strays: Sequence[str] = ()
    explained: Sequence[tuple[int | None, str, str]] = ()
    passed_over: Mapping[int, Sequence[tuple[str, str]]] = field(default_factory=dict)
    taken_out: Mapping[int, Sequence[tuple[str, str]]] = field(default_factory=dict)


def hand_back_note(answer: BatchAnswer, page: Page, given: HandBack) -> bytes:
    """
    Set the note that goes with devices handed back.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.
    given
        What was handed back.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    terms = answer.batch.terms
    speech = speech_of(answer, page)
    devices = [answer.by_name[line] for line in given.lines]
    data: dict[str, Any] = {
        "head": batch_head(answer, "Hand-back note", page),
        "day": f"{given.on:%d %b %Y}",
        "taken_by": written(given.taken_by),
        "customer": written(terms.customer.name),
        "order": written(terms.customer.order) or "without number",
        "rows": [
            (
                str(device.name),
                owner_written(device),
                serial_written(device),
                seen_written(device),
                "returned unrepaired"
                if device.name in given.as_it_came
                else faults_written(answer, device),
                given.goes_with.get(device.name, "nothing came"),
            )
            for device in devices
        ],
        "stays": list(given.stays),
        "note": written(given.note),
        "strays": [written(one) for one in given.strays],
        "explained": [
            ("" if line is None else str(line), written(what), written(why))
            for line, what, why in given.explained
        ],
        "taken": [
            (str(line), what, speech.told(where))
            for line in sorted(given.taken_out)
            for what, where in given.taken_out[line]
        ],
        "passed": [
            (str(line), speech.at_the_bench(what), speech.at_the_bench(why))
            for line in sorted(given.passed_over)
            for what, why in given.passed_over[line]
        ],
        "no-standard": (
            "A look and a reading, no test to a standard; EN 50678 excludes equipment "
            "of information technology and its supplies by its own scope."
        ),
        "adapters": [
            f"{line}: {speech.told(words)}"
            for line in sorted(given.adapters)
            for words in given.adapters[line]
        ],
    }
    return batch_pdf(_NOTE, data, speech)
