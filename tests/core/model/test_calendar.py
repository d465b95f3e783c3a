"""Is the number of a day what counting day by day gives?"""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.model.calendar import (
    FIRST_DAY,
    LAST_DAY,
    WEEKDAYS,
    Calendar,
    can_be_meant,
    days_from,
)
from turnscrew.errors import BadArgumentError

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


@given(CALENDARS, DAYS, st.integers(-1, 400))
def test_it_dates_a_number_as_counting_one_by_one_does(calendar, first, number) -> None:
    at, n_open = first, calendar.is_open(first)
    while n_open < max(number, 1):
        at += timedelta(days=1)
        n_open += calendar.is_open(at)

    assert at == calendar.date_of(number, first)


def test_it_gives_no_day_beyond_the_last_one_there_is() -> None:
    assert date.max == Calendar().date_of(3, date(9999, 12, 31))
    assert date.max == Calendar().date_of(3_000_000, date.min)
    assert date(2027, 2, 1) == Calendar().date_of(528_581, date.min)


def test_it_dates_nothing_by_a_calendar_without_working_days() -> None:
    with pytest.raises(BadArgumentError, match="without working days"):
        Calendar(week=()).date_of(3, date(2027, 2, 1))


@pytest.mark.parametrize(
    ("day", "n_days", "then"),
    [
        (date(2027, 2, 1), 28, date(2027, 3, 1)),
        (date(2027, 2, 1), -32, date(2026, 12, 31)),
        (date(9999, 12, 1), 60, date.max),
        (date(1, 3, 1), -91, date.min),
    ],
)
def test_it_reckons_from_a_day_to_the_ends_of_the_calendar(day, n_days, then) -> None:
    assert then == days_from(day, n_days)


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
