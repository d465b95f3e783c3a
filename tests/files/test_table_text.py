"""Is every table read whole, whatever program and country it comes from?"""

import io
import random
import zipfile
from datetime import date

import openpyxl
import pytest
import xlwt
from hypothesis import given
from hypothesis import strategies as st

from files_tables import csv_bytes, ods_bytes, xls_bytes, xlsx_bytes
from turnscrew.errors import BadFileError
from turnscrew.files.columns_file import Columns, columns_text, read_columns
from turnscrew.files.table_text import Wanted, read_table

WANTED = Wanted(("name", "n"), ("note",), {"name": ("called", "name of it")})
LOOSE = Wanted(("name", "n"), allows_others=True)
ROWS = [["name", "n", "note"], ["0042", "1", "é"], ["", "", ""], ["b", "2", ""]]


def texts(content: bytes, name: str = "t.csv", columns=None) -> list[dict[str, str]]:
    table = read_table(content, name, WANTED, columns)
    assert () == table.problems
    return [{ours: cell.text for ours, cell in row.items()} for row in table.rows]


def refused(content: bytes, name: str = "t.csv", columns=None) -> str:
    with pytest.raises(BadFileError) as caught:
        read_table(content, name, WANTED, columns)
    return "\n".join(str(problem) for problem in caught.value.problems)


GOOD = [{"name": "0042", "n": "1", "note": "é"}, {"name": "b", "n": "2", "note": ""}]


@pytest.mark.parametrize(
    ("content", "name"),
    [
        (csv_bytes(ROWS), "t.csv"),
        (csv_bytes(ROWS, separator=";"), "t.csv"),
        (csv_bytes(ROWS, separator="\t"), "t.csv"),
        (csv_bytes(ROWS, encoding="utf-8-sig"), "t.csv"),
        (csv_bytes(ROWS, encoding="utf-16"), "t.csv"),
        (csv_bytes(ROWS).replace(b"\n", b"\r\n"), "t.csv"),
        (xlsx_bytes(ROWS), "t.xlsx"),
        (xls_bytes(ROWS), "t.xls"),
        (ods_bytes(ROWS), "t.ods"),
    ],
)
def test_every_kind_of_table_reads_the_same(content, name) -> None:
    assert GOOD == texts(content, name)
    assert 1 == read_table(content, name, WANTED).n_blank


@pytest.mark.parametrize("encoding", ["cp1252", "latin-1", "cp437"])
def test_another_encoding_is_asked_for_and_then_remembered(encoding) -> None:
    content = csv_bytes(ROWS, encoding=encoding)

    assert "columns.yaml" in refused(content)
    assert GOOD == texts(content, columns=Columns(encoding))


def test_an_encoding_that_is_none_is_refused() -> None:
    told = refused(csv_bytes(ROWS, encoding="cp1252"), columns=Columns("klingon"))

    assert "found klingon, wanted the name of an encoding" in told


def test_columns_stand_in_any_order_under_other_words() -> None:
    rows = [["Note", "CALLED", "N."], ["x", "a", "1"]]

    assert [{"note": "x", "name": "a", "n": "1"}] == texts(csv_bytes(rows))


def test_a_heading_asked_for_once_is_remembered() -> None:
    rows = [["Kit", "n"], ["a", "1"]]
    told = refused(csv_bytes(rows))

    assert "no name among Kit, n" in told
    assert "`their heading: name`" in told
    remembered = read_columns('t.csv: {headings: {"Kit": name}}')
    assert [{"name": "a", "n": "1"}] == texts(
        csv_bytes(rows), columns=remembered["t.csv"]
    )


def test_what_is_remembered_is_written_so_that_it_reads_the_same() -> None:
    known = {
        "a b.csv": Columns("cp1252", {'He said "no"': "name", "x\\y": "n", "é": "n"})
    }

    assert known == read_columns(columns_text(known))


def test_titles_above_the_heading_are_left_out() -> None:
    rows = [["List of ours", ""], ["", ""], ["name", "n"], ["a", "1"]]
    table = read_table(csv_bytes(rows), "t.csv", WANTED)

    assert 3 == table.heading_line
    assert (4,) == table.lines


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([["name", "n", "nome"], ["a", "1", ""]], "unknown column nome"),
        ([["name", "n", "called"], ["a", "1", "b"]], "called beside name"),
        ([["name"], ["a"]], "no n among name"),
        ([["", ""]], "no rows"),
    ],
)
def test_a_heading_that_does_not_fit_is_refused(rows, told) -> None:
    assert told in refused(csv_bytes(rows))


def test_rows_of_another_length_are_told_with_their_line() -> None:
    content = b"name,n,note\na,1,x,y\nb\nc,3\n"
    table = read_table(content, "t.csv", WANTED)

    assert [(2, 4), (3, 2)] == [(p.line, p.column) for p in table.problems]
    assert ["c"] == [row["name"].text for row in table.rows]


def test_numbers_and_days_of_a_spreadsheet_read_as_a_person_would() -> None:
    rows = [["name", "n", "note"], [359.0, 2.5, date(2027, 2, 1)], [True, 7, None]]

    assert [
        {"name": "359", "n": "2.5", "note": "2027-02-01"},
        {"name": "yes", "n": "7", "note": ""},
    ] == texts(xlsx_bytes(rows), "t.xlsx")


def test_a_row_over_two_lines_keeps_the_line_it_begins_on() -> None:
    table = read_table(b'name,n,note\na,1,"x\ny"\nb,2,z\n', "t.csv", WANTED)

    assert (2, 4) == table.lines
    assert "x\ny" == table.rows[0]["note"].text


@pytest.mark.parametrize("name", ["t.xlsx", "t.xls", "t.ods"])
@pytest.mark.parametrize(
    "content", [b"", b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"name,n\n"]
)
def test_a_broken_spreadsheet_is_refused(name, content) -> None:
    assert "wanted" in refused(content, name)


def test_a_spreadsheet_that_unpacks_too_large_is_refused() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b"0" * 210_000_000)

    assert "unpacked" in refused(out.getvalue(), "t.xlsx")


@pytest.mark.parametrize("make", [xlsx_bytes, xls_bytes, ods_bytes])
def test_a_spreadsheet_with_wrong_bytes_never_ends_in_a_traceback(make) -> None:
    good = make(ROWS)
    name = f"t.{make.__name__.split('_')[0]}"
    chance = random.Random(9)
    for _ in range(150):
        content = bytearray(good)
        for _ in range(chance.randint(1, 12)):
            content[chance.randrange(len(content))] = chance.randrange(256)
        try:
            read_table(bytes(content), name, WANTED)
        except BadFileError as error:
            assert error.problems


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(content) -> None:
    try:
        table = read_table(content, "t.csv", WANTED)
    except BadFileError as error:
        assert all(problem.line >= 1 for problem in error.problems)
    else:
        assert len(table.lines) == len(table.rows)


@given(st.lists(st.lists(st.text('ab,;"\n 0é', max_size=4), min_size=2, max_size=3)))
def test_no_row_is_dropped(rows) -> None:
    out = io.StringIO()
    out.write("name,n,note\n")
    for row in rows:
        quoted = [f'"{cell.replace(chr(34), chr(34) * 2)}"' for cell in row]
        out.write(",".join(quoted) + "\n")
    table = read_table(out.getvalue().encode(), "t.csv", WANTED)
    n_filled = sum(any(cell.strip() for cell in row) for row in rows)

    assert n_filled == len(table.rows) + len(table.problems)
    assert len(rows) - n_filled == table.n_blank


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_a_title_does_not_hide_the_separator(separator) -> None:
    content = b"Devices of ward 3, all of them\n" + csv_bytes(ROWS, separator)

    assert GOOD == texts(content)


def test_a_sheet_may_begin_away_from_its_corner() -> None:
    rows = [["", "", ""], ["", "name", "n"], ["", "a", "1"], ["", "b", "2"]]
    table = read_table(xlsx_bytes(rows), "t.xlsx", LOOSE)

    assert ((3, 4), 2) == (table.lines, table.rows[0]["name"].column)


SPANNED = [["name", "n", "note"], ["a", "1", "hot"], ["b", "2", ""], ["", "", ""]]


def xlsx_merged(rows) -> bytes:
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(rows)))
    book.active.merge_cells("C2:C4")
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def xls_merged(rows) -> bytes:
    book = xlwt.Workbook()
    sheet = book.add_sheet("one")
    for i, row in enumerate(rows):
        for j, cell in enumerate(row):
            if cell:
                sheet.write(i, j, cell)
    sheet.merge(1, 3, 2, 2)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("make", "name"), [(xlsx_merged, "t.xlsx"), (xls_merged, "t.xls")]
)
def test_a_cell_over_several_rows_is_told_in_each_of_them(make, name) -> None:
    table = read_table(make([*SPANNED, ["c", "3", ""], ["d", "4", ""]]), name, WANTED)

    assert () == table.problems
    assert ["hot", "hot", "", ""] == [row["note"].text for row in table.rows]
    assert [2, 3, 5, 6] == list(table.lines)
    assert 1 == table.n_blank


def xlsx_sheets(**sheets) -> bytes:
    book = openpyxl.Workbook()
    for at, (name, rows) in enumerate(sheets.items()):
        sheet = book.create_sheet(name, at)
        sheet.sheet_state = "hidden" if name.startswith("hidden") else "visible"
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def xls_sheets(**sheets) -> bytes:
    book = xlwt.Workbook()
    for name, rows in sheets.items():
        sheet = book.add_sheet(name)
        sheet.visibility = 1 if name.startswith("hidden") else 0
        for i, row in enumerate(rows):
            for j, cell in enumerate(row):
                sheet.write(i, j, cell)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


SHEETS = [(xlsx_sheets, "t.xlsx"), (xls_sheets, "t.xls")]


@pytest.mark.parametrize(("make", "name"), SHEETS)
def test_rows_on_more_than_one_sheet_are_refused_with_their_names(make, name) -> None:
    told = refused(make(crate_1=ROWS, empty=[], crate_2=[ROWS[0], ROWS[-1]]), name)

    assert "found rows on the sheets crate_1, crate_2, wanted rows on one" in told


@pytest.mark.parametrize(("make", "name"), SHEETS)
def test_empty_and_hidden_sheets_are_left_alone(make, name) -> None:
    assert GOOD == texts(make(empty=[], crate=ROWS, hidden_words=ROWS), name)
    assert GOOD == texts(make(hidden_words=ROWS[:1], crate=ROWS), name)


def xlsx_in_error() -> bytes:
    book = openpyxl.Workbook()
    for row in (["name", "n", "note", "other"], ["a", "#N/A", "x", "#REF!"]):
        book.active.append(row)
    for cell in book.active[2]:
        if cell.value.startswith("#"):
            cell.data_type = "e"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def xls_in_error() -> bytes:
    book = xlwt.Workbook()
    sheet = book.add_sheet("one")
    for at, name in enumerate(["name", "n", "note"]):
        sheet.write(0, at, name)
    sheet.write(1, 0, "a")
    sheet.row(1).set_cell_error(1, 0x2A)
    sheet.write(1, 2, "x")
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def ods_in_error(value: bytes) -> bytes:
    """Give a cell in error as an open format writes it, with what it says of it."""
    plain = ods_bytes([["name", "n", "note"], ["a", "#N/A", "x"]])
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(plain)) as packed,
        zipfile.ZipFile(out, "w") as spoilt,
    ):
        for item in packed.infolist():
            text = packed.read(item)
            if item.filename == "content.xml":
                text = text.replace(
                    b"<office:document-content ",
                    b'<office:document-content xmlns:calcext="urn:x" ',
                )
                was = b'office:value-type="string"><text:p>#N/A'
                assert was in text
                in_error = value + b' calcext:value-type="error"><text:p>#N/A'
                text = text.replace(was, in_error)
            spoilt.writestr(item, text)
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "name"),
    [
        (xlsx_in_error(), "t.xlsx"),
        (xls_in_error(), "t.xls"),
        (ods_in_error(b'office:value-type="string" office:string-value=""'), "t.ods"),
        (ods_in_error(b'office:value-type="float" office:value="0"'), "t.ods"),
        (b"name,n,note\na,#N/A,x\n", "t.csv"),
    ],
)
def test_a_cell_in_error_is_refused_with_its_place(content, name) -> None:
    with pytest.raises(BadFileError) as caught:
        problems = read_table(content, name, LOOSE).problems
        assert problems
        raise BadFileError(problems)

    (one,) = caught.value.problems
    assert ("n", "#N/A", 2, 2) == (one.where, one.found, one.line, one.column)


@pytest.mark.parametrize("text", ["#12", "N/A", "#a!", "# N/A", "Err: 502"])
def test_what_only_looks_like_an_error_is_kept(text) -> None:
    assert text == texts(f"name,n\n{text},1\n".encode())[0]["name"]


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_an_unmarked_encoding_is_asked_for(encoding) -> None:
    content = csv_bytes(ROWS, encoding=encoding)

    assert "encoding: " in refused(content)
    assert GOOD == texts(content, columns=Columns(encoding))


@pytest.mark.parametrize("encoding", ["idna", "a\0b", "hex", "punycode"])
def test_an_encoding_for_other_things_never_ends_in_a_traceback(encoding) -> None:
    try:
        read_table("name,n\né..,1\n".encode(), "t.csv", WANTED, Columns(encoding))
    except BadFileError as error:
        assert error.problems


def test_a_file_that_is_too_large_is_refused() -> None:
    assert "bytes" in refused(b"name,n\n" + b"a" * 20_000_000)


def test_a_blank_column_without_a_heading_is_no_problem() -> None:
    assert GOOD == texts(csv_bytes([[*row, "", ""] for row in ROWS]))
    assert "(blank)" in refused(csv_bytes([["name", "n", ""], ["a", "1", "x"]]))


def test_a_heading_may_be_left_alone_for_good() -> None:
    rows = [["name", "n", "Colour"], ["a", "1", "red"]]

    assert "unknown column Colour" in refused(csv_bytes(rows))
    assert [{"name": "a", "n": "1"}] == texts(
        csv_bytes(rows), columns=Columns(ignore=("colour",))
    )


def xlsx_formulas(**kind: str) -> bytes:
    """Give formulas as a program writes them that reckons none."""
    book = openpyxl.Workbook()
    for row in (["name", "n", "note"], ["a", "1", "x"], ['=A2&"b"', "2", "=A2"]):
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    return changed_sheet(
        out.getvalue(), lambda text: text.replace(b'"C3"', b'"C3"' + spelt(kind))
    )


def problems_of(content: bytes, name: str) -> str:
    return "\n".join(map(str, read_table(content, name, WANTED).problems))


def spelt(attributes: dict[str, str]) -> bytes:
    return "".join(f' {name}="{text}"' for name, text in attributes.items()).encode()


def changed_sheet(content: bytes, change) -> bytes:
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as packed,
        zipfile.ZipFile(out, "w") as other,
    ):
        for item in packed.infolist():
            text = packed.read(item)
            is_sheet = item.filename in {"xl/worksheets/sheet1.xml", "content.xml"}
            other.writestr(item.filename, change(text) if is_sheet else text)
    return out.getvalue()


def test_a_formula_that_nobody_reckoned_is_no_blank() -> None:
    told = problems_of(xlsx_formulas(), "t.xlsx")

    assert "3:1: name: found a formula that was never reckoned" in told
    assert "3:3: note: found a formula that was never reckoned" in told


def test_a_formula_that_came_to_nothing_is_a_blank() -> None:
    told = problems_of(xlsx_formulas(t="str"), "t.xlsx")

    assert "3:1: name" in told
    assert "note" not in told


@pytest.mark.parametrize("end", [b"/>", b"></table:table-cell>"])
def test_an_open_formula_that_nobody_reckoned_is_no_blank(end) -> None:
    plain = ods_bytes([["name", "n", "note"], ["a", "1", ""], ["", "2", "x"]])
    formula = b'<table:table-cell table:formula="of:=[.A2]"' + end

    def with_formula(text: bytes) -> bytes:
        rows = text.split(b"<table:table-row>")
        rows[3] = rows[3].replace(b"<table:table-cell/>", formula, 1)
        return b"<table:table-row>".join(rows)

    told = problems_of(changed_sheet(plain, with_formula), "t.ods")

    assert "3:1: name: found a formula that was never reckoned" in told


def test_a_number_that_a_spreadsheet_cut_is_refused_with_its_place() -> None:
    book = openpyxl.Workbook()
    for row in (["name", "n", "note"], [12345678901234567892, "1", 999999999999999]):
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)

    told = problems_of(out.getvalue(), "t.xlsx")

    assert "2:1: name: found 1.23456789012346E+19, wanted all digits" in told
    assert "note" not in told
    assert "wanted all digits" in problems_of(b"name,n,note\n1.20E+11,1,\n", "t.csv")
