"""Does a damaged backup give what is whole in it, and tell what is not?"""

import json
import random
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnscrew.errors import BadFileError
from turnscrew.web.keeping.sealed_rows import rows_in, sealed, whole_rows_in
from turnscrew.web.keeping.whole import found_in
from web.keeping.workshop import Workshop


@pytest.fixture(scope="module")
def kept(workshops, pattern, tmp_path_factory) -> Path:
    """Give a backup of the example with two photos."""
    folder = tmp_path_factory.mktemp("kept")
    workshop = workshops.copy_of(pattern, folder / "records")
    workshop.write("photograph")
    assert 0 == workshop.turnscrew("backup", folder / "kept.zip").returncode
    return folder / "kept.zip"


@pytest.fixture
def clean(workshops, tmp_path) -> Workshop:
    return workshops.empty(tmp_path / "clean")


def cut(share: float):
    def change(path: Path) -> bytes:
        content = path.read_bytes()
        return content[: int(len(content) * share)]

    return change


def cut_in(name: str, share: float = 0.5):
    """Cut the file off within one of its members."""

    def change(path: Path) -> bytes:
        with zipfile.ZipFile(path) as archive:
            one = archive.getinfo(name)
        at = one.header_offset + 30 + len(name) + 20 + int(one.file_size * share)
        return path.read_bytes()[:at]

    return change


def flipped(seed: int, n: int = 40):
    """Turn bytes at random places of the tables and whatever stands behind them."""

    def change(path: Path) -> bytes:
        content, chance = bytearray(path.read_bytes()), random.Random(seed)
        database = content.find(b"SQLite format 3")
        end = database if database > 0 else len(content)
        for place in chance.sample(range(end), n):
            content[place] ^= 1 << chance.randrange(8)
        if database > 0:
            content[database + 200] ^= 0xFF
        content[-3000] ^= 0xFF
        return bytes(content)

    return change


def without(*names: str):
    """Leave members out, and all that would show what was in them."""

    def change(path: Path) -> bytes:
        lacking = {f"tables/{name}.jsonl" for name in names} | {"records.sqlite3"}
        target = path.with_name("without.zip")
        with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w") as new:
            for name in old.namelist():
                if name not in lacking:
                    new.writestr(name, old.read(name))
        return target.read_bytes()

    return change


DAMAGE = {
    "cut within the jobs": (cut_in("tables/records_job.jsonl"), "jobs: "),
    "cut within the journals": (cut_in("tables/records_entry.jsonl"), "entries "),
    "cut before the people": (cut_in("tables/records_batch.jsonl"), "people: 0 of"),
    "bytes turned, one way": (flipped(1), "lack"),
    "bytes turned, many": (flipped(3, 400), "lack"),
    "no people and no customers": (
        without(
            "records_person",
            "records_historicalperson",
            "records_customer",
            "records_historicalcustomer",
        ),
        "customers: 1 known by number alone",
    ),
    "no batches": (
        without("records_batch", "records_historicalbatch"),
        "jobs: 64 left out, as what they belong to lacks",
    ),
    "no journals": (without("records_entry", "records_head"), "its end is lost"),
}


@pytest.mark.parametrize("kind", DAMAGE)
def test_it_opens_what_is_whole_and_lists_what_is_not(
    kept, clean, tmp_path, kind
) -> None:
    change, said = DAMAGE[kind]
    bad = tmp_path / "bad.zip"
    bad.write_bytes(change(kept))

    done = clean.turnscrew("restore", bad, "--what-is-whole")

    assert (0, "") == (done.returncode, done.stderr)
    assert said in done.stdout
    listed = done.stdout.partition("restored in part")[2].splitlines()[1:]
    lacking = listed[: next(n for n, one in enumerate(listed) if "last seal" in one)]
    assert lacking
    told, _, opened = clean.write("after_a_restore").stdout.partition("pages:\n")
    assert [] == [line for line in lacking if line not in told]
    assert 1 == len(opened.splitlines()), opened


def test_it_can_be_kept_and_restored_again_afterwards(kept, clean, tmp_path) -> None:
    bad = tmp_path / "bad.zip"
    bad.write_bytes(flipped(5)(kept))
    clean.turnscrew("restore", bad, "--what-is-whole")
    clean.write("promise_now", 1, 3)

    done = clean.turnscrew("backup", tmp_path / "again.zip")

    assert (0, "") == (done.returncode, done.stderr)
    assert "whole, but for what a restore could not bring" in done.stdout


def test_a_change_after_a_restore_in_part_is_still_found(kept, clean, tmp_path) -> None:
    bad = tmp_path / "bad.zip"
    bad.write_bytes(without("records_part")(kept))
    done = clean.turnscrew("restore", bad, "--what-is-whole")
    assert "parts: 22 made again from their earlier form" in done.stdout
    clean.write("break_head")

    assert 1 == clean.turnscrew("audit").returncode


def test_it_names_the_photo_that_lacks(kept, clean, tmp_path) -> None:
    content = bytearray(kept.read_bytes())
    with zipfile.ZipFile(kept) as archive:
        photo = next(n for n in archive.namelist() if n.endswith(".png"))
        content[archive.getinfo(photo).header_offset + 300] ^= 0xFF
    bad = tmp_path / "bad.zip"
    bad.write_bytes(content)

    done = clean.turnscrew("restore", bad, "--what-is-whole")

    assert 0 == done.returncode, done.stderr
    ref = Path(photo).stem
    assert f"photo {ref} of " in done.stdout
    assert f"photo {ref} of " in clean.write("told_in_part").stdout
    assert f"restore in part: photo {ref} of " in clean.turnscrew("audit").stdout
    # Its own page says that it lacks, and none of all pages fails.
    opened = clean.write("open_pages").stdout
    assert 1 == len(opened.splitlines()), opened


def test_it_leaves_out_the_files_of_a_photo_of_no_row(kept, clean, tmp_path) -> None:
    content = bytearray(kept.read_bytes())
    with zipfile.ZipFile(kept) as archive:
        names = ("tables/records_photo.jsonl", "records.sqlite3")
        spoilt = [name for name in names if name in archive.namelist()]
        for name in spoilt:
            content[archive.getinfo(name).header_offset + 30 + len(name) + 90] ^= 0xFF
        n_files = sum(name.startswith("photos/") for name in archive.namelist())
    bad = tmp_path / "bad.zip"
    bad.write_bytes(content)

    done = clean.turnscrew("restore", bad, "--what-is-whole")

    assert 0 == done.returncode, done.stderr
    assert "photos: 1 of 2 are whole, 1 lack" in done.stdout
    assert f"photo files: {n_files // 2} left out, as what they belong" in done.stdout
    left = list((clean.home / "photos").iterdir())
    assert n_files // 2 == len(left)
    assert 1 == len({path.name[:16] for path in left})


def test_a_whole_file_is_restored_as_ever(kept, clean) -> None:
    done = clean.turnscrew("restore", kept, "--what-is-whole")

    assert (0, "whole") == (done.returncode, done.stdout.splitlines()[-1])
    assert "" == clean.write("told_in_part").stdout


def test_it_refuses_a_file_in_which_no_row_is_whole(clean, tmp_path) -> None:
    bad = tmp_path / "bad.zip"
    for content in (b"", b"no backup at all" * 100):
        bad.write_bytes(content)
        done = clean.turnscrew("restore", bad, "--what-is-whole")

        assert 2 == done.returncode
        assert "wanted a backup of Turnscrew" in done.stderr
        assert not clean.home.exists()


def test_it_restores_in_part_over_nothing(kept, clean, tmp_path) -> None:
    bad = tmp_path / "bad.zip"
    bad.write_bytes(cut(0.5)(kept))
    clean.home.mkdir()
    (clean.home / "letter.txt").write_text("mine")

    done = clean.turnscrew("restore", bad, "--what-is-whole")

    assert 1 == done.returncode
    assert ["letter.txt"] == [path.name for path in clean.home.iterdir()]


@settings(max_examples=60)
@given(st.data())
def test_it_never_gives_a_row_that_was_not_put_in(kept, data) -> None:
    good = kept.read_bytes()
    whole = found_in(kept)
    at = data.draw(st.lists(st.integers(0, len(good) - 1), max_size=30))
    bad = bytearray(good[: data.draw(st.integers(0, len(good)))])
    for place in at:
        if place < len(bad):
            bad[place] ^= data.draw(st.integers(1, 255))
    path = kept.with_name("bad.zip")
    path.write_bytes(bad)
    try:
        found = found_in(path)
    except BadFileError:
        return
    for name, member in found.members.items():
        if not name.startswith("tables/") or name not in whole.members:
            continue
        table = name.removeprefix("tables/").removesuffix(".jsonl")
        rows = whole_rows_in(found.content(name), table)
        put_in = whole_rows_in(whole.content(name), table)
        assert [] == [row for row in rows if row not in put_in]
        assert not member.is_whole or rows == put_in


words = st.dictionaries(
    st.text(max_size=5), st.one_of(st.text(), st.integers(), st.none()), max_size=4
)


@given(st.lists(words, max_size=5), st.data())
def test_a_row_is_whole_or_it_is_not_there(rows, data) -> None:
    content = bytearray(b"".join(sealed(row, "jobs") for row in rows))
    assert rows == whole_rows_in(bytes(content), "jobs")
    assert not rows or [] == whole_rows_in(bytes(content), "items")
    assert rows == list(rows_in(BytesIO(content), "jobs"))
    if content:
        content[data.draw(st.integers(0, len(content) - 1))] ^= 1

        assert all(row in rows for row in whole_rows_in(bytes(content), "jobs"))


def test_rows_of_the_first_form_have_no_seal(tmp_path) -> None:
    lines = [json.dumps({"id": n}).encode() + b"\n" for n in (1, 2)]

    assert [{"id": 1}, {"id": 2}] == list(rows_in(lines, "jobs"))


def test_a_row_with_another_seal_is_refused() -> None:
    line = sealed({"id": 1}, "jobs").replace(b"1", b"2", 1)

    with pytest.raises(BadFileError):
        list(rows_in([line], "jobs"))
