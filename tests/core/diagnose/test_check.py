"""The checker reckons what a strategy costs by itself, and refuses every bad one."""

from dataclasses import replace
from math import nan
from typing import Any

import pytest

from turnscrew.core.diagnose.answer import Leaf, Policy, Step
from turnscrew.core.diagnose.check import cost_of, faults_in
from turnscrew.core.diagnose.problem import (
    MODES,
    VERIFY,
    DiagnosisProblem,
    Mode,
    Node,
    Repair,
    Verification,
    WriteOff,
)
from turnscrew.core.diagnose.problem import Test as Look

WORKS, FAILS = "works", "still at fault"

SHOP = DiagnosisProblem(
    faults={"a": 0.5, "b": 0.3, "c": 0.2},
    nodes=(Node("deck", 4, 5, ("cover",)), Node("cover", 2, 3)),
    tests=(
        Look(
            "look",
            1,
            ("pass", "fail"),
            {"a": (0.0, 1.0), "b": (1.0, 0.0), "c": (0.5, 0.5)},
            (1.0, 0.0),
        ),
        Look(
            "probe",
            2,
            ("pass", "fail"),
            {"a": (0.0, 1.0), "b": (1.0, 0.0), "c": (1.0, 0.0)},
            (1.0, 0.0),
            open=("cover",),
            closed=("deck",),
        ),
    ),
    repairs=(
        Repair("mend a", 10, {"a": 1.0, "c": 0.5}, open=("deck",)),
        Repair("mend b", 6, {"b": 1.0}, keep_cost=8),
    ),
    verification=Verification(1, ("deck",)),
    write_off=WriteOff(50, is_closed_first=True),
)
"""
A shop where two nodes carry one another and the power test wants the inner one shut.

After ``look`` fails a has 0.5 of 0.6 and c 0.1; after it passes b has 0.3 and c 0.1.
"""


def step(
    kind: Any,
    action: str,
    cost: float,
    *branches: Any,
    opens: Any = (),
    closes: Any = (),
) -> Step:
    return Step(action, kind, cost, tuple(opens), tuple(closes), tuple(branches))


END = Leaf("works", 3)
GIVEN_UP = Leaf("written off", 50 + 3)
VERIFY_A = step(
    "verify",
    VERIFY,
    5 + 1,
    (WORKS, 0.55 / 0.6, END),
    (FAILS, 0.05 / 0.6, GIVEN_UP),
    closes=("deck",),
)
MEND_A = step(
    "repair", "mend a", 2 + 4 + 10, ("done", 1.0, VERIFY_A), opens=("cover", "deck")
)
VERIFY_B = step(
    "verify",
    VERIFY,
    1,
    (WORKS, 0.75, Leaf("works", 0)),
    (FAILS, 0.25, Leaf("written off", 50)),
)
MEND_B = step("repair", "mend b", 6 + 8 * 0.75, ("done", 1.0, VERIFY_B))
GOOD = step("test", "look", 1, ("pass", 0.4, MEND_B), ("fail", 0.6, MEND_A))
COST = (
    1
    + 0.4 * (6 + 8 * 0.75 + 1 + 0.25 * 50)
    + 0.6 * (16 + 6 + 0.55 / 0.6 * 3 + 0.05 / 0.6 * 53)
)


def after_pass(rest: Policy) -> Step:
    return replace(GOOD, branches=(("pass", 0.4, rest), GOOD.branches[1]))


def after_fail(rest: Policy) -> Step:
    return replace(GOOD, branches=(GOOD.branches[0], ("fail", 0.6, rest)))


def then(before: Step, rest: Policy) -> Step:
    return replace(before, branches=(("done", 1.0, rest),))


@pytest.mark.parametrize("mode", MODES)
def test_it_reckons_a_good_strategy_as_by_hand(mode: Mode) -> None:
    assert pytest.approx(COST) == cost_of(SHOP, GOOD, mode)
    assert () == faults_in(SHOP, GOOD, mode, COST)


# --- strategies that break a rule --------------------------------------------

LOOK_AGAIN = step("test", "look", 1, ("pass", 1.0, GIVEN_UP), ("fail", 0.0, GIVEN_UP))
PROBE = step(
    "test",
    "probe",
    5 + 2,
    ("pass", 1.0, Leaf("written off", 53)),
    closes=("deck",),
)
PROBE_FIRST = step(
    "test",
    "probe",
    2 + 2,
    ("pass", 0.5, GIVEN_UP),
    ("fail", 0.5, GIVEN_UP),
    opens=("cover",),
)
CERTAIN = replace(SHOP, faults={"a": 1.0, "b": 0.0, "c": 0.0})
DONE_AT_ONCE = step(
    "repair",
    "mend a",
    16,
    ("done", 1.0, step("verify", VERIFY, 6, (WORKS, 1.0, END), closes=("deck",))),
    opens=("cover", "deck"),
)

BAD: dict[str, tuple[Mode, Policy, str]] = {
    "the same test twice": (
        "each",
        after_pass(replace(LOOK_AGAIN, branches=GOOD.branches)),
        "look is used twice",
    ),
    "the same repair twice": (
        "block",
        after_pass(then(MEND_B, MEND_B)),
        "mend b is used twice",
    ),
    "a test while a repair waits": (
        "block",
        after_fail(then(MEND_A, PROBE)),
        "probe while a repair waits for its power test",
    ),
    "a repair straight after another": (
        "each",
        after_pass(then(MEND_B, MEND_A)),
        "mend a follows a repair without a power test",
    ),
    "a test straight after a repair": (
        "each",
        after_fail(then(MEND_A, PROBE)),
        "probe follows a repair without a power test",
    ),
    "a write-off straight after a repair": (
        "each",
        after_pass(then(MEND_B, Leaf("written off", 50))),
        "written off follows a repair without a power test",
    ),
    "handed over after a repair": (
        "block",
        after_pass(then(MEND_B, Leaf("works", 0))),
        "handed over without a power test that passed",
    ),
    "handed over after a power test that failed": (
        "each",
        after_pass(
            then(
                MEND_B,
                replace(
                    VERIFY_B,
                    branches=(VERIFY_B.branches[0], (FAILS, 0.25, Leaf("works", 0))),
                ),
            )
        ),
        "handed over without a power test that passed",
    ),
    "handed over after a test": (
        "each",
        after_pass(Leaf("works", 0)),
        "handed over without a power test that passed",
    ),
    "a wrong probability of an outcome": (
        "each",
        replace(GOOD, branches=(("pass", 0.5, MEND_B), ("fail", 0.5, MEND_A))),
        "an outcome is said to have 0.5, has 0.4",
    ),
    "a wrong probability of a power test": (
        "each",
        after_pass(
            then(
                MEND_B,
                replace(
                    VERIFY_B,
                    branches=((WORKS, 0.8, END), (FAILS, 0.2, GIVEN_UP)),
                ),
            )
        ),
        "an outcome is said to have 0.8, has 0.7",
    ),
    "a wrong probability after a repair": (
        "each",
        after_pass(replace(MEND_B, branches=(("done", 0.9, VERIFY_B),))),
        "an outcome is said to have 0.9, has 1",
    ),
    "a wrong cost of a test": (
        "each",
        replace(GOOD, cost=2),
        "look is said to cost 2, costs 1",
    ),
    "a wrong cost of a repair, without its opening": (
        "each",
        after_fail(replace(MEND_A, cost=10)),
        "mend a is said to cost 10, costs 16",
    ),
    "a part's price left out": (
        "each",
        after_pass(replace(MEND_B, cost=6)),
        "mend b is said to cost 6, costs 12",
    ),
    "a wrong cost of a power test": (
        "each",
        after_fail(then(MEND_A, replace(VERIFY_A, cost=1))),
        "VERIFY is said to cost 1, costs 6",
    ),
    "a cost that is no number": (
        "each",
        replace(GOOD, cost=nan),
        "look is said to cost nan",
    ),
    "a wrong cost of an end that works": (
        "each",
        after_fail(
            then(
                MEND_A,
                replace(
                    VERIFY_A,
                    branches=(
                        (WORKS, 0.55 / 0.6, Leaf("works", 0)),
                        VERIFY_A.branches[1],
                    ),
                ),
            )
        ),
        "works is said to cost 0, costs 3",
    ),
    "a write-off without its closing": (
        "each",
        after_fail(
            then(
                MEND_A,
                replace(
                    VERIFY_A,
                    branches=(
                        VERIFY_A.branches[0],
                        (FAILS, 0.05 / 0.6, Leaf("written off", 50)),
                    ),
                ),
            )
        ),
        "written off is said to cost 50, costs 53",
    ),
    "an end whose cost is no number": (
        "each",
        after_pass(Leaf("written off", nan)),
        "written off is said to cost nan",
    ),
    "a missing outcome": (
        "each",
        replace(GOOD, branches=GOOD.branches[:1]),
        "an outcome of probability 0.6 leads nowhere",
    ),
    "a missing end of a power test": (
        "each",
        after_pass(then(MEND_B, replace(VERIFY_B, branches=VERIFY_B.branches[:1]))),
        "an outcome of probability 0.25 leads nowhere",
    ),
    "an outcome that the test has not": (
        "each",
        replace(GOOD, branches=(*GOOD.branches, ("maybe", 0.0, GIVEN_UP))),
        "look shows maybe",
    ),
    "an outcome twice": (
        "each",
        replace(GOOD, branches=(*GOOD.branches, GOOD.branches[0])),
        "look shows pass twice",
    ),
    "a third end of a power test": (
        "each",
        after_pass(
            then(
                MEND_B, replace(VERIFY_B, branches=(*VERIFY_B.branches, ("", 0.0, END)))
            )
        ),
        "VERIFY shows ",
    ),
    "two outcomes of a repair": (
        "each",
        after_pass(replace(MEND_B, branches=MEND_B.branches * 2)),
        "mend b shows 2 outcomes, wanted 1",
    ),
    "opening what stands on something shut": (
        "each",
        after_fail(replace(MEND_A, opens=("deck", "cover"))),
        "deck cannot be opened before mend a",
    ),
    "opening what is open": (
        "each",
        after_fail(replace(MEND_A, opens=("cover", "cover", "deck"))),
        "cover cannot be opened before mend a",
    ),
    "opening what is not there": (
        "each",
        after_fail(replace(MEND_A, opens=("cover", "deck", "lid"))),
        "lid cannot be opened before mend a",
    ),
    "closing under something open": (
        "each",
        after_fail(then(MEND_A, replace(VERIFY_A, closes=("cover", "deck")))),
        "cover cannot be closed before VERIFY",
    ),
    "closing what is shut": (
        "each",
        replace(GOOD, closes=("cover",)),
        "cover cannot be closed before look",
    ),
    "a node needed but shut": (
        "each",
        after_fail(replace(MEND_A, opens=("cover",))),
        "mend a with ['deck'] still closed",
    ),
    "a test with a node shut that it needs": (
        "each",
        after_fail(replace(PROBE_FIRST, opens=())),
        "probe with ['cover'] still closed",
    ),
    "a node to be shut but open": (
        "each",
        after_fail(then(MEND_A, replace(VERIFY_A, closes=()))),
        "VERIFY with ['deck'] still open",
    ),
    "a test with a node open that it wants shut": (
        "free",
        after_fail(then(MEND_A, replace(PROBE, closes=()))),
        "probe with ['deck'] still open",
    ),
    "a power test by another name": (
        "each",
        after_pass(then(MEND_B, replace(VERIFY_B, action="switch on"))),
        "the power test is called switch on",
    ),
    "a test that is not there": (
        "each",
        replace(GOOD, action="listen"),
        "there is no test listen",
    ),
    "a test called a repair": (
        "each",
        replace(GOOD, kind="repair"),
        "there is no repair look",
    ),
    "a repair called a test": (
        "each",
        after_pass(replace(MEND_B, kind="test")),
        "there is no test mend b",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_it_refuses(name: str) -> None:
    mode, policy, words = BAD[name]

    (fault,) = faults_in(SHOP, policy, mode, COST)

    assert words in fault


@pytest.mark.parametrize("cost", [COST + 0.001, COST - 0.001, nan])
def test_it_refuses_a_wrong_total(cost: float) -> None:
    (fault,) = faults_in(SHOP, GOOD, "each", cost)

    assert f"said to cost {cost}" in fault


def test_it_lets_repairs_share_a_power_test_in_a_block() -> None:
    both = step(
        "verify",
        VERIFY,
        6,
        (WORKS, 0.9, END),
        (FAILS, 0.1, GIVEN_UP),
        closes=("deck",),
    )
    policy = step(
        "repair",
        "mend b",
        6 + 8 * 0.3,
        ("done", 1.0, then(MEND_A, both)),
    )

    cost = 6 + 8 * 0.3 + 16 + 6 + 0.9 * 3 + 0.1 * 53
    assert () == faults_in(SHOP, policy, "block", cost)
    assert () == faults_in(SHOP, policy, "free", cost)
    assert faults_in(SHOP, policy, "each", cost)


def test_it_lets_a_test_stand_for_a_power_test_only_in_free() -> None:
    shut = step(
        "verify",
        VERIFY,
        1,
        (WORKS, 1.0, END),
    )
    seen = replace(
        PROBE,
        branches=(("pass", 1.0, replace(shut, closes=())),),
    )
    policy = then(DONE_AT_ONCE, seen)

    assert () == faults_in(CERTAIN, policy, "free", 16 + 7 + 1 + 3)
    assert faults_in(CERTAIN, policy, "block", 16 + 7 + 1 + 3)


def test_it_takes_no_heed_of_what_cannot_come() -> None:
    never = step("test", "probe", 4, ("pass", 1.0, GIVEN_UP), opens=("cover",))
    policy = step("test", "look", 1, ("pass", 0.0, never), ("fail", 1.0, DONE_AT_ONCE))

    assert () == faults_in(CERTAIN, policy, "each", 1 + 16 + 6 + 3)
    assert () == faults_in(
        CERTAIN, replace(policy, branches=policy.branches[1:]), "each", 1 + 16 + 6 + 3
    )


def test_it_starts_from_what_is_open_and_closes_it_at_the_end() -> None:
    board = Node("board", 7, 1, ("cover", "deck"))
    shop = replace(CERTAIN, open_now=("deck",), nodes=(*SHOP.nodes, board))
    policy = replace(DONE_AT_ONCE, cost=10, opens=())

    assert () == faults_in(shop, policy, "each", 10 + 6 + 3)
    given_up = Leaf("written off", 50 + 5 + 3 + 1)
    assert () == faults_in(replace(shop, open_now=("board",)), given_up, "each", 59)


def test_it_asks_for_no_closing_where_a_device_is_given_up_as_it_is() -> None:
    shop = replace(SHOP, open_now=("deck",), write_off=WriteOff(50))

    assert () == faults_in(shop, Leaf("written off", 50), "each", 50)


def test_it_counts_a_device_with_nothing_wrong() -> None:
    shop = replace(SHOP, p_ok=0.4)
    policy = step(
        "verify",
        VERIFY,
        1,
        (WORKS, 0.4, Leaf("works", 0)),
        (FAILS, 0.6, Leaf("written off", 50)),
    )

    assert () == faults_in(shop, policy, "each", 1 + 0.6 * 50)


# --- several faults at once --------------------------------------------------

PAIR = DiagnosisProblem(
    faults={},
    nodes=(),
    tests=(
        Look(
            "both", 1, ("pass", "fail"), {"a": (0.2, 0.8), "b": (0.4, 0.6)}, (0.8, 0.2)
        ),
        Look(
            "only a",
            1,
            ("pass", "fail"),
            {"a": (0.0, 1.0)},
            (1.0, 0.0),
            looks_at=("a",),
        ),
    ),
    repairs=(Repair("mend", 3, {"a": 1.0, "b": 0.5}),),
    verification=Verification(0),
    write_off=WriteOff(10),
    independent={"a": 0.5, "b": 0.5},
    most_faults=10**12,
)
"""Only a, only b or both of two faults, each a third."""


def test_it_mends_each_fault_of_a_set_by_itself() -> None:
    p_works = (1 + 0.5 + 0.5) / 3
    policy = step(
        "repair",
        "mend",
        3,
        (
            "done",
            1.0,
            step(
                "verify",
                VERIFY,
                0,
                (WORKS, p_works, Leaf("works", 0)),
                (FAILS, 1 - p_works, Leaf("written off", 10)),
            ),
        ),
    )

    assert () == faults_in(PAIR, policy, "each", 3 + (1 - p_works) * 10)


def test_it_lets_each_fault_spoil_a_test_by_itself() -> None:
    p_pass = (0.2 + 0.4 + 0.8 * (0.2 / 0.8) * (0.4 / 0.8)) / 3
    end = Leaf("written off", 10)
    policy = step("test", "both", 1, ("pass", p_pass, end), ("fail", 1 - p_pass, end))

    assert () == faults_in(PAIR, policy, "each", 11)


def test_it_lets_a_test_see_only_what_it_looks_at() -> None:
    end = Leaf("written off", 10)
    policy = step("test", "only a", 1, ("pass", 1 / 3, end), ("fail", 2 / 3, end))

    assert () == faults_in(PAIR, policy, "each", 11)
