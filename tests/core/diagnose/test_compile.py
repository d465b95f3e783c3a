"""A problem turned into numbers says the same as its words."""

from dataclasses import replace

import pytest

from turnscrew.core.diagnose.compile import OK, compact
from turnscrew.core.diagnose.problem import (
    DiagnosisProblem,
    Node,
    Repair,
    Verification,
    WriteOff,
)
from turnscrew.core.diagnose.problem import Test as Look
from turnscrew.errors import BadArgumentError

ONE = DiagnosisProblem(
    faults={"a": 3, "b": 1},
    nodes=(Node("cover", 2, 3), Node("deck", 4, 5, ("cover",))),
    tests=(
        Look(
            "look", 1, ("pass", "fail"), {"a": (0.1, 0.9), "b": (0.6, 0.4)}, (0.8, 0.2)
        ),
    ),
    repairs=(Repair("mend", 7, {"a": 0.75}, open=("deck",)),),
    verification=Verification(1, ("cover",)),
    write_off=WriteOff(50),
    p_ok=0.2,
)
PAIR = replace(
    ONE, faults={}, independent={"a": 0.5, "b": 0.2}, most_faults=2, p_ok=0.0
)


def test_it_shares_out_what_is_not_well_by_weight() -> None:
    whole = compact(ONE)

    assert (frozenset("a"), frozenset("b")) == whole.hypotheses
    assert pytest.approx((0.6, 0.2)) == whole.prior
    assert 0.2 == whole.p_ok
    assert whole.is_single


def test_it_weighs_sets_of_faults_by_what_is_there_and_what_is_not() -> None:
    whole = compact(PAIR)

    assert (frozenset("a"), frozenset("b"), frozenset("ab")) == whole.hypotheses
    assert pytest.approx((0.4 / 0.6, 0.1 / 0.6, 0.1 / 0.6)) == whole.prior
    assert pytest.approx(1 / 6) == compact(replace(PAIR, most_faults=10**9)).prior[2]
    assert 2 == len(compact(replace(PAIR, most_faults=1)).hypotheses)


def test_it_says_where_each_set_of_faults_may_go() -> None:
    both = replace(PAIR, repairs=(Repair("mend", 7, {"a": 0.75, "b": 0.5}),))

    whole = compact(both)

    (repair,) = whole.repairs
    assert {0: 0.25, OK: 0.75} == dict(repair.goes[0])
    assert {OK: 0.375, 1: 0.375, 0: 0.125, 2: 0.125} == dict(repair.goes[2])
    assert 0.375 == repair.p_mends(2)
    assert not whole.is_single


def test_it_leaves_a_fault_alone_that_a_repair_does_not_touch() -> None:
    (repair,) = compact(ONE).repairs

    assert ((1, 1.0),) == repair.goes[1]
    assert 0 == repair.p_mends(1)
    assert 0.75 == repair.p_mends(0)


def test_it_lets_each_fault_spoil_a_test_by_itself() -> None:
    (test,) = compact(PAIR).tests

    first = 0.8 * (0.1 / 0.8) * (0.6 / 0.8)
    assert (0.1, 0.9) == test.rows[0]
    assert pytest.approx((first, 1 - first)) == test.rows[2]


def test_it_lets_a_test_see_only_what_it_looks_at() -> None:
    blind = replace(PAIR.tests[0], looks_at=("b",))

    (test,) = compact(replace(PAIR, tests=(blind,))).tests

    assert [(0.8, 0.2), (0.6, 0.4), (0.6, 0.4)] == list(test.rows)


def test_it_opens_what_is_needed_and_shuts_what_is_in_the_way() -> None:
    whole = compact(ONE)

    assert 0b11 == whole.repairs[0].need
    assert 0b11 == whole.verify_shut
    assert 0b11 == compact(replace(ONE, open_now=("deck",))).open_now


@pytest.mark.parametrize(("is_closed_first", "cost"), [(True, 58), (False, 50)])
def test_it_closes_before_giving_up_only_if_asked(
    is_closed_first: bool, cost: float
) -> None:
    write_off = WriteOff(50, is_closed_first)

    assert cost == compact(replace(ONE, write_off=write_off)).giving_up(0b11)


@pytest.mark.parametrize(
    ("problem", "words"),
    [
        (replace(ONE, faults={"a": 0.0, "b": 0.0}), "no fault has any weight"),
        (
            replace(ONE, nodes=(Node("cover", 1, 1, ("deck",)), *ONE.nodes[1:])),
            "in a ring: cover, deck",
        ),
        (
            replace(
                ONE, repairs=(Repair("mend", 1, {}, open=("deck",), closed=("cover",)),)
            ),
            "mend needs",
        ),
        (
            replace(PAIR, tests=(replace(PAIR.tests[0], p_ok=(0.0, 1.0)),)),
            "look with several faults at once",
        ),
        (
            replace(PAIR, tests=(replace(PAIR.tests[0], p_ok=(0.5, 0.3, 0.2)),)),
            "wanted two outcomes and a first one above 0, or looks_at one fault",
        ),
    ],
    ids=[
        "no weight",
        "ring",
        "open and closed",
        "first outcome never",
        "three outcomes",
    ],
)
def test_it_refuses_what_has_no_meaning(problem: DiagnosisProblem, words: str) -> None:
    with pytest.raises(BadArgumentError, match=words):
        compact(problem)
