"""Does everything come back, and is whatever is not whole refused?"""

import json
import shutil
import zipfile
from hashlib import sha256
from pathlib import Path
from threading import Thread

import pytest

from systems import is_private
from turnscrew.web.keeping.sealed_rows import sealed
from web.keeping.workshop import Workshop


@pytest.fixture(scope="module")
def kept_from(workshops, pattern, tmp_path_factory) -> tuple[Path, Workshop]:
    """Give a backup of the example with two photos, and what it was made of."""
    folder = tmp_path_factory.mktemp("kept")
    workshop = workshops.copy_of(pattern, folder / "records")
    photos = workshop.home / "photos" / "ab"
    photos.mkdir(parents=True)
    (photos / "ab12.jpg").write_bytes(b"picture" * 1000)
    (workshop.home / "photos" / "cd34.webp").write_bytes(b"other")
    done = workshop.turnscrew("backup", folder / "kept.zip")
    assert (0, "") == (done.returncode, done.stderr)
    return folder / "kept.zip", workshop


@pytest.fixture
def kept(kept_from) -> Path:
    return kept_from[0]


@pytest.fixture
def clean(workshops, tmp_path) -> Workshop:
    """Give a machine on which nothing is."""
    return workshops.empty(tmp_path / "clean")


def rewritten(source: Path, target: Path, change) -> Path:
    """Write an archive again with its members changed."""
    with zipfile.ZipFile(source) as old:
        members = {name: old.read(name) for name in old.namelist()}
    change(members)
    with zipfile.ZipFile(target, "w") as new:
        for name, content in members.items():
            new.writestr(name, content)
    return target


def told(members: dict[str, bytes], change) -> None:
    manifest = json.loads(members["manifest.json"])
    change(manifest)
    members["manifest.json"] = json.dumps(manifest).encode()


def test_it_brings_everything_back_on_a_clean_machine(kept_from, clean) -> None:
    kept, workshop = kept_from
    done = clean.turnscrew("restore", kept)

    assert (0, "") == (done.returncode, done.stderr)
    assert "whole" == done.stdout.splitlines()[-1]
    for name in ("secret", "photos/ab/ab12.jpg", "photos/cd34.webp"):
        assert (workshop.home / name).read_bytes() == (clean.home / name).read_bytes()
    assert workshop.write("tables").stdout == clean.write("tables").stdout
    assert len(clean.write("tables").stdout.splitlines()) > 40


def test_it_goes_on_where_the_records_ended(kept, clean) -> None:
    clean.turnscrew("restore", kept)
    clean.write("promise_now", 1, 3)

    assert 0 == clean.turnscrew("audit").returncode


def test_it_keeps_a_backup_to_the_owner_and_nothing_beside_it(kept) -> None:
    assert is_private(kept)
    assert {"kept.zip", "records"} == {path.name for path in kept.parent.iterdir()}


def test_it_takes_a_whole_backup_while_people_write(workshop, clean, tmp_path) -> None:
    with workshop.start("web.keeping.writers", "storm", 10_000) as writer:
        writer.stdout.readline()
        # Unread, it would stop where a pipe is short.
        reader = Thread(target=writer.stdout.read)
        reader.start()
        done = workshop.turnscrew("backup", tmp_path / "kept.zip")
        writer.kill()
        reader.join()

    assert (0, "") == (done.returncode, done.stderr)
    assert 0 == clean.turnscrew("restore", tmp_path / "kept.zip").returncode
    n_before = json.loads(clean.write("shelf").stdout)["entries"]
    assert n_before < json.loads(workshop.write("shelf").stdout)["entries"]


def test_it_does_not_keep_who_is_signed_in(workshop, clean, tmp_path) -> None:
    workshop.write("sign_in")
    assert 1 == int(workshop.write("sessions").stdout)
    workshop.turnscrew("backup", tmp_path / "kept.zip")

    clean.turnscrew("restore", tmp_path / "kept.zip")

    assert 0 == int(clean.write("sessions").stdout)


def test_it_overwrites_no_file(workshop, tmp_path) -> None:
    path = tmp_path / "precious.zip"
    path.write_text("precious")
    done = workshop.turnscrew("backup", path)

    assert 1 == done.returncode
    assert "found a file, wanted a new name" in done.stderr
    assert "precious" == path.read_text()


def test_it_writes_no_backup_of_records_that_are_not_whole(workshop, tmp_path) -> None:
    workshop.write("break_head")
    done = workshop.turnscrew("backup", tmp_path / "kept.zip")

    assert 1 == done.returncode
    assert "does not restore" in done.stderr
    assert "first break" in done.stderr
    assert {"records"} == {path.name for path in tmp_path.iterdir()}


def test_it_says_of_a_backup_that_it_can_be_restored(kept_from) -> None:
    kept, workshop = kept_from
    before = sorted(kept.parent.iterdir())
    done = workshop.turnscrew("restore", kept, "--check")

    assert (0, "whole") == (done.returncode, done.stdout.splitlines()[-1])
    assert before == sorted(kept.parent.iterdir())


def test_it_restores_over_nothing(kept, clean) -> None:
    clean.home.mkdir()
    (clean.home / "letter.txt").write_text("mine")
    done = clean.turnscrew("restore", kept)

    assert 1 == done.returncode
    assert "found something in it, wanted a new folder" in done.stderr
    assert ["letter.txt"] == [path.name for path in clean.home.iterdir()]


def add_outside(members) -> None:
    members["../outside.txt"] = b"out"
    told(members, lambda m: m["members"].update({
        "../outside.txt": {"bytes": 3, "sha256": sha256(b"out").hexdigest()}
    }))  # fmt: skip


def rename_photo(members) -> None:
    members["photos/..%2f"] = members.pop("photos/cd34.webp")


def add_stranger(members) -> None:
    members["photos/stranger.jpg"] = b"x"


def lose_photo(members) -> None:
    del members["photos/cd34.webp"]


def alter_photo(members) -> None:
    members["photos/cd34.webp"] = b"ohter"


def grow_photo(members) -> None:
    members["photos/cd34.webp"] += b"more"


def lose_manifest(members) -> None:
    del members["manifest.json"]


def age_manifest(members) -> None:
    told(members, lambda m: m.update(form="turnscrew backup 99"))


def spoil_manifest(members) -> None:
    told(members, lambda m: m.update(members=["secret"]))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (add_outside, "'../outside.txt': found a name out of place"),
        (rename_photo, "'photos/..%2f': found a name out of place"),
        (add_stranger, "photos/stranger.jpg: found not in the manifest"),
        (lose_photo, "photos/cd34.webp: found missing, wanted there"),
        (alter_photo, "photos/cd34.webp: found other bytes"),
        (grow_photo, "photos/cd34.webp: found 9 bytes, wanted 5 bytes"),
        (lose_manifest, "archive: found no manifest"),
        (age_manifest, "archive: found turnscrew backup 99"),
        (spoil_manifest, "archive: found a manifest of another form"),
    ],
)
def test_it_refuses_an_archive_that_was_tampered_with(
    kept, clean, tmp_path, change, said
) -> None:
    bad = rewritten(kept, tmp_path / "bad.zip", change)
    done = clean.turnscrew("restore", bad)

    assert 2 == done.returncode
    assert said in done.stderr
    assert not clean.home.exists()
    assert not (tmp_path / "outside.txt").exists()


def no_room(members) -> None:
    """Leave the tables alone, as another database has them, two rows too long."""
    members.pop("records.sqlite3", None)
    for table, change in (
        ("records_job", {"model": "V" * 41}),
        ("records_part", {"number": "P" * 50, "on_hand": 2**31}),
    ):
        name = f"tables/{table}.jsonl"
        first, second, *others = members[name].splitlines(keepends=True)
        row = json.loads(second.rpartition(b"\t")[0]) | change
        members[name] = b"".join([first, sealed(row, table), *others])

    def as_it_is(manifest) -> None:
        manifest["members"].pop("records.sqlite3", None)
        for name in manifest["members"]:
            manifest["members"][name] = {
                "bytes": len(members[name]),
                "sha256": sha256(members[name]).hexdigest(),
            }

    told(members, as_it_is)


def test_it_says_of_each_text_without_room_where_it_stands(
    kept, clean, tmp_path
) -> None:
    bad = rewritten(kept, tmp_path / "bad.zip", no_room)
    done = clean.turnscrew("restore", bad)

    assert 2 == done.returncode
    assert [
        "records_job:2:0: row 2, records_job.model: found 41 characters, wanted at"
        " most 40",
        "records_part:2:0: row 2, records_part.number: found 50 characters, wanted at"
        " most 40",
        "records_part:2:0: row 2, records_part.on_hand: found 2147483648, wanted"
        " -2147483648 to 2147483647",
    ] == done.stderr.splitlines()
    assert not clean.home.exists()
    assert 0 == clean.turnscrew("restore", kept).returncode


def test_it_tells_how_much_of_a_damaged_archive_is_whole(kept, clean, tmp_path) -> None:
    content = bytearray(kept.read_bytes())
    at = content.index(b"picture" * 50)
    content[at] ^= 1
    bad = tmp_path / "bad.zip"
    bad.write_bytes(content)
    done = clean.turnscrew("restore", bad)

    n = len(zipfile.ZipFile(kept).namelist()) - 1
    assert 2 == done.returncode
    assert "photos/ab/ab12.jpg: found damaged bytes" in done.stderr
    assert f"found {n - 1} of {n} members whole" in done.stderr
    assert not clean.home.exists()


@pytest.mark.parametrize("share", [0.0, 0.3, 0.99])
def test_it_refuses_an_archive_that_was_cut_off(kept, clean, tmp_path, share) -> None:
    bad = tmp_path / "bad.zip"
    bad.write_bytes(kept.read_bytes()[: int(kept.stat().st_size * share)])
    done = clean.turnscrew("restore", bad)

    assert 2 == done.returncode
    assert "archive: found File is not a zip file" in done.stderr
    assert "--what-is-whole brings back what is" in done.stderr
    assert not clean.home.exists()


def test_it_refuses_members_that_grow_when_read(kept, clean, tmp_path) -> None:
    bad = tmp_path / "bad.zip"
    shutil.copy(kept, bad)
    zeros = bytes(50_000_000)
    manifest = {}
    with zipfile.ZipFile(kept) as old:
        manifest = json.loads(old.read("manifest.json"))
        manifest["members"]["photos/zeros.jpg"] = {
            "bytes": len(zeros), "sha256": sha256(zeros).hexdigest(),
        }  # fmt: skip
        with zipfile.ZipFile(bad, "w") as new:
            for name in old.namelist():
                content = old.read(name)
                if name == "manifest.json":
                    content = json.dumps(manifest).encode()
                new.writestr(name, content)
            new.writestr("photos/zeros.jpg", zeros, zipfile.ZIP_DEFLATED)
    done = clean.turnscrew("restore", bad)

    assert 2 == done.returncode
    assert "photos/zeros.jpg: found compressed, wanted stored" in done.stderr
    assert "sizes: found more than the file holds" in done.stderr


def test_it_refuses_records_of_a_newer_program(workshop, tmp_path) -> None:
    workshop.write("take_a_step_beyond")
    for words in (["audit"], ["backup", tmp_path / "kept.zip"]):
        done = workshop.turnscrew(*words)

        assert 1 == done.returncode
        assert "tables: found none or those of another version" in done.stderr


def of_a_newer_program(kept: Path, target: Path) -> Path:
    """Write a backup again as a program with a step more would have made it."""

    def change(members: dict[str, bytes]) -> None:
        told(members, lambda manifest: manifest["steps"].update(records="9999_beyond"))

    return rewritten(kept, target, change)


TOO_OLD = (
    "tables: found records 9999_beyond, wanted none beyond this program;"
    " it is too old for what it should read"
)


@pytest.mark.parametrize("way", [[], ["--check"], ["--what-is-whole"]])
def test_it_refuses_a_backup_of_a_newer_program(kept, clean, tmp_path, way) -> None:
    newer = of_a_newer_program(kept, tmp_path / "newer.zip")
    done = clean.turnscrew("restore", newer, *way)

    assert (1, TOO_OLD) == (done.returncode, done.stderr.strip())
    assert not clean.home.exists()
    assert 0 == clean.turnscrew("restore", kept).returncode


def test_it_refuses_what_is_whole_of_a_newer_one(kept, clean, tmp_path) -> None:
    newer = of_a_newer_program(kept, tmp_path / "newer.zip")

    def change(members: dict[str, bytes]) -> None:
        del members["tables/records_head.jsonl"]

    done = clean.turnscrew(
        "restore", rewritten(newer, tmp_path / "bad.zip", change), "--what-is-whole"
    )

    assert (1, TOO_OLD) == (done.returncode, done.stderr.strip())
    assert not clean.home.exists()
