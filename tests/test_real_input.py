"""Do the examples on published input still print the figures that the docs show?"""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from real_input import loaded

ROOT = Path(__file__).resolve().parents[1]
DOC = (ROOT / "docs" / "real-input.md").read_text("utf-8")
EXAMPLES = loaded()


def rows_of(heading: str) -> list[list[str]]:
    """Give the cells of the table under a heading, its head left out."""
    section = DOC.split(f"## {heading}\n")[1].split("\n## ")[0]
    lines = [line for line in section.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines][2:]


def test_the_docs_show_the_published_examples_of_finding_a_fault() -> None:
    shown = [
        (row[0], float(row[2]), row[3])
        for row in rows_of("Published examples of finding a fault")
    ]
    found = EXAMPLES.troubleshooting()

    assert shown == [(one.name, one.printed, f"{one.here:.6f}") for one in found]
    assert {"optimal", "rolled back"} == {one.proof for one in found}


def test_the_docs_show_the_published_sequences_and_schedules() -> None:
    shown = [
        (row[0], float(row[1]), float(row[2]))
        for row in rows_of("Published sequences and schedules")
    ]
    found = [*EXAMPLES.sequencing(), *EXAMPLES.late_jobs()]

    assert shown == [(one.name, one.printed, one.here) for one in found]
    assert {"optimal"} == {one.proof for one in found}


def test_the_docs_show_the_year_of_ordering() -> None:
    shown = [
        (name, share, *(int(cell.replace(",", "")) for cell in cells))
        for name, share, *cells in rows_of("A shelf of parts for a year")
    ]
    found = EXAMPLES.shelf()

    assert shown == [
        (one.name, f"{one.served:.1%}".replace("%", " %"),
         round(one.held), round(one.ordered), round(one.cost))
        for one in found
    ]  # fmt: skip
    ours, *_ = found
    assert ours.served > max(one.served for one in found[2:])
    assert ours.cost < min(one.cost for one in found[2:])


def test_a_year_of_ordering_keeps_every_piece() -> None:
    """Play by hand: level 2, a month's lead, one wanted in each of twelve months."""
    served, held, ordered, waited = EXAMPLES.year_of([1] * 24, lambda _known: 2)

    assert (12, 0, 11) == (served, waited, ordered)
    # The first month ends with one left; later each parcel goes out as it comes.
    assert 1 / 12 == pytest.approx(held)


@pytest.mark.parametrize("words", [[], ["shoe"], ["shelf", "twice"]])
def test_it_says_what_it_can_be_asked(words) -> None:
    done = subprocess.run(
        [sys.executable, "examples/real_input.py", *words],
        cwd=ROOT, capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip

    assert 2 == done.returncode
    assert "real_input.py troubleshooting" in done.stderr


def test_it_prints_a_line_for_each_example() -> None:
    lines = EXAMPLES.told("late-jobs")

    assert 2 == len(lines)
    assert re.search(r"Moore 1968 +printed +2.00 +here +2.0+ +optimal", lines[1])
