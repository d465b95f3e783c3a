"""Is a file written whole, or not at all?"""

import os
from pathlib import Path

import pytest

from turnscrew.cli.writing import write_whole


def test_where_there_is_no_room_the_older_paper_stays(tmp_path, monkeypatch) -> None:
    paper = tmp_path / "batch-sheet.pdf"
    write_whole(paper, b"older")

    def full(path: Path, content: bytes) -> int:
        with path.open("wb") as file:
            file.write(content[: len(content) // 2])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    for name in (paper.name, "new.pdf"):
        with pytest.raises(OSError, match="No space"):
            write_whole(tmp_path / name, b"newer than that")

    assert {"batch-sheet.pdf": b"older"} == {
        path.name: path.read_bytes() for path in tmp_path.iterdir()
    }


def test_what_else_lies_there_stays_and_what_was_named_is_told(tmp_path) -> None:
    theirs, loop = tmp_path / "r.pdf.part", tmp_path / "loop.pdf"
    theirs.write_bytes(b"half a download")
    loop.symlink_to(loop)

    write_whole(tmp_path / "r.pdf", b"whole")
    write_whole(tmp_path / f"{'n' * 240}.pdf", b"whole")
    for wrong in (loop, tmp_path / "nowhere" / "r.pdf"):
        with pytest.raises(OSError, match=wrong.name) as told:
            write_whole(wrong, b"whole")
        assert str(wrong) == told.value.filename

    assert b"half a download" == theirs.read_bytes()
    assert loop.is_symlink()
    assert 4 == len(list(tmp_path.iterdir()))


def test_what_a_link_names_is_written_and_the_link_stays(tmp_path) -> None:
    named, link = tmp_path / "of-may.pdf", tmp_path / "newest.pdf"
    link.symlink_to(named)

    write_whole(link, b"whole")

    assert link.is_symlink()
    assert b"whole" == named.read_bytes()


def test_what_is_no_file_takes_what_comes(monkeypatch) -> None:
    nowhere = Path(os.devnull)

    write_whole(nowhere, b"whole")

    assert nowhere.exists()
    assert not nowhere.is_file()
