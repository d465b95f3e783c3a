"""Does the opening sheet hold every line, the same bytes twice, on both papers?"""

from dataclasses import replace

import pypdfium2
import pytest

from example_files import example_text
from turnscrew.core.model.device import Device
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.files.device_file import read_device
from turnscrew.flows.opening import opening_path
from turnscrew.papers.page import FIELD_MM, SIZE_MM, Page
from turnscrew.papers.sheets import opening_sheet


def opened(name: str, revision: str, *reach: str) -> tuple[Device, OpeningAnswer]:
    text = example_text(f"{name}.device.yaml")
    device = read_device(text, revision=revision)
    return device, opening_path(device, reach, lambda: False)


def words_on(pdf: bytes) -> str:
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(page.get_textpage().get_text_range() for page in pages)


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_says_every_line_and_every_caution(page: Page) -> None:
    device, answer = opened("tavistle-v80", "2", "camera")

    told = "".join(words_on(opening_sheet(device, answer, page)).split())

    for line in (*answer.opening, *answer.refit):
        for words in (line.says, *line.cautions, *line.details):
            assert "".join(words.split()) in told, words


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_stays_inside_what_both_papers_hold(page: Page) -> None:
    device, answer = opened("grondle-r50", "K", "keypad membrane")

    sheets = pypdfium2.PdfDocument(opening_sheet(device, answer, page))

    # Bounds of a stroke count its pen twice over, so they may stand out a little.
    pen_mm = 1.0
    width_mm, height_mm = SIZE_MM[page]
    for sheet in sheets:
        size_mm = tuple(round(side / 72 * 25.4, 1) for side in sheet.get_size())
        assert (width_mm, height_mm) == size_mm
        for thing in sheet.get_objects():
            left, lower, right, upper = (p / 72 * 25.4 for p in thing.get_bounds())
            assert left >= (width_mm - FIELD_MM[0]) / 2 - pen_mm
            assert right <= (width_mm + FIELD_MM[0]) / 2 + pen_mm
            assert lower >= (height_mm - FIELD_MM[1]) / 2 - pen_mm
            assert upper <= (height_mm + FIELD_MM[1]) / 2 + pen_mm


def test_it_gives_the_same_bytes_twice() -> None:
    device, answer = opened("pellorin-l240", "B", "fan")

    assert opening_sheet(device, answer, "a4") == opening_sheet(device, answer, "a4")


def test_it_says_when_a_drawing_is_not_true_size() -> None:
    device, answer = opened("pellorin-l240", "A", "fan")

    assert "not true size, scale 1:2" in words_on(opening_sheet(device, answer, "a4"))


@pytest.mark.parametrize(
    ("name", "revision", "part", "words"),
    [
        ("pellorin-l240", "B", "panel", "Told by: grey lid with a rounded front edge"),
        ("pellorin-l240", "B", "panel", "Revision B: two vents on the left edge."),
        ("pellorin-l240", "B", "panel", "Order nothing before that is seen."),
        ("pellorin-l240", "B", "panel", "Description: released by Imke Vasterling"),
        ("pellorin-l240", "B", "panel", "Lost with the pack apart: clock"),
        ("pellorin-l240", "B", "panel", "To start it again: stays in shipping state"),
        ("pellorin-l240", "B", "panel", "Two short blinks, amber: pack not recognised"),
        ("pellorin-l240", "B", "panel", "Photo l240-panel-tail: panel folded down;"),
        ("pellorin-l240", "B", "panel", "Scale in a photo: printed scale bar in the"),
        ("pellorin-l240", "B", "panel", "in the frame, 100 mm. Drawing without words"),
        ("pellorin-l240", "B", "panel", "Drawing without words: l240-deck-outline."),
        ("pellorin-l240", "B", "badge", "Three long tones: no memory found."),
        ("pellorin-l240", "B", "rim screws", "a spare like these may stand in: badge"),
        (
            "tavistle-v80",
            "2",
            "camera",
            "Scale in a photo: frame, 128 mm wide, 128",
        ),
        ("tavistle-v80", "2", "camera", "Frame bond does not survive"),
        (
            "grondle-r50",
            "L",
            "display",
            "Sure only once open: two grooves of the",
        ),
    ],
)
@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_says_what_is_known_of_the_whole_device(
    name: str, revision: str, part: str, words: str, page: Page
) -> None:
    device, answer = opened(name, revision, part)

    told = "".join(words_on(opening_sheet(device, answer, page)).split())

    assert "".join(words.split()) in told


def test_it_says_what_one_opening_saves() -> None:
    device, answer = opened("tavistle-v80", "2", "camera")
    answer = replace(answer, reach=("camera", "loudspeaker"), saved_s=690.0)

    told = words_on(opening_sheet(device, answer, "a4"))

    assert "one opening for 2 saves 11.5 min hands on" in " ".join(told.split())


def test_one_word_of_two_meanings_is_said_by_its_place_in_german() -> None:
    device, answer = opened("grondle-r50", "K", "keypad membrane")

    told = " ".join(words_on(opening_sheet(device, answer, "a4", "de")).split())
    # The back of the device, and what is back from the tray.
    assert "Seite: Rückseite" in told
    assert "entnommen zurück ersetzt" in told


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_no_german_head_of_the_tray_count_touches_the_next(page: Page) -> None:
    device, answer = opened("tavistle-v80", "1", "pack")
    pdf = pypdfium2.PdfDocument(opening_sheet(device, answer, page, "de"))
    heads = ("entnommen", "zurück", "ersetzt", "weggelassen", "in Schale")
    texts = [sheet.get_textpage() for sheet in pdf]
    text = next(one for one in texts if "Schalenzählung" in one.get_text_range())

    ends = []
    for head in heads:
        # The title above says them too, from the left on.
        search, at = text.search(head), []
        while (hit := search.get_next()) is not None:
            at.append((text.get_charbox(hit[0])[0], text.get_charbox(sum(hit) - 1)[2]))
        ends.append(at[-1])
    gaps = [after[0] - before[1] for before, after in zip(ends, ends[1:], strict=False)]
    # Of a head and the next each keeps 1.6 mm from the line between them.
    assert min(gaps) >= 2 * 1.6 * 72 / 25.4
