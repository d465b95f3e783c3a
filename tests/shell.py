"""The command as a shell runs it, in a process of its own."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def turnscrew(*words: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "turnscrew", *map(str, words)],
        cwd=ROOT, capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
