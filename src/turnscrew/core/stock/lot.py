"""
How many pieces to order at once, and at what stock to order?

Square-root formulas, with price breaks and with backorders; the exact rule of reorder
point and lot for Poisson demand.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any, unlisted
from turnscrew.core.stock.laws import Poisson, first_at

Discount = Literal["all units", "incremental"]


@dataclass(frozen=True, slots=True)
class Lot:
    """
    The lot of least cost.

    Parameters
    ----------
    quantity
        Pieces to order at once. [pieces]
    cost
        Cost of ordering, holding and backorders by unit of time, purchase left out.
        [money/unit of time]
    fraction_backordered
        Share of the demand that waits. [1]
    """

    quantity: float
    cost: float
    fraction_backordered: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """
    The best lot at the price of one tier.

    Parameters
    ----------
    quantity
        Pieces to order at once. [pieces]
    price
        Price of a piece in this tier. [money]
    total
        Cost of purchase, ordering and holding by unit of time. [money/unit of time]
    """

    quantity: float
    price: float
    total: float


@dataclass(frozen=True, slots=True)
class PricedLot:
    """
    The lot of least total cost where the price falls with the lot.

    Parameters
    ----------
    quantity
        Pieces to order at once. [pieces]
    price
        Price of the tier reached. [money]
    total
        Cost of purchase, ordering and holding by unit of time. [money/unit of time]
    candidates
        The best lot of every tier that can have one.
    discount
        ``all units``: the price holds for the whole lot; ``incremental``: only for the
        pieces above the break.
    """

    quantity: float
    price: float
    total: float
    candidates: tuple[Candidate, ...]
    discount: Discount


@dataclass(frozen=True, slots=True)
class ReorderRule:
    """
    When to order and how many.

    Parameters
    ----------
    reorder_at
        Order when what is held and on the way, less what is owed, falls to this; it
        may be negative. [pieces]
    quantity
        Pieces to order at once. [pieces]
    cost
        Expected cost of ordering, holding and backorders by unit of time.
        [money/unit of time]
    """

    reorder_at: int
    quantity: int
    cost: float


def economic_lot(
    *,
    fixed: float,
    holding: float,
    demand: float,
    backorder_cost: float | None = None,
) -> Lot:
    """
    Give the lot of least cost at one price.

    Equation: Q = sqrt(2 K D / h), with backorders times sqrt((h + p) / p).

    Parameters
    ----------
    fixed
        Cost of one order, K. [money]
    holding
        Cost of holding a piece, h. [money/(piece * unit of time)]
    demand
        Steady demand, D. [pieces/unit of time]
    backorder_cost
        Cost of a piece owed, p; ``None`` if none may be owed.
        [money/(piece * unit of time)]

    Returns
    -------
    Lot
        Lot and cost, not rounded; the purchase is left out.

    Raises
    ------
    BadArgumentError
        If a figure is not above 0.

    References
    ----------
    Snyder and Shen, Fundamentals of Supply Chain Theory, sections 3.2 and 3.5.
    """
    refuse(
        unlike("fixed", fixed, above=0),
        unlike("holding", holding, above=0),
        unlike("demand", demand, above=0),
        ""
        if backorder_cost is None
        else unlike("backorder_cost", backorder_cost, above=0),
    )
    quantity, cost = (
        math.sqrt(2 * fixed * demand / holding),
        math.sqrt(2 * fixed * demand * holding),
    )
    if backorder_cost is None:
        return Lot(quantity, cost, 0.0)
    both = holding + backorder_cost
    return Lot(
        quantity=quantity * math.sqrt(both / backorder_cost),
        cost=cost * math.sqrt(backorder_cost / both),
        fraction_backordered=holding / both,
    )


def order_quantity(
    *,
    fixed: float,
    holding_rate: float,
    demand: float,
    breaks: Sequence[float] = (0,),
    prices: Sequence[float],
    discount: Discount = "all units",
    is_whole: bool = False,
) -> PricedLot:
    """
    Give the lot of least total cost where the price falls with the lot.

    Every tier is tried: the lowest price is not always the best.

    Parameters
    ----------
    fixed
        Cost of one order. [money]
    holding_rate
        Cost of holding, by the price of the piece held. [1/unit of time]
    demand
        Steady demand. [pieces/unit of time]
    breaks
        Least lot of each tier, rising, the first 0 or 1. [pieces]
    prices
        Price of a piece in each tier. [money]
    discount
        Whether the price holds for the whole lot or for the pieces above the break.
    is_whole
        Whether lots must be whole numbers.

    Returns
    -------
    PricedLot
        The best lot and that of every tier; the smallest of equal cost.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range, or breaks and prices do not go together.

    References
    ----------
    Snyder and Shen, Fundamentals of Supply Chain Theory, section 3.4.
    """
    refuse(
        unlike("fixed", fixed, above=0),
        unlike("holding_rate", holding_rate, above=0),
        unlike("demand", demand, above=0),
        unlisted("discount", discount, get_args(Discount)),
        _bad_tiers(breaks, prices),
    )
    # Pieces below the break cost more by this: spent once for every order.
    extra = [0.0]
    for i in range(1, len(prices)):
        extra.append(extra[-1] + breaks[i] * (prices[i - 1] - prices[i]))
    if discount == "all units":
        extra = [0.0] * len(prices)
    ends = [*breaks[1:], math.inf]
    tried = []
    for low, end, price, more in zip(breaks, ends, prices, extra, strict=True):
        tier = _Tier(fixed + more, holding_rate, demand, price, more)
        quantity = tier.best(low, end, is_whole=is_whole)
        if quantity is not None:
            tried.append(Candidate(quantity, price, tier.total(quantity)))
    best = min(tried, key=lambda one: (one.total, one.quantity))
    return PricedLot(best.quantity, best.price, best.total, tuple(tried), discount)


@dataclass(frozen=True, slots=True)
class _Tier:
    fixed: float
    holding_rate: float
    demand: float
    price: float
    extra: float

    def total(self, quantity: float) -> float:
        held = self.holding_rate * (self.price * quantity + self.extra) / 2
        ordered = self.fixed * self.demand / quantity
        return self.demand * self.price + ordered + held

    def best(self, low: float, end: float, *, is_whole: bool) -> float | None:
        """Give the best lot from low on; none if it lies at the end or beyond."""
        free = math.sqrt(
            2 * self.fixed * self.demand / (self.holding_rate * self.price)
        )
        if not is_whole:
            return max(free, float(low)) if free < end else None
        least = max(1, math.ceil(low))
        near = {max(least, math.floor(free)), max(least, math.ceil(free))}
        fitting = [n for n in near if n < end]
        return min(fitting, key=lambda n: (self.total(n), n)) if fitting else None


def _bad_tiers(breaks: Sequence[float], prices: Sequence[float]) -> str:
    at, each = column("breaks", breaks), column("prices", prices)
    if len(at) != len(each) or not len(at):
        return f"breaks: found {len(at)}, wanted one for each of {len(each)} prices"
    bad = [unlike_any("breaks", at, least=0), unlike_any("prices", each, above=0)]
    if at[0] > 1:
        bad.append(f"breaks, row 1: found {at[0]:g}, wanted 0 or 1")
    for row in np.flatnonzero(np.diff(at) <= 0):
        bad.append(f"breaks, row {row + 2}: found {at[row + 1]:g}, wanted a larger one")
    # Under a rising price the best lot would lie just below a break.
    for row in np.flatnonzero(np.diff(each) > 0):
        bad.append(f"prices, row {row + 2}: found {each[row + 1]:g}, wanted no rise")
    return "; ".join(one for one in bad if one)


def reorder_rule(
    *,
    fixed: float,
    holding: float,
    stockout: float,
    demand: float,
    lead_time: float,
) -> ReorderRule:
    """
    Give reorder point and lot of least cost for Poisson demand.

    The stock held and on the way is then spread evenly over r + 1 to r + Q, so that
    the cost is the mean of a one-period cost over those; the lot grows by one on the
    cheaper side until the next piece no longer pays.

    Parameters
    ----------
    fixed
        Cost of one order. [money]
    holding
        Cost of holding a piece. [money/(piece * unit of time)]
    stockout
        Cost of a piece owed. [money/(piece * unit of time)]
    demand
        Mean demand. [pieces/unit of time]
    lead_time
        Time from order to arrival. [unit of time]

    Returns
    -------
    ReorderRule
        Reorder point, lot and cost.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.

    References
    ----------
    Snyder and Shen, Fundamentals of Supply Chain Theory, section 5.4 (model);
    Federgruen and Zheng (1992) for the search (from memory).
    """
    refuse(
        unlike("fixed", fixed, least=0),
        unlike("holding", holding, above=0),
        unlike("stockout", stockout, above=0),
        unlike("demand", demand, above=0),
        unlike("lead_time", lead_time, least=0),
    )
    mean = demand * lead_time
    chances = Poisson(mean).chances()
    above = np.cumsum(chances[::-1])[::-1] - chances
    lacking = np.cumsum(above[::-1])[::-1]

    def cost_at(position: int) -> float:
        if position < 0:
            return stockout * (mean - position)
        short = float(lacking[position]) if position < len(lacking) else 0.0
        return holding * (position - mean + short) + stockout * short

    low = first_at(np.cumsum(chances), stockout / (stockout + holding))
    high = low
    total = fixed * demand + cost_at(low)
    while True:
        down, up = cost_at(low - 1), cost_at(high + 1)
        n = high - low + 1
        if min(down, up) >= total / n:
            return ReorderRule(reorder_at=low - 1, quantity=n, cost=total / n)
        total += min(down, up)
        low, high = (low - 1, high) if down <= up else (low, high + 1)
