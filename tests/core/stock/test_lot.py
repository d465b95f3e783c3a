"""Is the lot the cheapest one?"""

import math
import random

import numpy as np
import pytest
from scipy import stats

from turnscrew.core.stock.lot import economic_lot, order_quantity, reorder_rule
from turnscrew.errors import BadArgumentError


def slow_total(rows: dict, n: float) -> float:
    """Buy n pieces at once, piece by piece where the discount asks for it."""
    tiers = list(zip(rows["breaks"], rows["prices"], strict=True))
    if rows["discount"] == "all units":
        lot = n * next(price for low, price in reversed(tiers) if n >= low)
    else:
        ends = [low for low, _ in tiers[1:]] + [math.inf]
        lot = sum(
            price * max(0, min(n, end) - low)
            for (low, price), end in zip(tiers, ends, strict=True)
        )
    yearly = rows["demand"] / n * (rows["fixed"] + lot)
    return yearly + rows["holding_rate"] * lot / 2


@pytest.mark.parametrize("discount", ["all units", "incremental"])
def test_it_is_never_beaten_by_trying_every_lot(discount: str) -> None:
    chance = random.Random(1)
    for _ in range(150):
        steps = sorted(chance.sample(range(2, 100), chance.randint(0, 4)))
        prices = sorted(chance.uniform(30, 60) for _ in range(len(steps) + 1))
        rows = {
            "fixed": chance.uniform(1, 80),
            "holding_rate": chance.uniform(0.1, 0.6),
            "demand": chance.uniform(20, 500),
            "breaks": [0, *steps],
            "prices": prices[::-1],
            "discount": discount,
        }
        found = order_quantity(**rows, is_whole=True)
        totals = [slow_total(rows, n) for n in range(1, 1500)]

        assert min(totals) == pytest.approx(found.total, rel=1e-12)
        assert slow_total(rows, found.quantity) == pytest.approx(found.total)
        assert order_quantity(**rows).total <= found.total + 1e-9


def test_it_has_the_least_cost_of_all_lots() -> None:
    found = economic_lot(fixed=30, holding=2, demand=400, backorder_cost=7)
    q, owed = found.quantity, found.fraction_backordered

    def cost(lot: float, part: float) -> float:
        held = 2 * lot * (1 - part) ** 2 / 2
        return 30 * 400 / lot + held + 7 * lot * part**2 / 2

    assert found.cost == pytest.approx(cost(q, owed))
    for way in (0.97, 1.03):
        assert found.cost < cost(q * way, owed)
        assert found.cost < cost(q, owed * way)


def slow_reorder(rows: dict) -> tuple[float, int, int]:
    """Try every reorder point and lot."""
    mean = rows["demand"] * rows["lead_time"]
    counts = np.arange(int(mean + 15 * math.sqrt(mean) + 60))
    p = stats.poisson.pmf(counts, mean)

    def cost_at(y: int) -> float:
        left = np.maximum(0, y - counts) @ p
        return rows["holding"] * left + rows["stockout"] * (left + mean - y)

    costs = {y: cost_at(y) for y in range(-60, 160)}
    best = (math.inf, 0, 0)
    for r in range(-50, 50):
        total = rows["fixed"] * rows["demand"]
        for q in range(1, 100):
            total += costs[r + q]
            best = min(best, (total / q, r, q))
    return best


def test_it_is_never_beaten_by_trying_every_reorder_point() -> None:
    chance = random.Random(6)
    for _ in range(60):
        rows = {
            "fixed": chance.uniform(0, 60),
            "holding": chance.uniform(1, 20),
            "stockout": chance.uniform(2, 150),
            "demand": chance.uniform(0.05, 4),
            "lead_time": chance.uniform(0, 4),
        }
        found = reorder_rule(**rows)
        cost, r, q = slow_reorder(rows)

        assert cost == pytest.approx(found.cost, rel=1e-9)
        assert (r, q) == (found.reorder_at, found.quantity)


@pytest.mark.parametrize(
    "change",
    [
        {"fixed": 0},
        {"breaks": [0, 5]},
        {"breaks": [3, 5, 9]},
        {"breaks": [0, 9, 9]},
        {"prices": [5, 4, -1]},
        {"prices": [5, 6, 4]},
        {"prices": []},
        {"discount": "some units"},
    ],
)
def test_it_refuses_what_makes_no_sense(change: dict) -> None:
    rows = {
        "fixed": 5,
        "holding_rate": 0.2,
        "demand": 9,
        "breaks": [0, 5, 9],
        "prices": [5, 4, 3],
    }
    assert order_quantity(**rows).quantity > 0
    with pytest.raises(BadArgumentError, match="found"):
        order_quantity(**(rows | change))


def test_it_names_the_row_that_is_off() -> None:
    with pytest.raises(BadArgumentError, match="breaks, row 3: found 9, wanted a l"):
        order_quantity(
            fixed=5, holding_rate=1, demand=9, breaks=[0, 9, 9], prices=[3, 2, 1]
        )
