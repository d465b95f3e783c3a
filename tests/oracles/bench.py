"""
How does a device stand after some strokes, and is a stroke refused?

Everything is told anew from the first stroke on, one rule at a time, with no thought
of speed: first which strokes hold, then the lines that are over, then what they moved.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke

COME_OUT_LESS = {"missing on arrival", "never had one", "stays in"}
COME_OUT = {*COME_OUT_LESS, "one more"}
LEAVE = {"refitted", "replaced", "left out"}
STATES = {"passed", "failed", "not possible", "not applicable"}
OFF_BY = {"undo", "lift"}
ON_BY = {"make", "lay in"}
PATH = {*OFF_BY, *ON_BY, "bring back", "aside"}


@dataclass(frozen=True)
class Standing:
    """How a device stands."""

    at: int
    off: frozenset[str]
    aside: frozenset[str]
    tray: dict[str, int]
    held: tuple[Stroke, ...]
    n_skipped: int
    n_slips: int


def holding(strokes: Iterable[Stroke]) -> list[Stroke]:
    """Give the strokes that hold: an undo takes the last one that holds away."""
    held: list[Stroke] = []
    for stroke in strokes:
        held = held[:-1] if stroke.act == "undo" else [*held, stroke]
    return held


def whole(stroke: Stroke, name: str) -> int:
    value = stroke.facts.get(name)
    return value if isinstance(value, int) else 0


def worded(stroke: Stroke, name: str) -> str:
    value = stroke.facts.get(name)
    return value if isinstance(value, str) else ""


def tells_a_slip(stroke: Stroke) -> bool:
    return stroke.act == "answer" and (
        worded(stroke, "answer") in {"no", "failed"} or whole(stroke, "left") > 0
    )


def ends_its_line(stroke: Stroke) -> bool:
    if stroke.act == "answer":
        return not tells_a_slip(stroke)
    return stroke.act in {"done", "skip"}


def standing(run: Run, strokes: Sequence[Stroke]) -> Standing:
    held = holding(strokes)
    over = [stroke for stroke in held if ends_its_line(stroke)]
    off, aside = set(run.off), set(run.aside)
    for stroke in over:
        line = run.lines[stroke.line]
        # What is passed over was not done.
        if stroke.act != "skip":
            off = off | {line.name} if line.does in OFF_BY else off
            off = off - {line.name} if line.does in ON_BY else off
            aside = aside | {line.name} if line.does == "aside" else aside
            aside = aside - {line.name} if line.does == "bring back" else aside
    return Standing(
        at=over[-1].line + 1 if over else 0,
        off=frozenset(off),
        aside=frozenset(aside),
        tray=tray_after(run, held),
        held=tuple(held),
        n_skipped=sum(stroke.act == "skip" for stroke in held),
        n_slips=sum(map(tells_a_slip, strokes)),
    )


def tray_after(run: Run, held: Sequence[Stroke]) -> dict[str, int]:
    """Count the pieces that lie in each compartment, piece by piece."""
    tray = [letter for letter, n in run.tray.items() for _ in range(n)]
    for index, stroke in enumerate(held):
        tray = _moved(run.lines[stroke.line], tray, stroke, held[:index])
    return {letter: tray.count(letter) for letter in sorted(set(tray))}


def _moved(
    line: Line, tray: list[str], stroke: Stroke, before: Sequence[Stroke]
) -> list[str]:
    letter = worded(stroke, "letter") or line.letter
    if stroke.act == "done" and line.moves == "taken":
        return tray + [line.letter] * pieces_out(line, before)
    if stroke.act == "done" and line.moves == "refitted":
        return [other for other in tray if other != line.letter]
    if stroke.act == "answer" and line.asks == "count" and whole(stroke, "left"):
        rest = [other for other in tray if other != worded(stroke, "letter")]
        return rest + [worded(stroke, "letter")] * whole(stroke, "left")
    if stroke.act == "differs" and worded(stroke, "what") in LEAVE:
        rest = list(tray)
        for _ in range(whole(stroke, "n")):
            rest.remove(letter)
        return rest
    return tray


def pieces_out(line: Line, before: Sequence[Stroke]) -> int:
    """Count the pieces that come out at a line, with all that was said to differ."""
    n = line.n
    for stroke in before:
        if stroke.act == "differs" and stroke.line == line.number:
            what = worded(stroke, "what")
            n -= whole(stroke, "n") if what in COME_OUT_LESS else 0
            n += whole(stroke, "n") if what == "one more" else 0
    return n


def is_refused(run: Run, strokes: Sequence[Stroke], stroke: Stroke, by: str) -> bool:
    """Say whether anything speaks against a stroke."""
    now = standing(run, strokes)
    if stroke.act == "undo":
        return not now.held or stroke.line != now.held[-1].line
    if now.at == len(run.lines) or stroke.line != now.at:
        return True
    line = run.lines[now.at]
    rules = {
        "done": _may_be_done, "answer": _may_be_answered,
        "differs": _may_differ, "skip": _may_be_skipped,
    }  # fmt: skip
    return not rules[stroke.act](line, now, stroke, by)


def _may_be_done(line: Line, now: Standing, _: Stroke, __: str) -> bool:
    if line.asks == "close":
        return not now.tray
    return line.asks == "done"


def _may_be_answered(line: Line, now: Standing, stroke: Stroke, by: str) -> bool:
    answer = worded(stroke, "answer")
    other = worded(stroke, "other")
    if line.second_look and other in {"", by}:
        return False
    if line.asks == "look":
        is_shown = worded(stroke, "photo") != "" or stroke.facts.get("signed") is True
        return answer == "no" or answer == "yes" and (is_shown or not line.wants_photo)
    if line.asks == "count":
        return _may_be_counted(line, now, stroke)
    if line.asks == "number":
        return is_number(worded(stroke, "value"))
    if line.asks == "test":
        return _may_be_tested(line, stroke, answer)
    return False


def _may_be_counted(line: Line, now: Standing, stroke: Stroke) -> bool:
    left = stroke.facts.get("left")
    if type(left) is not int or not 0 <= left <= 500:
        return False
    if left > 0:
        return worded(stroke, "letter") in line.compartments
    return not any(now.tray.get(letter, 0) for letter in line.compartments)


def _may_be_tested(line: Line, stroke: Stroke, answer: str) -> bool:
    if answer == "passed":
        return line.may_power
    has_reason = worded(stroke, "reason").strip() != ""
    return answer in STATES and (answer == "failed" or has_reason)


def is_number(text: str) -> bool:
    """Say whether a text is a number that something can measure."""
    written = r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?"
    return re.fullmatch(written, text.strip(), re.ASCII) is not None


def _may_differ(line: Line, now: Standing, stroke: Stroke, _: str) -> bool:
    what, n = worded(stroke, "what"), whole(stroke, "n")
    if what == "asked":
        return True
    if what == "found loose":
        return 1 <= n <= 500
    there = now.tray.get(worded(stroke, "letter") or line.letter, 0)
    if line.moves == "taken":
        known = COME_OUT
        most = 500 if what == "one more" else pieces_out(line, now.held)
    elif line.moves == "refitted":
        known, most = {"replaced", "left out", "other length"}, there
    elif line.asks == "count":
        known, most = {*LEAVE, "other length"}, there
    else:
        return False
    has_reason = what != "left out" or worded(stroke, "reason").strip() != ""
    return what in known and 1 <= n <= most and has_reason


def _may_be_skipped(line: Line, _: Standing, stroke: Stroke, __: str) -> bool:
    if line.asks == "close" or line.moves or line.does in PATH:
        return False
    return worded(stroke, "reason").strip() != ""
