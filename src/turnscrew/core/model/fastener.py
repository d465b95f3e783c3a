"""Which screw or nut is it, exactly?"""

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from turnscrew.core.model.quantities import (
    BadFieldError,
    Bounds,
    Checked,
    Count,
    LengthMm,
    Shortened,
    SmallMm,
    TorqueNm,
    Turns,
)
from turnscrew.errors import BadArgumentError

DriveKind = Literal[
    "type H", "type Z", "hexalobular", "three-wing", "hexagon", "slotted"
]
HeadKind = Literal[
    "pan", "wafer", "countersunk", "raised countersunk", "cheese", "button", "none"
]

_DRIVE = re.compile(
    r"(?P<cross>[HZ])(?P<recess>00|\d)"
    r"|(?P<kind>hexalobular|three-wing|hexagon|slotted) (?P<size>\d+(?:\.\d+)?)"
    r"(?P<pin> pin)?"
)
_THREAD = re.compile(
    r"(?P<kind>forming |M)(?P<d>\d+(?:\.\d+)?)(?:\s*[x×]\s*(?P<pitch>\d+(?:\.\d+)?))?"
)

PITCH_MM: dict[float, float] = {
    1.0: 0.25, 1.2: 0.25, 1.4: 0.3, 1.6: 0.35, 2.0: 0.4, 2.5: 0.45, 3.0: 0.5
}  # fmt: skip
"""Coarse pitch by nominal diameter, after ISO 261 and ISO 262. [mm]"""

PAN_HEAD_MM: dict[float, tuple[float, float, int]] = {
    1.6: (3.2, 1.3, 0), 2.0: (4.0, 1.6, 0), 2.5: (5.0, 2.1, 1), 3.0: (5.6, 2.4, 1)
}  # fmt: skip
"""Largest pan head diameter and height, cross recess number, after ISO 7045. [mm]"""

PAN_HEXALOBULAR: dict[float, int] = {2.0: 6, 2.5: 8, 3.0: 10}
"""Hexalobular size of a pan head by nominal diameter, after ISO 14581. [1]"""


@dataclass(frozen=True)
class Drive(Checked):
    """
    The recess or head a driver fits.

    Parameters
    ----------
    kind
        ``type H`` and ``type Z`` are the cross recesses of ISO 4757.
    size
        Recess number or hexalobular size [1], or width of a hexagon or slot [mm]. The
        recess 00 of very small screws, below those of ISO 4757, counts as -1; common
        practice, no source.
    has_pin
        A pin stands in the middle, so the driver needs a bore.
    """

    kind: DriveKind
    size: Annotated[float, Bounds(-1, 60, "1")]
    has_pin: bool = False

    def __str__(self) -> str:
        """Give the drive as it is written in a description."""
        if self.kind in ("type H", "type Z"):
            return f"{self.kind[-1]}{'00' if self.size < 0 else f'{self.size:g}'}"
        return f"{self.kind} {self.size:g}{' pin' if self.has_pin else ''}"

    @classmethod
    def from_text(cls, text: str) -> "Drive":
        """
        Read ``H0``, ``Z1``, ``hexalobular 5 pin``, ``hexagon 1.5`` and the like.

        Parameters
        ----------
        text
            The drive as written.

        Returns
        -------
        Drive
            The drive.

        Raises
        ------
        BadArgumentError
            If the text names no drive.
        """
        match = _DRIVE.fullmatch(text)
        if match is None:
            raise BadArgumentError(
                "a drive such as H0, Z1, hexalobular 5, hexalobular 5 pin, "
                f"three-wing 0, hexagon 1.5 or slotted 2, not {text}"
            )
        if match["cross"]:
            kind: DriveKind = "type H" if match["cross"] == "H" else "type Z"
            return cls(kind, -1 if match["recess"] == "00" else float(match["recess"]))
        names: dict[str, DriveKind] = {
            "hexalobular": "hexalobular", "three-wing": "three-wing",
            "hexagon": "hexagon", "slotted": "slotted",
        }  # fmt: skip
        return cls(names[match["kind"]], float(match["size"]), bool(match["pin"]))


@dataclass(frozen=True)
class Thread(Checked):
    """
    A screw thread.

    Parameters
    ----------
    d_mm
        Nominal diameter. [mm]
    pitch_mm
        Pitch; for a metric thread the coarse one unless stated. [mm]
    is_forming
        The screw forms its own thread in plastic.
    """

    d_mm: Annotated[float, Bounds(0.5, 12, "mm")]
    pitch_mm: Annotated[float, Bounds(0.1, 3, "mm")]
    is_forming: bool = False

    def __str__(self) -> str:
        """Give the thread as it is written in a description."""
        if self.is_forming:
            return f"forming {self.d_mm:g}x{self.pitch_mm:g}"
        return f"M{self.d_mm:g}x{self.pitch_mm:g}"

    @classmethod
    def from_text(cls, text: str) -> "Thread":
        """
        Read ``M1.6x0.35``, ``M2`` (coarse pitch) or ``forming 2.2x0.9``.

        Parameters
        ----------
        text
            The thread as written.

        Returns
        -------
        Thread
            The thread.

        Raises
        ------
        BadArgumentError
            If the text names no thread, or the coarse pitch is not known.
        """
        match = _THREAD.fullmatch(text)
        if match is None:
            raise BadArgumentError(
                f"a thread such as M1.6x0.35, M2 or forming 2.2x0.9, not {text}"
            )
        d_mm = float(match["d"])
        pitch_mm = float(match["pitch"]) if match["pitch"] else PITCH_MM.get(d_mm)
        if pitch_mm is None:
            raise BadArgumentError(f"the pitch too, as in {text}x0.4")
        return cls(d_mm, pitch_mm, match["kind"] != "M")


@dataclass(frozen=True)
class Tighten(Checked):
    """
    How tight, and in which pattern.

    Parameters
    ----------
    torque_nm
        Tightening value, if a driver with a scale is at hand. [N·m]
    feel
        What the hand feels when it is enough, in words.
    pattern
        The order within the group, such as ``crosswise``.
    all_started_first
        Every piece is put in loosely before any is tightened.
    """

    torque_nm: TorqueNm | None = None
    feel: str = ""
    pattern: str = ""
    all_started_first: bool = False


@dataclass(frozen=True)
class Forming(Checked):
    """
    A thread formed in plastic.

    Parameters
    ----------
    refits_done
        How often the screw has gone back already. [1]
    refits_max
        How often it may. [1]
    turn_back
        Turn backwards until the thread drops in, before tightening.
    then
        What to do when the thread is worn, in words.
    """

    refits_done: Count = 0
    refits_max: Count | None = None
    turn_back: bool = True
    then: str = ""


@dataclass(frozen=True)
class Shoulder(Checked):
    """
    A shank or post that is part of a screw.

    Parameters
    ----------
    kind
        ``shoulder``: plain shank under the head; ``stand-off``: a post others sit on.
    d_mm
        Its diameter. [mm]
    length_mm
        Its length. [mm]
    carries
        What sits in or on it, in words.
    """

    kind: Literal["shoulder", "stand-off"]
    d_mm: SmallMm | None = None
    length_mm: SmallMm | None = None
    carries: str = ""


@dataclass(frozen=True)
class Behind(Shortened):
    """
    What lies behind a hole.

    Parameters
    ----------
    what
        The thing a longer screw would hit.
    at_length_mm
        Length under the head at which it is hit. [mm]
    """

    what: str
    at_length_mm: SmallMm | None = None


@dataclass(frozen=True)
class Screw(Checked):
    """
    A screw.

    Parameters
    ----------
    drive
        Recess; ``None`` if not yet looked at.
    thread
        Thread; ``None`` if not yet measured.
    length_mm
        Length under the head; a countersunk head counts in. [mm]
    head
        Shape of the head.
    head_mm
        Diameter of the head. [mm]
    head_height_mm
        Height of the head. [mm]
    point
        Shape of the point, in words.
    coating
        Colour or coating, in words.
    patch
        Thread-lock patch or fluid, in words.
    forming
        How it goes back into plastic, for a thread-forming screw.
    captive
        Stays in its part: loosened, never in the tray.
    loosen_turns
        It is only loosened by so many turns, never taken out. [turns]
    shoulder
        Shank or post under the head.
    stack
        Washers and spacers on it, from the head to the hole.
    bare_metal
        It makes an electrical contact: the face under it stays bare.
    tighten
        How tight it goes back.
    behind
        What a longer screw would hit.
    """

    drive: Drive | None = None
    thread: Thread | None = None
    length_mm: Annotated[float, Bounds(0.5, 60, "mm")] | None = None
    head: HeadKind = "pan"
    head_mm: Annotated[float, Bounds(0.5, 30, "mm")] | None = None
    head_height_mm: Annotated[float, Bounds(0, 20, "mm")] | None = None
    point: str = ""
    coating: str = ""
    patch: str = ""
    forming: Forming | None = None
    captive: bool = False
    loosen_turns: Turns | None = None
    shoulder: Shoulder | None = None
    stack: tuple[str, ...] = ()
    bare_metal: bool = False
    tighten: Tighten | None = None
    behind: Behind | None = None

    def __post_init__(self) -> None:
        """
        Refuse a screw that contradicts itself.

        Raises
        ------
        BadFieldError
            If what lies behind is hit by the screw itself, or a metric screw forms.
        """
        super().__post_init__()
        hit_mm = self.behind.at_length_mm if self.behind else None
        if (
            hit_mm is not None
            and self.length_mm is not None
            and hit_mm <= self.length_mm
        ):
            raise BadFieldError(
                "behind", f"{hit_mm:g} mm", f"more than length_mm {self.length_mm:g}"
            )
        if self.forming and self.thread and not self.thread.is_forming:
            raise BadFieldError(
                "forming", self.thread, "a thread such as forming 2.2x0.9"
            )

    @property
    def stays_in(self) -> bool:
        """Say whether the screw never reaches the tray."""
        return self.captive or self.loosen_turns is not None

    def size_words(self) -> str:
        """
        Give drive, thread and length as one text.

        Returns
        -------
        str
            Such as ``H0, M1.6x0.35 - 3``; a question mark stands for what is not known.
        """
        length = "?" if self.length_mm is None else f"{self.length_mm:g}"
        return f"{self.drive or '?'}, {self.thread or '?'} - {length}"


@dataclass(frozen=True)
class Nut(Checked):
    """
    A nut.

    Parameters
    ----------
    thread
        Its thread.
    across_flats_mm
        Width of the spanner that fits. [mm]
    height_mm
        Its height. [mm]
    stack
        Washers and spacers under it, from the nut to the part.
    captive
        Stays in its part.
    tighten
        How tight it goes back.
    """

    thread: Thread | None = None
    across_flats_mm: Annotated[float, Bounds(1, 30, "mm")] | None = None
    height_mm: LengthMm | None = None
    stack: tuple[str, ...] = ()
    captive: bool = False
    tighten: Tighten | None = None


def doubts(screw: Screw) -> tuple[str, ...]:
    """
    Say where a metric pan-head screw disagrees with the standards' tables.

    A disagreement is no fault of the screw: makers use their own heads.
    It is a reason to measure once more.

    Parameters
    ----------
    screw
        The screw.

    Returns
    -------
    tuple
        One sentence per doubt.

    References
    ----------
    ISO 7045 (pan head, cross recess), ISO 14581 (hexalobular), ISO 261/262 (pitch);
    read from dealers' table pages.
    """
    thread = screw.thread
    if thread is None or thread.is_forming:
        return ()
    found = []
    coarse_mm = PITCH_MM.get(thread.d_mm)
    if coarse_mm is not None and thread.pitch_mm != coarse_mm:
        found.append(
            f"pitch {thread.pitch_mm:g} mm; the coarse one is {coarse_mm:g} mm"
        )
    table = PAN_HEAD_MM.get(thread.d_mm)
    if screw.head != "pan" or table is None:
        return tuple(found)
    dk_mm, k_mm, recess = table
    if screw.head_mm is not None and screw.head_mm > dk_mm:
        found.append(f"head {screw.head_mm:g} mm; ISO 7045 has at most {dk_mm:g} mm")
    if screw.head_height_mm is not None and screw.head_height_mm > k_mm:
        found.append(
            f"head height {screw.head_height_mm:g} mm; ISO 7045 has {k_mm:g} mm"
        )
    return (*found, *_drive_doubts(screw.drive, thread.d_mm, recess))


def _drive_doubts(drive: Drive | None, d_mm: float, recess: int) -> tuple[str, ...]:
    if drive is None:
        return ()
    if drive.kind in ("type H", "type Z") and drive.size != recess:
        return (f"recess {str(drive)[1:]}; ISO 7045 has {recess} at M{d_mm:g}",)
    size = PAN_HEXALOBULAR.get(d_mm)
    if drive.kind == "hexalobular" and size is not None and drive.size != size:
        return (f"hexalobular {drive.size:g}; ISO 14581 has {size} at M{d_mm:g}",)
    return ()
