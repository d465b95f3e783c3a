"""What is looked at before it is covered, and what shows that it is right?"""

from collections.abc import Iterator, Set

from turnscrew.core.model.alike import confusable
from turnscrew.core.model.connection import Plug, Socket
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.holding import Cover, Hook, Seal
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.part import Part
from turnscrew.core.model.refit import SeatCheck

USUAL_LOOKS = {
    "clip": "no gap along its edge",
    "slide": "home, no gap",
    "hook": "hooked under, no gap",
    "latch": "shut flat",
    "magnet": "drawn flat",
    "press": "flush",
    "bond": "new, stuck all round",
    "fusion": "closed up, nothing loose",
    "seal": "in its groove all round, no twist",
    "thermal": "in place, nothing under it",
    "contact": "on its pad",
    "cover": "flat, the right way round",
    "socket": "latch shut, tail straight, both sides alike",
    "plug": "down along its whole length",
    "lead": "joint whole, no bridge",
    "nut": "tight, none turns by hand",
    "unknown": "as it was",
}
"""How a joint of each kind looks when it is right; common practice, no source."""

UNLATCHED_LOOK = "home, tail straight, both sides alike"
"""How a socket without a latch looks when it is right; common practice, no source."""


def look_at(device: Device, name: str, taken: Set[str]) -> str:
    """
    Say what shows that a refitted joint or part is right.

    Loose fasteners are counted, so a plain one needs no look; one that could be taken
    for another, or that reaches something behind, does.

    Parameters
    ----------
    device
        The device.
    name
        The joint or part.
    taken
        The joints that were undone; others cannot be mistaken for it.

    Returns
    -------
    str
        Name and what is seen; empty if there is nothing to look at.
    """
    words: list[str] = []
    if name in device.joints:
        words += _of_joint(device, name, device.joints[name], taken)
    # What sticks may bear the name of the joint it makes, and has a right way round.
    if name in device.parts:
        words += _of_part(device.parts[name])
    told = [word.strip() for word in words if word.strip()]
    return f"{name}: {'; '.join(dict.fromkeys(told))}" if told else ""


def _of_joint(
    device: Device, name: str, joint: Joint, taken: Set[str]
) -> Iterator[str]:
    yield from _seat(joint.refit.seat)
    match joint.how:
        case Screw():
            yield from _of_screw(device, name, joint.how, taken)
            return
        case Socket(seated=seated, lugs=lugs):
            yield seated
            yield lugs
        case Plug(key=key):
            yield f"key {key}" if key else ""
        case Hook(in_first=in_first):
            yield f"{in_first} in first" if in_first else ""
        case Seal(no_twist=True):
            yield "no twist"
        case Cover(way=way):
            yield way
    if not joint.goes_in_tray or isinstance(joint.how, Cover):
        is_latched = not isinstance(joint.how, Socket) or joint.how.latch != "none"
        yield USUAL_LOOKS.get(joint.kind, "") if is_latched else UNLATCHED_LOOK


def _of_screw(
    device: Device, name: str, screw: Screw, taken: Set[str]
) -> Iterator[str]:
    others = [
        _length(other.screw)
        for pair in confusable(device)
        for mine, other in ((pair.one, pair.other), (pair.other, pair.one))
        if name in mine.joints and any(joint in taken for joint in other.joints)
    ]
    if others:
        told = ", ".join(dict.fromkeys(others))
        yield f"{_length(screw)}, not {told}: none stands proud or sinks"
    if screw.behind is not None:
        yield f"none longer: {screw.behind.what} is behind"
    if screw.stays_in:
        yield "each one tight"


def _length(screw: Screw) -> str:
    if screw.length_mm is None:
        return "length not measured"
    return f"{screw.length_mm:g} mm {screw.head}"


def _of_part(part: Part) -> Iterator[str]:
    yield from _seat(part.refit.seat)
    if part.orientation is not None:
        yield part.orientation.right
        wrong = part.orientation.if_wrong
        yield f"not so: {wrong}" if wrong else ""
    for twin in part.twins:
        yield f"not {twin.part}: {twin.tell}"
    if part.loose:
        yield f"in place: {', '.join(part.loose)}"


def _seat(seat: SeatCheck | None) -> Iterator[str]:
    if seat is None:
        return
    yield seat.looks
    yield f"gap {seat.gap_mm:g} mm" if seat.gap_mm is not None else ""
    yield f"stands {seat.stands_mm:g} mm" if seat.stands_mm is not None else ""
    yield f"try: {seat.retention}" if seat.retention else ""
