"""
How many minutes of hands did the work take, told by the presses of Done alone?

Method: each tap ends the work on its job since the same person's tap before it. A gap
that is far longer than usual for its action holds a break, so only the usual gap of
its action counts. How long is usual is learnt from the gaps before it, each taken up to
the cut, so what was once reckoned never changes when more taps come. A gap that nobody
can know (the first of a day, a clock set back) is left unknown and not taken for zero.
Played against known times, a day is off by a few per cent; it may be off by more than
ten where half the day goes into single actions of minutes, which can hide a break.
"""

from bisect import insort
from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time
from functools import cached_property
from typing import Annotated, Literal, TypeVar

from turnscrew.core.bench.tap_words import work_of
from turnscrew.core.model.quantities import Bounds, Checked, TimeS
from turnscrew.errors import BadArgumentError

LEAST_CUT_S = 60.0
"""No gap up to this is taken for a break; common practice, no source. [s]"""

CUT_PER_MEDIAN = 6.0
"""A gap longer than so many usual ones holds a break; common practice. [1]"""

BURST_S = 1.0
"""Taps closer than this are told together, not worked apart; common practice. [s]"""

_Key = TypeVar("_Key", bound=Hashable)

Gap = Literal["known", "cut", "closed", "first", "clock"]
"""
What is known of the time before a tap: all of it; it holds a break and the usual time
counts; none of it counts, since the workshop was closed; it is the first of the day;
the clock was set back. The last two are unknown.
"""


@dataclass(frozen=True, kw_only=True)
class Tap(Checked):
    """
    One press of Done.

    Parameters
    ----------
    number
        Its number in its journal, which tells the order.
    at
        When, in the zone of the workshop.
    person
        Random reference of whoever pressed.
    job
        Reference of the job.
    model
        Model of its device.
    action
        A verb and a kind, such as ``undo screw`` or ``lift part``; the kind of a joint
        is its element of work.
    n
        Pieces. [1]
    is_undone
        It was taken back later.
    wait_s
        Heat, wait and cure that the description states for it: no time of hands. [s]
    """

    number: int
    at: datetime
    person: str
    job: str
    model: str
    action: str
    n: Annotated[int, Bounds(1, 500, "1")] = 1
    is_undone: bool = False
    wait_s: TimeS = 0.0

    def __post_init__(self) -> None:
        """
        Refuse a time without its zone.

        Raises
        ------
        BadArgumentError
            If the time has no zone, or a figure is out of bounds.
        """
        super().__post_init__()
        if self.at.utcoffset() is None:
            raise BadArgumentError(f"at: found {self.at}, wanted a time with its zone")


@dataclass(frozen=True)
class TimedTap:
    """
    One press of Done with the time that it ends.

    Parameters
    ----------
    tap
        The press.
    gap
        What is known of the time before it.
    seconds
        Time of hands; ``None`` if it is unknown. [s]
    """

    tap: Tap
    gap: Gap
    seconds: float | None


@dataclass(frozen=True, kw_only=True)
class Sample:
    """
    One timed action.

    Parameters
    ----------
    model
        Model of the device.
    action
        The action.
    person
        Who did it.
    job
        The job it belongs to.
    seconds
        Time of all its pieces. [s]
    n
        Pieces. [1]
    """

    model: str
    action: str
    person: str
    job: str
    seconds: float
    n: int

    @property
    def each_s(self) -> float:
        """
        Give the time of one piece.

        Returns
        -------
        float
            The time. [s]
        """
        return self.seconds / self.n


@dataclass(frozen=True)
class OwnTimes:
    """
    What the taps tell.

    Parameters
    ----------
    timed
        Every tap in the order of its number, with its time.
    samples
        Every action timed without a break in it, in the order of its tap.
    """

    timed: tuple[TimedTap, ...]
    samples: tuple[Sample, ...]

    @cached_property
    def by_job(self) -> Mapping[str, float]:
        """
        Add up by job.

        Returns
        -------
        Mapping
            Minutes by reference of the job. [min]
        """
        return self._minutes(lambda tap: tap.job)

    @cached_property
    def by_work(self) -> Mapping[str, float]:
        """
        Add up by kind of work.

        Returns
        -------
        Mapping
            Minutes by kind of work. [min]
        """
        return self._minutes(lambda tap: work_of(tap.action))

    @cached_property
    def by_person(self) -> Mapping[str, float]:
        """
        Add up by person.

        Returns
        -------
        Mapping
            Minutes by reference of the person. [min]
        """
        return self._minutes(lambda tap: tap.person)

    @cached_property
    def by_day(self) -> Mapping[tuple[str, date], float]:
        """
        Add up by person and day.

        Returns
        -------
        Mapping
            Minutes by reference of the person and date. [min]
        """
        return self._minutes(lambda tap: (tap.person, tap.at.date()))

    @property
    def n_unknown(self) -> int:
        """
        Count the taps whose time is unknown.

        Returns
        -------
        int
            Taps. [1]
        """
        return sum(timed.seconds is None for timed in self.timed)

    def _minutes(self, key: Callable[[Tap], _Key]) -> dict[_Key, float]:
        sums: dict[_Key, float] = defaultdict(float)
        for timed in self.timed:
            sums[key(timed.tap)] += (timed.seconds or 0.0) / 60
        return dict(sums)


def own_times(taps: Iterable[Tap], closing: time | None = None) -> OwnTimes:
    """
    Reckon the time of hands from the taps.

    Parameters
    ----------
    taps
        The presses of Done, in any order.
    closing
        Time of day at which the workshop closes; ``None`` if only nights part days.

    Returns
    -------
    OwnTimes
        Time of each tap, and the samples of each action.

    Raises
    ------
    BadArgumentError
        If two taps have the same number.
    """
    ordered = sorted(taps, key=lambda tap: tap.number)
    _refuse_twins(ordered)
    last: dict[str, Tap] = {}
    usual: dict[str, list[float]] = defaultdict(list)
    timed: list[TimedTap] = []
    for tap in ordered:
        one = _timed(last.get(tap.person), tap, closing, usual[tap.action])
        last[tap.person] = tap
        timed.append(one)
        if one.gap == "cut" and not tap.is_undone:
            insort(usual[tap.action], _cut_s(usual[tap.action]))
        elif _is_sample(one):
            insort(usual[tap.action], one.seconds or 0.0)
    return OwnTimes(tuple(timed), tuple(_samples(timed)))


def _refuse_twins(ordered: list[Tap]) -> None:
    for one, other in zip(ordered, ordered[1:], strict=False):
        if one.number == other.number:
            raise BadArgumentError(f"number: found {one.number} twice, wanted it once")


def _timed(
    before: Tap | None, tap: Tap, closing: time | None, usual: list[float]
) -> TimedTap:
    if before is None:
        return TimedTap(tap, "first", None)
    # Two times of one zone would be taken apart by the clock on the wall, which a
    # change to summer time falsifies.
    seconds = (tap.at.astimezone(UTC) - before.at.astimezone(UTC)).total_seconds()
    if seconds < 0:
        return TimedTap(tap, "clock", None)
    if before.at.date() != tap.at.date():
        return TimedTap(tap, "first", None)
    if closing is not None and before.at.time() < closing <= tap.at.time():
        return TimedTap(tap, "closed", 0.0)
    if seconds > tap.wait_s:
        # Who worked elsewhere meanwhile has the shorter gap, and no wait in it.
        seconds -= tap.wait_s
    if seconds > _cut_s(usual):
        return TimedTap(tap, "cut", _middle(usual) or LEAST_CUT_S)
    return TimedTap(tap, "known", seconds)


def _cut_s(usual: list[float]) -> float:
    return max(LEAST_CUT_S, CUT_PER_MEDIAN * _middle(usual))


def _middle(ordered: list[float]) -> float:
    """Give the median of what is in order already; nothing if there is none."""
    if not ordered:
        return 0.0
    half = len(ordered) // 2
    return (ordered[half] + ordered[-half - 1]) / 2


def _is_sample(one: TimedTap) -> bool:
    is_whole = one.gap == "known" and not one.tap.is_undone
    return is_whole and (one.seconds or 0.0) >= BURST_S


def _samples(timed: Iterable[TimedTap]) -> Iterable[Sample]:
    """Take what was timed whole; pieces of a burst join the tap that began it."""
    samples: list[Sample] = []
    newest: dict[str, int] = {}
    for one in timed:
        tap = one.tap
        at = newest.get(tap.person)
        if _is_sample(one):
            newest[tap.person] = len(samples)
            samples.append(_sample(one))
        elif one.gap != "known" or tap.is_undone:
            newest.pop(tap.person, None)
        elif at is not None and _is_like(samples[at], tap):
            samples[at] = replace(samples[at], n=samples[at].n + tap.n)
    return samples


def _is_like(sample: Sample, tap: Tap) -> bool:
    return (sample.job, sample.action) == (tap.job, tap.action)


def _sample(one: TimedTap) -> Sample:
    tap = one.tap
    return Sample(
        model=tap.model,
        action=tap.action,
        person=tap.person,
        job=tap.job,
        seconds=one.seconds or 0.0,
        n=tap.n,
    )
