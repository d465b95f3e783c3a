"""Which devices are to come with a batch, and by which day is each promised?"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated

from turnscrew.core.model.batch import DayNumber
from turnscrew.core.model.quantities import Bounds, Checked


@dataclass(frozen=True)
class Expected(Checked):
    """
    Some devices that are to come: so many of a model, or one by its number.

    Those with one due day are a tranche: they are promised together.

    Parameters
    ----------
    model
        Short name of the model; empty for one device by its number.
    number
        Owner's number or serial of one device; empty for a count.
    n
        How many. [1]
    due_day
        Workshop day by whose end they are promised; ``None`` if no day was agreed.
    """

    model: str = ""
    number: str = ""
    n: Annotated[int, Bounds(1, 1_000_000, "1")] = 1
    due_day: DayNumber | None = None


@dataclass(frozen=True)
class Arrived:
    """
    A device that came, as far as its due day is concerned.

    Parameters
    ----------
    line
        Its number in the batch.
    model
        Short name of its model.
    numbers
        Its owner's number and its serial.
    due_day
        Workshop day it is promised for; ``None`` if none is known.
    """

    line: int
    model: str
    numbers: tuple[str, ...] = ()
    due_day: int | None = None


def due_days(
    arrived: Iterable[Arrived], expected: Iterable[Expected]
) -> dict[int, int]:
    """
    Give a due day to devices that have none of their own.

    One named keeps the day of its own tranche. The others of a model fill its tranches
    in the order in which they came, the earliest day first; a device that has that day
    already takes one of its places.

    Parameters
    ----------
    arrived
        All devices of the batch that are here, in the order in which they came.
    expected
        What was promised.

    Returns
    -------
    dict
        Workshop day by line, for those alone that had none and get one.
    """
    devices, promised = list(arrived), list(expected)
    named = {
        one.number.upper(): one.due_day
        for one in promised
        if one.number and one.due_day is not None
    }
    left = _places(promised)
    for one in devices:
        if one.due_day is not None and not _named_day(one, named):
            left[one.model, one.due_day] -= 1
    given = {}
    for one in devices:
        if one.due_day is not None:
            continue
        day = _named_day(one, named)
        if day is None:
            day = _first_free(one.model, left)
            if day is None:
                continue
            left[one.model, day] -= 1
        given[one.line] = day
    return given


def _places(promised: Iterable[Expected]) -> Counter[tuple[str, int]]:
    """Count the places by model and day."""
    places: Counter[tuple[str, int]] = Counter()
    for one in promised:
        if one.model and one.due_day is not None:
            places[one.model, one.due_day] += one.n
    return places


def _named_day(one: Arrived, named: Mapping[str, int]) -> int | None:
    days = (named[n.upper()] for n in one.numbers if n and n.upper() in named)
    return next(days, None)


def _first_free(model: str, left: Mapping[tuple[str, int], int]) -> int | None:
    free = (day for (of, day), n in left.items() if of == model and n > 0)
    return min(free, default=None)
