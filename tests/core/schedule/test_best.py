import random
import subprocess
import sys
from collections import Counter
from dataclasses import astuple, replace
from decimal import Decimal

import pytest

from oracles.schedule_brute import best_figures
from random_schedules import random_schedule
from turnscrew.core.schedule.best import BestPlan, best_plan, figures_of
from turnscrew.core.schedule.bounds import Figures
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.problem import TICKS, Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule

EFFORT = 2.0
N_SMALL = 550


def solved(problem: ScheduleProblem, effort: float = EFFORT) -> BestPlan:
    return best_plan(problem, planned_by_rule(problem), effort)


def small(seed: int) -> ScheduleProblem:
    # Every fifth has three people, the rest one or two.
    n_people = 3 if seed % 5 == 0 else 2
    return random_schedule(random.Random(seed), 6 if seed % 4 == 0 else 5, n_people)


def usual(seed: int, n_jobs: int = 24) -> ScheduleProblem:
    rng = random.Random(seed)
    kinds = [(f"kind {i}", rng.randint(26, 86)) for i in range(8)]
    jobs = []
    for name in range(1, n_jobs + 1):
        kind, minutes = rng.choice(kinds)
        due = rng.choice((2, 3, 5))
        release = rng.randint(1, due - 1)
        jobs.append(Job(name, kind, minutes, due, due, release))
    benches = (Bench("lead", 360), Bench("helper", 360, Decimal("1.30")))
    return ScheduleProblem(tuple(jobs), benches, {("lead", 1): 60 * TICKS})


@pytest.mark.parametrize("part", range(4))
def test_it_agrees_with_trying_every_order(part: int) -> None:
    met: Counter[str] = Counter()
    for seed in range(N_SMALL * part, N_SMALL * (part + 1)):
        problem = small(seed)
        best = solved(problem)
        oracle = best_figures(problem)

        assert oracle is not None, seed
        assert astuple(best.bound) <= oracle <= astuple(best.figures), seed
        assert figures_of(problem, best.plan) == best.figures, seed
        assert () == faults_in(problem, best.plan), seed
        if best.status == "optimal":
            assert oracle == astuple(best.figures), seed
        met[best.status] += 1
        met["as good"] += oracle == astuple(best.figures)
    n_solvable = met["optimal"] + met["bounded"]
    assert met["optimal"] >= 0.96 * n_solvable, met
    assert met["as good"] >= 0.99 * N_SMALL, met
    assert n_solvable >= 0.9 * N_SMALL, met


def test_it_never_gives_a_plan_worse_than_the_one_it_began_with() -> None:
    for seed in range(40):
        problem = random_schedule(random.Random(seed), 20)
        start = planned_by_rule(problem)
        best = best_plan(problem, start, 0.05)

        assert best.figures <= figures_of(problem, start), seed
        assert best.bound <= best.figures, seed
        assert () == faults_in(problem, best.plan), seed


def test_it_gives_the_same_answer_twice() -> None:
    problem = usual(3)

    assert solved(problem, 0.1) == solved(problem, 0.1)


def test_it_gives_the_same_figures_whatever_the_order_of_the_jobs() -> None:
    for seed in range(30):
        problem = random_schedule(random.Random(seed), 9)
        jobs = list(problem.jobs)
        random.Random(seed).shuffle(jobs)
        turned = replace(problem, jobs=tuple(jobs))
        one, other = solved(problem, 0.2), solved(turned, 0.2)

        assert (one.figures, one.bound) == (other.figures, other.bound), seed


def test_it_is_never_worse_with_one_person_more() -> None:
    for seed in range(150):
        problem = small(seed)
        if problem.impossible():
            continue
        more = replace(problem, benches=(*problem.benches, Bench("guest", 12)))
        # Charging counts until the last one goes home, so a guest never shortens it.
        assert solved(more).bound <= solved(problem).figures, seed


def test_it_is_never_worse_with_more_minutes() -> None:
    for seed in range(150):
        problem = small(seed)
        if problem.impossible():
            continue
        benches = tuple(
            replace(bench, minutes_a_day=bench.minutes_a_day + 3)
            for bench in problem.benches
        )
        more = replace(problem, benches=benches)
        assert solved(more).bound <= solved(problem).figures, seed


def test_it_is_never_better_with_one_job_more() -> None:
    for seed in range(100):
        problem = small(seed)
        fewer = replace(problem, jobs=problem.jobs[:-1])
        if problem.impossible() or not all(
            name != problem.jobs[-1].name for job in fewer.jobs for name in job.after
        ):
            continue
        assert solved(fewer).bound <= solved(problem).figures, seed


def test_it_leaves_out_what_nobody_can_do_and_plans_the_rest() -> None:
    problem = ScheduleProblem(
        (Job(1, "k", 5, 1, skills=frozenset({"board"})), Job(2, "k", 5, 1)),
        (Bench("lead", 10),),
    )
    best = solved(problem)

    assert ("optimal", Figures(0, 0, 1)) == (best.status, best.figures)
    assert {1: "nobody is signed off for board"} == best.plan.impossible


def test_it_says_where_nobody_can_do_anything() -> None:
    job = Job(1, "k", 11, 1)
    best = solved(ScheduleProblem((job,), (Bench("lead", 10),)))

    assert "impossible" == best.status
    assert Figures(0, 0, 0) == best.figures == best.bound


def test_it_has_nothing_to_do_without_jobs() -> None:
    best = solved(ScheduleProblem((), (Bench("lead", 10),)))

    assert ("optimal", Figures(0, 0, 0)) == (best.status, best.figures)


def test_it_carries_a_kind_over_the_night_and_over_a_day_away() -> None:
    jobs = tuple(Job(n, "ab"[n % 2], 5, 1) for n in range(1, 5))
    bench = Bench("lead", 5, away=frozenset({2}))
    best = solved(ScheduleProblem(jobs, (bench,)))

    assert ("optimal", Figures(0, 0, 2)) == (best.status, best.figures)


def test_it_puts_on_charge_in_time_what_would_else_be_late() -> None:
    # The hand rule takes the longer job first, and the shorter one is not charged.
    problem = ScheduleProblem(
        (Job(1, "a", 6, 1, due_day=1), Job(2, "b", 4, 1, due_day=1, charge_minutes=5)),
        (Bench("lead", 10),),
    )

    assert 1 == figures_of(problem, planned_by_rule(problem)).n_late
    assert ("optimal", Figures(0, 0, 2)) == (
        solved(problem).status,
        solved(problem).figures,
    )


def test_it_prefers_one_device_less_late_to_fewer_days_late() -> None:
    # Either the long one is three days late, or the two short ones a day each.
    problem = ScheduleProblem(
        (
            Job(1, "k", 10, 1, due_day=1),
            Job(2, "k", 5, 2, due_day=1),
            Job(3, "k", 5, 2, due_day=1),
            Job(4, "k", 10, 2, due_day=2),
            Job(5, "k", 10, 3, due_day=3),
        ),
        (Bench("lead", 10),),
    )
    best = solved(problem)

    assert ("optimal", Figures(1, 3, 1)) == (best.status, best.figures)


def test_it_ends_with_an_honest_bound_on_a_very_large_batch() -> None:
    problem = usual(1, n_jobs=2000)
    start = planned_by_rule(problem)
    best = best_plan(problem, start, 0.1)

    assert "bounded" == best.status
    assert best.bound <= best.figures < figures_of(problem, start)
    assert () == faults_in(problem, best.plan)


def test_it_does_without_the_slow_library_where_bounds_prove_the_plan() -> None:
    code = """
import sys
from turnscrew.core.schedule.best import best_plan
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule
jobs = tuple(Job(n, "ab"[n % 2], 5, 3, due_day=3) for n in range(8))
problem = ScheduleProblem(jobs, (Bench("lead", 20),))
assert best_plan(problem, planned_by_rule(problem), 1.0).status == "optimal"
assert not any(name.startswith("ortools") for name in sys.modules)
"""
    done = subprocess.run([sys.executable, "-c", code], check=False)

    assert 0 == done.returncode
