"""Is a backup whose bytes have gone bad refused, wherever they lie?"""

from web.keeping.workshop import Workshop


def test_it_refuses_a_backup_with_every_tenth_byte_turned(
    workshops, workshop, tmp_path
) -> None:
    kept = tmp_path / "kept.zip"
    assert 0 == workshop.turnscrew("backup", kept).returncode
    content = bytearray(kept.read_bytes())
    clean: Workshop = workshops.empty(tmp_path / "clean")
    ends = [len(content) // 3, len(content)]
    for end in ends:
        # From the first byte, and from a third on, where the list may still be read.
        bad = bytearray(content)
        for at in range(0 if end == len(content) else end, len(bad), 10):
            bad[at] ^= 0xFF
        kept.write_bytes(bad)
        done = clean.turnscrew("restore", kept, "--home", clean.home)

        assert 0 < done.returncode < 70, done.stderr
        assert "Traceback" not in done.stderr
        assert not (clean.home / "records.sqlite3").exists()
