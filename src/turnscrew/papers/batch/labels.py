"""Which labels go on the devices, and on what is isolated?"""

from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.hold import HoldKind
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.papers.batch.codes import bars_svg, qr_svg
from turnscrew.papers.batch.remarks import remark_written
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    full_date,
    number_of,
    owner_written,
    seen,
    serial_written,
    short_number,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_SHORT: dict[HoldKind, str] = {
    "pack": "SWOLLEN PACK",
    "liquid": "LIQUID",
    "contaminated": "GLOVES",
    "glass": "GLASS",
}
"""What a label says of a hazard."""

_DEVICE = """
#set par(leading: 0.28em, spacing: 0.3em)
#let told-of(one) = context {
  // The hazard stands first, whole; the owner's words are set smaller until they fit.
  let set-in(size, is-cut: false) = box(width: 33.6mm, {
    show regex("\\S{14,}"): it => {
      if is-cut { it.text.clusters().join(box()) } else { it }
    }
    [#text(size: 17pt, weight: "bold", one.short)
    #h(1.5mm)#text(size: if one.seen.len() > 24 { size } else { 8pt }, one.seen) \\ ]
    if one.hazard != "" [#text(size: if one.hazard.len() > 24 { 6pt } else { 7.5pt },
      weight: "bold", one.hazard) \\ ]
    [#text(size: size, one.owner) \\ #text(size: size - 0.5pt, one.site)]
  })
  let is-whole(size) = (one.owner + " " + one.site).split(" ").all(word =>
    measure(text(size: size, word)).width <= 33.6mm)
  let fits(size, ..how) = measure(set-in(size, ..how)).height <= 14.2mm
  let sizes = (8pt, 7pt, 6pt, 5pt)
  let whole = sizes.find(size => is-whole(size) and fits(size))
  let cut = sizes.find(size => fits(size, is-cut: true))
  box(height: 15.2mm, clip: true, if whole != none { set-in(whole) } else {
    set-in(if cut != none { cut } else { 5pt }, is-cut: true)
  })
}
#let label(one) = block(width: 50mm, height: 25mm, stroke: hair, breakable: false, {
  place(top + left, dx: 0mm, dy: 0mm, drawn(one.qr))
  place(top + left, dx: 15.4mm, dy: 1.2mm, told-of(one))
  if has-boxes(one.seen, one.owner, one.site) {
    place(bottom + left, dx: 0.6mm, dy: -0.7mm,
      text(size: 4.5pt, w("boxes: see the screen")))
  }
  place(bottom + center, dy: -3.4mm, drawn(one.bars))
  place(bottom + center, dy: -0.5mm, text(size: 6.5pt, tracking: 0.4pt, one.number))
})
#grid(columns: (50mm,) * 3, column-gutter: 4mm, row-gutter: 1.6mm,
  ..d.labels.map(label))
"""

_ISOLATION = """
#let label(one) = at-least(100mm, 70mm, stroke: 2pt + black, {
  grid(columns: (1fr, auto), [
    #text(size: 20pt, weight: "bold")[#w("ISOLATED")] \\
    #text(size: 14pt, weight: "bold")[#w("device") #one.short] #h(2mm) #one.seen \\
    #one.owner, #one.serial
    #if has-boxes(one.seen, one.owner, one.serial, one.why, one.only) [
      \\ #text(size: 7pt, w("boxes: see the screen"))
    ]
  ], drawn(one.qr))
  line(length: 100%, stroke: thick)
  text(size: 11pt, weight: "bold", one.why)
  list(marker: [–], spacing: 0.45em,
    w("no power, no charging, no pressure, not into a drawer"),
    [#w("only:") #one.only],
    w("in the fire box, outside the bench area, away from the doors"),
    w("hiss, smoke or heat: leave it, warn everybody, call the fire service"))
}, [#w("isolated|since") #one.day, #w("by") #line-for(22mm) #w("call")
    #line-for(18mm)])
#pad(left: 0.5mm, grid(columns: (100mm,), row-gutter: 3mm, ..d.labels.map(label)))
#v(2mm)
#d.transport
"""

_MOST_SITE = 26
"""Letters of a place that fit one line of a device label. [1]"""

_MOST_SEEN = 40
"""Letters of a model and its revision on a device label. [1]"""

_MOST_OWNER = 60
"""Letters of an owner's number that fit a device label in its smallest type. [1]"""

_TRANSPORT = (
    "Transport of a damaged or defective pack follows the rules for dangerous goods; "
    "ask the licensed carrier before it leaves the house."
)


def device_labels(answer: BatchAnswer, page: Page) -> bytes | None:
    """
    Set the labels of all devices, each 50 x 25 mm.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.

    Returns
    -------
    bytes or None
        The PDF; ``None`` if there is no device.
    """
    if not answer.devices:
        return None
    speech = speech_of(answer, page)
    data: dict[str, Any] = {
        "head": batch_head(
            answer, "Device labels", page, "50 x 25 mm each; cut along the line"
        ),
        "labels": [_label(speech, device) for device in answer.devices],
    }
    return batch_pdf(_DEVICE, data, speech)


def isolation_labels(answer: BatchAnswer, page: Page) -> bytes | None:
    """
    Set a label for every device that must be kept apart.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.

    Returns
    -------
    bytes or None
        The PDF; ``None`` if nothing is isolated.
    """
    isolated = [device for device in answer.devices if isolation_reason(device)]
    if not isolated:
        return None
    speech = speech_of(answer, page)
    data: dict[str, Any] = {
        "head": batch_head(answer, "Isolation labels", page),
        "transport": _TRANSPORT,
        "labels": [
            _label(speech, device)
            | {
                "serial": serial_written(device),
                "why": isolation_reason(device),
                "only": written(", ".join(_signed_off(answer, device)))
                or "nobody here",
                "day": full_date(answer, answer.what_if.start_day),
            }
            for device in isolated
        ],
    }
    return batch_pdf(_ISOLATION, data, speech)


def isolation_reason(device: DecidedDevice) -> str:
    """
    Say why a device must be kept apart.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        The reason, a remark marked as it was written; empty if it need not be.
    """
    remarks = [hold.seen for hold in device.holds if hold.kind == "pack"]
    if not remarks:
        return ""
    words = max(remarks, key=len)
    told = f" ({remark_written(words)})" if words else ""
    return f"pack may be swollen{told}"


def _signed_off(answer: BatchAnswer, device: DecidedDevice) -> list[str]:
    # Anything isolated asks for whoever may take out a pack.
    faults = answer.batch.terms.faults.values()
    pack = {fault.skill for fault in faults if fault.hazard == "pack"} - {""}
    needed = device.skills | pack
    return [
        person.name
        for person in answer.batch.people.values()
        if needed <= set(person.skills)
    ]


def _label(speech: Speech, device: DecidedDevice) -> dict[str, Any]:
    answer = speech.answer
    number = number_of(answer, device)
    return {
        "qr": qr_svg(number),
        "bars": bars_svg(number, 4.6),
        "number": number,
        "short": short_number(answer, device),
        "seen": written(_short(seen(device), _MOST_SEEN)),
        "owner": _owner(device),
        "site": written(_short(device.line.site, _MOST_SITE)),
        "hazard": "; ".join(map(speech.told, _hazards(device))),
    }


def _owner(device: DecidedDevice) -> str:
    number = device.line.asset
    return written(_short(number, _MOST_OWNER)) or owner_written(device)


def _short(words: str, most: int) -> str:
    return words if len(words) <= most else f"{words[: most - 1]}…"


def _hazards(device: DecidedDevice) -> list[str]:
    kinds = {hold.kind for hold in device.holds}
    return [words for kind, words in _SHORT.items() if kind in kinds]
