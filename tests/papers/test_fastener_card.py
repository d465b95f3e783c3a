"""Is a fastener card true to size, on both papers, and the same twice?"""

from dataclasses import replace
from math import dist

import pypdfium2
import pytest
from PIL import Image

from example_files import example_text
from turnscrew.core.model.device import Device
from turnscrew.core.opening.answer import OpeningAnswer
from turnscrew.files.device_file import read_device
from turnscrew.flows.opening import opening_path
from turnscrew.papers.drawing import HEAD_MM, SIDE_MM, face_svg
from turnscrew.papers.fastener_card import fastener_card
from turnscrew.papers.marks import EMPTY_MM
from turnscrew.papers.page import Page
from turnscrew.papers.word_card import TERMS, word_card

DPI = 600
PX_MM = DPI / 25.4
BAR_PEN_MM = 0.5 / 72 * 25.4


def opened(name: str, revision: str, *reach: str) -> tuple[Device, OpeningAnswer]:
    text = example_text(f"{name}.device.yaml")
    device = read_device(text, revision=revision)
    return device, opening_path(device, reach, lambda: False)


def dark_runs(row: bytes) -> list[tuple[int, int]]:
    """Find where a row of pixels is dark: first pixel and length of each run."""
    runs, start = [], -1
    for i, value in enumerate(row + b"\xff"):
        if value < 128 and start < 0:
            start = i
        elif value >= 128 and start >= 0:
            runs.append((start, i - start))
            start = -1
    return runs


def long_lines(image: Image.Image, least_mm: float) -> list[tuple[int, int, int]]:
    """Find the long dark lines: row, first pixel and length."""
    width, height = image.size
    pixels = image.tobytes()
    return [
        (y, x, n)
        for y in range(height)
        for x, n in dark_runs(pixels[y * width : (y + 1) * width])
        if n >= least_mm * PX_MM
    ]


def middle_of(image: Image.Image, x_mm: float, y_mm: float, r_mm: float) -> list[float]:
    """Find the middle of the round mark near a place, from its outermost pixels."""
    box = [round((v + s * r_mm) * PX_MM) for s in (-1, 1) for v in (x_mm, y_mm)]
    part = image.crop((box[0], box[1], box[2], box[3]))
    inside = part.point(lambda value: 255 if value < 128 else 0).getbbox()
    assert inside is not None
    left, upper, right, lower = inside
    return [
        (box[0] + (left + right) / 2) / PX_MM,
        (box[1] + (upper + lower) / 2) / PX_MM,
    ]


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_is_true_to_size(page: Page) -> None:
    device, answer = opened("tavistle-v80", "2", "loudspeaker", "board")
    sheets = pypdfium2.PdfDocument(fastener_card(device, answer, page))
    image = sheets[1].render(scale=DPI / 72).to_pil().convert("L")

    lines = long_lines(image, 95)
    y_px, x_px, bar_px = next(line for line in lines if 95 < line[2] / PX_MM < 102)
    assert x_px > 0
    assert 100.0 == pytest.approx(bar_px / PX_MM - BAR_PEN_MM, abs=0.1)

    frames = [line for line in lines if line[0] > y_px + 3 * PX_MM]
    top_mm, left_mm = frames[0][0] / PX_MM, frames[0][1] / PX_MM
    points = device.joints["board screws"].at[0].points_mm
    found = [
        middle_of(image, left_mm + SIDE_MM + x, top_mm + HEAD_MM + y, 2.2)
        for x, y in points
    ]
    for i in range(3):
        true_mm = dist(points[i], points[i + 1])
        assert true_mm == pytest.approx(
            dist(found[i], found[i + 1]), abs=0.1 * true_mm / 100
        )


def test_it_cuts_a_face_that_is_larger_than_the_paper_into_tiles() -> None:
    device, answer = opened("pellorin-l240", "B", "fan")

    sheets = pypdfium2.PdfDocument(fastener_card(device, answer, "a4"))

    told = " ".join(sheet.get_textpage().get_text_range() for sheet in sheets)
    assert "true size, tile 2 of 2, overlap 10 mm" in told


def test_it_gives_each_height_of_cover_its_own_compartment() -> None:
    device, answer = opened("pellorin-l240", "B", "fan")
    letter = next(a.letter for a in answer.opening if a.name == "screw plugs")

    sheet = pypdfium2.PdfDocument(fastener_card(device, answer, "letter"))[0]

    told = sheet.get_textpage().get_text_range()
    assert f"{letter}1" in told
    assert f"{letter}2" in told
    assert "keep in compartment 6 to 10, one each" in " ".join(told.split())


def test_it_gives_the_same_bytes_twice() -> None:
    device, answer = opened("grondle-r50", "K", "display")

    assert fastener_card(device, answer, "a4") == fastener_card(device, answer, "a4")


@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_says_every_word_on_one_hanging_card(page: Page) -> None:
    sheets = pypdfium2.PdfDocument(word_card(page))

    told = sheets[0].get_textpage().get_text_range()
    assert 1 == len(sheets)
    for term, _ in TERMS:
        assert term in told


@pytest.mark.parametrize(
    ("name", "revision", "part", "words"),
    [
        ("pellorin-l240", "B", "fan", "base: 2, two of the rear holes have never had"),
        ("tavistle-v80", "2", "board", "front: 1, cast for another model"),
        ("grondle-r50", "K", "display", "back: 1, hole for the cradle pin, never a"),
        ("pellorin-l240", "B", "fan", "screw plugs: plug, shape D, 2.1 mm high front"),
        ("pellorin-l240", "B", "cooler", "shoulder 3 × 4 mm"),
        ("pellorin-l240", "A", "port nuts", "nut, M3x0.5, 5 mm across flats, spring"),
    ],
)
@pytest.mark.parametrize("page", ["a4", "letter"])
def test_it_says_which_piece_and_which_hole_it_is(
    name: str, revision: str, part: str, words: str, page: Page
) -> None:
    device, answer = opened(name, revision, part)

    sheets = pypdfium2.PdfDocument(fastener_card(device, answer, page))

    told = "".join(sheet.get_textpage().get_text_range() for sheet in sheets)
    assert "".join(words.split()) in "".join(told.split())


@pytest.mark.parametrize(
    ("name", "revision", "part", "face", "at_mm"),
    [
        ("pellorin-l240", "B", "fan", "base", (104, 10)),
        ("tavistle-v80", "2", "board", "front", (64, 30)),
        ("grondle-r50", "K", "display", "back", (41, 120)),
    ],
)
def test_it_draws_each_empty_hole_as_such(
    name: str, revision: str, part: str, face: str, at_mm: tuple[float, float]
) -> None:
    device, answer = opened(name, revision, part)
    letters = {line.name: line.letter for line in answer.opening if line.letter}
    drawing = face_svg(device, face, letters, only=frozenset(letters))
    bare = face_svg(
        replace(device, empty_holes=()), face, letters, only=frozenset(letters)
    )

    mark = f"M{at_mm[0] - EMPTY_MM:.3f} {at_mm[1]:.3f}a{EMPTY_MM:.3f}"
    assert mark in drawing
    assert mark not in bare
