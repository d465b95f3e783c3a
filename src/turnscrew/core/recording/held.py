"""
Which part does a recorded joint hold?

The first part that came away after it, of those that never came away before it.
"""

from collections.abc import Iterable, Mapping

from turnscrew.core.model.blocking import Removal
from turnscrew.core.recording.orders import Opened


def parts_held_by(
    orders: Iterable[Opened], removals: Mapping[str, Removal]
) -> dict[str, str]:
    """
    Infer which part each joint holds.

    Parameters
    ----------
    orders
        The orders in which things were undone.
    removals
        What each name in them removes.

    Returns
    -------
    dict
        Part by joint; a joint after which no part ever came away has none.
    """
    told = tuple(orders)
    places = [_places(opened, removals) for opened in told]
    joints = [r.name for r in removals.values() if r.kind == "joint"]
    parts = dict.fromkeys(r.name for r in removals.values() if r.kind != "joint")
    found = {}
    for joint in joints:
        possible = [p for p in parts if _may_hold(joint, p, told, places)]
        votes = [
            part
            for at in places
            if joint in at and (part := _first_after(joint, possible, at))
        ]
        if votes:
            # Of parts named equally often, the one named first.
            found[joint] = max(votes, key=votes.count)
    return found


def _places(opened: Opened, removals: Mapping[str, Removal]) -> dict[str, int]:
    """Give when each joint was undone and each part came off, or else aside."""
    places: dict[str, int] = {}
    for place, thing in enumerate(opened.order):
        places[removals[thing].name] = place
    return places


def _may_hold(
    joint: str, part: str, told: tuple[Opened, ...], places: list[dict[str, int]]
) -> bool:
    """Say whether the part never came away with the joint still made."""
    return all(
        joint in opened.gone or at.get(joint, len(at)) < at[part]
        for opened, at in zip(told, places, strict=True)
        if part in at
    )


def _first_after(joint: str, parts: list[str], at: dict[str, int]) -> str:
    later = [part for part in parts if at.get(part, -1) > at[joint]]
    return min(later, key=at.__getitem__, default="")
