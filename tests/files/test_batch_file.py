"""Is every device of a batch read or refused with its place?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from files_tables import csv_bytes, ods_bytes, xls_bytes, xlsx_bytes
from turnscrew.errors import BadFileError
from turnscrew.files.batch_file import read_batch

HEAD = [
    "line", "asset", "serial", "model", "rev", "site", "due_day", "reported", "found",
    "acc", "data", "remarks",
]  # fmt: skip
ROW = [
    "3", "SHN-0303", "PL3-71903", "L240", "B", "Night team", "4", "no keys, none",
    "L-KBD+L-FAN", "adapter+sleeve", "P", "",
]  # fmt: skip
CELLS = st.sampled_from(
    ["", " ", "1", "2", "-1", "0", "P", "Q", "a+b", "none", "1.5", "x;y", "é", "9" * 12]
)


def test_every_kind_of_file_gives_the_same_devices() -> None:
    rows = [HEAD, ROW, [""] * 12, ["4", *ROW[1:6], "", "", "", "none", "", "bent"]]
    quoted = [[f'"{cell}"' for cell in row] for row in rows]
    lines = read_batch(csv_bytes(quoted), "batch.csv")

    assert [(3, 2), (4, 4)] == [(line.line, line.row) for line in lines]
    assert ("L-KBD", "L-FAN") == lines[0].found
    assert ("adapter", "sleeve") == lines[0].accessories
    assert (None, (), (), "", "bent") == (
        lines[1].due_day,
        lines[1].found,
        lines[1].accessories,
        lines[1].data,
        lines[1].remarks,
    )
    assert lines == read_batch(xlsx_bytes(rows), "batch.xlsx")
    assert lines == read_batch(xls_bytes(rows), "batch.xls")
    assert lines == read_batch(ods_bytes(rows), "batch.ods")


def test_columns_may_bear_other_words() -> None:
    (line,) = read_batch(b"S/N;Type;Asset No.\nK7;L240;X1\n", "batch.csv")

    assert ("K7", "L240", "X1") == (line.serial, line.model, line.asset)


@pytest.mark.parametrize(
    ("numbers", "told"),
    [
        (["1", "", "3"], ["3:1 found nothing"]),
        (["x", "2", "1"], ["2:1 found x"]),
        (["2", "1.0", "2"], ["3:1 found 1.0", "4:1 found 2, as in row 2"]),
    ],
)
def test_a_number_is_whole_and_stands_once(numbers, told) -> None:
    rows = "".join(f"{number},K{n},L240\n" for n, number in enumerate(numbers))
    with pytest.raises(BadFileError) as caught:
        read_batch(f"line,serial,model\n{rows}".encode(), "batch.csv")

    assert told == [
        f"{p.line}:{p.column} found {p.found}" for p in caught.value.problems
    ]


@given(st.lists(st.lists(CELLS, min_size=12, max_size=12), max_size=6))
def test_no_device_is_dropped_and_every_problem_has_its_line(rows) -> None:
    n_filled = sum(any(cell.strip() for cell in row) for row in rows)
    try:
        lines = read_batch(csv_bytes([HEAD, *rows]), "batch.csv")
    except BadFileError as error:
        assert all(2 <= p.line <= len(rows) + 1 for p in error.problems)
        assert all(1 <= p.column <= 12 for p in error.problems)
    else:
        assert n_filled == len(lines)


def test_two_of_a_kind_that_came_are_two() -> None:
    table = b"serial,model,found,acc\nK7,L240,L-FAN+L-FAN,adapter+adapter+none+sleeve\n"
    (line,) = read_batch(table, "batch.csv")

    assert ("adapter", "adapter", "sleeve") == line.accessories
    assert ("L-FAN",) == line.found


def test_serials_that_nobody_could_read_are_blank_and_so_never_alike() -> None:
    rows = [f"{n},{told},V80" for n, told in enumerate(("unread", "n/a", "SHN-1"), 1)]
    text = "\n".join(["line,serial,model", *rows])

    assert ["", "", "SHN-1"] == [
        one.serial for one in read_batch(text.encode(), "b.csv")
    ]
