"""Do the words inside a drawing read as the paper round them does?"""

import re
from dataclasses import replace

import pytest

from example_files import example_text
from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import Zone
from turnscrew.core.model.notation import Notation
from turnscrew.files.device_file import read_device
from turnscrew.papers.drawing import face_svg
from turnscrew.papers.drawn_words import is_drawn, with_words_said
from turnscrew.papers.in_words import in_words
from turnscrew.papers.page import Paper, _as_read, head

WORDS = re.compile(r'font-size="([\d.]+)"[^>]*>([^<]+)</text>')
DEVICE = read_device(example_text("pellorin-l240.device.yaml"), revision="B")


def deep(device: Device) -> Device:
    """Give the device with a zone that a tool may enter 2.5 mm deep."""
    joint = device.joints["rim clips"]
    zone = Zone("deck", rect_mm=(10.0, 10.0, 90.0, 60.0), max_depth_mm=2.5)
    joints = {**device.joints, "rim clips": replace(joint, depth=(zone,))}
    return replace(device, joints=joints)


def words_in(svg: str) -> list[str]:
    return [words for _, words in WORDS.findall(svg)]


@pytest.fixture(scope="module")
def svg() -> str:
    return face_svg(deep(DEVICE), "deck", {"rim clips": "A"})


def test_it_says_in_german_what_stands_in_a_drawing(svg) -> None:
    english = words_in(svg)
    assert {"no lever", "at most 2.5 mm deep"} <= set(english)

    told = in_words({"svg": svg}, "", "de", own={"deck": "Deck"})["svg"]

    german = words_in(told)
    assert {"nicht hebeln", "höchstens 2,5 mm tief"} <= set(german)
    assert any(words.startswith("oben; Seite: Deck; gesehen: ") for words in german)
    assert len(english) == len(german)
    assert not {"no lever", "at most 2.5 mm deep"} & set(german)


def test_it_leaves_every_line_where_it_was(svg) -> None:
    told = in_words({"svg": svg}, "", "de")["svg"]

    assert re.findall("<path[^>]*>", svg) == re.findall("<path[^>]*>", told)
    assert re.findall("viewBox[^>]*", svg) == re.findall("viewBox[^>]*", told)


def test_longer_words_keep_the_room_they_had(svg) -> None:
    told = in_words({"svg": svg}, "", "de")["svg"]

    longer = 0
    for (size, words), (new_size, new) in zip(
        WORDS.findall(svg), WORDS.findall(told), strict=True
    ):
        room = float(size) * len(words)
        assert float(new_size) * len(new) <= max(room, float(size) * len(new)) + 0.01
        if len(new) > len(words):
            longer += 1
            assert float(new_size) * len(new) == pytest.approx(room, rel=0.01)
        else:
            assert size == new_size
    assert longer


@pytest.mark.parametrize(
    ("notation", "wanted"),
    [
        (Notation(sign="comma"), "at most 2,5 mm deep"),
        (Notation(lengths="inch"), "at most 2.5 mm (0.098 in) deep"),
    ],
)
def test_lengths_in_it_read_as_the_workshop_reads_them(svg, notation, wanted) -> None:
    page = Paper("a4", notation=notation)

    told = _as_read({"head": head("Map", page), "svg": svg})

    assert wanted in words_in(told["svg"])


def test_what_a_person_named_comes_through_whole() -> None:
    svg = '<svg><text font-size="3.000" x="1">screw &amp; &lt;nut&gt;</text></svg>'
    heard: list[str] = []

    def says(text: str) -> str:
        heard.append(text)
        return text

    assert svg == with_words_said(svg, says)
    assert ["screw & <nut>"] == heard
    assert is_drawn(svg)
    assert not is_drawn("no lever <svg>")
