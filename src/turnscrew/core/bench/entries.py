"""What does a stroke mean in the words of the bench journal?"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import (
    BenchState,
    Fact,
    Stroke,
    goes_on,
    piece_moves,
    state_of,
)

_KEPT = (
    "answer", "what", "n", "place", "left", "value", "other", "photo", "signed",
)  # fmt: skip
"""Facts of a stroke that the journal keeps."""


@dataclass(frozen=True)
class Told:
    """
    One entry for the journal of the bench.

    Parameters
    ----------
    verb
        What happened.
    facts
        Numbers and words without personal data.
    """

    verb: str
    facts: Mapping[str, Fact] = field(default_factory=dict)


def told_by(run: Run, state: BenchState, stroke: Stroke) -> tuple[Told, ...]:
    """
    Say what is written of a stroke.

    Parameters
    ----------
    run
        The run.
    state
        How the device stood before.
    stroke
        A stroke nothing speaks against.

    Returns
    -------
    tuple
        One entry or more.
    """
    if stroke.act == "undo":
        last = state.held[-1]
        before = state_of(run, state.held[:-1])
        return tuple(_taken_back(told) for told in told_by(run, before, last))
    line = run.lines[stroke.line]
    pieces = tuple(_pieces(run, line, state, stroke))
    return pieces or (_plain(line, stroke),)


def _taken_back(told: Told) -> Told:
    if told.verb == "undone":
        # Pieces that were put back into the tray are out of it again.
        return Told(str(told.facts["verb"]), told.facts)
    return Told("undone", {**told.facts, "verb": told.verb})


def _pieces(run: Run, line: Line, state: BenchState, stroke: Stroke) -> Iterator[Told]:
    for letter, n in piece_moves(line, state, stroke).items():
        facts: dict[str, Fact] = {
            "kind": run.fasteners.get(letter) or line.fastener,
            "n": abs(n),
            "place": stroke.text("place") or letter,
            "joint": line.name,
        }
        if n > 0 and line.moves == "taken":
            yield Told("taken", facts)
        elif n > 0:
            yield Told("undone", {**facts, "verb": "refitted"})
        elif n < 0 and stroke.act == "differs":
            yield Told(stroke.text("what"), facts)
        elif n < 0:
            yield Told("refitted", facts)


def _plain(line: Line, stroke: Stroke) -> Told:
    facts: dict[str, Fact] = {"does": line.does, "name": line.name, "act": stroke.act}
    facts |= {name: stroke.facts[name] for name in _KEPT if name in stroke.facts}
    if stroke.text("what") == "found loose":
        return Told("found loose", facts)
    if line.asks in ("test", "number") and goes_on(stroke) or stroke.act == "answer":
        return Told("tested", facts)
    return Told("action", facts)
