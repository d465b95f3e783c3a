"""Which covers are crossed only with a yes, and show that nobody was inside?"""

from turnscrew.core.model.device import Device
from turnscrew.core.model.holding import Cover
from turnscrew.core.opening.answer import Action

YES = "yes in writing"
"""Kind of the line that asks whether the customer has agreed."""


def is_seal(device: Device, action: Action) -> bool:
    """
    Say whether it shows that nobody was inside: it goes on once, and last.

    Parameters
    ----------
    device
        The device.
    action
        What is done.

    Returns
    -------
    bool
        Whether it is such a cover, put on.
    """
    how = _cover(device, action)
    return action.verb == "make" and how is not None and how.crossing != "free"


def yes_to_see(device: Device, action: Action) -> str:
    """
    Say which yes in writing is to be seen before something is crossed.

    Parameters
    ----------
    device
        The device.
    action
        What is done.

    Returns
    -------
    str
        What is looked at; empty where nobody is to be asked.
    """
    how = _cover(device, action)
    if action.verb != "undo" or how is None or how.crossing != "ask first":
        return ""
    return f"the customer's yes in writing for {action.name} is on record"


def _cover(device: Device, action: Action) -> Cover | None:
    joint = device.joints.get(action.name)
    return joint.how if joint is not None and isinstance(joint.how, Cover) else None
