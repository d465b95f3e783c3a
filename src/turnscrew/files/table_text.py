"""
How is a table of other people read: any column order, heading, encoding or program?

Cells are kept as they are written, without the blanks around them. Blank rows are
counted; a heading that stands again and a row that only adds up others are left out;
every other one is given with its line. Tables are comma, semicolon or tab separated
text, or spreadsheets.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from turnscrew.core.model.nearest import wanted_name
from turnscrew.errors import BadFileError, Problem
from turnscrew.files.columns_file import Columns
from turnscrew.files.grid import MAX_BYTES, Grid
from turnscrew.files.refusal import refuse
from turnscrew.files.sheet_grid import ENDINGS, sheet_grid
from turnscrew.files.sheet_package import UNRECKONED
from turnscrew.files.text_grid import text_grid

_IN_ERROR = re.compile(r"#N/A|#NV|#[A-Z][A-Z0-9/_]*[!?]|Err:\d{3}", re.ASCII)
"""What a spreadsheet shows in place of a value it could not reckon."""

_CUT = re.compile(r"-?\d(?:\.\d+)?E\+\d{2,3}", re.ASCII)
"""What a spreadsheet makes of a number too long for it."""

_HEADING_WITHIN = 10
"""A heading stands within so many rows from the top; titles may stand above it."""

_TOTALS = frozenset({
    "total", "totals", "grand total", "subtotal", "sub total", "sum", "count",
    "summe", "zwischensumme", "gesamt", "gesamtsumme", "insgesamt", "anzahl",
})  # fmt: skip
"""First words of a row that adds up others. [common practice, no source]"""

_FIGURE = re.compile(r"\s*\d[\d.,'\s]*", re.ASCII)
"""A number, whatever parts its thousands."""


@dataclass(frozen=True)
class Cell:
    """
    One cell with its place.

    Parameters
    ----------
    text
        What stands there, without blanks around it.
    line
        Line of the file, or row of the sheet.
    column
        Column of the table, counted from 1.
    """

    text: str
    line: int
    column: int


@dataclass(frozen=True)
class Table:
    """
    A table read by the names of its columns.

    Parameters
    ----------
    rows
        Cells by our column name; a column that is not there gives no cell.
    lines
        Line of each row.
    columns
        Our columns that are there.
    n_blank
        Blank rows left out.
    heading_line
        Line of the heading.
    others
        Texts of each row under headings that are not ours, by heading.
    titles
        Rows above the heading that were left out, each in one text.
    problems
        Rows of another length, which are in none of the above; whoever reads the table
        must refuse it if there are any.
    """

    rows: tuple[Mapping[str, Cell], ...]
    lines: tuple[int, ...]
    columns: frozenset[str]
    n_blank: int
    heading_line: int
    others: tuple[Mapping[str, str], ...]
    titles: tuple[str, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class Wanted:
    """
    The columns a table should have.

    Parameters
    ----------
    needed
        Our columns it cannot do without.
    optional
        Our columns it may have.
    also
        Other words for our columns, each as it reads without case and points.
    any_of
        Our columns of which it needs one.
    allows_others
        True if headings that are not known are left alone.
    """

    needed: tuple[str, ...]
    optional: tuple[str, ...] = ()
    also: Mapping[str, tuple[str, ...]] | None = None
    any_of: tuple[str, ...] = ()
    allows_others: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        """
        Give all our columns.

        Returns
        -------
        tuple[str, ...]
            Needed ones first.
        """
        return (*self.needed, *self.optional)


def read_table(
    content: bytes, name: str, wanted: Wanted, columns: Columns | None = None
) -> Table:
    """
    Read a table.

    Parameters
    ----------
    content
        Bytes of the file.
    name
        Its name, whose ending tells the kind.
    wanted
        The columns it should have.
    columns
        What is remembered of its headings and encoding.

    Returns
    -------
    Table
        The rows, and what is wrong with others.

    Raises
    ------
    BadFileError
        If it cannot be read or lacks a column, with all problems.
    """
    remembered = columns or Columns()
    grid = _grid_of(content, name, wanted, remembered)
    filled = [(line, cells) for line, cells in grid if any(cells)]
    if not filled:
        refuse("file", "no rows", "a heading and rows")
    at = _heading_at(filled, wanted, remembered)
    heading_line, heading = filled[at]
    places, problems = _places(filled[at:], wanted, remembered, name)
    rows: list[Mapping[str, Cell]] = []
    others: list[Mapping[str, str]] = []
    lines: list[int] = []
    if problems:
        raise BadFileError(tuple(problems))
    foreign = {
        cell or f"column {index + 1}": index
        for index, cell in enumerate(heading)
        if index not in places.values()
    }
    for line, cells in filled[at + 1 :]:
        # Lists that were printed page by page bear their heading on each of them.
        if _without_end(cells) == _without_end(heading) or _is_total(cells):
            continue
        found = _row_problems(cells, len(heading), line, places, wanted)
        if found:
            problems += found
            continue
        padded = [*cells, *[""] * (len(heading) - len(cells))]
        rows.append(
            {
                ours: Cell(padded[index], line, index + 1)
                for ours, index in places.items()
            }
        )
        others.append({cell: padded[index] for cell, index in foreign.items()})
        lines.append(line)
    return Table(
        rows=tuple(rows),
        lines=tuple(lines),
        columns=frozenset(places),
        n_blank=len(grid) - len(filled),
        heading_line=heading_line,
        others=tuple(others),
        titles=tuple(" ".join(filter(None, cells)) for _, cells in filled[:at]),
        problems=tuple(problems),
    )


def headings_in(
    content: bytes, name: str, wanted: Wanted, columns: Columns
) -> list[str]:
    """
    Give the headings of a table, known or not.

    Parameters
    ----------
    content
        Bytes of the file.
    name
        Its name.
    wanted
        The columns it should have, to find the row of headings.
    columns
        What is remembered of its encoding.

    Returns
    -------
    list[str]
        The headings as they are written; none if the table is empty.

    Raises
    ------
    BadFileError
        If it cannot be read.
    """
    filled = [row for row in _grid_of(content, name, wanted, columns) if any(row[1])]
    return filled[_heading_at(filled, wanted, columns)][1] if filled else []


def plain_heading(heading: str) -> str:
    """
    Give a heading without what people write now so and now otherwise.

    Parameters
    ----------
    heading
        The heading as it is written.

    Returns
    -------
    str
        Without case, points and blanks.
    """
    return re.sub(r"[\s._'’:/#-]+", " ", heading).strip().casefold()


def _grid_of(content: bytes, name: str, wanted: Wanted, remembered: Columns) -> Grid:
    if len(content) > MAX_BYTES:
        refuse("file", f"{len(content):,} bytes", f"at most {MAX_BYTES:,}")
    if name.lower().endswith(ENDINGS):
        return sheet_grid(content, name)
    known = _known(wanted)

    def n_known(cells: Sequence[str]) -> int:
        return sum(bool(_ours(cell.strip(), known, remembered)) for cell in cells)

    return text_grid(content, remembered.encoding, n_known, _HEADING_WITHIN)


def _without_end(cells: Sequence[str]) -> list[str]:
    """Leave out the blanks at the right."""
    n = max((index + 1 for index, cell in enumerate(cells) if cell), default=0)
    return list(cells[:n])


def _is_total(cells: Sequence[str]) -> bool:
    """Say whether a row only counts or adds up the rows above it."""
    words, *figures = [cell for cell in cells if cell]
    words, _, figure = words.partition(":")
    figures += [figure] if figure.strip() else []
    return (
        plain_heading(words) in _TOTALS
        and bool(figures)
        and all(_FIGURE.fullmatch(one) for one in figures)
    )


def _known(wanted: Wanted) -> dict[str, str]:
    known = {plain_heading(name): name for name in wanted.names}
    for name, words in (wanted.also or {}).items():
        known |= {plain_heading(word): name for word in words}
    return known


def _ours(heading: str, known: Mapping[str, str], remembered: Columns) -> str:
    """Give our column for a heading; empty if there is none."""
    if _is_ignored(heading, remembered):
        return ""
    by_hand = remembered.headings.get(heading)
    if by_hand is None:
        meant = {
            plain_heading(theirs): ours for theirs, ours in remembered.headings.items()
        }
        by_hand = meant.get(plain_heading(heading))
    return known.get(plain_heading(heading), "") if by_hand is None else by_hand


def _is_ignored(heading: str, remembered: Columns) -> bool:
    return plain_heading(heading) in set(map(plain_heading, remembered.ignore))


def _heading_at(
    filled: Sequence[tuple[int, list[str]]], wanted: Wanted, remembered: Columns
) -> int:
    """
    Find the row with the most known headings among the first ones.

    What stands above it must be narrower, as titles are: a row of a device is never
    taken for one. Where no heading is known, the first of the widest rows is meant.
    """
    known = _known(wanted)
    ranks: list[tuple[int, int]] = []
    widest = 0
    for _, cells in filled[:_HEADING_WITHIN]:
        n_filled = sum(map(bool, cells))
        n_known = sum(bool(_ours(cell, known, remembered)) for cell in cells)
        ranks.append((n_known, n_filled) if n_filled > widest else (-1, 0))
        widest = max(widest, n_filled)
    return ranks.index(max(ranks))


def _places(
    filled: Sequence[tuple[int, list[str]]],
    wanted: Wanted,
    remembered: Columns,
    name: str,
) -> tuple[dict[str, int], list[Problem]]:
    """Find the place of each of our columns in the heading, which comes first."""
    line, heading = filled[0]
    known = _known(wanted)
    places: dict[str, int] = {}
    problems: list[Problem] = []
    for index, cell in enumerate(heading):
        ours = _ours(cell, known, remembered)
        found = ""
        if ours and ours not in wanted.names:
            found, hint = f"{cell} as {ours}", "one of " + ", ".join(wanted.names)
        elif ours in places:
            found, hint = f"{cell} beside {heading[places[ours]]}", f"one {ours}"
        elif not ours and not _is_left_alone(index, filled, wanted, remembered):
            found = f"unknown column {cell or '(blank)'}"
            hint = wanted_name(cell, wanted.names)
        if found:
            problems.append(Problem("heading", found, hint, line, index + 1))
        elif ours:
            places[ours] = index
    problems += _lacking(heading, line, wanted, places, name)
    return places, problems


def _is_left_alone(
    index: int,
    filled: Sequence[tuple[int, list[str]]],
    wanted: Wanted,
    remembered: Columns,
) -> bool:
    """Say whether a column that is not ours is no problem."""
    cell = filled[0][1][index]
    if wanted.allows_others or (cell and _is_ignored(cell, remembered)):
        return True
    # Programs write blank columns at the right.
    return not any(any(cells[index : index + 1]) for _, cells in filled)


def _lacking(
    heading: Sequence[str],
    line: int,
    wanted: Wanted,
    places: Mapping[str, int],
    name: str,
) -> Iterator[Problem]:
    there = ", ".join(cell for cell in heading if cell) or "none"
    for ours in wanted.needed:
        if ours not in places:
            hint = (
                f"{ours}; or, in the folder of a batch, for {name} in columns.yaml "
                f"under headings, `their heading: {ours}`"
            )
            yield Problem("heading", f"no {ours} among {there}", hint, line, 1)
    if wanted.any_of and not any(ours in places for ours in wanted.any_of):
        hint = (
            f"one of {', '.join(wanted.any_of)}; or, in the folder of a batch, for "
            f"{name} in columns.yaml under headings, "
            f"`their heading: {wanted.any_of[0]}`"
        )
        yield Problem("heading", f"only {there}", hint, line, 1)


def _row_problems(
    cells: Sequence[str],
    n_columns: int,
    line: int,
    places: Mapping[str, int],
    wanted: Wanted,
) -> list[Problem]:
    if any(cells[n_columns:]):
        found = f"{len(cells)} cells"
        return [Problem("row", found, f"{n_columns}", line, n_columns + 1)]
    lacking = [
        ours for ours in wanted.needed if places.get(ours, 0) >= max(len(cells), 1)
    ]
    if lacking:
        found = f"{len(cells)} cells, none for {', '.join(lacking)}"
        return [Problem("row", found, f"{n_columns} cells", line, len(cells) + 1)]
    told = {ours: "".join(cells[at : at + 1]) for ours, at in places.items()}
    return [
        Problem(ours, *_not_reckoned(text), line, places[ours] + 1)
        for ours, text in told.items()
        if _IN_ERROR.fullmatch(text) or _CUT.fullmatch(text)
    ]


def _not_reckoned(text: str) -> tuple[str, str]:
    """Say what stands in a cell in place of a value, and what should."""
    if text == UNRECKONED:
        wanted = "its value: open the file in a spreadsheet program and save it there"
        return "a formula that was never reckoned", wanted
    if _CUT.fullmatch(text):
        return text, "all digits, written as text: a spreadsheet cuts long numbers"
    return text, "what it should be, or a blank"
