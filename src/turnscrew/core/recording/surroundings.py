"""How did the device lie, what was at hand, and what was odd about it?"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from turnscrew.core.model.device import Device
from turnscrew.core.model.geometry import EmptyHole
from turnscrew.core.model.posture import Posture, Tool
from turnscrew.core.model.proof import Arrived
from turnscrew.core.model.refit import BARE_HAND
from turnscrew.core.model.turning import postures_in
from turnscrew.core.recording.recorded import RecordedOpening

_MISSING = "missing on arrival"
_NEVER_USED = "never used on "
_AND = "; "


def with_surroundings(device: Device, openings: Sequence[RecordedOpening]) -> Device:
    """
    Add postures and tools that were used, pieces missing and holes never used.

    Parameters
    ----------
    device
        The description with all things.
    openings
        The openings.

    Returns
    -------
    Device
        The description with all it refers to.
    """
    device = _with_tools(_with_postures(device, openings), openings)
    return _with_holes(_with_arrived(device, openings), openings)


def _with_postures(device: Device, openings: Iterable[RecordedOpening]) -> Device:
    doings = (
        *device.joints.values(), *device.parts.values(), *device.moves.values()
    )  # fmt: skip
    used = {posture for doing in doings for posture in doing.postures}
    lays = dict.fromkeys(seen.lay for told in openings for seen in told.removals)
    known = postures_in(device) if device.postures or device.views else {}
    new = {lay: Posture() for lay in lays if lay in used and lay not in known}
    return replace(device, postures={**known, **new}) if new else device


def _with_tools(device: Device, openings: Iterable[RecordedOpening]) -> Device:
    if not device.tools:
        return device
    used = (seen.tool for told in openings for seen in told.removals)
    new = {
        tool: Tool()
        for tool in dict.fromkeys(used)
        if tool and tool != BARE_HAND and tool not in device.tools
    }
    return replace(device, tools={**device.tools, **new}) if new else device


def _with_arrived(device: Device, openings: Iterable[RecordedOpening]) -> Device:
    found = list(device.arrived)
    for told in openings:
        for name, n in told.missing.items():
            nameless = Arrived(told.serial, f"{name} {_MISSING}", missing=n)
            named = Arrived(told.serial, _MISSING, joint=name, missing=n)
            found = [arrived for arrived in found if arrived not in (nameless, named)]
            if n:
                found.append(named if name in device.joints else nameless)
    return replace(device, arrived=tuple(found))


def _with_holes(device: Device, openings: Iterable[RecordedOpening]) -> Device:
    n_holes: dict[str, int] = {}
    for told in openings:
        for face, n in told.holes_never_used.items():
            n_holes[face] = max(n, n_holes.get(face, 0))
    placed = {hole.view for hole in device.empty_holes}
    new = tuple(
        EmptyHole(face, why="empty when recorded", n=n)
        for face, n in n_holes.items()
        if n and face in device.views and face not in placed
    )
    words = {face: n for face, n in n_holes.items() if n and face not in device.views}
    return replace(
        device,
        empty_holes=(*device.empty_holes, *new),
        variation=_AND.join(_variation(device.variation, words)),
    )


def _variation(before: str, n_holes: dict[str, int]) -> Iterator[str]:
    """Without a face to place them on, empty holes are told in words."""
    for sentence in filter(None, before.split(_AND)):
        if not any(sentence.endswith(f"{_NEVER_USED}{face}") for face in n_holes):
            yield sentence
    for face, n in n_holes.items():
        yield f"{n} hole{'' if n == 1 else 's'} {_NEVER_USED}{face}"
