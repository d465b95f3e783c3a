"""Are many workshops reckoned at once as each would be alone, wherever it is done?"""

import json
import shutil
from pathlib import Path

import pytest

from shell import turnscrew
from turnscrew.cli import many
from turnscrew.cli.batch import Wish
from turnscrew.cli.fleet_history import Options
from turnscrew.cli.main import OUR_BUG

ROOT = Path(__file__).resolve().parents[2]
SALLOWMERE = ROOT / "examples" / "sallowmere"
HISTORY = ROOT / "examples" / "fleet-history.csv"


@pytest.fixture
def folders(tmp_path) -> list[Path]:
    """Give three workshops: two of one batch, the second of which buys dearer."""
    made = [tmp_path / name for name in ("north", "south", "west")]
    for folder in made:
        shutil.copytree(SALLOWMERE, folder)
    parts = made[1] / "parts.csv"
    parts.write_text(parts.read_text("utf-8").replace(",18.00,", ",28.00,"), "utf-8")
    (made[2] / "batch.csv").write_text("nothing\n", "utf-8")
    return made


def test_it_reckons_each_folder_as_it_would_alone_here_and_on_dask(folders) -> None:
    words = ("batches", *folders, "--plays", 0, "--json")
    here = turnscrew(*words)
    spread = turnscrew(*words, "--engine", "dask", "--workers", 2)
    alone = turnscrew("batch", folders[0], "--plays", 0, "--json")

    assert (1, 1, 0) == (here.returncode, spread.returncode, alone.returncode)
    assert here.stdout == spread.stdout
    told = json.loads(here.stdout)
    assert ["north", "south", "west"] == list(told)
    assert json.loads(alone.stdout) == told["north"]
    assert any("batch.csv:1:1" in problem for problem in told["west"]["problems"])


def test_it_writes_the_papers_of_each_and_goes_on_past_a_bad_one(
    folders, tmp_path
) -> None:
    out = tmp_path / "out"
    done = turnscrew("batches", *reversed(folders), "--plays", 0, "--out", out)

    assert 1 == done.returncode
    lines = done.stdout.splitlines()
    assert "west: not reckoned" == lines[0]
    assert "60 devices, 8 to ask, 8 donors" in lines[-1]
    # The golden figure of the invented demo batch.
    assert "invoice before tax 3,712.18 cu" in lines[-1]
    assert {"north", "south"} == {path.name for path in out.iterdir()}
    assert 13 <= len(list((out / "north").iterdir()))
    assert "3 of 3: north" in done.stderr


def test_it_refuses_two_workshops_of_one_name(folders, tmp_path) -> None:
    again = tmp_path / "else" / "north"
    shutil.copytree(SALLOWMERE, again)
    done = turnscrew("batches", folders[0], again)

    assert 2 == done.returncode
    assert "found two of the name north" in done.stderr


def test_it_reports_on_each_fleet_by_itself(tmp_path) -> None:
    for name in ("north", "south"):
        shutil.copy(HISTORY, tmp_path / f"{name}.csv")
    (tmp_path / "west.csv").write_text("unit,model\n1,\n", "utf-8")
    paths = [tmp_path / f"{name}.csv" for name in ("north", "west", "gone", "south")]
    here = turnscrew("fleets", *paths, "--out", tmp_path / "out", "--json")
    spread = turnscrew("fleets", *paths, "--engine", "dask", "--json")
    alone = turnscrew("fleet", paths[0], "--json")

    assert (1, 1) == (here.returncode, spread.returncode)
    assert here.stdout == spread.stdout
    told = json.loads(here.stdout)
    assert json.loads(alone.stdout) == told["north"]
    assert told["south"]["causes"] == told["north"]["causes"]
    assert told["west"]["problems"]
    assert "No such file" in told["gone"]["problems"][0]
    printed = tmp_path / "out"
    assert {"north.pdf", "south.pdf"} == {path.name for path in printed.iterdir()}


@pytest.mark.parametrize("as_json", [False, True])
def test_our_own_fault_in_one_folder_ends_no_other(
    folders, monkeypatch, capsys, as_json
) -> None:
    real = many.answered

    def answered(wish, batch):
        if wish.folder.name == "north":
            raise RuntimeError("the referee rejects the plan")
        return real(wish, batch)

    monkeypatch.setattr(many, "answered", answered)
    wish = Wish(folder=Path(), n_plays=0, effort=0, as_json=as_json)
    code = many.batches(folders, wish, engine="here", n_workers=1)

    out, err = capsys.readouterr()
    assert OUR_BUG == many.OUR_BUG == code
    assert "north: our bug, please report it with the lines below" in err
    assert "RuntimeError: the referee rejects the plan" in err
    if as_json:
        told = json.loads(out)
        assert ["our bug, please report it with the lines below"] == (
            told["north"]["problems"]
        )
        assert "problems" not in told["south"]
        return
    assert "north: not reckoned\n  our bug, please report it" in out
    assert "south: 60 devices" in out
    assert "west: not reckoned" in out


def test_our_own_fault_in_one_history_ends_no_other(
    tmp_path, monkeypatch, capsys
) -> None:
    for name in ("north", "south"):
        shutil.copy(HISTORY, tmp_path / f"{name}.csv")
    real = many.reported

    def reported(paths, options):
        if paths[0].stem == "north":
            raise ZeroDivisionError("nothing to divide by")
        return real(paths, options)

    monkeypatch.setattr(many, "reported", reported)
    options = Options(
        confidence=0.9, term_days=91, target=0.95, replace=(), pdf=None, title="",
        paper="a4", engine="here", n_workers=1, as_json=False,
    )  # fmt: skip
    paths = [tmp_path / "north.csv", tmp_path / "south.csv"]
    code = many.fleets(paths, options, None)

    out, err = capsys.readouterr()
    assert OUR_BUG == code
    assert "ZeroDivisionError: nothing to divide by" in err
    assert "south: " in out.splitlines()[-1]
    assert "failures in " in out.splitlines()[-1]


def test_it_says_how_many_cannot_be_planned(folders, capsys) -> None:
    people = folders[0] / "people.yaml"
    lines = people.read_text("utf-8").splitlines(keepends=True)
    kept = [line for line in lines if "skills:" not in line]
    assert len(kept) < len(lines)
    people.write_text("".join(kept), "utf-8")
    wish = Wish(folder=Path(), n_plays=0, effort=0)

    assert 0 == many.batches(folders[:2], wish, engine="here", n_workers=1)
    north, south = capsys.readouterr().out.splitlines()
    assert north.endswith(" late by the hand rule, 19 cannot be planned")
    assert south.endswith(" late by the hand rule")
