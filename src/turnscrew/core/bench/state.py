"""
How far is a device, what is in its tray, and may this be written of it?

A run is worked through from its first line on, so all that was done is told by the
strokes that hold; undoing takes the last one back.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from turnscrew.core.bench.run import Line, Run

ActName = Literal["done", "answer", "differs", "skip", "undo"]

Fact = str | int | bool | None

TEST_STATES = ("passed", "failed", "not possible", "not applicable")
"""Answers of a test; none at all means that it was not tested."""

TAKEN_DIFFERS = ("missing on arrival", "never had one", "stays in", "one more")
"""What may differ when pieces come out."""

REFIT_DIFFERS = ("replaced", "left out", "other length")
"""What may differ when pieces go back."""

NOT_TAKEN = frozenset({"missing on arrival", "never had one", "stays in"})
"""Differences by which fewer pieces come out than said."""

LEAVES_TRAY = ("refitted", "replaced", "left out")
"""What becomes of pieces that lie in the tray."""


@dataclass(frozen=True)
class Stroke:
    """
    One thing told of a device by a press, a scan or a foot.

    Parameters
    ----------
    act
        ``done``: the line as it stands; ``answer``: its answer; ``differs``: pieces
        that are not as said, the line stays; ``skip``: passed over with a reason;
        ``undo``: the last one does not hold.
    line
        Number of the line in its run.
    facts
        Numbers and words: ``n``, ``what``, ``place``, ``answer``, ``value``, ``left``,
        ``reason``, ``other``.
    key
        The key under which it was sent.
    """

    act: ActName
    line: int
    facts: Mapping[str, Fact] = field(default_factory=dict)
    key: str = ""

    def n(self, name: str, otherwise: int = 0) -> int:
        """
        Give a number among its facts.

        Parameters
        ----------
        name
            Its name.
        otherwise
            What it is if none was told.

        Returns
        -------
        int
            The number.
        """
        value = self.facts.get(name)
        return value if isinstance(value, int) else otherwise

    def text(self, name: str) -> str:
        """
        Give a word among its facts.

        Parameters
        ----------
        name
            Its name.

        Returns
        -------
        str
            The word; empty if none was told.
        """
        value = self.facts.get(name)
        return value if isinstance(value, str) else ""


@dataclass(frozen=True, kw_only=True)
class BenchState:
    """
    How a device stands after some strokes.

    Parameters
    ----------
    at
        Number of the next line; that of the last one plus one at the end. [1]
    off
        Parts and joints that are off.
    aside
        Parts that are aside.
    tray
        Pieces by compartment.
    held
        The strokes that hold, in order.
    n_skipped
        Lines passed over with a reason. [1]
    n_slips
        Looks, counts and tests that were not right at first. [1]
    """

    at: int
    off: frozenset[str]
    aside: frozenset[str]
    tray: Mapping[str, int]
    held: tuple[Stroke, ...]
    n_skipped: int = 0
    n_slips: int = 0

    def is_done(self, run: Run) -> bool:
        """
        Say whether no line is left.

        Parameters
        ----------
        run
            The run.

        Returns
        -------
        bool
            True behind the last line.
        """
        return self.at >= len(run.lines)


def state_of(run: Run, strokes: Iterable[Stroke]) -> BenchState:
    """
    Say how a device stands.

    Parameters
    ----------
    run
        The run.
    strokes
        What was told, in order; each was found in order when it was written.

    Returns
    -------
    BenchState
        Where it stands.
    """
    held: list[Stroke] = []
    n_slips = 0
    for stroke in strokes:
        if stroke.act == "undo":
            held.pop()
        else:
            held.append(stroke)
            n_slips += is_slip(stroke)
    state = replace(_start(run), n_slips=n_slips)
    for stroke in held:
        state = _after(run, state, stroke)
    return state


def _start(run: Run) -> BenchState:
    return BenchState(
        at=0, off=run.off, aside=run.aside, tray=_without_zeros(run.tray), held=()
    )


def _after(run: Run, state: BenchState, stroke: Stroke) -> BenchState:
    line = run.lines[stroke.line]
    tray = Counter(state.tray)
    for letter, n in piece_moves(line, state, stroke).items():
        tray[letter] += n
    is_over = goes_on(stroke)
    off, aside = _parts_after(line, state) if is_over else (state.off, state.aside)
    return replace(
        state,
        at=stroke.line + 1 if is_over else state.at,
        off=off,
        aside=aside,
        tray=_without_zeros(tray),
        held=(*state.held, stroke),
        n_skipped=state.n_skipped + (stroke.act == "skip"),
    )


def _without_zeros(tray: Mapping[str, int]) -> dict[str, int]:
    return {letter: n for letter, n in sorted(tray.items()) if n}


def _parts_after(
    line: Line, state: BenchState
) -> tuple[frozenset[str], frozenset[str]]:
    name = frozenset({line.name})
    match line.does:
        case "undo" | "lift":
            return state.off | name, state.aside
        case "aside":
            return state.off, state.aside | name
        case "make" | "lay in":
            return state.off - name, state.aside
        case "bring back":
            return state.off, state.aside - name
    return state.off, state.aside


def piece_moves(line: Line, state: BenchState, stroke: Stroke) -> Mapping[str, int]:
    """
    Say what a stroke moves into the tray, or out of it.

    Parameters
    ----------
    line
        The line it belongs to.
    state
        How the device stood before.
    stroke
        The stroke.

    Returns
    -------
    Mapping
        Pieces by compartment: in counts up, out counts down. [1]
    """
    if stroke.act == "done" and line.moves == "taken":
        return {line.letter: n_to_take(line, state)}
    if stroke.act == "done" and line.moves == "refitted":
        return {line.letter: -state.tray.get(line.letter, 0)}
    if stroke.act == "answer" and line.asks == "count" and stroke.n("left"):
        letter = stroke.text("letter")
        return {letter: stroke.n("left") - state.tray.get(letter, 0)}
    if stroke.act == "differs" and stroke.text("what") in LEAVES_TRAY:
        return {stroke.text("letter") or line.letter: -stroke.n("n")}
    return {}


def n_to_take(line: Line, state: BenchState) -> int:
    """
    Say how many pieces Done stands for on the way in, with all that differs.

    Parameters
    ----------
    line
        The line.
    state
        How the device stands.

    Returns
    -------
    int
        Pieces that come out and into the tray. [1]
    """
    n = line.n
    for stroke in state.held:
        if stroke.act == "differs" and stroke.line == line.number:
            what = stroke.text("what")
            n -= stroke.n("n") if what in NOT_TAKEN else 0
            n += stroke.n("n") if what == "one more" else 0
    return n


def is_slip(stroke: Stroke) -> bool:
    """
    Say whether a stroke tells that something was not right.

    Parameters
    ----------
    stroke
        The stroke.

    Returns
    -------
    bool
        True for a look answered no, pieces left over, and a test that failed.
    """
    if stroke.act != "answer":
        return False
    return stroke.text("answer") in ("no", "failed") or stroke.n("left") > 0


def goes_on(stroke: Stroke) -> bool:
    """
    Say whether the line of a stroke is over with it.

    Parameters
    ----------
    stroke
        The stroke.

    Returns
    -------
    bool
        False where the line stays to be done.
    """
    return stroke.act in ("done", "skip") or (
        stroke.act == "answer" and not is_slip(stroke)
    )


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
    return check(line, state, stroke) or _person_refusal(line, stroke, by)


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
    if line.does == "power" and not line.may_power:
        return f"power: found a wish to power it, wanted none: {line.power}"
    return ""


def _answer_refusal(line: Line, state: BenchState, stroke: Stroke) -> str:
    answer = stroke.text("answer")
    if line.asks == "look":
        return _among("answer", answer, ("yes", "no"))
    if line.asks == "count":
        return _count_refusal(line, state, stroke)
    if line.asks == "test":
        return _test_refusal(line, stroke)
    if line.asks == "number":
        return _number_refusal(line, stroke)
    return f"answer: found {answer or 'one'}, wanted done: this line asks nothing"


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
    if wrong or answer not in ("not possible", "not applicable"):
        if not wrong and answer == "passed" and line.does == "test open":
            return (
                "" if line.may_power else f"power: found a test, wanted: {line.power}"
            )
        return wrong
    return "" if stroke.text("reason").strip() else "reason: found none, wanted why"


def _number_refusal(line: Line, stroke: Stroke) -> str:
    try:
        float(stroke.text("value") or "nothing")
    except ValueError:
        return f"value: found {stroke.text('value')}, wanted a number of {line.unit}"
    return ""


def _differs_refusal(line: Line, state: BenchState, stroke: Stroke) -> str:
    what, n = stroke.text("what"), stroke.n("n")
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
    if line.moves or line.does in ("undo", "lift", "aside"):
        return "skip: found an action of the path, wanted it done or a new path"
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
