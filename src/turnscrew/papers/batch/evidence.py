"""What goes back with a mended device to show what was said, found, done and tested?"""

from dataclasses import asdict
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.papers.batch.beside import HALF, NOTHING, Beside, picture_values
from turnscrew.papers.batch.words import (
    batch_head,
    fault_words,
    owner_number,
    seen,
    serial_number,
    short_number,
)
from turnscrew.papers.page import Page, compile_pdf

_EVIDENCE = (
    HALF
    + """
#let by-hand(one) = table(columns: (1fr, 17mm, 14mm, 13mm, 18mm, 20mm, 44mm),
  stroke: hair, inset: 1.7mm,
  align: (left, center, center, center, center, center, left),
  row-head("check before hand-back", "measured", "passed", "failed", "not tested",
    "not applicable", "not possible, because"),
  ..for words in one.checks { (words, [], [], [], [], [], []) })
#let answered(one) = table(columns: (1fr, 25mm, 16mm, 30mm, 31mm),
  stroke: ruled, inset: (x: 1.2mm, y: 0.9mm),
  row-head("check before hand-back", "outcome", "value", "by", "on"),
  ..for test in one.tests { (
    [#test.says #if test.reason != "" [ \\ because: #test.reason]],
    strong(test.outcome), test.value, test.by, test.at) })
#let pictures(one) = stack(dir: ltr, spacing: 3mm,
  ..one.pictures.shown.map(p => block(width: 34mm, stack(spacing: 1mm,
    image(bytes(p.bytes), width: 34mm, height: 26mm, fit: "contain", alt: p.says),
    text(size: 9pt, p.says)))))
#let one-half(one) = half({
  grid(columns: (1fr, auto),
    text(size: 14pt, weight: "bold")[Device #one.short #h(3mm) #one.owner],
    [#one.seen, serial #one.serial])
  grid(columns: (1fr, auto), column-gutter: 3mm,
    named([site], one.site, [said], one.said, [found], one.found, [#one.work], one.done,
      [parts], one.parts, [before], one.past, [held for], one.holds),
    if one.pictures.shown.len() > 0 { pictures(one) })
  v(1mm)
  if one.tests.len() > 0 { answered(one) } else { by-hand(one) }
  if one.pictures.more [ More photos are on record. ]
}, {
  if one.by != "" [ done by *#one.by* \\ ]
  [advice: #line-for(80mm) #h(4mm) #if one.by == "" [ done by #line-for(28mm) #h(2mm) ]
    second look #line-for(22mm)]
})
#grid(columns: (1fr,), row-gutter: 4mm, ..d.halves.map(one-half))
"""
)

_CHECKS = (
    "starts, and stops when told",
    "picture and touch or keys, whole face",
    "the fault that was found, tried again",
    "charges; level at hand-back in %",
    "radio, sound, camera as fitted",
)


def evidence(answer: BatchAnswer, page: Page, beside: Beside = NOTHING) -> bytes:
    """
    Set half a page of evidence for every device that goes back working.

    A device with answers of the bench shows them; one without has boxes to fill by
    hand. What does not fit into half a page takes the room it needs.

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
    bytes
        The PDF; equal arguments give equal bytes.
    """
    data: dict[str, Any] = {
        "head": batch_head(
            answer,
            "Evidence",
            page,
            "Outcomes of the final test; no claim to any test standard.",
        ),
        "halves": [_half(answer, d, beside) for d in answer.devices if d.is_mended],
    }
    return compile_pdf(_EVIDENCE, data, is_tagged=True)


def _half(answer: BatchAnswer, device: DecidedDevice, beside: Beside) -> dict[str, Any]:
    parts = answer.batch.parts
    used = [
        f"{parts[use.demand.part].description}"
        + (f" (from donor {use.donor})" if use.donor else "")
        for use in answer.supply.by_device.get(device.name, ())
    ]
    is_trial = device.decision.code == "no_fault_found" or device.name in beside.trials
    tests = beside.tests.get(device.name, ())
    if is_trial:
        done = beside.trials.get(device.name, "trial: hours, load, position")
    else:
        done = "exchanged, see parts" if tests else "exchange, see parts"
    pictures = beside.pictures.get(device.name, ())
    return {
        "short": short_number(answer, device),
        "owner": owner_number(device),
        "seen": seen(device),
        "serial": serial_number(device),
        "site": device.line.site or "not said",
        "said": device.line.reported or "nothing",
        "found": fault_words(answer, device),
        "work": "done" if tests else "planned",
        "done": done,
        "parts": ", ".join(used) or "none",
        "past": "; ".join(device.past) or "not known here",
        "holds": "; ".join(map(str, device.holds)) or "nothing",
        "checks": _CHECKS,
        "tests": [asdict(test) for test in tests],
        "by": ", ".join(dict.fromkeys(test.by for test in tests if test.by)),
        "pictures": picture_values(pictures),
    }
