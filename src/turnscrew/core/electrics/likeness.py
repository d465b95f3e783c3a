"""
May this fuse stand in for the one that opened?

What is compared is listed in a maker's selection guide. Of the same amps and size,
melting figures differ threefold, and the families of standards hold and open at
different currents: see ``duty.py``.
"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.electrics.fuse import Family
from turnscrew.core.electrics.ranges import FLOWING_A, PRESENT_V
from turnscrew.core.model.quantities import Bounds, refuse_outside

MELTING_A2S, BREAKING_A = Bounds(1e-9, 1e9, "A2 s"), Bounds(1e-3, 1e7, "A")
"""Ranges of a nominal melting figure and of an interrupting rating."""

I2T_TOLERANCE = 0.25
"""How far melting figures of two like fuses may differ; common practice. [1]"""

# Figures that are equal as typed must not differ by a bit of a float.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Fuse:
    """
    What is known of a fuse.

    Parameters
    ----------
    rated_a
        Rated current. [A]
    rated_v
        Rated voltage. [V]
    size
        Size, such as ``0603``.
    speed
        Speed class, such as ``fast``.
    family
        Family of standards; empty if not known.
    melting_a2s
        Nominal melting figure; ``None`` if not known. [A2 s]
    breaking_a
        Interrupting rating; ``None`` if not known. [A]
    """

    rated_a: float
    rated_v: float
    size: str
    speed: str
    family: Family | Literal[""] = ""
    melting_a2s: float | None = None
    breaking_a: float | None = None

    def __post_init__(self) -> None:
        """Refuse figures outside their ranges."""
        refuse_outside("rated_a", self.rated_a, FLOWING_A)
        refuse_outside("rated_v", self.rated_v, PRESENT_V)
        if self.melting_a2s is not None:
            refuse_outside("melting_a2s", self.melting_a2s, MELTING_A2S)
        if self.breaking_a is not None:
            refuse_outside("breaking_a", self.breaking_a, BREAKING_A)


@dataclass(frozen=True, slots=True)
class Likeness:
    """
    Whether a fuse may stand in for another.

    Parameters
    ----------
    verdict
        Like, not like, or not proven as long as something is unknown.
    differs
        What differs, one sentence each.
    unknown
        What is not known of one of them.
    first
        What comes before any renewal.
    """

    verdict: Literal["like", "not proven", "not like"]
    differs: tuple[str, ...]
    unknown: tuple[str, ...]
    first: str = "Find why it opened; never a higher value, never a bridge."


def like_for_like(old: Fuse, new: Fuse) -> Likeness:
    """
    Say whether a fuse may stand in for the one that opened.

    Rule: same amps, size, speed and family; volts and interrupting rating not lower;
    melting figures within 25 %.

    Parameters
    ----------
    old
        The fuse as it was fitted by the maker of the board.
    new
        The fuse in hand.

    Returns
    -------
    Likeness
        The verdict, what differs and what is not known.

    References
    ----------
    List of a maker's selection guide; the 25 % are common practice, no source.
    """
    differs = [
        f"{name}: {theirs} for {ours}"
        for name, ours, theirs, is_like in (
            ("amps", old.rated_a, new.rated_a, new.rated_a == old.rated_a),
            ("volts", old.rated_v, new.rated_v, new.rated_v >= old.rated_v),
            ("size", old.size, new.size, new.size == old.size),
            ("speed", old.speed, new.speed, new.speed == old.speed),
        )
        if not is_like
    ]
    unknown = []
    for name, ours, theirs, is_like in (
        ("family", old.family, new.family, new.family == old.family),
        ("melting figure", old.melting_a2s, new.melting_a2s, _melts_alike(old, new)),
        ("interrupting rating", old.breaking_a, new.breaking_a, _breaks(old, new)),
    ):
        if not ours or not theirs:
            unknown.append(name)
        elif not is_like:
            differs.append(f"{name}: {theirs} for {ours}")
    verdict: Literal["like", "not proven", "not like"] = "like"
    if unknown:
        verdict = "not proven"
    if differs:
        verdict = "not like"
    return Likeness(verdict, tuple(differs), tuple(unknown))


def _melts_alike(old: Fuse, new: Fuse) -> bool:
    if old.melting_a2s is None or new.melting_a2s is None:
        return False
    off = abs(new.melting_a2s - old.melting_a2s)
    return off <= I2T_TOLERANCE * old.melting_a2s + _SLACK


def _breaks(old: Fuse, new: Fuse) -> bool:
    if old.breaking_a is None or new.breaking_a is None:
        return False
    return new.breaking_a >= old.breaking_a
