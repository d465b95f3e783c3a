"""
What comes first by custom of the trade, though nothing is in the way?

- A joint inside waits for the packs to be unplugged: one behind something that
  comes off for the isolating joint, and not in the way of that joint itself. A label
  or plug over a screw needs no driver and does not wait.
- What is prised apart waits for the screws and nuts that hold the same parts together.
- A seal waits for all that closes the same parts on it, so it goes in first.

Common practice, no source. What a description says, or recordings show, stands: where
it lets a screw wait for a clip, the clip comes first.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set

from turnscrew.core.model.blocking import (
    Condition,
    Removal,
    Waits,
    before,
    isolating_joints,
)
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import (
    Bond,
    Clip,
    Cover,
    Hook,
    Latch,
    Magnet,
    Press,
    Seal,
    Slide,
)
from turnscrew.core.model.joint import How

_DRIVEN = (Screw, Nut)
_PRISED = (Clip, Slide, Hook, Press, Magnet, Bond)


def with_customs(device: Device, waits: Waits) -> Waits:
    """
    Let removals wait for what comes first by custom too.

    Parameters
    ----------
    device
        The device.
    waits
        What every removal waits for by its description.

    Returns
    -------
    Mapping
        The same and more; nothing waits for itself that did not before.
    """
    held = {removal: list(conditions) for removal, conditions in waits.items()}
    for isolating in isolating_joints(device):
        condition = Condition(
            (Removal("joint", isolating),), f"joints.{isolating}.first"
        )
        for removal in _inside(device, held, condition.any_of[0]):
            held[removal].append(condition)
    for name, joint in device.joints.items():
        own = Removal("joint", name)
        for other in _closing_with(device, name, _ahead_of(joint.how)):
            first = Removal("joint", other)
            if own not in before(held, first):
                held[own].append(Condition((first,), f"joints.{other}.holds"))
    return {removal: tuple(conditions) for removal, conditions in held.items()}


def _inside(
    device: Device, waits: Mapping[Removal, Sequence[Condition]], first: Removal
) -> list[Removal]:
    """Name the joints behind what comes off for one, but for those that do already."""
    in_its_way = before(waits, first)
    behind = _waiting(waits, in_its_way - {first}, any)
    ahead = in_its_way | _waiting(waits, {first}, all)
    joints = (
        Removal("joint", name)
        for name, joint in device.joints.items()
        if not isinstance(joint.how, Cover)
    )
    return [removal for removal in joints if removal in behind - ahead]


def _waiting(
    waits: Mapping[Removal, Sequence[Condition]],
    start: Set[Removal],
    how_many: Callable[[Iterable[bool]], bool],
) -> set[Removal]:
    """Collect what waits for some of these, for want of any choice or of all."""
    found = set(start)
    grown = True
    while grown:
        n = len(found)
        found.update(
            removal
            for removal, conditions in waits.items()
            if any(how_many(r in found for r in c.any_of) for c in conditions)
        )
        grown = len(found) > n
    return found - start


def _ahead_of(how: How | None) -> tuple[type, ...]:
    if isinstance(how, Seal):
        return (*_DRIVEN, *_PRISED, Latch)
    return _DRIVEN if isinstance(how, _PRISED) else ()


def _closing_with(device: Device, name: str, kinds: tuple[type, ...]) -> Iterator[str]:
    """Name the joints of some kinds that hold two parts together as this one does."""
    held = set(device.joints[name].holds)
    for other, joint in device.joints.items():
        if isinstance(joint.how, kinds) and len(held.intersection(joint.holds)) > 1:
            yield other
