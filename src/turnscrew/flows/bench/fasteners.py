"""How is a loose piece told at the bench?"""

from collections.abc import Mapping

from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw
from turnscrew.flows.bench.goal import Lying


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


def fasteners_in(
    device: Device, letters: Mapping[str, str], lying: Lying
) -> dict[str, str]:
    """
    Say which kind of fastener each compartment holds.

    Parameters
    ----------
    device
        The device.
    letters
        Letter of each joint.
    lying
        How the device lies.

    Returns
    -------
    dict[str, str]
        Words by letter.
    """
    joints = device.joints
    return {
        **lying.fasteners,
        **{
            letter: words_in_tray(device, name, letter, lying)
            for name, letter in letters.items()
            if name in joints and joints[name].goes_in_tray
        },
    }


def words_in_tray(device: Device, name: str, letter: str, lying: Lying) -> str:
    """
    Say of which kind the pieces of a joint are, taken or still to be taken.

    Parameters
    ----------
    device
        The device.
    name
        The joint.
    letter
        Its letter.
    lying
        How the device lies.

    Returns
    -------
    str
        What lies in the tray keeps the words it was taken under, whatever the
        description says of it by now: it goes back as it came. Empty for what does not
        go into the tray.
    """
    joint = device.joints.get(name)
    if joint is None or not joint.goes_in_tray:
        return ""
    known = lying.fasteners.get(letter) if letter in lying.tray else None
    return known or fastener_words(device, name)


def letters_of_no_joint(
    device: Device, letters: Mapping[str, str], lying: Lying
) -> list[str]:
    """
    Name the compartments whose pieces no joint of this revision takes.

    Parameters
    ----------
    device
        The device.
    letters
        Letters by joint.
    lying
        How it lies, its tray among it.

    Returns
    -------
    list[str]
        Their letters.
    """
    known = {letter for name, letter in letters.items() if name in device.joints}
    return [at for at, n in lying.tray.items() if n and at not in known]
