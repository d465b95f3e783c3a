"""
Which lives and which repeated failures were watched, and from when to when?

A unit is at risk just after its age of entry up to and with its age of exit: the risk
set is open on the left. Whoever came into the watch late says nothing about the ages
before.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from turnscrew.errors import BadArgumentError

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
Indices = npt.NDArray[np.int64]
Numbers = Sequence[float] | npt.NDArray[np.float64]

MOST_TOLD = 100
"""How many problems of one kind are told by row; the rest is counted. [practice]"""


@dataclass(frozen=True, eq=False)
class Lives:
    """
    Lives watched once each, to a failure or to the end of the watch.

    Parameters
    ----------
    exit
        Age at the failure or at the end of the watch. [d], shape (n_rows,)
    is_event
        Whether the row ends with a failure. shape (n_rows,)
    entry
        Age from which the row was watched; ``None`` if all were from 0.
        [d], shape (n_rows,)
    weight
        Number of equal lives in the row; ``None`` if 1 each. [1], shape (n_rows,)
    """

    exit: Floats
    is_event: Flags
    entry: Floats | None = None
    weight: Floats | None = None

    def __post_init__(self) -> None:
        """Refuse rows that cannot have been watched, all of them at once."""
        found = _length_problems(self.exit, self.is_event, self.entry, self.weight)
        if not found:
            found = [*bad_watch(self.entry, self.exit), *bad_weight(self.weight)]
        refuse_if_any(found)

    @property
    def n_rows(self) -> int:
        """Count the rows. [1]."""
        return len(self.exit)

    @property
    def n_units(self) -> float:
        """Count the lives, with their weights. [1]."""
        return float(len(self.exit) if self.weight is None else self.weight.sum())

    @property
    def n_events(self) -> float:
        """Count the failures, with their weights. [1]."""
        if self.weight is None:
            return float(np.count_nonzero(self.is_event))
        return float(self.weight[self.is_event].sum())


@dataclass(frozen=True, eq=False)
class Recurrences:
    """
    Units that may fail again and again while they are watched.

    Parameters
    ----------
    end
        Age at the end of the watch. [d], shape (n_units,)
    event_unit
        Row of the unit that failed, from 0. [1], shape (n_events,)
    event_age
        Age at the failure; one at the very end of the watch counts.
        [d], shape (n_events,)
    entry
        Age from which the unit was watched; ``None`` if all were from 0.
        [d], shape (n_units,)
    weight
        Number of equal units; ``None`` if 1 each. [1], shape (n_units,)
    event_cost
        What each failure counts; ``None`` if 1 each. [1], shape (n_events,)
    """

    end: Floats
    event_unit: Indices
    event_age: Floats
    entry: Floats | None = None
    weight: Floats | None = None
    event_cost: Floats | None = None

    def __post_init__(self) -> None:
        """Refuse watches and failures that cannot be, all of them at once."""
        found = [
            *_length_problems(self.end, self.entry, self.weight),
            *_length_problems(self.event_unit, self.event_age, self.event_cost),
        ]
        if not found:
            found = [
                *bad_watch(self.entry, self.end),
                *bad_weight(self.weight),
                *bad_events(self.entry, self.end, self.event_unit, self.event_age),
                *_bad_costs(self.event_cost),
            ]
        refuse_if_any(found)

    @property
    def n_units(self) -> float:
        """Count the units, with their weights. [1]."""
        return float(len(self.end) if self.weight is None else self.weight.sum())


def lives_of(
    time: Numbers,
    event: Sequence[float] | npt.NDArray[np.generic] | None = None,
    *,
    entry: Numbers | None = None,
    weight: Numbers | None = None,
) -> Lives:
    """
    Make lives from columns.

    Parameters
    ----------
    time
        Age at the failure or at the end of the watch. [d], shape (n_rows,)
    event
        1 where the row ends with a failure, else 0; all do if not given.
        [1], shape (n_rows,)
    entry
        Age from which the row was watched, 0 if not given. [d], shape (n_rows,)
    weight
        Number of equal lives in the row, 1 if not given. [1], shape (n_rows,)

    Returns
    -------
    Lives
        The lives.

    Raises
    ------
    BadArgumentError
        If a row cannot have been watched; every such row is named.
    """
    ages = _floats(time)
    is_event = np.ones(len(ages), bool) if event is None else _flags(event)
    begins = None if entry is None else _floats(entry)
    if begins is not None and not begins.any():
        begins = None
    return Lives(ages, is_event, begins, None if weight is None else _floats(weight))


def lives_until(failures: Numbers, censored: Numbers = ()) -> Lives:
    """
    Make lives from ages at failure and ages of those still running.

    Parameters
    ----------
    failures
        Ages at failure. [d], shape (n_failures,)
    censored
        Ages at which running units were last seen. [d], shape (n_censored,)

    Returns
    -------
    Lives
        The lives, failures first.

    Raises
    ------
    BadArgumentError
        If an age is not above 0; every such row is named.
    """
    failed, running = _floats(failures), _floats(censored)
    is_event = np.arange(len(failed) + len(running)) < len(failed)
    return Lives(np.concatenate((failed, running)), is_event)


def counted_lives(rows_time_event_count: Sequence[Sequence[float]]) -> Lives:
    """
    Make lives from rows of age, failed or not, and how many.

    Parameters
    ----------
    rows_time_event_count
        Age [d], 1 for a failure or 0, and the number of equal lives [1] of each row.

    Returns
    -------
    Lives
        The lives, one row for each row.

    Raises
    ------
    BadArgumentError
        If a row has not three numbers, or cannot have been watched.
    """
    short = [row for row, cells in enumerate(rows_time_event_count) if len(cells) != 3]
    refuse_if_any([f"row {row}: found other than 3 numbers" for row in short])
    table = np.array(rows_time_event_count, dtype=np.float64).reshape(-1, 3)
    return lives_of(table[:, 0], table[:, 1], weight=table[:, 2])


def recurrences_of(
    events: Sequence[Sequence[float]],
    end_of_observation: Numbers,
    *,
    entry: Numbers | None = None,
    cost: Sequence[Sequence[float]] | None = None,
    weight: Numbers | None = None,
) -> Recurrences:
    """
    Make recurrences from the list of ages at failure of each unit.

    Parameters
    ----------
    events
        For each unit the ages at its failures. [d]
    end_of_observation
        Age of each unit at the end of the watch. [d], shape (n_units,)
    entry
        Age from which each unit was watched, 0 if not given. [d], shape (n_units,)
    cost
        For each unit what each of its failures counts, 1 if not given. [1]
    weight
        Number of equal units, 1 if not given. [1], shape (n_units,)

    Returns
    -------
    Recurrences
        The units and their failures.

    Raises
    ------
    BadArgumentError
        If a watch or a failure cannot be; every one is named.
    """
    unit = np.repeat(np.arange(len(events)), [len(ages) for ages in events])
    begins = None if entry is None else _floats(entry)
    return Recurrences(
        _floats(end_of_observation),
        unit.astype(np.int64),
        _joined(events),
        begins if begins is not None and begins.any() else None,
        None if weight is None else _floats(weight),
        None if cost is None else _joined(cost),
    )


def rows_told(bad: Flags, words: str, values: Sequence[object]) -> list[str]:
    """
    Name every bad row with what stands there.

    Parameters
    ----------
    bad
        Which rows are bad. shape (n_rows,)
    words
        A sentence with ``{row}`` and a numbered place for each value.
    values
        Columns the sentence quotes.

    Returns
    -------
    list
        One sentence for each bad row, and how many more there are beyond the most
        that are told.
    """
    rows = np.flatnonzero(bad)
    columns = [np.asarray(column) for column in values]
    told = [
        words.format(*(column[row] for column in columns), row=row)
        for row in rows[:MOST_TOLD]
    ]
    if len(rows) > MOST_TOLD:
        told.append(f"and {len(rows) - MOST_TOLD} more such rows")
    return told


def bad_watch(entry: Floats | None, end: Floats) -> list[str]:
    """
    Say which watches cannot be.

    Parameters
    ----------
    entry
        Age at the start of the watch; ``None`` for 0. [d], shape (n_rows,)
    end
        Age at its end. [d], shape (n_rows,)

    Returns
    -------
    list
        One sentence for each problem.
    """
    if entry is None:
        bad = ~((end > 0) & (end < np.inf))
        return rows_told(bad, "row {row}: found exit {0:g}, wanted above 0", [end])
    early = ~(entry >= 0)
    turned = ~early & ~((end > entry) & (end < np.inf))
    wrong = "row {row}: found entry {0:g} and exit {1:g}, wanted entry below exit"
    return [
        *rows_told(early, "row {row}: found entry {0:g}, wanted 0 or more", [entry]),
        *rows_told(turned, wrong, [entry, end]),
    ]


def bad_weight(weight: Floats | None) -> list[str]:
    """
    Say which weights cannot be.

    Parameters
    ----------
    weight
        Number of equal rows; ``None`` for 1 each. [1], shape (n_rows,)

    Returns
    -------
    list
        One sentence for each problem.
    """
    if weight is None:
        return []
    bad = ~((weight > 0) & (weight < np.inf))
    return rows_told(bad, "row {row}: found weight {0:g}, wanted above 0", [weight])


def bad_events(
    entry: Floats | None, end: Floats, event_unit: Indices, event_age: Floats
) -> list[str]:
    """
    Say which failures name no unit or lie outside its watch.

    Parameters
    ----------
    entry
        Age at the start of the watch; ``None`` for 0. [d], shape (n_units,)
    end
        Age at its end. [d], shape (n_units,)
    event_unit
        Row of the unit. [1], shape (n_events,)
    event_age
        Age at the failure. [d], shape (n_events,)

    Returns
    -------
    list
        One sentence for each problem.
    """
    strange = (event_unit < 0) | (event_unit >= len(end))
    found = rows_told(
        strange,
        "event {row}: found unit {0}, wanted 0 to " + str(len(end) - 1),
        [event_unit],
    )
    if not len(end):
        return found
    unit = np.where(strange, 0, event_unit)
    start = np.zeros(len(unit)) if entry is None else entry[unit]
    outside = ~strange & ~((event_age > start) & (event_age <= end[unit]))
    wrong = "event {row}: found age {0:g}, wanted above {1:g} up to {2:g}"
    return found + rows_told(outside, wrong, [event_age, start, end[unit]])


def refuse_if_any(problems: Sequence[str]) -> None:
    """
    Refuse with every problem, if there is one.

    Parameters
    ----------
    problems
        One sentence for each problem.

    Raises
    ------
    BadArgumentError
        If there is a problem.
    """
    if problems:
        raise BadArgumentError("; ".join(problems))


def _length_problems(
    first: npt.NDArray[np.generic], *others: npt.NDArray[np.generic] | None
) -> list[str]:
    return [
        f"columns: found shape {other.shape}, wanted {first.shape}"
        for other in others
        if other is not None and other.shape != first.shape
    ]


def _bad_costs(cost: Floats | None) -> list[str]:
    if cost is None:
        return []
    bad = ~np.isfinite(cost)
    return rows_told(bad, "event {row}: found cost {0}, wanted a number", [cost])


def _floats(values: Numbers) -> Floats:
    return np.ascontiguousarray(values, dtype=np.float64)


def _joined(lists: Sequence[Sequence[float]]) -> Floats:
    return _floats([one for ages in lists for one in ages])


def _flags(event: Sequence[float] | npt.NDArray[np.generic]) -> Flags:
    given = np.asarray(event)
    if given.dtype == np.bool_:
        return given
    bad = ~((given == 0) | (given == 1))
    refuse_if_any(rows_told(bad, "row {row}: found event {0}, wanted 0 or 1", [given]))
    return given.astype(bool)
