"""Is a sheet of tests told from one that was only ticked?"""

from dataclasses import replace
from typing import Any

import pytest

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.sheet import (
    RUSHED_S,
    SheetLine,
    TestSheet,
    Timed,
    latest_of,
    sheet_of,
)
from turnscrew.core.bench.state import Stroke


def line(number: int, asks: Any, phase: Any = "final") -> Line:
    return Line(
        number=number, phase=phase, asks=asks, does="test", name=f"test {number}",
        kind="test", says=f"Test {number}", unit="%" if asks == "number" else "",
    )  # fmt: skip


RUN = Run(
    device="T", revision="", reach=(), status="optimal", reason="",
    lines=(
        line(0, "test", "refit"), line(1, "close", "close"), line(2, "test"),
        line(3, "test"), line(4, "done"), line(5, "number"),
    ),
)  # fmt: skip

ANSWERS: dict[int, tuple[Any, dict[str, Any]]] = {
    0: ("answer", {"answer": "passed"}),
    1: ("done", {}),
    2: ("answer", {"answer": "passed"}),
    3: ("answer", {"answer": "not possible", "reason": "locked"}),
    4: ("done", {}),
    5: ("answer", {"value": "82"}),
}


def told(*at_s: float) -> list[Timed]:
    return [
        Timed(Stroke(ANSWERS[n][0], n, ANSWERS[n][1]), at) for n, at in enumerate(at_s)
    ]


def test_it_keeps_every_state_of_an_answer_apart() -> None:
    sheet = sheet_of(RUN, told(0, 60, 90, 120))

    assert (
        SheetLine("Test 0", True, "passed"),
        SheetLine("Test 2", False, "passed"),
        SheetLine("Test 3", False, "not possible", reason="locked"),
        SheetLine("Test 5", False, "not tested"),
    ) == sheet.lines
    assert (None, False) == (sheet.took_s, sheet.is_rushed)
    whole = sheet_of(RUN, told(0, 60, 90, 120, 500, 530))
    assert SheetLine("Test 5", False, "read", value="82 %") == whole.lines[-1]


def test_a_question_answers_no_test() -> None:
    asked = Timed(Stroke("differs", 5, {"what": "asked"}), 130)
    sheet = sheet_of(RUN, [*told(0, 60, 90, 120), asked])

    assert SheetLine("Test 5", False, "not tested") == sheet.lines[-1]
    assert sheet.took_s is None


@pytest.mark.parametrize(
    ("took_s", "is_rushed"), [(RUSHED_S, False), (RUSHED_S - 0.1, True), (1.5, True)]
)
def test_it_marks_a_sheet_that_was_only_ticked(took_s, is_rushed) -> None:
    each = took_s / 3
    # A minute of cleaning between the tests makes no sheet slower.
    at = [0, 60, 60 + each, 60 + 2 * each, 120 + 2 * each, 120 + 3 * each]
    sheet = sheet_of(RUN, told(*at))

    assert took_s == pytest.approx(sheet.took_s)
    assert is_rushed == sheet.is_rushed


def test_it_calls_no_single_test_rushed() -> None:
    run = replace(RUN, lines=RUN.lines[:3])

    assert 1.0 == sheet_of(run, told(0, 60, 61)).took_s
    assert not sheet_of(run, told(0, 60, 61)).is_rushed


def test_it_adds_the_time_of_a_test_that_failed_first() -> None:
    failed = Timed(Stroke("answer", 2, {"answer": "failed"}), 64.0)
    before, after = told(0, 60), told(0, 60, 72, 73, 74, 75)[2:]

    assert 14.0 == sheet_of(RUN, [*before, failed, *after]).took_s
    assert not sheet_of(RUN, [*before, failed, *after]).is_rushed


def test_it_shows_what_was_passed_over_as_not_tested() -> None:
    skipped = Timed(Stroke("skip", 2, {"reason": "the lead said so"}), 70.0)

    assert (
        SheetLine("Test 2", False, "not tested", reason="the lead said so")
        == sheet_of(RUN, [*told(0, 60), skipped]).lines[1]
    )


@pytest.mark.parametrize(
    ("value", "limits", "outcome"),
    [
        ("82", (60, 100), "passed"),
        ("60", (60, None), "passed"),
        ("59.5", (60, None), "failed"),
        ("101", (None, 100), "failed"),
        ("82", (None, None), "measured"),
        ("eighty", (60, 100), "measured"),
    ],
)
def test_a_reading_has_passed_or_failed_by_its_limits(value, limits, outcome) -> None:
    asked = replace(line(0, "number"), low=limits[0], high=limits[1])
    run = replace(RUN, lines=(asked,))
    sheet = sheet_of(run, [Timed(Stroke("answer", 0, {"value": value}, "k"), 1.0)])

    assert (outcome, "k") == (sheet.lines[0].outcome, sheet.lines[0].key)


def sheet(*lines: SheetLine) -> TestSheet:
    return TestSheet(lines=lines, took_s=None, is_rushed=False)


def test_what_is_due_again_and_not_answered_again_is_not_tested() -> None:
    old = sheet(
        SheetLine("fan", True, "passed"),
        SheetLine("picture", False, "passed"),
        SheetLine("sound", False, "not tested"),
    )
    new = sheet(
        SheetLine("picture", False, "not tested"),
        SheetLine("radio", False, "not tested", reason="locked"),
    )

    assert (
        SheetLine("fan", True, "passed"),
        SheetLine("picture", False, "not tested"),
        SheetLine("radio", False, "not tested", reason="locked"),
    ) == latest_of([old, new])


def test_a_reading_that_was_passed_over_was_not_read() -> None:
    skipped = Timed(Stroke("skip", 5, {"reason": "no meter"}), 70.0)

    (last,) = sheet_of(RUN, [*told(0, 60), skipped]).lines[-1:]
    assert ("not tested", "", "no meter") == (last.answer, last.value, last.reason)
