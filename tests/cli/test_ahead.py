"""Is a next batch foretold from the folder of one that is known?"""

import json
import re
import shutil
from pathlib import Path

import pytest

from turnscrew.cli.main import run

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "sallowmere"


def told(capsys, *args: str, folder: Path = FOLDER, code: int = 0) -> str:
    with pytest.raises(SystemExit) as ended:
        run(["batch", str(folder), *args])
    said = capsys.readouterr()
    assert code == ended.value.code, said.err
    return said.out if code == 0 else said.err


def test_it_tells_minutes_parts_and_how_they_were_reckoned(capsys) -> None:
    text = told(capsys, "--to-come", "40 V80", "--to-come", "20 L240 by day 4")

    assert "60 devices to come under the terms of Sallowmere" in text
    assert re.search(r"40 V80: [\d,]+ min, in eight cases of ten", text)
    assert "the fault table counts as 30 more" in text
    assert re.search(r"T-AD .*: [\d.]+, from \d+ to \d+; 10 in stock", text)


def test_it_gives_the_same_as_json(capsys) -> None:
    given = json.loads(told(capsys, "--to-come", "10 R50", "--json"))

    assert ["R50"] == [one["model"] for one in given["models"]]
    assert given["total"]["mean"] == given["models"][0]["total"]["mean"] > 10 * 24


def test_without_descriptions_only_what_was_met_counts(capsys, tmp_path) -> None:
    for name in ("batch.csv", "parts.csv", "terms.yaml", "people.yaml"):
        shutil.copy(FOLDER / name, tmp_path / name)
    text = told(capsys, "--to-come", "10 V80", folder=tmp_path)

    met = "from 26 devices of it met before, in this batch and before it"
    assert f"{met}; minutes as the terms set them" in text


def test_it_refuses_what_it_cannot_know(capsys) -> None:
    text = told(capsys, "--to-come", "4 V81", "--to-come", "V80", code=2)

    assert 'to come: found 4 V81, wanted perhaps "V80"' in text
    assert "how many of V80" in text
    alone = told(capsys, "--to-come", "SHN-0001", code=2)
    assert "found SHN-0001, wanted a count and a model" in alone
