"""Is a contact worn, and what does it cost?"""

import pytest

from turnscrew.core.electrics.contact import contact_heat_w, drop_v, jack_reading
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("resistance_ohm", "state"),
    [(0.0, "as new"), (0.030, "as new"), (0.031, "used"), (0.100, "used"),
     (0.101, "worn out")],
)  # fmt: skip
def test_it_says_how_worn_a_jack_is(resistance_ohm, state) -> None:
    """Two drawings: 30 milliohm new, 100 milliohm after 5000 matings."""
    reading = jack_reading(resistance_ohm, 5)

    assert state == reading.state
    assert f"{1000 * resistance_ohm:g} mΩ" in reading.why


def test_it_gives_drop_and_heat_of_the_same_contact() -> None:
    """Heat is drop by current."""
    reading = jack_reading(0.05, 4)

    assert pytest.approx(0.2) == reading.drop_v == drop_v(4, 0.05)
    assert pytest.approx(0.8) == reading.heat_w == contact_heat_w(4, 0.05)


@pytest.mark.parametrize("reckon", [drop_v, contact_heat_w])
def test_it_refuses_less_than_nothing(reckon) -> None:
    """Neither current nor resistance has a sign here."""
    with pytest.raises(BadArgumentError, match="current_a: found -1"):
        reckon(-1, 1)
    with pytest.raises(BadArgumentError, match="resistance_ohm: found -1"):
        reckon(1, -1)
