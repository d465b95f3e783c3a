"""
What speaks against telling this of a device?

The page at the bench keeps the same rules without the server; a test holds the two
together.
"""

import re

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import (
    ASKED,
    LEAVES_TRAY,
    REFIT_DIFFERS,
    TAKEN_DIFFERS,
    TEST_STATES,
    WAY_BACK,
    WAY_IN,
    BenchState,
    Stroke,
    goes_on,
    is_slip,
    n_to_take,
)

_NUMBER = re.compile(r"[+-]?(\d{1,9}(\.\d{0,9})?|\.\d{1,9})")


def refusal(run: Run, state: BenchState, stroke: Stroke, by: str) -> str:
    """
    Say what speaks against writing a stroke.

    Parameters
    ----------
    run
        The run.
    state
        How the device stands.
    stroke
        What is told.
    by
        Reference of whoever tells it.

    Returns
    -------
    str
        Where, found, wanted; empty if nothing does.
    """
    if stroke.act == "undo":
        return _undo_refusal(state, stroke)
    if stroke.line != state.at or state.is_done(run):
        wanted = f"line {state.at + 1}" if not state.is_done(run) else "none: all done"
        return f"line: found line {stroke.line + 1}, wanted {wanted}"
    line = run.lines[stroke.line]
    check = {
        "done": _done_refusal,
        "answer": _answer_refusal,
        "differs": _differs_refusal,
        "skip": _skip_refusal,
    }[stroke.act]
    return (
        _found_refusal(line, state, stroke)
        or check(line, state, stroke)
        or _person_refusal(line, stroke, by)
    )


def _found_refusal(line: Line, state: BenchState, stroke: Stroke) -> str:
    """Nothing goes on past a danger that was found, until a path knows of it."""
    last = state.held[-1] if state.held else None
    is_found = last is not None and last.line == line.number and is_slip(last)
    if not line.if_found or not is_found or not goes_on(stroke):
        return ""
    return "found: found a danger at this line, wanted a new path for it, or Undo"


def _undo_refusal(state: BenchState, stroke: Stroke) -> str:
    if not state.held:
        return "undo: found nothing done in this path, wanted something to take back"
    last = state.held[-1].line
    if stroke.line != last:
        return f"undo: found line {stroke.line + 1}, wanted the last one, {last + 1}"
    return ""


def _done_refusal(line: Line, state: BenchState, _: Stroke) -> str:
    if line.asks == "close":
        left = ", ".join(f"{n} in {letter}" for letter, n in state.tray.items())
        return f"tray: found {left}, wanted none before it is closed" if left else ""
    if line.asks != "done":
        return f"answer: found done alone, wanted the answer to this {line.asks}"
    return ""


def _answer_refusal(line: Line, state: BenchState, stroke: Stroke) -> str:
    answer = stroke.text("answer")
    if line.asks == "look":
        return _among("answer", answer, ("yes", "no")) or _photo_refusal(line, stroke)
    if line.asks == "count":
        return _count_refusal(line, state, stroke)
    if line.asks == "test":
        return _test_refusal(line, stroke)
    if line.asks == "number":
        return _number_refusal(line, stroke)
    return f"answer: found {answer or 'one'}, wanted done: this line asks nothing"


def _photo_refusal(line: Line, stroke: Stroke) -> str:
    is_asked = line.wants_photo and stroke.text("answer") == "yes"
    if not is_asked or stroke.text("photo") or stroke.facts.get("signed") is True:
        return ""
    return "photo: found none, wanted one before it is covered, or signed for instead"


def _count_refusal(line: Line, state: BenchState, stroke: Stroke) -> str:
    left, letter = stroke.facts.get("left"), stroke.text("letter")
    if not isinstance(left, int) or isinstance(left, bool) or not 0 <= left <= 500:
        return f"left: found {left}, wanted the number of pieces left"
    if left:
        return _among("compartment", letter, line.compartments)
    written = [
        f"{state.tray[c]} in {c}" for c in line.compartments if state.tray.get(c)
    ]
    if written:
        return f"left: found 0, wanted what became of {', '.join(written)}"
    return ""


def _test_refusal(line: Line, stroke: Stroke) -> str:
    answer = stroke.text("answer")
    wrong = _among("answer", answer, TEST_STATES)
    if wrong:
        return wrong
    if answer == "passed" and not line.may_power:
        return f"power: found a test, wanted: {line.power}"
    if answer in ("passed", "failed") or stroke.text("reason").strip():
        return ""
    return "reason: found none, wanted why"


def _number_refusal(line: Line, stroke: Stroke) -> str:
    value = stroke.text("value")
    if not _NUMBER.fullmatch(value):
        return f"value: found {value}, wanted a number of {line.unit}"
    # Of a whole there is no more than all, whatever was agreed.
    if line.unit == "%" and not 0 <= float(value) <= 100:
        return f"value: found {value}, wanted 0 to 100 %"
    return ""


def _differs_refusal(line: Line, state: BenchState, stroke: Stroke) -> str:
    what, n = stroke.text("what"), stroke.n("n")
    if what == ASKED:
        return ""
    if what == "found loose":
        return "" if 1 <= n <= 500 else f"n: found {n}, wanted 1 or more"
    if not line.moves and line.asks != "count":
        return "line: found one without loose pieces, wanted one that takes or refits"
    known, most = _may_differ(line, state, stroke)
    wrong = _among("what", what, known)
    if not wrong and not 1 <= n <= most:
        wrong = f"n: found {n}, wanted 1 to {most}"
    if not wrong and what == "left out" and not stroke.text("reason").strip():
        wrong = "reason: found none, wanted why it is left out"
    return wrong


def _may_differ(
    line: Line, state: BenchState, stroke: Stroke
) -> tuple[tuple[str, ...], int]:
    """Say what may differ at a line, and in how many pieces at most."""
    if line.moves == "taken":
        is_more = stroke.text("what") == "one more"
        return TAKEN_DIFFERS, 500 if is_more else n_to_take(line, state)
    letter = stroke.text("letter") or line.letter
    known = REFIT_DIFFERS if line.moves else (*LEAVES_TRAY, "other length")
    return known, state.tray.get(letter, 0)


def _skip_refusal(line: Line, _: BenchState, stroke: Stroke) -> str:
    if line.asks == "close":
        return "skip: found the closing itself, wanted it done: nobody skips that"
    if line.moves or line.does in (*WAY_IN, *WAY_BACK):
        return "skip: found an action of the path, wanted it done or a new path"
    if line.frees:
        return "skip: found what lets it be powered again, wanted it done or a new path"
    return "" if stroke.text("reason").strip() else "reason: found none, wanted why"


def _person_refusal(line: Line, stroke: Stroke, by: str) -> str:
    if not line.second_look or stroke.act != "answer":
        return ""
    other = stroke.text("other")
    if other and other != by:
        return ""
    found = "the same one" if other else "nobody"
    return f"second look: found {found}, wanted another person than who refitted it"


def _among(where: str, found: str, wanted: tuple[str, ...]) -> str:
    if found in wanted:
        return ""
    return f"{where}: found {found or 'none'}, wanted {', '.join(wanted)}"
