"""Is a customer's own list read whole, whatever its headings?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from files_tables import csv_bytes, ods_bytes, xls_bytes, xlsx_bytes
from turnscrew.errors import BadFileError
from turnscrew.files.columns_file import Columns
from turnscrew.files.customer_list_file import WANTED, read_customer_list
from turnscrew.files.table_text import read_table

ROWS = [
    ["Devices of the house", "", "", ""],
    ["Team", "Serial no.", "Inventory tag", "Bought"],
    ["Office", "00359", "SHN-0359", "2026"],
    ["", "", "", ""],
    ["Ward", "PL3-1", "", ""],
]
CELLS = st.sampled_from(["", " ", "serial", "asset", "tag", "K7", "é", "1"])


@pytest.mark.parametrize("ends", [[], ["", ""]])
def test_a_heading_on_every_printed_page_is_no_device(ends) -> None:
    again = [*ROWS[1], *ends]
    rows = [*ROWS[:3], again, ROWS[4], ["Team", "Serial no.", "K7", ""]]
    listed = read_customer_list(csv_bytes(rows), "customer-list.csv")

    assert [(3, "00359"), (5, "PL3-1"), (6, "Serial no.")] == [
        (row.row, row.serial) for row in listed
    ]


@pytest.mark.parametrize(
    "total",
    [["Total", "60"], ["", "Summe:", "1'060"], ["Total: 60"], ["Sub-total", "", "2.5"]],
)
def test_a_row_that_adds_up_the_others_is_no_device(total) -> None:
    rows = [["serial", "asset", "model"], ["K7", "1", "R50"], total, ["K8", "", ""]]
    listed = read_customer_list(csv_bytes(rows), "customer-list.csv")

    assert [(2, "K7"), (4, "K8")] == [(row.row, row.serial) for row in listed]


@pytest.mark.parametrize(
    "device", [["Total", "", "R50"], ["60", "Total", ""], ["Count", "A7", ""], ["Sum"]]
)
def test_a_device_is_never_taken_for_a_sum(device) -> None:
    listed = read_customer_list(
        csv_bytes([["serial", "asset", "model"], device]), "customer-list.csv"
    )

    assert [device[0]] == [row.serial for row in listed]


@pytest.mark.parametrize(
    ("content", "name"),
    [
        (csv_bytes(ROWS), "customer-list.csv"),
        (csv_bytes(ROWS, ";", "utf-16"), "customer-list.csv"),
        (xlsx_bytes(ROWS), "customer-list.xlsx"),
        (xls_bytes(ROWS), "customer-list.xls"),
        (ods_bytes(ROWS), "customer-list.ods"),
    ],
)
def test_every_kind_of_file_gives_the_same_list(content, name) -> None:
    listed = read_customer_list(content, name)

    assert [(3, "00359", "SHN-0359", "Office"), (5, "PL3-1", "", "Ward")] == [
        (row.row, row.serial, row.asset, row.site) for row in listed
    ]


def test_what_is_not_ours_is_kept_as_text_and_titles_are_told() -> None:
    table = read_table(csv_bytes(ROWS), "customer-list.csv", WANTED)

    assert ({"Bought": "2026"}, {"Bought": ""}) == table.others
    assert ("Devices of the house",) == table.titles


def test_without_either_number_it_says_what_to_write_where() -> None:
    with pytest.raises(BadFileError) as caught:
        read_customer_list(b"Ward,Nurse\nNorth,x\n", "list.csv")
    told = str(caught.value)

    assert "only Ward, Nurse" in told
    assert "for list.csv in columns.yaml" in told
    assert "`their heading: serial`" in told


def test_a_remembered_heading_may_be_written_another_way() -> None:
    remembered = Columns(headings={"Kennung Nr.": "serial"})
    (row,) = read_customer_list(b"KENNUNG  NR\nK7\n", "list.csv", remembered)

    assert "K7" == row.serial


def test_a_device_is_never_taken_for_a_heading() -> None:
    content = b"Kennung,Was\nK7,old\nSerial,Tag\nK8,new\n"
    with pytest.raises(BadFileError, match="only Kennung, Was"):
        read_customer_list(content, "list.csv")


@given(st.lists(st.lists(CELLS, min_size=3, max_size=3), max_size=6))
def test_no_row_is_dropped(rows) -> None:
    listed = read_customer_list(csv_bytes([["serial", "asset", "x"], *rows]), "l.csv")

    assert sum(any(cell.strip() for cell in row) for row in rows) == len(listed)
