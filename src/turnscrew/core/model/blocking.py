"""
What must be out of the way before what?

Three kinds of removal: a joint is undone, a part is lifted off, a part is moved aside.
Each waits for conditions; a condition is met by any one of several removals.

- A joint waits for what it lies under and for what comes first for order's sake.
- A part waits for what lies over it and for every joint that ties it, or a part that
  comes away with it, to anything that stays.
- A part moved aside waits for the joints that tie it, but for those it frees or keeps
  and those that are said to be reached with it aside.
- Electrical joints wait for the isolating joint unless it is never reached without
  them.
"""

from collections.abc import (
    Collection,
    Container,
    Iterable,
    Iterator,
    Mapping,
    Sequence,
    Set,
)
from dataclasses import dataclass
from typing import Literal, NamedTuple

from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.holding import Cover
from turnscrew.core.model.need import Blocker, Need

USED_UP_KINDS = ("consumable", "seal", "label")
"""Kinds of part that may share a name with the joint they make."""


class Removal(NamedTuple):
    """
    One thing that can be done on the way in.

    Parameters
    ----------
    kind
        Whether a joint is undone, a part lifted off, or a part moved aside.
    name
        The joint or part.
    """

    kind: Literal["joint", "part", "aside"]
    name: str

    def __str__(self) -> str:
        """Give the removal in words."""
        return f"{self.name} aside" if self.kind == "aside" else self.name


@dataclass(frozen=True)
class Condition:
    """
    One thing a removal waits for.

    Parameters
    ----------
    any_of
        Removals, any one of which meets it.
    path
        The fact it comes from, such as ``joints.pack plug.under``.
    """

    any_of: tuple[Removal, ...]
    path: str


@dataclass(frozen=True)
class Ring:
    """
    Removals that wait for one another.

    Parameters
    ----------
    links
        Pairs of a removal and the condition that makes it wait for the next one.
    """

    links: tuple[tuple[Removal, Condition], ...]

    def __str__(self) -> str:
        """Name the ring in words."""
        names = [str(removal) for removal, _ in self.links]
        first, *rest = [*names[1:], names[0]]
        waits = f"{names[0]} waits for {first}"
        return ", which waits for ".join([waits, *rest])


Waits = Mapping[Removal, tuple[Condition, ...]]


def isolating_joints(device: Device) -> tuple[str, ...]:
    """
    Name the joints that isolate the device.

    Parameters
    ----------
    device
        The device.

    Returns
    -------
    tuple
        Joints marked as electrically first, and the one named by the power rules.
    """
    names = [
        name for name, joint in device.joints.items() if joint.first == "electrical"
    ]
    named = device.power.isolate
    if named in device.joints and named not in names:
        names.append(named)
    return tuple(names)


def comes_away_with(device: Device, part: str) -> frozenset[str]:
    """
    Name the parts that leave the device when one part is lifted.

    Parameters
    ----------
    device
        The device.
    part
        The part lifted.

    Returns
    -------
    frozenset
        The part, what it contains and what it carries, to any depth.
    """
    found: set[str] = set()
    waiting = [part]
    while waiting:
        name = waiting.pop()
        if name in found:
            continue
        found.add(name)
        if name in device.parts:
            waiting += [*device.parts[name].contains, *device.parts[name].carries]
    return frozenset(found)


def tying_joints(device: Device, part: str) -> tuple[str, ...]:
    """
    Name the joints that tie a part, or what leaves with it, to what stays.

    Parameters
    ----------
    device
        The device.
    part
        The part.

    Returns
    -------
    tuple
        Joints in the order of the description.
    """
    group = comes_away_with(device, part)
    return tuple(
        name
        for name, joint in device.joints.items()
        if group.intersection(joint.holds) and not group.issuperset(joint.holds)
    )


def removal_named(device: Device, name: str) -> Removal | None:
    """
    Say what a name in a description stands for.

    Parameters
    ----------
    device
        The device.
    name
        A name.

    Returns
    -------
    Removal or None
        The joint or part; the joint where both bear the name; ``None`` for neither.
    """
    if name in device.joints:
        return Removal("joint", name)
    if name in device.parts:
        return Removal("part", name)
    return None


def doing_of(device: Device, removal: Removal) -> Doing:
    """
    Give the facts of what a removal does.

    Parameters
    ----------
    device
        The device.
    removal
        A removal of the device.

    Returns
    -------
    Doing
        The joint, part or move.
    """
    if removal.kind == "joint":
        return device.joints[removal.name]
    if removal.kind == "part":
        return device.parts[removal.name]
    return device.moves[removal.name]


def waits_of(device: Device, stays: Collection[str] = ()) -> Waits:
    """
    Give what every removal waits for.

    Names that mean nothing in the description are left out.

    Parameters
    ----------
    device
        The device.
    stays
        Joints and parts that cannot be moved in this very device.

    Returns
    -------
    Mapping
        Conditions by removal, in the order of the description.
    """
    waits: dict[Removal, list[Condition]] = {}
    for name, joint in device.joints.items():
        waits[Removal("joint", name)] = list(_stated(device, "joints", name, joint))
    for name, part in device.parts.items():
        # A consumable that bears its joint's name goes with the joint.
        if not part.fixed and name not in device.joints:
            waits[Removal("part", name)] = [
                *_stated(device, "parts", name, part),
                *_tied(device, name, ()),
            ]
    for name, move in device.moves.items():
        waits[Removal("aside", name)] = list(_moved(device, name))
        waits[Removal("aside", name)] += _stated(device, "moves", name, move)
    for blocked, condition in _covered(device):
        if blocked in waits:
            waits[blocked].append(condition)
    _isolate(device, waits, {one for one in waits if one.name in stays})
    return {removal: tuple(conditions) for removal, conditions in waits.items()}


def rings_in(waits: Waits) -> tuple[Ring, ...]:
    """
    Find removals that wait for one another, so that none can ever be done.

    Parameters
    ----------
    waits
        What every removal waits for.

    Returns
    -------
    tuple
        One ring for each knot; a removal that waits for a stuck one is not named.
    """
    rings: list[Ring] = []
    done: set[Removal] = set()
    while True:
        _spread(waits, done, waits)
        ring = _ring_among(waits, done)
        if ring is None:
            return tuple(rings)
        rings.append(ring)
        # Taking the ring as solved shows the knots behind it.
        done.update(removal for removal, _ in ring.links)


def _stated(
    device: Device, section: str, name: str, doing: Doing
) -> Iterator[Condition]:
    """Give what the description states, in the words under, after and power."""
    for word, needs in (("under", doing.under), ("after", doing.after)):
        for need in needs:
            yield from _condition(device, need, name, f"{section}.{name}.{word}")
    if doing.power.state == "isolated":
        for joint in isolating_joints(device):
            if joint != name:
                yield Condition((Removal("joint", joint),), f"{section}.{name}.power")


def _condition(
    device: Device, need: Need, blocked: str, path: str
) -> Iterator[Condition]:
    found = clearings(device, need, blocked)
    if found:
        yield Condition(found, path)


def clearings(device: Device, need: Need, blocked: str = "") -> tuple[Removal, ...]:
    """
    Give the removals any one of which meets a need.

    Parameters
    ----------
    device
        The device.
    need
        What must be off or aside.
    blocked
        Name of the thing that waits, if there is one.

    Returns
    -------
    tuple
        Removals; empty if the names mean nothing in the description.
    """
    found = [
        removal
        for blocker in need.any_of
        for removal in _clearing(device, blocker, blocked)
    ]
    return tuple(dict.fromkeys(found))


def _clearing(device: Device, blocker: Blocker, blocked: str) -> Iterator[Removal]:
    """Give the removals that get one blocker out of the way of one blocked thing."""
    removal = removal_named(device, blocker.name)
    if blocker.state == "aside" and blocker.name in device.parts:
        removal = Removal("part", blocker.name)
    if removal is not None:
        yield removal
    move = device.moves.get(blocker.name)
    if move and (blocker.state == "aside" or blocked in move.frees):
        yield Removal("aside", blocker.name)


def _tied(device: Device, part: str, left_made: Iterable[str]) -> Iterator[Condition]:
    left = set(left_made)
    for joint in tying_joints(device, part):
        if joint not in left:
            yield Condition((Removal("joint", joint),), f"joints.{joint}.holds")


def _moved(device: Device, part: str) -> Iterator[Condition]:
    move = device.moves[part]
    if move.needs is None:
        left_made = {*move.frees, *move.keeps, *_reached_aside(device, part)}
        yield from _tied(device, part, left_made)
        return
    for need in move.needs:
        yield from _condition(device, need, part, f"moves.{part}.needs")


def _reached_aside(device: Device, part: str) -> Iterator[str]:
    """Name the joints said to be reached with a part aside: so they hold till then."""
    aside = Blocker(part, "aside")
    for name, joint in device.joints.items():
        if any(aside in need.any_of for need in joint.under):
            yield name


def _covered(device: Device) -> Iterator[tuple[Removal, Condition]]:
    """Give what is said from the side of the cover, in covers and in hides."""
    for name, part in device.parts.items():
        for covered in part.covers:
            blocked = removal_named(device, covered)
            if blocked is not None:
                clearing = tuple(_clearing(device, Blocker(name), covered))
                yield blocked, Condition(clearing, f"parts.{name}.covers")
    for name, joint in device.joints.items():
        if isinstance(joint.how, Cover):
            for hidden in joint.how.hides:
                condition = Condition(
                    (Removal("joint", name),), f"joints.{name}.cover.hides"
                )
                yield Removal("joint", hidden), condition


def _isolate(
    device: Device, waits: dict[Removal, list[Condition]], stays: Set[Removal]
) -> None:
    """Let electrical joints wait, but for those in the isolating one's way."""
    for isolating in isolating_joints(device):
        first = Removal("joint", isolating)
        others = {
            Removal("joint", name)
            for name, joint in device.joints.items()
            if joint.is_electrical and name != isolating
        }
        condition = Condition((first,), f"joints.{isolating}.first")
        for removal in others - _in_the_way(waits, first, others, stays):
            waits[removal].append(condition)


def _in_the_way(
    waits: Mapping[Removal, Sequence[Condition]],
    first: Removal,
    among: Set[Removal],
    stays: Set[Removal],
) -> Set[Removal]:
    """
    Name those without which one removal can never be done, as long as some stay.

    Where it is reached by one or another of them alone, or never, all that may come
    before it count.
    """
    maybe = before(waits, first) & among
    if first not in _reached(waits, barred=stays):
        return maybe
    needed = {
        one for one in maybe if first not in _reached(waits, barred=stays | {one})
    }
    if first in _reached(waits, barred=stays | (among - needed)):
        return needed
    return maybe


def _reached(
    waits: Mapping[Removal, Sequence[Condition]], *, barred: Set[Removal]
) -> set[Removal]:
    """Collect what can be done without some removals."""
    done: set[Removal] = set()
    held = {
        removal: conditions
        for removal, conditions in waits.items()
        if removal not in barred
    }
    _spread(held, done, waits)
    return done


def before(
    waits: Mapping[Removal, Sequence[Condition]], start: Removal
) -> set[Removal]:
    """
    Collect whatever might have to come before a removal.

    Parameters
    ----------
    waits
        What every removal waits for.
    start
        The removal.

    Returns
    -------
    set
        Removals, the start included.
    """
    found: set[Removal] = set()
    waiting = [start]
    while waiting:
        removal = waiting.pop()
        if removal in found:
            continue
        found.add(removal)
        for condition in waits.get(removal, []):
            waiting += condition.any_of
    return found


def _spread(
    waits: Mapping[Removal, Sequence[Condition]],
    done: set[Removal],
    known: Container[Removal],
) -> None:
    """Do whatever can be done of what waits, until nothing more can."""
    grown = True
    while grown:
        grown = False
        for removal, conditions in waits.items():
            if removal not in done and all(_is_met(c, known, done) for c in conditions):
                done.add(removal)
                grown = True


def _is_met(
    condition: Condition, known: Container[Removal], done: set[Removal]
) -> bool:
    """Count a removal that nobody describes as met: that is another problem."""
    return any(removal in done or removal not in known for removal in condition.any_of)


def _ring_among(waits: Waits, done: set[Removal]) -> Ring | None:
    """Follow unmet conditions from the first stuck removal until one comes again."""
    stuck = next((removal for removal in waits if removal not in done), None)
    if stuck is None:
        return None
    trail: list[tuple[Removal, Condition]] = []
    while stuck not in (removal for removal, _ in trail):
        unmet = next(c for c in waits[stuck] if not _is_met(c, waits, done))
        trail.append((stuck, unmet))
        stuck = unmet.any_of[0]
    names = [removal for removal, _ in trail]
    return Ring(tuple(trail[names.index(stuck) :]))
