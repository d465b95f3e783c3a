"""Where do recorded openings disagree with one another, or with the description?"""

from collections.abc import Iterator, Sequence
from typing import Any

from turnscrew.core.model.blocking import Condition, Removal, waits_of
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Nut, Screw
from turnscrew.core.model.holding import Pin
from turnscrew.core.recording.orders import Opened
from turnscrew.core.recording.readings import (
    COMPARED,
    Reading,
    drive_of,
    is_same,
    is_used_up,
    kind_of,
    length_mm,
    n_pieces,
    thread_of,
)
from turnscrew.core.recording.recorded import RecordedOpening
from turnscrew.core.recording.story import Sighting, Story


def contradictions_in(
    story: Story, own: frozenset[str], known: Device
) -> tuple[str, ...]:
    """
    Tell every contradiction in words, each with the two sides and what each says.

    Parameters
    ----------
    story
        The openings.
    own
        Names of the removals that rest on recordings alone.
    known
        What is known beside the openings.

    Returns
    -------
    tuple
        Sentences: of facts, of rules written by hand, of what one opening lacks.
    """
    return (
        *_facts(story, own, known),
        *_rules(story, own, known),
        *_lacking(story, own),
    )


def _facts(story: Story, own: frozenset[str], known: Device) -> Iterator[str]:
    kinds = {removal.name: removal.kind for removal in story.removals.values()}
    for name, kind in kinds.items():
        # What took it for something else is told as a misfit already.
        sightings = tuple(
            sighting
            for sighting in story.of(name)
            if (sighting[1].removal == "joint") == (kind == "joint")
        )
        if name in own:
            yield from _differing(name, sightings)
        else:
            yield from _differing_from(known, name, sightings)


def _differing(name: str, sightings: Sequence[Sighting]) -> Iterator[str]:
    for reading, say in COMPARED:
        first: Sighting | None = None
        for sighting in sightings:
            value = reading(sighting)
            if value in (None, ""):
                continue
            if first is None:
                first = sighting
            elif not is_same(reading(first), value):
                one, other = say(reading(first)), say(value)
                yield f"{name}: {one} on {first[0]}, {other} on {sighting[0]}"


def _differing_from(
    device: Device, name: str, sightings: Sequence[Sighting]
) -> Iterator[str]:
    for reading, say in COMPARED:
        stated = _stated(device, name, reading)
        for sighting in sightings:
            value = reading(sighting)
            if stated is None or value in (None, "") or is_same(stated, value):
                continue
            yield (
                f"{name}: {say(stated)} in the description, "
                f"{say(value)} on {sighting[0]}"
            )


def _stated(device: Device, name: str, reading: Reading) -> Any:
    """Give what the description says of the same fact; ``None`` if it says nothing."""
    joint, part = device.joints.get(name), device.parts.get(name)
    if joint is None:
        return (
            part.kind if part and reading is kind_of and part.kind != "part" else None
        )
    how = joint.how
    facts: dict[Reading, Any] = {
        kind_of: joint.kind if how else None,
        n_pieces: joint.n_pieces if joint.n is not None or joint.at else None,
        length_mm: how.length_mm if isinstance(how, (Screw, Pin)) else None,
        drive_of: how.drive if isinstance(how, Screw) else None,
        thread_of: how.thread if isinstance(how, (Screw, Nut)) else None,
        is_used_up: joint.survives.is_destroyed if joint.survives else None,
    }
    return facts.get(reading)


def _rules(story: Story, own: frozenset[str], known: Device) -> Iterator[str]:
    learned = tuple(_prefixes(story, own))
    waits = waits_of(known)
    for opening, opened in zip(story.openings, story.orders, strict=True):
        off = {Removal("joint", name) for name in opened.gone}
        for key in opened.order:
            removal = story.removals[key]
            for condition in waits.get(removal, ()):
                is_learned = condition.path.startswith(learned)
                if not is_learned and off.isdisjoint(condition.any_of):
                    yield _broken(removal, condition, opening)
            off.add(removal)


def _prefixes(story: Story, own: frozenset[str]) -> Iterator[str]:
    """Give how the paths of facts begin that rest on recordings alone."""
    section = {"joint": "joints", "part": "parts", "aside": "moves"}
    for key, removal in story.removals.items():
        if key in own:
            yield f"{section[removal.kind]}.{removal.name}."


def _broken(removal: Removal, condition: Condition, opening: RecordedOpening) -> str:
    first = " or ".join(str(one) for one in condition.any_of)
    return (
        f"{removal}: the description lets it wait for {first} ({condition.path}), "
        f"on {opening} it was undone before that"
    )


def _lacking(story: Story, own: frozenset[str]) -> Iterator[str]:
    """Joints undone before a part here, and never undone there though it came off."""
    told = tuple(zip(story.openings, story.orders, strict=True))
    for key, removal in story.removals.items():
        # What was written by hand says itself what the joint holds.
        if removal.kind != "joint" or key not in own:
            continue
        found = (
            (opening, other, part)
            for opening, opened in told
            if (part := _part_after(key, opened, story))
            and not any(_is_after(key, part, opened) for opened in story.orders)
            for other, other_opened in told
            if part in other_opened.order
            and key not in other_opened.order
            and key not in other_opened.gone
        )
        pair = next(found, None)
        if pair is not None:
            here, there, part = pair
            yield (
                f"{key}: undone before {part} on {here}, "
                f"never undone on {there} though {part} was"
            )


def _is_after(joint: str, part: str, opened: Opened) -> bool:
    order = opened.order
    return joint in order and part in order[: order.index(joint)]


def _part_after(joint: str, opened: Opened, story: Story) -> str:
    if joint not in opened.order:
        return ""
    later = opened.order[opened.order.index(joint) :]
    return next((key for key in later if story.removals[key].kind != "joint"), "")
