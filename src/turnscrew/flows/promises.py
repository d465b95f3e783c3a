"""
How many of the devices handed back will still come back, and what will that cost?

Method: each promise counts the days it has run, up to its end or to the day the device
came back. Comebacks so far over those days give a gamma law of the rate, from which the
number to come in the days still open is predicted. A comeback is taken to be as likely
on every day of a promise; if most come early, too many are expected, not too few.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from turnscrew.core.model.amounts import counted
from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.price.provision import Provision, provision_for
from turnscrew.core.reliability.fit import FEW_EVENTS
from turnscrew.core.reliability.prediction import (
    JEFFREYS,
    exposure_ahead,
    predict_count,
)

CostsOf = Literal["comebacks", "first repairs", "nothing"]


@dataclass(frozen=True)
class Promised:
    """
    One repair that was handed back under a promise.

    Parameters
    ----------
    handed_back
        The day it was handed back.
    promise_days
        Days for which it is promised. [days]
    came_back
        The day the device came back under it; ``None`` if it has not.
    watched_from
        Day from which a comeback would be on record; ``None`` if from the first day on.
    """

    handed_back: date
    promise_days: int
    came_back: date | None = None
    watched_from: date | None = None

    def __post_init__(self) -> None:
        """Refuse days below 0 and a comeback before the hand-back."""
        told = ""
        if self.came_back is not None and self.came_back < self.handed_back:
            told = f"came_back: found {self.came_back}, wanted {self.handed_back} or on"
        refuse(unlike("promise_days", self.promise_days, least=0, is_whole=True), told)

    @property
    def month(self) -> str:
        """
        Give the month of hand-back.

        Returns
        -------
        str
            Such as ``2027-02``.
        """
        return f"{self.handed_back:%Y-%m}"

    def has_come_back(self, today: date) -> bool:
        """
        Say whether the device has come back by a day.

        Parameters
        ----------
        today
            The day.

        Returns
        -------
        bool
            True if it has, be it before anybody watched.
        """
        return self.came_back is not None and self.came_back <= today

    def is_counted(self, today: date) -> bool:
        """
        Say whether its comeback tells how often devices come back.

        Parameters
        ----------
        today
            The day.

        Returns
        -------
        bool
            True if it came back by then, and after the watch began.
        """
        if self.came_back is None or self.came_back > today:
            return False
        return self.watched_from is None or self.came_back > self.watched_from

    def days_run(self, today: date) -> int:
        """
        Count the days on which a comeback would have been seen.

        Parameters
        ----------
        today
            The day it is.

        Returns
        -------
        int
            Days up to its end, its comeback or today. [days]
        """
        first = max(self.handed_back, self.watched_from or self.handed_back)
        last = min(today, self.came_back or today)
        n_before = (first - self.handed_back).days
        return max(0, min((last - self.handed_back).days, self.promise_days) - n_before)

    def days_left(self, today: date) -> int | None:
        """
        Count the days for which it is still open.

        Parameters
        ----------
        today
            The day it is.

        Returns
        -------
        int or None
            Days, 0 on its last one; ``None`` if it is over or was used. [days]
        """
        left = self.promise_days - max(0, (today - self.handed_back).days)
        return None if left < 0 or self.has_come_back(today) else left


@dataclass(frozen=True)
class Ahead:
    """
    Comebacks still expected from some open promises.

    Parameters
    ----------
    month
        Month of hand-back; empty for all together.
    n_open
        Promises still open. [1]
    expected
        Expected comebacks, a float; ``None`` if unknown. [1]
    low
        Lower limit; ``None`` if unknown. [1]
    high
        Upper limit; ``None`` if unknown. [1]
    """

    month: str
    n_open: int
    expected: float | None
    low: int | None
    high: int | None


@dataclass(frozen=True)
class PromisesAhead:
    """
    What is owed by promise.

    Parameters
    ----------
    months
        By month of hand-back, the oldest first.
    total
        All together; its limits are no sum of those of the months.
    n_promises
        Promises that were watched, open or over. [1]
    n_comebacks
        Comebacks seen under them so far. [1]
    days_run
        Days they have run. [days]
    confidence
        Level of both limits together. [1]
    provision
        Money to be set aside; ``None`` if unknown.
    costs_of
        What its cost of a comeback is the mean of.
    says
        What is to be known of these figures, a sentence each.
    """

    months: tuple[Ahead, ...]
    total: Ahead
    n_promises: int
    n_comebacks: int
    days_run: int
    confidence: float
    provision: Provision | None
    costs_of: CostsOf
    says: tuple[str, ...]


def promises_ahead(
    promised: Iterable[Promised],
    today: date,
    *,
    comeback_costs_minor: Sequence[int] = (),
    repair_costs_minor: Sequence[int] = (),
    confidence: float = 0.9,
) -> PromisesAhead:
    """
    Give the comebacks still expected from the open promises, and the provision.

    Parameters
    ----------
    promised
        All promises on record, those that are over among them.
    today
        The day it is.
    comeback_costs_minor
        What the comebacks so far cost, as far as it is known. [minor units]
    repair_costs_minor
        What the first repairs cost, in place of those where none is known.
        [minor units]
    confidence
        Level of both limits together. [1]

    Returns
    -------
    PromisesAhead
        The figures; without any promise that has run for a day they are unknown, and
        it is said.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    listed = list(promised)
    seen = _Seen.of(listed, today, confidence)
    by_month: dict[str, list[int]] = defaultdict(list)
    for one in listed:
        left = one.days_left(today)
        if left is not None:
            by_month[one.month].append(left)
    total = seen.ahead("", [left for days in by_month.values() for left in days])
    costs_of: CostsOf = "nothing"
    if comeback_costs_minor or repair_costs_minor:
        costs_of = "comebacks" if comeback_costs_minor else "first repairs"
    provision = None
    if total.expected is not None and total.low is not None and total.high is not None:
        provision = provision_for(
            total.expected,
            (total.low, total.high),
            comeback_costs_minor or repair_costs_minor,
        )
    return PromisesAhead(
        months=tuple(seen.ahead(*month) for month in sorted(by_month.items())),
        total=total,
        n_promises=seen.n_promises,
        n_comebacks=seen.n_comebacks,
        days_run=seen.days_run,
        confidence=confidence,
        provision=provision,
        costs_of=costs_of,
        says=tuple(_words(seen, total, costs_of)),
    )


@dataclass(frozen=True)
class _Seen:
    """What the promises told so far of how often devices come back."""

    n_promises: int
    n_comebacks: int
    n_not_counted: int
    days_run: int
    confidence: float

    @classmethod
    def of(cls, promised: list[Promised], today: date, confidence: float) -> "_Seen":
        days = [one.days_run(today) for one in promised]
        n_back = sum(one.has_come_back(today) for one in promised)
        n_counted = sum(one.is_counted(today) for one in promised)
        return cls(
            n_promises=sum(n > 0 for n in days),
            n_comebacks=n_counted,
            n_not_counted=n_back - n_counted,
            days_run=sum(days),
            confidence=confidence,
        )

    def ahead(self, month: str, days_left: list[int]) -> Ahead:
        """Predict what comes in the days left of some open promises."""
        n_open = len(days_left)
        if not self.days_run:
            return Ahead(month, n_open, None, None, None)
        told = predict_count(
            failures=self.n_comebacks,
            exposure=self.days_run,
            future_exposure=self._days_ahead(days_left),
            confidence=self.confidence,
        )
        # One promise is used once.
        low, high = min(told.lower, n_open), min(told.upper, n_open)
        return Ahead(month, n_open, told.mean, low, high)

    def _days_ahead(self, days_left: list[int]) -> float:
        """Give the days they will stay open: a comeback ends its promise early."""
        longest = max(days_left, default=0)
        if not longest:
            return 0.0
        rate = JEFFREYS.after(self.n_comebacks, self.days_run).mean
        ages = [longest - left for left in days_left]
        return float(
            exposure_ahead(
                ages, window=longest, retire_age=longest, retire_rate=rate
            ).sum()
        )


def _words(seen: _Seen, total: Ahead, costs_of: CostsOf) -> Iterable[str]:
    if not seen.days_run:
        yield (
            "Unknown: no promise has run for a day yet, so nothing tells how often "
            "devices come back."
        )
        return
    if seen.n_comebacks < FEW_EVENTS:
        n_back = counted(seen.n_comebacks, "comeback")
        n = counted(seen.n_promises, "promise")
        yield f"Few data: {n_back} in {n} so far, so the range is wide."
    if seen.n_not_counted:
        n_back = counted(seen.n_not_counted, "comeback")
        yield f"Not counted, as nobody had watched until then: {n_back}."
    if costs_of == "nothing":
        yield (
            "What a comeback costs is unknown: its minutes or parts are not on record."
        )
    elif costs_of == "first repairs":
        yield (
            "No comeback of known cost is on record: one is taken to cost as much as a "
            "first repair."
        )
    if total.n_open and total.high == total.n_open:
        yield "The upper limit is every open promise: the data do not set a lower one."
