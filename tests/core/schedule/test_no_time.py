"""Is work that takes no time planned like any other?"""

import random
from collections import Counter
from dataclasses import astuple, replace

import pytest

from oracles.schedule_brute import best_figures
from oracles.schedule_slow_rule import plan_by_hand
from random_schedules import random_schedule, with_no_time
from turnscrew.core.schedule.best import best_plan
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.promise import promised
from turnscrew.core.schedule.rule import planned_by_rule

AWAY = Bench("lead", 10, away=frozenset({1}))


def some_of_no_time(seed: int, n_jobs: int, n_people: int = 3) -> ScheduleProblem:
    rng = random.Random(seed)
    return with_no_time(rng, random_schedule(rng, n_jobs, n_people))


def nobody_there(problem: ScheduleProblem) -> bool:
    """Say whether a job of no minutes may begin on a day somebody is away."""
    return any(
        not (job.minutes or bench.ticks_on(job.release_day))
        for job in problem.jobs
        for bench in problem.benches
    )


def test_strips_that_take_no_minutes_are_planned() -> None:
    # Terms may leave the minutes of a strip out: then it takes none.
    chance = random.Random(1)
    for _ in range(60):
        work = [
            Job(n, chance.choice("XY"), chance.choice([0, 30, 60]), 1, due_day=due)
            for n, due in enumerate(chance.choices([1, 2, None], k=7), 1)
        ]
        strip = Job(9, "strip", 0, 1)
        problem = ScheduleProblem((strip, *work), (Bench("a", 120), Bench("b", 90)))
        told = best_plan(problem, planned_by_rule(problem), 0.2)

        assert () == tuple(faults_in(problem, told.plan))


def test_it_goes_to_somebody_who_is_there() -> None:
    # By hand: the lead is away on day 1 and would be served first.
    problem = ScheduleProblem((Job(1, "strip", 0, 1),), (AWAY, Bench("helper", 10)))

    assert (Slot("helper", 1, 1, 0, 0, 1),) == planned_by_rule(problem).slots


def test_it_waits_for_the_day_on_which_somebody_is_there() -> None:
    problem = ScheduleProblem((Job(1, "strip", 0, 1, due_day=1),), (AWAY,))
    start = planned_by_rule(problem)
    best = best_plan(problem, start, 0.1)

    assert (Slot("lead", 1, 2, 0, 0, 2),) == start.slots
    assert ("optimal", (1, 1, 1)) == (best.status, astuple(best.figures))
    assert 2 == promised(problem, 0.8, 0.1, lambda: 0.0, 1).day


def test_nobody_without_bench_minutes_does_it() -> None:
    desk = Bench("desk", 0)
    alone = ScheduleProblem((Job(1, "strip", 0, 1),), (desk,))
    both = replace(alone, benches=(desk, Bench("helper", 10)))

    assert {1: "desk has no bench minutes"} == planned_by_rule(alone).impossible
    assert () == faults_in(alone, planned_by_rule(alone))
    assert ["helper"] == [slot.person for slot in planned_by_rule(both).slots]
    assert ("device 1 on day 1: desk has no bench minutes",) == faults_in(
        both, Plan((Slot("desk", 1, 1, 0, 0, 1),), {})
    )


@pytest.mark.parametrize("part", range(2))
def test_the_hand_rule_plans_it_as_plain_loops_do(part: int) -> None:
    n_away = 0
    for seed in range(400 * part, 400 * (part + 1)):
        problem = some_of_no_time(seed, 14 if seed % 2 else 6)
        plan = planned_by_rule(problem)
        rows = [
            (s.person, s.job, s.day, s.start_ticks, s.end_ticks, s.done_day)
            for s in plan.slots
        ]

        assert plan_by_hand(problem, 30) == rows, seed
        assert () == faults_in(problem, plan), seed
        n_away += nobody_there(problem)
    assert n_away > 100


@pytest.mark.parametrize("part", range(2))
def test_the_best_plan_agrees_with_trying_every_order(part: int) -> None:
    met: Counter[str] = Counter()
    n_away = 0
    for seed in range(200 * part, 200 * (part + 1)):
        problem = some_of_no_time(seed, 5, 2)
        best = best_plan(problem, planned_by_rule(problem), 2.0)
        oracle = best_figures(problem)

        assert oracle is not None, seed
        assert () == faults_in(problem, best.plan), seed
        assert astuple(best.bound) <= oracle <= astuple(best.figures), seed
        if best.status == "optimal":
            assert oracle == astuple(best.figures), seed
        met[best.status] += 1
        met["as good"] += oracle == astuple(best.figures)
        n_away += nobody_there(problem)
    assert met["as good"] >= 0.98 * 200, met
    assert met["optimal"] >= 0.9 * (met["optimal"] + met["bounded"]), met
    assert n_away > 40
