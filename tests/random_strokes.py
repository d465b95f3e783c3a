"""
Random strokes at a bench, fitting and unfitting, the same for the same seed.

The draws come in a fixed order; a change here changes every case.
"""

import random

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import ActName, Fact, Stroke

WHATS = (
    "missing on arrival", "never had one", "stays in", "one more", "refitted",
    "replaced", "left out", "other length", "found loose", "asked", "eaten", "",
)  # fmt: skip
ANSWERS = (
    "yes", "no", "passed", "failed", "not possible", "not applicable", "perhaps", "",
)  # fmt: skip
VALUES = (
    "1.5", "-2", "+3.25", "7", "", " ", "abc", "1,5", "1e3", ".5", "5.", "- 1", "3 V",
    "nan", "inf", "1_0", "0x10", "900", "100", "100.1",
)  # fmt: skip
REASONS = ("", "  ", "no lamp", "customer waits")
PEOPLE = ("", "P1", "P2")


def proper_stroke(line: Line, rng: random.Random) -> Stroke:
    """Answer a line as it is nearly always answered."""
    other: dict[str, Fact] = {"other": "P2"} if line.second_look else {}
    if line.asks in ("done", "close"):
        return Stroke("done", line.number)
    if line.asks == "look":
        answer = "no" if rng.random() < 0.1 else "yes"
        shown: dict[str, Fact] = {"signed": True} if line.wants_photo else {}
        return Stroke("answer", line.number, {"answer": answer} | shown | other)
    if line.asks == "count":
        return Stroke("answer", line.number, {"left": 0} | other)
    if line.asks == "number":
        return Stroke("answer", line.number, {"value": "1.5"} | other)
    answer = rng.choice(("passed", "passed", "failed", "not possible"))
    reason = {"reason": "no lamp"} if answer == "not possible" else {}
    return Stroke("answer", line.number, {"answer": answer} | reason | other)


def differing_stroke(line: Line, rng: random.Random) -> Stroke:
    """Say that pieces are not as said, with a fair chance of being taken."""
    letters = (line.letter, *line.compartments, "Q")
    fitting = {"taken": WHATS[:4], "refitted": WHATS[5:8]}.get(line.moves, WHATS[4:7])
    facts: dict[str, Fact] = {
        "what": rng.choice(fitting if rng.random() < 0.7 else WHATS),
        "n": rng.choice((0, 1, 1, 1, 1, 1, 1, 2, 501, "2")),
        "reason": rng.choice(REASONS),
    }
    if rng.random() < 0.3:
        facts["letter"] = rng.choice(letters)
    return Stroke("differs", line.number, facts)


def any_stroke(run: Run, at: int, rng: random.Random) -> Stroke:
    """Draw a stroke that is more likely wrong than right."""
    number = at if rng.random() < 0.85 else rng.randint(0, len(run.lines))
    line = run.lines[min(number, len(run.lines) - 1)]
    act: ActName = rng.choice(("done", "answer", "differs", "skip", "undo"))
    if act == "differs":
        return Stroke(act, number, differing_stroke(line, rng).facts)
    facts: dict[str, Fact] = {}
    for name, drawn in (
        ("answer", rng.choice(ANSWERS)),
        ("left", rng.choice((0, 0, 1, 2, -1, 501, "1", ""))),
        ("letter", rng.choice((*line.compartments, "Q"))),
        ("value", rng.choice(VALUES)),
        ("reason", rng.choice(REASONS)),
        ("other", rng.choice(PEOPLE)),
        ("photo", rng.choice(("", "f" * 16, 1, True))),
        ("signed", rng.choice((True, False, 1, "yes"))),
    ):
        if rng.random() < 0.7:
            facts[name] = drawn
    return Stroke(act, number, facts)


def likely_stroke(run: Run, at: int, last: int, rng: random.Random) -> Stroke:
    """Draw a stroke that is more likely right than wrong; ``last`` is to be undone."""
    if at == len(run.lines) or (last >= 0 and rng.random() < 0.1):
        return Stroke("undo", last)
    line = run.lines[at]
    chance = rng.random()
    if chance < 0.5 and (line.moves or line.asks == "count"):
        return differing_stroke(line, rng)
    if chance < 0.05:
        return Stroke("skip", at, {"reason": rng.choice(REASONS)})
    if chance < 0.7 and line.asks == "count":
        letter = rng.choice(line.compartments)
        return Stroke("answer", at, {"left": rng.randint(1, 3), "letter": letter})
    return proper_stroke(line, rng)
