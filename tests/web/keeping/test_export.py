"""Can a stranger read the records, and do they come back equal?"""

import csv
import json
import re
import zipfile
from pathlib import Path

import pytest

from turnscrew.web.keeping.cells import cell, told
from web.keeping.workshop import Workshop


@pytest.fixture(scope="module")
def exported_from(workshops, pattern, tmp_path_factory) -> tuple[Path, Workshop]:
    """Give an export of the example with awkward words in it, and its origin."""
    folder = tmp_path_factory.mktemp("exported")
    workshop = workshops.copy_of(pattern, folder / "records")
    (workshop.home / "photos").mkdir()
    (workshop.home / "photos" / "ab12.webp").write_bytes(b"picture")
    workshop.write("awkward")
    done = workshop.turnscrew("export", folder / "out")
    assert (0, "") == (done.returncode, done.stderr)
    return folder / "out", workshop


@pytest.fixture
def exported(exported_from, tmp_path) -> Path:
    """Give a copy of the export to spoil."""
    copy = tmp_path / "out"
    for path in exported_from[0].rglob("*"):
        if path.is_file():
            target = copy / path.relative_to(exported_from[0])
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(path.read_bytes())
    return copy


@pytest.fixture
def clean(workshops, tmp_path) -> Workshop:
    return workshops.empty(tmp_path / "clean")


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+1", "-1", "@a", "\ta", "\ra", "'=1", "''=1", "'a", "a=1", "", "-", "'"],
)
def test_it_takes_away_what_it_put_before_a_formula(text) -> None:
    assert not re.match(r"[=+\-@\t\r]", cell(text))
    assert text == told(cell(text))


def test_it_spells_every_table_twice_with_the_same_rows(exported_from) -> None:
    folder, _ = exported_from
    names = {path.stem for path in (folder / "tables").iterdir()}

    assert {"records_entry", "records_job", "records_historicaljob"} <= names
    for name in names:
        rows = json.loads((folder / "tables" / f"{name}.json").read_text("utf-8"))
        sheet = folder / "tables" / f"{name}.csv"
        with sheet.open(newline="", encoding="utf-8") as lines:
            head, *cells = csv.reader(lines)
        assert [list(row) for row in rows[:1]] in ([head], [])
        assert [[cell(row[column]) for column in head] for row in rows] == cells


def test_it_explains_itself_to_a_stranger(exported_from) -> None:
    folder, _ = exported_from
    told_there = (folder / "README.txt").read_text("utf-8")

    for path in (folder / "tables").glob("*.csv"):
        assert re.search(rf"^{path.stem}: \d+ rows\. .", told_there, re.MULTILINE)
    assert "records_customer: 1 rows. Customer: An institution" in told_there


def test_it_leaves_no_cell_that_a_spreadsheet_would_reckon(exported_from) -> None:
    folder, _ = exported_from
    n_cells = n_apostrophes = 0
    for path in (folder / "tables").glob("*.csv"):
        with path.open(newline="", encoding="utf-8") as lines:
            for text in (text for row in csv.reader(lines) for text in row):
                n_cells += 1
                n_apostrophes += text.startswith("'=")
                is_number = re.fullmatch(r"-\d+(\.\d+)?", text)
                is_safe = is_number or not re.match(r"[=+\-@\t\r]", text)
                assert is_safe, (path.name, text)

    assert n_cells > 1000
    assert n_apostrophes > 0


@pytest.mark.parametrize("number", [-1456, -0.5, 0, 7768])
def test_a_number_stays_one_that_can_be_added_up(number) -> None:
    assert number == float(cell(number))
    assert cell(number) == told(cell(number))
    # As a text it is what somebody wrote, and read as written.
    assert f"'{number}" == cell(str(number)) or number >= 0


def test_it_takes_no_password_session_or_token_along(exported_from) -> None:
    folder, workshop = exported_from
    secrets = workshop.write("secrets").stdout.split()
    content = b"".join(path.read_bytes() for path in folder.rglob("*.*"))
    names = {path.stem for path in (folder / "tables").iterdir()}

    assert len(secrets) >= 4
    assert [] == [one for one in secrets if one.encode() in content]
    assert set() == names & {"records_apitoken", "records_signinlink", "django_session"}


def test_it_comes_back_equal(exported_from, clean) -> None:
    folder, workshop = exported_from
    done = clean.turnscrew("import", folder)

    assert (0, "") == (done.returncode, done.stderr)
    assert "whole" == done.stdout.splitlines()[-1]
    assert workshop.write("open_tables").stdout == clean.write("open_tables").stdout
    assert b"picture" == (clean.home / "photos" / "ab12.webp").read_bytes()
    assert 0 == clean.turnscrew("sign-in-link", "lead").returncode
    clean.write("promise_now", 1, 2)
    assert 0 == clean.turnscrew("audit").returncode


def test_it_comes_back_equal_from_the_sheets_alone(
    exported, exported_from, clean
) -> None:
    for path in (exported / "tables").glob("*.json"):
        path.unlink()
    done = clean.turnscrew("import", exported)

    assert (0, "") == (done.returncode, done.stderr)
    workshop = exported_from[1]
    assert workshop.write("open_tables").stdout == clean.write("open_tables").stdout


def test_it_comes_back_equal_from_an_archive(exported_from, clean, tmp_path) -> None:
    workshop = exported_from[1]
    workshop.turnscrew("export", tmp_path / "out.zip")
    done = clean.turnscrew("import", tmp_path / "out.zip")

    assert (0, "") == (done.returncode, done.stderr)
    assert workshop.write("open_tables").stdout == clean.write("open_tables").stdout


def test_it_goes_to_the_other_database_and_back(
    exported_from, workshops, tmp_path
) -> None:
    # Where the suite runs on SQLite this is the way there twice.
    folder, workshop = exported_from
    there = workshops.empty(tmp_path / "there", address="")
    back = workshops.empty(tmp_path / "back")
    assert 0 == there.turnscrew("import", folder).returncode
    assert 0 == there.turnscrew("export", tmp_path / "again").returncode
    assert 0 == back.turnscrew("import", tmp_path / "again").returncode

    tables = workshop.write("open_tables").stdout
    assert tables == there.write("open_tables").stdout
    assert tables == back.write("open_tables").stdout


def test_it_overwrites_nothing(exported_from) -> None:
    folder, workshop = exported_from
    done = workshop.turnscrew("export", folder)

    assert 1 == done.returncode
    assert "found something there, wanted a new name" in done.stderr


def test_it_imports_over_nothing(exported_from) -> None:
    folder, workshop = exported_from
    done = workshop.turnscrew("import", folder)

    assert 1 == done.returncode
    assert "wanted a new folder" in done.stderr
    assert 0 == workshop.turnscrew("audit").returncode


def lose_table(folder: Path) -> None:
    for path in (folder / "tables").glob("records_part.*"):
        path.unlink()


def spoil_row(folder: Path) -> None:
    path = folder / "tables" / "records_part.json"
    path.write_text(path.read_text("utf-8").replace('"on_hand": ', '"on_hand": x', 1))


def add_column(folder: Path) -> None:
    path = folder / "tables" / "records_part.json"
    path.write_text(
        path.read_text("utf-8").replace('{"id"', '{"colour": "red", "id"', 1)
    )


def spoil_number(folder: Path) -> None:
    path = folder / "tables" / "records_part.json"
    path.write_text(
        re.sub(
            r'"on_hand": -?\d+', '"on_hand": "lots"', path.read_text("utf-8"), count=1
        )
    )


def empty_table(folder: Path) -> None:
    (folder / "tables" / "records_customer.json").write_text("[\n]\n")


def lose_customer(folder: Path) -> None:
    empty_table(folder)
    path = folder / "about.json"
    about = json.loads(path.read_text("utf-8"))
    about["rows"]["records_customer"] = 0
    path.write_text(json.dumps(about))


def cut_between_rows(folder: Path) -> None:
    path = folder / "tables" / "records_finding.json"
    lines = path.read_text("utf-8").splitlines(keepends=True)
    path.write_text("".join(lines[: len(lines) // 2]))


def open_no_list(folder: Path) -> None:
    path = folder / "tables" / "records_part.json"
    path.write_text(path.read_text("utf-8").removeprefix("[\n"))


def go_on_after_the_list(folder: Path) -> None:
    path = folder / "tables" / "records_part.json"
    path.write_text(path.read_text("utf-8") * 2)


def lose_column_of_sheet(folder: Path) -> None:
    (folder / "tables" / "records_part.json").unlink()
    path = folder / "tables" / "records_part.csv"
    with path.open(newline="", encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    for row in rows:
        del row["cost_minor"]
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


def lose_last_row_of_sheet(folder: Path) -> None:
    (folder / "tables" / "records_finding.json").unlink()
    path = folder / "tables" / "records_finding.csv"
    lines = path.read_text("utf-8").splitlines(keepends=True)
    path.write_text("".join(lines[:-1]))


def lose_counts(folder: Path) -> None:
    path = folder / "about.json"
    about = json.loads(path.read_text("utf-8"))
    del about["rows"]
    path.write_text(json.dumps(about))


def alter_entry(folder: Path) -> None:
    path = folder / "tables" / "records_entry.json"
    path.write_text(path.read_text("utf-8").replace("goods-in", "elsewhere", 1))


def lose_about(folder: Path) -> None:
    (folder / "about.json").unlink()


def age_about(folder: Path) -> None:
    path = folder / "about.json"
    about = json.loads(path.read_text("utf-8"))
    about["steps"]["records"] = "9999_beyond"
    path.write_text(json.dumps(about))


@pytest.mark.parametrize(
    ("change", "code", "said"),
    [
        (lose_table, 2, "tables/records_part: found neither JSON nor CSV"),
        (spoil_row, 2, "records_part.json:2:0"),
        (add_column, 2, "records_part.colour: found an unknown column, wanted none"),
        (spoil_number, 2, "records_part.on_hand: found 'lots', wanted IntegerField"),
        (lose_customer, 1, "references: found"),
        (empty_table, 2, "tables/records_customer: found 0 rows, wanted 1, as about"),
        (cut_between_rows, 2, "found no end of the list, wanted a whole one"),
        (open_no_list, 2, "wanted one list of rows"),
        (go_on_after_the_list, 2, "found [, wanted one list of rows"),
        (lose_column_of_sheet, 2, "records_part.cost_minor: found no such column"),
        (lose_last_row_of_sheet, 2, "tables/records_finding: found "),
        (lose_counts, 2, "about.json: found another form, wanted turnscrew export 1"),
        (alter_entry, 1, "first break: custody entry 5: found changed contents"),
        (lose_about, 2, "about.json: found none, wanted turnscrew export 1"),
        (age_about, 1, "tables: found records 9999_beyond"),
    ],
)
def test_it_refuses_an_export_that_was_spoilt(
    exported, clean, change, code, said
) -> None:
    change(exported)
    done = clean.turnscrew("import", exported)

    assert code == done.returncode
    assert said in done.stderr
    assert not clean.home.exists()


def test_it_refuses_names_that_lead_out_of_the_folder(clean, tmp_path) -> None:
    bad = tmp_path / "bad.zip"
    with zipfile.ZipFile(bad, "w") as archive:
        archive.writestr("tables/../../outside.json", "[]")
    done = clean.turnscrew("import", bad)

    assert 2 == done.returncode
    assert "found a name out of place" in done.stderr
    assert ["bad.zip"] == [path.name for path in tmp_path.iterdir()]


def test_it_refuses_an_archive_that_grows_without_end(clean, tmp_path) -> None:
    bad = tmp_path / "bad.zip"
    with zipfile.ZipFile(bad, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("tables/records_part.json", bytes(30_000_000))
    done = clean.turnscrew("import", bad)

    assert 2 == done.returncode
    assert "sizes: found 30000000 bytes, wanted at most" in done.stderr
    assert not clean.home.exists()
