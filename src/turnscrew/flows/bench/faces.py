"""Which face of a device is drawn at a line?"""

from turnscrew.core.model.device import Device
from turnscrew.core.model.turning import postures_in
from turnscrew.core.opening.answer import Action


def face_to_draw(device: Device, action: Action) -> str:
    """
    Name the face to draw: the one that is up, where it is known.

    Parameters
    ----------
    device
        The device.
    action
        What is done.

    Returns
    -------
    str
        The face; empty if none is known.
    """
    up = _up(device, action.posture)
    if not action.view or action.view in up:
        return action.view or (up[0] if up else "")
    behind = device.views[action.view].opposite
    return behind if behind in up else action.view


def face_up(device: Device, posture: str) -> str:
    """
    Name the face that is up.

    Parameters
    ----------
    device
        The device.
    posture
        How it lies.

    Returns
    -------
    str
        The face; empty if none is known.
    """
    up = _up(device, posture)
    return up[0] if up else ""


def _up(device: Device, posture: str) -> tuple[str, ...]:
    lie = postures_in(device).get(posture)
    return lie.up if lie is not None else ()
