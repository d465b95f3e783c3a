"""Does ``turnscrew follows`` blame the right accessory, and nobody without reason?"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from turnscrew.errors import BadFileError
from turnscrew.files.spells_file import read_spells

ROOT = Path(__file__).parents[2]


def follows(*args: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "turnscrew", "follows", *args],
        capture_output=True, encoding="utf-8", check=False, cwd=ROOT,
    )  # fmt: skip


def test_it_names_the_adapter_that_carries_the_fault() -> None:
    done = follows("examples/adapter-spells.csv")

    assert 0 == done.returncode, done.stderr
    # The example was drawn with adapter 5 failing seven times as often (invented).
    assert done.stdout.startswith("Failures follow adapter 5: ")
    assert 1 == done.stdout.count("Failures follow adapter")
    assert "Take it out of use and mark it." in done.stdout
    assert "do not plug it in to see" in done.stdout


def test_it_blames_nobody_without_reason(tmp_path) -> None:
    file = tmp_path / "spells.csv"
    rows = [f"D{k},A{k % 3},{k % 2}\nD{k},A{(k + 1) % 3},1" for k in range(8)]
    file.write_text("\n".join(["device,carrier,failures", *rows]), encoding="utf-8")
    told = json.loads(follows(str(file), "--json").stdout)

    assert "Failures follow none of the 3 beyond chance." == told["says"][0]
    assert "permutation" == told["null"]
    file.write_text("device,carrier,failures\nD1,A1,3\n", encoding="utf-8")
    assert "Nothing to compare" in follows(str(file)).stdout


def test_it_names_every_wrong_cell() -> None:
    table = b"device,carrier,failures,days\n,A1,1,5\nD2,,x,0\nD3,A1,,\n"
    with pytest.raises(BadFileError) as told:
        read_spells(table)

    lines = [str(problem) for problem in told.value.problems]
    for line, where in (
        (2, "device"),
        (3, "carrier"),
        (3, "failures"),
        (3, "days"),
        (4, "failures"),
        (4, "days"),
    ):
        assert any(f":{line}:" in one and where in one for one in lines), (line, where)
