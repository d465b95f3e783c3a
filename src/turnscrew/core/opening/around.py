"""What belongs to an opening beside its lines?"""

from collections.abc import Iterator, Sequence, Set

from turnscrew.core.model.alike import confusable
from turnscrew.core.model.device import BeforeOpening, Device
from turnscrew.core.opening.answer import UsedUp
from turnscrew.core.opening.sentences import stop_after


def off_sentence(already_off: Sequence[str], with_them: Sequence[str]) -> str:
    """
    Say what is taken to be off before the work begins.

    Parameters
    ----------
    already_off
        Parts and joints said to be off.
    with_them
        Joints that are off with them.

    Returns
    -------
    str
        One sentence; empty if nothing is said to be off.
    """
    if not already_off:
        return ""
    beside = f", and with that {', '.join(with_them)}" if with_them else ""
    return f"Off already: {', '.join(already_off)}{beside}."


def take_out_sentence(device: Device, thing: BeforeOpening) -> str:
    """
    Say that something beside the path is taken out.

    Parameters
    ----------
    device
        The device.
    thing
        What is taken out.

    Returns
    -------
    str
        One sentence, and another where it is kept.
    """
    why = f", {thing.why}" if thing.why else ""
    keep = f" Keep: {stop_after(thing.keep)}" if thing.keep else ""
    # What is no part of the device may not have come with it.
    perhaps = "" if thing.what in device.parts else " if it is there"
    return f"Take out {thing.what}{perhaps}{why}.{keep}"


def take_out_sentences(device: Device) -> tuple[str, ...]:
    """
    Say what is taken out beside the path, each in its sentence.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    tuple[str, ...]
        In the order of the description.
    """
    return tuple(take_out_sentence(device, one) for one in device.before_opening)


def heeded_before(device: Device) -> Iterator[str]:
    """
    Say what is heeded before anything is undone.

    Parameters
    ----------
    device
        The device.

    Yields
    ------
    str
        One sentence for each.
    """
    if device.hygiene:
        yield stop_after(f"hygiene: {device.hygiene}")
    if device.variation:
        yield stop_after(f"may differ: {device.variation}")


def used_up_by(device: Device, off: Set[str]) -> Iterator[UsedUp]:
    """
    List what is used up; of a set, one serves all its places.

    Parameters
    ----------
    device
        The device.
    off
        Parts and joints that come off.

    Yields
    ------
    UsedUp
        Each thing, in the order of the description.
    """
    found = list(_each_used_up(device, off))
    sets = {used.spare: used for used in found if used.unit == "set"}
    for used in found:
        if sets.get(used.spare, used) is used:
            yield used


def _each_used_up(device: Device, off: Set[str]) -> Iterator[UsedUp]:
    for name, joint in device.joints.items():
        if name not in off:
            continue
        if joint.renew is not None:
            why = (
                f"only if {joint.renew.only_if}"
                if joint.renew.only_if
                else f"{name} is undone"
            )
            yield UsedUp(joint.renew.spare, joint.renew.n, joint.renew.unit, name, why)
        elif joint.survival.is_destroyed:
            why = "does not survive, and no replacement is recorded"
            yield UsedUp("not recorded", joint.n_pieces, "piece", name, why)
    for name in (*device.joints, *device.parts):
        thing = device.joints.get(name) or device.parts.get(name)
        if thing is not None and name in off:
            for renew in thing.refit.renew:
                why = f"only if {renew.only_if}" if renew.only_if else "at refit"
                yield UsedUp(renew.spare, renew.n, renew.unit, name, why)


def mistakable(device: Device, off: Set[str]) -> Iterator[str]:
    """
    Name fasteners of an opening that are easily taken for one another.

    Parameters
    ----------
    device
        The device.
    off
        Parts and joints that come off.

    Yields
    ------
    str
        One sentence for each pair.
    """
    for pair in confusable(device):
        one = [name for name in pair.one.joints if name in off]
        other = [name for name in pair.other.joints if name in off]
        if one and other:
            danger = f" Behind: {pair.danger}." if pair.danger else ""
            yield f"{', '.join(one)} / {', '.join(other)}: {pair.why}.{danger}"


def final_tests_due(device: Device, off: Set[str]) -> Iterator[str]:
    """
    Say which tests an opening makes necessary after closing.

    Parameters
    ----------
    device
        The device.
    off
        Parts and joints that come off.

    Yields
    ------
    str
        Name, what is right, limit and what it is made with.
    """
    named = {
        test
        for name, joint in device.joints.items()
        if name in off
        for test in joint.tests
    }
    for name, test in device.tests.items():
        if name in named or not test.due_if or off & set(test.due_if):
            limit = f" Limit: {stop_after(test.limit)}" if test.limit else ""
            # What stands in for its own battery or leads serves the open device alone.
            held = () if test.while_open else (*test.supports, *test.leads)
            needs = ", ".join(held)
            with_them = f" With: {needs}." if needs else ""
            yield f"{name}: {stop_after(test.says)}{limit}{with_them}"


def settings_due(device: Device, off: Set[str]) -> Iterator[str]:
    """
    Say which settings an opening makes necessary after closing.

    Parameters
    ----------
    device
        The device.
    off
        Parts and joints that come off.

    Yields
    ------
    str
        What to do.
    """
    for setting in device.settings:
        if not setting.after or off & set(setting.after):
            yield stop_after(setting.do)
