"""How is what recordings tell of one thing written down?"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from turnscrew.core.model.doing import Doing
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import Pin
from turnscrew.core.model.joint import HOW_KINDS, How, Joint
from turnscrew.core.model.part import Move, Orientation, Part
from turnscrew.core.model.proof import Origin, Photo
from turnscrew.core.model.refit import Survival, ToolUse
from turnscrew.core.recording.readings import (
    drive_of,
    fits_two_ways,
    is_used_up,
    kind_of,
    settled,
    settled_length_mm,
    settled_n,
    thread_of,
    told,
)
from turnscrew.core.recording.recorded import AS_RECORDED
from turnscrew.core.recording.story import Sighting

STRAIGHT_OUT = "straight out"

Done = TypeVar("Done", bound=Doing)


def joint_as_recorded(before: Joint, sightings: Sequence[Sighting]) -> Joint:
    """
    Write what was recorded of a joint.

    Parameters
    ----------
    before
        The joint as it stood; what recordings do not tell stays.
    sightings
        Its recordings.

    Returns
    -------
    Joint
        The joint, without what it holds and what it waits for.
    """
    n = settled_n(sightings)
    is_destroyed = settled(sightings, is_used_up)
    survives = before.survives
    if is_destroyed is not None:
        survives = Survival("never" if is_destroyed else "always")
    changed = replace(
        before,
        how=_how(before.how, sightings),
        n=before.n if n is None else n,
        survives=survives,
    )
    return _doing_as_recorded(changed, sightings)


def part_as_recorded(before: Part, sightings: Sequence[Sighting]) -> Part:
    """
    Write what was recorded of a part.

    Parameters
    ----------
    before
        The part as it stood; what recordings do not tell stays.
    sightings
        Its recordings.

    Returns
    -------
    Part
        The part, without what it waits for.
    """
    # A joint recorded under the name of a part says no kind of part.
    parts = [s for s in sightings if s[1].removal != "joint"]
    changed = replace(
        before,
        kind=settled(parts, lambda s: s[1].kind) or before.kind,
        orientation=_orientation(sightings) or before.orientation,
    )
    return _doing_as_recorded(changed, sightings)


def move_as_recorded(before: Move, sightings: Sequence[Sighting]) -> Move:
    """
    Write what was recorded of a part moved aside.

    Parameters
    ----------
    before
        The move as it stood.
    sightings
        Its recordings.

    Returns
    -------
    Move
        The move, without what it waits for.
    """
    return _doing_as_recorded(before, sightings)


def _how(before: How | None, sightings: Sequence[Sighting]) -> How | None:
    joints = [s for s in sightings if s[1].removal == "joint"]
    kind = settled(joints, kind_of)
    noun = dict(HOW_KINDS).get(kind or "")
    how = before if noun is None or isinstance(before, noun) else noun()
    facts = {
        "drive": settled(joints, drive_of),
        "thread": settled(joints, thread_of),
        "length_mm": settled_length_mm(joints),
    }
    fields = {Screw: facts, Nut: {"thread"}, Pin: {"length_mm"}}.get(type(how), ())
    new = {key: facts[key] for key in fields if facts[key] is not None}
    return replace(how, **new) if how is not None and new else how


def _orientation(sightings: Sequence[Sighting]) -> Orientation | None:
    fits_other_way = settled(sightings, fits_two_ways)
    if fits_other_way is None:
        return None
    if fits_other_way:
        return Orientation("as it lay before it came out")
    return Orientation("it fits one way only", "it does not go in", n_ways=1)


def _doing_as_recorded(before: Done, sightings: Sequence[Sighting]) -> Done:
    opening = sightings[0][0]
    straight = settled(sightings, lambda s: s[1].is_straight_out)
    direction = settled(sightings, lambda s: s[1].direction)
    if direction is None and straight is not None:
        direction = STRAIGHT_OUT if straight else ""
    tools = dict.fromkeys(told(sightings, lambda s: s[1].tool))
    lays = dict.fromkeys(told(sightings, lambda s: s[1].lay))
    photos = dict.fromkeys(photo for _, seen in sightings for photo in seen.photos)
    return replace(
        before,
        postures=tuple(lays) or before.postures,
        tools=tuple(ToolUse(tool) for tool in tools) or before.tools,
        direction=before.direction if direction is None else direction,
        photos=tuple(Photo(photo) for photo in photos) or before.photos,
        origin=Origin("seen", opening.by, opening.serial, opening.on, AS_RECORDED),
    )
