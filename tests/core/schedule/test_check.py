import random
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from random_schedules import random_schedule
from turnscrew.core.schedule.check import faults_in
from turnscrew.core.schedule.plan import Plan, Slot
from turnscrew.core.schedule.problem import Bench, Job, ScheduleProblem
from turnscrew.core.schedule.rule import planned_by_rule

BOARD = frozenset({"board"})
PROBLEM = ScheduleProblem(
    jobs=(
        Job(1, "strip", 30, 9),
        Job(2, "screen", 40, 4, due_day=4, after=(1,), charge_minutes=60),
        Job(3, "board", 50, 4, due_day=4, release_day=2, skills=BOARD),
        Job(4, "board", 50, 4, due_day=4, skills=frozenset({"laser"})),
    ),
    benches=(
        Bench("lead", 120, skills=BOARD, away=frozenset({3})),
        Bench("helper", 100, Decimal("1.3")),
    ),
    taken={("lead", 1): 1000, ("helper", 1): 1000},
)
GOOD = Plan(
    (
        Slot("helper", 1, 1, 1000, 4900, 1),
        Slot("lead", 2, 1, 4900, 8900, 2),
        Slot("lead", 3, 2, 0, 5000, 2),
    ),
    {4: "nobody is signed off for laser"},
)

Edit = Callable[[tuple[Slot, ...]], tuple[Slot, ...]]


def moved(index: int, **values: object) -> Edit:
    def edit(slots: tuple[Slot, ...]) -> tuple[Slot, ...]:
        new = replace(slots[index], **values)
        return tuple(
            sorted(
                (*slots[:index], new, *slots[index + 1 :]),
                key=lambda s: (s.day, s.start_ticks, s.person),
            )
        )

    return edit


PLANTED: tuple[tuple[str, Edit], ...] = (
    ("neither planned nor left out", lambda slots: slots[1:]),
    ("waits for device 1, which is not planned", lambda slots: slots[1:]),
    (
        "planned 2 times",
        lambda slots: (*slots, Slot("lead", 3, 2, 5000, 10_000, 2)),
    ),
    ("is not a job of the problem", moved(2, job=9)),
    ("planned and left out", moved(2, job=4)),
    ("nobody is not there to do it", moved(2, person="nobody")),
    ("listed after 3", lambda slots: (slots[0], slots[2], slots[1])),
    ("while on 1 until", moved(1, person="helper", start_ticks=4800)),
    ("no day from 1", moved(0, day=0)),
    ("no day from 1", moved(2, day=20_000, done_day=20_000)),
    ("lead is away", moved(2, day=3, done_day=3)),
    ("taken until 1000", moved(0, start_ticks=900, end_ticks=4800)),
    ("goes home at 12000", moved(2, start_ticks=7001, end_ticks=12_001)),
    ("helper is not signed off for board", moved(2, person="helper")),
    ("takes helper 3900 ticks, planned 3000", moved(0, end_ticks=4000)),
    ("is done on day 2, planned 1", moved(1, done_day=1)),
    ("is done on day 2, planned 3", moved(2, done_day=3)),
    ("may not begin before day 2", moved(2, day=1, done_day=1)),
    (
        "waits for device 1, which ends on day 1 at 4900",
        moved(1, start_ticks=4899, end_ticks=8899),
    ),
    (
        "waits for device 1, which ends on day 4",
        moved(0, day=4, start_ticks=0, end_ticks=3900, done_day=4),
    ),
)


def test_it_accepts_a_good_plan() -> None:
    assert () == faults_in(PROBLEM, GOOD)


@pytest.mark.parametrize(("fault", "edit"), PLANTED)
def test_it_names_what_is_wrong_with_a_plan(fault: str, edit: Edit) -> None:
    found = faults_in(PROBLEM, replace(GOOD, slots=edit(GOOD.slots)))

    assert any(fault in one for one in found), found


def test_it_lets_a_job_begin_on_the_instant_the_one_before_ends() -> None:
    later = moved(1, day=2, start_ticks=5000, end_ticks=9000, done_day=4)

    assert ["device 2 on day 2: is done on day 3, planned 4"] == [
        *faults_in(PROBLEM, replace(GOOD, slots=later(GOOD.slots)))
    ]


def test_it_refuses_to_leave_out_what_can_be_done() -> None:
    plan = Plan(GOOD.slots[:2], {**GOOD.impossible, 3: "too hard"})

    assert ("device 3 is left out: lead could do it on day 2",) == faults_in(
        PROBLEM, plan
    )


def test_it_wants_a_reason() -> None:
    assert ("device 4 is left out: no reason is given",) == faults_in(
        PROBLEM, replace(GOOD, impossible={4: ""})
    )


def test_it_refuses_a_stranger_among_those_left_out() -> None:
    assert ("device 7 is left out, but is not a job of the problem",) == faults_in(
        PROBLEM, replace(GOOD, impossible={**GOOD.impossible, 7: "lost"})
    )


def test_it_lets_wait_for_each_other_what_waits_for_each_other() -> None:
    problem = ScheduleProblem(
        (Job(1, "k", 5, 1, after=(2,)), Job(2, "k", 5, 1, after=(1,))),
        (Bench("lead", 10),),
    )

    assert () == faults_in(problem, planned_by_rule(problem))


def test_it_refuses_every_random_plan_with_a_slot_moved_too_early_or_lost() -> None:
    n_edits = 0
    for seed in range(300):
        rng = random.Random(seed)
        problem = random_schedule(rng, 8)
        plan = planned_by_rule(problem)
        if not plan.slots:
            continue
        index = rng.randrange(len(plan.slots))
        slot = plan.slots[index]
        edits: tuple[Edit, ...] = (
            lambda slots, slot=slot: tuple(s for s in slots if s != slot),
            lambda slots, slot=slot: (*slots, slot),
            moved(index, end_ticks=slot.end_ticks + 1),
            moved(index, start_ticks=-1, end_ticks=slot.end_ticks - slot.start_ticks),
            moved(index, done_day=slot.done_day + 1),
            moved(index, person="stranger"),
        )
        for edit in edits:
            n_edits += 1
            assert faults_in(problem, replace(plan, slots=edit(plan.slots))), seed
    assert n_edits > 1500


def test_what_can_never_be_done_is_planned_by_nobody() -> None:
    gone = replace(PROBLEM.jobs[1], never="its part is sold no more")
    problem = replace(PROBLEM, jobs=(PROBLEM.jobs[0], gone))
    plan = planned_by_rule(problem)
    forced = planned_by_rule(replace(problem, jobs=PROBLEM.jobs[:2]))

    assert {2: "its part is sold no more"} == plan.impossible
    assert () == tuple(faults_in(problem, plan))
    assert any("can never be done" in fault for fault in faults_in(problem, forced))
