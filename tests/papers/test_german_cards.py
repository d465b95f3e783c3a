"""Do cards, sheets and the fleet report speak German, with the same figures?"""

import io
import re
from collections import Counter
from collections.abc import Callable
from datetime import date
from functools import cache

import pypdfium2
import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from example_files import example_text
from paper_field import EDGE_MM, SHEET_MM, beyond_field_mm, size_mm
from papers.test_fleet_report import full
from turnscrew.core.bench.handover import OpenDevice, TrayCount
from turnscrew.core.diagnose.evidence import Evidence
from turnscrew.core.diagnose.pose import reaches_of
from turnscrew.core.model.german import GERMAN_CARDS, GERMAN_FLEET
from turnscrew.core.model.notation import Notation
from turnscrew.files.device_file import read_device, revisions_in
from turnscrew.files.faults_file import read_faults
from turnscrew.flows.diagnosis import layering, next_step
from turnscrew.flows.opening import opening_path
from turnscrew.papers.bench.emergency_card import emergency_card
from turnscrew.papers.bench.handover import handover_sheet
from turnscrew.papers.bench.helper_card import SignedSkill, helper_card
from turnscrew.papers.fastener_card import fastener_card
from turnscrew.papers.fleet_report import fleet_report_pdf
from turnscrew.papers.page import Page, Paper
from turnscrew.papers.policy_sheet import policy_sheet
from turnscrew.papers.telling import texts_in
from turnscrew.papers.word_card import word_card

TEXT = example_text("pellorin-l240.device.yaml")
DEVICE = read_device(TEXT, revision="B")
OPENING = opening_path(DEVICE, ("fan",), lambda: False)
FLEET = full()
NAMES = {f"fault {k} with a long name": "cracked glass" for k in range(9)}
SKILLS = (
    SignedSkill("pack removal", date(2027, 3, 2), None, "Imke Vasterling", 5, 0),
    SignedSkill("glass", date(2027, 2, 1), date(2028, 2, 1), "Imke Vasterling"),
)


STATIC = "Static: strap on, board on the mat, hold it by the edges."
OPEN = (
    OpenDevice(
        number="14-K", place="bench 2, tray 5", state="open", model="L240 B",
        first_action="go on recording, or turn round", n_to_stop=3,
        power="not known: do not power it",
        off=("base cover", "rear bracket"), unplugged=("fan plug",), aside=("cable",),
        tray=(TrayCount("screw", 7, "A"),), last_done="recorded: rear bracket",
        in_doubt=("the way back is not worked out yet",),
        hazards=(STATIC,), sign_off="glass, a lead for 3 lines",
    ),
    OpenDevice(
        number="27-3", place="shelf 4", state="awaiting part", power="",
        first_action="nothing is left", is_at_safe_stop=True, sign_off="glass",
    ),
)  # fmt: skip


def paper(page: Page, language: str) -> Paper:
    size = page.size if isinstance(page, Paper) else page
    return Paper(size, language=language)


def small_policy(page: Page, language: str) -> bytes:
    evidence = Evidence(("dead",))
    advice = next_step(TABLE, LAYERING, evidence, "block", lambda: False)
    return policy_sheet(TABLE, advice, evidence, paper(page, language))


FAMILIES = pytest.mark.parametrize(
    ("name", "sign"),
    [
        ("pellorin-l240", "lid loose"),
        ("tavistle-v80", "no light"),
        ("grondle-r50", "cannot hear it"),
    ],
)


@cache
def family_policy(name: str, sign: str, page: Page) -> bytes:
    text = example_text(f"{name}.device.yaml")
    first, *_ = revisions_in(text)
    devices = {first: (read_device(text, revision=first), 1.0)}
    table = read_faults(example_text(f"{name}.faults.yaml"))
    layers = layering(devices, reaches_of(table), lambda: False)
    evidence = Evidence((sign,))
    advice = next_step(table, layers, evidence, "block", lambda: True)
    return policy_sheet(table, advice, evidence, page)


ALL: dict[str, Callable[[Page, str], bytes]] = {
    "fastener card": lambda p, to: fastener_card(DEVICE, OPENING, p, to),
    "word card": word_card,
    "helper card": lambda p, to: helper_card("Joss Harrowell", "helper", SKILLS, p, to),
    "empty helper card": lambda p, to: helper_card("Joss Harrowell", "desk", (), p, to),
    "emergency card": emergency_card,
    "handover": lambda p, to: handover_sheet(OPEN, p, "Mon 01 Feb 2027 09:00", to),
    "empty handover": lambda p, to: handover_sheet((), p, "", to),
    "policy sheet": small_policy,
    "fleet report": lambda p, to: fleet_report_pdf(
        FLEET, title="Sallowmere", names=NAMES,
        page=paper(p, to),
    ),
}  # fmt: skip


def words(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    told = [page.get_textpage().get_text_range() for page in document]
    return re.sub(r"\s+", " ", " ".join(told))


@cache
def made(name: str, size: Page, language: str) -> bytes:
    return ALL[name](size, language)


def words_in(text: str) -> set[str]:
    return set(re.findall(r"[^\W\d_]{2,}", text))


OWN = words_in(" ".join([*texts_in(DEVICE), *texts_in(TABLE), *texts_in(OPEN)])) | {
    "Joss", "Harrowell", "Imke", "Vasterling", "pack", "removal", "glass", "Turnscrew",
    "Sallowmere", "cracked", "fault", "long", "name", "place", "with", "Model", "one",
    "two", "three", "four", "five", "Feb",
}  # fmt: skip
GERMAN = words_in(" ".join([*GERMAN_CARDS.values(), *GERMAN_FLEET.values()]))


@pytest.mark.parametrize("name", ALL)
def test_it_leaves_no_sentence_in_english_and_marks_none_as_unknown(name) -> None:
    english, german = (words(made(name, "a4", one)) for one in ("en", "de"))

    assert english != german
    assert "„" not in german
    assert set() == (words_in(english) & words_in(german)) - OWN - GERMAN


def figures(text: str) -> Counter[int]:
    """Count the numbers of a paper, but for what head and foot repeat."""
    bare = re.sub(r"(page|Seite) \d+ (of|von) \d+", "", text)
    # A table that goes on over a page says its head again.
    bare = re.sub(r"100 (device-years|Gerätejahren)", "", bare)
    return Counter(map(int, re.findall(r"\d+", bare)))


@pytest.mark.parametrize("name", ALL)
def test_every_figure_is_that_of_the_english_paper(name) -> None:
    english, german = (words(made(name, "a4", one)) for one in ("en", "de"))

    assert figures(english) == figures(german)


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_nothing_is_drawn_outside_the_field_in_german(name, size) -> None:
    english, german = (
        pypdfium2.PdfDocument(made(name, size, one)) for one in ("en", "de")
    )
    # A chart may touch the edge of the field, in English as in German.
    least = max(EDGE_MM, *(beyond_field_mm(sheet, 1.5) for sheet in english))
    for sheet in german:
        assert SHEET_MM[size] == size_mm(sheet)
        assert beyond_field_mm(sheet, 1.5) <= least


@pytest.mark.parametrize("name", ALL)
def test_it_has_as_many_pages_as_in_english(name) -> None:
    english, german = (
        len(pypdfium2.PdfDocument(made(name, "a4", one))) for one in ("en", "de")
    )

    assert english == german


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("word card", "Schraffiert: Dort wird nichts gehebelt."),
        ("helper card", "Hilfe"),
        ("helper card", "pack removal 2. März 2027 auf weiteres 5 0 Imke Vasterling"),
        ("helper card", "glass 1. Feb. 2027 1. Feb. 2028 nicht gezählt"),
        ("empty helper card", "Gefährliche Arbeit bekommt diese Person nicht allein"),
        ("emergency card", "Die Feuerwehr rufen und sagen: Lithium-Akku."),
        ("emergency card", "Niemanden berühren, der noch daran hängt."),
        ("handover", "Mo 1. Feb. 2027"),
        ("handover", "NICHT an einem sicheren Halt: 14-K"),
        ("handover", "glass, jemand von der Leitung für 3 Zeilen"),
        ("handover", "base cover, rear bracket"),
        ("empty handover", "Kein Gerät liegt offen."),
        ("policy sheet", "Nach jedem Befund mit allen Befunden wieder fragen."),
        ("fastener card", "mm unter dem Kopf"),
        ("fleet report", "Übliche Ursache: Stürze, Stösse und Schmutzkörner."),
        ("fleet report", "Ausfälle in 100 Gerätejahren"),
    ],
)
def test_it_says_in_german_what_it_must(name, told) -> None:
    assert told in words(made(name, "a4", "de"))


@FAMILIES
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_a_policy_of_a_family_is_one_page_of_german(name, sign, size) -> None:
    pdf = family_policy(name, sign, Paper(size, language="de"))

    assert 1 == len(pypdfium2.PdfDocument(pdf))
    assert "„" not in words(pdf)


@pytest.mark.parametrize("name", ALL)
def test_no_german_card_promises_what_it_cannot(name) -> None:
    told = words(made(name, "a4", "de")).lower()

    assert not {"safe", "geprüft nach norm"} & set(told.split())


def test_a_language_it_does_not_have_is_english() -> None:
    assert made("emergency card", "a4", "en") == emergency_card("a4", "fr")


def test_the_decimal_sign_follows_the_workshop() -> None:
    pointed = Paper("a4", Notation(sign="point"), "de")
    english = Paper("a4", Notation(sign="comma"), "en")
    point, comma = (
        words(fleet_report_pdf(FLEET, title="X", names=NAMES, page=page))
        for page in (pointed, english)
    )
    amount = re.search(r"Sie kosten etwa ([\d.,]+\d)", point)
    other = re.search(r"They cost about ([\d.,]+\d)", comma)

    assert amount is not None
    assert other is not None
    assert "." in amount[1][-3:]
    assert "," in other[1][-3:]
    assert amount[1].translate(str.maketrans(",.", ".,")) == other[1]
