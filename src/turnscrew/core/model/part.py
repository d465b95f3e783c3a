"""Which part is it, what is in it, and what must be known to handle it?"""

from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.doing import Doing
from turnscrew.core.model.need import Need
from turnscrew.core.model.quantities import (
    Bounds,
    Checked,
    EnergyWh,
    JointName,
    Key,
    PartName,
    Shortened,
    Spelling,
    ThingName,
)

PartKind = Literal[
    "part", "display", "board", "battery", "cover", "fan", "cooler", "storage",
    "camera", "speaker", "microphone", "antenna", "keys", "trim", "seal", "spring",
    "consumable", "cable", "bracket", "window", "engine", "door", "frame", "cell",
    "label", "shield", "touch",
]  # fmt: skip


@dataclass(frozen=True)
class LookAlike(Checked):
    """
    A spare that looks the same and is not.

    Parameters
    ----------
    spare
        Number of the other spare.
    tell
        What tells them apart, in words.
    """

    spare: str
    tell: str


@dataclass(frozen=True)
class Twin(Checked):
    """
    A part of the same device that looks the same and is not.

    Parameters
    ----------
    part
        The other part.
    tell
        What tells them apart, in words.
    """

    part: PartName
    tell: str


@dataclass(frozen=True)
class Orientation(Shortened):
    """
    A part that can go in more than one way.

    Parameters
    ----------
    right
        How to see that it is right.
    if_wrong
        What a wrong one looks like.
    n_ways
        In how many ways it fits. [1]
    """

    right: str
    if_wrong: str = ""
    n_ways: Annotated[int, Bounds(1, 24, "1")] = 2


@dataclass(frozen=True)
class Pack(Checked):
    """
    A battery pack.

    Parameters
    ----------
    cells
        What the cells are.
    n_cells
        How many. [1]
    wh
        Energy. [Wh]
    do_not
        What must not be done to it.
    if_swollen
        What to do when it has swollen, in words.
    """

    cells: Literal["pouch", "round", "flat can", "coin"] = "pouch"
    n_cells: Annotated[int, Bounds(1, 24, "1")] = 1
    wh: EnergyWh | None = None
    do_not: tuple[str, ...] = ()
    if_swollen: str = ""


def _sensitive_from_text(text: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in text.split(","))


@dataclass(frozen=True, kw_only=True)
class Part(Doing):
    """
    A part.

    Parameters
    ----------
    kind
        What it is.
    contains
        Parts inside it, which come away with it.
    carries
        Parts that come away joined to it.
    covers
        Parts and joints that cannot be reached while it is on.
    fixed
        It is what everything else is held to, and is never lifted.
    spare
        Number of the spare part.
    marks
        Marks on it, in words.
    look_alikes
        Spares that look the same and are not.
    twins
        Parts of the same device that look the same and are not.
    orientation
        How to see that it is the right way round.
    pack
        Facts of a battery.
    sensitive
        What it must be kept from.
    protect
        How it is protected at once, in words.
    hygiene
        Contamination class, in words.
    paired_with
        Parts it is adjusted to; they stay together.
    keeps_live
        Circuits it keeps live when the pack is off, in words.
    loose
        Loose items that are placed before it goes back.
    data_bearing
        It holds somebody's data.
    keep
        Where it is kept meanwhile, in words.
    """

    kind: Annotated[PartKind, Key("is")] = "part"
    contains: tuple[PartName, ...] = ()
    carries: tuple[PartName, ...] = ()
    covers: tuple[ThingName, ...] = ()
    fixed: bool = False
    spare: str = ""
    marks: str = ""
    look_alikes: tuple[LookAlike, ...] = ()
    twins: tuple[Twin, ...] = ()
    orientation: Orientation | None = None
    pack: Pack | None = None
    sensitive: Annotated[
        tuple[Literal["static", "light", "dust", "magnets", "pressure"], ...],
        Spelling(_sensitive_from_text, "static, dust"),
    ] = ()
    protect: str = ""
    hygiene: str = ""
    paired_with: tuple[PartName, ...] = ()
    keeps_live: str = ""
    loose: tuple[str, ...] = ()
    data_bearing: bool = False
    keep: str = ""


@dataclass(frozen=True, kw_only=True)
class Move(Doing):
    """
    A part moved aside without being taken off.

    Parameters
    ----------
    aside
        Where it goes, in words.
    support
        What carries it there.
    limit
        How far it may go, in words.
    needs
        What must be off before it can be moved; ``None``: every joint that holds it,
        except those it frees and those it keeps.
    frees
        Joints and parts that can be reached while it is aside.
    keeps
        Joints that hold it and stay made.
    """

    aside: str = "aside"
    support: str = ""
    limit: str = ""
    needs: tuple[Need, ...] | None = None
    frees: tuple[ThingName, ...] = ()
    keeps: tuple[JointName, ...] = ()
