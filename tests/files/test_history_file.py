"""How are closed jobs read?"""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from files_tables import csv_bytes, xlsx_bytes
from turnscrew.errors import BadFileError
from turnscrew.files.columns_file import Columns
from turnscrew.files.history_file import read_history

ROOT = Path(__file__).resolve().parents[2]
HEAD = "end,findings,family,confirmed,signs,day\n"


def problems(text: str) -> list[tuple[int, str]]:
    with pytest.raises(BadFileError) as caught:
        read_history(text.encode())
    return [(problem.line, problem.where) for problem in caught.value.problems]


def test_it_reads_columns_by_name_in_any_order() -> None:
    text = (
        HEAD + "mended,volts=low; change lead=mended,Box,lead,dead; hums,2026-03-02\n"
    )

    (job,) = read_history(text.encode())

    assert (("volts", "low"), ("change lead", "mended")) == job.findings
    assert ("dead", "hums") == job.signs
    assert date(2026, 3, 2) == job.day


def test_it_lists_every_problem_with_its_line() -> None:
    text = (
        HEAD
        + "mendd,,Box,lead,,\n"
        + "mended,volts,Box,,,\n"
        + "mended,a=b,Box,lead,,2026-13-01\n"
        + "mended,a=b\n"
    )

    found = problems(text)

    assert [
        (2, "end"),
        (3, "findings"),
        (3, "confirmed"),
        (4, "day"),
        (5, "row"),
    ] == found


def test_it_refuses_unknown_and_missing_columns() -> None:
    assert [(1, "heading"), (1, "heading")] == problems("family,findings,finish\n")


def test_it_reads_the_example() -> None:
    text = (ROOT / "examples" / "workshop-history.csv").read_text("utf-8")

    assert len(read_history(text.encode())) == len(text.splitlines()) - 1


def test_it_reads_serial_and_parts_and_needs_no_findings() -> None:
    text = "end,family,serial,parts\nno fault found,Box,K-7,C-FN; T-AD;\n"
    (job,) = read_history(text.encode())

    assert ("K-7", ("C-FN", "T-AD"), ()) == (job.serial, job.parts, job.findings)


def test_it_reads_other_encodings_and_spreadsheets() -> None:
    rows = [["family", "end", "site"], ["Box", "written off", "é"]]
    wanted = read_history(csv_bytes(rows))

    assert wanted == read_history(csv_bytes(rows, ";", "utf-16"))
    assert wanted == read_history(csv_bytes(rows, encoding="utf-8-sig"))
    assert wanted == read_history(
        csv_bytes(rows, encoding="cp1252"), columns=Columns("cp1252")
    )
    assert wanted == read_history(xlsx_bytes(rows), "history.xlsx")


@pytest.mark.parametrize("day", ["20260302", "2026-W10-1", "2026-3-2", "2.3.2026"])
def test_a_day_is_written_in_one_way(day) -> None:
    text = f"family,end,day\nBox,written off,{day}\n"

    assert [(2, "day")] == problems(text)


def test_a_job_names_its_family() -> None:
    assert [(2, "family")] == problems("family,end\n,written off\n")


@given(
    st.lists(
        st.lists(
            st.sampled_from(
                ["", "Box", "mended", "written off", "a=b", "a;b", "=", "é"]
            ),
            min_size=6,
            max_size=6,
        ),
        max_size=6,
    )
)
def test_no_job_is_dropped(rows) -> None:
    content = HEAD.encode() + csv_bytes(rows)
    try:
        jobs = read_history(content)
    except BadFileError as error:
        assert all(2 <= p.line <= len(rows) + 1 for p in error.problems)
    else:
        assert sum(any(row) for row in rows) == len(jobs)
