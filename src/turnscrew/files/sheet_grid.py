"""How does a spreadsheet become rows of cells, as a person would read them?"""

import csv
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime, time
from io import BytesIO, StringIO
from itertools import islice
from typing import Any, NoReturn

from turnscrew.errors import BadFileError
from turnscrew.files.grid import MAX_COLUMNS, MAX_ROWS, Grid
from turnscrew.files.refusal import refuse
from turnscrew.files.sheet_package import checked_package

ENDINGS = (".xlsx", ".xls", ".ods")

_KEPT_WHOLE = 1e15
"""From here on a spreadsheet does not keep every digit of a number. [1]"""

_Rows = Iterator[tuple[int, Sequence[object]]]


def sheet_grid(content: bytes, name: str) -> Grid:
    """
    Read the one sheet in sight that is not empty.

    Parameters
    ----------
    content
        Bytes of the spreadsheet.
    name
        Its name, whose ending tells the kind.

    Returns
    -------
    Grid
        The rows, each with its number in the sheet.

    Raises
    ------
    BadFileError
        If it cannot be read, is too large, or has rows on more than one sheet.
    """
    is_old = name.lower().endswith(".xls")
    whole = content if is_old else checked_package(content)
    try:
        sheets = _old_sheets(whole) if is_old else _sheets(whole)
        grids = [(sheet, _grid(rows)) for sheet, rows in sheets]
    except BadFileError:
        raise
    except Exception as error:  # noqa: BLE001 - a foreign reader, on spoilt bytes
        _refuse_spoilt(error)
    except BaseException as error:
        # So the reader of newer formats says that it broke off; it stands outside
        # the usual errors and has no name to import.
        if type(error).__name__ != "PanicException":
            raise
        _refuse_spoilt(error)
    return _only_one(grids)


def as_text(content: bytes, name: str) -> bytes:
    """
    Give the one sheet in sight as a table with commas, each row on its own line.

    Parameters
    ----------
    content
        Bytes of the spreadsheet.
    name
        Its name, whose ending tells the kind.

    Returns
    -------
    bytes
        The text in UTF-8; an empty row stands as an empty line.

    Raises
    ------
    BadFileError
        If it cannot be read, is too large, or has rows on more than one sheet.
    """
    text = StringIO(newline="")
    rows = csv.writer(text, lineterminator="\n")
    n_written = 0
    grid = sheet_grid(content, name)
    n_columns = max((len(cells) for _, cells in grid), default=0)
    for line, cells in grid:
        text.write("\n" * (line - n_written - 1))
        # A line break in a cell would put every row after it on another line.
        told = [" ".join(cell.splitlines()) for cell in cells]
        rows.writerow(told + [""] * (n_columns - len(told)))
        n_written = line
    return text.getvalue().encode()


def _only_one(grids: Sequence[tuple[str, Grid]]) -> Grid:
    filled = [one for one in grids if any(any(cells) for _, cells in one[1])]
    if len(filled) > 1:
        names = ", ".join(sheet for sheet, _ in filled)
        refuse("file", f"rows on the sheets {names}", "rows on one sheet alone")
    return filled[0][1] if filled else []


def _refuse_spoilt(error: BaseException) -> NoReturn:
    found = f"{type(error).__name__}: {error}".replace("\n", " ")[:200]
    refuse("file", found, "a whole spreadsheet")


def _grid(rows: _Rows) -> Grid:
    grid: Grid = []
    for line, cells in islice(rows, MAX_ROWS + 1):
        texts = [_cell_text(cell) for cell in cells]
        while texts and not texts[-1]:
            texts.pop()
        if len(texts) > MAX_COLUMNS:
            refuse("row", f"{len(texts):,} cells", f"at most {MAX_COLUMNS}", line)
        grid.append((line, texts))
    if len(grid) > MAX_ROWS:
        refuse("file", "more rows", f"at most {MAX_ROWS:,} rows", MAX_ROWS + 1)
    return grid


def _sheets(content: bytes) -> Iterator[tuple[str, _Rows]]:
    """Give the rows of each sheet in sight, by its name."""
    import python_calamine  # noqa: PLC0415 - needed for spreadsheets alone

    book = python_calamine.CalamineWorkbook.from_filelike(BytesIO(content))
    for told in book.sheets_metadata:
        if told.visible != python_calamine.SheetVisibleEnum.Visible:
            continue
        sheet = book.get_sheet_by_name(told.name)
        # Blank columns on the left are not given, blank rows on top are.
        left = [None] * (sheet.start[1] if sheet.start else 0)
        rows = enumerate(sheet.iter_rows(), 1)
        whole = ((n, [*left, *cells]) for n, cells in rows)
        merged = sheet.merged_cell_ranges or ()
        yield (
            told.name,
            _told_below(whole, ((top, left, end) for (top, left), (end, _) in merged)),
        )


def _old_sheets(content: bytes) -> Iterator[tuple[str, _Rows]]:
    """
    Give the rows of each sheet in sight of the older format, by its name.

    The reader of the newer formats ends the whole program on some spoilt files of this
    one, hence another.
    """
    import xlrd  # noqa: PLC0415 - needed for spreadsheets alone

    def read(*, with_looks: bool) -> Any:
        # The reader writes its doubts to a file; nobody reads this one.
        return xlrd.open_workbook(
            file_contents=content, logfile=StringIO(), formatting_info=with_looks
        )

    # Which cells are one is told with their looks alone; but with looks every blank
    # cell that has a border counts.
    looks, book = read(with_looks=True), read(with_looks=False)
    for at, sheet in enumerate(book.sheets()):
        if sheet.visibility:
            continue
        whole = (
            (n + 1, [_old_cell(cell, book.datemode) for cell in sheet.row(n)])
            for n in range(sheet.nrows)
        )
        merged = looks.sheet_by_index(at).merged_cells
        yield (
            sheet.name,
            _told_below(whole, ((top, left, end - 1) for top, end, left, _ in merged)),
        )


def _told_below(rows: _Rows, merged: Iterable[tuple[int, int, int]]) -> _Rows:
    """
    Say what stands in a cell that reaches down over several rows in each of them.

    ``merged`` are such cells by first row, column and last row, counted from 0. A row
    with nothing of its own stays blank.
    """
    begins: dict[int, list[tuple[int, int]]] = {}
    for top, left, end in merged:
        if end > top:
            begins.setdefault(top + 1, []).append((left, end + 1))
    held: dict[int, tuple[int, object]] = {}
    for n, cells in rows:
        own = list(cells)
        yield n, _filled(own, n, held) if any(map(_cell_text, own)) else own
        for left, end in begins.get(n, ()):
            held[left] = (end, own[left] if left < len(own) else None)


def _filled(
    cells: Sequence[object], line: int, held: Mapping[int, tuple[int, object]]
) -> Sequence[object]:
    over = {left: value for left, (end, value) in held.items() if line <= end}
    return [over.get(left, cell) for left, cell in enumerate(cells)]


def _old_cell(cell: Any, datemode: int) -> object:
    import xlrd  # noqa: PLC0415 - needed for spreadsheets alone

    if cell.ctype == xlrd.XL_CELL_DATE:
        return xlrd.xldate_as_datetime(cell.value, datemode)
    if cell.ctype == xlrd.XL_CELL_BOOLEAN:
        return bool(cell.value)
    if cell.ctype == xlrd.XL_CELL_ERROR:
        return xlrd.error_text_from_code.get(cell.value, "#N/A")
    return cell.value


def _cell_text(cell: object) -> str:
    """Write a cell of a spreadsheet as a person would read it."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float) and cell.is_integer():
        # A spreadsheet keeps 15 digits: those after them nobody wrote.
        return str(int(cell)) if abs(cell) < _KEPT_WHOLE else f"{cell:.15G}"
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat()
    if isinstance(cell, date):
        return cell.isoformat()
    return "" if cell is None else str(cell).strip()
