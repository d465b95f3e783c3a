"""Is what a bench offers while it records read by the records, and named the same?"""

import re
from importlib.resources import files

import pytest

from turnscrew.core.model.alike import item_letter
from turnscrew.core.model.fastener import Drive

SCRIPT = (files("turnscrew.web") / "static/bench/recording.js").read_text("utf-8")


def offered() -> list[str]:
    [listed] = re.findall(r"DRIVES = \[(.*?)\]", SCRIPT, re.DOTALL)
    return re.findall(r'"([^"]+)"', listed)


@pytest.mark.parametrize("words", offered())
def test_every_driver_offered_is_read_and_written_as_it_was(words) -> None:
    assert words == str(Drive.from_text(words))


def test_the_recess_below_the_smallest_is_one_of_its_own() -> None:
    """Recess 00 is common practice, no source; ISO 4757 begins at 0."""
    assert "H00" in offered()
    assert Drive.from_text("H00") != Drive.from_text("H0")
    assert "Z00" == str(Drive.from_text("Z00"))


def test_compartments_are_lettered_as_on_the_way_back() -> None:
    [letters] = re.findall(r'const LETTERS = "([A-Z]+)"', SCRIPT)

    assert [item_letter(k) for k in range(len(letters))] == list(letters)
    assert item_letter(len(letters)) == letters[0] * 2
