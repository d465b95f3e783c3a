"""In which postures can a thing be done, and what does a turn ask for?"""

from collections.abc import Mapping

from turnscrew.core.model.blocking import tying_joints
from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Need
from turnscrew.core.model.part import Part
from turnscrew.core.model.posture import Posture, Turn
from turnscrew.core.model.times import element_time


def postures_in(device: Device) -> Mapping[str, Posture]:
    """
    Give the postures of a device: as stated, else one for each face.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    Mapping
        Postures by name; at least one.
    """
    if device.postures:
        return device.postures
    if device.views:
        return {f"{view} up": Posture(up=(view,)) for view in device.views}
    return {"as it lies": Posture()}


def start_posture(device: Device) -> str:
    """
    Name the posture at the beginning.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        As stated, else the first one.
    """
    return device.start or next(iter(postures_in(device)))


def end_posture(device: Device) -> str:
    """
    Name the posture at the end.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    str
        As stated, else the one at the beginning.
    """
    return device.end or start_posture(device)


def postures_for(device: Device, name: str, doing: Doing) -> tuple[str, ...]:
    """
    Give the postures in which a joint, a part or a move can be done.

    As stated; else, for a joint, those in which its places face up; else, for a part,
    those of the joints that tie it; else all.

    Parameters
    ----------
    device
        The device.
    name
        Name of the joint or part.
    doing
        The joint, part or move.

    Returns
    -------
    tuple
        Names of postures, at least one.
    """
    if doing.postures:
        return doing.postures
    postures = postures_in(device)
    found: tuple[str, ...] = ()
    if isinstance(doing, Joint):
        views = {places.view for places in doing.at}
        found = tuple(
            key for key, lie in postures.items() if views.intersection(lie.up)
        )
    elif isinstance(doing, Part):
        joints = (device.joints[joint] for joint in tying_joints(device, name))
        allowed = {p for joint in joints for p in postures_for(device, "", joint)}
        found = tuple(key for key in postures if key in allowed)
    return found or tuple(postures)


def refit_postures_for(device: Device, name: str, doing: Doing) -> tuple[str, ...]:
    """
    Give the postures in which a thing can be put back.

    Parameters
    ----------
    device
        The device.
    name
        Name of the joint or part.
    doing
        The joint, part or move.

    Returns
    -------
    tuple
        As stated for the refit, else as for the removal.
    """
    return doing.refit.postures or postures_for(device, name, doing)


def turns_between(device: Device, start: str, end: str) -> tuple[Turn, ...]:
    """
    Give what is said of one direct turn, in either direction unless it holds one way.

    Parameters
    ----------
    device
        The device.
    start
        Posture left.
    end
        Posture reached.

    Returns
    -------
    tuple
        The turns as stated; empty for the usual one.
    """
    return tuple(
        turn
        for turn in device.turns
        if (turn.start, turn.end) == (start, end)
        or (not turn.one_way and (turn.start, turn.end) == (end, start))
    )


def turn_s(device: Device, start: str, end: str) -> float:
    """
    Give the time of one direct turn.

    Parameters
    ----------
    device
        The device.
    start
        Posture left.
    end
        Posture reached.

    Returns
    -------
    float
        The time; zero for no turn. [s]
    """
    if start == end:
        return 0.0
    for turn in turns_between(device, start, end):
        if turn.seconds is not None:
            return turn.seconds
    return element_time("turn", device.times).strip_s


def turn_needs(device: Device, start: str, end: str) -> tuple[Need, ...]:
    """
    Give what must be off before one direct turn.

    Parameters
    ----------
    device
        The device.
    start
        Posture left.
    end
        Posture reached.

    Returns
    -------
    tuple
        What the turn asks for and what the posture reached asks for.
    """
    needs: list[Need] = []
    for turn in turns_between(device, start, end):
        needs += turn.needs
    return (*needs, *postures_in(device)[end].needs)
