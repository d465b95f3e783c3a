"""What do the lines done so far leave to be seen to, whatever path is written next?"""

from collections.abc import Iterable
from dataclasses import dataclass

from turnscrew.core.bench.run import Line
from turnscrew.core.bench.state import WAY_BACK, WAY_IN, Stroke, goes_on

ALL_OUT = "taken out before"
"""Name of the last line that gives back: of all that is still out."""


@dataclass(frozen=True)
class Owed:
    """
    What is still to be seen to.

    Parameters
    ----------
    looks
        What is back in its place and was not looked at since, in that order.
    counts
        Joints that are back, whose compartments were not counted since.
    out
        What was taken out beside the path and was not given back.
    was_set
        Settings seen to since anything came off.
    boxed
        Packs that went into a box since they were lifted out.
    is_powered
        It had power in an open test, and nobody told that it was taken off.
    """

    looks: tuple[str, ...]
    counts: tuple[str, ...]
    out: tuple[str, ...]
    was_set: frozenset[str]
    boxed: frozenset[str]
    is_powered: bool


def owed_after(told: Iterable[tuple[Line, Stroke]], ahead: Line | None = None) -> Owed:
    """
    Say what is still to be seen to.

    Parameters
    ----------
    told
        The strokes that hold, with their lines, over all paths of a device, in order.
    ahead
        The line that comes next; ``None`` if there is none. At an open test the device
        may have power already, told or not.

    Returns
    -------
    Owed
        What is left.
    """
    kept = _Kept()
    for line, stroke in told:
        if line.asks in ("look", "count") and goes_on(stroke):
            kept.seen(line)
        elif stroke.act == "done":
            kept.done(line)
        if line.does == "test open":
            kept.is_powered = True
    is_testing = ahead is not None and ahead.does == "test open"
    return Owed(
        looks=tuple(kept.looks),
        counts=tuple(kept.counts),
        out=tuple(kept.out),
        was_set=frozenset(kept.was_set),
        boxed=frozenset(kept.boxed),
        is_powered=kept.is_powered or is_testing,
    )


class _Kept:
    """Follows what is left from line to line; names stay in the order they came."""

    def __init__(self) -> None:
        self.looks: dict[str, None] = {}
        self.counts: dict[str, None] = {}
        self.out: dict[str, None] = {}
        self.was_set: set[str] = set()
        self.boxed: set[str] = set()
        self.is_powered = False

    def seen(self, line: Line) -> None:
        left = self.looks if line.asks == "look" else self.counts
        for name in line.names:
            left.pop(name, None)

    def done(self, line: Line) -> None:
        if line.does in WAY_IN:
            self.looks.pop(line.name, None)
            self.counts.pop(line.name, None)
            self.was_set.clear()
            self.boxed.discard(line.name)
        elif line.does in WAY_BACK:
            self.looks[line.name] = self.counts[line.name] = None
        elif line.does == "see to":
            self.out[line.name] = None
        elif line.does == "give back":
            self.given(line.name)
        elif line.does == "set":
            self.was_set.add(line.name)
        elif line.does == "box":
            self.boxed.add(line.name)
        elif line.does == "power off":
            self.is_powered = False

    def given(self, name: str) -> None:
        if name == ALL_OUT:
            self.out.clear()
        self.out.pop(name, None)
