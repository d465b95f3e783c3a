"""Is a promised day kept as often as it says?"""

import random
from math import exp, sqrt

import pytest

from turnscrew.core.schedule.problem import LAST_DAY, Bench, Job, ScheduleProblem
from turnscrew.core.schedule.promise import promised, quantile_day
from turnscrew.core.schedule.rule import planned_by_rule
from turnscrew.errors import BadArgumentError


def jobs(n: int, minutes: int = 60, **facts) -> tuple[Job, ...]:
    return tuple(Job(i + 1, "k", minutes, 1, **facts) for i in range(n))


def draws(seed: int = 1):
    chance = random.Random(seed)
    return lambda: chance.gauss(0.0, 1.0)


def test_without_spread_the_promise_is_the_plan() -> None:
    problem = ScheduleProblem(jobs(20), (Bench("a", 390), Bench("b", 360)))
    promise = promised(problem, 0.8, 0.0, draws(), 5)

    assert planned_by_rule(problem).last_day == promise.day


def test_forty_jobs_need_less_than_the_sum_of_their_ninety_percent_times() -> None:
    # 40 jobs with a median of 60 min and spread 0.3: the ninety per cent level of the
    # sum is 2,667 min, that of single jobs adds up to 3,525 (computed for this work).
    mean, sd = 60 * exp(0.045), 60 * exp(0.045) * sqrt(exp(0.09) - 1)
    ninety = 40 * mean + 1.2816 * sqrt(40) * sd

    assert ninety == pytest.approx(2667, abs=1)
    assert 3525 == round(40 * 60 * exp(1.2816 * 0.3))
    # So one day of 2,667 min is kept nine times in ten.
    problem = ScheduleProblem(jobs(40, due_day=1), (Bench("a", 2667),))
    ((_, share),) = promised(problem, 0.9, 0.3, draws(), 2000).by_due
    assert share == pytest.approx(0.9, abs=0.02)


def test_the_day_is_kept_as_often_as_promised() -> None:
    problem = ScheduleProblem(jobs(30, due_day=4), (Bench("a", 390), Bench("b", 360)))
    promise = promised(problem, 0.8, 0.4, draws(1), 600)
    again = promised(problem, 0.8, 0.4, draws(2), 600)

    assert promise.day is not None
    assert again.day is not None
    assert abs(promise.day - again.day) <= 1
    (day, share), (_, other) = promise.by_due[0], again.by_due[0]
    assert 4 == day
    assert share == pytest.approx(other, abs=0.1)


def test_more_probability_never_means_an_earlier_day() -> None:
    problem = ScheduleProblem(jobs(25), (Bench("a", 300),))
    days = [promised(problem, p, 0.5, draws(3), 200).day for p in (0.5, 0.8, 0.95)]

    assert sorted(days) == days


@pytest.mark.parametrize(
    ("days", "probability", "day"),
    [([3], 0.8, 3), ([1, 2, 3, 4, 5], 0.8, 4), ([5, 1, 4, 2, 3], 0.81, 5)],
)
def test_the_quantile_is_the_earliest_day_with_that_share(
    days, probability, day
) -> None:
    assert day == quantile_day(days, probability)


@pytest.mark.parametrize(("probability", "plays"), [(0.8, 0), (0.0, 5), (1.0, 5)])
def test_it_refuses_what_is_no_probability(probability, plays) -> None:
    problem = ScheduleProblem(jobs(1), (Bench("a", 300),))
    with pytest.raises(BadArgumentError, match="wanted at least 1"):
        promised(problem, probability, 0.3, draws(), plays)


def test_what_nobody_may_do_is_in_time_for_no_day() -> None:
    able = Job(1, "k", 60, 1, due_day=1)
    nobody = Job(2, "k", 60, 1, due_day=1, skills=frozenset({"micro"}))
    later = Job(3, "k", 60, 1, due_day=2)
    problem = ScheduleProblem((able, nobody, later), (Bench("a", 390),))

    assert ((1, 0.0), (2, 1.0)) == promised(problem, 0.8, 0.1, draws(), 50).by_due
    alone = ScheduleProblem((nobody,), (Bench("a", 390),))
    assert ((1, 0.0),) == promised(alone, 0.8, 0.1, draws(), 5).by_due


@pytest.mark.parametrize("n_jobs", [1, 2])
def test_no_day_is_promised_where_plays_end_with_work_left(n_jobs) -> None:
    # One job runs over the last day of all; with two the other is never begun.
    problem = ScheduleProblem(jobs(n_jobs, due_day=4), (Bench("a", 100),))
    times = iter((20.0,) * 99)
    promise = promised(problem, 0.8, 1.0, lambda: next(times), 5)

    assert None is promise.day
    assert ((4, 0.0),) == promise.by_due


def test_a_day_is_promised_where_enough_plays_end() -> None:
    problem = ScheduleProblem(jobs(1), (Bench("a", 100),))
    times = iter((0.0, 20.0, 0.0, 0.0, 0.0))
    promise = promised(problem, 0.8, 1.0, lambda: next(times), 5)

    assert 1 == promise.day < LAST_DAY
