"""Is every figure outside its bounds refused by its own name, and the bound let in?"""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy import stats

from turnscrew.core.stock.intermittent import intermittent_forecast, predict_demand
from turnscrew.core.stock.laws import (
    CompoundPoisson,
    Counted,
    NegativeBinomial,
    Poisson,
)
from turnscrew.core.stock.lot import economic_lot, order_quantity, reorder_rule
from turnscrew.core.stock.service import (
    last_buy,
    newsvendor_lognormal,
    newsvendor_normal,
    service_of,
    stock_level,
)
from turnscrew.errors import BadArgumentError

NAN = math.nan

CALLS: dict[str, tuple[Callable[..., Any], dict[str, Any]]] = {
    "economic_lot": (
        economic_lot, {"fixed": 5, "holding": 2, "demand": 9, "backorder_cost": 3}
    ),
    "order_quantity": (
        order_quantity,
        {"fixed": 5, "holding_rate": 0.2, "demand": 9, "prices": [2.0]},
    ),
    "reorder_rule": (
        reorder_rule,
        {"fixed": 5, "holding": 1, "stockout": 9, "demand": 3, "lead_time": 1},
    ),
    "newsvendor_normal": (
        newsvendor_normal, {"mean": 5, "sd": 0.5, "holding": 1, "shortage": 3}
    ),
    "newsvendor_lognormal": (
        newsvendor_lognormal, {"mu": 1, "sigma": 1, "holding": 1, "shortage": 3}
    ),
    "last_buy": (
        last_buy,
        {"law": Poisson(3.0), "unit_cost": 2, "shortage_cost": 9, "salvage_value": 1,
         "holding_cost": 0.1, "on_hand": 1},
    ),
    "service_of": (service_of, {"law": Poisson(3.0), "stock": 2}),
    "stock_level": (
        stock_level, {"law": Poisson(3.0), "target": 0.9, "measure": "P(X<=s)"}
    ),
    "forecast": (
        intermittent_forecast,
        {"demand": [0, 2, 1], "method": "tsb", "alpha": 0.2, "beta": 0.3,
         "start_size": 1, "start_probability": 0.5},
    ),
    "prediction": (
        predict_demand,
        {"demand": [0, 2, 1], "periods": 2, "confidence": 0.9, "memory": 0.9},
    ),
    "poisson": (Poisson, {"mean": 2.0}),
    "negative binomial": (NegativeBinomial, {"mean": 2.0, "size": 3.0}),
    "by spread": (NegativeBinomial.from_sd, {"mean": 2.0, "sd": 3.0}),
    "ahead": (
        NegativeBinomial.ahead,
        {"failures": 3, "exposure": 2.0, "future_exposure": 1.0, "shape": 0.5,
         "rate": 0.0},
    ),
    "orders": (CompoundPoisson, {"orders": 2.0, "sizes": (0.0, 0.5, 0.5)}),
    "logarithmic": (CompoundPoisson.logarithmic, {"orders": 2.0, "theta": 0.5}),
    "counted": (Counted, {"given": (0.5, 0.5)}),
}  # fmt: skip


BAD = [
    ("economic_lot", "fixed", [0, -1, NAN]),
    ("economic_lot", "holding", [0, -1]),
    ("economic_lot", "demand", [0, -1]),
    ("economic_lot", "backorder_cost", [0, -1]),
    ("order_quantity", "fixed", [0, -1]),
    ("order_quantity", "holding_rate", [0, -1]),
    ("order_quantity", "demand", [0, -1]),
    ("reorder_rule", "fixed", [-0.01]),
    ("reorder_rule", "holding", [0, -1]),
    ("reorder_rule", "stockout", [0, -1]),
    ("reorder_rule", "demand", [0, -1]),
    ("reorder_rule", "lead_time", [-0.01]),
    ("newsvendor_normal", "mean", [NAN, math.inf]),
    ("newsvendor_normal", "sd", [0, -1]),
    ("newsvendor_lognormal", "mu", [301, NAN]),
    ("newsvendor_lognormal", "sigma", [0, 31]),
    ("last_buy", "unit_cost", [-1]),
    ("last_buy", "shortage_cost", [-1]),
    ("last_buy", "salvage_value", [-1]),
    ("last_buy", "holding_cost", [-1]),
    ("last_buy", "on_hand", [-1, 0.5]),
    ("service_of", "stock", [-1, 0.5, 1e9]),
    ("stock_level", "target", [0, 1.0]),
    ("forecast", "alpha", [0, 1.01]),
    ("forecast", "beta", [0, 1.01]),
    ("forecast", "start_size", [0, -1]),
    ("forecast", "start_probability", [-0.01, 1.01]),
    ("forecast", "demand", [[1, -1], [NAN]]),
    ("prediction", "periods", [0, 1.5]),
    ("prediction", "confidence", [0, 1]),
    ("prediction", "memory", [0, 1.01]),
    ("prediction", "demand", [[1, -1], [0.5]]),
    ("poisson", "mean", [-1, NAN, 2e8]),
    ("negative binomial", "mean", [-1, 2e7]),
    ("negative binomial", "size", [0, -1]),
    ("by spread", "mean", [0, -1]),
    ("by spread", "sd", [0, -1, 1.0]),
    ("ahead", "failures", [-1]),
    ("ahead", "exposure", [-1]),
    ("ahead", "future_exposure", [-1]),
    ("ahead", "shape", [-1]),
    ("ahead", "rate", [-1]),
    ("orders", "orders", [-1, 2e5]),
    ("orders", "sizes", [(0.0, 0.5), (0.0, 1.5, -0.5), (0.0, -0.5, 1.5)]),
    ("logarithmic", "theta", [0, 1.0, -0.5]),
    ("counted", "given", [(0.5, 0.4), (1.5, -0.5), (-0.5, 1.5)]),
]


@pytest.mark.parametrize(("name", "argument", "values"), BAD)
def test_it_is_refused_by_its_name(name, argument, values) -> None:
    call, usual = CALLS[name]
    call(**usual)
    for value in values:
        with pytest.raises(BadArgumentError) as caught:
            call(**(usual | {argument: value}))
        told = str(caught.value)
        assert told.removeprefix("sum of ").startswith(argument), told
        assert ": found " in told
        assert "wanted" in told


LET_IN = [
    ("economic_lot", "backorder_cost", None),
    ("reorder_rule", "fixed", 0),
    ("reorder_rule", "lead_time", 0),
    ("newsvendor_normal", "sd", 0.01),
    ("newsvendor_lognormal", "mu", -300),
    ("last_buy", "salvage_value", 0),
    ("last_buy", "on_hand", 0),
    ("service_of", "stock", 0),
    ("forecast", "alpha", 1),
    ("forecast", "start_probability", 0),
    ("prediction", "memory", 1),
    ("prediction", "periods", 1),
    ("poisson", "mean", 0),
    ("ahead", "failures", 0),
    ("counted", "given", (1.0,)),
]


@pytest.mark.parametrize(("name", "argument", "value"), LET_IN)
def test_the_bound_itself_is_let_in(name, argument, value) -> None:
    call, usual = CALLS[name]

    assert call(**(usual | {argument: value})) is not None


@pytest.mark.parametrize("theta", [0.05, 0.5, 0.8, 0.99])
def test_orders_of_logarithmic_size_are_those_of_the_general_library(theta) -> None:
    # scipy.stats.logser; Quenouille (1949): such orders make a negative binomial law.
    law = CompoundPoisson.logarithmic(orders=1.7, theta=theta)
    n = np.arange(1, 40)
    sizes = np.zeros(40)
    sizes[: min(40, len(law.sizes))] = law.sizes[:40]
    assert sizes[1:] == pytest.approx(stats.logser(theta).pmf(n), abs=1e-12)

    r = -1.7 / math.log1p(-theta)
    wanted = stats.nbinom(r, 1 - theta).pmf(np.arange(30))
    assert np.asarray(law.chances())[:30] == pytest.approx(
        wanted[: len(law.chances())], abs=1e-9
    )
