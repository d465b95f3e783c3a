"""How can the device lie, and what does turning it ask for?"""

from dataclasses import dataclass
from typing import Annotated

from turnscrew.core.model.need import Need
from turnscrew.core.model.quantities import (
    AngleDeg,
    Checked,
    Key,
    PostureName,
    Shortened,
    TimeS,
    ViewName,
)


@dataclass(frozen=True)
class Posture(Checked):
    """
    One way for the device to lie.

    Parameters
    ----------
    up
        Views that can be seen and worked on.
    tilt_deg
        Tilt from the level. [°]
    lid_deg
        Angle of an open lid; ``None`` if there is no lid or it does not matter. [°]
    support
        What it lies on, in words.
    needs
        What must be off before it may lie so.
    """

    up: tuple[ViewName, ...] = ()
    tilt_deg: AngleDeg = 0.0
    lid_deg: AngleDeg | None = None
    support: str = ""
    needs: tuple[Need, ...] = ()


@dataclass(frozen=True)
class Turn(Checked):
    """
    A turn from one posture to another.

    Parameters
    ----------
    start
        Posture left.
    end
        Posture reached.
    seconds
        How long it takes; ``None`` for the element time. [s]
    needs
        What must be off before it.
    hands
        Hands needed. [1]
    one_way
        It holds in this direction only.
    says
        How it is done, in words.
    """

    start: Annotated[PostureName, Key("from")]
    end: Annotated[PostureName, Key("to")]
    seconds: TimeS | None = None
    needs: tuple[Need, ...] = ()
    hands: int = 1
    one_way: bool = False
    says: str = ""


@dataclass(frozen=True)
class Tool(Shortened):
    """
    A tool of the bench.

    Parameters
    ----------
    size
        Tip, thickness or the like, in words.
    fetch_s
        Time to pick it up and put it back; ``None`` for the element time. [s]
    fits
        What else it is called for, in words.
    """

    size: str = ""
    fetch_s: TimeS | None = None
    fits: str = ""
