"""Do the presses of Done tell the minutes that a stopwatch would have told?"""

import math
import random
from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta, timezone
from statistics import median
from zoneinfo import ZoneInfo

import pytest

from turnscrew.core.bench.own_time import OwnTimes, Tap, own_times
from turnscrew.core.bench.tap_words import work_of
from turnscrew.core.model.times import BAND
from turnscrew.errors import BadArgumentError

ZONE = timezone(timedelta(hours=1))
MONDAY = datetime(2027, 2, 1, 8, 0, tzinfo=ZONE)

TRUE_EACH_S = {
    "undo screw": 9.4,
    "undo clip": 3.6,
    "undo plug": 6.4,
    "undo socket": 6.0,
    "lift part": 3.8,
    "turn posture": 4.5,
    "mend work": 90.0,
    "test power": 60.0,
    "lay in part": 5.2,
    "make plug": 8.0,
    "make socket": 6.0,
    "make screw": 9.8,
    "undo bond": 60.0,
    "look look": 12.0,
}


# Spread of the logarithm of hand work: as wide as the band of the default times.
SPREAD = math.log(BAND[1] / BAND[0]) / (2 * 1.2816)


def tap(number: int, after_s: float, action: str = "undo screw", **facts) -> Tap:
    values = {"person": "p", "job": "j", "model": "M", **facts}
    at = MONDAY + timedelta(seconds=after_s)
    return Tap(number=number, at=at, action=action, **values)


def seconds(*taps: Tap, closing: time | None = None) -> list[float | None]:
    return [timed.seconds for timed in own_times(taps, closing).timed]


# One person's day, with a stopwatch beside it.


@dataclass
class Day:
    taps: list[Tap]
    true_s: float = 0.0
    idle_s: float = 0.0


SLOW_EACH_S = TRUE_EACH_S | {"mend work": 240.0, "test power": 150.0, "undo bond": 90.0}
"""More than half of each day goes into single actions of minutes."""


def worked_day(
    draw: random.Random,
    start: datetime,
    number: int,
    person: str,
    true_each_s: dict[str, float] = TRUE_EACH_S,
) -> Day:
    """Play a day of seven hours of actions, breaks and interruptions."""
    day = Day([])
    now, end = start, start + timedelta(hours=8)
    # Coffee, lunch, coffee: at some moment of their hour, and as long as they last.
    breaks = [
        (start + timedelta(hours=h, minutes=draw.uniform(0, 50)), low, high)
        for h, low, high in ((1, 5, 25), (3, 20, 60), (6, 5, 25))
    ]
    job = 0
    while now < end:
        job += 1
        for action in true_each_s:
            n = draw.randint(1, 8) if "screw" in action else 1
            each_s = true_each_s[action] * math.exp(draw.gauss(0, SPREAD))
            idle_s = 0.0
            if breaks and now >= breaks[0][0]:
                _, low, high = breaks.pop(0)
                idle_s += 60 * draw.uniform(low, high)
            if draw.random() < 0.01:
                # Somebody asks, the telephone rings.
                idle_s += draw.uniform(30, 900)
            now += timedelta(seconds=n * each_s + idle_s)
            if now >= end:
                break
            day.true_s += n * each_s
            day.idle_s += idle_s
            day.taps.append(
                Tap(
                    number=number + len(day.taps),
                    at=now.replace(microsecond=0),
                    person=person,
                    job=f"{start:%m%d}-{person}-{job}",
                    model="M",
                    action=action,
                    n=n,
                )
            )
    return day


def off_by(day: Day, times: OwnTimes) -> float:
    key = (day.taps[0].person, day.taps[0].at.date())
    return times.by_day[key] * 60 / day.true_s - 1


def days_of(seed: int, n: int, true_each_s: dict[str, float]) -> list[Day]:
    draw = random.Random(seed)
    return [
        worked_day(draw, MONDAY + timedelta(days=k), 1000 * k, "p", true_each_s)
        for k in range(n)
    ]


def test_it_agrees_with_a_stopwatch_on_each_of_200_days() -> None:
    days = days_of(1, 200, TRUE_EACH_S)

    times = own_times([tap for day in days for tap in day.taps])

    errors = [off_by(day, times) for day in days]
    assert max(map(abs, errors)) <= 0.10
    assert abs(median(errors)) <= 0.02
    # Had breaks been counted, every day would have been out.
    assert min(day.idle_s / day.true_s for day in days) > 0.10


def test_it_is_nearly_as_good_where_single_actions_take_minutes() -> None:
    days = days_of(1, 200, SLOW_EACH_S)

    times = own_times([tap for day in days for tap in day.taps])

    errors = [off_by(day, times) for day in days]
    assert max(map(abs, errors)) <= 0.15
    assert sum(abs(error) <= 0.10 for error in errors) >= 190


def test_it_agrees_with_a_stopwatch_on_each_first_day_of_200_people() -> None:
    for seed in range(200):
        day = worked_day(random.Random(seed), MONDAY, 1, "p")

        assert abs(off_by(day, own_times(day.taps))) <= 0.10, seed


def test_it_keeps_the_people_apart_who_press_at_the_same_time() -> None:
    draw = random.Random(3)
    days = [worked_day(draw, MONDAY, 1, person) for person in "abc"]
    mixed = sorted((tap for day in days for tap in day.taps), key=lambda t: t.at)
    renumbered = [replace(tap, number=i) for i, tap in enumerate(mixed)]

    times = own_times(renumbered)

    for day in days:
        assert abs(off_by(day, times)) <= 0.10
    assert sum(times.by_person.values()) == pytest.approx(sum(times.by_job.values()))
    assert sum(times.by_work.values()) == pytest.approx(sum(times.by_job.values()))
    assert sum(times.by_day.values()) == pytest.approx(sum(times.by_job.values()))


# The slow, obvious version: every tap looks through all taps again.


def slow_gap(taps: list[Tap], tap: Tap) -> float | None:
    mine = [t for t in taps if t.person == tap.person and t.number < tap.number]
    before = max(mine, key=lambda t: t.number, default=tap)
    gap = tap.at.timestamp() - before.at.timestamp()
    if before is tap or gap < 0 or before.at.date() != tap.at.date():
        return None
    return gap


def slow_is_closed(taps: list[Tap], tap: Tap, closing: time | None) -> bool:
    begun = tap.at - timedelta(seconds=slow_gap(taps, tap) or 0.0)
    return closing is not None and begun.time() < closing <= tap.at.time()


def slow_seconds(
    taps: list[Tap], closing: time | None
) -> tuple[dict[int, float | None], dict[int, float]]:
    told: dict[int, float | None] = {}
    learnt: list[tuple[str, float]] = []
    sampled: dict[int, float] = {}
    for tap in sorted(taps, key=lambda t: t.number):
        gap = told[tap.number] = slow_gap(taps, tap)
        if gap is None:
            continue
        if slow_is_closed(taps, tap, closing):
            told[tap.number] = 0.0
            continue
        gap = gap - tap.wait_s if gap > tap.wait_s else gap
        usual = [s for action, s in learnt if action == tap.action]
        cut = max(60.0, 6 * median(usual)) if usual else 60.0
        told[tap.number] = gap if gap <= cut else median(usual or [60.0])
        if not tap.is_undone and gap >= 1:
            learnt.append((tap.action, min(gap, cut)))
            sampled |= {tap.number: gap} if gap <= cut else {}
    return told, sampled


@pytest.mark.parametrize("seed", range(60))
def test_it_agrees_with_the_slow_version(seed: int) -> None:
    draw = random.Random(seed)
    taps = []
    now = MONDAY
    for number in range(120):
        now += timedelta(seconds=draw.choice((0, 0.4, 5, 20, 70, 400, 3000, -500)))
        taps.append(
            Tap(
                number=number * 3,
                at=now + timedelta(days=draw.choice((0, 0, 0, number // 30))),
                person=draw.choice("ab"),
                job=draw.choice("xyz"),
                model=draw.choice("MN"),
                action=draw.choice(list(TRUE_EACH_S)[:4]),
                n=draw.randint(1, 6),
                is_undone=draw.random() < 0.1,
                wait_s=draw.choice((0.0, 0.0, 30.0)),
            )
        )
    draw.shuffle(taps)
    closing = draw.choice((None, time(9, 30)))

    times = own_times(taps, closing)

    told, sampled = slow_seconds(taps, closing)
    assert told == {
        timed.tap.number: pytest.approx(timed.seconds) for timed in times.timed
    }
    assert list(sampled.values()) == pytest.approx([s.seconds for s in times.samples])
    by_job: dict[str, float] = defaultdict(float)
    for one in taps:
        by_job[one.job] += (told[one.number] or 0.0) / 60
    assert dict(by_job) == pytest.approx(dict(times.by_job))
    assert times.n_unknown == list(told.values()).count(None)


@pytest.mark.parametrize("seed", range(40))
def test_what_was_reckoned_never_changes_when_more_taps_come(seed: int) -> None:
    day = worked_day(random.Random(seed), MONDAY, 1, "p")
    early = day.taps[: len(day.taps) // 3]

    assert own_times(early).timed == own_times(day.taps).timed[: len(early)]


@pytest.mark.parametrize("seed", range(40))
def test_a_gap_counts_whole_or_less_and_whole_if_it_is_short(seed: int) -> None:
    times = own_times(worked_day(random.Random(seed), MONDAY, 1, "p").taps)

    for before, timed in zip(times.timed, times.timed[1:], strict=False):
        assert timed.seconds is not None
        lasted_s = (timed.tap.at - before.tap.at).total_seconds()
        assert timed.seconds <= lasted_s
        assert timed.seconds == lasted_s or lasted_s > 60


# Single rules.


def test_time_belongs_to_the_job_and_action_of_the_tap_that_ends_it() -> None:
    times = own_times([
        tap(1, 0, job="a"),
        tap(2, 30, "lift part", job="b"),
        tap(3, 50, "make screw", job="a"),
    ])  # fmt: skip

    assert {"a": 20 / 60, "b": 30 / 60} == times.by_job
    assert {"opening": 0.5, "refit": 20 / 60} == times.by_work


def test_the_first_tap_of_a_day_is_unknown_and_no_zero() -> None:
    assert [None, 10, None, 20] == seconds(
        tap(1, 0), tap(2, 10), tap(3, 86_400), tap(4, 86_420)
    )


def test_a_clock_set_back_is_unknown_and_the_next_gap_is_right_again() -> None:
    assert [None, 10, None, 15] == seconds(
        tap(1, 0), tap(2, 10), tap(3, -3600), tap(4, -3585)
    )


def test_the_order_is_that_of_the_journal() -> None:
    assert [None, 10, 20] == seconds(tap(3, 30), tap(1, 0), tap(2, 10))


def test_a_change_to_summer_time_adds_no_hour() -> None:
    zone = ZoneInfo("Europe/Berlin")
    before = datetime(2027, 3, 28, 1, 59, 50, tzinfo=zone)
    after = datetime(2027, 3, 28, 3, 0, 10, tzinfo=zone)
    taps = [replace(tap(1, 0), at=before), replace(tap(2, 0), at=after)]

    assert [None, 20] == seconds(*taps)


def test_a_gap_over_closing_time_counts_nothing_and_teaches_nothing() -> None:
    # From 16:55 to 17:40 with closing at 17:00.
    start = 8 * 3600 + 55 * 60
    taps = [tap(1, start), tap(2, start + 45 * 60), tap(3, start + 46 * 60)]

    assert [None, 0, 60] == seconds(*taps, closing=time(17, 0))
    assert 1 == len(own_times(taps, time(17, 0)).samples)


def test_a_gap_beyond_six_usual_ones_counts_as_a_usual_one() -> None:
    taps = [tap(k, 40 * k) for k in range(6)]
    long = tap(6, 5 * 40 + 5000)
    other = tap(7, 5 * 40 + 5000 + 5000, "undo clip")

    assert [None, 40, 40, 40, 40, 40, 40, 60] == seconds(*taps, long, other)
    just_below = tap(6, 5 * 40 + 240)
    assert 240 == seconds(*taps, just_below)[-1]


def test_a_slow_action_is_taken_in_full_once_it_is_known() -> None:
    taps = [tap(k, 300 * k, "undo bond") for k in range(5)]

    times = own_times(taps)

    assert [None, 60, 300, 300, 300] == [one.seconds for one in times.timed]
    # The first was cut before anybody could know, so it is no sample.
    assert [300, 300, 300] == [sample.seconds for sample in times.samples]


def test_a_tap_taken_back_is_time_of_the_job_but_no_sample() -> None:
    times = own_times([tap(1, 0), tap(2, 30, is_undone=True), tap(3, 50)])

    assert 50 / 60 == pytest.approx(times.by_job["j"])
    assert [20.0] == [sample.seconds for sample in times.samples]


def test_the_pieces_of_a_burst_share_its_time() -> None:
    times = own_times([tap(1, 0), tap(2, 40), *(tap(k, 40) for k in (3, 4, 5))])

    assert {"j": 40 / 60} == times.by_job
    assert [(40.0, 4, 10.0)] == [(s.seconds, s.n, s.each_s) for s in times.samples]


def test_a_burst_does_not_reach_into_another_job() -> None:
    times = own_times([tap(1, 0), tap(2, 40), tap(3, 40, job="k")])

    assert [1] == [sample.n for sample in times.samples]


def test_heat_and_wait_are_no_time_of_hands() -> None:
    bond = tap(2, 200, "undo bond", wait_s=150)
    # Somebody who worked on another device meanwhile was not waiting.
    short = tap(2, 50, "undo bond", wait_s=150)

    assert [None, 50] == seconds(tap(1, 0), bond)
    assert [None, 50] == seconds(tap(1, 0), short)


def test_days_are_told_by_person_and_date() -> None:
    times = own_times([tap(1, 0), tap(2, 30), tap(3, 10, person="q")])

    assert {("p", date(2027, 2, 1)): 0.5, ("q", date(2027, 2, 1)): 0} == times.by_day
    assert {"p": 0.5, "q": 0} == times.by_person
    assert 2 == times.n_unknown


def test_nothing_told_is_nothing_reckoned() -> None:
    times = own_times([])

    assert ((), (), {}) == (times.timed, times.samples, times.by_job)


def test_a_time_without_zone_and_a_number_twice_are_refused() -> None:
    with pytest.raises(BadArgumentError, match="wanted a time with its zone"):
        replace(tap(1, 0), at=datetime(2027, 2, 1, tzinfo=UTC).replace(tzinfo=None))
    with pytest.raises(BadArgumentError, match="found 7 twice"):
        own_times([tap(7, 0), tap(7, 5)])
    with pytest.raises(BadArgumentError, match="n: found 0"):
        tap(1, 0, n=0)


@pytest.mark.parametrize(
    ("action", "work"),
    [
        ("undo screw", "opening"),
        ("lift part", "opening"),
        ("lay in part", "refit"),
        ("make socket", "refit"),
        ("turn posture", "turning and tools"),
        ("test open", "tests"),
        ("count count", "looks and counts"),
        ("fit work", "mending"),
        ("undone", "other"),
    ],
)
def test_it_knows_the_kind_of_work_of_an_action(action: str, work: str) -> None:
    assert work == work_of(action)


def test_a_tap_at_closing_time_itself_is_over_it_and_one_before_is_not() -> None:
    start = 9 * 3600 - 120
    taps = [tap(1, start), tap(2, start + 60), tap(3, start + 120), tap(4, start + 130)]

    assert [None, 60, 0, 10] == seconds(*taps, closing=time(17, 0))
