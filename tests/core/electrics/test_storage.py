"""What does a shelf, or a cycle, take from a pack?"""

import pytest

from turnscrew.core.electrics.storage import cycles_at, shelf_loss
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("temperature_c", "row_c"),
    [(-20, 0), (0, 0), (0.1, 25), (25, 25), (26, 40), (60, 60)],
)
def test_it_takes_the_next_hotter_row(temperature_c, row_c) -> None:
    """The table is never kinder than its rows."""
    assert row_c == shelf_loss(temperature_c, 0.4).row_c


@pytest.mark.parametrize(
    ("charge_share", "left_share"), [(0, 0.96), (0.4, 0.96), (0.41, 0.8), (1, 0.8)]
)
def test_it_takes_the_full_column_above_forty_per_cent(
    charge_share, left_share
) -> None:
    """Pages tell of 40 % and full only."""
    assert left_share == shelf_loss(25, charge_share).left_share


def test_it_tells_of_three_months_where_the_pages_do() -> None:
    """A full pack at 60 degrees was looked at after three months."""
    assert (3, 12, 12) == (
        shelf_loss(60, 1).months, shelf_loss(60, 0.4).months, shelf_loss(40, 1).months
    )  # fmt: skip


@pytest.mark.parametrize(
    ("depth_share", "cycles"),
    [
        (0.01, (3750, 4700)),
        (0.10, (3750, 4700)),
        (0.25, (2000, 2500)),
        (0.50, (1200, 1500)),
        (0.51, (300, 500)),
        (1.0, (300, 500)),
    ],
)
def test_it_takes_the_next_deeper_row(depth_share, cycles) -> None:
    """Battery pages of one origin."""
    assert cycles == cycles_at(depth_share)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: shelf_loss(-21, 0.4), "temperature_c: found -21"),
        (lambda: shelf_loss(61, 0.4), "temperature_c: found 61"),
        (lambda: shelf_loss(25, 40), "charge_share: found 40"),
        (lambda: cycles_at(0), "depth_share: found 0"),
        (lambda: cycles_at(1.1), "depth_share: found 1.1"),
    ],
)
def test_it_refuses_what_the_tables_lack(reckon, words) -> None:
    """Beyond the last row there is no figure."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
