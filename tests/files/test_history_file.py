"""How are closed jobs read?"""

from datetime import date
from pathlib import Path

import pytest

from turnscrew.errors import BadFileError
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
