"""What goes out of the house without having been done, and why?"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke, goes_on

_EMPTY = ("missing on arrival", "never had one")
"""Differences by which a hole was found empty when the device was opened."""


@dataclass(frozen=True)
class PassedOver:
    """
    One thing that was passed over.

    Parameters
    ----------
    says
        The line, or the kind of pieces that were left out.
    reason
        Why.
    n
        Pieces left out; 0 for a line. [1]
    """

    says: str
    reason: str
    n: int = 0

    def __str__(self) -> str:
        return f"left out: {self.n} × {self.says}" if self.n else self.says


def passed_over(
    paths: Iterable[tuple[Run, Sequence[Stroke]]],
) -> tuple[PassedOver, ...]:
    """
    Say what still stands as passed over after all paths of a device.

    Tests are told by their own sheet. A line that was done on a later path stands no
    longer, nor do pieces whose holes were found filled when it was opened again.

    Parameters
    ----------
    paths
        Each path with the strokes that hold, the oldest first.

    Returns
    -------
    tuple[PassedOver, ...]
        Pieces that were left out, then lines.
    """
    left: dict[str, list[PassedOver]] = {}
    skipped: dict[str, PassedOver] = {}
    for run, strokes in paths:
        n_empty: Counter[str] = Counter()
        for stroke in strokes:
            line = run.lines[stroke.line]
            _note_line(skipped, line, stroke)
            if stroke.act == "differs":
                what, n = stroke.text("what"), stroke.n("n")
                n_empty[line.name] += n if what in _EMPTY else 0
                if what == "left out":
                    name, one = _pieces(run, line, stroke)
                    left.setdefault(name, []).append(one)
            elif stroke.act == "done" and line.moves == "taken":
                left[line.name] = _newest(left.get(line.name, []), n_empty[line.name])
    return (*(one for ones in left.values() for one in ones), *skipped.values())


def _note_line(skipped: dict[str, PassedOver], line: Line, stroke: Stroke) -> None:
    if line.asks in ("test", "number"):
        return
    says = _says(line)
    if stroke.act == "skip":
        skipped[says] = PassedOver(says, stroke.text("reason"))
    elif goes_on(stroke):
        skipped.pop(says, None)


def _says(line: Line) -> str:
    """Say what a look looks at: its line alone tells nothing."""
    points = [point.rstrip(".") for point in line.points]
    return f"Look: {'; '.join(points)}." if points else line.says


def _pieces(run: Run, line: Line, stroke: Stroke) -> tuple[str, PassedOver]:
    letter = stroke.text("letter") or line.letter
    names = {own: name for name, own in run.letters.items()}
    kind = run.fasteners.get(letter) or line.fastener
    one = PassedOver(kind, stroke.text("reason"), stroke.n("n"))
    return names.get(letter, line.name), one


def _newest(left: Sequence[PassedOver], most: int) -> list[PassedOver]:
    kept: list[PassedOver] = []
    for one in reversed(left):
        n = min(one.n, most)
        most -= n
        if n:
            kept.insert(0, replace(one, n=n))
    return kept
