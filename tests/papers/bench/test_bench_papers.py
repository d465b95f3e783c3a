"""Can the papers of the bench be scanned, measured and read, on both papers?"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import numpy
import pikepdf
import pypdfium2
import pytest
import zxingcpp

from paper_field import EDGE_MM, MM_PT, SHEET_MM, beyond_field_mm, size_mm
from turnscrew.core.bench.commands import COMMANDS
from turnscrew.core.bench.handover import OpenDevice, TrayCount
from turnscrew.papers.bench.command_card import command_card
from turnscrew.papers.bench.emergency_card import EVENTS, PLACES, emergency_card
from turnscrew.papers.bench.handover import handover_sheet
from turnscrew.papers.bench.helper_card import SignedSkill, helper_card
from turnscrew.papers.bench.scale_card import CARD_MM, LENGTH_MM, TICK_MM, scale_card
from turnscrew.papers.page import Page

DEVICES = (
    OpenDevice(
        number="14-K",
        place="bench 2, tray 5",
        state="opening, line 23 of 61",
        first_action="Undo 2 screws B along the rear edge",
        power="none, pack unplugged",
        model="L240 B",
        n_to_stop=3,
        off=("base cover", "rear bracket"),
        unplugged=("pack plug", "fan plug"),
        aside=("left loudspeaker",),
        tray=(
            TrayCount("type H 1, M2 x 0.4 - 3.5", 7, "A"),
            TrayCount("hexalobular 5, M2.5 - 6", 3, "C"),
        ),
        last_done="lifted the rear bracket",
        in_doubt=("one screw A has a worn recess",),
        hazards=("pack still inside", "glass edge"),
        sign_off="pack",
    ),
    OpenDevice(
        number="27-3",
        place="shelf 4",
        state="waits for a fan",
        first_action="Fit the fan",
        power="may be powered for 60 s",
        is_at_safe_stop=True,
    ),
)

LONG = replace(
    DEVICES[0],
    number="33-R",
    off=tuple(f"part number {k}" for k in range(80)),
    in_doubt=tuple(f"something that nobody is sure of, the {k}th" for k in range(60)),
    tray=tuple(TrayCount(f"M2 - {k}", k, f"A{k}") for k in range(40)),
)

SKILLS = (
    SignedSkill("battery", date(2027, 2, 1), None, "Imke Vasterling", 4, 0),
    SignedSkill("fine soldering"),
)

PAPERS: dict[str, Callable[[Page], bytes]] = {
    "command card": command_card,
    "scale card": scale_card,
    "emergency card": emergency_card,
    "helper card": lambda page: helper_card("Joss Harrowell", "helper", SKILLS, page),
    "handover": lambda page: handover_sheet(DEVICES, page, "Thu 4 Feb 2027, 16:30"),
    "long handover": lambda page: handover_sheet((*DEVICES * 4, LONG), page),
    "empty handover": lambda page: handover_sheet((), page),
}


def gray(sheet: pypdfium2.PdfPage, scale: float) -> numpy.ndarray:
    picture = sheet.render(scale=scale, grayscale=True).to_numpy()
    return picture.reshape(picture.shape[:2])


def words(pdf: bytes) -> str:
    pages = [p.get_textpage().get_text_bounded() for p in pypdfium2.PdfDocument(pdf)]
    return " ".join(" ".join(pages).split())


@pytest.mark.parametrize("name", PAPERS)
@pytest.mark.parametrize("page", ["a4", "letter"])
def test_nothing_is_drawn_outside_the_field_of_both_papers(name, page) -> None:
    for sheet in pypdfium2.PdfDocument(PAPERS[name](page)):
        assert SHEET_MM[page] == size_mm(sheet)
        assert gray(sheet, 2).min() < 250
        assert beyond_field_mm(sheet) <= EDGE_MM


@pytest.mark.parametrize("name", PAPERS)
def test_every_paper_is_black_on_white_tagged_and_titled(name, tmp_path) -> None:
    for sheet in pypdfium2.PdfDocument(PAPERS[name]("a4")):
        picture = sheet.render(scale=1).to_numpy().astype(int)
        assert (picture.max(axis=2) - picture.min(axis=2)).max() <= 8
    path = tmp_path / "paper.pdf"
    path.write_bytes(PAPERS[name]("a4"))
    with pikepdf.open(path) as pdf:
        assert "/StructTreeRoot" in pdf.Root
        assert str(pdf.docinfo["/Title"])


@pytest.mark.parametrize("name", PAPERS)
def test_equal_arguments_give_equal_bytes(name) -> None:
    assert PAPERS[name]("letter") == PAPERS[name]("letter")
    assert PAPERS[name]("letter") != PAPERS[name]("a4")


@pytest.mark.parametrize("name", PAPERS)
def test_no_paper_promises_that_a_thing_is_safe(name) -> None:
    told = words(PAPERS[name]("a4")).lower().replace("safe stop", "")

    assert "safe" not in told


# The card of codes.


def codes_on(sheet: pypdfium2.PdfPage, dpi: float) -> list[zxingcpp.Barcode]:
    return list(zxingcpp.read_barcodes(gray(sheet, dpi / 72)))


@pytest.mark.parametrize("page", ["a4", "letter"])
@pytest.mark.parametrize("dpi", [200, 300])
def test_every_command_can_be_scanned_and_nothing_else(page, dpi) -> None:
    document = pypdfium2.PdfDocument(command_card(page))

    found = [code for sheet in document for code in codes_on(sheet, dpi)]

    assert 2 == len(document)
    assert sorted(c.code for c in COMMANDS) == sorted(code.text for code in found)
    assert {"Code 128"} == {str(code.format) for code in found}


def middles_mm(sheet: pypdfium2.PdfPage) -> dict[str, tuple[float, float, float]]:
    """Find left end, right end and middle height of every code. [mm]"""
    to_mm = 25.4 / 300
    found = {}
    for code in codes_on(sheet, 300):
        place = code.position
        xs = (place.top_left.x, place.top_right.x)
        ys = (place.top_left.y, place.bottom_left.y)
        found[code.text] = (xs[0] * to_mm, xs[1] * to_mm, sum(ys) / 2 * to_mm)
    return found


def test_a_line_across_one_code_meets_white_on_both_sides() -> None:
    for sheet in pypdfium2.PdfDocument(command_card("a4")):
        dark = gray(sheet, 300 / 72) < 128
        for text, (left, right, middle) in middles_mm(sheet).items():
            row = dark[round(middle * 300 / 25.4)]
            # As far as a scanner's line reaches past the code; common practice.
            for start, end in ((left - 18, left - 0.3), (right + 0.4, right + 18)):
                px = [max(0, round(x * 300 / 25.4)) for x in (start, end)]
                if end - start > 0 and text not in ("TS-DONE", "TS-UNDO"):
                    assert not row[px[0] : px[1]].any(), text


@pytest.mark.parametrize("tilt", [-0.1, 0.1])
def test_a_strip_along_one_code_reads_this_code_alone(tilt: float) -> None:
    for sheet in pypdfium2.PdfDocument(command_card("letter")):
        picture = gray(sheet, 300 / 72)
        for text, (left, right, middle) in middles_mm(sheet).items():
            reach = range(
                max(0, round((left - 15) * 300 / 25.4)),
                min(picture.shape[1], round((right + 15) * 300 / 25.4)),
            )
            centre = (left + right) / 2 * 300 / 25.4
            line = [
                picture[round(middle * 300 / 25.4 + tilt * (x - centre)), x]
                for x in reach
            ]
            strip = numpy.ascontiguousarray(numpy.tile(line, (20, 1)), numpy.uint8)

            assert [text] == [code.text for code in zxingcpp.read_barcodes(strip)]


def bars_mm(sheet: pypdfium2.PdfPage, text: str) -> list[float]:
    left, right, middle = middles_mm(sheet)[text]
    row = gray(sheet, 1200 / 72)[round(middle * 1200 / 25.4)] < 128
    part = row[round((left - 1) * 1200 / 25.4) : round((right + 1) * 1200 / 25.4)]
    edges = numpy.flatnonzero(numpy.diff(part.astype(int)))
    return [float(b - a) * 25.4 / 1200 for a, b in zip(edges, edges[1:], strict=False)]


@pytest.mark.parametrize(
    ("number", "text"), [(0, "TS-NO"), (0, "TS-DONE"), (1, "TS-P-BATTERY"), (1, "TS-7")]
)
def test_the_thinnest_bar_is_a_quarter_millimetre_or_more(number, text) -> None:
    sheet = pypdfium2.PdfDocument(command_card("a4"))[number]

    # One dot of the picture is 0.02 mm.
    assert min(bars_mm(sheet, text)) >= 0.25 - 0.022


def test_done_and_undo_are_largest_and_at_opposite_ends() -> None:
    places = middles_mm(pypdfium2.PdfDocument(command_card("a4"))[0])
    widths = {text: right - left for text, (left, right, _) in places.items()}
    heights = sorted(places, key=lambda text: places[text][2])

    assert ("TS-DONE", "TS-UNDO") == (heights[0], heights[-1])
    others = [w for text, w in widths.items() if text not in ("TS-DONE", "TS-UNDO")]
    assert min(widths["TS-DONE"], widths["TS-UNDO"]) > 1.3 * max(others)
    assert places["TS-UNDO"][2] - places["TS-DONE"][2] > 180


def test_every_command_has_its_word_and_key_in_letters_large_enough() -> None:
    sizes: dict[str, float] = {}
    for sheet in pypdfium2.PdfDocument(command_card("a4")):
        text, kinds = sheet.get_textpage(), [pypdfium2.raw.FPDF_PAGEOBJ_TEXT]
        for thing in sheet.get_objects(kinds, textpage=text):
            told = thing.extract().strip()
            sizes[told] = max(sizes.get(told, 0), thing.get_font_size())
    for command in COMMANDS:
        wanted = 14 if command.group == "working" else 10
        assert sizes[command.word] >= wanted, command.word
    told = words(command_card("a4"))
    assert all(f"key: {command.key}" in told for command in COMMANDS)


# The scale card.


def runs(row: numpy.ndarray) -> list[tuple[int, int]]:
    edges = numpy.flatnonzero(numpy.diff(numpy.r_[0, (row < 128).astype(int), 0]))
    return list(zip(edges[::2], edges[1::2], strict=True))


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_bar_and_frame_are_true_to_size(page) -> None:
    picture = gray(pypdfium2.PdfDocument(scale_card(page))[0], 600 / 72)
    px_mm = 600 / 25.4
    lengths = [
        (b - a) / px_mm for row in picture for a, b in runs(row) if b - a > 60 * px_mm
    ]
    uprights = [
        (b - a) / px_mm for row in picture.T for a, b in runs(row) if b - a > 40 * px_mm
    ]

    pen_mm = 0.5 / MM_PT
    assert any(abs(x - pen_mm - 100) <= 0.1 for x in lengths)
    assert any(abs(x - CARD_MM[0]) <= 0.2 for x in lengths)
    assert any(abs(y - CARD_MM[1]) <= 0.2 for y in uprights)
    assert (85.6, 54.0) == CARD_MM


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_the_ticks_stand_where_they_must_from_the_stop_on(page) -> None:
    picture = gray(pypdfium2.PdfDocument(scale_card(page))[0], 1200 / 72)
    px_mm = 1200 / 25.4
    n_ticks = round(LENGTH_MM / TICK_MM)

    # The row across all ticks holds the stop and then every one of them.
    comb = next(
        found
        for row in picture
        if len(found := runs(row)) == n_ticks + 1
        and max(b - a for a, b in found[1:]) < 0.2 * px_mm
    )

    stop_mm = comb[0][1] / px_mm
    ticks_mm = [(a + b) / 2 / px_mm - stop_mm for a, b in comb[1:]]
    wanted_mm = [TICK_MM * (k + 1) for k in range(n_ticks)]
    assert wanted_mm == pytest.approx(ticks_mm, abs=0.05)
    assert comb[0][1] - comb[0][0] > 1.0 * px_mm


@pytest.mark.parametrize(
    "told",
    [
        "True size only if the bar measures 100 mm",
        "85.6 × 54.0 mm",
        "ISO/IEC 7810",
        "ticks of 0.5 mm",
        "0 5 10 15 20 25 30",
    ],
)
def test_the_scale_card_says_what_it_must(told) -> None:
    assert told in words(scale_card("a4"))


# The handover.


@pytest.mark.parametrize(
    "told",
    [
        "2 open devices; NOT at a safe stop: 14-K",
        "14-K L240 B bench 2, tray 5",
        "NOT at a safe stop; 3 actions to the next one power: none, pack unplugged",
        "HAZARD: pack still inside; glass edge",
        "off base cover, rear bracket",
        "disconnected pack plug, fan plug",
        "moved aside left loudspeaker",
        "last done lifted the rear bracket",
        "IN DOUBT one screw A has a worn recess",
        "first action Undo 2 screws B along the rear edge",
        "who may pack",
        "type H 1, M2 x 0.4 - 3.5 A 7",
        "all 10",
        "at a safe stop power: may be powered for 60 s",
        "In the tray: nothing",
        "signature",
        "photo no.",
        "Thu 4 Feb 2027, 16:30",
    ],
)
def test_the_handover_says_what_it_must(told) -> None:
    assert told in words(PAPERS["handover"]("a4"))


def test_a_handover_of_quiet_devices_says_so() -> None:
    assert "1 open device; every one at a safe stop" in words(
        handover_sheet(DEVICES[1:], "a4")
    )
    assert "No device lies open." in words(handover_sheet((), "a4"))


def test_a_long_handover_loses_no_device_and_no_piece() -> None:
    told = words(PAPERS["long handover"]("letter"))

    assert 4 == told.count("14-K L240 B")
    assert "part number 79" in told
    assert "the 59th" in told
    assert "M2 - 39 A39 39" in told
    assert f"all {sum(range(40))}" in told
    assert 1 == told.count("I have seen every device above")


def test_a_device_is_not_torn_over_two_pages_unless_it_must_be() -> None:
    pdf = handover_sheet(DEVICES * 4, "a4")

    for sheet in pypdfium2.PdfDocument(pdf):
        told = " ".join(sheet.get_textpage().get_text_bounded().split())
        assert told.count("14-K L240 B") == told.count("all 10")


def test_what_is_written_never_becomes_part_of_the_sheet() -> None:
    sly = replace(DEVICES[1], state='#pagebreak() *x* "y" \\ $z$', number="#1")

    told = words(handover_sheet([sly], "a4"))

    assert '#pagebreak() *x* "y" \\ $z$' in told


# The cards that hang in the workshop.


def test_the_emergency_card_says_what_is_done_and_leaves_room_for_the_place() -> None:
    told = words(emergency_card("a4"))

    for title, lines in EVENTS:
        assert title in told
        assert all(line in told for line in lines)
    assert all(place in told for place in PLACES)
    # Events of the card by each bench: a pack that smokes, cut, burn, shock, spill.
    assert 5 == len(EVENTS)
    # Twenty minutes under running water and fifteen for an eye: usual first-aid
    # teaching, from memory.
    assert "running water for 20 minutes" in told
    assert "water for 15 minutes" in told
    assert "local fire plan and codes" in told


def test_the_helper_card_tells_what_was_signed_from_what_was_only_listed() -> None:
    told = words(helper_card("Joss Harrowell", "helper", SKILLS, "letter"))

    assert "battery 1 Feb 2027 further notice 4 0 Imke Vasterling" in told
    assert "fine soldering further notice not counted not counted" in told
    assert "signature of the lead" in told


def test_a_helper_without_a_skill_is_given_nothing_hazardous_alone() -> None:
    told = words(helper_card("Joss Harrowell", "helper", (), "a4"))

    assert "hazardous work is not given to them alone" in told
