"""What is off, and what is out of reach, while a device lies partly open?"""

from collections.abc import Iterable, Set

from turnscrew.core.model.blocking import Removal, Waits, tying_joints
from turnscrew.core.model.device import Device
from turnscrew.core.model.holding import Cover


def off_with(device: Device, names: Iterable[str]) -> tuple[str, ...]:
    """
    Name what is off with things that are off: what tied a part, what hid a screw.

    Parameters
    ----------
    device
        The device.
    names
        Parts and joints that are off.

    Returns
    -------
    tuple
        Joints beside them, in the order of the description.
    """
    said = set(names)
    tied = {
        joint
        for name in said.intersection(device.parts)
        for joint in tying_joints(device, name)
    }
    gone = said | tied
    bared = {
        name
        for name, joint in device.joints.items()
        if isinstance(joint.how, Cover) and gone.intersection(joint.how.hides)
    }
    return tuple(name for name in device.joints if name in (tied | bared) - said)


def is_reachable(waits: Waits, name: str, off: Set[str], aside: Set[str]) -> bool:
    """
    Say whether a thing that is on could be taken off as the device lies.

    What could not is covered: it can no longer be looked at or put right.

    Parameters
    ----------
    waits
        What every removal waits for.
    name
        The joint or part.
    off
        Parts and joints that are off.
    aside
        Parts moved aside.

    Returns
    -------
    bool
        True if nothing is in its way.
    """
    for removal in (Removal("joint", name), Removal("part", name)):
        conditions = waits.get(removal)
        if conditions is not None:
            return all(
                any(_is_gone(one, off, aside) for one in condition.any_of)
                for condition in conditions
            )
    return True


def _is_gone(removal: Removal, off: Set[str], aside: Set[str]) -> bool:
    return removal.name in (aside if removal.kind == "aside" else off)
