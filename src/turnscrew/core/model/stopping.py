"""May one walk away from an open device as it lies?"""

from collections.abc import Set

from turnscrew.core.model.blocking import isolating_joints
from turnscrew.core.model.device import Device


def is_at_rest(device: Device, off: Set[str], aside: Set[str]) -> bool:
    """
    Say whether nothing is aside, half undone, or open over a live pack.

    Parameters
    ----------
    device
        The device.
    off
        Names of the parts and joints that are off.
    aside
        Names of the parts moved aside; what was lifted off afterwards hangs no more.

    Returns
    -------
    bool
        True if one may walk away from it.
    """
    isolating = isolating_joints(device)
    is_lifted = any(name in device.parts for name in off)
    if aside - off or (is_lifted and isolating and not off & set(isolating)):
        return False
    return all(
        any(part in off for part in device.joints[name].holds)
        for name in off
        if name in device.joints and name not in isolating
    )
