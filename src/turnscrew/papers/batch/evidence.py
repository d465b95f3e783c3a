"""What goes back with a mended device to show what was said, found, done and tested?"""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.stock.demand import Use
from turnscrew.papers.batch.beside import (
    HALF,
    NOTHING,
    Beside,
    Tested,
    picture_values,
)
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    batch_head,
    faults_written,
    hold_written,
    owner_written,
    seen_written,
    serial_written,
    short_number,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_EVIDENCE = (
    HALF
    + """
#let by-hand(one) = table(columns: (1fr, 17mm, 14mm, 13mm, 18mm, 20mm, 44mm),
  stroke: hair, inset: 1.7mm,
  align: (left, center, center, center, center, center, left),
  row-head(w("check before hand-back"), w("measured"), w("passed"), w("failed|head"),
    w("not tested"), w("not applicable"), w("not possible, because")),
  ..for words in one.checks { (words, [], [], [], [], [], []) })
#let answered(one) = table(columns: (1fr, 25mm, 16mm, 30mm, 31mm),
  stroke: ruled, inset: (x: 1.2mm, y: 0.9mm),
  row-head(w("check before hand-back"), w("outcome"), w("value"), w("by|who"), w("on")),
  ..for test in one.tests { (
    [#test.says #if test.reason != "" [ \\ #w("because:") #test.reason]],
    strong(test.outcome), test.value, test.by, test.at) })
#let pictures(one) = stack(dir: ltr, spacing: 3mm,
  ..one.pictures.shown.map(p => block(width: 34mm, stack(spacing: 1mm,
    image(bytes(p.bytes), width: 34mm, height: 26mm, fit: "contain", alt: p.says),
    text(size: 9pt, p.says)))))
#let one-half(one) = half({
  half-head(one)
  grid(columns: (1fr, auto), column-gutter: 3mm,
    named(w("site"), one.site, w("said"), one.said, w("found"), one.found, one.work,
      one.done, w("parts"), one.parts, w("before"), one.past, w("held for"), one.holds,
      ..if one.passed != "" { (w("passed over"), one.passed) }),
    if one.pictures.shown.len() > 0 { pictures(one) })
  v(1mm)
  if one.tests.len() > 0 { answered(one) } else { by-hand(one) }
  if one.pictures.more [ #w("More photos are on record.") ]
}, {
  if one.by != "" [ #w("done by") *#one.by* \\ ]
  [#w("advice:") #line-for(80mm) #h(4mm)
    #if one.by == "" [ #w("done by") #line-for(28mm) #h(2mm) ]
    #w("second look") #line-for(22mm)]
})
#grid(columns: (1fr,), row-gutter: 4mm, ..d.halves.map(one-half))
"""
)

_EACH_TRIAL = re.compile(r"\. (?=trial of \d)")

_CHECKS = (
    "starts, and stops when told",
    "picture and touch or keys, whole face",
    "the fault that was found, tried again",
    "charges; level at hand-back in %",
    "radio, sound, camera as fitted",
)


def evidence(answer: BatchAnswer, page: Page, beside: Beside = NOTHING) -> bytes | None:
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
    bytes or None
        The PDF; ``None`` if nothing goes back working.
    """
    devices = [
        device
        for device in answer.not_left
        if device.is_mended and device.name not in answer.refused
    ]
    if not devices:
        return None
    speech = speech_of(answer, page)
    data: dict[str, Any] = {
        "head": batch_head(
            answer,
            "Evidence",
            page,
            "Outcomes of the final test; no claim to any test standard.",
        ),
        "halves": [_half(speech, device, beside) for device in devices],
    }
    return batch_pdf(_EVIDENCE, data, speech)


def _half(speech: Speech, device: DecidedDevice, beside: Beside) -> dict[str, Any]:
    answer, told = speech.answer, speech.told
    tests = beside.tests.get(device.name, ())
    pictures = beside.pictures.get(device.name, ())
    return {
        "short": short_number(answer, device),
        "owner": owner_written(device),
        "seen": seen_written(device),
        "serial": serial_written(device),
        "site": written(device.line.site) or "not said",
        "said": written(device.line.reported) or "nothing",
        "found": faults_written(answer, device),
        "work": "done" if tests else "planned",
        "done": _done(speech, device, beside),
        "parts": ", ".join(_parts(speech, device, beside)) or "none",
        "past": "; ".join(map(told, device.past)) or "not known here",
        "holds": "; ".join(told(hold_written(one)) for one in device.holds)
        or "nothing",
        "passed": "; ".join(
            f"{speech.at_the_bench(says)}: {speech.at_the_bench(why)}"
            for says, why in beside.passed_over.get(device.name, ())
        ),
        "checks": _CHECKS,
        "tests": [_test(speech, test) for test in tests],
        "by": written(", ".join(dict.fromkeys(test.by for test in tests if test.by))),
        "pictures": picture_values(pictures),
    }


def _done(speech: Speech, device: DecidedDevice, beside: Beside) -> str:
    """Say what was done of the work, or is to be done."""
    if device.decision.code == "no_fault_found" or device.name in beside.trials:
        trial = beside.trials.get(device.name, "trial: hours, load, position")
        return ". ".join(map(speech.told, _EACH_TRIAL.split(trial)))
    if device.name in beside.closed_up:
        is_any_done = beside.closed_up[device.name]
        rest = "part of the work is done" if is_any_done else "nothing was exchanged"
        return f"closed up as it is: {rest}"
    if device.name not in beside.tests:
        is_found = bool(speech.answer.batch.terms.faults_of(device.line))
        return "exchange, see parts" if is_found else "nothing yet: no fault is found"
    if beside.fitted.get(device.name):
        return "exchanged, see parts"
    return "nothing was exchanged, see the checks"


def _parts(speech: Speech, device: DecidedDevice, beside: Beside) -> Iterator[str]:
    """Name the parts that were fitted, or those planned where no work was told yet."""
    parts = speech.answer.batch.parts
    uses: dict[str, list[Use]] = defaultdict(list)
    for use in speech.answer.supply.by_device.get(device.name, ()):
        uses[use.demand.part].append(use)
    numbers: Iterable[str] = [number for number, some in uses.items() for _ in some]
    if device.name in beside.tests:
        numbers = beside.fitted.get(device.name, ())
    for number in numbers:
        donor = _donor(uses[number].pop(0)) if uses[number] else ""
        whence = f" {speech.told(f'(from donor {donor})')}" if donor else ""
        yield written(parts[number].description) + whence


def _donor(use: Use) -> str:
    """Name the donor of a piece: of the one given, or as long as there is none."""
    if use.given is not None:
        return written(use.given.donor_words)
    return written(str(use.donor)) if use.donor else ""


def _test(speech: Speech, test: Tested) -> dict[str, Any]:
    return asdict(test) | {
        "says": speech.at_the_bench(test.says),
        "value": speech.at_the_bench(test.value),
        "reason": speech.at_the_bench(test.reason),
        "by": written(test.by),
    }
