"""Which days does the workshop work, and what is their number?"""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from turnscrew.core.model.quantities import Checked
from turnscrew.errors import BadArgumentError

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
Weekday = Literal["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]

FIRST_DAY, LAST_DAY = date(1900, 1, 1), date(2199, 12, 31)
"""No device and no promise is of a day beyond; our own choice."""

A_DAY_MEANT = f"a day from {FIRST_DAY} to {LAST_DAY}"
"""What every reader of days asks for, so that all take the same."""


def can_be_meant(day: date) -> bool:
    """
    Say whether anybody can mean a day, or only a slip of the pen can.

    Parameters
    ----------
    day
        The day.

    Returns
    -------
    bool
        True if it can be meant.
    """
    return FIRST_DAY <= day <= LAST_DAY


def days_from(day: date, n_days: int) -> date:
    """
    Give the day some days later, or earlier, and no day beyond the last one there is.

    Records of an older version may hold days that nobody can mean: what is reckoned
    from one of them is as odd as it is, but it is no error.

    Parameters
    ----------
    day
        The day.
    n_days
        How many days later, below 0 for earlier. [days]

    Returns
    -------
    date
        That day, or the first or the last day there is.
    """
    try:
        return day + timedelta(days=n_days)
    except OverflowError:
        return date.max if n_days > 0 else date.min


@dataclass(frozen=True)
class Calendar(Checked):
    """
    Which days the workshop works.

    Parameters
    ----------
    week
        Working days of the week.
    closed
        Days on which it is closed all the same.
    """

    week: tuple[Weekday, ...] = ("Mon", "Tue", "Wed", "Thu", "Fri")
    closed: tuple[date, ...] = ()

    def is_open(self, day: date) -> bool:
        """
        Say whether the workshop works on a day.

        Parameters
        ----------
        day
            The day.

        Returns
        -------
        bool
            True if so.
        """
        return self._is_of_week(day) and day not in self.closed

    def _is_of_week(self, day: date) -> bool:
        return WEEKDAYS[day.weekday()] in self.week

    def date_of(self, day: int, first: date) -> date:
        """
        Give the date of a workshop day.

        Parameters
        ----------
        day
            Number of the day; 1 is the first day worked from ``first`` on.
        first
            The day the batch was received.

        Returns
        -------
        date
            The date; the last one there is if that day lies beyond it.

        Raises
        ------
        BadArgumentError
            If the calendar has no working day within the next year.
        """
        wanted, n_week = max(day, 1), max(len(set(self.week)), 1)
        # Counted by weeks up to where it cannot be yet, as years may lie between.
        weeks = (wanted - 1) // n_week
        at = days_from(first, 7 * weeks)
        found = weeks * n_week - self._n_shut(first, at)
        for _ in range(366 + 7 * (wanted - weeks)):
            found += self.is_open(at)
            if found >= wanted or at == date.max:
                return at
            at += timedelta(days=1)
        raise BadArgumentError("a calendar without working days")

    def number_of(self, at: date, first: date) -> int:
        """
        Give the number of a date, or of the next day worked after it.

        Parameters
        ----------
        at
            The date.
        first
            The day the batch was received.

        Returns
        -------
        int
            Number of the workshop day, at least 1.
        """
        weeks, rest = divmod(max((at - first).days, 0), len(WEEKDAYS))
        # Counted by weeks, as years may lie between.
        before = weeks * len(set(self.week)) + sum(
            self._is_of_week(first + timedelta(days=n)) for n in range(rest)
        )
        return before - self._n_shut(first, at) + 1

    def _n_shut(self, first: date, at: date) -> int:
        """Count the days of the week on which it is closed all the same."""
        return sum(
            first <= day < at and self._is_of_week(day) for day in set(self.closed)
        )
