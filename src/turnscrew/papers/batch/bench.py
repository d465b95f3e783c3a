"""Which papers lie on the bench: kits, days and donors?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.schedule.latest import Moment, latest_starts
from turnscrew.core.schedule.plan import Slot
from turnscrew.core.schedule.problem import TICKS
from turnscrew.core.stock.demand import Use
from turnscrew.papers.batch.order_list import look_alikes
from turnscrew.papers.batch.words import (
    CODES_WORDS,
    batch_head,
    cautions_for,
    day_words,
    fault_words,
    full_date,
    is_caution,
    number_of,
    owner_number,
    seen,
    serial_number,
    short_number,
)
from turnscrew.papers.page import Page, compile_pdf

_KITS = """
#let kit(one) = block(width: 100%, height: 118mm, stroke: fine, inset: 3mm, {
  grid(columns: (1fr, auto), align: horizon,
    text(size: 15pt, weight: "bold")[Kit for device #one.short],
    text(size: 11pt)[#one.seen, #one.owner])
  [#one.fault \\ Bench day: #one.day]
  if one.rows.len() == 0 [ #linebreak() No part needed. ] else {
    table(columns: (6mm, 20mm, 1fr, 44mm), stroke: ruled, inset: 1.3mm,
      row-head("", "part", "what", "from"),
      ..for row in one.rows { (tick, strong(row.part),
        [#row.what #for words in row.alike [ \\ *Look-alike:* #words ]], row.source) })
  }
  if one.uses != "" [ #text(size: 9pt, one.uses) \\ ]
  for words in one.closing [ *Before opening.* #words \\ ]
  for words in one.cautions [ *Caution.* #words \\ ]
  place(bottom + right, text(size: 9pt)[#one.number · kitted by #line-for(26mm)])
})
#grid(columns: (1fr,), row-gutter: 4mm, ..d.kits.map(kit))
"""

_DAYS = """
#for day in d.days [
  #block(sticky: true, above: 3mm,
    text(size: 14pt, weight: "bold")[#day.title #h(1fr) #day.load])
  #for words in day.before [ #words \\ ]
  #table(columns: (6mm, 13mm, 13mm, 27mm, 1fr, 20mm, 23mm), stroke: ruled,
    inset: 1.5mm, align: (center, right, right, left, left, left, left),
    row-head("", "from", "device", "which", "work, and what to observe", "begin by",
      "due"),
    ..for row in day.rows { (tick, row.start,
      text(size: 13pt, weight: "bold", row.name),
      [#row.seen \\ #text(size: 9pt)[#row.owner \\ #row.site]],
      block(breakable: false)[#text(size: 11pt, weight: "semibold", row.work)
        #text(size: 10pt)[ (#row.minutes min)]
        #for words in row.cautions [ \\ *Caution.* #words ]
        #for words in row.holds [ \\ – #words ]],
      row.begin-by, row.due) })
]
#v(3mm)
Begin by: the latest day on which this job alone can begin and still be in time, charged
too. \\
Nothing stays open over night: what is not finished is closed or covered where it can be
left, its tray counted and tomorrow's first action written down.
"""

_DONORS = """
#let card(one) = block(width: 148mm, height: 105mm, stroke: fine, inset: 3mm,
  breakable: false, {
  text(size: 15pt, weight: "bold")[Donor #one.short]
  h(1fr)
  one.seen
  [ \\ #one.owner, #one.serial \\ Property of #one.customer. Parts: #one.use. \\
    #one.why]
  table(columns: (1fr, 17mm, 11mm, 10mm, 27mm, 14mm, 20mm), stroke: ruled,
    inset: 1.1mm, align: (left, center, center, center, left, left, left),
    row-head("part", "untested", "good", "bad", "tested how, by", "for no.",
      "taken on"),
    ..for row in one.rows { (row.at(0), tick, tick, tick, [], row.at(1), []) })
  [*Never harvested:* packs and storage.]
  for words in one.cautions [ \\ *Caution.* #words ]
  place(bottom)[
    Data-bearing part: #tick~returned #h(1fr) #tick~clear #h(1fr) #tick~purge
    #h(1fr) #tick~destroy \\
    its serial #line-for(30mm) by #line-for(18mm) \\
    carcass to #line-for(30mm) receipt #line-for(18mm)]
})
#grid(columns: (148mm,), row-gutter: 5mm, ..d.cards.map(card))
"""


def kit_lists(answer: BatchAnswer, page: Page) -> bytes:
    """
    Set a kit list of half a page for every device that is mended.

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
    uses = answer.supply.by_device
    slots = {slot.job: slot for slot in answer.planned.plan_in_use.slots}
    devices = [d for d in answer.devices if d.is_mended and d.name in slots]
    devices.sort(key=lambda d: (slots[d.name].day, d.name))
    data: dict[str, Any] = {
        "head": batch_head(answer, "Kit lists", page, CODES_WORDS),
        "kits": [
            _device(answer, device)
            | {
                "day": f"{day_words(answer, slots[device.name].day)}, "
                f"{_name(answer, slots[device.name].person)}",
                "rows": [_kit_row(answer, use) for use in uses.get(device.name, ())],
                "cautions": cautions_for(answer, device),
                "uses": _sentence(str(device.uses)),
                "closing": [_sentence(words) for words in device.lacks],
            }
            for device in devices
        ],
    }
    return compile_pdf(_KITS, data, is_tagged=True)


def day_sheet(answer: BatchAnswer, person: str, page: Page) -> bytes:
    """
    Set what one person does on every day, in order.

    Parameters
    ----------
    answer
        The batch.
    person
        Role of the person.
    page
        Size of the paper.

    Returns
    -------
    bytes
        The PDF; equal arguments give equal bytes.
    """
    own = [s for s in answer.planned.plan_in_use.slots if s.person == person]
    taken = answer.planned.problem_in_use.taken
    days = sorted({s.day for s in own} | {day for who, day in taken if who == person})
    sheet = _Sheet(
        answer,
        person,
        latest_starts(answer.planned.problem_best, answer.planned.plan_in_use),
    )
    data: dict[str, Any] = {
        "head": batch_head(
            answer, f"Day sheet, {_name(answer, person)}", page, CODES_WORDS
        ),
        "days": [_day(sheet, day, [s for s in own if s.day == day]) for day in days],
    }
    return compile_pdf(_DAYS, data, is_tagged=True)


def donor_cards(answer: BatchAnswer, page: Page) -> bytes | None:
    """
    Set a card for every donor.

    Parameters
    ----------
    answer
        The batch.
    page
        Size of the paper.

    Returns
    -------
    bytes or None
        The PDF; ``None`` if nothing is stripped.
    """
    donors = [device for device in answer.devices if not device.is_mended]
    if not donors:
        return None
    terms = answer.batch.terms
    wanted = {
        (use.donor, use.demand.part): use.demand.device
        for use in answer.supply.uses
        if use.donor
    }
    use = {"same customer": "for this customer only", "any": "for anybody"}
    data: dict[str, Any] = {
        "head": batch_head(answer, "Donor cards", page, CODES_WORDS),
        "cards": [
            _device(answer, device)
            | {
                "customer": terms.customer.name,
                "use": use.get(terms.donors.use, "not to be used"),
                "why": device.decision.reason,
                "rows": _donor_rows(answer, device, wanted),
                "cautions": cautions_for(answer, device)[:2],
            }
            for device in donors
        ],
    }
    return compile_pdf(_DONORS, data, is_tagged=True)


def _device(answer: BatchAnswer, device: DecidedDevice) -> dict[str, Any]:
    number = number_of(answer, device)
    return {
        "number": number,
        "short": short_number(answer, device),
        "seen": seen(device),
        "owner": owner_number(device),
        "serial": serial_number(device),
        "fault": fault_words(answer, device),
    }


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}." if words else ""


def _is_other(unit: str) -> bool:
    """Say whether a unit must be told: pieces are what everybody takes it for."""
    return unit != "piece"


def _kit_row(answer: BatchAnswer, use: Use) -> dict[str, Any]:
    part = answer.batch.parts[use.demand.part]
    source = f"shelf {part.place}".strip()
    if use.source == "donor":
        source = f"donor {use.donor}, once it has passed its test"
    elif use.source == "order" and part.is_sold_no_more:
        source = "sold no more, none is left"
    elif use.source == "order":
        source = f"parcel, {day_words(answer, use.ready_day)}"
    return {
        "part": part.part,
        "what": part.description + (f", 1 {part.unit}" if _is_other(part.unit) else ""),
        "alike": look_alikes(answer, part.part),
        "source": source,
    }


def _name(answer: BatchAnswer, role: str) -> str:
    return answer.batch.people[role].name


def _clock(ticks: int) -> str:
    hours, minutes = divmod(ticks // TICKS, 60)
    return f"{hours} h {minutes:02d}"


@dataclass(frozen=True)
class _Sheet:
    """Whose day sheet it is, and by when each job must begin."""

    answer: BatchAnswer
    person: str
    latest: Mapping[int, Moment]


def _day(sheet: _Sheet, day: int, slots: Iterable[Slot]) -> dict[str, Any]:
    answer, person = sheet.answer, sheet.person
    in_order = sorted(slots, key=lambda slot: slot.start_ticks)
    taken = answer.planned.problem_in_use.taken.get((person, day), 0)
    end = max([taken, *(slot.end_ticks for slot in in_order)])
    before = []
    if taken:
        before.append(
            f"First: receive, identify, label, weigh up and pre-check the batch "
            f"({taken / TICKS:g} min), isolate before anything else what is held."
        )
    return {
        "title": full_date(answer, day) + f", day {day}",
        "load": f"{end / TICKS:.0f} of {answer.batch.people[person].minutes_a_day} min",
        "before": before,
        "rows": [_day_row(sheet, answer.by_name[slot.job], slot) for slot in in_order],
    }


def _day_row(sheet: _Sheet, device: DecidedDevice, slot: Slot) -> dict[str, Any]:
    answer = sheet.answer
    work = fault_words(answer, device)
    if not device.is_mended:
        work = f"strip as a donor ({work})"
    done = ""
    if slot.done_day != slot.day:
        done = f"; charged on {day_words(answer, slot.done_day)}"
    return _device(answer, device) | {
        "name": str(device.name),
        "start": _clock(slot.start_ticks),
        "site": device.line.site,
        "work": work + done,
        "minutes": f"{(slot.end_ticks - slot.start_ticks) / TICKS:.0f}",
        "cautions": cautions_for(answer, device),
        "holds": [str(hold) for hold in device.holds if not is_caution(hold)],
        "begin-by": _begin_words(sheet, slot),
        "due": _due_words(answer, device),
    }


def _begin_words(sheet: _Sheet, slot: Slot) -> str:
    if slot.job not in sheet.latest:
        return "any day"
    day, _ticks = sheet.latest[slot.job]
    words = _in_two_lines(sheet.answer, day)
    return f"{words}: late" if 0 < day < slot.day else words


def _in_two_lines(answer: BatchAnswer, day: int | None) -> str:
    """Write a day so that a narrow column parts it from its date and nowhere else."""
    words = day_words(answer, day)
    return words.replace(" ", "\N{NO-BREAK SPACE}").replace(",\N{NO-BREAK SPACE}", ", ")


def _due_words(answer: BatchAnswer, device: DecidedDevice) -> str:
    if device.is_mended:
        return _in_two_lines(answer, device.line.due_day)
    is_first = device.name in answer.supply.donors.strips
    return "first: parts waited for" if is_first else "when there is time"


def _donor_rows(
    answer: BatchAnswer, device: DecidedDevice, wanted: dict[tuple[int, str], int]
) -> list[tuple[str, str]]:
    return [
        (
            answer.batch.parts[offer.part].description,
            str(wanted.get((device.name, offer.part), "")),
        )
        for offer in answer.supply.offers
        if offer.donor == device.name
    ]
