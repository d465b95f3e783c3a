"""What does a VBUS reading say, and where to look next?"""

import pytest

from turnscrew.core.electrics.vbus import (
    VBUS_TABLE,
    fixed_level_v,
    vbus_level,
    vbus_row,
)
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("voltage_v", "name"),
    [
        (0, "vSafe0V"),
        (0.8, "vSafe0V"),
        (0.81, "fault: neither off nor attached"),
        (3.67, "fault: neither off nor attached"),
        (3.68, "low: below vSafe5V"),
        (4.74, "low: below vSafe5V"),
        (4.75, "vSafe5V"),
        (5.5, "vSafe5V"),
        (5.51, "outside every fixed level"),
        (8.55, "contract 9 V"),
        (9.45, "contract 9 V"),
        (9.46, "outside every fixed level"),
        (21.0, "contract 20 V"),
        (28.0, "contract 28 V"),
        (48.0, "contract 48 V"),
        (60.0, "outside every fixed level"),
    ],
)
def test_it_names_the_level_up_to_its_ends(voltage_v, name) -> None:
    """Levels quoted in an open header; 5 % in a public note."""
    level = vbus_level(voltage_v)

    assert name == level.name
    assert level.meaning


@pytest.mark.parametrize(
    ("voltage_v", "reading", "look"),
    [
        (0.3, "0.8 V or less", "about 5.1 kΩ each"),
        (3.0, "0.8 to 4.75 V", "load current"),
        (5.1, "4.75 to 5.5 V", "CC volts"),
        (19.8, "within 5 % of 9, 15, 20", "fuse"),
        (12.0, "any other voltage", "label of the charger"),
    ],
)
def test_it_gives_the_row_of_the_table(voltage_v, reading, look) -> None:
    """Reading, meaning and next look of a machine that will not charge."""
    row = vbus_row(voltage_v)

    assert row in VBUS_TABLE
    assert row.reading.startswith(reading)
    assert look in row.next_look


def test_it_puts_hunting_before_the_voltage() -> None:
    """A reading that hunts has its own row whatever its height."""
    assert "hunts between 0 and 5 V" == vbus_row(5.1, is_hunting=True).reading


def test_it_says_that_nothing_on_an_open_charger_is_as_it_should_be() -> None:
    """A charger holds VBUS at 0 V until something is attached."""
    assert "nothing attached is as it should be" in vbus_row(0).meaning


def test_it_reaches_every_row() -> None:
    """No row of the table is dead."""
    readings = {vbus_row(v / 10) for v in range(300)} | {vbus_row(5, is_hunting=True)}

    assert set(VBUS_TABLE) == readings


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: fixed_level_v(0), "nominal_v: found 0"),
        (lambda: vbus_level(-0.1), "voltage_v: found -0.1"),
        (lambda: vbus_row(-0.1), "voltage_v: found -0.1"),
        (lambda: vbus_row(-0.1, is_hunting=True), "voltage_v: found -0.1"),
    ],
)
def test_it_refuses_a_figure_outside_its_range(reckon, words) -> None:
    """Leads the wrong way round are said, not reckoned with."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
