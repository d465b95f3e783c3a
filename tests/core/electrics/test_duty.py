"""When must a fuse hold, and when must it have opened?"""

import pytest

from turnscrew.core.electrics.duty import duties_at, slow_chip_state
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize(
    ("multiple", "ul", "iec"),
    [
        (0.5, "holds 4 h", "must hold 1 h"),
        (1.34, "no figure", "must hold 1 h"),
        (1.35, "must open within 1 h", "must hold 1 h"),
        (1.5, "must open within 1 h", "must hold 1 h"),
        (1.51, "must open within 1 h", "no figure"),
        (2.1, "must open within 1 h", "must open within 30 min"),
    ],
)
def test_it_says_where_the_families_part(multiple, ul, iec) -> None:
    """UL 248-14 in a maker's guide, IEC 60127 in an article."""
    duties = duties_at(multiple)

    assert (ul, iec) == (duties.ul, duties.iec)


@pytest.mark.parametrize(
    ("multiple", "words"),
    [
        (1.3, "from memory"),
        (2.0, "another page says 5 s"),
        (2.75, "IEC at 2.75: within 2 s"),
        (4, "IEC at 4: within 0.3 s"),
        (10, "IEC at 10: within 0.02 s"),
    ],
)
def test_it_notes_where_pages_differ_or_say_more(multiple, words) -> None:
    """Only the row that was reached is named."""
    assert words in duties_at(multiple).note


def test_it_notes_nothing_where_there_is_nothing() -> None:
    """At its rating a fuse holds in both families."""
    assert "" == duties_at(1.0).note


@pytest.mark.parametrize(
    ("percent", "time_s", "state"),
    [
        (100, 14_399, "must hold"),
        (100, 14_400, "may open"),
        (200, 1, "may open"),
        (200, 120, "may open"),
        (300, 0.1, "may open"),
        (300, 3, "may open"),
        (300, 3.1, "must be open"),
    ],
)
def test_it_gives_both_ends_to_the_window(percent, time_s, state) -> None:
    """A data page of slow chip fuses."""
    assert state == slow_chip_state(percent, time_s)


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: duties_at(0), "multiple: found 0"),
        (lambda: duties_at(101), "multiple: found 101"),
        (lambda: slow_chip_state(250, 1), "percent: found 250, wanted 100, 200 or 300"),
        (lambda: slow_chip_state(200, -1), "time_s: found -1"),
    ],
)
def test_it_refuses_what_the_tables_lack(reckon, words) -> None:
    """Nothing is read between the rows."""
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
