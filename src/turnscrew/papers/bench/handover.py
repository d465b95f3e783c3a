"""What does the one who comes need to know of every open device?"""

from collections.abc import Sequence
from typing import Any

from turnscrew.core.bench.handover import OpenDevice, stop_words
from turnscrew.core.model.amounts import counted
from turnscrew.core.model.german import GERMAN_CARDS
from turnscrew.papers.page import Page, head, notation_of
from turnscrew.papers.set_aside import plain, written
from turnscrew.papers.telling import Telling, told_pdf

LONG_CHARACTERS = 1200
"""A device with more words than this may run over the end of a page. [1]"""

_SHEET = """
#set text(size: 10pt)
#text(size: 12pt, weight: "bold", d.summary)
#let photo = block(width: 40mm, height: 30mm, stroke: (paint: black, thickness: 0.5pt,
  dash: "dashed"), inset: 1.5mm,
  align(left + bottom, text(size: 8pt)[#w("photo no.") #line-for(20mm)]))
#let device(one) = block(width: 100%, breakable: one.long, above: 4mm, below: 0mm,
  stroke: thick, inset: 2.5mm, {
  grid(columns: (1fr, auto), column-gutter: 3mm, align: (left + bottom, right + bottom),
    [#text(size: 17pt, weight: "bold", one.number) #h(2mm) #one.model],
    text(size: 11pt)[#one.place])
  block(above: 1.5mm, below: 2mm, text(size: 11pt, weight: "bold")[
    #one.stop #if one.power != "" [ #h(2mm) #w("power"): #one.power]])
  if one.hazards != "" {
    block(stroke: 1.5pt + black, inset: 1.6mm, above: 0mm, below: 2mm, width: 100%,
      text(weight: "bold")[#w("HAZARD"): #one.hazards])
  }
  grid(columns: (1fr, 40mm), column-gutter: 4mm,
    grid(columns: (24mm, 1fr), row-gutter: 1.6mm, 
      ..for row in one.facts { (text(weight: "bold", row.at(0)), row.at(1)) }),
    photo)
  if one.tray.len() > 0 {
    v(1mm)
    table(columns: (1fr, 18mm, 18mm, 52mm), stroke: ruled, inset: 1.2mm,
      align: (left, left, right, left),
      row-head(w("in the tray"), w("place"), w("pieces"), w("counted by")),
      ..for row in one.tray { (row.at(0), row.at(1), strong(row.at(2)),
        [#tick #h(1.5mm) #line-for(38mm)]) },
      w("all"), [], strong(one.n), [])
  } else {
    v(1mm)
    [*#w("In the tray"):* #w("nothing") #h(3mm) #tick #h(1.5mm) #w("counted by")
      #line-for(38mm)]
  }
})
#for one in d.devices { device(one) }
#block(breakable: false, above: 6mm, width: 100%, {
  w("I have seen every device above, counted its tray and read what is in doubt.")
  v(4mm)
  grid(columns: (1fr, 1fr, 1fr), column-gutter: 5mm, row-gutter: 5mm,
    [#w("goes"): #line-for(46mm)], [#w("signature") #line-for(34mm)],
    [#w("time") #line-for(40mm)],
    [#w("comes"): #line-for(44mm)], [#w("signature") #line-for(34mm)],
    [#w("time") #line-for(40mm)])
})
"""


def handover_sheet(
    devices: Sequence[OpenDevice], page: Page, day: str = "", language: str = "en"
) -> bytes:
    """
    Set the sheet by which open devices pass from one person to another.

    Parameters
    ----------
    devices
        The open devices, in the order in which they are told.
    page
        Size of the paper.
    day
        Day and time in words; empty to be written by hand.
    language
        Short name of the language of its words.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    about = day or written("Turnscrew")
    data = {
        "head": head("Handover", page, device=about, foot=_FOOT),
        "summary": _summary(devices),
        "devices": [_told(device) for device in devices],
    }
    telling = Telling({"de": GERMAN_CARDS}, language, notation_of(page))
    return told_pdf(_SHEET, data, telling, as_is=_AS_WRITTEN)


_AS_WRITTEN = frozenset({"number", "model", "place"})


_FOOT = "Count the tray before the first action; where it differs, stop and ask."


def _summary(devices: Sequence[OpenDevice]) -> str:
    n = len(devices)
    if not n:
        return "No device lies open."
    waiting = [device.number for device in devices if not device.is_at_safe_stop]
    told = f"{counted(n, 'open device')}; "
    if not waiting:
        return told + "every one at a safe stop"
    return told + f"NOT at a safe stop: {', '.join(map(written, waiting))}"


def _told(device: OpenDevice) -> dict[str, Any]:
    facts = [
        ("state", device.state),
        ("off", _names(device.off)),
        ("disconnected", _names(device.unplugged)),
        ("moved aside", _names(device.aside)),
        ("last done", device.last_done),
        ("IN DOUBT", "; ".join(device.in_doubt) or "nothing told"),
        ("first action", device.first_action),
        ("who may", _who(device.sign_off) or "anybody"),
    ]
    told = [(name, words or "nothing") for name, words in facts]
    tray = [(count.kind, written(count.where), str(count.n)) for count in device.tray]
    n_characters = sum(len(plain(words)) for row in (*told, *tray) for words in row)
    return {
        "number": device.number,
        "model": device.model,
        "place": device.place,
        "stop": stop_words(device),
        "power": device.power,
        "hazards": "; ".join(device.hazards),
        "facts": told,
        "tray": tray,
        "n": str(device.n_in_tray),
        "long": n_characters + sum(map(len, device.hazards)) > LONG_CHARACTERS
        or len(tray) > 12,
    }


def _who(sign_offs: str) -> str:
    """Give which sign-offs are asked for; a skill stays as it was written."""
    return sign_offs if "a lead for " in sign_offs else written(sign_offs)


def _names(parts: Sequence[str]) -> str:
    """Join what a description calls its parts."""
    return ", ".join(map(written, parts))
