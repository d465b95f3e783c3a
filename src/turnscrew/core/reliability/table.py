"""
Which units of the fleet were watched, and what failed in them at which age and cost?

The one table that lives, rates, recurrences and stock are reckoned from. A failure at
the age of entry lies outside the watch, one at the age of the end inside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from turnscrew.core.reliability.lives import (
    Flags,
    Floats,
    Indices,
    Lives,
    Numbers,
    Recurrences,
    bad_events,
    bad_watch,
    bad_weight,
    refuse_if_any,
    rows_told,
)

Labels = npt.NDArray[np.object_]


@dataclass(frozen=True, eq=False, kw_only=True)
class FleetTable:
    """
    The fleet as it was watched.

    Parameters
    ----------
    unit
        Name of each unit. shape (n_units,)
    model_year
        Year of its model. [1], shape (n_units,)
    site
        Where it stands. shape (n_units,)
    entry_age
        Age from which it was watched. [d], shape (n_units,)
    end_age
        Age at the end of its watch. [d], shape (n_units,)
    weight
        Number of equal units. [1], shape (n_units,)
    causes
        The causes there are.
    event_unit
        Row of the unit that failed, from 0. [1], shape (n_events,)
    event_age
        Age at the failure. [d], shape (n_events,)
    event_cause
        Place of the cause among the causes, from 0. [1], shape (n_events,)
    event_cost_minor
        Cost in whole minor units of the currency. [1], shape (n_events,)
    are_repeats_meant
        Whether one unit may fail twice of one cause at one age; otherwise the second
        row is taken for the first one, entered twice, and refused.
    is_running
        Whether the unit is still in service at the end of its watch; ``None`` if all
        are. shape (n_units,)
    is_cost_known
        Whether the cost of the failure is known; ``None`` if all are. A cost that is
        not known counts for nothing and is counted apart. shape (n_events,)
    """

    unit: Labels
    model_year: Indices
    site: Labels
    entry_age: Floats
    end_age: Floats
    weight: Floats
    causes: tuple[str, ...]
    event_unit: Indices
    event_age: Floats
    event_cause: Indices
    event_cost_minor: Indices
    are_repeats_meant: bool = False
    is_running: Flags | None = None
    is_cost_known: Flags | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be, all of it at once, each with its row."""
        found = self._length_problems()
        if not found:
            found = [
                *bad_watch(self.entry_age, self.end_age),
                *bad_weight(self.weight),
                *self._bad_causes(),
                *bad_events(
                    self.entry_age, self.end_age, self.event_unit, self.event_age
                ),
                *self._repeats(),
            ]
        refuse_if_any(found)

    @property
    def n_units(self) -> int:
        """Count the rows of units. [1]."""
        return len(self.end_age)

    @property
    def n_events(self) -> int:
        """Count the failures. [1]."""
        return len(self.event_age)

    def first_failures(self, cause: str | None = None) -> Lives:
        """
        Give the life of each unit to its first failure in the watch.

        Failures of other causes are repairs that do not end the life.

        Parameters
        ----------
        cause
            The cause that counts; any if not given.

        Returns
        -------
        Lives
            One row for each unit.

        Raises
        ------
        BadArgumentError
            If there is no such cause.
        """
        first = self._first_event(self._counts(cause))
        return self._lives_to(first)

    def first_failure_causes(self) -> tuple[Lives, Indices]:
        """
        Give the life of each unit to its first failure, and the cause of that.

        Of two causes at one age, the one that stands first in the table counts.

        Returns
        -------
        tuple
            One row for each unit, and the place of the cause among the causes, -1 for
            a unit that did not fail.
        """
        first = self._first_event(np.ones(self.n_events, bool))
        cause = np.full(self.n_units, -1, dtype=np.int64)
        failed = first >= 0
        cause[failed] = self.event_cause[first[failed]]
        return self._lives_to(first), cause

    def recurrences(
        self, cause: str | None = None, *, is_by_cost: bool = False
    ) -> Recurrences:
        """
        Give every failure of every unit.

        Parameters
        ----------
        cause
            The cause that counts; any if not given.
        is_by_cost
            Whether a failure counts its cost in minor units rather than 1; those whose
            cost is not known are then left out.

        Returns
        -------
        Recurrences
            One row for each unit, and its failures.

        Raises
        ------
        BadArgumentError
            If there is no such cause.
        """
        counts = self._counts(cause)
        if is_by_cost and self.is_cost_known is not None:
            counts &= self.is_cost_known
        cost = self.event_cost_minor[counts].astype(np.float64) if is_by_cost else None
        return Recurrences(
            self.end_age,
            self.event_unit[counts],
            self.event_age[counts],
            self.entry_age if self.entry_age.any() else None,
            self.weight if (self.weight != 1).any() else None,
            cost,
        )

    def part(self, keeps: Flags) -> "FleetTable":
        """
        Give the table of some of the units, with their failures.

        Parameters
        ----------
        keeps
            Which units to keep. shape (n_units,)

        Returns
        -------
        FleetTable
            The smaller table.

        Raises
        ------
        BadArgumentError
            If there is not one flag for each unit.
        """
        if np.shape(keeps) != (self.n_units,):
            refuse_if_any([f"keeps: found {np.shape(keeps)}, wanted ({self.n_units},)"])
        events = keeps[self.event_unit]
        place = np.cumsum(keeps) - 1
        return FleetTable(
            unit=self.unit[keeps],
            model_year=self.model_year[keeps],
            site=self.site[keeps],
            entry_age=self.entry_age[keeps],
            end_age=self.end_age[keeps],
            weight=self.weight[keeps],
            causes=self.causes,
            event_unit=place[self.event_unit[events]],
            event_age=self.event_age[events],
            event_cause=self.event_cause[events],
            event_cost_minor=self.event_cost_minor[events],
            are_repeats_meant=self.are_repeats_meant,
            is_running=None if self.is_running is None else self.is_running[keeps],
            is_cost_known=(
                None if self.is_cost_known is None else self.is_cost_known[events]
            ),
        )

    def _counts(self, cause: str | None) -> Flags:
        if cause is None:
            return np.ones(self.n_events, bool)
        if cause not in self.causes:
            known = ", ".join(self.causes)
            refuse_if_any([f"cause: found {cause}, wanted one of {known}"])
        return np.equal(self.event_cause, self.causes.index(cause))

    def _first_event(self, counts: Flags) -> Indices:
        """Give the row of the first failure of each unit, -1 for none."""
        rows = np.flatnonzero(counts)
        # Of equal ages the first row stays first: the sort is stable.
        order = rows[np.lexsort((self.event_age[rows], self.event_unit[rows]))]
        first = np.full(self.n_units, -1, dtype=np.int64)
        units, place = np.unique(self.event_unit[order], return_index=True)
        first[units] = order[place]
        return first

    def _lives_to(self, first: Indices) -> Lives:
        failed = first >= 0
        exits = self.end_age.copy()
        exits[failed] = self.event_age[first[failed]]
        return Lives(
            exits,
            failed,
            self.entry_age if self.entry_age.any() else None,
            self.weight if (self.weight != 1).any() else None,
        )

    def _length_problems(self) -> list[str]:
        units = ("unit", "model_year", "site", "entry_age", "weight")
        events = ("event_unit", "event_cause", "event_cost_minor")
        wanted = {name: self.end_age.shape for name in units}
        wanted |= {name: self.event_age.shape for name in events}
        if self.is_running is not None:
            wanted["is_running"] = self.end_age.shape
        if self.is_cost_known is not None:
            wanted["is_cost_known"] = self.event_age.shape
        return [
            f"{name}: found shape {np.shape(getattr(self, name))}, wanted {shape}"
            for name, shape in wanted.items()
            if np.shape(getattr(self, name)) != shape
        ]

    def _bad_causes(self) -> list[str]:
        strange = (self.event_cause < 0) | (self.event_cause >= len(self.causes))
        words = "event {row}: found cause {0}, wanted 0 to " + str(len(self.causes) - 1)
        return rows_told(strange, words, [self.event_cause])

    def _repeats(self) -> list[str]:
        if self.are_repeats_meant or not self.n_events:
            return []
        order = np.lexsort((self.event_cause, self.event_age, self.event_unit))
        columns = (self.event_unit, self.event_age, self.event_cause)
        same = np.ones(self.n_events - 1, bool)
        for column in columns:
            same &= column[order][1:] == column[order][:-1]
        repeated = np.zeros(self.n_events, bool)
        repeated[order[1:][same]] = True
        words = "event {row}: found unit {0} at age {1:g}, cause {2} again, wanted once"
        return rows_told(repeated, words, columns)


def fleet_table(
    unit: Sequence[str],
    entry_age: Numbers,
    end_age: Numbers,
    *,
    events: Sequence[tuple[int, float, str, int | None]] = (),
    causes: Sequence[str],
    model_year: Sequence[int] | None = None,
    site: Sequence[str] | None = None,
    weight: Numbers | None = None,
    are_repeats_meant: bool = False,
    is_running: Sequence[bool] | None = None,
) -> FleetTable:
    """
    Make the table from rows as they are entered.

    Parameters
    ----------
    unit
        Name of each unit.
    entry_age
        Age from which it was watched. [d], shape (n_units,)
    end_age
        Age at the end of its watch. [d], shape (n_units,)
    events
        Row of the unit [1], age [d], cause, and cost in whole minor units [1] of each
        failure; ``None`` for a cost that is not known.
    causes
        The causes there are.
    model_year
        Year of the model of each unit, 0 if not given. [1], shape (n_units,)
    site
        Where each unit stands, nowhere if not given.
    weight
        Number of equal units, 1 if not given. [1], shape (n_units,)
    are_repeats_meant
        Whether one unit may fail twice of one cause at one age.
    is_running
        Whether each unit is still in service at the end of its watch; all are if not
        given.

    Returns
    -------
    FleetTable
        The table.

    Raises
    ------
    BadArgumentError
        If anything cannot be: every problem with its row.
    """
    n_units = len(unit)
    place = {cause: index for index, cause in enumerate(causes)}
    columns = list(zip(*events, strict=True)) or [(), (), (), ()]
    unknown = [
        f"event {row}: found cause {cause}, wanted one of {', '.join(causes)}"
        for row, cause in enumerate(columns[2])
        if cause not in place
    ]
    refuse_if_any(unknown + _not_whole(columns[3]))
    return FleetTable(
        unit=np.array(unit, dtype=object),
        model_year=np.array(model_year or [0] * n_units, dtype=np.int64),
        site=np.array(site or [""] * n_units, dtype=object),
        entry_age=np.array(entry_age, dtype=np.float64),
        end_age=np.array(end_age, dtype=np.float64),
        weight=np.array([1.0] * n_units if weight is None else weight, np.float64),
        causes=tuple(causes),
        event_unit=np.array(columns[0], dtype=np.int64),
        event_age=np.array(columns[1], dtype=np.float64),
        event_cause=np.array([place[one] for one in columns[2]], dtype=np.int64),
        event_cost_minor=np.array([one or 0 for one in columns[3]], dtype=np.int64),
        are_repeats_meant=are_repeats_meant,
        is_running=None if is_running is None else np.array(is_running, dtype=bool),
        is_cost_known=(
            np.array([one is not None for one in columns[3]], dtype=bool)
            if None in columns[3]
            else None
        ),
    )


def _not_whole(costs: Sequence[object]) -> list[str]:
    return [
        f"event {row}: found cost {cost}, wanted whole minor units"
        for row, cost in enumerate(costs)
        if cost is not None and not isinstance(cost, (int, np.integer))
    ]
