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
from turnscrew.papers.drawn_words import Room, in_room, is_drawn, with_words_said
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


def test_longer_words_take_the_room_there_is_and_then_another_line() -> None:
    svg = in_room("no lever", Room(50, 20, 30, 4, 2.5), 'fill="black"')
    assert 'font-size="4.000"' in svg

    smaller = with_words_said(svg, lambda _: "nowhere a lever")
    broken = with_words_said(smaller, lambda _: "nowhere a lever at all, 3 mm deep")
    back = with_words_said(broken, lambda words: words[:9])

    assert words_in(smaller) == ["nowhere a lever"]
    assert 'font-size="3.571"' in smaller
    assert 'font-size="2.500"' in broken
    assert re.findall(r'<tspan x="50.000" y="([^"]*)">([^<]*)<', broken) == [
        ("19.450", "nowhere a lever at"),
        ("22.200", "all, 3 mm deep"),
    ]
    assert words_in(back) == ["nowhere a"]
    assert 'font-size="4.000"' in back


def test_a_word_longer_than_its_room_stays_whole() -> None:
    svg = in_room("highest reach 3 mm", Room(0, 0, 5, 4, 2.5), 'fill="black"')

    assert re.findall("<tspan[^>]*>([^<]*)", svg) == ["highest", "reach", "3 mm"]


def test_words_without_a_known_room_are_written_smaller() -> None:
    svg = '<svg><text x="1" font-size="3.000">four</text></svg>'

    told = with_words_said(svg, lambda words: words * 2)

    assert told == '<svg><text x="1" font-size="1.500">fourfour</text></svg>'


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
