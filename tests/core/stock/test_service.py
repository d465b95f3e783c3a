"""Does a stock achieve what is said, by the measure that is named?"""

import random
from typing import get_args

import numpy as np
import pytest
from scipy import integrate, stats

from turnscrew.core.stock.laws import (
    CompoundPoisson,
    Counted,
    NegativeBinomial,
    Poisson,
)
from turnscrew.core.stock.service import (
    Measure,
    last_buy,
    newsvendor,
    newsvendor_lognormal,
    newsvendor_normal,
    service_of,
    stock_level,
)
from turnscrew.errors import BadArgumentError


def random_law(chance: random.Random):
    mean = 10 ** chance.uniform(-2, 2)
    return chance.choice(
        [
            Poisson(mean),
            NegativeBinomial(mean, 10 ** chance.uniform(-1, 2)),
            CompoundPoisson(mean, (0.0, 0.6, 0.1, 0.0, 0.3)),
        ]
    )


def slow_service(law, stock: int) -> dict[str, float]:
    """Sum outcome by outcome."""
    p = law.chances()
    at_most = [p[: n + 1].sum() if n >= 0 else 0.0 for n in range(-20, stock + 1)]
    lacking = sum(max(0, n - stock) * p[n] for n in range(len(p)))
    sizes = law.order_sizes()
    return {
        "P(X<=s)": at_most[-1],
        "P(X<s)": at_most[-2],
        "unit fill": 1 - lacking / law.mean,
        "order fill": sum(
            sizes[b] * at_most[-1 - b] for b in range(1, min(20, len(sizes)))
        ),
    }


def slow_losses(law, n_stocks: int) -> tuple[np.ndarray, np.ndarray]:
    """Give what is left and what is lacking for each stock, outcome by outcome."""
    p = law.chances()
    off = np.arange(n_stocks)[:, None] - np.arange(len(p))[None, :]
    return np.maximum(0, off) @ p, np.maximum(0, -off) @ p


def measured(service) -> dict[str, float]:
    return {
        "P(X<=s)": service.p_no_shortage,
        "P(X<s)": service.p_ready,
        "unit fill": service.unit_fill,
        "order fill": service.order_fill,
    }


def test_it_agrees_with_summing_outcome_by_outcome() -> None:
    chance = random.Random(8)
    for _ in range(150):
        law, stock = random_law(chance), chance.randint(0, 40)

        assert slow_service(law, stock) == pytest.approx(
            measured(service_of(law, stock)), rel=1e-9, abs=1e-12
        )


def test_it_gives_the_least_stock_that_reaches_the_target() -> None:
    chance = random.Random(9)
    for _ in range(300):
        law, target = random_law(chance), chance.uniform(0.3, 0.999)
        measure = chance.choice(get_args(Measure))
        found = stock_level(law, target=target, measure=measure)

        assert found.reached == measured(found.service)[measure] >= target - 1e-9
        if found.stock:
            assert measured(service_of(law, found.stock - 1))[measure] < target


def test_it_gives_different_stocks_for_one_target() -> None:
    law = NegativeBinomial.ahead(failures=12, exposure=344.44, future_exposure=100)
    stocks = {
        measure: stock_level(law, target=0.95, measure=measure).stock
        for measure in get_args(Measure)
    }

    assert {"P(X<=s)": 8, "P(X<s)": 9, "unit fill": 7, "order fill": 9} == stocks


def test_it_does_not_promise_for_orders_what_holds_for_single_pieces() -> None:
    law = CompoundPoisson(3.0, (0.0, 0.5, 0.0, 0.0, 0.5))
    plain = stock_level(Poisson(law.mean), target=0.95, measure="P(X<=s)")

    assert 0.95 <= plain.reached
    assert service_of(law, plain.stock).p_no_shortage < 0.88


def test_it_serves_orders_as_a_simulated_shelf_does() -> None:
    # One-for-one replenishment after a fixed time: the pipeline at an order is what
    # was ordered within that time before it.
    chance = random.Random(5)
    n, rate, lead = 60_000, 1.2, 2.0
    times = np.cumsum([chance.expovariate(rate) for _ in range(n)])
    sizes = chance.choices([1, 2, 5], weights=[6, 3, 1], k=n)
    totals = np.concatenate([[0], np.cumsum(sizes)])
    first = np.searchsorted(times, times - lead)
    pipeline = totals[np.arange(n)] - totals[first]
    law = CompoundPoisson(rate * lead, (0.0, 0.6, 0.3, 0.0, 0.0, 0.1))
    for stock in (2, 5, 8):
        drawn = np.mean(pipeline + sizes <= stock)

        assert drawn == pytest.approx(service_of(law, stock).order_fill, abs=0.01)


def test_it_holds_nothing_where_nothing_is_wanted() -> None:
    found = stock_level(Poisson(0.0), target=0.9, measure="unit fill")

    assert (0, 1.0, 0.0) == (
        found.stock,
        found.reached,
        found.service.expected_shortage,
    )


def test_it_tells_of_a_stock_far_beyond_all_demand() -> None:
    found = service_of(Poisson(1.0), 5000)

    assert (1, 0, 4999) == pytest.approx(
        (found.unit_fill, found.expected_shortage, found.expected_left_over)
    )


def test_it_is_never_beaten_by_trying_every_stock() -> None:
    chance = random.Random(10)
    for _ in range(150):
        law = random_law(chance)
        holding, shortage = chance.uniform(0.1, 9), chance.uniform(0.1, 90)
        found = newsvendor(law, holding=holding, shortage=shortage)
        left, lacking = slow_losses(law, int(law.mean * 3) + 60)
        costs = holding * left + shortage * lacking

        assert min(costs) == pytest.approx(found.cost)
        assert costs[found.stock] == pytest.approx(found.cost)


def test_it_agrees_with_integrals_for_laws_without_whole_numbers() -> None:
    log = newsvendor_lognormal(mu=1.3, sigma=0.7, holding=2, shortage=5)
    plain = newsvendor_normal(mean=9, sd=2, holding=2, shortage=5)
    for found, law in (
        (log, stats.lognorm(0.7, scale=np.exp(1.3))),
        (plain, stats.norm(9, 2)),
    ):
        s = found.stock
        left = integrate.quad(law.cdf, -20, s)[0]
        lacking = integrate.quad(law.sf, s, 200)[0]

        assert found.ratio == pytest.approx(law.cdf(s))
        assert found.cost == pytest.approx(2 * left + 5 * lacking, rel=1e-6)


def test_it_buys_the_last_lot_at_least_cost() -> None:
    chance = random.Random(12)
    for _ in range(80):
        law = random_law(chance)
        costs = {
            "unit_cost": chance.uniform(5, 50),
            "shortage_cost": chance.uniform(1, 400),
            "salvage_value": chance.uniform(0, 5),
            "holding_cost": chance.uniform(0.1, 5),
            "on_hand": chance.randint(0, 4),
        }
        found = last_buy(law, **costs)
        n_held = np.arange(costs["on_hand"], int(law.mean * 3) + 60)
        left, lacking = slow_losses(law, int(law.mean * 3) + 60)
        tried = (
            costs["unit_cost"] * (n_held - costs["on_hand"])
            + (costs["holding_cost"] - costs["salvage_value"]) * left[n_held]
            + costs["shortage_cost"] * lacking[n_held]
        )

        assert min(tried) == pytest.approx(found.cost)
        assert found.stock == found.quantity + costs["on_hand"]


def test_it_buys_none_if_lacking_one_costs_less() -> None:
    found = last_buy(Poisson(30.0), unit_cost=50, shortage_cost=40)

    assert (0, 0.0) == (found.quantity, found.ratio)
    assert 1 == pytest.approx(found.p_short)


@pytest.mark.parametrize(
    "call",
    [
        lambda: stock_level(Poisson(1.0), target=1.0, measure="unit fill"),
        lambda: stock_level(Poisson(1.0), target=0.9, measure="fill rate"),
        lambda: service_of(Poisson(1.0), -1),
        lambda: newsvendor(Poisson(1.0), holding=0, shortage=1),
        lambda: last_buy(Poisson(1.0), unit_cost=2, shortage_cost=9, salvage_value=3),
        lambda: newsvendor_normal(mean=1, sd=0, holding=1, shortage=1),
        lambda: newsvendor_lognormal(mu=1, sigma=-1, holding=1, shortage=1),
    ],
)
def test_it_refuses_what_makes_no_sense(call) -> None:
    with pytest.raises(BadArgumentError, match="found"):
        call()


def test_a_shortage_beyond_all_price_never_means_to_hold_nothing() -> None:
    law = Counted((0.2, 0.3, 0.5 - 5e-10))

    for shortage in (1e8, 1e10, 1e14):
        assert newsvendor(law, holding=1, shortage=shortage).stock >= 2
        assert last_buy(law, unit_cost=1, shortage_cost=shortage).quantity >= 2
    with pytest.raises(BadArgumentError, match=r"mu \+ sigma"):
        newsvendor_lognormal(mu=300, sigma=30, holding=1, shortage=1)
