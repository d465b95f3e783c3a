"""Does the page about threats point at tests that are there?"""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
PAGE = (ROOT / "docs" / "threats.md").read_text("utf-8")


def test_it_names_tests_that_exist() -> None:
    named = set(re.findall(r"`(tests/[\w/.]+)`", PAGE))

    assert len(named) > 15
    assert [] == sorted(name for name in named if not (ROOT / name).is_file())


def test_it_says_of_every_boundary_what_is_not_done() -> None:
    parts = PAGE.split("\n## ")[3:-1]
    without = [part.splitlines()[0] for part in parts if "Not done" not in part]

    assert len(parts) == 9
    assert [] == without
