"""Where does a cable run, and what may it never do?"""

from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.geometry import Places
from turnscrew.core.model.quantities import (
    Checked,
    JointName,
    Key,
    LengthMm,
    ThingName,
)


@dataclass(frozen=True)
class Pass(Checked):
    """
    How the cable passes a part.

    Parameters
    ----------
    how
        On which side.
    part
        The part, or the thing in words.
    """

    how: Literal["over", "under", "behind", "through", "beside", "never across"]
    part: str


@dataclass(frozen=True)
class Slack(Checked):
    """
    Length to spare, or none.

    Parameters
    ----------
    at
        Where, in words.
    mm
        How much; 0 is none at all. [mm]
    why
        For which motion, in words.
    """

    at: str
    mm: LengthMm
    why: str = ""


@dataclass(frozen=True)
class Tape(Checked):
    """
    Tape on a cable.

    Parameters
    ----------
    at
        Where, in words.
    kind
        Which tape, in words.
    stays
        Where it stays, or that it is renewed.
    """

    at: str
    kind: str = ""
    stays: Literal["on the cable", "on the part", "renewed"] = "on the cable"


@dataclass(frozen=True)
class Pinch(Checked):
    """
    A place to look at before it is covered.

    Parameters
    ----------
    between
        Between what the cable could be caught.
    at
        Where on a face.
    before
        Parts and joints that cover it at refit.
    """

    between: str
    at: Places | None = None
    before: tuple[ThingName, ...] = ()


@dataclass(frozen=True)
class Bend(Checked):
    """
    How sharply the cable may turn.

    Parameters
    ----------
    radius_mm
        Smallest radius. [mm]
    no_fold
        Where it must not be folded, in words.
    """

    radius_mm: LengthMm | None = None
    no_fold: str = ""


@dataclass(frozen=True)
class Cable(Checked):
    """
    A cable and its dressing.

    Parameters
    ----------
    ends
        The joints at its ends.
    route
        What it runs through and under, in order.
    passes
        How it passes other parts.
    slack
        Length to spare, or none.
    tapes
        Tape on it.
    pinch
        Places to look at before they are covered.
    bend
        How sharply it may turn.
    dress_before
        Parts and joints that go back only after it is laid.
    """

    ends: tuple[JointName, ...] = ()
    route: tuple[str, ...] = ()
    passes: tuple[Pass, ...] = ()
    slack: tuple[Slack, ...] = ()
    tapes: Annotated[tuple[Tape, ...], Key("tape")] = ()
    pinch: tuple[Pinch, ...] = ()
    bend: Bend | None = None
    dress_before: tuple[ThingName, ...] = ()
