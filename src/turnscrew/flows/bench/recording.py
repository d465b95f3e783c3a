"""What was recorded at the bench, and which description and path does it give?"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from turnscrew.core.bench.run import Run
from turnscrew.core.bench.state import Fact
from turnscrew.core.model.device import Device
from turnscrew.core.model.joint import HOW_KINDS
from turnscrew.core.recording.described import Learned, described
from turnscrew.core.recording.recorded import (
    PART_KINDS,
    Recorded,
    RecordedOpening,
    RemovalKind,
)
from turnscrew.errors import BadArgumentError
from turnscrew.flows.bench.goal import Goal, Lying
from turnscrew.flows.bench.plan import run_for
from turnscrew.flows.bench.scribe import fastener_words

_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
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
        name = str(facts.get("name") or "")
        if facts.get("removal") == "turn":
            turns += 1
            name = f"turn {turns}"
        kind, removal = str(facts.get("kind")), str(facts.get("removal"))
        found[name] = Told(removal, kind, name, _count(facts.get("n")), dict(facts))
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
    way = told.facts.get("other_way")
    used = told.facts.get("is_destroyed")
    return Recorded(
        name=told.name,
        removal=removal,
        kind=told.kind if told.kind in kinds else other,
        n=told.n if removal == "joint" else None,
        length_mm=_length_mm(told.facts.get("length_mm")),
        fits_other_way=None if way is None else way == "yes",
        is_destroyed=None if used is None else used == "yes",
        view=view,
    )


def _length_mm(value: Fact) -> float | None:
    try:
        return float(str(value)) if value not in (None, "") else None
    except ValueError as error:
        raise BadArgumentError(f"length: found {value}, wanted millimetres") from error


@dataclass(frozen=True)
class Draft:
    """
    What recordings gave.

    Parameters
    ----------
    learned
        The description, with contradictions and what was seen both ways.
    way_back
        The run that puts this device together again.
    """

    learned: Learned
    way_back: Run


def draft_from(
    name: str,
    openings: tuple[RecordedOpening, ...],
    stated: Device | None,
    is_time_up: Callable[[], bool],
) -> Draft:
    """
    Describe a model from its recordings, and lay out the way back of the last one.

    Parameters
    ----------
    name
        Name of the family.
    openings
        All its recordings; the last one lies open now.
    stated
        Its description so far.
    is_time_up
        Asked now and then.

    Returns
    -------
    Draft
        The description and the way back.
    """
    learned = described(name, openings, stated)
    device = learned.device
    now = openings[-1].removals
    joints = [one.name for one in now if one.removal == "joint"]
    letters = dict(zip(joints, _letters(), strict=False))
    off = frozenset(
        one.name
        for one in now
        if one.removal != "aside" and one.name in {**device.joints, **device.parts}
    )
    in_tray = [n for n in joints if device.joints[n].goes_in_tray]
    lying = Lying(
        off=off,
        aside=frozenset(one.name for one in now if one.removal == "aside"),
        tray={letters[n]: device.joints[n].n_pieces for n in in_tray},
        letters=letters,
        fasteners={letters[n]: fastener_words(device, n) for n in in_tray},
        posture=next((one.lay for one in reversed(now) if one.lay), ""),
    )
    lying = replace(
        lying, posture=lying.posture if lying.posture in device.postures else ""
    )
    return Draft(learned, run_for(device, Goal(), lying, is_time_up))


def _letters() -> Iterable[str]:
    yield from _LETTERS
    for first in _LETTERS:
        for second in _LETTERS:
            yield first + second
