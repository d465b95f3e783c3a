"""
What description do recorded openings give, and where do they contradict one another?

Method: everything recorded becomes a joint, a part or a move, see ``drafting``; what
was always off before a thing stays a need of it, see ``orders``.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from turnscrew.core.model.device import Device
from turnscrew.core.model.part import Part
from turnscrew.core.model.proof import Origin, Release
from turnscrew.core.recording.contradictions import contradictions_in
from turnscrew.core.recording.drafting import (
    untied,
    with_needs,
    with_things,
    without_learned_needs,
)
from turnscrew.core.recording.facts import Done
from turnscrew.core.recording.orders import MOST_ALTERNATIVES, seen_both_ways
from turnscrew.core.recording.recorded import AS_RECORDED, RecordedOpening
from turnscrew.core.recording.release import changed_things
from turnscrew.core.recording.story import Story, learnable, story_of
from turnscrew.core.recording.surroundings import with_surroundings

FRAME = "frame"
"""The part to which a recorded joint holds what it holds."""


@dataclass(frozen=True)
class Learned:
    """
    What recorded openings teach.

    Parameters
    ----------
    device
        The description; what is new in it is a draft.
    contradictions
        Where openings, or the description and an opening, disagree, in words.
    free
        Pairs of removals seen in both orders.
    """

    device: Device
    contradictions: tuple[str, ...] = ()
    free: tuple[tuple[str, str], ...] = ()


def described(
    name: str,
    openings: Sequence[RecordedOpening],
    stated: Device | None = None,
    *,
    most_alternatives: int = MOST_ALTERNATIVES,
) -> Learned:
    """
    Describe a model from the openings recorded of it.

    Parameters
    ----------
    name
        Name of the family; a description that exists keeps its own.
    openings
        All openings recorded, however far they went.
    stated
        An existing description. What is only recorded in it is learned anew from the
        openings given; what was written by hand stays.
    most_alternatives
        Largest number of alternatives in one need. [1]

    Returns
    -------
    Learned
        A description that computes, with what it could not reconcile.
    """
    story = story_of(openings, stated)
    own = learnable(story.removals.values(), stated)
    base = stated or _with_frame(_blank(name, story), story)
    if any(story.removals[key].kind == "joint" for key in own & story.removals.keys()):
        base = _with_frame(base, story)
    known = without_learned_needs(base, own)
    drafted = with_needs(with_things(known, story, own), story, own, most_alternatives)
    device, left_out = untied(drafted, own)
    device = with_surroundings(device, story.openings)
    found = contradictions_in(story, own, known)
    return Learned(
        device=_with_release(device, stated),
        contradictions=(*story.misfits, *found, *left_out),
        free=seen_both_ways(story.orders),
    )


def _blank(name: str, story: Story) -> Device:
    origin = None
    if story.openings:
        first = story.openings[0]
        origin = Origin("seen", first.by, first.serial, first.on, AS_RECORDED)
    return Device(name=name, origin=origin)


def _with_frame(device: Device, story: Story) -> Device:
    """See that there is something that stays, to which the rest is held."""
    if any(part.fixed for part in device.parts.values()):
        return device
    recorded = {removal.name for removal in story.removals.values()}
    taken = {*device.parts, *device.joints, *recorded}
    frame = FRAME
    while frame in taken:
        frame = f"fixed {frame}"
    parts = {**device.parts, frame: Part(kind="frame", fixed=True)}
    return replace(device, parts=parts)


def _with_release(device: Device, stated: Device | None) -> Device:
    """Let only what is new or changed fall back to draft, if the whole was further."""
    has_loose_ends = not all(joint.holds for joint in device.joints.values())
    if stated is None or has_loose_ends:
        return replace(device, release=Release())
    if stated.release is None or stated.release.state == "draft":
        return device
    changed = changed_things(stated, device)
    return replace(
        device,
        parts={n: _drafted(p, is_so=n in changed) for n, p in device.parts.items()},
        joints={n: _drafted(j, is_so=n in changed) for n, j in device.joints.items()},
        moves={n: _drafted(m, is_so=n in changed) for n, m in device.moves.items()},
    )


def _drafted(thing: Done, *, is_so: bool) -> Done:
    return replace(thing, release=Release()) if is_so else thing
