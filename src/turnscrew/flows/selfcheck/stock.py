"""Are stocks, lots and forecasts of demand as printed elsewhere?"""

from collections.abc import Mapping
from functools import partial

from turnscrew.core.stock.intermittent import intermittent_forecast
from turnscrew.core.stock.laws import (
    CompoundPoisson,
    NegativeBinomial,
    Poisson,
)
from turnscrew.core.stock.lot import economic_lot, order_quantity, reorder_rule
from turnscrew.core.stock.service import (
    newsvendor,
    newsvendor_lognormal,
    newsvendor_normal,
    service_of,
)
from turnscrew.flows.selfcheck.case import Case, Figure, Within

_BOOK = "Snyder and Shen, Fundamentals of Supply Chain Theory"
_NOW_AND_THEN = [0, 0, 2, 7, 0, 0, 0, 5, 0, 0, 0, 0, 3]
_MONTHS = [
    1, 1, 1, 0, 0, 1, 3, 1, 1, 1, 1, 1, 2, 1, 1, 0, 0, 2, 0, 0, 1, 2, 0, 1, 0, 0, 1,
    1, 1, 1, 0, 0, 2, 1, 0, 0, 0, 1, 0, 3, 3, 2, 4, 1, 1, 3, 3, 1, 0, 4, 1, 3, 0, 1,
    2, 5, 14, 2, 0, 0, 3, 6, 2, 2, 2, 5, 1, 6, 3, 3, 2, 0, 1, 1, 0, 0, 0, 1, 4, 12,
    4, 0, 7, 0, 2, 1, 4, 1, 3, 1, 0, 6, 9, 3, 1, 3, 1, 7, 1, 3, 3, 3, 5, 6, 10, 5,
    1, 3, 1, 1, 1, 2, 1, 3, 7, 11, 10, 5, 5, 2, 2, 1, 0, 3, 6, 5, 8, 9, 1, 1, 0, 0,
    0, 1, 2, 2, 0, 0, 0, 0, 1, 0, 0, 0, 2, 1, 1, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
    0, 0, 0, 1, 0, 1, 3, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
    0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
]  # fmt: skip


def _loss() -> Mapping[str, Figure]:
    found = service_of(Poisson(mean=15), stock=18)
    return {
        "expected_shortage": found.expected_shortage,
        "expected_left_over": found.expected_left_over,
        "p_demand_le_stock": found.p_no_shortage,
        "p_demand_lt_stock": found.p_ready,
        "unit_fill": found.unit_fill,
    }


def _base_stock() -> Mapping[str, Figure]:
    found = [service_of(Poisson(mean=1), stock) for stock in range(5)]
    return {
        "fill_rate": [one.order_fill for one in found],
        "p_no_backorder": [one.p_no_shortage for one in found],
        "expected_backorders": [one.expected_shortage for one in found],
    }


def _two_laws() -> Mapping[str, Figure]:
    orders = CompoundPoisson.logarithmic(orders=6.437751649736401, theta=0.8)
    pieces = NegativeBinomial(mean=16, size=4)
    one, two = orders.chances(), pieces.chances()
    n = min(len(one), len(two))
    return {
        "largest_difference": float(abs(one[:n] - two[:n]).max()),
        "expected_shortage": service_of(orders, stock=14).expected_shortage,
    }


def _reorder() -> Mapping[str, Figure]:
    found = reorder_rule(holding=20, stockout=150, fixed=100, demand=1.5, lead_time=2)
    return {"r": found.reorder_at, "Q": found.quantity, "cost": found.cost}


def _newsvendors() -> Mapping[str, Figure]:
    fifty = newsvendor(Poisson(mean=50), holding=0.18, shortage=0.7)
    six = newsvendor(Poisson(mean=6), holding=1, shortage=4)
    normal = newsvendor_normal(mean=50, sd=8, holding=0.18, shortage=0.7)
    log = newsvendor_lognormal(mu=6, sigma=0.3, holding=1, shortage=0.1765)
    return {
        "normal": [normal.stock, normal.cost],
        "poisson50": [fifty.stock, fifty.cost],
        "poisson6": [six.stock, six.cost],
        "lognormal": [log.stock, log.cost],
    }


def _lots() -> Mapping[str, Figure]:
    plain = economic_lot(fixed=8, holding=0.225, demand=1300)
    owed = economic_lot(fixed=8, holding=0.225, demand=1300, backorder_cost=5)
    return {
        "Q": plain.quantity,
        "cost": plain.cost,
        "Q_backorder": owed.quantity,
        "fraction_backordered": owed.fraction_backordered,
        "cost_backorder": owed.cost,
    }


def _price_breaks() -> Mapping[str, Figure]:
    one = order_quantity(
        fixed=49,
        holding_rate=0.2,
        demand=5000,
        breaks=[0, 1000, 2000],
        prices=[5, 4.9, 4.85],
    )
    two = order_quantity(
        fixed=60,
        holding_rate=0.3,
        demand=800,
        breaks=[0, 50, 100, 200, 500],
        prices=[53, 51.5, 49.5, 48, 47],
    )
    three = order_quantity(
        fixed=200,
        holding_rate=0.2,
        demand=1000,
        breaks=[0, 200, 500],
        prices=[500, 475, 450],
    )
    return {
        "case1_Q": one.quantity,
        "case1_total": one.total,
        "case2_Q": two.quantity,
        "case2_total": two.total,
        "case2_candidates": [tried.total for tried in two.candidates],
        "case3_Q": three.quantity,
        "case3_total": three.total,
    }


def _croston() -> Mapping[str, Figure]:
    found = intermittent_forecast(_NOW_AND_THEN, method="croston", alpha=0.1)
    sba = intermittent_forecast(_NOW_AND_THEN, method="sba", alpha=0.1)
    sbj = intermittent_forecast(_NOW_AND_THEN, method="sbj", alpha=0.1)
    return {
        "size": found.size,
        "interval": found.interval,
        "croston": found.forecast,
        "sba": sba.forecast,
        "sbj": sbj.forecast,
    }


def _many_months() -> Mapping[str, Figure]:
    found = [
        intermittent_forecast(_MONTHS, method="croston", alpha=alpha).forecast
        for alpha in (0.1, 0.5, 0.05)
    ]
    return {"n": len(_MONTHS), "forecast": found}


def _falling() -> Mapping[str, Figure]:
    forecast = partial(
        intermittent_forecast,
        method="tsb",
        alpha=0.1,
        beta=0.1,
        start_size=2,
        start_probability=4 / 13,
    )
    later = forecast(_NOW_AND_THEN + [0] * 12)
    return {
        "first_period_skipped": forecast(_NOW_AND_THEN).forecast,
        "first_period_updated": forecast(
            _NOW_AND_THEN, first_period="updated"
        ).forecast,
        "after_12_more_zeros": later.forecast,
    }


CASES: tuple[Case, ...] = (
    Case(
        name="F6",
        title="loss and service, Poisson mean 15, stock 18",
        source=f"{_BOOK}, via stockpyl poisson_loss; the three services computed",
        reckon=_loss,
        expected={
            "expected_shortage": 0.5176095282584724,
            "expected_left_over": 3.5176095282584723,
            "p_demand_le_stock": 0.8194717116,
            "p_demand_lt_stock": 0.7488587521,
            "unit_fill": 0.9654926981161018,
        },
        within={
            "expected_shortage": Within(1e-10, "rel"),
            "expected_left_over": Within(1e-10, "rel"),
            "p_demand_le_stock": Within(1e-9),
            "p_demand_lt_stock": Within(1e-9),
            "unit_fill": Within(1e-10, "rel"),
        },
    ),
    Case(
        name="F8",
        title="one-for-one replenishment, pipeline of mean 1",
        source="computed; Palm's theorem, method from memory",
        reckon=_base_stock,
        expected={
            "fill_rate": [0, 0.367879, 0.735759, 0.919699, 0.981012],
            "p_no_backorder": [0.367879, 0.735759, 0.919699, 0.981012, 0.99634],
            "expected_backorders": [1, 0.367879, 0.103638, 0.023337, 0.004349],
        },
        within={
            "fill_rate": Within(1e-6),
            "p_no_backorder": Within(1e-6),
            "expected_backorders": Within(1e-6),
        },
    ),
    Case(
        name="F9",
        title="orders of logarithmic size make a negative binomial law",
        source="computed; an identity, by Panjer's recursion",
        reckon=_two_laws,
        expected={"largest_difference": 0.0, "expected_shortage": 4.447304632028364},
        within={
            "largest_difference": Within(1e-14),
            "expected_shortage": Within(1e-9, "rel"),
        },
    ),
    Case(
        name="F11",
        title="reorder point and lot, Poisson demand",
        source=f"{_BOOK}, example 5.8, via stockpyl r_q_poisson_exact",
        reckon=_reorder,
        expected={"r": 3, "Q": 5, "cost": 107.92358063314975},
        within={"cost": Within(1e-10, "rel")},
    ),
    Case(
        name="G1",
        title="newsvendor, four laws of demand",
        source=f"{_BOOK}, examples 4.3, 4.7 and problem 4.8(b), via stockpyl",
        reckon=_newsvendors,
        expected={
            "normal": [56.60395592743389, 1.9976051931766445],
            "poisson50": [56, 1.797235211809178],
            "poisson6": [8, 3.5701069457709416],
            "lognormal": [295.6266448071368, 29.44254351324322],
        },
        within={
            "normal": Within(1e-9, "rel"),
            "poisson50": Within(1e-9, "rel"),
            "poisson6": Within(1e-9, "rel"),
            "lognormal": Within(1e-6, "rel"),
        },
    ),
    Case(
        name="G2",
        title="economic lot, without and with backorders",
        source=f"{_BOOK}, examples 3.1 and 3.8, via stockpyl",
        reckon=_lots,
        expected={
            "Q": 304.0467800264368,
            "cost": 68.41052550594829,
            "Q_backorder": 310.81255515896464,
            "fraction_backordered": 0.0430622009569378,
            "cost_backorder": 66.92136355097325,
        },
        within={
            "Q": Within(1e-12, "rel"),
            "cost": Within(1e-12, "rel"),
            "Q_backorder": Within(1e-12, "rel"),
            "fraction_backordered": Within(1e-12, "rel"),
            "cost_backorder": Within(1e-12, "rel"),
        },
    ),
    Case(
        name="G3",
        title="lot with price breaks for all units, three price lists",
        source=(
            "two worked examples on public pages (total of the first computed) and "
            "stockpyl economic_order_quantity_with_all_units_discounts"
        ),
        reckon=_price_breaks,
        expected={
            "case1_Q": 1000,
            "case1_total": 25235,
            "case2_Q": 200,
            "case2_total": 40080,
            "case2_candidates": [42417.9, 40822.5, 40080, 41221],
            "case3_Q": 500,
            "case3_total": 472900,
        },
        within={
            "case1_total": Within(1e-6),
            "case2_total": Within(1e-6),
            "case2_candidates": Within(0.06),
            "case3_total": Within(1e-6),
        },
    ),
    Case(
        name="J1",
        title="Croston by hand, with two corrections",
        source=(
            "sktime tests, by hand; factors of the R packages forecast and fable; the "
            "two corrected values computed"
        ),
        reckon=_croston,
        expected={
            "size": 2.775,
            "interval": 3.128,
            "croston": 0.8871483375959078,
            "sba": 0.8427909207161124,
            "sbj": 0.8404563198277021,
        },
        within={
            name: Within(1e-12, "rel")
            for name in ("size", "interval", "croston", "sba", "sbj")
        },
    ),
    Case(
        name="J2",
        title="Croston over 204 months, three smoothings",
        source="R forecast::croston values and data as printed in sktime tests",
        reckon=_many_months,
        expected={"n": 204, "forecast": [0.8688921, 0.6754646, 1.405808]},
        within={"forecast": Within(6e-6)},
    ),
    Case(
        name="J4",
        title="TSB, with and without learning from the first period",
        source=(
            "computed; recursion of tsintermittent; Teunter, Syntetos and Babai (2011)"
        ),
        reckon=_falling,
        expected={
            "first_period_skipped": 0.8867798012821039,
            "first_period_updated": 0.8626646639364186,
            "after_12_more_zeros": 0.250452808236818,
        },
        within={
            name: Within(1e-12, "rel")
            for name in (
                "first_period_skipped",
                "first_period_updated",
                "after_12_more_zeros",
            )
        },
    ),
)
