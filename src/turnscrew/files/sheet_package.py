"""
Is a packed spreadsheet whole and of a lawful size, before another reader sees it?

The reader of spreadsheets trusts its input: a value in the last cell of an otherwise
empty sheet makes it ask for all the cells before, and broken markup may keep it busy
for ever. Neither can be caught. So every text in the package is unpacked here, with a
limit, and read for markup and size; the reader is given a package of these very texts,
but for cells in error and formulas without a value, which it would take for blank ones.
"""

import re
import zlib
from io import BytesIO
from xml.parsers.expat import ExpatError, ParserCreate
from zipfile import BadZipFile, ZipFile

from turnscrew.files.refusal import refuse

MAX_UNPACKED = 200_000_000
MAX_CELLS = 5_000_000
"""Most cells of one sheet from its corner to its last value. [1]"""
MAX_REPEATED_BLANKS = 10_000
MAX_ELEMENTS = 8_000_000
"""Most elements of one text: empty cells cost time too, and pack to nothing. [1]"""

UNRECKONED = "#UNRECKONED!"
"""Stands for the value of a formula that no program reckoned yet."""

_REFERENCE = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})", re.ASCII)
_ERROR_CELL = re.compile(rb"""(<(?:\w+:)?c\s(?:[^>]*\s)?t=["'])e(["'])""")
_FORMULA_ALONE = re.compile(
    rb"""<((?:\w+:)?)c(\s[^>]*)?>\s*<\1f(?:\s[^>]*)?(?:/>|>[^<]*</\1f>)\s*"""
    rb"""(?:<\1v\s*/>|<\1v>\s*</\1v>)?\s*</\1c>"""
)
_TYPE = re.compile(rb"""\st=["'](\w+)["']""")
_OPEN_FORMULA_ALONE = re.compile(
    rb"""(<[\w:]*table-cell\s(?=[^>]*\stable:formula=|table:formula=)"""
    rb"""(?![^>]*office:value-type=)[^>]*?)(/?>)"""
)
_OPEN_ERROR_CELL = re.compile(
    rb"""<[\w:]*table-cell\s[^>]*calcext:value-type=["']error["'][^>]*>"""
)
_OPEN_TYPE = re.compile(rb"""(office:value-type=["'])\w+(["'])""")
_OPEN_VALUE = re.compile(rb"""\soffice:(?:string-)?value=(?:"[^"]*"|'[^']*')""")
_WHOLE = re.compile(r"\d{1,9}", re.ASCII)
_KEPT = (".xml", ".rels")
_BINARY = "xl/workbook.bin"
_Spoilt = (
    BadZipFile, OSError, ValueError, EOFError, NotImplementedError, RuntimeError,
    LookupError, zlib.error,
)  # fmt: skip


def checked_package(content: bytes) -> bytes:
    """
    Check a packed spreadsheet.

    Parameters
    ----------
    content
        Bytes of the package.

    Returns
    -------
    bytes
        A package of the texts that were checked, and of nothing else; cells in error
        stand in it as texts, and so do formulas without a value.

    Raises
    ------
    BadFileError
        If it is broken or too large.
    """
    out = BytesIO()
    size = 0
    try:
        with ZipFile(BytesIO(content)) as packed, ZipFile(out, "w") as checked:
            for item in packed.infolist():
                if item.filename == _BINARY:
                    refuse("file", "a binary workbook", ".xlsx, .xls or .ods")
                if item.filename != "mimetype" and not item.filename.endswith(_KEPT):
                    continue
                size += item.file_size
                if size > MAX_UNPACKED:
                    found = f"{size:,} bytes unpacked"
                    refuse("file", found, f"at most {MAX_UNPACKED:,}")
                text = packed.read(item)
                if item.filename != "mimetype":
                    _refuse_bad(text, item.filename)
                if item.filename not in checked.NameToInfo:
                    shown = _with_unreckoned(_with_errors(text))
                    checked.writestr(item.filename, shown)
    except _Spoilt as error:
        refuse("file", str(error) or "a broken package", "a whole spreadsheet")
    return out.getvalue()


def _with_errors(text: bytes) -> bytes:
    """Let cells in error be told as they are shown; their reader gives them blank."""
    shown = _ERROR_CELL.sub(rb"\1str\2", text)
    return _OPEN_ERROR_CELL.sub(
        lambda cell: _OPEN_TYPE.sub(rb"\1string\2", _OPEN_VALUE.sub(b"", cell[0])),
        shown,
    )


def _with_unreckoned(text: bytes) -> bytes:
    """Let formulas be told that were written by a program and reckoned by none."""
    value = UNRECKONED.encode()

    def told(cell: re.Match[bytes]) -> bytes:
        tag, attributes = cell[1], cell[2] or b""
        kind = _TYPE.search(attributes)
        if kind is not None and kind[1] == b"str":
            # Reckoned: a text with nothing in it.
            return cell[0]
        start = b"<%sc%s" % (tag, _TYPE.sub(b"", attributes))
        return b'%s t="str"><%sv>%s</%sv></%sc>' % (start, tag, value, tag, tag)

    typed = rb'\1 office:value-type="string" office:string-value="%s"\2' % value
    return _OPEN_FORMULA_ALONE.sub(typed, _FORMULA_ALONE.sub(told, text))


def _refuse_bad(text: bytes, name: str) -> None:
    parser = ParserCreate(namespace_separator=" ")
    extent = _Extent()
    parser.StartElementHandler = extent.begins
    parser.EndElementHandler = extent.ends
    parser.StartDoctypeDeclHandler = _refuse_entities
    try:
        parser.Parse(text, True)  # noqa: FBT003 - the parser takes it in place only
    except ExpatError as error:
        refuse("file", f"{name}: {error}", "a whole spreadsheet")


def _refuse_entities(*_: object) -> None:
    refuse("file", "markup with a document type", "a spreadsheet without")


class _Extent:
    """How far a sheet of either format reaches, as it is read."""

    def __init__(self) -> None:
        self.row = self.column = self.width = self.n_columns = 0
        self.n_rows_same = 1
        self.n_elements = 0

    def begins(self, element: str, attributes: dict[str, str]) -> None:
        """Take note of an element that begins."""
        self.n_elements += 1
        if self.n_elements > MAX_ELEMENTS:
            refuse("file", "more elements", f"at most {MAX_ELEMENTS:,} in one sheet")
        local = {key.rpartition(" ")[2]: text for key, text in attributes.items()}
        space, _, tag = element.rpartition(" ")
        if tag in {"sheetData", "table"}:
            self.row = self.column = self.width = self.n_columns = 0
        elif "opendocument" in space:
            self._open_begins(tag, local)
        elif tag == "row":
            self.row = _number(local.get("r"), self.row + 1)
            self.column = 0
        elif tag == "c":
            self._cell(local.get("r"))
        elif tag in {"v", "is", "f"}:
            self._value(self.row, self.column)

    def _open_begins(self, tag: str, local: dict[str, str]) -> None:
        if tag == "table-row":
            self.n_rows_same = _number(local.get("number-rows-repeated"), 1)
            self.column = self.width = 0
        elif tag in {"table-cell", "covered-table-cell"}:
            self.column += _number(local.get("number-columns-repeated"), 1)
            is_filled = "value-type" in local or "formula" in local
            self.width = self.column if is_filled else self.width
        elif tag == "p":
            self.width = self.column
        elif tag == "s" and _number(local.get("c"), 1) > MAX_REPEATED_BLANKS:
            refuse("file", f"{local['c']} blanks", f"at most {MAX_REPEATED_BLANKS:,}")

    def ends(self, element: str) -> None:
        """Take note of an element that ends."""
        if element.rpartition(" ")[2] == "table-row":
            self.row += self.n_rows_same
            if self.width:
                self._value(self.row, self.width)

    def _cell(self, reference: str | None) -> None:
        if reference is None:
            self.column += 1
            return
        match = _REFERENCE.fullmatch(reference)
        if match is None:
            refuse("file", f"a cell {reference[:20]}", "a cell such as B7")
        self.column = 0
        for letter in match[1]:
            self.column = 26 * self.column + ord(letter) - ord("A") + 1
        self.row = int(match[2])

    def _value(self, row: int, column: int) -> None:
        self.n_columns = max(self.n_columns, column)
        if row * self.n_columns > MAX_CELLS:
            found = f"a value in row {row:,}, {self.n_columns:,} columns wide"
            refuse("file", found, f"at most {MAX_CELLS:,} cells", row)


def _number(text: str | None, default: int) -> int:
    if text is None:
        return default
    if not _WHOLE.fullmatch(text):
        refuse("file", f"a number {text[:20]}", "a whole number")
    return int(text)
