"""The manual, built once for all tests of a run, however many run beside each other."""

import re
import subprocess
import sys
from pathlib import Path
from typing import TextIO

import pytest

from systems import IS_WINDOWS

ROOT = Path(__file__).resolve().parents[1]
DOCS = ROOT / "docs"


def built_manual(tmp_path_factory: pytest.TempPathFactory, worker: str) -> Path:
    """
    Give the folder of the built pages; whoever comes first builds, the others wait.

    A warning is an error, as in earnest.
    """
    base = tmp_path_factory.getbasetemp()
    place = base if worker == "master" else base.parent
    out = place / "manual"
    with (place / "manual.lock").open("w") as lock:
        _wait_for(lock)
        told = place / "manual.told"
        if not told.is_file():
            done = subprocess.run(
                [
                    sys.executable, "-m", "sphinx", "-q", "-W", "--keep-going",
                    "-b", "html", "-d", str(place / "manual-read"), str(DOCS), str(out),
                ],
                capture_output=True, text=True, check=False,
            )  # fmt: skip
            told.write_text(f"{done.returncode}\n{done.stderr}", "utf-8")
    code, _, said = told.read_text("utf-8").partition("\n")
    assert ("0", "") == (code, said)
    return out


def _wait_for(lock: TextIO) -> None:
    """Wait until nobody else holds a file; it is let go when it is closed."""
    if IS_WINDOWS:
        import msvcrt  # noqa: PLC0415 - there alone

        msvcrt.locking(lock.fileno(), msvcrt.LK_LOCK, 1)
    else:
        import fcntl  # noqa: PLC0415 - there alone

        fcntl.flock(lock, fcntl.LOCK_EX)


def pages_of(manual: Path) -> dict[str, str]:
    """Give the text of every page by its name."""
    return {
        path.relative_to(manual).as_posix(): path.read_text("utf-8")
        for path in sorted(manual.rglob("*.html"))
    }


def start_lines() -> list[tuple[str, str]]:
    """List every line of README and docs that gives a command, with its page."""
    paths = [ROOT / "README.md", *sorted(DOCS.rglob("*.md"))]
    given = re.compile(
        r"(?:python3 start\.py run|^ {4}turnscrew) ([^`\n]*)", re.MULTILINE
    )
    return [
        (path.relative_to(ROOT).as_posix(), re.split(r"\s#\s", line)[0].strip())
        for path in paths
        for line in given.findall(path.read_text("utf-8"))
    ]
