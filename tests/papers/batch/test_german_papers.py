"""Do the papers of a batch speak German, with the same figures and names?"""

import random
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pypdfium2
import pytest

from paper_field import EDGE_MM, SHEET_MM, beyond_field_mm, size_mm
from papers.batch.test_batch_papers import (
    ANSWER,
    KNOWN,
    PAPERS,
    gray,
    reckoned,
    words,
)
from random_batches import BROKEN, drawn_batch
from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.german import GERMAN_BATCH
from turnscrew.core.model.hold import Hold
from turnscrew.core.model.job_state import ENDED, STATES
from turnscrew.core.model.notation import Notation
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.core.model.terms import Tax
from turnscrew.core.photo.faces import DAMAGE, MISSING, faces_of
from turnscrew.core.price.limits import device_minor
from turnscrew.core.reconcile.remarks import (
    DATA_HOLD,
    GLASS_HOLD,
    LIQUID_HOLD,
    PACK_HOLD,
    remark_holds,
)
from turnscrew.flows.batch.whole import Effort, batch_reckoned
from turnscrew.papers.batch.approval import approval_text
from turnscrew.papers.batch.beside import Beside
from turnscrew.papers.batch.evidence import evidence
from turnscrew.papers.batch.hand_back import HandBack, hand_back_note
from turnscrew.papers.batch.receipt import receipt
from turnscrew.papers.batch.speech import speech_of
from turnscrew.papers.batch.trade import Sent, invoice
from turnscrew.papers.page import Page, Paper
from turnscrew.papers.set_aside import plain, written

A4 = Paper("a4", language="de")
LETTER = Paper("letter", language="de")
SPEECH = speech_of(ANSWER, A4)

HAND_BACK = HandBack(
    on=date(2027, 2, 4),
    taken_by="Ms Example",
    lines=[1, 2],
    goes_with={1: f"1 {written('adapter')}, 2 {written('dock plug')}"},
    stays=[
        f"3: {written('V80 TV8-11676')}, awaiting part, {written('glass of 1.5 mm')}, "
        "until 09 Feb 2027",
        f"4: {written('V80 TV8-16846')}, packed",
    ],
    note="bag 2.1",
    adapters={1: ("adapter: fit by a look and 19.05 V read at 2.3 A, look again by "
                  "2028-02-04",)},
)  # fmt: skip

BESIDE = replace(
    KNOWN,
    arrival={1: f"2 on arrival: {written('lid. Wet')}; {written('base')}"},
    data={1: f"must not be started, until 2027-03-01; {written('Ms Example')}"},
    condition={1: f"gap of the case 0.25 mm; lid: dent, {written('deep; long')}"},
)

ALL = {
    **PAPERS,
    "hand-back note": lambda a, p: hand_back_note(a, p, HAND_BACK),
    "evidence with answers": lambda a, p: evidence(a, p, BESIDE),
    "receipt with what is known": lambda a, p: receipt(a, p, BESIDE),
}


def made(name: str, page: Page = A4, answer: BatchAnswer = ANSWER) -> bytes:
    return usual(name, page) if answer is ANSWER else made_anew(name, page, answer)


def made_anew(name: str, page: Page, answer: BatchAnswer) -> bytes:
    pdf = ALL[name](answer, page)
    assert pdf is not None
    return pdf


@cache
def usual(name: str, page: Page) -> bytes:
    return made_anew(name, page, ANSWER)


def texts_in(value: Any) -> Iterator[str]:
    """Give every text of a value, and of what it is made of."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from texts_in(key)
            yield from texts_in(inner)
    elif isinstance(value, (list, tuple, frozenset)):
        for inner in value:
            yield from texts_in(inner)
    elif hasattr(value, "__dataclass_fields__"):
        yield from texts_in(vars(value))


def words_of(texts: Iterator[str]) -> set[str]:
    found = (re.findall(r"[^\W\d_]{2,}", plain(text)) for text in texts)
    return {word for some in found for word in some}


OWN = words_of(texts_in(ANSWER.batch)) | words_of(texts_in((HAND_BACK, BESIDE)))
GERMAN_WORDS = words_of(iter(GERMAN_BATCH.values()))
ON_BOTH = {"Feb"}
"""Words that German and English share, and that no table holds."""


@pytest.mark.parametrize("name", ALL)
def test_it_leaves_no_sentence_in_english_and_marks_none_as_unknown(name) -> None:
    english, german = words(made(name, "a4")), words(made(name))
    both = words_of(iter([english])) & words_of(iter([german]))

    assert english != german
    assert "„" not in german
    assert set() == both - OWN - GERMAN_WORDS - ON_BOTH


@pytest.mark.parametrize("seed", range(16))
def test_it_says_what_is_reckoned_of_batches_drawn_at_random(seed) -> None:
    batch, what_if = drawn_batch(ANSWER.batch, seed)
    draw = random.Random(seed)
    effort = Effort(0.05, 5, lambda: draw.gauss(0, 1))
    answer = batch_reckoned(batch, what_if, lambda _line: None, effort)

    lines = [device.name for device in answer.devices]
    given = replace(HAND_BACK, lines=lines, goes_with={}, adapters={})
    papers = {**ALL, "hand-back note": lambda a, p: hand_back_note(a, p, given)}
    for name, make in papers.items():
        english, german = (make(answer, page) for page in ("a4", A4))
        if english is None or german is None:
            assert german is english
            continue
        assert "„" not in words(german), name
        assert None is BROKEN.search(words(english)), name


def figures(text: str) -> Counter[int]:
    """Count the numbers of a paper, but for what head and foot repeat."""
    bare = re.sub(r"(page|Seite) \d+ (of|von) \d+", "", text)
    bare = bare.replace(ANSWER.batch.terms.batch, "")
    # German names the month of a date, which may be torn at its hyphens in English.
    bare = re.sub(r"(20\d\d)- ?[01]\d- ?([0-3]\d)", r"\1 \2", bare)
    return Counter(map(int, re.findall(r"\d+", bare)))


@pytest.mark.parametrize("name", ALL)
def test_every_figure_is_that_of_the_english_paper(name) -> None:
    assert figures(words(made(name, "a4"))) == figures(words(made(name)))


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("page", [A4, LETTER])
def test_nothing_is_drawn_outside_the_field_in_german(name, page) -> None:
    for sheet in pypdfium2.PdfDocument(made(name, page)):
        assert SHEET_MM[page.size] == size_mm(sheet)
        assert gray(sheet, 1.5).min() < 250
        assert beyond_field_mm(sheet, 1.5) <= EDGE_MM


@pytest.mark.parametrize("name", ALL)
def test_two_runs_give_equal_bytes_in_german(name) -> None:
    assert made(name) == made_anew(name, A4, ANSWER)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("receipt", "Empfangsschein"),
        ("receipt", "Erhalten am Mo 1. Feb. 2027 von Sallowmere Home-Nursing"),
        ("receipt", "Niemand sieht Gespeichertes an"),
        ("receipt", "Zustand case gap 5 mm, warm"),
        ("receipt with what is known", "Fotos 2 bei Ankunft: lid. Wet; base"),
        (
            "receipt with what is known",
            "entschieden: darf nicht gestartet werden, bis 1. März 2027; Ms Example",
        ),
        ("receipt with what is known", "Spalt am Gehäuse 0,25 mm; Deckel: Delle, deep"),
        ("approval message", "Kostenvoranschlag, Freigabe erbeten"),
        ("approval message", "mehr kostet als die Grenze von 95,00 cu"),
        ("approval message", "Alle 8 957,78"),
        ("invoice", "zu zahlen 3.712,18"),
        ("invoice", "Rückläufer: keys dead after gel spill; ohne Berechnung"),
        ("invoice", "Gutschrift: Fan, verwendet für Gerät 42: −12,74"),
        ("hand-back note", "Zurückgegeben am 4. Feb. 2027 an Ms Example für"),
        ("hand-back note", "1 adapter, 2 dock plug"),
        ("hand-back note", "wartet auf Ersatzteil, glass of 1.5 mm, bis 9. Feb. 2027"),
        ("hand-back note", "19,05 V gemessen bei 2,3 A, wieder ansehen bis 4. Feb."),
        ("hand-back note", "bag 2.1"),
        ("evidence with answers", "weil: locked by the owner"),
        ("evidence with answers", "2. Feb. 2027 10:05"),
        ("order list", "sie ersparen 111,00 cu"),
        ("day sheet, lead", "Aufgeblähter oder unbekannter Akku: niemals drücken"),
        ("day sheet, helper", "Nichts bleibt über Nacht offen"),
        ("kit lists", "Spender 34, sobald geprüft und gut"),
        ("isolation labels", "nicht einschalten, nicht laden, nicht drücken"),
        ("isolation labels", "nur: Imke Vasterling"),
        ("donor cards", "Nie entnommen: Akkus und Speicher"),
        ("donor cards", "ungeprüft gut nicht gut wie geprüft, wer für Nr. entnommen"),
        ("donor cards", "Zuerst den Akku abstecken, bevor etwas erwärmt"),
        ("batch sheet", "Ausführung 2, auf der Liste rev 1"),
        ("batch sheet", "18 und 49"),
        ("batch sheet", "Rechnung 3.712,18"),
        ("batch sheet", "1.254"),
        ("batch sheet", "6. Okt. 2026: repariert von dieser Werkstatt"),
    ],
)
def test_it_says_in_german_what_it_must(name, told) -> None:
    assert told in words(made(name))


@pytest.mark.parametrize("name", ALL)
def test_no_german_paper_promises_what_it_cannot(name) -> None:
    told = words(made(name)).lower()

    assert not {"safe", "sicher", "geprüft nach norm"} & set(told.split())


def test_the_message_to_send_is_german_too() -> None:
    text = approval_text(ANSWER, A4)

    assert text is not None
    assert "Alle 8: 957,78 cu" in text
    assert "  4  SHN-0347  V80 2  Night team: front glass cracked; 116,12 cu;" in text
    assert "bis zum Morgen von Tag 4, Do 4. Feb." in text
    assert "„" not in text
    assert plain(text) == text


def test_what_is_not_pending_is_not_asked_in_german() -> None:
    answers = {n: True for n in (4, 11, 12, 26, 40, 44, 59, 60)}

    assert approval_text(reckoned(WhatIf(answers=answers)), A4) is None


def with_words(**changes: str) -> BatchAnswer:
    """Give the first device with other words of its customer."""
    first = ANSWER.devices[0]
    line = replace(first.line, **changes)
    return replace(ANSWER, devices=(replace(first, line=line),))


@pytest.mark.parametrize(
    "text",
    [
        "Nothing. See list 2.5 of 2026-10-06",
        "none",
        "received on 4 Feb; 1,234.56 paid",
        "no power",
        "Terms: as agreed. Nobody looks",
    ],
)
def test_what_a_person_wrote_stays_as_it_was_written(text) -> None:
    answer = with_words(reported=text, site=text, asset=text, serial=text)
    told = words(made("receipt", answer=answer))

    assert 4 <= told.count(text)


def test_an_order_keeps_its_points_and_a_tax_its_name() -> None:
    batch = ANSWER.batch
    taxes = (Tax("VAT of 2026-01-01", 7.7, ("labour", "parts")),)
    customer = replace(batch.terms.customer, order="27.014", contract="paper 1.2")
    terms = replace(batch.terms, customer=customer, taxes=taxes)
    answer = batch_reckoned(
        replace(batch, terms=terms), WhatIf(), lambda _line: None,
        Effort(0, 20, lambda: 0.0),
    )  # fmt: skip

    told = words(made("invoice", answer=answer))
    assert "für Auftrag 27.014" in told
    assert "Steuer (VAT of 2026-01-01 7,7 %)" in told
    assert "Zeile für Zeile" in told
    assert "Bedingungen: paper 1.2." in words(made("receipt", answer=answer))


def test_it_says_what_a_limit_with_tax_counts() -> None:
    batch = ANSWER.batch
    taxes = (Tax("tax", 10.0, ("labour", "parts")),)
    terms = replace(batch.terms, taxes=taxes, limits_with_tax=True)
    answer = batch_reckoned(
        replace(batch, terms=terms), WhatIf(), lambda _line: None,
        Effort(0, 20, lambda: 0.0),
    )  # fmt: skip
    [device] = [one for one in answer.pending if one.name == 4]
    counted = device_minor(device, terms)
    assert counted > device.decision.quote_minor

    text = approval_text(answer, A4)
    assert "als die Grenze von 95,00 cu mit Steuer oder" in text
    told = f"{counted // 100},{counted % 100:02}"
    assert "Mit Steuer, wie die Grenze sie zählt, Nr. " in text
    assert f" 4: {told}" in text


def test_an_invoice_that_was_sent_bears_its_days_in_german() -> None:
    sent = Sent("2027-12", date(2027, 2, 9), date(2027, 3, 11))
    told = words(invoice(ANSWER, A4, sent))

    assert "Rechnung 2027-12 für Auftrag SHN-27-014 9. Feb. 2027" in told
    assert "Zu zahlen bis 11. März 2027." in told


@pytest.mark.parametrize(
    ("chance", "english", "german"),
    [
        (1.0, "over 99 %", "über 99 %"),
        (0.001, "under 1 %", "unter 1 %"),
        (0.8, "80 %", "80 %"),
    ],
)
def test_no_day_that_was_played_is_told_as_certain(chance, english, german) -> None:
    planned = ANSWER.planned
    assert planned.promise is not None
    promise = replace(planned.promise, probability=chance, by_due=((6, chance),))
    answer = replace(ANSWER, planned=replace(planned, promise=promise))

    pdf = PAPERS["batch sheet"](answer, Paper("a4"))
    assert pdf is not None
    assert f"day 6: {english}" in words(pdf)
    assert f"with probability {english} (" in words(pdf)
    told = words(made("batch sheet", answer=answer))
    assert f"Tag 6: {german}" in told
    assert f"mit Wahrscheinlichkeit {german} (" in told


def test_the_decimal_sign_follows_the_workshop_in_german() -> None:
    pointed = Paper("a4", Notation(sign="point"), "de")

    told = words(made("invoice", pointed))
    assert "zu zahlen 3,712.18" in told
    assert "1,254" in words(made("batch sheet", pointed))
    told = words(made("hand-back note", pointed))
    assert "19.05 V gemessen bei 2.3 A" in told


def test_a_language_it_does_not_have_is_english() -> None:
    assert made("receipt", "a4") == made("receipt", Paper("a4", language="fr"))


def test_evidence_in_german_is_as_long_as_in_english() -> None:
    pages = [len(pypdfium2.PdfDocument(evidence(ANSWER, p))) for p in ("a4", A4)]

    assert pages[0] == pages[1]
    assert "getan von Imke Vasterling, Imke" in words(evidence(ANSWER, A4, KNOWN))


REMARKS = (
    "swollen", "smells", "locked", "bent", "private photo of", "wants the module back",
    "sharp splinter", "wet", "odd",
)  # fmt: skip
"""One remark for each kind of hold."""

MONEY = "1,234.56"
DEEP = written("deep; long")
MADE = (
    *(hold.says for remark in REMARKS for hold in remark_holds(remark)),
    *(hold.says for hold in (DATA_HOLD, GLASS_HOLD, LIQUID_HOLD)),
    *(f"3: {written('V80 x')}, {state}" for state in STATES if state not in ENDED),
    *(f"missing 2 {kind}" for kind in MISSING),
    *(f"lid: {kind}{words}" for kind in DAMAGE for words in ("", f", {DEEP}")),
    *sorted({
        f"{face.name}: dent"
        for what in ("clamshell", "tablet", "handheld", "box")
        for face in faces_of(what)
    }),
    "comeback, class ours: mended by this workshop (fan worn with C-FN) 30 days ago; "
    "same function though it passed at hand-back",
    "comeback, class user: mended by this workshop (fan worn) 3 days ago; same "
    "function, but the body shows fresh damage: bent, broken corner",
    "comeback, class part: written off by this workshop (no fault confirmed) 3 days "
    "ago; same function; C-FN, C-BT passed at hand-back",
    "possible, by owner's number (no serial on record): day not known, no fault found",
    "no quote: no part for L-FAN fits L240 B: confirm the revision",
    "no quote: the cost of C-FN is not known: find it out",
    "no quote yet: C-FN costs 0.00: give its cost, or confirm that it is free",
    "no quote: nobody has found its fault yet",
    "2 faults (L-BAT + L-FAN): stripped for the sum of them",
    "cannot be closed properly: T-AD Adhesive frame set single use is sold no more, "
    "and none is left: decide before opening",
    "duplicate serial: the same as 4, 5; look at the bodies again",
    "near serial: 4 and 5: neighbours swapped",
    "near serial: 4 and row 12 of the list: one character more",
    "differs from the list: serial TV8-1, on the list TV8-01 (leading zeros); asset "
    "blank, on the list SHN-1; the body is trusted",
    f"would pass the limit for the batch: {MONEY} of {MONEY} taken",
    f"Goes without asking, of the {MONEY} agreed for one day; {MONEY} left",
    "the limits are in kr and the prices in cu: ask for limits in cu",
    "no residual value known for V80 2: ask the list price and age",
    "used up by opening, by the opening path: T-AD, T-AD; 2 g of glue, not on the "
    "list; the terms name C-FN, the path does not use it up",
    "used up by opening, by the terms: nothing of the parts list",
    "optimal: at least 0 late, then 0 days, then 12 set-ups",
    "times spread by own times of 12 jobs, 0.31",
    "impossible: no way",
    "may be started to a test image, no further, by word of Ms Example, until "
    "2027-03-01: this has ended and allows nothing any more",
    "must not be started, until 2027-03-01",
    f"trial of 2.5 h, {written('full; hot')}, {written('flat')}, 21 °C; tried: "
    f"{written('all. Twice')}; the fault was not shown: {written('none')}",
    "adapter, piece 2: NOT HANDED BACK AS FIT (not fit: its rating does not fit: 19 V "
    "3.42 A for 20 V 2.25 A; output under load: found 18 V, wanted 18.05 to 19.95 V)",
    "adapter: NOT HANDED BACK AS FIT (not looked at: nobody looked at it)",
    "No. 4, 60: no price is known yet; asked later.",
    "adapter: NOT HANDED BACK AS FIT (passed at the bench; no reading is on record)",
    "adapter: NOT HANDED BACK AS FIT (not fit: that it belongs to its device: no)",
    "dock plug: cut, does not go back",
    f"3 on arrival: {written('lid; base')}; without words",
    "gap of the case 5.25 mm",
    f"credit: {written('Side: 2,5 inch')}, used for device 4",
)  # fmt: skip


@pytest.mark.parametrize("text", MADE)
def test_it_says_what_is_reckoned_of_a_device(text) -> None:
    told = SPEECH.says(text)

    assert "„" not in told
    assert plain(text) != told


@pytest.mark.parametrize(
    ("english", "german"),
    [
        (f"would pass the limit for one day: {MONEY} of 999.50 taken",
         "überstiege die Grenze für einen Tag: 1.234,56 von 999,50 beansprucht"),
        ("day 4, Thu 4 Feb", "Tag 4, Do 4. Feb."),
        ("day 300, Mon 27 Mar 2028", "Tag 300, Mo 27. März 2028"),
        ("No day can be promised: in too many plays work is left after workshop day "
         "20000.",
         "Kein Tag lässt sich zusagen: in zu vielen Durchläufen ist nach Werktag 20000 "
         "noch Arbeit übrig."),
        ("To be paid by 02 Mar 2027.", "Zu zahlen bis 2. März 2027."),
        ("2026-10-06: mended by this workshop (fan worn)",
         "6. Okt. 2026: repariert von dieser Werkstatt (fan worn)"),
        ("No. 4: within both limits.", "Nr. 4: innerhalb beider Grenzen."),
        ("Nobody wrote this here.", "„Nobody wrote this here.“"),
        (f"pack may be swollen ({written('5 mm. Warm')})",
         "Akku vielleicht aufgebläht (5 mm. Warm)"),
    ],
)  # fmt: skip
def test_it_reads_as_german_is_written(english, german) -> None:
    assert german == SPEECH.says(english)


def test_every_trial_of_a_device_is_said() -> None:
    trial = (
        f"trial of 2.5 h, {written('full')}, {written('flat. trial of one')}, 21 °C; "
        f"tried: {written('all')}; the fault was "
    )
    both = f"{trial}not shown. {trial}shown: {written('froze')}"
    pdf = evidence(ANSWER, A4, Beside(trials={10: both}))
    told = words(pdf)

    assert 2 == told.count("Probelauf von 2,5 h, full, flat. trial of one, 21 °C;")
    assert "der Fehler: nicht gezeigt. Probelauf" in told
    assert "der Fehler: gezeigt, froze" in told


def test_a_part_is_billed_under_the_words_it_had_then() -> None:
    item = next(one for one in ANSWER.items if len(one.charges) > 1)
    work, part, *rest = item.charges
    then = replace(part, says="Fan 2.5 of 2026-10-06. Old")
    old = replace(item, charges=(work, then, *rest))
    told = words(made("invoice", answer=replace(ANSWER, items=(old,))))

    assert "– Fan 2.5 of 2026-10-06. Old: " in told
    assert "min Arbeit: " in told


def test_a_hold_keeps_the_words_of_its_remark() -> None:
    hold = Hold("wet", "wet inside: no power", "stood in 2.5 cm. Not dry")
    device = replace(ANSWER.devices[0], holds=(hold,))
    told = words(made("evidence", answer=replace(ANSWER, devices=(device,))))

    assert "innen nass: nicht einschalten (stood in 2.5 cm. Not dry)" in told


@pytest.mark.parametrize(
    ("seen", "told"),
    [
        (
            "isolated: pack swollen, hot, or its state not known",
            "abgesondert: Akku aufgebläht, heiss oder in unbekanntem Zustand",
        ),
        ("isolated: ticks oddly", "abgesondert: ticks oddly"),
        (
            "by its tests the pack may be swollen",
            "nach seinen Prüfungen ist der Akku vielleicht aufgebläht",
        ),
    ],
)
@pytest.mark.parametrize("name", ["isolation labels", "evidence"])
def test_what_the_records_put_down_of_a_pack_is_german(name, seen, told) -> None:
    hold = replace(PACK_HOLD, seen=seen)
    device = replace(ANSWER.devices[0], holds=(hold,))

    assert f"({told})" in words(made(name, answer=replace(ANSWER, devices=(device,))))


@pytest.mark.parametrize(
    "why",
    [
        "same function though it passed at hand-back",
        "same function, and no passed check at hand-back on record",
        "same function, but the body shows fresh damage: cracked, wet",
        "same function; C-KBA passed at hand-back",
        "settled by the lead; same function though it passed at hand-back",
    ],
)
@pytest.mark.parametrize("rest", ["", "; besides L-FAN, to be agreed apart"])
def test_every_reason_of_a_comeback_is_german(why, rest) -> None:
    told = (
        f"comeback, class ours: mended by this workshop (keys dead) 3 days ago; {why}"
    )
    book = Phrasebook(GERMAN_BATCH, {"keys dead": "Tasten tot"})

    assert () == book.unsaid(told + rest)
    assert ("L-FAN, eigens zu vereinbaren" in book.says(told + rest)) == bool(rest)
