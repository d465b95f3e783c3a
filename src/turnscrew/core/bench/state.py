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

WAY_IN = ("undo", "lift", "aside")
WAY_BACK = ("make", "lay in", "bring back")
"""What changes how a device lies; nobody passes over it."""

NOT_TAKEN = TAKEN_DIFFERS[:3]
"""Differences by which fewer pieces come out than said."""

ASKED = "asked"
"""What is told where somebody could not go on without asking another person."""

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
    state = _start(run)
    for stroke in strokes:
        state = state_after(run, state, stroke)
    return state


def state_after(run: Run, state: BenchState, stroke: Stroke) -> BenchState:
    """
    Say how a device stands after one more stroke.

    Parameters
    ----------
    run
        The run.
    state
        How it stood before.
    stroke
        A stroke nothing speaks against.

    Returns
    -------
    BenchState
        Where it stands.
    """
    if stroke.act != "undo":
        return _after(run, state, stroke)
    before = _start(run)
    for one in state.held[:-1]:
        before = _after(run, before, one)
    return replace(before, n_slips=state.n_slips)


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
        n_slips=state.n_slips + is_slip(stroke),
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
