"""Does the one command for benchmarks set the peers apart, and the table tell all?"""

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def table() -> ModuleType:
    spec = importlib.util.spec_from_file_location(
        "benchmark_table", ROOT / "benchmarks" / "table.py"
    )
    module = importlib.util.module_from_spec(spec)
    # What it describes are data classes, which look their module up.
    sys.modules[spec.name] = module
    before = list(sys.path)
    spec.loader.exec_module(module)
    sys.path[:] = before
    return module


def test_a_row_tells_ours_the_peer_ratio_and_growth(table) -> None:
    row = table.Row("fit", "1,000 rows", 0.004, "peer 1.0", 1.0, 0.5, "so")

    assert row.cells == [
        "fit", "1,000 rows", "4 ms", "peer 1.0", "1 s", "250", "0.50", "so",
    ]  # fmt: skip
    assert ["", "", "", "", ""] == table.Row("fit", "9", 2.0).cells[3:]


def test_growth_is_the_power_of_the_size(table) -> None:
    assert 2.0 == pytest.approx(table.exponent([10, 1000], [1.0, 10_000.0]))


def test_the_readme_shows_the_newest_figures_with_their_day(table) -> None:
    newest = (ROOT / "benchmarks" / "newest.md").read_text("utf-8")
    shown = (ROOT / "README.md").read_text("utf-8").split(table.BEGIN)[1]
    shown = shown.split(table.END)[0]
    day = newest.split("\n\n")[1].split(",")[0]

    assert day in shown
    rows = [line for line in newest.splitlines() if line.startswith("|")]
    assert rows
    assert [] == [row for row in rows if row not in shown]
    for fact in ("processor", "memory", "python", "load before and after"):
        assert f"- {fact}: " in newest


def test_the_peers_lie_apart_and_are_set_up_once(
    start,
    monkeypatch,
    tmp_path,
) -> None:
    asked, ran = [], []
    monkeypatch.setattr(start, "install", lambda lock: asked.append(lock))
    monkeypatch.setattr(start, "VENV", tmp_path)

    def pip(*words: str) -> None:
        asked.append(words)
        (tmp_path / "peers").mkdir()

    class Done:
        returncode = 0

    def run(words, **more):
        ran.append((words, more["env"]["PYTHONPATH"]))
        return Done

    monkeypatch.setattr(start, "_pip", pip)
    monkeypatch.setattr(start.subprocess, "run", run)
    assert 0 == start.main(["benchmark", "--quick"])
    assert 0 == start.main(["benchmark"])

    locks = [one for one in asked if isinstance(one, tuple)]
    assert 1 == len(locks)
    assert ("--require-hashes", "--target", str(tmp_path / "peers")) == locks[0][:3]
    assert "--quick" == ran[0][0][-1]
    assert ran[0][1].startswith(str(tmp_path / "peers"))
