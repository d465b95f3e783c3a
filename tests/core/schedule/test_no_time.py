"""Is work that takes no time planned like any other?"""

import random

from turnscrew.core.schedule.best import best_plan
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule


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
