"""How are the devices of a batch read?"""

from collections.abc import Mapping
from typing import Any, get_args

from turnscrew.core.model.batch import BatchLine, DataClass
from turnscrew.core.model.serials import number_read
from turnscrew.files.columns_file import OTHER_WORDS, Columns
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.row_text import Row
from turnscrew.files.table_text import Wanted, read_table

WANTED = Wanted(
    needed=("serial", "model"),
    optional=(
        "line", "asset", "rev", "site", "due_day", "reported", "found", "acc", "data",
        "remarks",
    ),
    also=OTHER_WORDS,
)  # fmt: skip


def read_batch(
    content: bytes, name: str, columns: Columns | None = None
) -> tuple[BatchLine, ...]:
    """
    Read the devices of a batch.

    Parameters
    ----------
    content
        Bytes of the table.
    name
        Its name.
    columns
        What is remembered of its headings.

    Returns
    -------
    tuple[BatchLine, ...]
        One for each row that is not blank, in order.

    Raises
    ------
    BadFileError
        If anything does not fit, with all problems.
    """
    table = read_table(content, name, WANTED, columns)
    problems = list(table.problems)
    lines: list[BatchLine] = []
    first: dict[int, int] = {}
    for n, cells in enumerate(table.rows, 1):
        row = Row(cells, table.lines[n - 1], problems)
        number = _number(row, n)
        if number in first:
            row.note("line", f"{number}, as in row {first[number]}", "a new one")
        elif number is not None:
            first[number] = row.line
        lines.append(_line(row, number or n))
    refuse_if_any(problems)
    return tuple(lines)


def _number(row: Row, n: int) -> int | None:
    """Give the number of a device; none if it is blank or does not fit."""
    if "line" not in row.cells:
        return n
    row.needed("line")
    return row.whole("line", 1, 1_000_000)


def _line(row: Row, number: int) -> BatchLine:
    data = row.word("data", get_args(DataClass))
    facts: Mapping[str, Any] = {
        "line": number,
        "serial": number_read(row.text("serial")),
        "model": row.text("model"),
        "asset": row.text("asset"),
        "revision": row.text("rev"),
        "site": row.text("site"),
        "due_day": row.whole("due_day", 1, 10_000),
        "reported": row.text("reported"),
        "found": row.several("found", "+"),
        "accessories": tuple(a for a in row.pieces("acc", "+") if a != "none"),
        "data": data,
        "remarks": row.text("remarks"),
        "row": row.line,
    }
    return BatchLine(**facts)
