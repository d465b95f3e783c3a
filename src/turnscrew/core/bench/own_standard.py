"""
What has the workshop's own work taught about the time an action takes?

Method: medians of the samples that the taps gave, with the middle half of them. One
job teaches no standard: below five samples, or from a single job, there is none. A
time that is to stand in the place of a default needs five jobs.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median, quantiles

from turnscrew.core.bench.own_time import OwnTimes, Sample
from turnscrew.core.bench.tap_words import (
    OPEN_CLOSE_WORK,
    Side,
    element_of_action,
    work_of,
)
from turnscrew.core.model.times import N_JOBS_MIN, ElementTime, element_time

N_SAMPLES_MIN = 5
"""Samples before a median is called a standard; common practice, no source. [1]"""

MOST_JOBS = 500
"""More jobs than this are not told of an element. [1]"""


@dataclass(frozen=True, kw_only=True)
class OwnStandard:
    """
    What one person takes for one piece of an action on one model.

    Parameters
    ----------
    n
        Samples. [1]
    n_jobs
        Jobs they come from. [1]
    median_s
        Median; ``None`` if there are too few samples or all are of one job. [s]
    middle_half_s
        First and third quartile; ``None`` likewise. [s]
    first_s
        Median of the first five; ``None`` below ten samples. [s]
    latest_s
        Median of the latest five; ``None`` below ten samples. [s]
    """

    n: int
    n_jobs: int
    median_s: float | None = None
    middle_half_s: tuple[float, float] | None = None
    first_s: float | None = None
    latest_s: float | None = None


@dataclass(frozen=True)
class OwnMinutes:
    """
    What opening and closing a model takes.

    Parameters
    ----------
    minutes
        Median of whole jobs, in whole minutes; ``None`` below five jobs. [min]
    n_jobs
        Whole jobs. [1]
    source
        Where the figure comes from.
    """

    minutes: int | None
    n_jobs: int
    source: str


StandardKey = tuple[str, str, str]
"""Model, action and person."""


def own_standards(samples: Iterable[Sample]) -> dict[StandardKey, OwnStandard]:
    """
    Reckon what each person takes for each action on each model.

    Parameters
    ----------
    samples
        Timed actions, in the order in which they were done.

    Returns
    -------
    dict
        Standard by model, action and person.
    """
    groups: dict[StandardKey, list[Sample]] = defaultdict(list)
    for sample in samples:
        groups[sample.model, sample.action, sample.person].append(sample)
    return {key: _standard(group) for key, group in groups.items()}


def _standard(samples: Sequence[Sample]) -> OwnStandard:
    each_s = [sample.each_s for sample in samples]
    n, n_jobs = len(each_s), _n_jobs(samples)
    if n < N_SAMPLES_MIN or n_jobs < 2:
        return OwnStandard(n=n, n_jobs=n_jobs)
    low, _, high = quantiles(each_s, n=4, method="inclusive")
    is_long = n >= 2 * N_SAMPLES_MIN
    return OwnStandard(
        n=n,
        n_jobs=n_jobs,
        median_s=median(each_s),
        middle_half_s=(low, high),
        first_s=median(each_s[:N_SAMPLES_MIN]) if is_long else None,
        latest_s=median(each_s[-N_SAMPLES_MIN:]) if is_long else None,
    )


def own_element_times(
    samples: Iterable[Sample],
    device_times: Mapping[str, ElementTime],
    model: str = "",
) -> dict[str, ElementTime]:
    """
    Put own medians in the place of what a description has for its elements.

    A median stands where five jobs or more are behind it; the other way of an element
    keeps the time it had. A time that rests on more jobs than are told here stays.

    Parameters
    ----------
    samples
        Timed actions of whoever the times are for.
    device_times
        The times of the description.
    model
        Model whose samples count; empty for all.

    Returns
    -------
    dict
        All times by element, ready for the description, with where they come from.
    """
    groups: dict[str, dict[Side, list[Sample]]] = defaultdict(lambda: defaultdict(list))
    for sample in samples:
        found = element_of_action(sample.action)
        if found is not None and model in ("", sample.model):
            groups[found[0]][found[1]].append(sample)
    times = dict(device_times)
    for element, sides in groups.items():
        told = {side: of for side, of in sides.items() if _n_jobs(of) >= N_JOBS_MIN}
        if told and _is_richer(told, device_times.get(element)):
            times[element] = _own(element, told, device_times)
    return times


def _is_richer(
    told: Mapping[Side, Sequence[Sample]], before: ElementTime | None
) -> bool:
    n_jobs = min(_n_jobs(of) for of in told.values())
    return before is None or before.n_jobs is None or n_jobs >= before.n_jobs


def _own(
    element: str,
    told: Mapping[Side, Sequence[Sample]],
    device_times: Mapping[str, ElementTime],
) -> ElementTime:
    before = element_time(element, device_times)
    each_s = {side: median(s.each_s for s in of) for side, of in told.items()}
    if element == "turn":
        # A turn is the same on the way in and on the way back.
        each_s["refit"] = each_s["strip"]
    words = [
        f"{way}: median of {len(told[side])} taps in {_n_jobs(told[side])} jobs"
        if side in told
        else f"{way}: {before.source}"
        for side, way in _WAYS
        if side in told or side not in each_s
    ]
    return ElementTime(
        strip_s=each_s.get("strip", before.strip_s),
        refit_s=each_s.get("refit", before.refit_s),
        source="own; " + "; ".join(words),
        n_jobs=min(MOST_JOBS, *(_n_jobs(of) for of in told.values())),
    )


_WAYS: tuple[tuple[Side, str], ...] = (("strip", "undoing"), ("refit", "putting back"))


def open_close_minutes(
    times: OwnTimes, model: str, whole_jobs: Collection[str]
) -> OwnMinutes:
    """
    Reckon what opening and closing a model takes, from jobs worked from end to end.

    Parameters
    ----------
    times
        What the taps tell.
    model
        The model.
    whole_jobs
        References of the jobs opened and closed with taps throughout.

    Returns
    -------
    OwnMinutes
        For the standard minutes of the terms, with where it comes from.
    """
    seconds: dict[str, float] = defaultdict(float)
    for timed in times.timed:
        tap = timed.tap
        is_counted = tap.model == model and tap.job in whole_jobs
        if is_counted and work_of(tap.action) in OPEN_CLOSE_WORK:
            seconds[tap.job] += timed.seconds or 0.0
    n_jobs = len(seconds)
    source = f"own: median of {n_jobs} whole jobs"
    if n_jobs < N_JOBS_MIN:
        return OwnMinutes(None, n_jobs, f"{source}; {N_JOBS_MIN} are wanted")
    return OwnMinutes(round(median(seconds.values()) / 60), n_jobs, source)


def _n_jobs(samples: Iterable[Sample]) -> int:
    return len({sample.job for sample in samples})
