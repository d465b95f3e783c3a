"""Which fasteners are of one kind, and which could be taken for one another?"""

from dataclasses import dataclass
from itertools import combinations

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw

LIMIT_MM = 1.5
"""Lengths closer than this look the same in a tray; common practice, no source. [mm]"""


@dataclass(frozen=True)
class FastenerKind:
    """
    Screws that may be exchanged for one another.

    Parameters
    ----------
    letter
        Letter by which cards and trays call it.
    screw
        The first screw of the kind.
    joints
        Joints that use it.
    n
        How many there are. [1]
    n_tray
        How many of them reach the tray; captive ones stay in their part. [1]
    """

    letter: str
    screw: Screw
    joints: tuple[str, ...]
    n: int
    n_tray: int


@dataclass(frozen=True)
class Confusable:
    """
    Two kinds that could be taken for one another.

    Parameters
    ----------
    one
        The first kind.
    other
        The second kind.
    why
        What makes them alike, in words.
    danger
        What lies behind the holes of the shorter one, in words; empty if not known.
    """

    one: FastenerKind
    other: FastenerKind
    why: str
    danger: str


def fastener_kinds(device: Device) -> tuple[FastenerKind, ...]:
    """
    Group the screws of a device by kind.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    tuple
        Kinds with their letters, in the order in which the description meets them.
    """
    groups: dict[tuple[object, ...], list[str]] = {}
    for name, joint in device.joints.items():
        if isinstance(joint.how, Screw):
            # Two screws of unknown length are not known to be of one kind.
            unknown = name if joint.how.length_mm is None else ""
            groups.setdefault((*_kind(joint.how), unknown), []).append(name)
    return tuple(
        _kind_of(device, item_letter(index), names)
        for index, names in enumerate(groups.values())
    )


def confusable(device: Device, limit_mm: float = LIMIT_MM) -> tuple[Confusable, ...]:
    """
    Find pairs of kinds that could be taken for one another.

    Parameters
    ----------
    device
        The device.
    limit_mm
        Lengths that differ by less look the same. [mm]

    Returns
    -------
    tuple
        Pairs in the order of the kinds.
    """
    found = []
    for one, other in combinations(fastener_kinds(device), 2):
        why = _alike(one.screw, other.screw, limit_mm)
        if why:
            found.append(Confusable(one, other, why, _danger(device, one, other)))
    return tuple(found)


def may_replace(original: Screw, other: Screw) -> bool:
    """
    Say whether a screw may take the place of another.

    It has the same drive, thread, shoulder and patch, no other point as far as both are
    known, is never longer and never has a thicker or wider head. What is not measured
    may not be replaced, and replaces nothing.

    Parameters
    ----------
    original
        The screw taken out.
    other
        The screw at hand.

    Returns
    -------
    bool
        True if it may.
    """
    if original.drive is None or _shape(original) != _shape(other):
        return False
    if not _same_or_unknown(original.point or None, other.point or None):
        return False
    pairs = (
        (other.length_mm, original.length_mm),
        (other.head_height_mm, original.head_height_mm),
        (other.head_mm, original.head_mm),
    )
    return all(
        mine is not None and theirs is not None and mine <= theirs
        for mine, theirs in pairs
    )


def stand_ins(device: Device, name: str) -> tuple[str, ...]:
    """
    Name the joints whose screws are of a kind that may take the place of another's.

    Parameters
    ----------
    device
        The device.
    name
        The joint that lacks a screw.

    Returns
    -------
    tuple
        Joints, the nearest length first; empty for all but a loose, measured screw.
    """
    original = device.joints[name].how if name in device.joints else None
    if not isinstance(original, Screw) or original.stays_in:
        return ()
    found = [
        (-(joint.how.length_mm or 0.0), joint.how.coating != original.coating, other)
        for other, joint in device.joints.items()
        if other != name
        and isinstance(joint.how, Screw)
        and not joint.how.stays_in
        and may_replace(original, joint.how)
    ]
    return tuple(other for *_, other in sorted(found, key=lambda one: one[:2]))


def _shape(screw: Screw) -> tuple[object, ...]:
    return (screw.drive, screw.thread, screw.head, screw.shoulder, screw.patch)


def _kind(screw: Screw) -> tuple[object, ...]:
    head = (screw.head, screw.head_mm, screw.head_height_mm)
    rest = (screw.point, screw.coating, screw.patch, screw.shoulder)
    return (screw.drive, screw.thread, screw.length_mm, *head, *rest)


def _kind_of(device: Device, letter: str, names: list[str]) -> FastenerKind:
    joints = [device.joints[name] for name in names]
    screws = [joint.how for joint in joints if isinstance(joint.how, Screw)]
    n_pieces = [joint.n_pieces for joint in joints]
    loose = zip(n_pieces, screws, strict=True)
    n_tray = sum(n for n, screw in loose if not screw.stays_in)
    return FastenerKind(letter, screws[0], tuple(names), sum(n_pieces), n_tray)


def item_letter(index: int) -> str:
    """
    Count A to Y, then AA; left out are I and O, which look like digits, and H and Z.

    H and Z with a number name the cross recesses of ISO 4757 and their drivers; the
    places of an item bear its letter with a number too.

    Parameters
    ----------
    index
        Which one, from 0. [1]

    Returns
    -------
    str
        The letter, or two.
    """
    letters = "ABCDEFGJKLMNPQRSTUVWXY"
    rounds, place = divmod(index, len(letters))
    return (letters[rounds - 1] if rounds else "") + letters[place]


def _alike(one: Screw, other: Screw, limit_mm: float) -> str:
    """Say what makes two screws alike; not knowing counts as alike."""
    if not _same_or_unknown(one.drive, other.drive):
        return ""
    if not _same_or_unknown(one.thread, other.thread):
        return ""
    if one.length_mm is None or other.length_mm is None:
        return "a length is not measured"
    difference_mm = abs(one.length_mm - other.length_mm)
    if difference_mm == 0:
        return "same length, other head, point or coating"
    if difference_mm < limit_mm:
        return f"lengths differ by only {difference_mm:g} mm"
    return ""


def _same_or_unknown(one: object, other: object) -> bool:
    return one is None or other is None or one == other


def _danger(device: Device, one: FastenerKind, other: FastenerKind) -> str:
    """Name what a longer screw of the pair would hit behind the shorter one's holes."""
    longest_mm = max(one.screw.length_mm or 60, other.screw.length_mm or 60)
    told = []
    for name in (*one.joints, *other.joints):
        how = device.joints[name].how
        behind = how.behind if isinstance(how, Screw) else None
        if behind and (behind.at_length_mm or 0) <= longest_mm:
            told.append(f"{behind.what} behind {name}")
    return "; ".join(told)
