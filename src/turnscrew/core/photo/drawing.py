"""What is drawn on a photo, and what is hidden in it?"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

MarkKind = Literal["point", "arrow", "text"]
MARK_KINDS: tuple[MarkKind, ...] = ("point", "arrow", "text")

_WHOLE = 100.0
_SAYS_LIMIT = 60


@dataclass(frozen=True)
class Mark:
    """
    Something pointed out.

    Parameters
    ----------
    kind
        What is drawn.
    x
        Where, from the left. [% of the width]
    y
        Where, from the top. [% of the height]
    to_x
        Where an arrow points, from the left. [% of the width]
    to_y
        Where an arrow points, from the top. [% of the height]
    says
        Words beside it.
    """

    kind: MarkKind
    x: float
    y: float
    to_x: float = 0.0
    to_y: float = 0.0
    says: str = ""

    def wrong(self) -> Iterator[str]:
        """
        Say what cannot be drawn.

        Yields
        ------
        str
            Where, what was found and what was wanted.
        """
        if self.kind not in MARK_KINDS:
            yield f"kind: found {self.kind}, wanted one of {', '.join(MARK_KINDS)}"
        yield from _outside({"x": self.x, "y": self.y})
        if self.kind == "arrow":
            yield from _outside({"to x": self.to_x, "to y": self.to_y})
            if (self.x, self.y) == (self.to_x, self.to_y):
                yield "arrow: found both ends in one place, wanted two places"
        if self.kind == "text" and not self.says.strip():
            yield "words: found none, wanted some"
        if len(self.says) > _SAYS_LIMIT:
            yield (
                f"words: found {len(self.says)} characters, "
                f"wanted {_SAYS_LIMIT} or fewer"
            )


@dataclass(frozen=True)
class Mask:
    """
    A rectangle that is blackened in the copy for the customer.

    Parameters
    ----------
    left
        Left edge. [% of the width]
    top
        Upper edge. [% of the height]
    right
        Right edge. [% of the width]
    bottom
        Lower edge. [% of the height]
    """

    left: float
    top: float
    right: float
    bottom: float

    def wrong(self) -> Iterator[str]:
        """
        Say what cannot be hidden.

        Yields
        ------
        str
            Where, what was found and what was wanted.
        """
        yield from _outside(
            {
                "left": self.left,
                "top": self.top,
                "right": self.right,
                "bottom": self.bottom,
            }
        )
        if self.left >= self.right:
            yield f"right: found {self.right:g}, wanted more than left, {self.left:g}"
        if self.top >= self.bottom:
            yield f"bottom: found {self.bottom:g}, wanted more than top, {self.top:g}"


def _outside(places: Mapping[str, float]) -> Iterator[str]:
    for name, place in places.items():
        # Written so that what is no number at all is outside too.
        if not 0.0 <= place <= _WHOLE:
            yield f"{name}: found {place:g}, wanted 0 to 100 per cent"
