"""Is a list that cannot be understood asked about once, and then remembered?"""

import shutil
from pathlib import Path

import pytest

from turnscrew.cli.batch_folder import folder_from, remember
from turnscrew.cli.main import run
from turnscrew.errors import BadFileError

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "sallowmere"


@pytest.fixture(name="folder")
def odd_folder(tmp_path) -> Path:
    """The example with a list of strange headings in a strange encoding."""
    folder = tmp_path / "batch"
    shutil.copytree(FOLDER, folder)
    (folder / "columns.yaml").unlink()
    text = (folder / "customer-list.csv").read_text("utf-8")
    head, rest = text.split("\n", 1)
    assert "Team,Device,Version,Serial no.,Inventory tag" == head
    odd = "Ort,Ger\u00e4t,Stand,Nummer,Schild\n" + rest
    (folder / "customer-list.csv").write_bytes(odd.encode("cp1252"))
    return folder


def test_it_asks_once_and_remembers(folder) -> None:
    with pytest.raises(BadFileError):
        folder_from(folder)
    asked: list[str] = []
    answers = iter(["cp1252", "5", "4", "2", "3", "1"])

    def ask(question: str) -> str:
        asked.append(question)
        return next(answers)

    remember(folder, "customer-list.csv", ask)

    assert 6 == len(asked)
    assert "1 Ort, 2 Ger\u00e4t" in asked[1]
    listed = folder_from(folder).listed
    assert (60, "SHN-0103", "PL3-18152") == (
        len(listed),
        listed[0].asset,
        listed[0].serial,
    )


def test_without_a_terminal_it_says_what_to_write(folder, capsys) -> None:
    with pytest.raises(SystemExit) as ended:
        run(["batch", str(folder)])

    assert 2 == ended.value.code
    assert "a line `encoding: cp1252` for this file" in capsys.readouterr().err


def test_an_answer_of_none_leaves_the_column_out(folder) -> None:
    answers = iter(["cp1252", "", "4", "none", "99", ""])
    remember(folder, "customer-list.csv", lambda _question: next(answers))
    listed = folder_from(folder).listed

    assert ("", "PL3-18152", "") == (
        listed[0].asset,
        listed[0].serial,
        listed[0].model,
    )


@pytest.mark.parametrize(
    "name",
    [
        "", "batch.csv", "parts.csv", "terms.yaml", "people.yaml", "columns.yaml",
        "customer-list.csv", "history.csv",
    ],
)  # fmt: skip
def test_check_takes_the_folder_and_each_of_its_files(capsys, name) -> None:
    with pytest.raises(SystemExit) as ended:
        run(["check", str(FOLDER / name)])

    assert 0 == ended.value.code
    assert "clean" in capsys.readouterr().out


def test_check_names_the_line_of_what_does_not_fit(capsys, tmp_path) -> None:
    path = tmp_path / "parts.csv"
    path.write_text("part,description,fits,cost,lead_days,stock\nA,a,L240 A,x,1,1\n")
    with pytest.raises(SystemExit) as ended:
        run(["check", str(path)])

    assert 2 == ended.value.code
    assert f"{path}:2:4: cost: found x" in capsys.readouterr().err


def test_check_reads_the_descriptions_that_lie_in_the_folder(capsys, tmp_path) -> None:
    for one in FOLDER.iterdir():
        (tmp_path / one.name).write_bytes(one.read_bytes())
    path = tmp_path / "pellorin-l240.device.yaml"
    path.write_text(path.read_text("utf-8") + "colour: grey\n", "utf-8")
    with pytest.raises(SystemExit) as ended:
        run(["check", str(tmp_path)])

    told = capsys.readouterr()
    assert 2 == ended.value.code
    assert f"{path}:" in told.err
    terms = tmp_path / "terms.yaml"
    terms.write_text(terms.read_text("utf-8") + "colour: grey\n", "utf-8")
    with pytest.raises(SystemExit):
        run(["check", str(tmp_path)])
    both = capsys.readouterr().err
    assert "terms.yaml:" in both
    assert f"{path}:" in both
    assert "colour" in told.err
    assert "clean" not in told.out
