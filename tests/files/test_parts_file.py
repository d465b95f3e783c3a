"""Is every spare part read or refused with its place, and no figure guessed?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from files_tables import csv_bytes, xlsx_bytes
from turnscrew.errors import BadFileError
from turnscrew.files.parts_file import read_parts

HEAD = [
    "part", "description", "fits", "cost", "lead_days", "stock", "pack", "breaks",
    "supplier", "place", "free",
]  # fmt: skip
CELLS = st.sampled_from(
    ["", " ", "A", "L240 A+B", "V80 1", "R50", "1.50", "-1", "0", "7", "10: 2.10", "é"]
)


def problems(*cells: str) -> list[str]:
    row = [f'"{cell}"' for cell in cells]
    with pytest.raises(BadFileError) as caught:
        read_parts(csv_bytes([HEAD[: len(row)], row]), "parts.csv")
    return [f"{p.where}: {p.found}, {p.wanted}" for p in caught.value.problems]


@pytest.mark.parametrize(
    ("fits", "model", "revisions"),
    [
        ("L240 A+B", "L240", ("A", "B")),
        ("V80 1", "V80", ("1",)),
        ("R50", "R50", ()),
    ],
)
def test_it_reads_what_a_part_fits(fits, model, revisions) -> None:
    content = csv_bytes([HEAD[:6], ["A", "a", fits, "1.50", "2", "3"]])
    (part,) = read_parts(content, "parts.csv")

    assert (model, revisions, 150) == (part.model, part.revisions, part.cost_minor)


def test_it_reads_unit_point_and_whether_it_is_still_sold() -> None:
    head = [*HEAD, "unit", "reorder_point", "sold"]
    usual = ["R50", "1.50", "2", "3", "1", "", "", "", ""]
    rows = [["A", "a", *usual, "set", "4", "no"], ["B", "b", *usual, "", "", ""]]
    one, other = read_parts(csv_bytes([head, *rows]), "parts.csv")

    assert ("set", 4, True) == (one.unit, one.reorder_point, one.is_sold_no_more)
    assert ("piece", 0, False) == (
        other.unit, other.reorder_point, other.is_sold_no_more,
    )  # fmt: skip


def test_a_decimal_comma_is_shown_back_and_not_guessed() -> None:
    assert ["cost: 1,50, 1.50, if the comma means a point"] == problems(
        "A", "a", "R50", "1,50", "2", "3"
    )
    assert ["breaks: 10: 2,10, number: cost, such as 10: 2.10"] == problems(
        "A", "a", "R50", "1.50", "2", "3", "1", "10: 2,10"
    )


def test_a_part_is_free_only_where_somebody_says_so() -> None:
    rest = ["R50", "0.00", "2", "3", "1", "", "", ""]
    rows = [["A", "a", *rest, "yes"], ["B", "b", *rest, ""], ["C", "c", *rest, "no"]]
    parts = read_parts(csv_bytes([HEAD, *rows]), "parts.csv")

    assert [True, False, False] == [part.is_free for part in parts]
    for cost, found in (("1.50", "1.50"), ("", "no cost")):
        assert [f"free: yes beside {found}, a cost of 0"] == problems(
            "A", "a", "R50", cost, "2", "3", "1", "", "", "", "yes"
        )


@pytest.mark.parametrize("column", [5, 6])
def test_a_negative_quantity_is_refused(column) -> None:
    row = ["A", "a", "R50", "1.50", "2", "3", "1"]
    row[column] = "-1"

    (told,) = problems(*row)
    assert told.startswith(f"{HEAD[column]}: -1, ")


def test_all_problems_of_a_row_are_told_at_once() -> None:
    told = problems("", "", "L240 A B", "x", "-1", "-2", "0", "5: 2; 5: 1")

    assert [
        "part", "description", "fits", "cost", "lead_days", "stock", "pack", "breaks",
    ] == [one.partition(":")[0] for one in told]  # fmt: skip


def test_a_number_given_twice_is_told_with_both_rows() -> None:
    row = ["A", "a", "R50", "1.50", "2", "3"]
    with pytest.raises(BadFileError) as caught:
        read_parts(csv_bytes([HEAD[:6], row, ["B", *row[1:]], row]), "parts.csv")

    (problem,) = caught.value.problems
    assert (4, 1, "A, as in row 2") == (problem.line, problem.column, problem.found)


def test_numbers_of_a_spreadsheet_need_no_point() -> None:
    rows = [HEAD[:6], ["A", "a", "R50", 29.0, 3, 2], ["B", "b", "R50", 9.8, 5, 0]]
    parts = read_parts(xlsx_bytes(rows), "parts.xlsx")

    assert [(2900, 3, 2), (980, 5, 0)] == [
        (part.cost_minor, part.lead_days, part.stock) for part in parts
    ]


@given(st.lists(st.lists(CELLS, min_size=11, max_size=11), max_size=5))
def test_no_part_is_dropped_and_every_problem_has_its_line(rows) -> None:
    n_filled = sum(any(cell.strip() for cell in row) for row in rows)
    try:
        parts = read_parts(csv_bytes([HEAD, *rows]), "parts.csv")
    except BadFileError as error:
        assert all(2 <= p.line <= len(rows) + 1 for p in error.problems)
    else:
        assert n_filled == len(parts)
