"""What was undone on one device, in which order, and what was seen of it?"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Literal, get_args

from turnscrew.core.model.doing import Doing
from turnscrew.core.model.fastener import Drive, Thread
from turnscrew.core.model.joint import HOW_KINDS
from turnscrew.core.model.part import PartKind
from turnscrew.core.model.quantities import BadFieldError, Bounds, Checked, Count

RemovalKind = Literal["joint", "part", "aside"]

JOINT_KINDS = (*(word for word, _ in HOW_KINDS), "unknown")
"""Kinds a joint may be recorded as."""

PART_KINDS: tuple[str, ...] = get_args(PartKind)
"""Kinds a part may be recorded as."""

AS_RECORDED = "as recorded"
"""How sure a fact is that rests on recordings alone; whoever corrects it says more."""

_READS_AS_MORE = (" to ", " or ", ",", " aside", " raised", " folded back", " loose")


def is_as_recorded(doing: Doing) -> bool:
    """
    Say whether a thing rests on recordings alone, so that more of them may loosen it.

    Parameters
    ----------
    doing
        The joint, part or move.

    Returns
    -------
    bool
        True if nobody has written it by hand or corrected it since.
    """
    return doing.origin is not None and doing.origin.sure == AS_RECORDED


@dataclass(frozen=True)
class Recorded(Checked):
    """
    One removal as it was recorded.

    Nothing but the first three facts is obligatory.

    Parameters
    ----------
    name
        Name of the joint or part, unique in its model.
    removal
        Whether a joint was undone, a part lifted off, or a part moved aside.
    kind
        Word for the kind of joint, or of part.
    n
        Pieces undone; ``None`` if not counted. [1]
    drive
        Recess of a screw; ``None`` if not looked at.
    thread
        Thread of a screw or nut; ``None`` if not measured.
    length_mm
        Length under the head of a screw, or of a pin; ``None`` if not measured. [mm]
    is_straight_out
        It comes straight out; ``None`` if not asked.
    direction
        Direction of the first movement, in words.
    fits_other_way
        The part could go in another way too; ``None`` if not asked.
    view
        Face that lay up.
    posture
        How the device lay, if the face does not say it.
    tool
        Tool used.
    is_destroyed
        Undoing it used it up; ``None`` if not known.
    photos
        Names of photos taken just before.
    """

    name: str
    removal: RemovalKind
    kind: str
    n: Count | None = None
    drive: Drive | None = None
    thread: Thread | None = None
    length_mm: Annotated[float, Bounds(0.5, 60, "mm")] | None = None
    is_straight_out: bool | None = None
    direction: str = ""
    fits_other_way: bool | None = None
    view: str = ""
    posture: str = ""
    tool: str = ""
    is_destroyed: bool | None = None
    photos: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """
        Refuse a name that reads as something else, and an unknown kind.

        Raises
        ------
        BadFieldError
            If the name or the kind cannot stand in a description.
        """
        super().__post_init__()
        _refuse_bad_name(self.name)
        kinds = JOINT_KINDS if self.removal == "joint" else PART_KINDS
        if self.kind not in kinds:
            raise BadFieldError("kind", self.kind, "one of " + ", ".join(kinds))

    @property
    def lay(self) -> str:
        """Give the posture in which it was done; empty if not recorded."""
        return self.posture or (f"{self.view} up" if self.view else "")


@dataclass(frozen=True)
class RecordedOpening(Checked):
    """
    One opening of one device, as far as it went.

    Parameters
    ----------
    serial
        Which device.
    by
        Random reference of the person who recorded it.
    on
        When.
    removals
        What was really undone, in that order; the opening may have stopped anywhere.
    missing
        Pieces missing on arrival, by joint. A joint named here and not undone counts
        as gone altogether. [1]
    holes_never_used
        Holes in which nothing belongs, by face. [1]
    """

    serial: str
    by: str
    on: date
    removals: tuple[Recorded, ...]
    missing: Mapping[str, Count] = field(default_factory=dict)
    holes_never_used: Mapping[str, Count] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """
        Refuse an opening that undoes one thing twice.

        Raises
        ------
        BadFieldError
            If a removal comes twice, or one name stands for a joint and a part.
        """
        super().__post_init__()
        seen: dict[str, set[str]] = {}
        for name in self.missing:
            _refuse_bad_name(name)
        for recorded in self.removals:
            kinds = seen.setdefault(recorded.name, set())
            if recorded.removal in kinds or "part" in kinds:
                raise BadFieldError("removals", recorded.name, "each removal once")
            kinds.add(recorded.removal)
            if len(kinds) > 1 and "joint" in kinds:
                wanted = "one name for one joint or part"
                raise BadFieldError("removals", recorded.name, wanted)

    def __str__(self) -> str:
        """Give serial and date, by which people tell openings apart."""
        return f"{self.serial} ({self.on.isoformat()})"


def _refuse_bad_name(name: str) -> None:
    if not name or name != name.strip() or not name.isprintable():
        raise BadFieldError("name", name, "a name in one line")
    for bad in _READS_AS_MORE:
        if bad in name:
            raise BadFieldError("name", name, f'a name without "{bad.strip()}"')
