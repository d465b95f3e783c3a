"""Is no spreadsheet able to end, stall or swamp the program?"""

import io
import random
import re
import zipfile
from collections.abc import Callable

import pytest

from files_tables import ods_bytes, xls_bytes, xlsx_bytes
from turnscrew.errors import BadFileError
from turnscrew.files.sheet_package import checked_package
from turnscrew.files.table_text import Wanted, read_table

WANTED = Wanted(("name", "n"), ("note",))
ROWS = [["name", "n", "note"], ["0042", "1", "é"], ["", "", ""], ["b", "2", ""]]
FAR_ROW = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
STYLED = b'<row r="1048576"><c r="XFD1048576" s="0"/></row></sheetData>'
DOCTYPE = b'<!DOCTYPE a [<!ENTITY b "c">]><office:document-content'
REPEATED = b'number-columns-repeated="16384" office:value-type'


def packed(parts: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        for name, text in parts.items():
            package.writestr(name, text)
    return out.getvalue()


def parts_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        return {name: package.read(name) for name in package.namelist()}


def changed(content: bytes, change: Callable[[bytes], bytes]) -> bytes:
    """Change the text of the one sheet."""
    sheet = re.compile(r"xl/worksheets/sheet1\.xml|content\.xml")
    parts = parts_of(content)
    return packed({n: change(t) if sheet.fullmatch(n) else t for n, t in parts.items()})


def refused(content: bytes, name: str) -> str:
    with pytest.raises(BadFileError) as caught:
        read_table(content, name, WANTED)
    assert all(problem.line >= 1 for problem in caught.value.problems)
    return str(caught.value)


@pytest.mark.parametrize(
    ("make", "old", "new", "told"),
    [
        (xlsx_bytes, b"</sheetData>", FAR_ROW, "5,000,000 cells"),
        (xlsx_bytes, b'r="C2"', b'r="XFD1048576"', "5,000,000 cells"),
        (xlsx_bytes, b'r="C2"', b'r="A0"', "a cell A0"),
        (xlsx_bytes, b'<row r="2"', b'<row r="-2"', "a number -2"),
        (ods_bytes, b"</table:table>", b"</t.ble:table>", "mismatched tag"),
        (ods_bytes, b"<office:document-content", DOCTYPE, "document type"),
        (
            ods_bytes,
            b"<table:table-row>",
            b'<table:table-row table:number-rows-repeated="9000000">',
            "5,000,000 cells",
        ),
        (ods_bytes, b"office:value-type", b"table:" + REPEATED, "at most 200"),
        (ods_bytes, b"<text:p>b", b'<text:p><text:s text:c="99999999"/>b', "blanks"),
    ],
)
def test_it_refuses_what_would_end_or_stall_the_reader(make, old, new, told) -> None:
    name = f"t.{make.__name__.split('_')[0]}"
    content = changed(make(ROWS), lambda text: text.replace(old, new))

    assert told in refused(content, name)


def test_far_cells_without_a_value_are_lawful() -> None:
    content = changed(
        xlsx_bytes(ROWS), lambda text: text.replace(b"</sheetData>", STYLED)
    )

    assert 2 == len(read_table(content, "t.xlsx", WANTED).rows)


def test_blank_rows_and_cells_told_in_thousands_are_lawful() -> None:
    blank = (
        b'<table:table-row table:number-rows-repeated="1048000"><table:table-cell '
        b'table:number-columns-repeated="16384"/></table:table-row></table:table>'
    )
    content = changed(
        ods_bytes(ROWS), lambda text: text.replace(b"</table:table>", blank)
    )

    assert 2 == len(read_table(content, "t.ods", WANTED).rows)


def test_only_what_was_checked_is_handed_on() -> None:
    parts = parts_of(xlsx_bytes(ROWS)) | {"xl/media/a.png": b"x" * 99}

    assert "xl/media/a.png" not in parts_of(checked_package(packed(parts)))


def test_a_binary_workbook_under_another_name_is_refused() -> None:
    parts = parts_of(xlsx_bytes(ROWS)) | {"xl/workbook.bin": b""}

    assert "a binary workbook" in refused(packed(parts), "t.xlsx")


def test_a_package_that_lies_about_its_size_is_refused() -> None:
    content = packed({"xl/worksheets/sheet1.xml": b"<a>" + b"0" * 5_000_000 + b"</a>"})
    size = (5_000_007).to_bytes(4, "little")

    assert "wanted" in refused(content.replace(size, b"\x09\0\0\0"), "t.xlsx")


@pytest.mark.parametrize("make", [xlsx_bytes, ods_bytes])
def test_spoilt_markup_never_ends_in_a_traceback(make) -> None:
    name = f"t.{make.__name__.split('_')[0]}"
    words = (b"1048576", b"-1", b"", b"XFD1048576", b"\xff", b"&#0;", b"1e400", b"s")
    good = parts_of(make(ROWS))
    chance = random.Random(4)
    n_refused = 0
    for _ in range(300):
        parts = dict(good)
        part = chance.choice(sorted(parts))
        for _ in range(chance.randint(1, 3)):
            found = list(re.finditer(rb'"[^"]*"|(?<=>)[^<]+|<[^>]*>', parts[part]))
            if not found:
                break
            at = chance.choice(found)
            word = chance.choice([b'"' + chance.choice(words) + b'"', b"", at[0] * 2])
            text = parts[part]
            parts[part] = text[: at.start()] + word + text[at.end() :]
        try:
            read_table(packed(parts), name, WANTED)
        except BadFileError as error:
            n_refused += 1
            assert all(problem.line >= 1 for problem in error.problems)

    assert 50 < n_refused < 300


def test_spoilt_bytes_of_the_older_format_never_end_in_a_traceback() -> None:
    good = xls_bytes(ROWS)
    chance = random.Random(4)
    for _ in range(600):
        content = bytearray(good)
        for _ in range(chance.randint(1, 40)):
            content[chance.randrange(len(content))] = chance.choice([0, 1, 127, 255])
        try:
            read_table(bytes(content), "t.xls", WANTED)
        except BadFileError as error:
            assert error.problems
