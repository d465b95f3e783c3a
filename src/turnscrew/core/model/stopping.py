"""May one walk away from an open device as it lies?"""

from collections.abc import Set

from turnscrew.core.model.blocking import isolating_joints
from turnscrew.core.model.device import Device


def is_at_rest(
    device: Device, off: Set[str], aside: Set[str], *, is_powered: bool = False
) -> bool:
    """
    Say whether nothing is aside, half undone, open over a live pack, or running.

    Parameters
    ----------
    device
        The device.
    off
        Names of the parts and joints that are off.
    aside
        Names of the parts moved aside; what was lifted off afterwards hangs no more.
    is_powered
        It may have power, from a test in the open state.

    Returns
    -------
    bool
        True if one may walk away from it.
    """
    if is_powered:
        return False
    isolating = isolating_joints(device)
    is_lifted = any(name in device.parts for name in off)
    if aside - off or (is_lifted and isolating and not off & set(isolating)):
        return False
    return all(
        any(part in off for part in device.joints[name].holds)
        for name in off
        if name in device.joints and name not in isolating
    )
