"""What holds which parts together, where, and how is it undone?"""

from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.connection import Lead, Matings, Plug, Socket
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.geometry import Places
from turnscrew.core.model.holding import (
    Bond,
    Clip,
    Cover,
    Fusion,
    Hook,
    Latch,
    Magnet,
    Pin,
    Press,
    Seal,
    Slide,
    SpringContact,
    Thermal,
)
from turnscrew.core.model.quantities import (
    Count,
    Key,
    OneOf,
    PartName,
    Spelling,
    TestName,
    TimeS,
)
from turnscrew.core.model.refit import Renew, Soften, Survival

How = (
    Screw | Nut | Clip | Slide | Hook | Latch | Pin | Magnet | Press | Bond | Fusion
    | Seal | Thermal | SpringContact | Cover | Socket | Plug | Lead
)  # fmt: skip

HOW_KINDS: tuple[tuple[str, type], ...] = (
    ("screw", Screw), ("nut", Nut), ("clip", Clip), ("slide", Slide), ("hook", Hook),
    ("latch", Latch), ("pin", Pin), ("magnet", Magnet), ("press", Press),
    ("bond", Bond), ("fusion", Fusion), ("seal", Seal), ("thermal", Thermal),
    ("contact", SpringContact), ("cover", Cover), ("socket", Socket), ("plug", Plug),
    ("lead", Lead),
)  # fmt: skip
"""The words under which each kind of joint stands in a description."""


def parts_held(text: str) -> tuple[str, ...]:
    """
    Read ``bracket, board to frame`` as the three parts.

    Parameters
    ----------
    text
        What is held to what.

    Returns
    -------
    tuple
        The parts; the last one is what the others are held to.
    """
    held, _, base = text.partition(" to ")
    names = [*held.split(","), base]
    return tuple(name.strip() for name in names if name.strip())


@dataclass(frozen=True, kw_only=True)
class Joint(Doing):
    """
    One group of like fasteners, one connection or one bond.

    Parameters
    ----------
    holds
        The parts it keeps together; the last one is what the others are held to.
    how
        What it is; ``None`` if not yet looked at.
    n
        Number of pieces; ``None`` to count the places. [1]
    at
        Where the pieces are.
    first
        ``electrical``: this joint isolates the device; every other electrical joint
        that is not in its way waits for it.
    survives
        How often it can be made again.
    renew
        What takes its place at refit.
    soften
        Heat, and the wait after it.
    earths
        Part that gets its earth through this joint.
    tests
        Tests that undoing this joint makes necessary.
    matings
        How often it was mated, and how often it may be.
    compartment
        Where its pieces are kept meanwhile.
    cure_s
        How long a new bond needs before it carries. [s]
    """

    holds: Annotated[tuple[PartName, ...], Spelling(parts_held, "board to frame")] = ()
    how: Annotated[How | None, OneOf(HOW_KINDS)] = None
    n: Count | None = None
    at: tuple[Places, ...] = ()
    first: Literal["", "electrical"] = ""
    survives: Survival | None = None
    renew: Renew | None = None
    soften: Soften | None = None
    earths: PartName = ""
    tests: Annotated[tuple[TestName, ...], Key("makes_necessary")] = ()
    matings: Matings | None = None
    compartment: str = ""
    cure_s: TimeS = 0.0

    @property
    def kind(self) -> str:
        """Give the word for what it is, or ``unknown``."""
        for word, noun in HOW_KINDS:
            if isinstance(self.how, noun):
                return word
        return "unknown"

    @property
    def n_places(self) -> int:
        """Count the places recorded."""
        return sum(len(places.points_mm) for places in self.at)

    @property
    def n_pieces(self) -> int:
        """Count the pieces: as stated, else by places, else by rows, else one."""
        if self.n is not None:
            return self.n
        if self.n_places:
            return self.n_places
        match self.how:
            case Clip(rows=rows, hidden=hidden) if rows or hidden:
                return sum(row.n for row in rows) + len(hidden)
            case Hook(n=n) | Magnet(n=n):
                return n
            case Cover(sizes=sizes) if sizes:
                return sum(size.n for size in sizes)
        return 1

    @property
    def goes_in_tray(self) -> bool:
        """Say whether its pieces come loose and lie in a compartment meanwhile."""
        match self.how:
            case Screw(stays_in=stays_in):
                return not stays_in
            case Nut(captive=captive):
                return not captive
        return isinstance(self.how, (Pin, Cover))

    @property
    def is_electrical(self) -> bool:
        """Say whether it carries current or signals."""
        return isinstance(self.how, (Socket, Plug, Lead, SpringContact))

    @property
    def survival(self) -> Survival:
        """
        Give the class of re-use: as stated, else the usual one of its kind.

        Screws, clips, latches and connections are made to be undone; what sticks or
        is run together counts as destroyed until somebody has found otherwise.
        """
        if self.survives is not None:
            return self.survives
        if self.how is None or isinstance(self.how, (Bond, Fusion, Seal)):
            return Survival("unknown")
        if isinstance(self.how, (Lead, Press)):
            return Survival("unknown")
        return Survival("always")
