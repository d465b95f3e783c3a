"""Which of the two plans do the papers follow?"""

import random
from dataclasses import replace
from decimal import Decimal

import pytest

from turnscrew.core.batch.answer import Planned
from turnscrew.core.schedule.best import best_plan
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule


def planned(*jobs: Job) -> Planned:
    benches = (Bench("a", 100), Bench("b", 100, Decimal("1.3")))
    problem = ScheduleProblem(jobs, benches)
    rule = planned_by_rule(problem)
    return Planned(problem, rule, problem, best_plan(problem, rule, 1.0), None)


def test_it_is_the_best_plan_where_that_makes_fewer_late() -> None:
    # By the rule the long job goes first and both short ones are late.
    found = planned(
        Job(1, "x", 100, 1, due_day=3), Job(2, "y", 60, 2, due_day=1),
        Job(3, "y", 60, 2, due_day=1),
    )  # fmt: skip

    assert found.best is not None
    assert len(found.rule.late(found.problem)) > found.best.figures.n_late
    assert found.best.plan is found.plan_in_use


def test_it_is_the_hand_rule_where_only_set_ups_are_saved() -> None:
    jobs = [Job(n, "xy"[n % 2], 20, 1, due_day=9) for n in range(1, 9)]
    found = planned(*jobs)

    assert found.best is not None
    assert found.best.figures.n_set_ups < found.rule.n_set_ups(found.problem)
    assert found.rule is found.plan_in_use


@pytest.mark.parametrize("seed", range(40))
def test_the_plan_in_use_is_never_later_than_the_rule(seed) -> None:
    chance = random.Random(seed)
    jobs = [
        Job(n, chance.choice("xyz"), chance.randint(20, 90), chance.randint(1, 3),
            due_day=chance.randint(1, 3))
        for n in range(1, 7)
    ]  # fmt: skip
    found = planned(*jobs)
    mine = found.plan_in_use.late(found.problem_in_use)
    rule = found.rule.late(found.problem)

    assert (len(mine), sum(mine.values())) <= (len(rule), sum(rule.values()))


def test_without_a_best_plan_it_is_the_rule() -> None:
    found = replace(planned(Job(1, "x", 20, 1)), best=None)

    assert found.rule is found.plan_in_use
