"""Does it run where letters, folders and system are others than here?"""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from turnscrew.web.keeping import backup
from turnscrew.web.keeping.restore import put_in_place

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "examples" / "sallowmere"

# The Python manual, "Unix-specific services" and availability notes of os and signal.
UNIX_ALONE = {"fcntl", "grp", "posix", "pty", "pwd", "resource", "syslog", "termios"}
UNIX_CALLS = {
    "os.fork", "os.getuid", "os.killpg", "os.setsid", "os.statvfs", "os.uname",
    "signal.SIGKILL", "signal.SIGALRM", "signal.alarm", "signal.pause",
}  # fmt: skip


def told_in(encoding: str) -> bytes:
    command = [sys.executable, "-m", "turnscrew", "batch", str(FOLDER)]
    command += ["--effort", "0", "--plays", "0"]
    env = os.environ | {"PYTHONUTF8": "0", "PYTHONIOENCODING": encoding}
    return subprocess.run(command, env=env, capture_output=True, check=True).stdout


@pytest.mark.parametrize("encoding", ["cp1252", "ascii"])
def test_it_prints_the_same_letters_wherever_it_is_passed_on(encoding) -> None:
    told = told_in(encoding)

    assert told_in("utf-8") == told
    assert not told.isascii()


def test_start_prints_the_same_letters_too() -> None:
    command = [sys.executable, str(ROOT / "start.py"), "--help"]
    env = os.environ | {"PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"}

    assert 0 == subprocess.run(command, env=env, capture_output=True).returncode


def test_no_module_needs_what_one_family_of_systems_has_alone() -> None:
    found = []
    for path in (ROOT / "start.py", *(ROOT / "src").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                names = {one.name.split(".")[0] for one in node.names}
            elif isinstance(node, ast.ImportFrom):
                names = {(node.module or "").split(".")[0]}
            elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                names = {f"{node.value.id}.{node.attr}"}
            else:
                continue
            used = names & (UNIX_ALONE | UNIX_CALLS)
            found += [f"{path.relative_to(ROOT)}: {name}" for name in used]

    assert [] == found


def test_a_restore_takes_the_place_of_an_empty_folder(tmp_path, monkeypatch) -> None:
    home, partial = tmp_path / "home", tmp_path / "partial"
    home.mkdir()
    partial.mkdir()
    (partial / "secret").write_text("x", "utf-8")
    rename = Path.rename

    def as_elsewhere(path: Path, target: Path) -> Path:
        assert not target.exists(), "a folder in the way cannot be renamed over"
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", as_elsewhere)
    put_in_place(partial, home)

    assert ["secret"] == [one.name for one in home.iterdir()]


def test_a_backup_keeps_its_name_where_no_folder_can_be_opened(
    tmp_path, monkeypatch
) -> None:
    def not_there(*_: object) -> int:
        raise PermissionError("Permission denied")

    monkeypatch.setattr(backup.os, "open", not_there)
    monkeypatch.setattr(backup.os, "name", "nt")

    backup._keep_name(tmp_path)
