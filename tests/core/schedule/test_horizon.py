"""Is everything done by the day said, and does drawing due days in change nothing?"""

import random
from collections import Counter
from dataclasses import astuple, replace

from oracles.schedule_brute import best_figures
from random_schedules import random_schedule
from turnscrew.core.schedule.alike import classes_in
from turnscrew.core.schedule.best import best_plan
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.earliest import earliest_plan
from turnscrew.core.schedule.horizon import done_at_most, due_in_reach
from turnscrew.core.schedule.problem import TICKS, Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule


def small(seed: int, far: int) -> ScheduleProblem:
    """Draw a batch of which some jobs are due so many days later."""
    rng = random.Random(seed)
    problem = random_schedule(rng, 5, 2)
    jobs = tuple(
        replace(job, due_day=job.due_day + far)
        if job.due_day and rng.random() < 0.5
        else job
        for job in problem.jobs
    )
    return replace(problem, jobs=jobs)


def drawn_in(problem: ScheduleProblem) -> ScheduleProblem:
    left_out = problem.impossible()
    names = [job.name for job in problem.jobs if job.name not in left_out]
    classes = due_in_reach(problem, classes_in(problem, names))
    return replace(problem, jobs=tuple(job for one in classes for job in one.jobs))


def test_drawing_due_days_in_changes_no_best_figure() -> None:
    n_changed = 0
    for seed in range(1200):
        problem = small(seed, 2000)
        if len(problem.impossible()) == len(problem.jobs):
            continue
        near = drawn_in(problem)
        n_changed += near.jobs != problem.jobs

        assert best_figures(problem) == best_figures(near), seed
    assert n_changed > 600


def test_no_plan_begun_as_early_as_its_order_allows_ends_later() -> None:
    n_plans = 0
    for seed in range(400):
        problem = small(seed, 0)
        left_out = problem.impossible()
        jobs = [job for job in problem.jobs if job.name not in left_out]
        if not jobs:
            continue
        last = done_at_most(problem, classes_in(problem, [job.name for job in jobs]))
        rng = random.Random(seed)
        for _ in range(20):
            rng.shuffle(jobs)
            orders: list[list[Job]] = [[] for _ in problem.benches]
            for job in jobs:
                orders[rng.randrange(len(orders))].append(job)
            plan = earliest_plan(problem, orders, left_out)
            if plan is not None:
                n_plans += 1
                assert max(slot.done_day for slot in plan.slots) <= last, seed
    assert n_plans > 1000


def test_the_best_plan_is_found_and_proven_with_a_due_day_years_ahead() -> None:
    met: Counter[str] = Counter()
    for seed in range(400):
        problem = small(seed, 9000)
        best = best_plan(problem, planned_by_rule(problem), 2.0)
        oracle = best_figures(problem)

        assert oracle is not None, seed
        assert astuple(best.bound) <= oracle <= astuple(best.figures), seed
        assert () == faults_in(problem, best.plan), seed
        if best.status == "optimal":
            assert oracle == astuple(best.figures), seed
        met[best.status] += 1
    assert met["optimal"] >= 0.95 * (met["optimal"] + met["bounded"]), met


def test_the_day_is_that_of_all_work_and_as_much_again_in_gaps() -> None:
    # Four jobs of 6 min on days of 12: 48 min with gaps, four days, and one to charge.
    bench = Bench("lead", 12, away=frozenset({4}))
    jobs = tuple(Job(n, "k", 6, 3, due_day=900, release_day=2) for n in range(4))
    problem = ScheduleProblem(jobs, (bench,), {("lead", 2): TICKS})
    classes = classes_in(problem, range(4))

    # Days 2 and 4 are no whole ones: 3, 5, 6, 7, and 8.
    assert 8 == done_at_most(problem, classes)
    assert [8] == [one.job.due_day for one in due_in_reach(problem, classes)]


def test_due_days_in_reach_stay_as_they_are() -> None:
    jobs = (Job(1, "k", 6, 2, due_day=2), Job(2, "k", 6, 2))
    problem = ScheduleProblem(jobs, (Bench("lead", 12),))
    classes = classes_in(problem, (1, 2))

    assert classes == due_in_reach(problem, classes)
