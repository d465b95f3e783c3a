"""How does separated text of any encoding become rows of cells?"""

import csv
from collections.abc import Callable, Sequence
from io import StringIO

from turnscrew.files.grid import MAX_COLUMNS, MAX_ROWS, Grid
from turnscrew.files.refusal import refuse

SEPARATORS = ",;\t"
_MARKED = (
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
    (b"\xef\xbb\xbf", "utf-8-sig"),
)
_ASKS = "a line `encoding: {}` for this file in columns.yaml"


def text_grid(
    content: bytes,
    encoding: str,
    n_known: Callable[[Sequence[str]], int],
    n_first: int,
) -> Grid:
    """
    Part a text into rows and cells.

    The separator is the one that gives the most known headings in one of the first
    rows, or else the most cells.

    Parameters
    ----------
    content
        Bytes of the text.
    encoding
        Its encoding; empty to find out.
    n_known
        Counts the known headings among cells.
    n_first
        Rows from the top among which the heading stands.

    Returns
    -------
    Grid
        The rows.

    Raises
    ------
    BadFileError
        If it cannot be decoded or parted.
    """
    text = _decoded(content, encoding)
    if "\0" in text:
        at = text[: text.index("\0")].count("\n") + 1
        wanted = f"UTF-8, or {_ASKS.format('utf-16-le')}"
        refuse("encoding", "a zero byte", wanted, at)
    separator = max(SEPARATORS, key=lambda one: _fit(text, one, n_known, n_first))
    reader = csv.reader(StringIO(text, newline=""), delimiter=separator, strict=True)
    grid: Grid = []
    before = 0
    try:
        for cells in reader:
            grid.append((before + 1, [cell.strip() for cell in cells]))
            before = reader.line_num
            if len(grid) > MAX_ROWS:
                refuse("file", "more rows", f"at most {MAX_ROWS:,} rows", before)
            if len(cells) > MAX_COLUMNS:
                found = f"{len(cells):,} cells"
                refuse("row", found, f"at most {MAX_COLUMNS}", grid[-1][0])
    except csv.Error as error:
        refuse("row", str(error), "a table", before + 1)
    return grid


def _fit(
    text: str, separator: str, n_known: Callable[[Sequence[str]], int], n_first: int
) -> tuple[int, int]:
    """Rank a separator by the headings known with it, then by the cells."""
    reader = csv.reader(StringIO(text, newline=""), delimiter=separator)
    known = widest = n_filled = 0
    try:
        for cells in reader:
            # A wider row is refused later; its headings need not be looked up.
            known = max(known, n_known(cells[:MAX_COLUMNS]))
            widest = max(widest, len(cells))
            n_filled += any(cell.strip() for cell in cells)
            if n_filled >= n_first:
                break
    except csv.Error:
        return 0, 0
    return known, widest


def _decoded(content: bytes, encoding: str) -> str:
    marked = next((name for mark, name in _MARKED if content.startswith(mark)), "")
    tried = marked or encoding or "utf-8"
    try:
        return content.decode(tried)
    except UnicodeDecodeError as error:
        before = content[: error.start]
        line = before.count(b"\n") + 1
        found = f"bytes that are no {tried}: {content[error.start : error.end].hex()}"
        column = error.start - before.rfind(b"\n")
        refuse(
            "encoding", found[:200], f"UTF-8, or {_ASKS.format('cp1252')}", line, column
        )
    except (LookupError, ValueError):
        # Some encodings are known, but refuse with a bare error what is none of theirs.
        refuse("encoding", encoding, "the name of an encoding, such as cp1252")
