"""Is nothing lost, and nothing half-written, when power, disk or rights go?"""

import ctypes
import os
import re

import pytest

from web.keeping.workshop import Workshop

resource = pytest.importorskip("resource", reason="no limits of a process here")

N_KILLS = 5
_DROP_FROM_BOUND, _OVERRIDE, _READ_ANY = 24, 1, 2


def without_privileges() -> None:
    """Let file rights bind the child even where the tests run as the superuser."""
    if os.geteuid() == 0:
        system = ctypes.CDLL(None, use_errno=True)
        for capability in (_OVERRIDE, _READ_ANY):
            assert 0 == system.prctl(_DROP_FROM_BOUND, capability, 0, 0, 0)


def small_files() -> None:
    limit = 30_000
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))


def n_entries(workshop: Workshop) -> str:
    return workshop.write("shelf").stdout


def test_it_loses_nothing_that_was_acknowledged_before_a_kill(
    workshops, tmp_path
) -> None:
    (tmp_path / "records").mkdir()
    workshop = workshops.empty(tmp_path / "records")
    words = ("records_crash", "--times", N_KILLS, "--seed", 7)
    done = workshop.run(*words)

    assert (0, "") == (done.returncode, done.stderr)
    told = re.match(r"(\d+) kills, (\d+) entries acknowledged, 0 lost", done.stdout)
    assert told is not None
    assert N_KILLS == int(told[1])
    assert int(told[2]) >= N_KILLS


def test_it_writes_whole_or_not_at_all_when_the_disk_is_full(workshop) -> None:
    done = workshop.run("web.keeping.writers", "storm_on_a_full_disk")

    n_written, n_there, said = done.stdout.splitlines()
    assert "" == done.stderr
    assert int(n_written) == int(n_there)
    assert int(n_written) > 0
    assert said.startswith("records: found no room left")
    assert 0 == workshop.turnscrew("audit").returncode


def test_it_writes_no_half_backup_when_the_disk_is_full(workshop, tmp_path) -> None:
    before = n_entries(workshop)
    words = ("turnscrew", "backup", tmp_path / "kept.zip")
    done = workshop.run(*words, before=small_files)

    assert done.returncode in {1, 2}
    assert re.search("(?i)file too large|no room left", done.stderr)
    assert 1 == len(done.stderr.splitlines())
    assert ["records"] == [path.name for path in tmp_path.iterdir()]
    assert before == n_entries(workshop)


def test_it_writes_no_half_restored_folder_when_the_disk_is_full(
    workshop, workshops, tmp_path
) -> None:
    workshop.turnscrew("backup", tmp_path / "kept.zip")
    clean = workshops.empty(tmp_path / "clean")
    words = ("turnscrew", "restore", tmp_path / "kept.zip")
    done = clean.run(*words, before=small_files)

    assert done.returncode in {1, 2}
    assert 1 == len(done.stderr.splitlines())
    assert ["kept.zip", "records"] == sorted(path.name for path in tmp_path.iterdir())


@pytest.mark.parametrize("command", ["sign-in-link lead", "serve --port 18233"])
def test_it_says_that_a_folder_may_only_be_read(workshop, command) -> None:
    before = n_entries(workshop)
    with workshop.read_only():
        done = workshop.run("turnscrew", *command.split(), before=without_privileges)

    assert done.returncode in {1, 2}
    assert re.search("found read-only|found out of reach|Permission", done.stderr)
    assert 1 == len(done.stderr.splitlines())
    assert before == n_entries(workshop)


def test_it_says_that_a_backup_has_no_place_to_go(workshop, tmp_path) -> None:
    target = tmp_path / "locked"
    target.mkdir(mode=0o500)
    words = ("turnscrew", "backup", target / "kept.zip")
    done = workshop.run(*words, before=without_privileges)

    assert 2 == done.returncode
    assert "Permission denied" in done.stderr
    assert 1 == len(done.stderr.splitlines())
    assert [] == list(target.iterdir())
