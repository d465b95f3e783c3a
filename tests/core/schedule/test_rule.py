import random
from dataclasses import replace

import pytest

from oracles.schedule_slow_rule import Row, plan_by_hand
from random_schedules import random_schedule
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.plan import Plan
from turnscrew.core.schedule.problem import TICKS, Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule

SKILLED = frozenset({"board"})


def rows_of(plan: Plan) -> list[Row]:
    return [
        (s.person, s.job, s.day, s.start_ticks, s.end_ticks, s.done_day)
        for s in plan.slots
    ]


@pytest.mark.parametrize("part", range(4))
def test_it_plans_as_plain_loops_do(part: int) -> None:
    met = dict.fromkeys(("after", "skills", "away", "charge", "taken"), 0)
    for seed in range(700 * part, 700 * (part + 1)):
        problem = random_schedule(random.Random(seed), 14 if seed % 2 else 6)
        plan = planned_by_rule(problem)
        n_days = max(30, *(slot.day for slot in plan.slots), 0)

        assert plan_by_hand(problem, n_days) == rows_of(plan), seed
        assert () == faults_in(problem, plan), seed
        met["after"] += any(job.after for job in problem.jobs)
        met["skills"] += any(job.skills for job in problem.jobs)
        met["away"] += any(bench.away for bench in problem.benches)
        met["charge"] += any(slot.done_day > slot.day for slot in plan.slots)
        met["taken"] += bool(problem.taken)
    assert min(met.values()) > 50, met


def test_it_gives_the_same_plan_whatever_the_order_of_the_jobs() -> None:
    for seed in range(100):
        problem = random_schedule(random.Random(seed), 12)
        turned = replace(problem, jobs=problem.jobs[::-1])

        assert planned_by_rule(problem).slots == planned_by_rule(turned).slots


def test_it_lets_whoever_is_free_first_choose_first() -> None:
    problem = ScheduleProblem(
        (Job(1, "k", 5, 1), Job(2, "k", 5, 2)),
        (Bench("lead", 10), Bench("helper", 10)),
        {("lead", 1): 200},
    )

    assert {1: "helper", 2: "lead"} == {
        slot.job: slot.person for slot in planned_by_rule(problem).slots
    }


def test_it_begins_nothing_before_what_it_waits_for_has_ended() -> None:
    # While the helper is taken, the lead ends the job that two others wait for.
    problem = ScheduleProblem(
        (
            Job(1, "strip", 2, 1, skills=SKILLED),
            Job(2, "k", 5, 2, after=(1,)),
            Job(3, "k", 5, 2, after=(1,)),
        ),
        (Bench("lead", 10, skills=SKILLED), Bench("helper", 10), Bench("third", 10)),
        {("helper", 1): 300},
    )
    plan = planned_by_rule(problem)

    assert () == faults_in(problem, plan)
    assert [(1, 0), (2, 200), (3, 200)] == [(s.job, s.start_ticks) for s in plan.slots]


def test_it_calls_back_who_waits_when_a_job_ends() -> None:
    # The lead, served first, has nothing to do until the helper has stripped.
    problem = ScheduleProblem(
        (Job(1, "strip", 4, 1, skills=SKILLED), Job(2, "k", 5, 2, after=(1,))),
        (Bench("lead", 10), Bench("helper", 10, skills=SKILLED)),
    )

    assert [("helper", 1, 0), ("lead", 2, 400)] == [
        (s.person, s.job, s.start_ticks) for s in planned_by_rule(problem).slots
    ]


def test_it_leaves_out_what_nobody_may_do_and_what_waits_for_it() -> None:
    problem = ScheduleProblem(
        (Job(1, "k", 5, 1, skills=SKILLED), Job(2, "k", 5, 1, after=(1,))),
        (Bench("lead", 10),),
    )

    assert {
        1: "nobody is signed off for board",
        2: "waits for 1, which can not be done",
    } == planned_by_rule(problem).impossible


def test_it_finishes_next_day_what_really_takes_longer() -> None:
    problem = ScheduleProblem((Job(1, "k", 8, 1),), (Bench("lead", 10),))
    (slot,) = planned_by_rule(problem, lambda _bench, _job: 1500).slots

    assert (2, 500) == (slot.day, slot.end_ticks)


def test_the_time_at_work_is_what_was_spoken_for_and_every_job_by_hand() -> None:
    # One hour was promised to others; jobs of 60 and 30 min follow on one day.
    jobs = (Job(1, "k", 60, 1), Job(2, "k", 30, 1))
    taken = {("a", 1): 60 * TICKS}
    problem = ScheduleProblem(jobs, (Bench("a", 390),), taken=taken)
    plan = planned_by_rule(problem)

    assert [60, 120] == sorted(slot.start_ticks // TICKS for slot in plan.slots)
    assert {"a": 150 * TICKS} == plan.clock_ticks(problem)


class _Counting(Bench):
    """A bench that counts how often its day was looked at."""

    looks = 0

    def ticks_on(self, day: int) -> int:
        type(self).looks += 1
        return super().ticks_on(day)


@pytest.mark.parametrize("after", [(), (2,)])
def test_it_looks_at_no_day_on_which_nothing_may_begin(after) -> None:
    """Answers may be awaited, or a batch lie there, for years."""
    jobs = (Job(1, "k", 5, 1, release_day=19_000, after=after), Job(2, "k", 5, 2))
    _Counting.looks = 0
    plan = planned_by_rule(ScheduleProblem(jobs, (_Counting("lead", 10),)))

    assert [(2, 1), (1, 19_000)] == [(slot.job, slot.day) for slot in plan.slots]
    assert _Counting.looks < 50
