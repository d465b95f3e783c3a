"""Do the papers of a batch say what they must, fit their paper and stay the same?"""

import io
import random
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy
import pikepdf
import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from paper_field import EDGE_MM, SHEET_MM, beyond_field_mm, size_mm
from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.core.batch.question import Absence, WhatIf
from turnscrew.core.model.check_character import is_sound
from turnscrew.core.price.decide import Figures, decided
from turnscrew.core.schedule.latest import latest_starts
from turnscrew.errors import BadArgumentError
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.flows.batch.whole import Effort, batch_reckoned
from turnscrew.papers.batch.approval import approval_message, approval_text
from turnscrew.papers.batch.batch_sheet import batch_sheet
from turnscrew.papers.batch.bench import day_sheet, donor_cards, kit_lists
from turnscrew.papers.batch.beside import Beside, Picture, Tested
from turnscrew.papers.batch.codes import bars_svg
from turnscrew.papers.batch.every import every_paper
from turnscrew.papers.batch.evidence import evidence
from turnscrew.papers.batch.labels import device_labels, isolation_labels
from turnscrew.papers.batch.order_list import order_list
from turnscrew.papers.batch.receipt import receipt
from turnscrew.papers.batch.trade import invoice
from turnscrew.papers.batch.words import date_words, full_date
from turnscrew.papers.page import Page, Paper

FOLDER = Path(__file__).resolve().parents[3] / "examples" / "sallowmere"


def gray(sheet: pypdfium2.PdfPage, scale: float) -> numpy.ndarray:
    picture = sheet.render(scale=scale, grayscale=True).to_numpy()
    return picture.reshape(picture.shape[:2])


def reckoned(what_if: WhatIf | None = None) -> BatchAnswer:
    contents = {path.name: path.read_bytes() for path in FOLDER.iterdir()}
    draw = random.Random(1)
    return batch_reckoned(
        read_batch_folder(contents),
        what_if or WhatIf(),
        lambda _line: None,
        Effort(0, 20, lambda: draw.gauss(0, 1)),
    )


ANSWER = reckoned()

PAPERS: dict[str, Callable[[BatchAnswer, Page], bytes | None]] = {
    "batch sheet": lambda a, p: batch_sheet(a, p, [("L240 A: fan", "30 min", "20.6")]),
    "approval message": approval_message,
    "order list": order_list,
    "kit lists": kit_lists,
    "day sheet, lead": lambda a, p: day_sheet(a, "lead", p),
    "day sheet, helper": lambda a, p: day_sheet(a, "helper", p),
    "device labels": device_labels,
    "isolation labels": isolation_labels,
    "donor cards": donor_cards,
    "receipt": receipt,
    "invoice": invoice,
    "evidence": evidence,
}


LINES = read_batch_folder({p.name: p.read_bytes() for p in FOLDER.iterdir()})


def of_lines(*names: int) -> BatchAnswer:
    """Reckon the example as if only these devices had come."""
    lines = tuple(line for line in LINES.lines if line.line in names)
    batch = replace(LINES, lines=lines)
    return batch_reckoned(batch, WhatIf(), lambda _line: None, Effort(0, 0, lambda: 0))


def made(name: str, page: Page = "a4", answer: BatchAnswer = ANSWER) -> bytes:
    pdf = PAPERS[name](answer, page)
    assert pdf is not None
    return pdf


def words(pdf: bytes) -> str:
    pages = [p.get_textpage().get_text_bounded() for p in pypdfium2.PdfDocument(pdf)]
    return " ".join(" ".join(pages).split())


@pytest.mark.parametrize("name", PAPERS)
@pytest.mark.parametrize("page", ["a4", "letter"])
def test_nothing_is_drawn_outside_the_field_of_both_papers(name, page) -> None:
    for sheet in pypdfium2.PdfDocument(made(name, page)):
        assert SHEET_MM[page] == size_mm(sheet)
        assert gray(sheet, 1.5).min() < 250
        assert beyond_field_mm(sheet, 1.5) <= EDGE_MM


@pytest.mark.parametrize("name", PAPERS)
def test_every_paper_is_black_on_white(name) -> None:
    for sheet in pypdfium2.PdfDocument(made(name)):
        picture = sheet.render(scale=1).to_numpy().astype(int)
        assert (picture.max(axis=2) - picture.min(axis=2)).max() <= 8


@pytest.mark.parametrize("name", PAPERS)
def test_every_paper_is_tagged_and_titled(name, tmp_path) -> None:
    path = tmp_path / "paper.pdf"
    path.write_bytes(made(name))
    with pikepdf.open(path) as pdf:
        assert "/StructTreeRoot" in pdf.Root
        assert bool(pdf.Root.MarkInfo.Marked)
        assert str(pdf.docinfo["/Title"])


@pytest.mark.parametrize("name", PAPERS)
def test_two_runs_give_equal_bytes(name) -> None:
    assert made(name) == made(name, answer=reckoned())


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("batch sheet", "SHN-0688 (row "),
        ("batch sheet", "revision 2, on the list rev 1"),
        ("batch sheet", "18 and 49"),
        ("batch sheet", "Goes without asking; no cap agreed for the batch"),
        ("batch sheet", "27: no asset"),
        ("batch sheet", "3,712.18"),
        ("batch sheet", "1,274.97"),
        ("batch sheet", "L240 A: fan 30 min 20.6"),
        ("approval message", "All 8 957.78"),
        ("approval message", "only the lines you name are released"),
        ("approval message", "No. 40, 59: needed on the spot"),
        ("order list", "322.00"),
        ("order list", "they save 111.00 cu"),
        ("order list", "count the contacts of the key tail: 26 or 30"),
        ("order list", "tail of the touch layer: short or long"),
        ("kit lists", "donor 34, once it has passed its test"),
        ("kit lists", "Look-alike: not T-GL1"),
        ("day sheet, lead", "never press, bend, pierce, charge or power it"),
        ("day sheet, lead", "Follow local codes"),
        ("day sheet, helper", "Nothing stays open over night"),
        ("isolation labels", "only: Imke Vasterling"),
        ("isolation labels", "case gap 5 mm, warm"),
        ("donor cards", "Never harvested: packs and storage"),
        ("receipt", "adapter"),
        ("receipt", "Nobody looks at anything stored"),
        ("invoice", "to pay 3,712.18"),
        ("invoice", "comeback: keys dead after gel spill; no charge"),
        ("invoice", "credit: Fan"),
        ("day sheet, lead", "begin by"),
        ("day sheet, lead", "latest day on which this job alone can begin"),
        ("donor cards", "taken on"),
        ("receipt", "condition case gap 5 mm, warm"),
        ("receipt", "missing feet, screws, trims"),
        ("evidence", "not possible, because"),
        ("evidence", "no claim to any test standard"),
    ],
)
def test_it_says_what_it_must(name, told) -> None:
    assert told in words(made(name))


@pytest.mark.parametrize("name", PAPERS)
def test_no_paper_promises_what_it_cannot(name) -> None:
    told = words(made(name)).lower()

    assert "tested to" not in told
    assert not {"safe"} & set(told.split())


def test_every_battery_job_is_on_the_sheet_of_who_may_do_it() -> None:
    assert "swollen or worn pack" in words(made("day sheet, lead"))
    assert "swollen or worn pack" not in words(made("day sheet, helper"))


def test_every_label_can_be_read_by_scanner_and_phone() -> None:
    document = pypdfium2.PdfDocument(made("device labels"))
    found: dict[str, set[str]] = {"QR Code": set(), "Code 128": set()}
    for sheet in document:
        picture = gray(sheet, 300 / 72)
        for code in zxingcpp.read_barcodes(picture):
            kind = "QR Code" if "QR" in str(code.format) else "Code 128"
            found[kind].add(code.text)
    wanted = {f"270201{n:03d}" for n in range(1, 61)}

    for numbers in found.values():
        assert all(is_sound(number) for number in numbers)
        assert wanted == {number[:-1] for number in numbers}


def test_every_isolation_label_carries_its_device() -> None:
    document = pypdfium2.PdfDocument(made("isolation labels"))
    numbers = {
        code.text[6:9]
        for sheet in document
        for code in zxingcpp.read_barcodes(gray(sheet, 300 / 72))
    }

    held = {d.name for d in ANSWER.devices if any("swollen" in str(h) for h in d.holds)}
    assert held == {int(number) for number in numbers}


def test_a_number_the_bars_cannot_hold_is_refused() -> None:
    with pytest.raises(BadArgumentError, match="wanted plain text"):
        bars_svg("é\u20ac", 5)


def test_the_message_to_send_says_the_same_as_its_paper() -> None:
    text = approval_text(ANSWER)

    assert text is not None
    for line in (4, 11, 12, 26, 40, 44, 59, 60):
        assert f"\n{line:>3}  SHN-" in text
    assert "All 8: 957.78 cu" in text


def without_price(answer: BatchAnswer, *lines: int) -> BatchAnswer:
    devices = tuple(
        replace(one, decision=replace(one.decision, quote_minor=None))
        if one.name in lines
        else one
        for one in answer.devices
    )
    return replace(answer, devices=devices)


def test_nobody_is_asked_about_what_has_no_price_yet() -> None:
    answer = without_price(ANSWER, 4, 60)
    text = approval_text(answer)

    assert text is not None
    assert "\n  4  SHN-" not in text
    assert "All 6: " in text
    assert "No. 4, 60: no price is known yet; asked later." in text
    assert "No. 4, 60: no price is known yet; asked later." in words(
        approval_message(answer, "a4")
    )
    nothing = without_price(ANSWER, 4, 11, 12, 26, 40, 44, 59, 60)
    assert approval_message(nothing, "a4") is None


def test_what_has_nothing_to_say_is_not_written() -> None:
    answers = {n: True for n in (4, 11, 12, 26, 40, 44, 59, 60)}
    settled = reckoned(WhatIf(answers=answers))

    assert approval_message(settled, "a4") is None
    assert approval_text(settled) is None


def test_the_batch_sheet_shows_what_a_decision_rests_on() -> None:
    # Device 9 could save others the loudspeaker or flex at 5.30; no failures to come
    # are told where nobody entered a rate.
    usual = words(made("batch sheet"))
    assert "camera dead mend 68.88 85.25 85.25 5.30" in usual
    assert "limit; 0" not in usual
    assert "~" not in usual.replace("The sign ~ marks", "")

    batch = ANSWER.batch
    model = replace(
        batch.terms.models["V80"],
        worth_estimated=("1",), failures_a_year=0.12, years_left=2.5,
    )  # fmt: skip
    models = {**batch.terms.models, "V80": model}
    terms = replace(batch.terms, models=models)
    first, *rest = ANSWER.devices[8:9]
    marked = replace(first, decision=replace(first.decision, is_estimate=True))
    answer = replace(ANSWER, batch=replace(batch, terms=terms), devices=(marked, *rest))
    told = words(made("batch sheet", answer=answer))
    # 0.12 failures a year for 2.5 years.
    assert "mend; 0.3 to come 68.88 ~85.25 85.25 5.30" in told


def test_a_value_nobody_knows_is_asked_for_once() -> None:
    batch = ANSWER.batch
    model = replace(batch.terms.models["R50"], worth={"K": 33000})
    terms = replace(batch.terms, models={**batch.terms.models, "R50": model})
    answer = replace(ANSWER, devices=tuple(
        replace(d, decision=decided(d.line, terms, Figures(d.decision.quote_minor)))
        for d in ANSWER.devices
    ))  # fmt: skip
    told = words(made("batch sheet", answer=answer))

    assert 1 == told.count("no residual value known for R50 L: ask the list price")


def test_the_batch_sheet_holds_the_running_sum_against_the_cap() -> None:
    batch = ANSWER.batch
    capped = replace(batch.terms, batch_limit_minor=500_000, limit_currency="kr")
    answer = replace(ANSWER, batch=replace(batch, terms=capped))
    gone = sum(
        device.decision.quote_minor or 0
        for device in ANSWER.devices
        if device.decision.code == "go"
    )
    left = f"{(500_000 - gone) / 100:,.2f} left {gone / 100:,.2f}"
    told = words(made("batch sheet", answer=answer))

    assert f"of the 5,000.00 agreed for the batch; {left}" in told
    assert "To be asked the limits are in kr and the prices in cu" in told


def test_the_invoice_names_only_the_approvals_still_open() -> None:
    some = reckoned(WhatIf(answers={40: True, 59: True}))
    told = words(made("invoice", answer=some))

    assert "Not agreed, not on it: 4, 11, 12, 26, 44, 60." in told
    assert [40, 59] == [
        item.device.name for item in some.summed if item.device.decision.code == "ask"
    ]
    assert f"{some.account.invoice_minor / 100:,.2f}" in told
    assert "Subject to approval: 4, 11, 12, 26, 40, 44, 59, 60." in words(
        made("invoice")
    )


def picture(shade: int) -> bytes:
    file = io.BytesIO()
    Image.new("L", (120, 90), shade).save(file, "PNG")
    return file.getvalue()


TESTS = (
    Tested("touch, whole face", "passed", by="Imke Vasterling", at="02 Feb 2027 10:05"),
    Tested("Charge at hand-back, in per cent:", "failed", value="55 %", by="Imke"),
    Tested("radio", "not possible", reason="locked by the owner", by="Imke"),
    Tested("sound", "not tested"),
)
KNOWN = Beside(
    tests={1: TESTS},
    pictures={1: (Picture(picture(90), "keys before"), Picture(picture(160), "after"))},
    arrival={1: "2 on arrival: lid; base"},
    data={1: "test image alone, Ms Example"},
)


def half_of(pdf: bytes, device: str, following: str) -> str:
    told = words(pdf)
    start = told.index(f"Device {device}")
    return told[start : told.index(f"Device {following}", start)]


def test_the_evidence_bears_the_answers_and_photos_where_they_are_known() -> None:
    pdf = evidence(ANSWER, "a4", KNOWN)
    own = half_of(pdf, "1-J", "3-F")

    for told in (
        "touch, whole face passed Imke Vasterling 02 Feb 2027 10:05",
        "failed 55 % Imke",
        "because: locked by the owner",
        "sound not tested",
        "keys before",
        "done by Imke Vasterling, Imke",
    ):
        assert told in own
    assert "not applicable" not in own
    assert "not applicable" in half_of(pdf, "3-F", "4-D")
    document = pypdfium2.PdfDocument(pdf)
    kind = pypdfium2.raw.FPDF_PAGEOBJ_IMAGE
    assert [2, 0] == [len(list(document[n].get_objects([kind]))) for n in (0, 1)]
    assert pdf == evidence(ANSWER, "a4", KNOWN)
    assert len(document) == len(pypdfium2.PdfDocument(evidence(ANSWER, "a4")))


def test_evidence_that_needs_more_than_half_a_page_takes_it() -> None:
    many = tuple(Tested(f"test {n}", "passed", reason="words " * 20) for n in range(60))
    pdf = evidence(ANSWER, "letter", Beside(tests={1: many}))

    own = half_of(pdf, "1-J", "3-F")
    assert all(f"test {n} because" in own for n in range(60))
    assert "advice:" in own


def test_the_receipt_is_half_a_page_a_device_with_what_is_known() -> None:
    pdf = receipt(ANSWER, "a4", KNOWN)
    own = half_of(pdf, "1-J", "2-H")

    assert "photos 2 on arrival: lid; base" in own
    assert "decided: test image alone, Ms Example" in own
    assert "handed over by" in own
    assert "Filled in on arrival" not in own
    assert "Filled in on arrival" in half_of(pdf, "2-H", "3-F")
    # Two sheets of list, then two of the sixty devices on each.
    assert 2 + 30 == len(pypdfium2.PdfDocument(pdf))


def test_a_receipt_for_two_devices_is_one_sheet() -> None:
    pdf = receipt(replace(ANSWER, devices=ANSWER.devices[:2]), "letter")

    assert 1 == len(pypdfium2.PdfDocument(pdf))
    assert 2 == words(pdf).count("received by")


def begun_by(answer: BatchAnswer) -> dict[int, int]:
    planned = answer.planned
    latest = latest_starts(planned.problem_best, planned.plan_in_use)
    return {name: day for name, (day, _) in latest.items()}


def test_the_day_sheet_says_by_when_a_job_must_begin() -> None:
    # Device 6 gives a part to 32, due on day 7; device 21 gives none that is waited
    # for, so that it can never make anything late.
    assert {2: 4, 6: 7} == {n: begun_by(ANSWER)[n] for n in (2, 6)}
    assert 21 not in begun_by(ANSWER)
    assert "any day when there is time" in words(made("day sheet, lead"))


def test_the_day_sheet_tells_what_is_planned_too_late() -> None:
    held_up = reckoned(WhatIf(away=(Absence("lead", 2, 4),)))
    plan = held_up.planned.plan_in_use
    late = [s.job for s in plan.slots if s.day > begun_by(held_up).get(s.job, s.day)]
    both = words(made("day sheet, lead", answer=held_up))
    both += words(made("day sheet, helper", answer=held_up))

    assert 0 < len(late) == both.count("Feb: late")


def with_tax_number(number: str) -> BatchAnswer:
    terms = ANSWER.batch.terms
    customer = replace(terms.customer, tax_number=number)
    batch = replace(ANSWER.batch, terms=replace(terms, customer=customer))
    return replace(ANSWER, batch=batch)


# Forms of numbers for value added tax in the European Union (Council Directive
# 2006/112/EC, article 215, for the prefix; lengths from memory); the numbers are made
# up.
@pytest.mark.parametrize(
    "number", ["", "ATU12345678", "NL 123456789B01", "IE1234567WA", "DE 123 456 789"]
)
def test_the_invoice_bears_the_tax_number_and_leaves_a_good_one_alone(number) -> None:
    told = words(made("invoice", answer=with_tax_number(number)))

    assert bool(number) == ("tax number" in told)
    assert number in told
    assert "Look at the tax number" not in told


@pytest.mark.parametrize("number", ["12", "not known", "D1234567", "XX" + "9" * 13])
def test_a_draft_warns_of_an_odd_tax_number_and_is_still_made(number) -> None:
    told = words(made("invoice", answer=with_tax_number(number)))

    assert f"tax number {number}" in told
    assert "Look at the tax number" in told


def test_no_margin_is_told_of_a_plan_that_holds_half_of_the_work() -> None:
    begun = reckoned(WhatIf(start_day=2, is_received=True))

    assert "Margin" in words(made("batch sheet"))
    assert "Margin" not in words(made("batch sheet", answer=begun))
    assert "Labour, at pay" not in words(made("batch sheet", answer=begun))


def test_a_date_a_year_on_bears_its_year() -> None:
    # Received on 1 February 2027, and never closed but on weekends.
    assert ["Mon 31 Jan", "Tue 1 Feb 2028", "Fri 4 Feb 2028"] == [
        date_words(ANSWER, day) for day in (261, 262, 265)
    ]
    assert "Mon 1 Feb 2027" == full_date(ANSWER, 1)
    assert "Mon 1 Feb" == date_words(ANSWER, 1)


def test_a_batch_without_a_device_has_its_sheet_and_no_other_paper() -> None:
    empty = of_lines()

    papers = {name: make() for name, make in every_paper(empty, "a4", ()).items()}

    sheet = papers.pop("batch-sheet.pdf")
    assert isinstance(sheet, bytes)
    assert {None} == set(papers.values())
    assert 1 == len(pypdfium2.PdfDocument(sheet))
    told = words(sheet)
    assert "No device yet: nothing is decided, charged or planned." in told
    assert "on the list, but not here 60" in told
    assert "Decisions" not in told
    assert "Noch kein Gerät" in words(
        batch_sheet(empty, Paper("a4", language="de"), [])
    )


def test_a_batch_that_only_gives_parts_has_no_kit_and_no_evidence() -> None:
    """Device 34 of the example came as a donor and alone nobody wants its parts."""
    donor = of_lines(34)

    assert kit_lists(donor, "a4") is None
    assert evidence(donor, "a4") is None
    assert order_list(donor, "a4") is None
    assert receipt(donor, "a4") is not None


def test_an_order_list_without_a_line_to_buy_has_no_empty_table() -> None:
    nothing = replace(ANSWER, supply=replace(ANSWER.supply, orders=()))

    told = words(made("order list", answer=nothing))

    assert "from the shelf" in told
    assert "order at the latest" not in told


def test_what_was_refused_goes_back_unrepaired_and_has_no_evidence() -> None:
    open_ = reckoned(WhatIf(answers={59: True}, answers_on=1))
    refused = reckoned(WhatIf(answers={59: True, 60: False}, answers_on=1))
    says = "refused: return unrepaired"

    assert says not in words(made("batch sheet", answer=open_))
    assert 1 == words(made("batch sheet", answer=refused)).count(says)
    assert "SHN-0687" in words(made("evidence", answer=open_))
    assert "SHN-0687" not in words(made("evidence", answer=refused))


def test_the_minutes_are_of_the_devices_that_the_money_is_of() -> None:
    """Of eight asked about, two are agreed and nobody waits for the others."""
    some = reckoned(WhatIf(answers={40: True, 59: True}))
    open_ = [some.by_name[name].work for name in (4, 11, 12, 26, 44, 60)]

    before, after = ANSWER.minutes, some.minutes

    assert before["handling"] - sum(w.handling for w in open_) == after["handling"]
    assert before["exchange"] - sum(w.exchange for w in open_) == after["exchange"]
    assert before["receiving"] == after["receiving"]
    assert "Handling of what goes back 1,112" in words(made("batch sheet", answer=some))


def test_it_lists_as_held_what_is_held_and_tells_a_past_once() -> None:
    """Line 56 is a comeback; of line 39 only the past is known, and it is not held."""
    told = words(made("batch sheet"))
    held, before = told.split("Held: to be observed or settled first")[1].split(
        "Here before, not held"
    )
    before = before.split("Decisions")[0]

    numbers = [d.name for d in ANSWER.devices if d.holds]
    assert 32 == len(numbers)
    assert 56 in numbers
    assert "37 days ago" in held
    assert "2026-12-26" not in told
    assert "2026-10-06: mended by this workshop" in before
    assert "2026-10-06" not in held
    assert ANSWER.by_name[56].past == ANSWER.by_name[56].past_held


def test_every_strip_says_its_pack_comes_off_first() -> None:
    donors = [device for device in ANSWER.devices if not device.is_mended]
    told = words(made("donor cards"))

    assert len(donors) == told.count("Pack off first, before anything is warmed")
    for sheet in ("day sheet, lead", "day sheet, helper"):
        told = words(made(sheet))
        assert told.count("strip as a donor") == told.count("Pack off first, before")
