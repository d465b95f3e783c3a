"""
Is a file closed before it is taken away or renamed, and open to be written when kept?

Windows refuses the first while a file is open, and the second of a file opened to be
read (Microsoft, "DeleteFile", "MoveFileEx", "FlushFileBuffers"; from memory). Here each
command runs with a listener for such steps, which asks the system what is open and how.
"""

import subprocess
import sys
from pathlib import Path

import pytest

from cli.test_records import turnscrew

LISTENER = """
import fcntl
import os
import stat
import sys


def is_open(path):
    for number in os.listdir("/proc/self/fd"):
        try:
            held = os.readlink("/proc/self/fd/" + number)
        except OSError:
            continue
        if held == path or held.startswith(path + "/"):
            return True
    return False


def listen(event, args):
    if event not in {"os.remove", "os.rename", "os.rmdir", "shutil.rmtree"}:
        return
    places = args[:2] if event == "os.rename" else args[:1]
    for place in places:
        path = os.path.realpath(os.fsdecode(place))
        if is_open(path):
            with open(os.environ["STEPS_ON_OPEN_FILES"], "a") as told:
                print(event, path, " ".join(sys.argv[1:3]), file=told)


def keep(file, keep_as_before=os.fsync):
    number = file if isinstance(file, int) else file.fileno()
    how = fcntl.fcntl(number, fcntl.F_GETFL) & os.O_ACCMODE
    if how == os.O_RDONLY and stat.S_ISREG(os.fstat(number).st_mode):
        with open(os.environ["STEPS_ON_OPEN_FILES"], "a") as told:
            print("os.fsync", os.readlink(f"/proc/self/fd/{number}"), file=told)
    keep_as_before(number)


os.fsync = keep
sys.addaudithook(listen)
"""

pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="open files are listed by Linux alone"
)


class Heard:
    """Runs commands with the listener and keeps what it heard."""

    def __init__(self, folder: Path) -> None:
        self.told = folder / "steps"
        self.told.touch()
        listener = folder / "listener"
        listener.mkdir()
        (listener / "sitecustomize.py").write_text(LISTENER)
        self.more = {"PYTHONPATH": str(listener), "STEPS_ON_OPEN_FILES": str(self.told)}

    def run(self, *words: object, is_refused: bool = False) -> None:
        done = turnscrew(*words, **self.more)
        assert is_refused == bool(done.returncode), done.stderr

    def steps(self) -> list[str]:
        return self.told.read_text().splitlines()


@pytest.fixture
def heard(tmp_path) -> Heard:
    return Heard(tmp_path)


def test_the_listener_hears(heard, tmp_path) -> None:
    path = tmp_path / "held"
    path.touch()
    words = f"import os; p = {str(path)!r}; f = open(p); os.fsync(f); os.remove(p)"
    subprocess.run([sys.executable, "-c", words], env=heard.more, check=True)

    assert [f"os.fsync {path}", f"os.remove {path} "] == heard.steps()


def test_no_command_of_the_records_takes_away_what_is_open(heard, tmp_path) -> None:
    home, kept = tmp_path / "records", tmp_path / "kept.zip"
    heard.run("receive", "examples/sallowmere", "--home", home)
    heard.run("backup", kept, "--home", home)
    heard.run("export", tmp_path / "folder", "--home", home)
    heard.run("export", tmp_path / "packed.zip", "--home", home)
    heard.run("restore", kept, "--home", tmp_path / "one")
    heard.run("restore", kept, "--trial", "--home", home)
    heard.run("import", tmp_path / "packed.zip", "--home", tmp_path / "two")
    heard.run("import", tmp_path / "folder", "--home", tmp_path / "three")

    assert [] == heard.steps()


def test_what_is_refused_half_way_is_closed_too(heard, tmp_path) -> None:
    home, kept = tmp_path / "records", tmp_path / "kept.zip"
    heard.run("receive", "examples/sallowmere", "--home", home)
    heard.run("backup", kept, "--home", home)
    spoilt = bytearray(kept.read_bytes())
    spoilt[len(spoilt) // 2] ^= 1
    (tmp_path / "spoilt.zip").write_bytes(spoilt)
    damaged = tmp_path / "spoilt.zip"
    heard.run("restore", damaged, "--home", tmp_path / "one", is_refused=True)
    heard.run("restore", damaged, "--check", is_refused=True)
    heard.run("restore", damaged, "--what-is-whole", "--home", tmp_path / "two")
    (tmp_path / "not.zip").write_bytes(spoilt[:1000])
    for command in ("restore", "import"):
        words = command, tmp_path / "not.zip", "--home", tmp_path / "three"
        heard.run(*words, is_refused=True)

    assert [] == heard.steps()
