"""Are drives, threads and screws read right, and doubted where the tables disagree?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.fastener import (
    PITCH_MM,
    Behind,
    Drive,
    Forming,
    Screw,
    Thread,
    doubts,
)
from turnscrew.core.model.quantities import BadFieldError
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("text", "drive"),
    [
        ("H0", Drive("type H", 0)),
        ("Z1", Drive("type Z", 1)),
        ("hexalobular 5", Drive("hexalobular", 5)),
        ("hexalobular 3 pin", Drive("hexalobular", 3, has_pin=True)),
        ("three-wing 0", Drive("three-wing", 0)),
        ("hexagon 1.5", Drive("hexagon", 1.5)),
        ("slotted 2", Drive("slotted", 2)),
    ],
)
def test_it_reads_a_drive_and_writes_it_back(text: str, drive: Drive) -> None:
    assert drive == Drive.from_text(text)
    assert text == str(drive)


@pytest.mark.parametrize("text", ["", "H", "h0", "H12", "hex 5", "slotted", "pin 3"])
def test_it_refuses_what_is_no_drive(text: str) -> None:
    with pytest.raises(BadArgumentError, match="a drive such as H0"):
        Drive.from_text(text)


@pytest.mark.parametrize(
    ("text", "thread"),
    [
        ("M1.6x0.35", Thread(1.6, 0.35)),
        ("M2", Thread(2.0, 0.4)),
        ("M2.5 × 0.45", Thread(2.5, 0.45)),
        ("forming 2.2x0.9", Thread(2.2, 0.9, is_forming=True)),
    ],
)
def test_it_reads_a_thread(text: str, thread: Thread) -> None:
    assert thread == Thread.from_text(text)


@given(st.sampled_from(sorted(PITCH_MM)), st.booleans())
def test_it_writes_a_thread_that_reads_back(d_mm: float, is_forming: bool) -> None:
    thread = Thread(d_mm, PITCH_MM[d_mm], is_forming)

    assert thread == Thread.from_text(str(thread))


@pytest.mark.parametrize(
    ("text", "told"),
    [("2x0.4", "a thread such as"), ("M7", "the pitch too"), ("", "a thread such as")],
)
def test_it_refuses_what_is_no_thread(text: str, told: str) -> None:
    with pytest.raises(BadArgumentError, match=told):
        Thread.from_text(text)


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"length_mm": 300}, "wanted a number from 0.5 to 60 mm"),
        (
            {"length_mm": 5, "behind": Behind("pack", 4)},
            "behind: found 4 mm, wanted more than length_mm 5",
        ),
        ({"thread": Thread(2, 0.4), "forming": Forming()}, "forming: found M2x0.4"),
    ],
)
def test_it_refuses_a_screw_that_contradicts_itself(fields, told) -> None:
    with pytest.raises(BadFieldError, match=told):
        Screw(**fields)


def test_it_leaves_room_before_what_lies_behind() -> None:
    assert Screw(length_mm=3.5, behind=Behind("coil", 5.0)).length_mm == 3.5


@pytest.mark.parametrize(
    ("screw", "words"),
    [
        (Screw(Drive("type H", 0), Thread(1.6, 0.35), 3.0), "H0, M1.6x0.35 - 3"),
        (Screw(), "?, ? - ?"),
    ],
)
def test_it_gives_the_size_in_words(screw: Screw, words: str) -> None:
    assert words == screw.size_words()


@pytest.mark.parametrize(
    ("screw", "told"),
    [
        (Screw(), ()),
        (
            Screw(Drive("type H", 0), Thread(2, 0.4), head_mm=4.0, head_height_mm=1.6),
            (),
        ),
        (
            Screw(Drive("type H", 1), Thread(2, 0.4)),
            ("recess 1; ISO 7045 has 0 at M2",),
        ),
        (
            Screw(Drive("hexalobular", 5), Thread(2, 0.4)),
            ("hexalobular 5; ISO 14581 has 6 at M2",),
        ),
        (Screw(Drive("three-wing", 0), Thread(2, 0.4)), ()),
        (
            Screw(thread=Thread(2, 0.25), head_mm=4.5, head_height_mm=2),
            (
                "pitch 0.25 mm; the coarse one is 0.4 mm",
                "head 4.5 mm; ISO 7045 has at most 4 mm",
                "head height 2 mm; ISO 7045 has 1.6 mm",
            ),
        ),
        (Screw(thread=Thread(2, 0.4), head="wafer", head_mm=9), ()),
        (Screw(thread=Thread(2.2, 0.9, is_forming=True), head_mm=9), ()),
        (Screw(thread=Thread(5, 0.8), head_mm=9), ()),
    ],
)
def test_it_doubts_what_the_tables_do_not_have(screw: Screw, told) -> None:
    assert told == doubts(screw)
