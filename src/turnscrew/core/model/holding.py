"""What holds without a screw: clips, bonds, seals, covers and their kin."""

from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.geometry import Places
from turnscrew.core.model.quantities import (
    AngleDeg,
    Bounds,
    Checked,
    Count,
    ForceN,
    JointName,
    LengthMm,
    Shortened,
    SmallMm,
)
from turnscrew.errors import BadArgumentError


@dataclass(frozen=True)
class ClipRow(Checked):
    """
    Clips along one edge.

    Parameters
    ----------
    edge
        Which edge, in words; empty if it does not matter.
    n
        How many. [1]
    release
        How each is freed, such as ``press inward``.
    """

    edge: str = ""
    n: Count = 1
    release: str = ""


@dataclass(frozen=True)
class HiddenCatch(Checked):
    """
    One catch where nobody looks for it.

    Parameters
    ----------
    where
        Where it is, in words.
    at
        Where it is on a face, if known.
    release
        How it is freed.
    """

    where: str
    at: Places | None = None
    release: str = ""


@dataclass(frozen=True)
class Clip(Checked):
    """
    Clips or snaps.

    Parameters
    ----------
    rows
        The clips by edge.
    hidden
        Catches away from the edge.
    order
        Which must be freed before which, in order, if it matters.
    """

    rows: tuple[ClipRow, ...] = ()
    hidden: tuple[HiddenCatch, ...] = ()
    order: tuple[str, ...] = ()

    @classmethod
    def from_text(cls, text: str) -> "Clip":
        """
        Read a bare count, or ``6 front``.

        Parameters
        ----------
        text
            How many, and on which edge.

        Returns
        -------
        Clip
            The clips.

        Raises
        ------
        BadArgumentError
            If the text does not begin with a count.
        """
        count, _, edge = text.partition(" ")
        if not (count.isascii() and count.isdigit()):
            raise BadArgumentError(f"a count such as 6 or 6 front, not {text}")
        return cls((ClipRow(edge, int(count)),))


@dataclass(frozen=True)
class Slide(Checked):
    """
    A part that slides before it lifts.

    Parameters
    ----------
    travel_mm
        How far it slides. [mm]
    towards
        Which way, in words.
    then
        What follows, such as ``lift``.
    """

    travel_mm: LengthMm | None = None
    towards: str = ""
    then: str = "lift"


@dataclass(frozen=True)
class Hook(Checked):
    """
    Tabs that hook in before the part swings down.

    Parameters
    ----------
    n
        How many tabs. [1]
    swing
        How the part turns out, in words.
    in_first
        Which tabs go in first at refit.
    """

    n: Count = 1
    swing: str = ""
    in_first: str = ""


@dataclass(frozen=True)
class Latch(Shortened):
    """
    A latch, lever, cam or bayonet.

    Parameters
    ----------
    kind
        What it is.
    turn_deg
        How far it turns. [°]
    towards
        Which way it moves, in words.
    springs_out
        Something jumps when it lets go.
    """

    kind: Literal["latch", "lever", "cam", "bayonet", "button"] = "latch"
    turn_deg: AngleDeg | None = None
    towards: str = ""
    springs_out: bool = False


@dataclass(frozen=True)
class Pin(Shortened):
    """
    A pin or ring.

    Parameters
    ----------
    kind
        What it is.
    out_towards
        The only way it comes out, in words.
    d_mm
        Diameter. [mm]
    length_mm
        Length. [mm]
    """

    kind: Literal["drive pin", "spring pin", "circlip"] = "drive pin"
    out_towards: str = ""
    d_mm: SmallMm | None = None
    length_mm: LengthMm | None = None


@dataclass(frozen=True)
class Magnet(Checked):
    """
    Magnets that hold a part.

    Parameters
    ----------
    n
        How many. [1]
    keep_from
        What must not come near, in words.
    """

    n: Count = 1
    keep_from: str = ""


@dataclass(frozen=True)
class Press(Checked):
    """
    A press fit.

    Parameters
    ----------
    proud_mm
        How far it stands out until it is seated. [mm]
    push_n
        Force to seat it. [N]
    where
        Where to press, in words.
    """

    proud_mm: SmallMm | None = None
    push_n: ForceN | None = None
    where: str = ""


@dataclass(frozen=True)
class Bond(Shortened):
    """
    Something stuck.

    Parameters
    ----------
    kind
        What sticks.
    width_mm
        Width of the line. [mm]
    thickness_mm
        Thickness of the layer. [mm]
    pull
        How a pull-tab or strip is drawn out, in words.
    solvent
        Which solvent is allowed, or ``none`` and why.
    """

    kind: Literal[
        "strip", "pull-tab", "film", "gel", "foam gasket", "liquid", "tape"
    ] = "film"
    width_mm: LengthMm | None = None
    thickness_mm: SmallMm | None = None
    pull: str = ""
    solvent: str = ""


@dataclass(frozen=True)
class Fusion(Shortened):
    """
    Metal or plastic run together.

    Parameters
    ----------
    kind
        How it was made.
    replace_by
        What takes its place at refit, in words.
    """

    kind: Literal["solder", "weld", "heat-stake", "rivet"] = "heat-stake"
    replace_by: str = ""


@dataclass(frozen=True)
class Seal(Shortened):
    """
    A seal that is a joint of its own.

    Parameters
    ----------
    kind
        What it is.
    lubricant
        What it is lubricated with, in words.
    no_twist
        It must lie without twist.
    groove
        Which groove it sits in, in words.
    """

    kind: Literal["o-ring", "gasket", "membrane"] = "gasket"
    lubricant: str = ""
    no_twist: bool = False
    groove: str = ""


@dataclass(frozen=True)
class Thermal(Shortened):
    """
    A joint that carries heat.

    Parameters
    ----------
    kind
        What fills the gap.
    thickness_mm
        Thickness of the pad, or the gap. [mm]
    preload
        How springs or screws press it, in words.
    not_instead
        What must not be used in its place.
    """

    kind: Literal["pad", "paste", "gap"] = "pad"
    thickness_mm: SmallMm | None = None
    preload: str = ""
    not_instead: str = ""


@dataclass(frozen=True)
class CoverSize(Checked):
    """
    Some covers of one set.

    Parameters
    ----------
    n
        How many. [1]
    height_mm
        Their height. [mm]
    where
        Where they belong, in words.
    """

    n: Count
    height_mm: SmallMm
    where: str = ""


@dataclass(frozen=True)
class Cover(Shortened):
    """
    A badge, label, foot or plug over something.

    Parameters
    ----------
    kind
        What it is.
    hides
        Joints that lie under it.
    lift_at
        Where to lift it, in words.
    shape
        Its shape, if it is a plug.
    way
        Which way round it goes in.
    sizes
        The set, if its pieces are nearly but not quite equal.
    crossing
        For a tamper or warranty label: whether it may be crossed.
    crossing_says
        On which terms, in words.
    """

    kind: Literal["badge", "label", "foot", "plug", "tape", "door"] = "label"
    hides: tuple[JointName, ...] = ()
    lift_at: str = ""
    shape: str = ""
    way: str = ""
    sizes: tuple[CoverSize, ...] = ()
    crossing: Literal["free", "ask first", "never"] = "free"
    crossing_says: str = ""


@dataclass(frozen=True)
class SpringContact(Shortened):
    """
    Spring pins, fingers, foam or straps that conduct.

    Parameters
    ----------
    kind
        What it is.
    height_mm
        How far a sound one stands out. [mm]
    sits_on
        What it must touch, in words.
    clean
        With what it is cleaned.
    no_touch
        Bare fingers stay off.
    if_low
        What to do when one stands low.
    """

    kind: Literal["pins", "finger", "foam", "strap"] = "finger"
    height_mm: Annotated[float, Bounds(0, 30, "mm")] | None = None
    sits_on: str = ""
    clean: str = ""
    no_touch: bool = False
    if_low: str = ""
