"""How does a fault table become a problem?"""

from dataclasses import replace

import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from turnscrew.core.diagnose.evidence import Evidence, Finding, belief_after
from turnscrew.core.diagnose.pose import minutes_of, pose, reaches_of
from turnscrew.core.model.faults import Damage

WEIGHTS = TABLE.weights


def posed(*findings: Finding, table=TABLE, layering=LAYERING):
    evidence = Evidence((), findings)
    return pose(table, layering, belief_after(table, WEIGHTS, evidence), evidence)


def repair(name: str, table=TABLE):
    return next(r for r in posed(table=table).problem.repairs if r.name == name)


def test_it_turns_money_into_minutes_at_the_rate() -> None:
    """60.00 an hour: 20.00 are 20 minutes, beside 4 of work."""
    assert 20 == pytest.approx(minutes_of(TABLE, 2000))
    assert 24 == pytest.approx(repair("change pack").cost)
    assert 0 == minutes_of(replace(TABLE, rate=0), 2000)


def test_it_pays_for_a_tried_part_only_if_it_mends() -> None:
    lead = repair("change lead")

    assert (1, 5) == pytest.approx((lead.cost, lead.keep_cost))


def test_it_adds_the_risk_of_harm() -> None:
    """One in ten of 40.00 are 4 minutes."""
    pack = replace(TABLE.repairs["change pack"], damage=Damage(0.1, 4000))
    table = replace(TABLE, repairs={**TABLE.repairs, "change pack": pack})

    assert 28 == pytest.approx(repair("change pack", table).cost)


def test_it_opens_the_layer_of_a_wish_and_shuts_all_for_the_check_out() -> None:
    problem = posed().problem

    assert ("pack",) == repair("change pack").open
    assert () == repair("change lead").open
    assert ("pack",) == problem.verification.closed
    assert 100 == problem.write_off.cost


def test_it_leaves_out_what_was_made_but_not_what_was_not_tried() -> None:
    made = posed(Finding("volts", "low"), Finding("swap", "not tried")).problem

    assert ["swap"] == [test.name for test in made.tests]


@pytest.mark.parametrize("word", ["not applicable", "could not tell"])
def test_it_does_not_ask_again_for_a_test_that_gave_nothing(word) -> None:
    assert ["swap"] == [t.name for t in posed(Finding("volts", word)).problem.tests]


def test_it_leaves_out_a_test_whose_known_good_item_is_withdrawn() -> None:
    bad = replace(TABLE.known_good["good lead"], failed=True)
    table = replace(TABLE, known_good={"good lead": bad})

    found = posed(table=table)

    assert ["volts"] == [test.name for test in found.problem.tests]
    assert {"swap": "known-good item withdrawn: good lead"} == found.left_out


def test_it_gives_no_reason_for_what_was_made_already() -> None:
    bad = replace(TABLE.known_good["good lead"], failed=True)
    table = replace(TABLE, known_good={"good lead": bad})

    assert {} == posed(Finding("swap", "as before"), table=table).left_out


def test_it_puts_the_belief_in_place_of_the_prior() -> None:
    """By hand: volts low leaves lead .225 and pack .075."""
    table = replace(TABLE, nothing_wrong=0.5)

    low = posed(Finding("volts", "low")).problem
    none = posed(table=table).problem

    assert {"lead": 0.75, "pack": 0.25} == pytest.approx(low.faults)
    assert (0.5, 0.125) == pytest.approx((none.p_ok, none.faults["lead"]))


def test_it_shuts_everything_for_a_test_that_wants_the_case_shut() -> None:
    shut = replace(TABLE.tests["swap"], closed=True)
    table = replace(TABLE, tests={**TABLE.tests, "swap": shut})

    swap = next(t for t in posed(table=table).problem.tests if t.name == "swap")

    assert ((), ("pack",)) == (swap.open, swap.closed)


def test_it_leaves_out_what_cannot_be_reached_and_says_why() -> None:
    layering = replace(LAYERING, out_of_reach={"pack": "the lid is riveted"})

    found = posed(layering=layering)

    assert {"change pack": "out of reach: the lid is riveted"} == found.left_out
    assert ["change lead"] == [r.name for r in found.problem.repairs]


def test_it_lists_each_wish_once() -> None:
    assert (("pack",),) == reaches_of(TABLE)
