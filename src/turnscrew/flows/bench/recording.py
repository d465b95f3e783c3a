"""What was recorded at the bench, and how does the device lie now?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from turnscrew.core.bench.state import Fact
from turnscrew.core.model.alike import item_letter
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Drive
from turnscrew.core.model.joint import HOW_KINDS
from turnscrew.core.recording.recorded import (
    PART_KINDS,
    Recorded,
    RecordedOpening,
    RemovalKind,
)
from turnscrew.errors import BadArgumentError
from turnscrew.flows.bench.fasteners import fastener_words
from turnscrew.flows.bench.goal import Lying

_KINDS = {word for word, _ in HOW_KINDS}


@dataclass
class Told:
    """
    One thing undone, with what was told of it later.

    Parameters
    ----------
    removal
        ``joint``, ``part``, ``aside``, or ``turn`` for the device turned over.
    kind
        Kind of joint or part, as the key says it.
    name
        Its name.
    n
        Pieces. [1]
    facts
        What else was told.
    """

    removal: str
    kind: str
    name: str
    n: int = 1
    facts: dict[str, Fact] = field(default_factory=dict)


def told_in(strokes: Iterable[tuple[str, Mapping[str, Fact]]]) -> list[Told]:
    """
    Put together what a bench told while recording.

    Parameters
    ----------
    strokes
        Acts and facts in order: a record, more of one named in ``of``, or an undo.

    Returns
    -------
    list
        What was undone, in order.
    """
    held: list[Mapping[str, Fact]] = []
    for act, facts in strokes:
        if act == "undo":
            held.pop()
        else:
            held.append(facts)
    found: dict[str, Told] = {}
    turns = 0
    for facts in held:
        of = facts.get("of")
        if of is not None:
            _amend(found.get(str(of)), facts)
            continue
        name = key = str(facts.get("name") or "")
        if facts.get("removal") == "turn":
            turns += 1
            # Nothing that was undone can bear the key of a turn.
            name, key = f"turn {turns}", f"\nturn {turns}"
        kind, removal = str(facts.get("kind")), str(facts.get("removal"))
        found[key] = Told(removal, kind, name, _count(facts.get("n")), dict(facts))
    return list(found.values())


def _amend(told: Told | None, facts: Mapping[str, Fact]) -> None:
    if told is None:
        return
    more = facts.get("more")
    told.n += more if isinstance(more, int) else 0
    if "n" in facts:
        told.n = _count(facts["n"])
    told.facts |= facts


def _count(value: Fact) -> int:
    return value if isinstance(value, int) and not isinstance(value, bool) else 1


def recorded_opening(
    told: Iterable[Told], *, serial: str, by: str, on: date
) -> RecordedOpening:
    """
    Make an opening of what was told.

    Parameters
    ----------
    told
        What was undone, in order.
    serial
        Which device.
    by
        Reference of the person.
    on
        When.

    Returns
    -------
    RecordedOpening
        The opening.
    """
    face = 1
    removals = []
    for one in told:
        if one.removal == "turn":
            face = 3 - face
            continue
        removals.append(_recorded(one, f"face {face}"))
    return RecordedOpening(serial or "no serial", by, on, tuple(removals))


def _recorded(told: Told, view: str) -> Recorded:
    removal: RemovalKind = "part" if told.removal == "part" else "joint"
    if told.removal == "aside":
        removal = "aside"
    kinds = _KINDS if removal == "joint" else set(PART_KINDS)
    other = "unknown" if removal == "joint" else "part"
    way = told.facts.get("fits_other_way")
    used = told.facts.get("is_destroyed")
    return Recorded(
        name=told.name,
        removal=removal,
        kind=told.kind if told.kind in kinds else other,
        n=told.n if removal == "joint" else None,
        drive=_drive(told.facts.get("drive")) if told.kind == "screw" else None,
        length_mm=_length_mm(told.facts.get("length_mm")),
        fits_other_way=None if way is None else way == "yes",
        is_destroyed=None if used is None else used == "yes",
        view=view,
    )


def _drive(value: Fact) -> Drive | None:
    return Drive.from_text(str(value)) if value else None


def _length_mm(value: Fact) -> float | None:
    try:
        return float(str(value)) if value not in (None, "") else None
    except ValueError as error:
        raise BadArgumentError(f"length: found {value}, wanted millimetres") from error


def as_it_lies(device: Device, opening: RecordedOpening) -> Lying:
    """
    Say how a device lies whose opening was just recorded.

    Parameters
    ----------
    device
        The description learned of it.
    opening
        The opening.

    Returns
    -------
    Lying
        What is off, and what lies in the tray, in compartments as recorded.
    """
    now = opening.removals
    joints = [one.name for one in now if one.removal == "joint"]
    letters = {name: item_letter(k) for k, name in enumerate(joints)}
    in_tray = [name for name in joints if device.joints[name].goes_in_tray]
    # Of this very device, whatever others of its model have there.
    taken = {one.name: one.n for one in now if one.n is not None}
    pieces = {name: taken.get(name, device.joints[name].n_pieces) for name in in_tray}
    lays = [one.lay for one in now if one.lay in device.postures]
    return Lying(
        off=frozenset(one.name for one in now if one.removal != "aside"),
        aside=frozenset(one.name for one in now if one.removal == "aside"),
        tray={letters[name]: n for name, n in pieces.items() if n},
        letters=letters,
        fasteners={letters[name]: fastener_words(device, name) for name in in_tray},
        posture=lays[-1] if lays else "",
    )
