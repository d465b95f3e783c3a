"""
How many pieces to hold for a named measure of service, or for the least cost?

Four measures go by the name of fill or service; one target gives different stocks for
each, so that the measure is always named.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
import scipy
from numpy.typing import NDArray

from turnscrew.core.model.wanted import refuse, unlike, unlisted
from turnscrew.core.stock.laws import Law, first_at

Measure = Literal["P(X<=s)", "P(X<s)", "unit fill", "order fill"]

_SLACK = 1e-12


@dataclass(frozen=True, slots=True)
class Service:
    """
    What a stock achieves over the time for which the demand is given.

    Parameters
    ----------
    stock
        Pieces held at the start. [pieces]
    p_no_shortage
        P(X<=s): nobody waits. [1]
    p_ready
        P(X<s): a piece is left; for single pieces also the share of orders served at
        once under one-for-one replenishment. [1]
    unit_fill
        Share of all pieces wanted that are served: 1 - E(X-s)+ / E(X). [1]
    order_fill
        Share of orders served whole at once: an order of b pieces needs a pipeline
        of at most s - b. [1]
    expected_shortage
        Pieces lacking: E(X-s)+. [pieces]
    expected_left_over
        Pieces left: E(s-X)+. [pieces]
    """

    stock: int
    p_no_shortage: float
    p_ready: float
    unit_fill: float
    order_fill: float
    expected_shortage: float
    expected_left_over: float


@dataclass(frozen=True, slots=True)
class StockLevel:
    """
    The least stock that reaches a target.

    Parameters
    ----------
    stock
        Pieces to hold. [pieces]
    measure
        The measure of service that the target is about.
    target
        What was asked for. [1]
    reached
        What the stock achieves by that measure. [1]
    service
        What it achieves by every measure.
    """

    stock: int
    measure: Measure
    target: float
    reached: float
    service: Service


@dataclass(frozen=True, slots=True)
class Newsvendor:
    """
    The stock of least expected cost for one period.

    Parameters
    ----------
    stock
        Pieces to hold; whole for counted demand. [pieces]
    cost
        Expected cost of pieces left and pieces lacking. [money]
    ratio
        Critical ratio: the chance of no shortage at which one piece more no longer
        pays. [1]
    """

    stock: float
    cost: float
    ratio: float


@dataclass(frozen=True, slots=True)
class LastBuy:
    """
    How many pieces to buy while they can still be had.

    Parameters
    ----------
    quantity
        Pieces to buy now. [pieces]
    stock
        Pieces then held. [pieces]
    ratio
        Critical ratio; 0 if no piece is worth its price. [1]
    cost
        Expected cost from now on, of this purchase, of pieces left and lacking. [money]
    p_short
        Chance that they do not last. [1]
    expected_shortage
        Pieces lacking in the end. [pieces]
    expected_left_over
        Pieces left in the end. [pieces]
    """

    quantity: int
    stock: int
    ratio: float
    cost: float
    p_short: float
    expected_shortage: float
    expected_left_over: float


def service_of(law: Law, stock: int) -> Service:
    """
    Tell what a stock achieves.

    Parameters
    ----------
    law
        Law of the demand over the time to be bridged.
    stock
        Pieces held at the start. [pieces]

    Returns
    -------
    Service
        All measures side by side.

    Raises
    ------
    BadArgumentError
        If the stock is negative or no whole number.

    References
    ----------
    Snyder and Shen, Fundamentals of Supply Chain Theory (loss functions); Palm's
    theorem for one-for-one replenishment (method from memory).
    """
    refuse(unlike("stock", stock, least=0, most=1e8, is_whole=True))
    table = _Table.of(law, int(stock))
    return table.service(int(stock))


def stock_level(law: Law, *, target: float, measure: Measure) -> StockLevel:
    """
    Give the least stock that reaches a target of service.

    Parameters
    ----------
    law
        Law of the demand over the time to be bridged.
    target
        Service wanted. [1]
    measure
        What is meant by service.

    Returns
    -------
    StockLevel
        The stock and what it achieves.

    Raises
    ------
    BadArgumentError
        If the target is outside 0 to 0.999999 or the measure unknown.
    """
    refuse(
        unlike("target", target, above=0, most=0.999999),
        unlisted("measure", measure, get_args(Measure)),
    )
    table = _Table.of(law, 0)
    reached = table.by(measure)
    stock = first_at(reached, target - _SLACK)
    return StockLevel(
        stock=stock,
        measure=measure,
        target=target,
        reached=float(reached[stock]),
        service=table.service(stock),
    )


def implied_level(*, over: float, lacking: float) -> float:
    """
    Give the service that two prices imply.

    Parameters
    ----------
    over
        Cost of one piece too many. [money]
    lacking
        Cost of one piece lacking. [money]

    Returns
    -------
    float
        The chance that nobody waits at which one piece more no longer pays. [1]

    Raises
    ------
    BadArgumentError
        If a cost is not above 0.

    References
    ----------
    Snyder and Shen, Fundamentals of Supply Chain Theory, section 4.3.
    """
    return _ratio(over, lacking)


def newsvendor(law: Law, *, holding: float, shortage: float) -> Newsvendor:
    """
    Give the stock of least expected cost for counted demand.

    It is the smallest stock whose chance of no shortage is not below the critical
    ratio.

    Parameters
    ----------
    law
        Law of the demand.
    holding
        Cost of one piece left. [money]
    shortage
        Cost of one piece lacking. [money]

    Returns
    -------
    Newsvendor
        Stock, cost and critical ratio.

    Raises
    ------
    BadArgumentError
        If a cost is not above 0.

    References
    ----------
    Snyder and Shen, Fundamentals of Supply Chain Theory, section 4.3.
    """
    ratio = _ratio(holding, shortage)
    table = _Table.of(law, 0)
    stock = first_at(table.by("P(X<=s)"), ratio - _SLACK)
    made = table.service(stock)
    cost = holding * made.expected_left_over + shortage * made.expected_shortage
    return Newsvendor(stock=stock, cost=cost, ratio=ratio)


def newsvendor_normal(
    *, mean: float, sd: float, holding: float, shortage: float
) -> Newsvendor:
    """
    Give the stock of least expected cost for normal demand.

    Parameters
    ----------
    mean
        Mean demand. [pieces]
    sd
        Standard deviation. [pieces]
    holding
        Cost of one piece left. [money]
    shortage
        Cost of one piece lacking. [money]

    Returns
    -------
    Newsvendor
        Stock, cost and critical ratio; the stock is not rounded.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    refuse(unlike("mean", mean), unlike("sd", sd, above=0))
    ratio = _ratio(holding, shortage)
    z = float(scipy.special.ndtri(ratio))
    refuse(unlike("shortage / (holding + shortage)", ratio, above=0, below=1))
    density = math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
    return Newsvendor(mean + z * sd, (holding + shortage) * density * sd, ratio)


def newsvendor_lognormal(
    *, mu: float, sigma: float, holding: float, shortage: float
) -> Newsvendor:
    """
    Give the stock of least expected cost for log-normal demand.

    Parameters
    ----------
    mu
        Mean of the logarithm of the demand. [1]
    sigma
        Standard deviation of that logarithm. [1]
    holding
        Cost of one piece left. [money]
    shortage
        Cost of one piece lacking. [money]

    Returns
    -------
    Newsvendor
        Stock, cost and critical ratio; the stock is not rounded.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    refuse(unlike("mu", mu, most=300), unlike("sigma", sigma, above=0, most=30))
    ratio = _ratio(holding, shortage)
    z = float(scipy.special.ndtri(ratio))
    refuse(
        unlike("mu + sigma^2 / 2", mu + sigma * sigma / 2, most=700),
        unlike("mu + sigma z", mu + sigma * z, most=700),
    )
    mean = math.exp(mu + sigma * sigma / 2)
    # What is served on average is ratio * stock + the mean below the stock.
    below = mean * float(scipy.special.ndtr(z - sigma))
    cost = shortage * (mean - below) - holding * below
    return Newsvendor(math.exp(mu + sigma * z), cost, ratio)


def last_buy(
    law: Law,
    *,
    unit_cost: float,
    shortage_cost: float,
    salvage_value: float = 0.0,
    holding_cost: float = 0.0,
    on_hand: int = 0,
) -> LastBuy:
    """
    Say how many pieces to buy of a part that will not be made again.

    Parameters
    ----------
    law
        Law of all demand until the last unit of the model retires.
    unit_cost
        Price of a piece now. [money]
    shortage_cost
        Cost of one piece lacking, such as a device given up. [money]
    salvage_value
        What a piece left is worth in the end. [money]
    holding_cost
        Cost of keeping a piece that is left until the end. [money]
    on_hand
        Pieces on the shelf. [pieces]

    Returns
    -------
    LastBuy
        Pieces to buy; 0, with ratio 0, if lacking one costs no more than buying it.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range or a piece left is worth more than it costs.
    """
    refuse(
        unlike("unit_cost", unit_cost, least=0),
        unlike("shortage_cost", shortage_cost, least=0),
        unlike("salvage_value", salvage_value, least=0),
        unlike("holding_cost", holding_cost, least=0),
        unlike("on_hand", on_hand, least=0, most=1e8, is_whole=True),
    )
    over = unit_cost - salvage_value + holding_cost
    refuse(unlike("unit_cost - salvage_value + holding_cost", over, above=0))
    under = max(0.0, shortage_cost - unit_cost)
    ratio = under / (under + over)
    table = _Table.of(law, on_hand)
    best = 0
    if ratio > 0:
        # Beyond the table the chance of no shortage is 1 to the last digit.
        wanted = min(ratio, 1 - 1e-14) - 1e-15
        best = first_at(table.by("P(X<=s)"), wanted)
    made = table.service(max(best, int(on_hand)))
    quantity = made.stock - int(on_hand)
    return LastBuy(
        quantity=quantity,
        stock=made.stock,
        ratio=ratio,
        cost=unit_cost * quantity
        + (holding_cost - salvage_value) * made.expected_left_over
        + shortage_cost * made.expected_shortage,
        p_short=1 - made.p_no_shortage,
        expected_shortage=made.expected_shortage,
        expected_left_over=made.expected_left_over,
    )


def _ratio(holding: float, shortage: float) -> float:
    refuse(unlike("holding", holding, above=0), unlike("shortage", shortage, above=0))
    return shortage / (shortage + holding)


@dataclass(frozen=True, slots=True)
class _Table:
    """Every measure for every stock up to where demand ends."""

    law: Law
    at_most: NDArray[np.float64]
    shortage: NDArray[np.float64]

    @classmethod
    def of(cls, law: Law, stock: int) -> "_Table":
        chances = law.chances()
        n_more = max(0, int(stock) + 1 - len(chances))
        chances = np.concatenate([chances, np.zeros(n_more + 1)])
        above = np.cumsum(chances[::-1])[::-1] - chances
        lacking = np.cumsum(above[::-1])[::-1]
        return cls(law, np.minimum(np.cumsum(chances), 1.0), lacking)

    def by(self, measure: Measure) -> NDArray[np.float64]:
        forms: dict[str, Callable[[], NDArray[np.float64]]] = {
            "P(X<=s)": lambda: self.at_most,
            "P(X<s)": lambda: np.concatenate([[0.0], self.at_most[:-1]]),
            "unit fill": self._unit_fill,
            "order fill": self._order_fill,
        }
        return forms[measure]()

    def service(self, stock: int) -> Service:
        lacking = float(self.shortage[stock])
        return Service(
            stock=stock,
            p_no_shortage=float(self.at_most[stock]),
            p_ready=float(self.by("P(X<s)")[stock]),
            unit_fill=float(self._unit_fill()[stock]),
            order_fill=float(self._order_fill()[stock]),
            expected_shortage=lacking,
            expected_left_over=max(0.0, stock - self.law.mean + lacking),
        )

    def _unit_fill(self) -> NDArray[np.float64]:
        # Where nothing is wanted, all that is wanted is served.
        if self.law.mean == 0:
            return np.ones_like(self.shortage)
        return np.maximum(0.0, 1 - self.shortage / self.law.mean)

    def _order_fill(self) -> NDArray[np.float64]:
        sizes = self.law.order_sizes()
        return np.minimum(np.convolve(self.at_most, sizes)[: len(self.at_most)], 1.0)
