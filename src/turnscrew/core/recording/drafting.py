"""
How is what was recorded written down as joints, parts, moves and needs?

What a joint holds is inferred; what was always off before a thing and does not follow
from that becomes one of its needs. A part moved aside is taken to be no more in the way
once it is off. To what was written by hand only needs on new things are added.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from turnscrew.core.model.blocking import (
    Condition,
    Removal,
    Ring,
    clearings,
    doing_of,
    rings_in,
    waits_of,
)
from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.joint import Joint
from turnscrew.core.model.need import Blocker, Need
from turnscrew.core.model.part import Move, Part
from turnscrew.core.recording.facts import (
    Done,
    joint_as_recorded,
    move_as_recorded,
    part_as_recorded,
)
from turnscrew.core.recording.held import parts_held_by
from turnscrew.core.recording.orders import Clause, Rules, reduced, rules_from
from turnscrew.core.recording.story import Story

ORDER_WHY = "always off first when it was recorded"
"""Why a thing waits for another, where nobody knows more."""

_AND = "; "


@dataclass(frozen=True)
class Drafted:
    """
    A description with the needs that were learned.

    Parameters
    ----------
    device
        The description.
    learned
        For each removal, the needs that come from recordings.
    """

    device: Device
    learned: Mapping[Removal, tuple[Need, ...]]


def without_learned_needs(device: Device, own: frozenset[str]) -> Device:
    """
    Take back the needs learned before, so that they can be learned anew.

    Parameters
    ----------
    device
        The description.
    own
        Names of the removals that rest on recordings alone.

    Returns
    -------
    Device
        The description with the needs written by hand.
    """
    for removal in _removals_of(device):
        doing = doing_of(device, removal)
        if doing.after_why.endswith(ORDER_WHY):
            why = doing.after_why.removesuffix(ORDER_WHY).removesuffix(_AND)
            kept = tuple(need for need in doing.after if not _is_on_any(need, own))
            kept = () if str(removal) in own else kept
            device = _with_doing(device, removal, _after(doing, kept, why))
    return device


def with_things(device: Device, story: Story, own: frozenset[str]) -> Device:
    """
    Write every joint, part and move that rests on recordings, without its needs.

    Parameters
    ----------
    device
        The description so far.
    story
        The openings.
    own
        Names of the removals that rest on recordings alone.

    Returns
    -------
    Device
        The description with all that was undone, and what each joint holds.
    """
    parts, joints = dict(device.parts), dict(device.joints)
    moves = dict(device.moves)
    held = parts_held_by(story.orders, story.removals)
    base = tuple(name for name, part in parts.items() if part.fixed)[:1]
    for key, removal in story.removals.items():
        name = removal.name
        seen = story.sightings[key]
        if removal.kind == "joint" and key in own:
            joint = joint_as_recorded(joints.get(name, Joint()), seen)
            holds = (held[name], *base) if name in held else ()
            joints[name] = replace(joint, holds=holds)
        elif removal.kind != "joint" and name in own:
            parts[name] = part_as_recorded(parts.get(name, Part()), story.of(name))
        if removal.kind == "aside" and key in own:
            move = move_as_recorded(moves.get(name, Move()), seen)
            moves[name] = replace(move, needs=())
    return replace(device, parts=parts, joints=joints, moves=moves)


def with_needs(
    device: Device, story: Story, own: frozenset[str], most_alternatives: int
) -> Drafted:
    """
    Write down what was always off before, but for what follows from the rest.

    Parameters
    ----------
    device
        The description with all things.
    story
        The openings.
    own
        Names of the removals that rest on recordings alone.
    most_alternatives
        Largest number of alternatives in one need. [1]

    Returns
    -------
    Drafted
        The description, and which of its needs were learned.
    """
    waits = waits_of(device)
    removals = {str(removal): removal for removal in waits}
    given = {str(r): tuple(_clauses(conditions)) for r, conditions in waits.items()}
    learned_rules = rules_from(story.orders, most_alternatives)
    rules = {**_only_aside(story, own), **learned_rules}
    wanted = {
        name: tuple(_to_add(name, rules[name], removals, own))
        for name in rules
        if name in removals
    }
    learned = {}
    for name, clauses in reduced(wanted, given).items():
        if clauses:
            removal = removals[name]
            needs = tuple(_need(clause, removals) for clause in clauses)
            learned[removal] = needs
            doing = doing_of(device, removal)
            why = _AND.join(filter(None, (doing.after_why, ORDER_WHY)))
            added = _after(doing, (*doing.after, *needs), why)
            device = _with_doing(device, removal, added)
    return Drafted(device, learned)


def untied(drafted: Drafted, own: frozenset[str]) -> tuple[Device, tuple[str, ...]]:
    """
    Leave out what was learned where, with the rest, a thing would wait for itself.

    That can only be where recordings contradict what was written by hand.

    Parameters
    ----------
    drafted
        The description.
    own
        Names of the removals that rest on recordings alone.

    Returns
    -------
    tuple
        The description, and what was left out, in words.
    """
    device = drafted.device
    left_out: list[str] = []
    while True:
        cut = next(
            (
                found
                for ring in rings_in(waits_of(device))
                if (found := _cut(device, ring, drafted.learned, own))
            ),
            None,
        )
        if cut is None:
            return device, tuple(left_out)
        device, words = cut
        left_out.append(
            f"{words}: recorded, but left out, "
            "since with the description it would wait for itself"
        )


def _removals_of(device: Device) -> Iterator[Removal]:
    for name in device.joints:
        yield Removal("joint", name)
    for name in device.parts:
        yield Removal("part", name)
    for name in device.moves:
        yield Removal("aside", name)


def _with_doing(device: Device, removal: Removal, doing: Doing) -> Device:
    match doing:
        case Joint():
            joints = {**device.joints, removal.name: doing}
            return replace(device, joints=joints)
        case Part():
            return replace(device, parts={**device.parts, removal.name: doing})
        case Move():
            return replace(device, moves={**device.moves, removal.name: doing})
    raise AssertionError(removal)


def _after(doing: Done, needs: tuple[Need, ...], why: str) -> Done:
    return replace(doing, after=needs, after_why=why)


def _is_on_any(need: Need, names: frozenset[str]) -> bool:
    return any(str(blocker) in names for blocker in need.any_of)


def _clauses(conditions: Iterable[Condition]) -> Iterator[Clause]:
    for condition in conditions:
        yield tuple(str(removal) for removal in condition.any_of)


def _only_aside(story: Story, own: frozenset[str]) -> Rules:
    """Let a part that was only ever moved aside come off after that at the soonest."""
    return {
        removal.name: ((key,),)
        for key, removal in story.removals.items()
        if removal.kind == "aside" and removal.name in own
    }


def _to_add(
    name: str,
    clauses: tuple[Clause, ...],
    removals: Mapping[str, Removal],
    own: frozenset[str],
) -> Iterator[Clause]:
    for clause in clauses:
        if name in own or any(thing in own for thing in clause):
            known = tuple(thing for thing in clause if thing in removals)
            off = (removals[t].name for t in known if removals[t].kind == "aside")
            yield (*known, *(part for part in off if part in removals))


def _need(clause: Clause, removals: Mapping[str, Removal]) -> Need:
    aside = {removals[t].name for t in clause if removals[t].kind == "aside"}
    blockers = (
        Blocker(removals[t].name, "aside" if removals[t].kind == "aside" else "off")
        for t in clause
        if t not in aside
    )
    return Need(tuple(blockers))


def _cut(
    device: Device,
    ring: Ring,
    learned: Mapping[Removal, tuple[Need, ...]],
    own: frozenset[str],
) -> tuple[Device, str] | None:
    """Take one learned link out of a ring, and say which."""
    for removal, condition in ring.links:
        doing = doing_of(device, removal)
        for need in learned.get(removal, ()):
            met_by = clearings(device, need, removal.name)
            if need in doing.after and met_by == condition.any_of:
                kept = tuple(other for other in doing.after if other != need)
                new = _after(doing, kept, doing.after_why)
                return _with_doing(device, removal, new), f"{removal} after {need}"
        first = condition.any_of[0]
        if condition.path == f"joints.{first.name}.holds" and first.name in own:
            joint = device.joints[first.name]
            words = f"{first.name} holds {joint.holds[0]}"
            return _with_doing(device, first, replace(joint, holds=())), words
    return None
