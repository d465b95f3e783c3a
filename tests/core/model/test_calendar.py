"""Is the number of a day what counting day by day gives?"""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.calendar import (
    FIRST_DAY,
    LAST_DAY,
    WEEKDAYS,
    Calendar,
    can_be_meant,
)

DAYS = st.dates(date(2026, 12, 1), date(2027, 3, 1))
CALENDARS = st.builds(
    Calendar,
    week=st.lists(st.sampled_from(WEEKDAYS), min_size=1).map(tuple),
    closed=st.lists(DAYS, max_size=6).map(tuple),
)


@given(CALENDARS, DAYS, DAYS)
def test_it_numbers_a_day_as_counting_one_by_one_does(calendar, at, first) -> None:
    days = (first + timedelta(days=n) for n in range((at - first).days))

    assert 1 + sum(map(calendar.is_open, days)) == calendar.number_of(at, first)


def test_it_knows_the_first_and_the_last_day_that_can_be_meant() -> None:
    night = timedelta(days=1)

    assert can_be_meant(FIRST_DAY)
    assert not can_be_meant(FIRST_DAY - night)
    assert can_be_meant(LAST_DAY)
    assert not can_be_meant(LAST_DAY + night)


def test_it_numbers_a_day_at_the_end_of_the_calendar() -> None:
    """From a Monday 52 weeks of five days and one day lie before the next Tuesday."""
    assert 262 == Calendar().number_of(date(2028, 2, 1), date(2027, 2, 1))
    assert Calendar().number_of(date(9999, 12, 31), date.min) > 2_000_000
