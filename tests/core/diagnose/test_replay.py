"""Would the advice have beaten what was done?"""

from dataclasses import replace

import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from turnscrew.core.diagnose.answer import Leaf, Step
from turnscrew.core.diagnose.evidence import Evidence, belief_after
from turnscrew.core.diagnose.pose import pose
from turnscrew.core.diagnose.problem import Verification
from turnscrew.core.diagnose.replay import (
    cost_given,
    cost_of_doing,
    tells_what_was_done,
)
from turnscrew.core.diagnose.solve import solve
from turnscrew.core.model.past_job import PastJob
from turnscrew.flows.diagnosis import replayed

WEIGHTS = TABLE.weights
PROBLEM = pose(
    TABLE, LAYERING, belief_after(TABLE, WEIGHTS, Evidence()), Evidence()
).problem


@pytest.mark.parametrize("mode", ["each", "block"])
def test_it_adds_up_over_the_faults_to_the_expected_cost(mode) -> None:
    answer = solve(PROBLEM, mode, lambda: False, wants_policy=True)
    assert answer.policy is not None

    total = sum(
        p * cost_given(PROBLEM, answer.policy, fault)
        for fault, p in PROBLEM.faults.items()
    )

    assert total == pytest.approx(answer.cost)


@pytest.mark.parametrize(
    ("findings", "end", "cost"),
    [
        # 2 volts + 1 lead + 5 kept + 3 check-out
        ((("volts", "low"), ("change lead", "mended")), "mended", 11),
        # 1 lead + 3, then 5 opening + 4 + 20 + 7 closing + 3
        (
            (("change lead", "still at fault"), ("change pack", "mended")),
            "mended",
            43,
        ),
        # 2 volts + 100 given up
        ((("volts", "low"),), "written off", 102),
        # 2 volts + 1 lead + 5 kept + 3 check-out; the rest was not made
        (
            (
                ("volts", "low"),
                ("swap", "not applicable"),
                ("change pack", "not tried"),
                ("change lead", "mended"),
            ),
            "mended",
            11,
        ),
        # 1 swap + 3 check-out; what the table does not know is left out
        ((("swap", "as before"), ("prayer", "no")), "no fault found", 4),
    ],
)
def test_it_prices_what_was_done(findings, end, cost) -> None:
    job = PastJob("Box", end, "lead", findings=findings)

    assert cost_of_doing(PROBLEM, job) == pytest.approx(cost)


@pytest.mark.parametrize(("is_closed_first", "closing"), [(True, 7), (False, 0)])
def test_it_closes_before_giving_up_where_the_table_says_so(
    is_closed_first, closing
) -> None:
    """5 opening + 4 + 20 for the pack, then 3 for a check-out with the case open."""
    write_off = replace(PROBLEM.write_off, is_closed_first=is_closed_first)
    problem = replace(PROBLEM, verification=Verification(3), write_off=write_off)
    findings = (("change pack", "still at fault"),)
    job = PastJob("Box", "written off", "lead", findings=findings)

    assert 5 + 24 + 3 + 100 + closing == pytest.approx(cost_of_doing(problem, job))


def test_a_job_of_which_nothing_was_made_is_not_compared() -> None:
    findings = (("volts", "not tried"), ("change lead", "not applicable"))
    job = PastJob("Box", "written off", "lead", findings=findings)

    assert not tells_what_was_done(PROBLEM, job)


def test_it_teaches_each_job_by_those_before_it_alone() -> None:
    job = PastJob("Box", "mended", "lead", findings=(("change lead", "mended"),))
    jobs = (job, replace(job, family="Crate"), job)

    found = replayed(TABLE, LAYERING, jobs, "block", lambda: lambda: False)
    alone = replayed(TABLE, LAYERING, jobs[:1], "block", lambda: lambda: False)

    assert 2 == len(found)
    assert alone[0] == found[0]
    assert [9, 9] == pytest.approx([one.done_min for one in found])


@pytest.mark.parametrize(
    ("findings", "end", "is_told"),
    [
        ((), "mended", False),
        ((("function check-out", "passed"),), "mended", False),
        # Looked for, but not what mended it.
        ((("volts", "low"),), "mended", False),
        ((("volts", "low"), ("change lead", "still at fault")), "mended", False),
        ((("change lead", "mended"),), "mended", True),
        ((), "written off", False),
        ((("volts", "low"),), "written off", True),
        ((("prayer", "no"),), "no fault found", False),
    ],
)
def test_it_knows_what_tells_enough_to_be_priced(findings, end, is_told) -> None:
    job = PastJob("Box", end, "lead", findings=findings)

    assert is_told == tells_what_was_done(PROBLEM, job)


def test_what_was_not_written_down_is_not_compared() -> None:
    job = PastJob("Box", "mended", "lead", findings=(("change lead", "mended"),))
    blank = replace(job, findings=())

    found = replayed(TABLE, LAYERING, (blank, job), "block", lambda: lambda: False)
    assert [job] == [one.job for one in found]
    assert 9 == pytest.approx(found[0].done_min)
    assert () == replayed(TABLE, LAYERING, (blank,), "block", lambda: lambda: False)


def test_a_part_tried_in_vain_is_not_paid_for() -> None:
    """With the pack at fault, 1 of lead and 3 of check-out pay none of the 5."""
    last = Step("VERIFY", "verify", 3, (), (), (("works", 1.0, Leaf("works", 0.0)),))
    failed = Step("change pack", "repair", 29, ("pack",), (), (("done", 1.0, last),))
    check = (("works", 0.25, Leaf("works", 0.0)), ("still at fault", 0.75, failed))
    tried = Step("VERIFY", "verify", 3, (), (), check)
    policy = Step("change lead", "repair", 2.25, (), (), (("done", 1.0, tried),))

    # 1 + 5 kept + 3, and 1 + 3, then 5 opening + 4 + 20 + 3.
    assert 9 == pytest.approx(cost_given(PROBLEM, policy, "lead"))
    assert 36 == pytest.approx(cost_given(PROBLEM, policy, "pack"))
