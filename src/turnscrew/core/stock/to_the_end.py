"""How many pieces, or how many donors, carry a part to the end of its model?"""

from dataclasses import dataclass

import numpy as np

from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.stock.laws import NegativeBinomial
from turnscrew.core.stock.service import LastBuy, last_buy

MOST_DONORS = 500
"""More than so many are never kept; a choice, no source. [donors]"""

_LIMITS = (0.05, 0.95)


@dataclass(frozen=True)
class AtTheEnd:
    """
    What it costs to be wrong, and what is there already.

    Parameters
    ----------
    unit_cost
        Price of a piece now. [money]
    shortage_cost
        Cost of one piece lacking, such as a device given up. [money]
    salvage_value
        What a piece left is worth in the end. [money]
    on_hand
        Pieces there or on their way. [pieces]
    share_good
        Share of the pieces of donors that turn out good; ``None`` if not known. [1]
    """

    unit_cost: float
    shortage_cost: float
    salvage_value: float = 0.0
    on_hand: int = 0
    share_good: float | None = None


@dataclass(frozen=True)
class DonorBank:
    """
    Donors that are kept in place of pieces that are bought.

    Parameters
    ----------
    n
        Donors, each with one piece; ``None`` if even the most are too few. [donors]
    share_good
        Share of their pieces that turn out good. [1]
    reached
        Chance that pieces and donors last. [1]
    """

    n: int | None
    share_good: float
    reached: float


@dataclass(frozen=True)
class ToTheEnd:
    """
    What carries a part to the end of its model.

    Parameters
    ----------
    mean
        Pieces wanted until then, in the mean. [pieces]
    low
        Lower limit of 90 %. [pieces]
    high
        Upper limit of 90 %. [pieces]
    buy
        Pieces to buy while they can be had.
    donors
        Donors to keep if nothing is bought; ``None`` if nobody knows how many of
        their pieces are good, or a piece is not worth its price.
    """

    mean: float
    low: int
    high: int
    buy: LastBuy
    donors: DonorBank | None


def to_the_end(law: NegativeBinomial, at: AtTheEnd) -> ToTheEnd:
    """
    Weigh pieces that are left against pieces that lack, once and for all.

    Donors are kept until they reach the service that the prices imply.

    Parameters
    ----------
    law
        Law of all demand until the last unit of the model is given up.
    at
        Prices, and what is there.

    Returns
    -------
    ToTheEnd
        Pieces to buy, and the donors that would do in their place.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range or a piece left is worth more than it costs.
    """
    buy = last_buy(
        law,
        unit_cost=at.unit_cost,
        shortage_cost=at.shortage_cost,
        salvage_value=at.salvage_value,
        on_hand=at.on_hand,
    )
    at_most = np.cumsum(law.chances())
    low, high = (int(np.searchsorted(at_most, p - 1e-12)) for p in _LIMITS)
    donors = None
    if at.share_good is not None and buy.ratio > 0:
        donors = donors_to_keep(
            law, on_hand=at.on_hand, share_good=at.share_good, target=buy.ratio
        )
    return ToTheEnd(law.mean, low, high, buy, donors)


def donors_to_keep(
    law: NegativeBinomial, *, on_hand: int, share_good: float, target: float
) -> DonorBank:
    """
    Give the fewest donors that, with what is there, last often enough.

    Each gives one piece, good or not by itself, so the good ones of n donors follow a
    binomial law.

    Parameters
    ----------
    law
        Law of the demand to be met.
    on_hand
        Pieces there. [pieces]
    share_good
        Share of the donors' pieces that turn out good. [1]
    target
        Chance wanted that they last. [1]

    Returns
    -------
    DonorBank
        The donors, and the chance reached.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    refuse(
        unlike("on_hand", on_hand, least=0, most=1e8, is_whole=True),
        unlike("share_good", share_good, above=0, most=1),
        unlike("target", target, above=0, below=1),
    )
    at_most = np.minimum(np.cumsum(law.chances()), 1.0)
    good = np.ones(1)
    reached = 0.0
    for n in range(MOST_DONORS + 1):
        there = np.minimum(on_hand + np.arange(n + 1), len(at_most) - 1)
        reached = float(good @ at_most[there])
        if reached >= target - 1e-12:
            return DonorBank(n, share_good, reached)
        good = np.convolve(good, [1 - share_good, share_good])
    return DonorBank(None, share_good, reached)
