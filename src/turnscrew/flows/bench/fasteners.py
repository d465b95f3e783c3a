"""How is a loose piece told at the bench?"""

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw


def fastener_words(device: Device, name: str) -> str:
    """
    Say of which kind the loose pieces of a joint are.

    Parameters
    ----------
    device
        The device.
    name
        The joint.

    Returns
    -------
    str
        Drive, thread and length of a screw; else the kind and the name.
    """
    joint = device.joints[name]
    if not isinstance(joint.how, Screw):
        return f"{joint.kind}: {name}"
    drive, thread, length_mm = joint.how.drive, joint.how.thread, joint.how.length_mm
    length = "length not measured" if length_mm is None else f"{length_mm:g} mm"
    words = ", ".join(str(fact) for fact in (drive, thread, length) if fact is not None)
    is_whole = None not in (drive, thread, length_mm)
    return words if is_whole else f"{name}: {words}"
