"""What changes at the bench while a pack that is swollen or unknown is inside?"""

from collections.abc import Iterable, Iterator, Set

from turnscrew.core.bench.run import Line
from turnscrew.core.model.device import Device
from turnscrew.core.opening.cautions import HEAT, IF_SWOLLEN, PACK_FIRST, PACK_WORDS
from turnscrew.flows.bench.goal import Goal, Lying, Work

PACK_INSIDE = (
    "A swollen or unknown pack is inside: do not press, bend or pierce it; if it gets "
    "hot, hisses or smokes, leave it, warn everybody, call the fire service."
)
NO_HEAT = (
    "No heat while this pack is inside: the lead says how it comes off cold; if there "
    "is no such way, leave it shut and isolate it."
)
BOX_BAD = (
    "Old pack into the fire box at once: alone, ends taped, nothing on top; label with "
    "date and number; then to the store for bad packs by local rules."
)
BOX_AGAIN = (
    "The pack fitted last is bad too: into the fire box at once: alone, ends taped, "
    "nothing on top; label with date and number; then to the store for bad packs by "
    "local rules."
)
LEAVE_OUT = "{} is not laid in again: it stays in the fire box. Close without it."
BOX_OLD = "Old pack: tape its ends, into the box for old packs, by local rules."


def makes_good(device: Device, goal: Goal) -> bool:
    """
    Say whether what speaks against power is gone once the work of a goal is done.

    Parameters
    ----------
    device
        The device.
    goal
        What is wanted.

    Returns
    -------
    bool
        For a bad pack only if a pack is among what is replaced, for liquid only if it
        is seen to.
    """
    freed = {frees(device, goal, one) for one in goal.work}
    if goal.is_pack_bad and "pack" not in freed:
        return False
    if goal.is_wet and "liquid" not in freed:
        return False
    return not goal.no_power or bool(goal.work)


def frees(device: Device, goal: Goal, work: Work) -> str:
    """
    Say what keeps power off and is gone once a piece of work is done.

    Parameters
    ----------
    device
        The device.
    goal
        What is wanted.
    work
        The work.

    Returns
    -------
    str
        ``pack``, ``liquid``; empty if nothing. Where a device has several packs nobody
        knows which of them is bad: the last one changed frees it, if all are.
    """
    if goal.is_pack_bad and work == _last_pack(device, goal):
        return "pack"
    return "liquid" if goal.is_wet and work.dries else ""


def with_pack_cautions(
    device: Device, off: Iterable[str], line: Line, cautions: tuple[str, ...]
) -> tuple[str, ...]:
    """
    Give the dangers of a line while a bad pack is inside.

    Parameters
    ----------
    device
        The device.
    off
        Parts and joints that are off.
    line
        The line.
    cautions
        Its dangers as they are with a pack that is whole.

    Returns
    -------
    tuple
        Sentences; what tells to stop at a swollen pack is the work itself here, and
        no heat is asked for.
    """
    gone = set(off)
    inside = [
        part.pack
        for name, part in device.parts.items()
        if _is_pack(device, name) and name not in gone
    ]
    joint = device.joints.get(line.name)
    is_hot = joint is not None and joint.soften is not None and line.does == "undo"
    of_a_pack = {PACK_WORDS, PACK_FIRST}.intersection(cautions)
    touches = bool(of_a_pack) or _is_pack(device, line.name)
    if not inside or not (is_hot or touches):
        return cautions
    never = dict.fromkeys(word for pack in inside if pack for word in pack.do_not)
    told = [PACK_INSIDE]
    if never:
        told.append(f"Pack, never: {', '.join(never)}.")
    if is_hot:
        told.append(NO_HEAT)
    rest = [
        words
        for words in cautions
        if words not in {PACK_WORDS, PACK_FIRST, *told}
        and not words.startswith((IF_SWOLLEN, HEAT))
    ]
    return (*told, *rest)


def box_words(device: Device, goal: Goal, name: str) -> str:
    """
    Say where a pack goes that was just lifted out.

    Parameters
    ----------
    device
        The device.
    goal
        What is wanted.
    name
        The part lifted.

    Returns
    -------
    str
        The working line; empty if the part is no pack or goes back in.
    """
    if not _is_pack(device, name):
        return ""
    if goal.is_pack_bad:
        return BOX_BAD
    is_replaced = any(one.spare and one.reach == name for one in goal.work)
    return BOX_OLD if is_replaced else ""


def not_boxed(device: Device, goal: Goal, lying: Lying) -> Iterator[tuple[str, str]]:
    """
    Give the packs that were lifted out on an earlier path and lie beside the device.

    Parameters
    ----------
    device
        The device.
    goal
        What is wanted.
    lying
        How the device lies.

    Yields
    ------
    tuple[str, str]
        The pack, and the working line that says where it goes.
    """
    for name in device.parts:
        if name in lying.off and name not in lying.boxed:
            if words := box_words(device, goal, name):
                yield name, words


def left_out(device: Device, goal: Goal) -> frozenset[str]:
    """
    Name the bad packs that are not replaced, and the joints that hold nothing else.

    Parameters
    ----------
    device
        The device.
    goal
        What is wanted.

    Returns
    -------
    frozenset[str]
        What does not go back once it is out: a bad pack is never laid in again.
    """
    bad = _not_renewed(device, goal)
    if not goal.is_pack_bad or not bad:
        return frozenset()
    held = {name: set(one.holds[:-1]) for name, one in device.joints.items()}
    return frozenset(
        bad | {name for name, parts in held.items() if parts and parts <= bad}
    )


def again_words(goal: Goal, lying: Lying, work: Work, freed: str) -> str:
    """
    Say where a pack goes that was fitted, is bad too and was not closed in yet.

    Parameters
    ----------
    goal
        What is wanted.
    lying
        How the device lies.
    work
        The work about to be done.
    freed
        What keeps power off and is gone once it is done.

    Returns
    -------
    str
        The working line; empty if there is none, or if it is lifted out on the way.
    """
    is_loose = goal.is_pack_bad_again and freed == "pack" and work.reach in lying.off
    return BOX_AGAIN if is_loose else ""


def _last_pack(device: Device, goal: Goal) -> Work | None:
    """Give the work after which every pack of a device is another one, if there is."""
    changes = pack_changes(device, goal)
    return changes[-1] if changes and not _not_renewed(device, goal) else None


def _not_renewed(device: Device, goal: Goal) -> set[str]:
    """Name the packs that nobody changed, and that no work of the goal changes."""
    renewed = {*goal.packs_changed, *(one.reach for one in pack_changes(device, goal))}
    return {name for name in device.parts if _is_pack(device, name)} - renewed


def pack_changes(device: Device, goal: Goal) -> list[Work]:
    """
    Give the work that puts another pack in.

    Parameters
    ----------
    device
        The device.
    goal
        What is wanted.

    Returns
    -------
    list[Work]
        In the order it is done.
    """
    return [one for one in goal.work if one.spare and _is_pack(device, one.reach)]


def inside(device: Device, goal: Goal, off: Set[str]) -> tuple[str, ...]:
    """
    Name the packs that are to be changed and are not out yet.

    Parameters
    ----------
    device
        The device.
    goal
        What is wanted.
    off
        Parts and joints that are off.

    Returns
    -------
    tuple[str, ...]
        Parts.
    """
    wanted = (one.reach for one in pack_changes(device, goal))
    return tuple(name for name in wanted if name not in off)


def _is_pack(device: Device, name: str) -> bool:
    return name in device.parts and device.parts[name].kind == "battery"
