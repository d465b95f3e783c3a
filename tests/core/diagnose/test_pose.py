"""How does a fault table become a problem?"""

from dataclasses import replace

import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from turnscrew.core.diagnose.evidence import Evidence, Finding, belief_after
from turnscrew.core.diagnose.pose import minutes_of, pose, reaches_of
from turnscrew.core.model.faults import Damage

WEIGHTS = {name: fault.weight for name, fault in TABLE.faults.items()}


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


def test_it_leaves_out_what_cannot_be_reached_and_says_why() -> None:
    layering = replace(LAYERING, out_of_reach={"pack": "the lid is riveted"})

    found = posed(layering=layering)

    assert {"change pack": "out of reach: the lid is riveted"} == found.left_out
    assert ["change lead"] == [r.name for r in found.problem.repairs]


def test_it_lists_each_wish_once() -> None:
    assert (("pack",),) == reaches_of(TABLE)
