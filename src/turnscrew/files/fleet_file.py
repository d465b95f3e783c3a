"""
How is the history of a fleet read: who was watched, from when to when, what failed?

One row a failure, and one row for a unit without any; a unit that failed twice has two
rows that agree in all that is said of the unit. Ages are days, either told as such or
as four dates. Columns are taken whole, so that a million rows are a matter of seconds.
"""

import csv
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from io import StringIO
from math import isfinite, nan

import numpy as np
import numpy.typing as npt

from turnscrew.core.model.calendar import A_DAY_MEANT, FIRST_DAY, LAST_DAY
from turnscrew.core.model.nearest import wanted_name
from turnscrew.core.model.quantities import minor_from_text
from turnscrew.core.reliability.lives import Flags, Floats, Indices
from turnscrew.core.reliability.table import FleetTable
from turnscrew.errors import BadArgumentError, Problem
from turnscrew.files.fleet_heading import SEPARATORS, folded, heading_of
from turnscrew.files.refusal import refuse, refuse_if_any

AGES = ("entry_age_d", "end_age_d", "failure_age_d")
"""Ages in days at the start and end of the watch, and at the failure."""

DATES = ("in_service", "watched_from", "watched_until", "failed_on")
"""The days the same follow from."""

OTHERS = ("unit", "model", "model_year", "site", "weight", "running", "cause", "cost")
"""The other columns; all but ``unit`` may be left out."""

MOST_AGE_D = 36_525
"""Oldest age, a hundred years: beyond it a figure is a slip; our own choice. [d]"""

LEAST_WATCH_D = 0.001
"""Least time under watch; our own choice. [d]"""

MOST_ALIKE = 1_000_000
"""Most equal devices in a row; our own choice. [1]"""

_AN_AGE = f"{MOST_AGE_D} days of age or less"
_A_WATCH = f"an end {LEAST_WATCH_D} days or more after the entry"
_ALIKE = f"{MOST_ALIKE} or less"
_A_YEAR = f"a year from {FIRST_DAY.year} to {LAST_DAY.year}, 0 or nothing if not known"

_BLANK_WITHIN = re.compile(r'" | "|[^\S \r\n]')
"""A blank beside a quotation mark, or one of another kind: a cell may be padded."""

_HEAD = 10_000
"""Characters from the top in which the heading is looked for. [1]"""

_CHUNK = 500
"""Rows moved into columns at a time; so few never wake the collector of garbage."""

_DAY_LENGTH = 10
_DAY_LENGTHS = frozenset({0, _DAY_LENGTH})
_FIRST, _LAST = np.datetime64(FIRST_DAY, "D"), np.datetime64(LAST_DAY, "D")

_YES = {"": True, "yes": True, "no": False}
_NOT_TOLD = ("", "unknown")
_Words = npt.NDArray[np.object_]


@dataclass(frozen=True)
class FleetHistory:
    """
    What a file tells of a fleet.

    Parameters
    ----------
    tables
        The fleet by model; one without a name if the file names no models.
    n_rows
        Rows read. [1]
    without_cause
        Lines of failures whose cause nobody knows; they are in no table.
    """

    tables: Mapping[str, FleetTable]
    n_rows: int
    without_cause: tuple[int, ...]


def read_fleet(content: bytes) -> FleetHistory:
    """
    Read the history of a fleet.

    Parameters
    ----------
    content
        Bytes of a table in UTF-8, parted by commas, semicolons or tabs.

    Returns
    -------
    FleetHistory
        The fleet by model.

    Raises
    ------
    BadFileError
        If anything cannot be, with every problem and its line: no time under watch,
        ages below 0, an entry not before the end, failures outside the watch, a failure
        entered twice, rows of one unit that differ, ages and dates mixed.
    """
    rows = _Rows(content)
    units = _Units(rows)
    failures = _Failures(rows, units)
    refuse_if_any(rows.problems)
    models = units.column("model")
    return FleetHistory(
        tables={
            model: _table(units, failures, models == model)
            for model in dict.fromkeys(models.tolist())
        },
        n_rows=rows.n,
        without_cause=tuple(rows.line[failures.without_cause].tolist()),
    )


class _Rows:
    """The cells by column, and what is wrong with any."""

    def __init__(self, content: bytes) -> None:
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = content[: error.start].count(b"\n") + 1
            refuse("encoding", "bytes that are no UTF-8", "UTF-8", line)
        self.problems: list[Problem] = []
        n_above, separator = heading_of(text[:_HEAD]) or (0, _separator_of(text))
        grid = _cells_of(text, separator)
        for _ in range(n_above):
            next(grid)
        self.heading_line, heading = next(grid, (1, []))
        names = [folded(cell) for cell in heading]
        self._check(names)
        # Most programs write no blanks around cells; then none need be looked for.
        self.is_padded = (
            any(
                mark in text
                for mark in (f" {separator}", f"{separator} ", "\n ", " \n", " \r")
            )
            or text.endswith(" ")
            or _BLANK_WITHIN.search(text) is not None
        )
        self.cells, lines = self._columns(grid, names)
        refuse_if_any(self.problems)
        if not lines:
            refuse("file", "no row", "at least one unit")
        self.n = len(lines)
        self.line: Indices = np.array(lines, dtype=np.int64)

    def _columns(
        self, grid: Iterator[tuple[int, list[str]]], names: Sequence[str]
    ) -> tuple[dict[str, list[str]], list[int]]:
        """Keep cells by column: a million small lists would be slow to keep."""
        columns: list[list[str]] = [[] for _ in names]
        lines: list[int] = []
        waiting: list[list[str]] = []
        for line, cells in grid:
            if len(cells) == len(names):
                waiting.append(cells)
                lines.append(line)
            elif any(cell.strip() for cell in cells):
                self.note("row", f"{len(cells)} cells", f"{len(names)}", line)
            if len(waiting) == _CHUNK:
                _move(waiting, columns, is_padded=self.is_padded)
        _move(waiting, columns, is_padded=self.is_padded)
        return dict(zip(names, columns, strict=True)), lines

    def note(self, where: str, found: str, wanted: str, line: int) -> None:
        """Note a problem."""
        self.problems.append(Problem(where, found, wanted, int(line), 1))

    def note_all(self, bad: Flags, where: str, found: str, wanted: str) -> None:
        """Note the same problem of many rows, each with what stands there."""
        column = self.cells.get(where)
        for row in np.flatnonzero(bad):
            told = found or (column[row] if column else "nothing")
            self.note(where, str(told) or "nothing", wanted, self.line[row])

    def text(self, name: str) -> Sequence[str]:
        """Give a column as it is written, blank where it is not there."""
        return self.cells.get(name) or ("",) * self.n

    def number(self, name: str, wanted: str) -> Floats:
        """Give a column of numbers; not a number where it is blank."""
        if name not in self.cells:
            return np.full(self.n, np.nan)
        try:
            made = np.array([float(cell or "nan") for cell in self.cells[name]])
            if any(self.cells[name][row] for row in np.flatnonzero(~np.isfinite(made))):
                raise ValueError
        except ValueError:
            made = np.array([self._one(name, at, wanted) for at in range(self.n)])
        return made

    def _one(self, name: str, row: int, wanted: str) -> float:
        cell = self.cells[name][row]
        if not cell:
            return nan
        try:
            # The library would take words such as nan and inf too.
            if isfinite(made := float(cell)):
                return made
        except ValueError:
            pass
        self.note(name, cell, wanted, self.line[row])
        return nan

    def day(self, name: str) -> Floats:
        """Give a column of days as a count; not a number where it is blank."""
        if name not in self.cells:
            return np.full(self.n, np.nan)
        cells = self.cells[name]
        try:
            if not _DAY_LENGTHS.issuperset(map(len, cells)):
                raise ValueError
            days = np.array([cell or "NaT" for cell in cells], dtype="datetime64[D]")
        except ValueError:
            days = np.array([self._day(name, at) for at in range(self.n)])
        # A day that is none compares as neither before nor after.
        self.note_all((days < _FIRST) | (days > _LAST), name, "", A_DAY_MEANT)
        made = days.astype(np.int64).astype(np.float64)
        made[np.isnat(days)] = np.nan
        return made

    def _day(self, name: str, row: int) -> np.datetime64:
        cell = self.cells[name][row]
        try:
            # The library would take half a day, and words such as today, too.
            if len(cell) not in _DAY_LENGTHS:
                raise ValueError
            return np.datetime64(cell or "NaT", "D")
        except ValueError:
            self.note(name, cell, "a day as 2026-03-31", self.line[row])
            return np.datetime64("NaT", "D")

    def _check(self, names: Sequence[str]) -> None:
        at = self.heading_line
        known = (*OTHERS, *AGES, *DATES)
        for name in names:
            if name not in known:
                self.note("heading", name or "nothing", wanted_name(name, known), at)
        for name in dict.fromkeys(names):
            if names.count(name) > 1:
                self.note("heading", f"{name} twice", "once", at)
        has_ages = set(names) & set(AGES)
        has_dates = set(names) & set(DATES)
        if has_ages and has_dates:
            both = ", ".join(sorted(has_ages | has_dates))
            self.note("heading", both, "ages in days or dates, not both", at)
        elif "end_age_d" not in names and not {"in_service", "watched_until"} <= {
            *names
        }:
            wanted = "end_age_d, or in_service and watched_until: without the time "
            self.note("heading", "no time under watch", wanted + "there is no rate", at)
        if "unit" not in names:
            self.note("heading", "no unit", "a column that names the unit", at)


def _separator_of(text: str) -> str:
    heading = text[: text.find("\n") + 1] or text
    return max(SEPARATORS, key=heading.count)


def _cells_of(text: str, separator: str) -> Iterator[tuple[int, list[str]]]:
    """Give rows with the line each begins in: a cell may hold several lines."""
    grid = csv.reader(StringIO(text, newline=""), delimiter=separator)
    before = 0
    try:
        for cells in grid:
            yield before + 1, cells
            before = grid.line_num
    except csv.Error as error:
        refuse("row", str(error), "a table", grid.line_num + 1)


class _Units:
    """What is said of each unit, once."""

    def __init__(self, rows: _Rows) -> None:
        self.rows = rows
        self.start, self.end = _watch(rows)
        self._texts = {name: _words(rows, name) for name in ("model", "site", "unit")}
        self.of_row, self.first = _units(self._texts["model"], self._texts["unit"])
        self.year = self._whole("model_year", 0)
        self.weight = self._whole("weight", 1.0)
        self.running = self._flags()
        rows.note_all(_blank(self._texts["unit"]), "unit", "nothing", "its name")
        self._check()

    def column(self, name: str) -> _Words:
        """Give a text of each unit."""
        return np.array(self._texts[name], dtype=object)[self.first]

    def _whole(self, name: str, missing: float) -> Floats:
        made = self._filled(name, missing)
        self.rows.note_all(made % 1 != 0, name, "", "a whole number")
        return made

    def _filled(self, name: str, missing: float) -> Floats:
        made = self.rows.number(name, "a number")
        return np.where(np.isnan(made), missing, made)

    def _flags(self) -> Flags:
        cells = [cell.lower() for cell in self.rows.text("running")]
        bad = np.array([cell not in _YES for cell in cells])
        self.rows.note_all(bad, "running", "", "yes or no")
        return np.array([_YES.get(cell, True) for cell in cells])

    def _check(self) -> None:
        told = self.rows
        unknown = np.isnan(self.end) | np.isnan(self.start)
        wanted = "the end of the watch: without the time there is no rate"
        told.note_all(_blank(told.text(_end_of(told))), _end_of(told), "", wanted)
        if "in_service" in told.cells:
            wanted = "the day it came into service: without an age there is no life"
            told.note_all(_blank(told.text("in_service")), "in_service", "", wanted)
        told.note_all(self.start < 0, _start_of(told), "", "0 days of age or more")
        lasted = self.end - self.start
        turned = (self.start >= 0) & (lasted <= 0)
        told.note_all(turned, _end_of(told), "", "an end after the entry")
        short = (lasted > 0) & (lasted < LEAST_WATCH_D)
        told.note_all(short, _end_of(told), "", _A_WATCH)
        told.note_all(self.end > MOST_AGE_D, _end_of(told), "", _AN_AGE)
        told.note_all(self.weight <= 0, "weight", "", "more than 0")
        told.note_all(self.weight > MOST_ALIKE, "weight", "", _ALIKE)
        beyond = (self.year < FIRST_DAY.year) | (self.year > LAST_DAY.year)
        told.note_all(beyond & (self.year != 0), "model_year", "", _A_YEAR)
        if len(self.first) == told.n:
            return
        for name, column in (
            (_start_of(told), self.start), (_end_of(told), self.end),
            ("model_year", self.year), ("weight", self.weight),
            ("running", self.running), ("site", np.array(self._texts["site"])),
            ("model", np.array(self._texts["model"])),
        ):  # fmt: skip
            differs = column != column[self.first][self.of_row]
            told.note_all(
                differs & ~unknown,
                name,
                "",
                "the same as in the first row of this unit",
            )


class _Failures:
    """The failures, by unit."""

    def __init__(self, rows: _Rows, units: _Units) -> None:
        age = self._ages(rows)
        causes = _words(rows, "cause")
        has_age = ~np.isnan(age)
        named = np.array([cause != "" for cause in causes])
        rows.note_all(named & ~has_age, "cause", "", "also the day of the failure")
        told = np.array([cause.lower() not in _NOT_TOLD for cause in causes])
        self.without_cause = np.flatnonzero(has_age & ~told)
        outside = has_age & ((age <= units.start) | (age > units.end))
        name = "failure_age_d" if "failure_age_d" in rows.cells else "failed_on"
        rows.note_all(outside, name, "", "a failure within the watch, after the entry")
        keeps = np.flatnonzero(has_age & told)
        self.unit, self.age = units.of_row[keeps], age[keeps]
        self.cause = np.array(causes, dtype=object)[keeps]
        self.cost, self.is_cost_known = _costs(rows, keeps)
        self._check_twice(rows, keeps)

    def _ages(self, rows: _Rows) -> Floats:
        if "failed_on" in rows.cells:
            return rows.day("failed_on") - rows.day("in_service")
        return rows.number("failure_age_d", "days")

    def _check_twice(self, rows: _Rows, keeps: Indices) -> None:
        seen: dict[tuple[int, float, str], int] = {}
        key = zip(self.unit.tolist(), self.age.tolist(), self.cause, strict=True)
        for row, one in zip(keeps.tolist(), key, strict=True):
            if seen.setdefault(one, row) != row:
                line = int(rows.line[seen[one]])
                rows.note(
                    "failure", f"{one[2]} again", f"once: it stands in line {line}",
                    rows.line[row],
                )  # fmt: skip


def _move(
    waiting: list[list[str]], columns: list[list[str]], *, is_padded: bool
) -> None:
    """Move rows into their columns."""
    for column, cells in zip(columns, zip(*waiting, strict=True), strict=False):
        column += [cell.strip() for cell in cells] if is_padded else cells
    waiting.clear()


def _table(units: _Units, failures: _Failures, keeps: Flags) -> FleetTable:
    place = np.cumsum(keeps) - 1
    mine = keeps[failures.unit]
    causes = tuple(dict.fromkeys(failures.cause[mine].tolist()))
    number = {cause: at for at, cause in enumerate(causes)}
    first = units.first[keeps]
    known, running = failures.is_cost_known[mine], units.running[first]
    return FleetTable(
        unit=units.column("unit")[keeps],
        model_year=units.year[first].astype(np.int64),
        site=units.column("site")[keeps],
        entry_age=units.start[first],
        end_age=units.end[first],
        weight=units.weight[first],
        causes=causes,
        event_unit=place[failures.unit[mine]],
        event_age=failures.age[mine],
        event_cause=np.array(
            [number[cause] for cause in failures.cause[mine]], np.int64
        ),
        event_cost_minor=failures.cost[mine],
        is_running=None if running.all() else running,
        is_cost_known=None if known.all() else known,
    )


def _units(models: Sequence[str], names: Sequence[str]) -> tuple[Indices, Indices]:
    """
    Give the number of the unit of each row, and the first row of each unit.

    Units of two models may have one name. A model that is left out, or written in
    another case, is no other model: such rows are of one unit, and differ.
    """
    if len(set(names)) == len(names):
        return np.arange(len(names)), np.arange(len(names))
    place: dict[tuple[str, str], int] = {}
    folded = {model: model.casefold() for model in set(models)}
    known = dict(zip(names, models, strict=True)) if "" in folded else {}
    if known:
        known |= {
            name: model for name, model in zip(names, models, strict=True) if model
        }
    key = (
        (folded[model or known[name]], name)
        for model, name in zip(models, names, strict=True)
    )
    of_row = np.fromiter(
        (place.setdefault(one, len(place)) for one in key), np.int64, len(names)
    )
    return of_row, np.unique(of_row, return_index=True)[1]


def _watch(rows: _Rows) -> tuple[Floats, Floats]:
    """Give the ages at the start and at the end of the watch. [d]."""
    if "end_age_d" in rows.cells:
        start = rows.number("entry_age_d", "days")
        return np.where(np.isnan(start), 0.0, start), rows.number("end_age_d", "days")
    born = rows.day("in_service")
    start = rows.day("watched_from") - born
    # Who was not watched from a later day on was watched from the first.
    return np.where(np.isnan(start) & ~np.isnan(born), 0.0, start), (
        rows.day("watched_until") - born
    )


def _costs(rows: _Rows, keeps: Indices) -> tuple[Indices, Flags]:
    """Give costs in minor units, and which are known."""
    cells = rows.text("cost")
    made: dict[str, int] = {"": 0}
    costs: list[int] = []
    for row in keeps.tolist():
        cell = cells[row]
        if cell not in made:
            made[cell] = _cost(rows, cell, row)
        costs.append(made[cell])
    known = [cells[row] != "" for row in keeps.tolist()]
    return np.array(costs, dtype=np.int64), np.array(known, dtype=bool)


def _cost(rows: _Rows, cell: str, row: int) -> int:
    try:
        return minor_from_text(cell)
    except BadArgumentError as error:
        rows.note("cost", cell, str(error), rows.line[row])
        return 0


def _words(rows: _Rows, name: str) -> list[str]:
    return list(rows.text(name))


def _blank(words: Iterable[str]) -> Flags:
    return np.array([not word for word in words])


def _start_of(rows: _Rows) -> str:
    return "entry_age_d" if "end_age_d" in rows.cells else "watched_from"


def _end_of(rows: _Rows) -> str:
    return "end_age_d" if "end_age_d" in rows.cells else "watched_until"
