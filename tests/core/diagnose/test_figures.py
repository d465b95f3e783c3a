"""What does a strategy lead to?"""

from math import sqrt

import pytest

from turnscrew.core.diagnose.answer import Leaf, Step
from turnscrew.core.diagnose.figures import Prices, figures_of
from turnscrew.core.diagnose.problem import (
    DiagnosisProblem,
    Repair,
    Verification,
    WriteOff,
)

WORKS, GONE = Leaf("works", 1.0), Leaf("written off", 50.0)


def repaired(name: str, opens: tuple[str, ...], p: float, failed) -> Step:
    power_test = Step(
        "VERIFY", "verify", 3.0, (), (), (("works", p, WORKS), ("still", 1 - p, failed))
    )
    return Step(name, "repair", 10.0, opens, (), (("done", 1.0, power_test),))


POLICY = repaired("lead", (), 0.6, repaired("pack", ("lid",), 0.5, GONE))
PROBLEM = DiagnosisProblem(
    faults={"lead": 0.6, "pack": 0.2, "board": 0.2},
    nodes=(),
    tests=(),
    repairs=(Repair("lead", 10, {"lead": 1.0}), Repair("pack", 10, {"pack": 1.0})),
    verification=Verification(3),
    write_off=WriteOff(50),
)
PRICES = Prices({"lead": 500, "pack": 2000}, {"pack": 100}, frozenset({"lead"}), 9000)


def test_it_reckons_cost_and_spread_over_the_ways() -> None:
    """By hand: 14 with .6, 27 with .2, 76 with .2."""
    figures = figures_of(POLICY, PRICES, PROBLEM)

    cost = 0.6 * 14 + 0.2 * 27 + 0.2 * 76
    variance = 0.6 * (14 - cost) ** 2 + 0.2 * (27 - cost) ** 2 + 0.2 * (76 - cost) ** 2
    assert (cost, sqrt(variance)) == pytest.approx((figures.cost, figures.spread))
    assert (14, 76) == (figures.low, figures.high)


def test_it_tells_how_often_nothing_is_opened_and_how_often_it_works() -> None:
    figures = figures_of(POLICY, PRICES, PROBLEM)

    assert (0.6, 0.8) == pytest.approx((figures.p_unopened, figures.p_works))


def test_it_pays_for_a_tried_part_only_where_it_mended() -> None:
    """Lead 5.00 if it mended; pack 20.00 and its risk 1.00; 90.00 if given up."""
    figures = figures_of(POLICY, PRICES, PROBLEM)

    wanted = 0.6 * 500 + 0.2 * 2100 + 0.2 * (2100 + 9000)
    assert wanted == pytest.approx(figures.money_minor)


def test_parts_tried_together_are_each_paid_for_where_they_mend() -> None:
    """Both before one power test: lead 5.00 with .6, pack 20.00 with .2, by hand."""
    power_test = Step(
        "VERIFY", "verify", 3.0, (), (), (("works", 0.8, WORKS), ("still", 0.2, GONE))
    )
    pack = Step("pack", "repair", 10.0, (), (), (("done", 1.0, power_test),))
    both = Step("lead", "repair", 10.0, (), (), (("done", 1.0, pack),))
    prices = Prices({"lead": 500, "pack": 2000}, {}, frozenset({"lead", "pack"}), 9000)

    figures = figures_of(both, prices, PROBLEM)

    assert 0.6 * 500 + 0.2 * 2000 + 0.2 * 9000 == pytest.approx(figures.money_minor)
