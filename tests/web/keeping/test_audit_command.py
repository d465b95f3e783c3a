"""Does the audit name the first break?"""

import json
import sqlite3
from contextlib import closing

import psycopg

from web.keeping.workshop import Workshop

UPDATE = """
    UPDATE records_entry SET facts = '{"n":99}' WHERE journal = 'stock' AND sequence = 7
"""


def force(workshop: Workshop, statement: str) -> None:
    """Change the database behind the program's back, guards off."""
    if workshop.address:
        with psycopg.connect(workshop.address, autocommit=True) as opened:
            opened.execute("ALTER TABLE records_entry DISABLE TRIGGER ALL")
            opened.execute(statement)
        return
    with closing(sqlite3.connect(workshop.database)) as opened, opened:
        for verb in ("update", "delete"):
            opened.execute(f"DROP TRIGGER records_entry_no_{verb}")
        opened.execute(statement)


def test_it_finds_the_example_whole(workshop) -> None:
    done = workshop.turnscrew("audit")

    assert (0, "whole") == (done.returncode, done.stdout.splitlines()[-1])


def test_it_names_the_first_break_and_lists_all(workshop) -> None:
    force(workshop, UPDATE)

    done = workshop.turnscrew("audit")

    said = "stock entry 7: found changed contents, wanted those that were sealed"
    assert 1 == done.returncode
    assert f"first break: {said}" == done.stderr.strip()
    listed = json.loads(workshop.turnscrew("audit", "--json").stdout)["breaks"]
    assert "stock entry 7" == listed[0]["where"]
    assert len(listed) > 1


def test_it_finds_what_was_cut_off_the_end(workshop) -> None:
    force(
        workshop,
        "DELETE FROM records_entry WHERE journal = 'bench' AND sequence ="
        " (SELECT max(sequence) FROM records_entry WHERE journal = 'bench')",
    )

    done = workshop.turnscrew("audit")

    assert 1 == done.returncode
    assert "bench end: found entry" in done.stdout


def test_it_makes_a_link_for_a_person_and_keeps_its_digest_alone(workshop) -> None:
    done = workshop.turnscrew("sign-in-link", "lead")
    token = done.stdout.split("/first/")[1].split("/")[0]

    assert 0 == done.returncode
    assert len(token) > 40
    kept = b"".join(path.read_bytes() for path in workshop.home.glob("records*"))
    assert token.encode() not in kept


def test_it_refuses_a_link_for_somebody_unknown_or_without_an_account(
    workshop,
) -> None:
    unknown = workshop.turnscrew("sign-in-link", "nobody")
    without = workshop.turnscrew("sign-in-link", "helper")

    assert (1, 1) == (unknown.returncode, without.returncode)
    assert "person: found nobody, wanted one of" in unknown.stderr
    assert "found helper who has never signed in" in without.stderr
    assert "Make a link to sign in" in without.stderr


def test_it_finds_no_break_where_somebody_only_writes_meanwhile(workshop) -> None:
    writer = workshop.start("web.keeping.writers", "storm", 100_000)
    writer.stdout.readline()
    audits = [workshop.turnscrew("audit") for _ in range(3)]
    assert writer.poll() is None
    writer.kill()
    writer.communicate()

    assert [(0, "")] * 3 == [(one.returncode, one.stderr) for one in audits]


def test_it_names_the_device_beside_the_reference(workshop) -> None:
    force(workshop, "UPDATE records_job SET state = 'packed' WHERE line = 7")

    done = workshop.turnscrew("audit")

    assert 1 == done.returncode
    (said,) = [line for line in done.stdout.splitlines() if "state of job" in line]
    assert "(device 7 of " in said
    assert ": found packed on record, wanted " in said


def test_it_names_photos_that_lack_or_differ(workshop, workshops, tmp_path) -> None:
    workshop.write("photograph")
    kept = tmp_path / "whole.tsb"
    assert 0 == workshop.turnscrew("backup", kept).returncode
    first, second = sorted((workshop.home / "photos").glob("*.png"))
    first.write_bytes(first.read_bytes()[:-4] + b"bad!")
    second.unlink()
    told = {
        f"photo {first.stem} of device ": "found other bytes, wanted those that were",
        f"photo {second.stem} of device ": "found none, wanted the file that was kept",
    }

    def named(text: str) -> bool:
        lines = text.splitlines()
        return all(
            any(one.startswith(start) and end in one for one in lines)
            for start, end in told.items()
        )

    audit = workshop.turnscrew("audit")
    assert (1, True) == (audit.returncode, named(audit.stdout))
    assert "whole, but for photos that lack or differ: 2" in audit.stderr
    assert 2 == len(json.loads(workshop.turnscrew("audit", "--json").stdout)["photos"])

    # A backup is written, for all else that is in it, and says so.
    other = tmp_path / "other.tsb"
    backup = workshop.turnscrew("backup", other)
    assert (1, True) == (backup.returncode, named(backup.stdout))
    assert "keep an older backup that holds them" in backup.stderr

    clean = workshops.empty(tmp_path / "clean")
    check = clean.turnscrew("restore", other, "--check")
    assert (0, True) == (check.returncode, named(check.stdout))
    assert "photos that lack or differ: 2" in check.stdout.splitlines()[-1]
    whole = clean.turnscrew("restore", kept, "--check")
    assert (0, "whole") == (whole.returncode, whole.stdout.splitlines()[-1])
    restored = clean.turnscrew("restore", other)
    assert (1, True) == (restored.returncode, named(restored.stdout))
