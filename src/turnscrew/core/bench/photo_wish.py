"""
At which looks is a photo asked for, before what is looked at is covered?

A photo is worth its minute where hands alone put something right that nobody sees or
counts afterwards. It is asked for at few looks, so that it is taken and not pressed
away.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from turnscrew.core.bench.run import Line
from turnscrew.core.model.device import Device

MOST_PHOTOS = 4
"""Photos asked for of one device; common practice, no source. [1]"""

SEEN_ONCE = {
    "socket": 3, "plug": 3, "lead": 3, "contact": 3, "thermal": 2, "seal": 2,
    "bond": 1, "press": 1,
}  # fmt: skip
"""
What a joint that came back weighs, by kind: connections and what carries heat or keeps
water out fail after weeks and are seen no more; common practice, no source. [1]
"""

WAY_ROUND = 2
"""Weight of a part that has a wrong way round, or loose pieces in it. [1]"""


def with_photo_wishes(
    lines: Sequence[Line], device: Device, n_left: int = MOST_PHOTOS
) -> tuple[Line, ...]:
    """
    Mark the looks at which a photo is asked for.

    Parameters
    ----------
    lines
        The lines of a run.
    device
        The device.
    n_left
        Photos that may still be asked for. [1]

    Returns
    -------
    tuple
        The lines; of the looks before something is covered the weightiest are marked,
        of equal ones those that come first.
    """
    weighed = {
        line.number: _weight(device, line.names)
        for line in lines
        if line.asks == "look" and line.phase == "refit"
    }
    told = sorted(number for number, weight in weighed.items() if weight)
    told.sort(key=lambda number: -weighed[number])
    wished = frozenset(told[: max(0, n_left)])
    return tuple(
        replace(line, wants_photo=True) if line.number in wished else line
        for line in lines
    )


def _weight(device: Device, names: Iterable[str]) -> int:
    return sum(_weight_of(device, name) for name in names)


def _weight_of(device: Device, name: str) -> int:
    joint, part = device.joints.get(name), device.parts.get(name)
    weight = SEEN_ONCE.get(joint.kind, 0) if joint is not None else 0
    if part is not None and (part.orientation is not None or part.loose):
        weight += WAY_ROUND
    return weight
