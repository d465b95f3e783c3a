"""
Does every command that prints take both sizes of paper, and keep to the field of both?

The field is what a sheet of either size holds with a margin of 10 mm: ISO 216 for A4
(210 x 297 mm), ANSI/ASME Y14.1 for letter (8.5 x 11 in).
"""

import shutil
from pathlib import Path

import pypdfium2
import pytest
from typer.main import get_command
from typer.testing import CliRunner

from paper_field import EDGE_MM, SHEET_MM, beyond_field_mm, size_mm
from turnscrew.cli.main import app

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SALLOWMERE = EXAMPLES / "sallowmere"
HISTORY = EXAMPLES / "fleet-history.csv"

N_PAPERS = {
    ("batch", SALLOWMERE, "--plays", 0): 12,
    ("batches", "north", "--plays", 0): 12,
    ("cards", SALLOWMERE / "people.yaml"): 3,
    ("demo",): 20,
    ("diagnose", SALLOWMERE / "pellorin-l240.faults.yaml", "--device",
     SALLOWMERE / "pellorin-l240.device.yaml", "--revision", "A", "--seconds", 0.1,
     "--sign", "will not charge"): 1,
    ("fleet", HISTORY, "--replace", "V80=389.00/5"): 1,
    ("fleets", HISTORY): 1,
    ("opening", SALLOWMERE / "tavistle-v80.device.yaml", "--reach", "camera"): 2,
}  # fmt: skip
"""Commands that print, and at least how many papers each makes."""


def test_every_command_that_prints_is_tried() -> None:
    commands = get_command(app).commands
    printing = {
        name
        for name, command in commands.items()
        if any(option.name == "paper" for option in command.params)
    }
    assert printing == {words[0] for words in N_PAPERS}


@pytest.mark.parametrize("words", N_PAPERS, ids=lambda words: words[0])
@pytest.mark.parametrize("paper", SHEET_MM)
def test_it_prints_on_both_papers_within_the_field_of_both(
    words, paper, tmp_path, monkeypatch
) -> None:
    shutil.copytree(SALLOWMERE, tmp_path / "north")
    monkeypatch.chdir(tmp_path)
    out = ("--pdf", "out.pdf") if words[0] == "fleet" else ("--out", "out")
    done = CliRunner().invoke(app, [*map(str, (*words, *out)), "--paper", paper])

    assert 0 == done.exit_code, done.output
    made = sorted(tmp_path.rglob("*.pdf"))
    assert len(made) >= N_PAPERS[words]
    for path in made:
        for n, sheet in enumerate(pypdfium2.PdfDocument(path), start=1):
            assert SHEET_MM[paper] == size_mm(sheet), path.name
            assert beyond_field_mm(sheet) < EDGE_MM, f"{path.name}, sheet {n}"
