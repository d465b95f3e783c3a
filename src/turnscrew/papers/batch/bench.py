"""Which papers lie on the bench: kits, days and donors?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.model.given_piece import GivenPiece
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.schedule.latest import Moment, latest_starts
from turnscrew.core.schedule.plan import Slot
from turnscrew.core.schedule.problem import TICKS
from turnscrew.core.stock.demand import Use
from turnscrew.papers.batch.order_list import look_alikes
from turnscrew.papers.batch.speech import Speech, batch_pdf, speech_of
from turnscrew.papers.batch.words import (
    CODES_WORDS,
    batch_head,
    cautions_for,
    day_words,
    faults_written,
    full_date,
    hold_written,
    is_caution,
    number_of,
    owner_written,
    seen_written,
    serial_written,
    short_number,
)
from turnscrew.papers.page import Page
from turnscrew.papers.set_aside import written

_KITS = """
#let kit(one) = at-least(190mm, 118mm, {
  grid(columns: (1fr, auto), align: horizon,
    text(size: 15pt, weight: "bold")[#w("Kit for device") #one.short],
    text(size: 11pt)[#one.seen, #one.owner])
  [#one.fault \\ #w("Bench day:") #one.day]
  if one.rows.len() == 0 [ #linebreak() #w("No part needed.") ] else {
    table(columns: (6mm, 20mm, 1fr, 44mm), stroke: ruled, inset: 1.3mm,
      row-head("", w("part|number"), w("what"), w("from|where")),
      ..for row in one.rows { (tick, strong(row.part),
        [#row.what #for words in row.alike [ \\ *#w("Look-alike:")* #words ]],
        row.source) })
  }
  if one.uses != "" [ #text(size: 9pt, one.uses) \\ ]
  for words in one.closing [ *#w("Before opening.")* #words \\ ]
  for words in one.cautions [ *#w("Caution.")* #words \\ ]
}, align(right, text(size: 9pt)[
    #one.number · #w("kitted by") #line-for(26mm)]))
#grid(columns: (1fr,), row-gutter: 4mm, ..d.kits.map(kit))
"""

_DAYS = """
#for day in d.days [
  #block(sticky: true, above: 3mm,
    text(size: 14pt, weight: "bold")[#day.title #h(1fr) #day.load])
  #for words in day.before [ #words \\ ]
  #table(columns: (6mm, 13mm, 13mm, 27mm, 1fr, 20mm, 23mm), stroke: ruled,
    inset: 1.5mm, align: (center, right, right, left, left, left, left),
    row-head("", w("from|time"), w("device"), w("which"),
      w("work, and what to observe"), w("begin by"), w("due")),
    ..for row in day.rows { (tick, row.start,
      text(size: 13pt, weight: "bold", row.name),
      [#row.seen \\ #text(size: 9pt)[#row.owner \\ #row.site]],
      block(breakable: false)[#text(size: 11pt, weight: "semibold", row.work)
        #text(size: 10pt)[ (#row.minutes min)]
        #for words in row.cautions [ \\ *#w("Caution.")* #words ]
        #for words in row.holds [ \\ – #words ]],
      row.begin-by, row.due) })
]
#v(3mm)
#for words in d.closing [ #words \\ ]
"""

_CLOSING = (
    "Begin by: the latest day on which this job alone can begin and still be in time, "
    "charged too.",
    "Nothing stays open over night: what is not finished is closed or covered where it "
    "can be left, its tray counted and tomorrow's first action written down.",
)

_DONORS = """
#let card(one) = at-least(148mm, 105mm, {
  text(size: 15pt, weight: "bold")[#w("Donor") #one.short]
  h(1fr)
  one.seen
  [ \\ #one.owner, #one.serial \\ #w("Property of") #one.customer. #w("Parts:")
    #one.use. \\ #one.why]
  table(columns: (1fr, 21mm, 11mm, 10mm, 26mm, 13mm, 23mm), stroke: ruled,
    inset: 1.1mm, align: (left, center, center, center, left, left, left),
    row-head(w("part"), w("untested"), w("good"), w("bad"), w("tested how, by"),
      w("for no."), w("taken on")),
    ..for row in one.rows { (row.at(0), tick, tick, tick, [], row.at(1), []) })
  [*#w("Never harvested:")* #w("packs and storage.")]
  for words in one.cautions [ \\ *#w("Caution.")* #words ]
}, [
    #w("Data-bearing part:") #tick~#w("returned") #h(1fr) #tick~#w("clear") #h(1fr)
    #tick~#w("purge") #h(1fr) #tick~#w("destroy") \\
    #w("its serial") #line-for(30mm) #w("by") #line-for(18mm) \\
    #w("carcass to") #line-for(30mm) #w("receipt") #line-for(18mm)])
#grid(columns: (148mm,), row-gutter: 5mm, ..d.cards.map(card))
"""


def kit_lists(answer: BatchAnswer, page: Page) -> bytes | None:
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
    bytes or None
        The PDF; ``None`` if nothing is mended by the plan.
    """
    slots = {slot.job: slot for slot in answer.planned.plan_in_use.slots}
    devices = [d for d in answer.devices if d.is_mended and d.name in slots]
    if not devices:
        return None
    speech = speech_of(answer, page)
    uses = answer.supply.by_device
    devices.sort(key=lambda d: (slots[d.name].day, d.name))
    data: dict[str, Any] = {
        "head": batch_head(answer, "Kit lists", page, CODES_WORDS),
        "kits": [
            _device(answer, device)
            | {
                "day": f"{speech.told(day_words(answer, slots[device.name].day))}, "
                f"{_name(answer, slots[device.name].person)}",
                "rows": [_kit_row(speech, use) for use in uses.get(device.name, ())],
                "cautions": cautions_for(answer, device),
                "uses": _sentence(speech, str(device.uses)),
                "closing": [_sentence(speech, words) for words in device.lacks],
            }
            for device in devices
        ],
    }
    return batch_pdf(_KITS, data, speech)


def day_sheet(answer: BatchAnswer, person: str, page: Page) -> bytes | None:
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
    bytes or None
        The PDF; ``None`` if nothing is planned for that person.
    """
    own = [s for s in answer.planned.plan_in_use.slots if s.person == person]
    taken = answer.planned.problem_in_use.taken
    days = sorted({s.day for s in own} | {day for who, day in taken if who == person})
    if not days:
        return None
    sheet = _Sheet(
        speech_of(answer, page),
        person,
        latest_starts(answer.planned.problem_best, answer.planned.plan_in_use),
    )
    data: dict[str, Any] = {
        "head": batch_head(
            answer, f"Day sheet, {_name(answer, person)}", page, CODES_WORDS
        ),
        "days": [_day(sheet, day, [s for s in own if s.day == day]) for day in days],
        "closing": (*_CLOSING, *answer.batch.notes),
    }
    return batch_pdf(_DAYS, data, sheet.speech)


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
                "customer": written(terms.customer.name),
                "use": use.get(terms.donors.use, "not to be used"),
                "why": device.decision.reason,
                "rows": _donor_rows(answer, device, wanted),
                "cautions": cautions_for(answer, device),
            }
            for device in donors
        ],
    }
    return batch_pdf(_DONORS, data, speech_of(answer, page))


def _device(answer: BatchAnswer, device: DecidedDevice) -> dict[str, Any]:
    number = number_of(answer, device)
    return {
        "number": number,
        "short": short_number(answer, device),
        "seen": seen_written(device),
        "owner": owner_written(device),
        "serial": serial_written(device),
        "fault": faults_written(answer, device),
    }


def _sentence(speech: Speech, words: str) -> str:
    told = speech.says(words)
    return written(f"{told[0].upper()}{told[1:]}.") if told else ""


def _is_other(unit: str) -> bool:
    """Say whether a unit must be told: pieces are what everybody takes it for."""
    return unit != "piece"


def _kit_row(speech: Speech, use: Use) -> dict[str, Any]:
    answer = speech.answer
    part = answer.batch.parts[use.demand.part]
    return {
        "part": written(part.part),
        "what": written(
            part.description + (f", 1 {part.unit}" if _is_other(part.unit) else "")
        ),
        "alike": look_alikes(answer, part.part),
        "source": _given_from(use.given) or _planned_from(answer, use),
    }


def _given_from(piece: GivenPiece | None) -> str:
    """Say where a piece lies that was given; nothing of one that is planned only."""
    if piece is None:
        return ""
    donor = written(piece.donor_words)
    if piece.is_fitted:
        return f"fitted already, from donor {donor}" if donor else "fitted already"
    if not donor:
        return ""
    where = f": {written(piece.place)}" if piece.place else ""
    return f"donor {donor}, tested and good{where}"


def _planned_from(answer: BatchAnswer, use: Use) -> str:
    part = answer.batch.parts[use.demand.part]
    if use.source == "donor":
        return f"donor {use.donor}, once it has passed its test"
    if use.source == "order":
        if part.is_sold_no_more:
            return "sold no more, none is left"
        return f"parcel, {day_words(answer, use.ready_day)}"
    return f"shelf {written(part.place)}".strip()


def _name(answer: BatchAnswer, role: str) -> str:
    return written(answer.batch.people[role].name)


def _clock(ticks: int) -> str:
    hours, minutes = divmod(ticks // TICKS, 60)
    return f"{hours} h {minutes:02d}"


@dataclass(frozen=True)
class _Sheet:
    """Whose day sheet it is, and by when each job must begin."""

    speech: Speech
    person: str
    latest: Mapping[int, Moment]

    @property
    def answer(self) -> BatchAnswer:
        """Give the batch."""
        return self.speech.answer


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
        "title": f"{full_date(answer, day)}, day {day}",
        "load": f"{end / TICKS:.0f} of {answer.batch.people[person].minutes_a_day} min",
        "before": before,
        "rows": [_day_row(sheet, answer.by_name[slot.job], slot) for slot in in_order],
    }


def _day_row(sheet: _Sheet, device: DecidedDevice, slot: Slot) -> dict[str, Any]:
    answer, told = sheet.answer, sheet.speech.told
    work = told(faults_written(answer, device))
    if not device.is_mended:
        work = told(f"strip as a donor ({work})")
    done = ""
    if slot.done_day != slot.day:
        done = f"; charged on {told(day_words(answer, slot.done_day))}"
    return _device(answer, device) | {
        "name": str(device.name),
        "start": _clock(slot.start_ticks),
        "site": written(device.line.site),
        "work": work + done,
        "minutes": str(slot.minutes),
        "cautions": cautions_for(answer, device),
        "holds": [hold_written(one) for one in device.holds if not is_caution(one)],
        "begin-by": _begin_words(sheet, slot),
        "due": _due_words(sheet.speech, device),
    }


def _begin_words(sheet: _Sheet, slot: Slot) -> str:
    if slot.job not in sheet.latest:
        return "any day"
    day, _ticks = sheet.latest[slot.job]
    words = _in_two_lines(sheet.speech, day)
    return f"{words}: late" if 0 < day < slot.day else words


def _in_two_lines(speech: Speech, day: int | None) -> str:
    """Write a day so that a narrow column parts it from its date and nowhere else."""
    words = speech.says(day_words(speech.answer, day))
    words = words.replace(" ", "\N{NO-BREAK SPACE}")
    return written(words.replace(",\N{NO-BREAK SPACE}", ", "))


def _due_words(speech: Speech, device: DecidedDevice) -> str:
    if device.is_mended:
        return _in_two_lines(speech, device.line.due_day)
    is_first = device.name in speech.answer.supply.donors.strips
    return "first: parts waited for" if is_first else "when there is time"


def _donor_rows(
    answer: BatchAnswer, device: DecidedDevice, wanted: dict[tuple[int, str], int]
) -> list[tuple[str, str]]:
    return [
        (
            written(answer.batch.parts[offer.part].description),
            str(wanted.get((device.name, offer.part), "")),
        )
        for offer in answer.supply.offers
        if offer.donor == device.name
    ]
