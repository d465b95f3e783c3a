"""What does each recording tell of one fact, and which fact holds where they differ?"""

from collections.abc import Callable, Hashable, Iterable, Sequence
from typing import Any

from turnscrew.core.model.fastener import Drive, Thread
from turnscrew.core.recording.story import Sighting

SAME_LENGTH_MM = 0.25
"""Readings of a length scale that count as equal; common practice, no source. [mm]"""

Reading = Callable[[Sighting], Any]
"""Gives one fact of a recording, or ``None`` or empty words where it is not told."""


def kind_of(sighting: Sighting) -> str:
    """
    Give the kind it was recorded as.

    Parameters
    ----------
    sighting
        A recorded joint or part.

    Returns
    -------
    str
        The word; empty if it says nothing.
    """
    return sighting[1].kind if sighting[1].kind not in ("unknown", "part") else ""


def n_pieces(sighting: Sighting) -> int | None:
    """
    Give the pieces that belong there: those undone and those missing on arrival.

    Parameters
    ----------
    sighting
        A recorded joint.

    Returns
    -------
    int or None
        The count; ``None`` if nobody counted. [1]
    """
    opening, recorded = sighting
    if recorded.n is None:
        return None
    return recorded.n + opening.missing.get(recorded.name, 0)


def length_mm(sighting: Sighting) -> float | None:
    """
    Give the length measured.

    Parameters
    ----------
    sighting
        A recorded joint.

    Returns
    -------
    float or None
        The length; ``None`` if nobody measured. [mm]
    """
    return sighting[1].length_mm


def drive_of(sighting: Sighting) -> Drive | None:
    """
    Give the drive looked at.

    Parameters
    ----------
    sighting
        A recorded joint.

    Returns
    -------
    Drive or None
        The drive; ``None`` if nobody looked.
    """
    return sighting[1].drive


def is_used_up(sighting: Sighting) -> bool | None:
    """
    Say whether undoing it used it up.

    Parameters
    ----------
    sighting
        A recorded joint.

    Returns
    -------
    bool or None
        True if so; ``None`` if nobody said.
    """
    return sighting[1].is_destroyed


def fits_two_ways(sighting: Sighting) -> bool | None:
    """
    Say whether a part could go in another way too.

    Parameters
    ----------
    sighting
        A recorded part.

    Returns
    -------
    bool or None
        True if so; ``None`` if nobody said.
    """
    return sighting[1].fits_other_way


def thread_of(sighting: Sighting) -> Thread | None:
    """
    Give the thread measured.

    Parameters
    ----------
    sighting
        A recorded joint.

    Returns
    -------
    Thread or None
        The thread; ``None`` if nobody measured.
    """
    return sighting[1].thread


def told(sightings: Iterable[Sighting], reading: Reading) -> tuple[Any, ...]:
    """
    Collect one fact from all recordings that tell it.

    Parameters
    ----------
    sightings
        Recordings of one thing.
    reading
        Gives the fact, or ``None`` or empty words where it is not told.

    Returns
    -------
    tuple
        What was told, in the order of the recordings.
    """
    values = (reading(sighting) for sighting in sightings)
    return tuple(value for value in values if value not in (None, ""))


def settled_n(sightings: Sequence[Sighting]) -> int | None:
    """
    Settle a count: the one told most often, else the larger.

    A piece lost before is likelier than one too many; common practice, no source.

    Parameters
    ----------
    sightings
        Recordings of one joint.

    Returns
    -------
    int or None
        The count; ``None`` if nobody counted. [1]
    """
    values = told(sightings, n_pieces)
    return max(values, key=lambda n: (values.count(n), n), default=None)


def settled_length_mm(sightings: Sequence[Sighting]) -> float | None:
    """
    Settle a length: the one told most often, else the shorter.

    A screw too long does the harm; common practice, no source.

    Parameters
    ----------
    sightings
        Recordings of one joint.

    Returns
    -------
    float or None
        The length; ``None`` if nobody measured. [mm]
    """
    values = told(sightings, length_mm)
    return max(values, key=lambda mm: (values.count(mm), -mm), default=None)


def settled(sightings: Sequence[Sighting], reading: Reading) -> Any:
    """
    Settle a fact: what was told most often, and of those what was told first.

    Parameters
    ----------
    sightings
        Recordings of one thing.
    reading
        Gives the fact.

    Returns
    -------
    object
        The fact; ``None`` if nobody told it.
    """
    values: tuple[Hashable, ...] = told(sightings, reading)
    return max(values, key=values.count, default=None)


def is_same(one: Any, other: Any) -> bool:
    """
    Say whether two recordings tell the same.

    Parameters
    ----------
    one
        A fact.
    other
        The same fact told by another.

    Returns
    -------
    bool
        True if they are equal, or lengths that read alike.
    """
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return abs(one - other) <= SAME_LENGTH_MM
    return bool(one == other)


COMPARED: tuple[tuple[Reading, Callable[[Any], str]], ...] = (
    (kind_of, str),
    (n_pieces, lambda n: f"{n} piece{'' if n == 1 else 's'}"),
    (length_mm, lambda mm: f"{mm:g} mm"),
    (drive_of, lambda drive: f"drive {drive}"),
    (thread_of, lambda thread: f"thread {thread}"),
    (is_used_up, lambda is_so: "used up" if is_so else "not used up"),
    (fits_two_ways, lambda is_so: "fits two ways" if is_so else "fits one way only"),
)
"""Facts in which recordings are compared, and how each of them is said."""


def in_words(reading: Reading, value: Any) -> str:
    """
    Say one fact in words.

    Parameters
    ----------
    reading
        What is told.
    value
        The fact.

    Returns
    -------
    str
        Such as ``3 pieces``.
    """
    return dict(COMPARED)[reading](value)
