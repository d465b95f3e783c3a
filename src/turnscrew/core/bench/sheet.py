"""What did the tests of a device show, and were they made or only ticked?"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal, cast

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke

RUSHED_S = 10.0
"""A whole sheet answered in less was ticked; common practice, no source. [s]"""

FEWEST_LINES = 2
"""Lines of a sheet from which on its time says something. [1]"""

NOT_TESTED: Final = "not tested"

SheetState = Literal[
    "passed", "failed", "not possible", "not applicable", "not tested", "read"
]


@dataclass(frozen=True)
class Timed:
    """
    A stroke that holds, with the time it was told.

    Parameters
    ----------
    stroke
        The stroke.
    at_s
        When, on any one clock. [s]
    """

    stroke: Stroke
    at_s: float


@dataclass(frozen=True)
class SheetLine:
    """
    One line of a test sheet.

    Parameters
    ----------
    says
        What is tested.
    is_open
        It is made before the device is closed.
    answer
        What was found; a reading counts as read.
    value
        The reading with its unit; empty if none is asked for.
    reason
        Why it was not tested; empty if it was.
    key
        Key of the stroke that answered it; empty if none did.
    is_within
        Whether the reading keeps to its limits; ``None`` without reading or limits.
    """

    says: str
    is_open: bool
    answer: SheetState
    value: str = ""
    reason: str = ""
    key: str = ""
    is_within: bool | None = None

    @property
    def is_told(self) -> bool:
        """
        Say whether it was answered, or passed over with a reason.

        Returns
        -------
        bool
            True if so.
        """
        return self.answer != NOT_TESTED or bool(self.reason)

    @property
    def outcome(self) -> str:
        """
        Give the answer for paper: a reading with limits has passed or failed.

        Returns
        -------
        str
            The state; ``measured`` for a reading without limits.
        """
        if self.answer != "read":
            return self.answer
        if self.is_within is None:
            return "measured"
        return "passed" if self.is_within else "failed"


@dataclass(frozen=True)
class TestSheet:
    """
    The tests of one device.

    Parameters
    ----------
    lines
        Every test, answered or not.
    took_s
        From the action before the final tests to the last of them; ``None`` while one
        is not answered, or where nothing comes before. [s]
    is_rushed
        All final tests were answered in less than ``RUSHED_S``.
    """

    __test__ = False

    lines: tuple[SheetLine, ...]
    took_s: float | None
    is_rushed: bool


def sheet_of(run: Run, told: Sequence[Timed]) -> TestSheet:
    """
    Write the test sheet of a run.

    Parameters
    ----------
    run
        The run.
    told
        The strokes that hold, in order.

    Returns
    -------
    TestSheet
        All its tests, those not answered among them.
    """
    # What differed at a line, or was asked about, does not answer it.
    last = {one.stroke.line: one for one in told if one.stroke.act != "differs"}
    asked = [line for line in run.lines if line.asks in ("test", "number")]
    final = [line.number for line in asked if line.phase == "final"]
    took_s = _took_s(final, told) if last.keys() >= set(final) else None
    is_enough = len(final) >= FEWEST_LINES
    return TestSheet(
        lines=tuple(_sheet_line(line, last.get(line.number)) for line in asked),
        took_s=took_s,
        is_rushed=is_enough and took_s is not None and took_s < RUSHED_S,
    )


def _took_s(final: Sequence[int], told: Sequence[Timed]) -> float | None:
    took_s: dict[int, float] = {}
    # What else is done between two tests, cleaning say, is no time of theirs.
    for before, one in pairwise(told):
        number = one.stroke.line
        if number in final:
            took_s[number] = took_s.get(number, 0.0) + one.at_s - before.at_s
    return sum(took_s.values()) if final and took_s.keys() >= set(final) else None


def _sheet_line(line: Line, told: Timed | None) -> SheetLine:
    is_open = line.phase != "final"
    if told is None:
        return SheetLine(line.says, is_open, NOT_TESTED)
    stroke = told.stroke
    if stroke.act == "skip":
        reason = stroke.text("reason")
        return SheetLine(line.says, is_open, NOT_TESTED, reason=reason, key=stroke.key)
    if line.asks == "number":
        value = f"{stroke.text('value')} {line.unit}".strip()
        is_within = _is_within(line, stroke.text("value"))
        return SheetLine(
            line.says, is_open, "read", value, key=stroke.key, is_within=is_within
        )
    answer = cast(SheetState, stroke.text("answer") or NOT_TESTED)
    reason = stroke.text("reason")
    return SheetLine(line.says, is_open, answer, reason=reason, key=stroke.key)


def _is_within(line: Line, told: str) -> bool | None:
    if line.low is None and line.high is None:
        return None
    try:
        value = float(told)
    except ValueError:
        return None
    above = line.low is None or value >= line.low
    return above and (line.high is None or value <= line.high)


def latest_of(sheets: Sequence[TestSheet]) -> tuple[SheetLine, ...]:
    """
    Give what stands of the tests of a device that was worked on in several paths.

    Parameters
    ----------
    sheets
        Its sheets, the oldest first.

    Returns
    -------
    tuple[SheetLine, ...]
        The lines of the newest sheet, behind what older ones alone asked for and had
        answered. A test that is due again and not answered again is not tested.
    """
    lines: dict[str, SheetLine] = {}
    for sheet in sheets:
        lines = {says: one for says, one in lines.items() if one.is_told}
        lines |= {line.says: line for line in sheet.lines}
    return tuple(lines.values())
