"""How does a spreadsheet become rows of cells, as a person would read them?"""

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time
from io import BytesIO, StringIO
from itertools import islice
from typing import Any

from turnscrew.errors import BadFileError
from turnscrew.files.grid import MAX_COLUMNS, MAX_ROWS, Grid
from turnscrew.files.refusal import refuse
from turnscrew.files.sheet_package import checked_package

ENDINGS = (".xlsx", ".xls", ".ods")

_Rows = Iterator[tuple[int, Sequence[object]]]


def sheet_grid(content: bytes, name: str) -> Grid:
    """
    Read the first sheet that is not empty.

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
        If it cannot be read or is too large.
    """
    is_old = name.lower().endswith(".xls")
    whole = content if is_old else checked_package(content)
    try:
        for rows in _old_sheets(whole) if is_old else _sheets(whole):
            grid = _grid(rows)
            if any(any(cells) for _, cells in grid):
                return grid
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
    return []


def _refuse_spoilt(error: BaseException) -> None:
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


def _sheets(content: bytes) -> Iterator[_Rows]:
    """Give the rows of each sheet."""
    import python_calamine  # noqa: PLC0415 - needed for spreadsheets alone

    book = python_calamine.CalamineWorkbook.from_filelike(BytesIO(content))
    for name in book.sheet_names:
        sheet = book.get_sheet_by_name(name)
        # Blank columns on the left are not given, blank rows on top are.
        left = [None] * (sheet.start[1] if sheet.start else 0)
        yield ((n, [*left, *cells]) for n, cells in enumerate(sheet.iter_rows(), 1))


def _old_sheets(content: bytes) -> Iterator[_Rows]:
    """
    Give the rows of each sheet of the older format.

    The reader of the newer formats ends the whole program on some spoilt files of this
    one, hence another.
    """
    import xlrd  # noqa: PLC0415 - needed for spreadsheets alone

    # The reader writes its doubts to a file; nobody reads this one.
    book = xlrd.open_workbook(file_contents=content, logfile=StringIO())
    for sheet in book.sheets():
        yield (
            (n + 1, [_old_cell(cell, book.datemode) for cell in sheet.row(n)])
            for n in range(sheet.nrows)
        )


def _old_cell(cell: Any, datemode: int) -> object:
    import xlrd  # noqa: PLC0415 - needed for spreadsheets alone

    if cell.ctype == xlrd.XL_CELL_DATE:
        return xlrd.xldate_as_datetime(cell.value, datemode)
    if cell.ctype == xlrd.XL_CELL_BOOLEAN:
        return bool(cell.value)
    return None if cell.ctype == xlrd.XL_CELL_ERROR else cell.value


def _cell_text(cell: object) -> str:
    """Write a cell of a spreadsheet as a person would read it."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat()
    if isinstance(cell, date):
        return cell.isoformat()
    return "" if cell is None else str(cell).strip()
