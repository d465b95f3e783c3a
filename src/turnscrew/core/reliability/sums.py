"""
What do the parts of a fleet tell that can be added up?

Everything here is a sum over units, so that a large fleet may be reckoned in parts, on
one machine or several, and the parts added. Weights by age are enough for lives: a
likelihood, a survival curve and a hazard hold the ages of entry and of exit apart, so
that they do not ask which entry goes with which exit.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from turnscrew.core.reliability.age_sums import (
    NOTHING,
    AgeSums,
    by_place,
    counted,
    joined,
    less,
    summed,
)
from turnscrew.core.reliability.lives import Flags, Floats, Indices, Lives
from turnscrew.core.reliability.table import FleetTable

_Name = TypeVar("_Name", str, int)


@dataclass(frozen=True, eq=False, kw_only=True)
class FleetSums:
    """
    What a fleet, or a part of it, adds up to.

    Parameters
    ----------
    causes
        The causes there are.
    sites
        The sites, sorted.
    model_years
        The model-years, sorted. [1]
    n_rows
        Rows of units. [1]
    n_units
        Units at each site and of each model-year. [1], shape (n_sites, n_years)
    n_running
        Those still in service. [1], shape (n_sites, n_years)
    exposure
        Time under watch. [d], shape (n_sites, n_years)
    failures
        Failures. [1], shape (n_causes, n_sites, n_years)
    failed
        Units with a failure. [1], shape (n_causes, n_sites, n_years)
    squares
        Failures of a unit squared. [1], shape (n_causes, n_sites, n_years)
    by_exposure
        Failures of a unit times its time under watch. [d], shape (n_causes, n_sites,
        n_years)
    exposure_squares
        Times under watch of a unit squared. [d²], shape (n_sites, n_years)
    n_costed
        Failures whose cost is known. [1], shape (n_causes,)
    cost
        What those cost. [minor units], shape (n_causes,)
    entries
        Units by the age of entry.
    ends
        Units by the age at the end of the watch.
    running
        Units still in service by that age.
    first
        Units by the age at their first failure of each cause.
    failed_ends
        Those same units by the age at the end of the watch.
    again
        Renewed parts by the age at which they failed of each cause too.
    again_ends
        Renewed parts that had not failed again by their age at the end of the watch.
    part_ages
        Units still in service by the age of the part that fails of each cause: the time
        since it failed last, or the age of the unit.
    by_cause
        Failures of each cause by age, repeated ones among them.
    events
        Failures of all causes by age.
    costs
        What those cost whose cost is known. [minor units]
    cell_entries
        Units of each site and model-year by the age of entry.
    cell_ends
        Units of each site and model-year by the age at the end of the watch.
    """

    causes: tuple[str, ...]
    sites: tuple[str, ...]
    model_years: tuple[int, ...]
    n_rows: int
    n_units: Floats
    n_running: Floats
    exposure: Floats
    failures: Floats
    failed: Floats
    squares: Floats
    by_exposure: Floats
    exposure_squares: Floats
    n_costed: Floats
    cost: Floats
    entries: AgeSums
    ends: AgeSums
    running: AgeSums
    first: tuple[AgeSums, ...]
    failed_ends: tuple[AgeSums, ...]
    again: tuple[AgeSums, ...]
    again_ends: tuple[AgeSums, ...]
    part_ages: tuple[AgeSums, ...]
    by_cause: tuple[AgeSums, ...]
    events: AgeSums
    costs: AgeSums
    cell_entries: tuple[AgeSums, ...]
    cell_ends: tuple[AgeSums, ...]

    def expected(self, cause: str) -> Floats:
        """
        Give the failures each site and model-year would have, were age all that counts.

        Each age has its own rate, that of all units together at that age.

        Parameters
        ----------
        cause
            The cause.

        Returns
        -------
        ndarray
            Expected failures. [1], shape (n_sites, n_years)
        """
        events = self.by_cause[self.causes.index(cause)]
        at_risk = self.entries.before(events.age) - self.ends.before(events.age)
        mean = np.concatenate(([0.0], np.cumsum(events.weight / at_risk)))

        def passed(of: AgeSums) -> float:
            place = np.searchsorted(events.age, of.age, side="right")
            return float(of.weight @ mean[place])

        gone = [
            passed(end) - passed(entry)
            for end, entry in zip(self.cell_ends, self.cell_entries, strict=True)
        ]
        return np.array(gone).reshape(self.exposure.shape)

    def lives(self, cause: str) -> Lives:
        """
        Give lives to the first failure of a cause, alike in all that is reckoned.

        Entries and exits are paired in the order of their ages. That changes no sum
        over entries and none over exits, and keeps every entry below its exit.

        Parameters
        ----------
        cause
            The cause that counts.

        Returns
        -------
        Lives
            Weighted rows, at most one for each age of entry, end and failure.
        """
        place = self.causes.index(cause)
        running = less(self.ends, self.failed_ends[place])
        return _paired(self.entries, self.first[place], running)

    def part_lives(self, cause: str) -> Lives:
        """
        Give the lives of all parts that may fail of a cause, renewed ones among them.

        A renewed part starts at age 0; before the watch none is known to be renewed.

        Parameters
        ----------
        cause
            The cause that counts.

        Returns
        -------
        Lives
            Weighted rows, paired as the lives to the first failure are.
        """
        place = self.causes.index(cause)
        again, again_ends = self.again[place], self.again_ends[place]
        renewed = AgeSums(np.zeros(1), np.array([again.total + again_ends.total]))
        return _paired(
            joined([self.entries, renewed]),
            joined([self.first[place], again]),
            joined([less(self.ends, self.failed_ends[place]), again_ends]),
        )


def sums_of(table: FleetTable) -> FleetSums:
    """
    Add up a fleet.

    Parameters
    ----------
    table
        The fleet.

    Returns
    -------
    FleetSums
        Its sums.
    """
    sites, at_site = _numbered(table.site)
    years, of_year = np.unique(table.model_year, return_inverse=True)
    shape = (len(sites), len(years))
    of = (len(table.causes), *shape)
    cell = at_site * len(years) + of_year
    weight = table.weight
    is_running = table.is_running
    time = table.end_age - table.entry_age

    def by_cell(amounts: Floats) -> Floats:
        return counted(cell, amounts, shape[0] * shape[1]).reshape(shape)

    running = weight if is_running is None else np.where(is_running, weight, 0.0)
    each = weight[table.event_unit]
    known = each if table.is_cost_known is None else each * table.is_cost_known
    cost = known * table.event_cost_minor
    lives = [_first_of(table, cause) for cause in table.causes]
    renewed = [_renewed(table, k) for k in range(len(lives))]
    return FleetSums(
        causes=table.causes,
        sites=tuple(sites),
        model_years=tuple(int(year) for year in years),
        n_rows=table.n_units,
        n_units=by_cell(weight),
        n_running=by_cell(running),
        exposure=by_cell(weight * time),
        exposure_squares=by_cell(weight * time**2),
        failures=_by_cause_and_cell(
            table.event_cause, cell[table.event_unit], each, of
        ),
        **_by_unit(table, cell, time, of),
        n_costed=counted(table.event_cause, known, len(lives)),
        cost=counted(table.event_cause, cost, len(lives)),
        entries=summed(table.entry_age, weight),
        ends=summed(table.end_age, weight),
        running=summed(table.end_age, running),
        first=tuple(first for first, _ in lives),
        failed_ends=tuple(ends for _, ends in lives),
        again=tuple(again for again, _ in renewed),
        again_ends=tuple(ends for _, ends in renewed),
        part_ages=tuple(_part_ages(table, k, running) for k in range(len(lives))),
        by_cause=by_place(table.event_cause, table.event_age, each, len(lives)),
        events=summed(table.event_age, each),
        costs=summed(table.event_age, cost),
        cell_entries=by_place(cell, table.entry_age, weight, shape[0] * shape[1]),
        cell_ends=by_place(cell, table.end_age, weight, shape[0] * shape[1]),
    )


def together(parts: Iterable[FleetSums]) -> FleetSums:
    """
    Add the sums of parts of a fleet.

    Parameters
    ----------
    parts
        The parts, no unit in two of them; causes may differ.

    Returns
    -------
    FleetSums
        The sums of all, causes in the order they are first met.
    """
    return reduce(_added, parts)


def _added(one: FleetSums, other: FleetSums) -> FleetSums:
    causes = tuple(dict.fromkeys((*one.causes, *other.causes)))
    sites = tuple(sorted({*one.sites, *other.sites}))
    years = tuple(sorted({*one.model_years, *other.model_years}))
    both = (one, other)
    cells = [
        np.ix_(_places(of.sites, sites), _places(of.model_years, years)) for of in both
    ]
    rows = [_places(of.causes, causes) for of in both]
    cubes = [(row[:, None, None], *cell) for row, cell in zip(rows, cells, strict=True)]
    shape = (len(sites), len(years))

    def added(name: str, at: Sequence[Any], shape: tuple[int, ...]) -> Floats:
        made = np.zeros(shape)
        for of, place in zip(both, at, strict=True):
            made[place] += getattr(of, name)
        return made

    def ages(name: str) -> tuple[AgeSums, ...]:
        return tuple(
            joined([_of_cause(of, name, cause) for of in both]) for cause in causes
        )

    def cell_ages(name: str) -> tuple[AgeSums, ...]:
        return tuple(
            joined([_of_cell(of, name, site, year) for of in both])
            for site in sites
            for year in years
        )

    return FleetSums(
        causes=causes,
        sites=sites,
        model_years=years,
        n_rows=one.n_rows + other.n_rows,
        n_units=added("n_units", cells, shape),
        n_running=added("n_running", cells, shape),
        exposure=added("exposure", cells, shape),
        failures=added("failures", cubes, (len(causes), *shape)),
        failed=added("failed", cubes, (len(causes), *shape)),
        squares=added("squares", cubes, (len(causes), *shape)),
        by_exposure=added("by_exposure", cubes, (len(causes), *shape)),
        exposure_squares=added("exposure_squares", cells, shape),
        n_costed=added("n_costed", rows, (len(causes),)),
        cost=added("cost", rows, (len(causes),)),
        entries=joined([of.entries for of in both]),
        ends=joined([of.ends for of in both]),
        running=joined([of.running for of in both]),
        first=ages("first"),
        failed_ends=ages("failed_ends"),
        again=ages("again"),
        again_ends=ages("again_ends"),
        part_ages=ages("part_ages"),
        by_cause=ages("by_cause"),
        events=joined([of.events for of in both]),
        costs=joined([of.costs for of in both]),
        cell_entries=cell_ages("cell_entries"),
        cell_ends=cell_ages("cell_ends"),
    )


def _places(some: tuple[_Name, ...], among: tuple[_Name, ...]) -> npt.NDArray[np.intp]:
    return np.array([among.index(one) for one in some], np.intp)


def _of_cell(sums: FleetSums, name: str, site: str, year: int) -> AgeSums:
    if site not in sums.sites or year not in sums.model_years:
        return AgeSums(np.zeros(0), np.zeros(0))
    found: tuple[AgeSums, ...] = getattr(sums, name)
    row, column = sums.sites.index(site), sums.model_years.index(year)
    return found[row * len(sums.model_years) + column]


def _of_cause(sums: FleetSums, name: str, cause: str) -> AgeSums:
    if cause not in sums.causes:
        return AgeSums(np.zeros(0), np.zeros(0))
    found: tuple[AgeSums, ...] = getattr(sums, name)
    return found[sums.causes.index(cause)]


def _numbered(labels: npt.NDArray[np.object_]) -> tuple[list[str], Indices]:
    names = sorted(set(labels.tolist()))
    place = {name: number for number, name in enumerate(names)}
    at = np.fromiter(map(place.__getitem__, labels.tolist()), np.int64, len(labels))
    return names, at


def _by_cause_and_cell(
    cause: Indices, cell: Indices, each: Floats, shape: tuple[int, int, int]
) -> Floats:
    n_cells = shape[1] * shape[2]
    return counted(cause * n_cells + cell, each, shape[0] * n_cells).reshape(shape)


def _by_unit(
    table: FleetTable, cell: Indices, time: Floats, shape: tuple[int, int, int]
) -> dict[str, Floats]:
    """Add up over the units with a failure of a cause: how many, and how often each."""
    pairs, n = np.unique(
        table.event_cause * table.n_units + table.event_unit, return_counts=True
    )
    cause, unit = np.divmod(pairs, max(table.n_units, 1))
    weight = table.weight[unit]
    sums = {
        "failed": weight,
        "squares": weight * n**2,
        "by_exposure": weight * n * time[unit],
    }
    return {
        name: _by_cause_and_cell(cause, cell[unit], each, shape)
        for name, each in sums.items()
    }


def _part_ages(table: FleetTable, cause: int, running: Floats) -> AgeSums:
    rows = np.flatnonzero(table.event_cause == cause)
    renewed = np.zeros(table.n_units)
    np.maximum.at(renewed, table.event_unit[rows], table.event_age[rows])
    return summed(table.end_age - renewed, running)


def _renewed(table: FleetTable, cause: int) -> tuple[AgeSums, AgeSums]:
    """Gather renewed parts by the age at which they failed, or were watched last."""
    rows = np.flatnonzero(table.event_cause == cause)
    unit, age = table.event_unit[rows], table.event_age[rows]
    order = np.lexsort((age, unit))
    unit, age = unit[order], age[order]
    is_last = np.append(np.diff(unit) > 0, True)[: len(unit)]
    weight = table.weight[unit]
    # Two failures at one age are one part that failed: the second lived no time.
    gap = np.diff(age, append=0.0)
    again = ~is_last & (gap > 0)
    ends = table.end_age[unit] - age
    watched = is_last & (ends > 0)
    return (
        summed(gap[again], weight[again]),
        summed(ends[watched], weight[watched]),
    )


def _first_of(table: FleetTable, cause: str) -> tuple[AgeSums, AgeSums]:
    """Gather the first failures of a cause, and the ends of those units."""
    rows = np.flatnonzero(table.event_cause == table.causes.index(cause))
    first = np.full(table.n_units, np.inf)
    np.minimum.at(first, table.event_unit[rows], table.event_age[rows])
    failed = np.flatnonzero(first < np.inf)
    weight = table.weight[failed]
    return summed(first[failed], weight), summed(table.end_age[failed], weight)


def _paired(entries: AgeSums, failed: AgeSums, running: AgeSums) -> Lives:
    age = np.concatenate((failed.age, running.age))
    is_event = np.arange(len(age)) < len(failed.age)
    order = np.argsort(age, kind="stable")
    weight = np.concatenate((failed.weight, running.weight))[order]
    exits_to, entries_to = np.cumsum(weight), np.cumsum(entries.weight)
    whole = exits_to[-1]
    cuts = np.union1d(exits_to, entries_to)
    pieces = np.diff(cuts, prepend=0.0)
    middle = cuts - pieces / 2
    keeps: Flags = pieces > NOTHING * whole
    exit_at = np.minimum(np.searchsorted(exits_to, middle[keeps]), len(age) - 1)
    entry_at = np.minimum(
        np.searchsorted(entries_to, middle[keeps]), len(entries.age) - 1
    )
    entry = entries.age[entry_at]
    return Lives(
        age[order][exit_at], is_event[order][exit_at],
        entry if entry.any() else None, pieces[keeps],
    )  # fmt: skip
