"""Does the shipped table of keys agree with the reader?"""

from pathlib import Path

from turnscrew.core.model.joint import Joint
from turnscrew.files.device_keys import device_keys_text
from turnscrew.files.shape import slots_of

SHIPPED = Path(__file__).resolve().parents[2] / "docs" / "device-keys.md"


def test_it_ships_the_table_of_this_version() -> None:
    """If this fails, write ``device_keys_text()`` to the shipped file."""
    assert device_keys_text() == SHIPPED.read_text("utf-8")


def test_it_explains_every_key() -> None:
    rows = [row for row in device_keys_text().splitlines() if row.startswith("|")]

    assert [] == [row for row in rows if row.endswith("|  |")]


def test_it_lists_every_key_of_a_joint() -> None:
    text = device_keys_text().partition("## joint\n")[2].partition("\n## ")[0]

    assert [] == [key for key in slots_of(Joint) if f"`{key}`" not in text]
