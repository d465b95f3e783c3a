"""
Which times lie so far from the usual that somebody should say why?

Method: the outer fences of Tukey (Exploratory Data Analysis, 1977): three times the
middle half beyond its ends is far out. What was cut as a break is told too.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from statistics import median, quantiles
from typing import Literal

from turnscrew.core.bench.own_standard import N_SAMPLES_MIN
from turnscrew.core.bench.own_time import BURST_S, OwnTimes, Tap, TimedTap

FENCE = 3.0
"""Middle halves beyond which a time is far out (Tukey, 1977). [1]"""

LONGEST_S = 3 * 3600.0
"""A longer gap is a meal or a night and needs no word; a choice, no source. [s]"""


@dataclass(frozen=True)
class FarOut:
    """
    One time far from the usual.

    Parameters
    ----------
    tap
        The press that ended it.
    seconds
        The time of all its pieces, or the whole gap where it was cut. [s]
    usual_s
        The usual time of as many pieces. [s]
    kind
        Cut as a break, or far above or below the middle half.
    """

    tap: Tap
    seconds: float
    usual_s: float
    kind: Literal["cut as a break", "far longer", "far shorter"]


def far_out(times: OwnTimes) -> tuple[FarOut, ...]:
    """
    List the times that want a word, the latest first.

    Parameters
    ----------
    times
        What the taps tell.

    Returns
    -------
    tuple[FarOut, ...]
        The times.
    """
    found = [*_cut(times), *_beyond(times)]
    return tuple(sorted(found, key=lambda one: -one.tap.number))


def _cut(times: OwnTimes) -> Iterator[FarOut]:
    last: dict[str, datetime] = {}
    for timed in times.timed:
        tap = timed.tap
        before = last.get(tap.person)
        last[tap.person] = tap.at
        if timed.gap != "cut" or before is None or timed.seconds is None:
            continue
        seconds = (tap.at - before).total_seconds()
        if seconds <= LONGEST_S:
            yield FarOut(tap, seconds, timed.seconds, "cut as a break")


def _beyond(times: OwnTimes) -> Iterator[FarOut]:
    groups: dict[tuple[str, str, str], list[tuple[TimedTap, float]]] = defaultdict(list)
    for timed in times.timed:
        tap = timed.tap
        # What is shorter than a burst is no time of its own.
        is_whole = timed.gap == "known" and not tap.is_undone
        if is_whole and (timed.seconds or 0.0) >= BURST_S:
            key = (tap.model, tap.action, tap.person)
            groups[key].append((timed, (timed.seconds or 0.0) / tap.n))
    for group in groups.values():
        each_s = [one for _, one in group]
        if len(each_s) < N_SAMPLES_MIN:
            continue
        low, _, high = quantiles(each_s, n=4, method="inclusive")
        reach, usual = FENCE * (high - low), median(each_s)
        for timed, one in group:
            n = timed.tap.n
            # Where all took alike, only twice as long is far.
            if one > high + max(reach, usual):
                yield FarOut(timed.tap, one * n, usual * n, "far longer")
            elif reach and one < low - reach:
                yield FarOut(timed.tap, one * n, usual * n, "far shorter")
