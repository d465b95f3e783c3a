"""How are open counts of signs read?"""

from pathlib import Path

import pytest

from files_tables import csv_bytes, xlsx_bytes
from turnscrew.errors import BadFileError
from turnscrew.files.symptom_counts_file import is_symptom_counts, read_symptom_counts

DATA = Path(__file__).resolve().parents[2] / "data"
HEAD = "device,fault_type,symptom_tag,count\n"
GOOD = HEAD + "laptop,Boot,(any text),9\nlaptop,Boot,boot,5\ntablet,Boot,(any text),0\n"


def problems(text: str) -> list[tuple[int, str, str, str]]:
    with pytest.raises(BadFileError) as caught:
        read_symptom_counts(text.encode())
    return [(p.line, p.where, p.found, p.wanted) for p in caught.value.problems]


def test_it_reads_counts_by_category_and_sort() -> None:
    wanted = {("laptop", "Boot"): {"": 9, "boot": 5}, ("tablet", "Boot"): {"": 0}}

    assert wanted == read_symptom_counts(GOOD.encode())


def test_it_reads_other_separators_and_sheets() -> None:
    rows = [line.split(",") for line in GOOD.splitlines()]
    wanted = read_symptom_counts(GOOD.encode())

    assert wanted == read_symptom_counts(csv_bytes(rows, ";", "utf-16"))
    assert wanted == read_symptom_counts(xlsx_bytes(rows), "counts.xlsx")


@pytest.mark.parametrize(
    ("rows", "line", "where", "said"),
    [
        ("laptop,Boot,(any text),x", 2, "count", "a whole number"),
        ("laptop,Boot,(any text),-1", 2, "count", "a whole number"),
        ("laptop,Boot,(any text),1.5", 2, "count", "a whole number"),
        ("laptop,Boot,(any text),", 2, "count", "something"),
        (",Boot,(any text),1", 2, "device", "something"),
        ("laptop,,(any text),1", 2, "fault_type", "something"),
        ("laptop,Boot,,1", 2, "symptom_tag", "something"),
        ("laptop,Boot,(any text)", 2, "row", "4"),
        ("laptop,Boot,boot,1", 2, "fault_type", "a row (any text)"),
        ("laptop,Boot,(any text),1\nlaptop,Boot,boot,2", 3, "count", "at most 1"),
        (
            "laptop,Boot,(any text),1\nlaptop,Boot,(any text),1",
            3,
            "symptom_tag",
            "each once",
        ),
    ],
)
def test_it_tells_what_does_not_fit_at_its_line(rows, line, where, said) -> None:
    found = problems(HEAD + rows + "\n")

    assert [(line, where)] == [one[:2] for one in found]
    assert said in found[0][3]


def test_it_tells_every_problem_at_once() -> None:
    text = HEAD + "laptop,Boot,(any text),x\n,Boot,boot,1\nlaptop,Case,hinge,1.5\n"

    assert [2, 3, 4] == [one[0] for one in problems(text)]


def test_it_refuses_a_table_without_its_columns() -> None:
    assert [(1, "heading")] == [
        one[:2] for one in problems("device,fault_type,symptom_tag\nx,y,z\n")
    ]


def test_it_tells_counts_from_records() -> None:
    assert is_symptom_counts(GOOD.encode())
    assert is_symptom_counts("\ufeffcount;symptom_tag\r\n".encode())
    assert is_symptom_counts((DATA / "symptom_by_fault_counts.csv").read_bytes())
    assert not is_symptom_counts((DATA / "open_repairs.csv").read_bytes())
    assert not is_symptom_counts(b"")


def test_it_reads_the_counts_that_ship() -> None:
    """Texts per category; source: counted apart from the program, data/LICENCES.md."""
    counts = read_symptom_counts((DATA / "symptom_by_fault_counts.csv").read_bytes())

    texts = {
        device: sum(of[""] for (name, _), of in counts.items() if name == device)
        for device in ("laptop", "tablet", "mobile")
    }
    assert {"laptop": 2828, "tablet": 647, "mobile": 1664} == texts
