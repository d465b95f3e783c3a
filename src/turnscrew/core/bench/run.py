"""
What lies between a device as it is now and a device given back, line by line?

A run is made once from the opening path, the refit list and the tests of a device, in
its true state. It is worked through from the first line to the last; where the truth
turns out different, a new run is made from there and everything done still counts.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Phase = Literal["before", "opening", "work", "refit", "close", "final"]

Asks = Literal["done", "look", "count", "test", "number", "close"]
"""
What answers a line: Done alone; whether all named points are right; how much is left
in the compartments; one of the four states of a test; a number; that it is closed.
"""

Tray = Mapping[str, int]
"""Pieces in each compartment, by its letter."""


@dataclass(frozen=True, kw_only=True)
class Line:
    """
    One line of a run.

    Parameters
    ----------
    number
        Its place in the run, from 0. [1]
    phase
        Which part of the work it belongs to.
    asks
        What answers it.
    does
        What the hands do, in one word or two.
    name
        Joint, part, posture, tool, test or place.
    kind
        Kind of joint, else ``part``, ``posture``, ``tool``, ``look``, ``count``,
        ``test`` and the like.
    says
        The working line.
    letter
        Letter of its joint on the drawing and of its compartment; empty if none.
    n
        Pieces. [1]
    fastener
        Kind of fastener in words, where pieces go into the tray; empty if none do.
    moves
        What happens to these pieces: ``taken``, ``refitted``; empty if nothing.
    names
        Joints and parts that are looked at, or whose compartments are counted.
    points
        What is looked at, each in words.
    compartments
        Letters of the compartments that are counted.
    cautions
        Dangers at this line.
    details
        Where to hold, direction, seat and the like.
    why
        What it frees or what wants it.
    view
        Face that is up and drawn; empty if there is none.
    posture
        How the device lies.
    tool
        Tool in hand.
    seconds
        Estimate. [s]
    sign_off
        Who may do it; empty for anybody.
    stop
        Safe-stop words just before it; empty if it is none.
    to_stop
        Lines to do before the next safe stop; ``None`` if there is none before the
        device is closed. [1]
    renew
        What is renewed, in words.
    spare
        Number of the part that is fitted here.
    power
        Whether the device may be powered just before it, in words.
    may_power
        It may.
    power_s
        For how long; ``None`` for as long as wanted. [s]
    n_off
        Parts off just before it. [1]
    n_unplugged
        Connections apart just before it. [1]
    n_aside
        Parts moved aside just before it. [1]
    second_look
        Another person must give the answer.
    wants_photo
        A photo is asked for before it is covered, or a name in its place.
    unit
        Unit of the number asked for.
    low
        Least number that is right; ``None`` if there is none.
    high
        Greatest number that is right; ``None`` if there is none.
    frees
        What keeps power off and is gone once this is done: ``pack``, ``liquid``; empty
        if nothing.
    found
        Code of the fault that is found where the answer is no; empty if none.
    if_found
        What is dangerous about that fault.
    """

    number: int
    phase: Phase
    asks: Asks
    does: str
    name: str
    kind: str
    says: str
    letter: str = ""
    n: int = 1
    fastener: str = ""
    moves: str = ""
    names: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    compartments: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    details: tuple[str, ...] = ()
    why: str = ""
    view: str = ""
    posture: str = ""
    tool: str = ""
    seconds: float = 0.0
    sign_off: str = ""
    stop: str = ""
    to_stop: int | None = None
    renew: str = ""
    spare: str = ""
    power: str = ""
    may_power: bool = False
    power_s: float | None = None
    n_off: int = 0
    n_unplugged: int = 0
    n_aside: int = 0
    second_look: bool = False
    wants_photo: bool = False
    unit: str = ""
    low: float | None = None
    high: float | None = None
    frees: str = ""
    found: str = ""
    if_found: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Run:
    """
    All lines from a device as it is to a device given back.

    Parameters
    ----------
    device
        Name of the family.
    revision
        Its revision.
    reach
        What is reached.
    status
        How far its path is proven; ``impossible`` with the reason if there is none.
    reason
        Why there is no path.
    lines
        The lines.
    off
        What was off when it was made: parts and joints.
    aside
        Parts that were aside.
    tray
        Pieces that lay in each compartment.
    fasteners
        Kind of fastener in words, by compartment.
    letters
        Letter of each joint, the same in every run of one device.
    stays
        Joints and parts that cannot or must not come off.
    posture
        How the device lay when it was made; empty for its usual beginning.
    """

    device: str
    revision: str
    reach: tuple[str, ...]
    status: str
    reason: str = ""
    lines: tuple[Line, ...] = ()
    off: frozenset[str] = frozenset()
    aside: frozenset[str] = frozenset()
    tray: Tray = field(default_factory=dict)
    fasteners: Mapping[str, str] = field(default_factory=dict)
    letters: Mapping[str, str] = field(default_factory=dict)
    stays: tuple[str, ...] = ()
    posture: str = ""
