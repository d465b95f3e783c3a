"""What of a test is not there on every system, and how is a program ended on each?"""

import os
import signal
import subprocess
from contextlib import suppress
from pathlib import Path

import pytest

IS_WINDOWS = os.name == "nt"

untold = pytest.mark.skipif(
    IS_WINDOWS, reason="on Windows a program is ended without being told"
)
"""For what a program does that is told to end."""


def end_tree(process: subprocess.Popen[str], *, at_once: bool = False) -> None:
    """End a program begun in a session of its own, with all it began."""
    if IS_WINDOWS:
        words = ["taskkill", "/F", "/T", "/PID", str(process.pid)]
        subprocess.run(words, capture_output=True, check=False)
        return
    told = signal.SIGKILL if at_once else signal.SIGTERM
    with suppress(ProcessLookupError):
        os.killpg(process.pid, told)


def is_private(path: Path) -> bool:
    """Tell whether nobody but its owner may read a path, as far as bits say so."""
    wanted = 0o700 if path.is_dir() else 0o600
    return IS_WINDOWS or path.stat().st_mode & 0o777 == wanted
