"""
What must the next device show, and which lacking facts are met most often?

Only what rests on recordings is asked, and only until two openings agree on it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from turnscrew.core.model.debts import Debt, debts
from turnscrew.core.model.device import Device
from turnscrew.core.model.fastener import Screw
from turnscrew.core.model.joint import Joint
from turnscrew.core.recording.readings import (
    Reading,
    drive_of,
    fits_two_ways,
    in_words,
    is_same,
    is_used_up,
    length_mm,
    n_pieces,
    told,
)
from turnscrew.core.recording.recorded import RecordedOpening, is_as_recorded
from turnscrew.core.recording.story import Sighting, Story, story_of

Answer = Literal["yes/no", "count", "length_mm", "drive", "name"]

COUNTED = ("screw", "nut", "clip", "hook", "pin", "magnet")
"""Kinds of joint of which there is usually more than one piece."""

WEIGHT_LENGTH = 4.0
WEIGHT_COUNT = 3.0
WEIGHT_REUSE = 3.0
WEIGHT_DRIVE = 2.0
WEIGHT_HOLDS = 5.0
WEIGHT_ORIENTATION = 1.5
WEIGHT_ORDER = 0.5
"""House weights, on the scale of the debt list; common practice, no source. [1]"""

ONCE_SHARE = 0.5
"""Weight of a fact told once, beside one never told; common practice, no source. [1]"""


FACTS: Mapping[str, str] = {
    "count": "n",
    "length_mm": "length_mm",
    "drive": "drive",
    "yes/no": "is_destroyed",
}
"""The fact of a recording that each kind of answer to a question on a joint gives."""


@dataclass(frozen=True)
class Doubt:
    """
    One thing to look at on the next device.

    Parameters
    ----------
    asks
        The question, in one sentence.
    of
        The joint or part.
    answer
        What kind of answer it wants: one of two words, a count, a length in
        millimetres, a drive, or the name of a part.
    weight
        How much it matters. [1]
    fact
        The fact of a recording it asks for; empty if no recording holds it.
    usual
        What was told so far, as it is entered; empty if nothing, or different things.
    """

    asks: str
    of: str
    answer: Answer
    weight: float
    fact: str = ""
    usual: str = ""


@dataclass(frozen=True)
class DebtInUse:
    """
    A lacking fact and how often it is met.

    Parameters
    ----------
    debt
        The fact.
    n_opened
        Openings in which its thing was undone; all of them for a fact of the whole
        device. [1]
    weight
        Weight of the fact times the share of openings that met it. [1]
    """

    debt: Debt
    n_opened: int
    weight: float


def doubtful(device: Device, openings: Sequence[RecordedOpening]) -> tuple[Doubt, ...]:
    """
    List what the next device must show.

    Parameters
    ----------
    device
        The description learned.
    openings
        The openings it was learned from.

    Returns
    -------
    tuple
        Questions by falling weight, then in the order of the description. What two
        openings agree on is not asked again, nor what was written by hand.
    """
    story = story_of(openings, device)
    found = [
        *(
            doubt
            for name, joint in device.joints.items()
            if is_as_recorded(joint)
            for doubt in _of_joint(name, joint, story.of(name))
        ),
        *(
            doubt
            for name, part in device.parts.items()
            if is_as_recorded(part)
            for doubt in _of_part(name, story)
        ),
        *_of_order(device),
    ]
    return tuple(sorted(found, key=lambda doubt: -doubt.weight))


def debts_by_use(
    device: Device, openings: Sequence[RecordedOpening]
) -> tuple[DebtInUse, ...]:
    """
    List the lacking facts, those first that matter and are met often.

    Parameters
    ----------
    device
        The device.
    openings
        The openings recorded.

    Returns
    -------
    tuple
        Debts by falling weight times use, then as in the list of debts. A thing never
        opened counts as if opened once in one opening more than there are.
    """
    story = story_of(openings, device)
    found = [_in_use(debt, device, story) for debt in debts(device)]
    return tuple(sorted(found, key=lambda use: -use.weight))


def _in_use(debt: Debt, device: Device, story: Story) -> DebtInUse:
    n_all = len(story.openings)
    name = _thing_of(debt.where, device)
    n_opened = len({id(seen[0]) for seen in story.of(name)}) if name else n_all
    share = n_opened / n_all if n_opened else 1 / (n_all + 1)
    return DebtInUse(debt, n_opened, debt.weight * share)


def _thing_of(where: str, device: Device) -> str:
    """Find the name in a path; a name may have dots in it."""
    section, _, rest = where.partition(".")
    names = {"joints": device.joints, "parts": device.parts}.get(section, {})
    fitting = (n for n in names if rest == n or rest.startswith(f"{n}."))
    return max(fitting, key=len, default="")


def _of_joint(name: str, joint: Joint, seen: Sequence[Sighting]) -> Iterator[Doubt]:
    if not joint.holds:
        yield Doubt(f"What does {name} hold?", name, "name", WEIGHT_HOLDS)
    if joint.kind in COUNTED:
        yield from _asked(
            _Question(name, "count", WEIGHT_COUNT, n_pieces),
            seen,
            f"How many pieces has {name}?",
            "{1}: {0} here again?",
        )
    if isinstance(joint.how, Screw):
        yield from _asked(
            _Question(name, "length_mm", WEIGHT_LENGTH, length_mm),
            seen,
            f"How long is {name} under the head? Lay one on the length scale.",
            "{1}: {0:g} mm long here again? Lay one on the length scale.",
        )
        yield from _asked(
            _Question(name, "drive", WEIGHT_DRIVE, drive_of),
            seen,
            f"Which driver fits {name}?",
            "{1}: drive {0} here again?",
        )
    if joint.survival.kind == "unknown" or told(seen, is_used_up):
        yield from _asked(
            _Question(name, "yes/no", WEIGHT_REUSE, is_used_up),
            seen,
            f"Was {name} used up when it was undone?",
            f"Was {name} used up here too?"
            if joint.survival.is_destroyed
            else f"Is {name} fit to be made again here too?",
        )


def _of_part(name: str, story: Story) -> Iterator[Doubt]:
    seen = story.of(name)
    if not told(seen, fits_two_ways):
        asks = f"Could {name} go in another way?"
        yield Doubt(asks, name, "yes/no", WEIGHT_ORIENTATION, "fits_other_way")
    if seen and all(recorded.removal == "aside" for _, recorded in seen):
        asks = f"Does {name} come off altogether?"
        yield Doubt(asks, name, "yes/no", WEIGHT_ORDER)


def _of_order(device: Device) -> Iterator[Doubt]:
    """Ask of every single need that was only ever seen and never explained."""
    doings = (*device.joints.items(), *device.parts.items())
    for name, doing in doings:
        for need in doing.after if is_as_recorded(doing) else ():
            # Of a part only moved aside it is asked whether it comes off at all.
            if len(need.any_of) == 1 and need.any_of[0].name != name:
                asks = f"Was {need} really in the way of {name}?"
                yield Doubt(asks, name, "yes/no", WEIGHT_ORDER)


@dataclass(frozen=True)
class _Question:
    """What is asked of one thing, and where the answers recorded are read."""

    of: str
    answer: Answer
    weight: float
    reading: Reading


def _asked(
    question: _Question, seen: Sequence[Sighting], first: str, again: str
) -> Iterator[Doubt]:
    """Ask for a fact never told, told once, or told differently by two."""
    values = told(seen, question.reading)
    of, answer, weight = question.of, question.answer, question.weight
    if not values:
        yield Doubt(first, of, answer, weight, FACTS[answer])
    elif len(values) == 1:
        asks = again.format(values[0], of)
        once = values[0]
        usual = f"{once:g}" if isinstance(once, float) else str(once)
        yield Doubt(asks, of, answer, weight * ONCE_SHARE, FACTS[answer], usual)
    elif not _is_settled(values):
        reading = question.reading
        words = ", ".join(in_words(reading, value) for value in dict.fromkeys(values))
        asks = f"{first} Recorded so far: {words}."
        yield Doubt(asks, of, answer, weight, FACTS[answer])


def _is_settled(values: tuple[Any, ...]) -> bool:
    """Say whether two agree on one answer, and more than on anything else."""
    n_agree = max(sum(is_same(one, value) for value in values) for one in values)
    return n_agree >= 2 and 2 * n_agree > len(values)
