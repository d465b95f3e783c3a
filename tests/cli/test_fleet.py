"""Do ``turnscrew fleet`` and ``turnscrew selfcheck`` say what was counted?"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from turnscrew.cli.fleet import cases

ROOT = Path(__file__).parents[2]
DATA = ROOT / "data" / "open_repairs.csv"


def turnscrew(*args: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "turnscrew", *args],
        capture_output=True, text=True, check=False, cwd=ROOT,
    )  # fmt: skip


def test_it_counts_an_open_record_and_refuses_rates() -> None:
    done = turnscrew("fleet", str(DATA))

    assert 0 == done.returncode
    assert "9,528 repairs, read as tagged extract; 0 odd fields" in done.stdout
    assert "Laptop: Fixed 2,654 (0.559, 0.547 to 0.571)" in done.stdout
    assert "prior of 30 cases" in done.stdout
    assert done.stdout.rstrip().endswith("are all there is.")


def test_it_gives_the_same_in_one_document() -> None:
    done = turnscrew("fleet", str(DATA), "--json")

    found = json.loads(done.stdout)
    assert (9528, []) == (found["n"], found["odd"])
    assert 2654 == found["outcomes"][0]["counts"]["Fixed"]


def test_it_names_every_problem_of_what_is_no_such_record(tmp_path) -> None:
    file = tmp_path / "record.csv"
    file.write_text("id,problem\n", encoding="utf-8")
    done = turnscrew("fleet", str(file))

    assert 2 == done.returncode
    assert "record.csv:1:1: heading: found nothing, wanted country" in done.stderr
    assert "Traceback" not in done.stderr
    assert 2 == turnscrew("fleet", str(tmp_path / "none.csv")).returncode


def test_it_lays_published_figures_beside_ours_with_their_sources() -> None:
    done = turnscrew("selfcheck")

    assert 0 == done.returncode, done.stdout
    assert f"{len(cases())} of {len(cases())} as printed" in done.stdout
    told = json.loads(turnscrew("selfcheck", "--json").stdout)
    assert all(one["source"].strip() for one in told)
    assert len({one["name"] for one in told}) == len(told)


@pytest.mark.parametrize("confidence", ["0", "1", "two"])
def test_it_refuses_a_confidence_that_is_none(confidence) -> None:
    assert 2 == turnscrew("fleet", str(DATA), "--confidence", confidence).returncode
