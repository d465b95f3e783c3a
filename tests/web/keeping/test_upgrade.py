"""Do records of the first program come whole to the newest?"""

import pytest

from web.keeping.first_records import N_JOBS, TABLES
from web.keeping.workshop import Workshop


@pytest.fixture
def old(workshops, tmp_path) -> Workshop:
    """Give records in the form of the first tables."""
    home = tmp_path / "records"
    home.mkdir()
    made = workshops.empty(home)
    made.write("first_tables")
    return made


def test_it_brings_the_first_records_to_the_newest_form(old) -> None:
    old.write("upgrade")

    counts = dict(
        line.split() for line in old.write("first_counts").stdout.splitlines()
    )
    wanted = dict.fromkeys(TABLES, 1) | {
        "Item": N_JOBS, "Job": N_JOBS, "Part": 3, "EntryWords": N_JOBS,
        "Entry": N_JOBS + 3,
    }  # fmt: skip
    assert {name: str(n) for name, n in wanted.items()} == counts
    done = old.turnscrew("audit")
    assert (0, "whole") == (done.returncode, done.stdout.splitlines()[-1])
    assert f"custody: {N_JOBS} entries" in done.stdout


def test_it_reads_no_records_before_they_are_upgraded(old, tmp_path) -> None:
    for words in (["audit"], ["export", tmp_path / "out"], ["erase", "--due"]):
        done = old.turnscrew(*words)

        assert 1 == done.returncode
        assert "tables: found none or those of another version" in done.stderr


def test_it_guards_the_journals_after_the_upgrade(old) -> None:
    old.write("upgrade")
    said = old.write("rewrite_an_entry").stdout

    assert "journals only grow: write a correcting entry" in said


def test_it_backs_up_and_restores_what_was_upgraded(old, workshops, tmp_path) -> None:
    old.write("upgrade")
    old.turnscrew("backup", tmp_path / "kept.zip")
    clean = workshops.empty(tmp_path / "clean")
    done = clean.turnscrew("restore", tmp_path / "kept.zip")

    assert (0, "") == (done.returncode, done.stderr)
    assert old.write("tables").stdout == clean.write("tables").stdout
