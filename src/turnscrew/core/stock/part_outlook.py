"""
What will be wanted of one part, how much covers it, and how far is that to be trusted?

With four periods or more the part's own demand tells; with fewer, parts like it do, and
that is said. Demand is rare or lumpy beyond the gaps and the spread of sizes that
Syntetos, Boylan and Croston (2005) part by; else each period is counted alike. The
limits are held against the part's own past.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from turnscrew.core.model.wanted import refuse, unlike, unlike_any
from turnscrew.core.stock.intermittent import (
    BackTest,
    Floats,
    back_test,
    predict_demand,
)
from turnscrew.core.stock.laws import NegativeBinomial
from turnscrew.core.stock.service import (
    Measure,
    Newsvendor,
    StockLevel,
    newsvendor,
    stock_level,
)

FEW_PERIODS = 4
"""Fewer periods than this tell too little of a part by itself; a choice. [periods]"""

_FIRST_TRIAL = 6
_QUANTILES = (0.05, 0.25, 0.5, 0.75, 0.95)

# Mean periods from demand to demand, and squared coefficient of variation of sizes,
# beyond which demand is rare or lumpy: Syntetos, Boylan and Croston (2005).
_MOST_GAP, _MOST_CV2 = 1.32, 0.49

Basis = Literal["own demand", "parts like it", "nothing known"]


@dataclass(frozen=True)
class Ahead:
    """
    Demand to come, added up from now on.

    Parameters
    ----------
    periods
        Periods from now. [periods]
    low
        Lower limit of 90 %. [pieces]
    lower
        Lower limit of 50 %. [pieces]
    middle
        Median. [pieces]
    upper
        Upper limit of 50 %. [pieces]
    high
        Upper limit of 90 %. [pieces]
    """

    periods: int
    low: int
    lower: int
    middle: int
    upper: int
    high: int


@dataclass(frozen=True)
class PartOutlook:
    """
    What is known of the demand for a part.

    Parameters
    ----------
    past
        Demand of each period, the oldest first. [pieces]
    basis
        What the outlook stands on.
    forecast
        Mean demand of the next period; ``None`` if nothing is known. [pieces]
    ahead
        Demand to come, period by period; empty if nothing is known.
    level
        Pieces that cover the lead time and one period; ``None`` if nothing is known.
    cover_periods
        Periods so covered. [periods]
    check
        How limits of 90 % one period ahead would have held in the past; ``None``
        without own demand.
    priced
        Stock and service that two prices imply; ``None`` if none were given or
        nothing is known.
    """

    past: tuple[int, ...]
    basis: Basis
    forecast: float | None
    ahead: tuple[Ahead, ...]
    level: StockLevel | None
    cover_periods: int
    check: BackTest | None
    priced: Newsvendor | None = None


@dataclass(frozen=True)
class TwoPrices:
    """
    What a wrong number of pieces costs either way.

    Parameters
    ----------
    lacking
        Cost of one piece lacking. [money]
    over
        Cost of one piece too many. [money]
    """

    lacking: float
    over: float


def part_outlook(
    past: Sequence[int],
    *,
    lead_periods: int,
    similar: Sequence[Sequence[int]] = (),
    target: float = 0.95,
    measure: Measure = "unit fill",
    prices: TwoPrices | None = None,
) -> PartOutlook:
    """
    Say what will be wanted of a part and how much to hold.

    Parameters
    ----------
    past
        Demand of each period, the oldest first. [pieces]
    lead_periods
        Periods from the order to the shelf, rounded up. [periods]
    similar
        Demand of parts like it.
    target
        Service wanted. [1]
    measure
        What is meant by service.
    prices
        Cost of a piece lacking and of one too many.

    Returns
    -------
    PartOutlook
        The outlook.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    refuse(
        unlike("lead_periods", lead_periods, least=0, is_whole=True),
        unlike_any("past", np.array(past, dtype=np.float64), least=0, is_whole=True),
    )
    n, cover = len(past), lead_periods + 1
    periods = range(1, max(cover, 3) + 1)
    basis, law_of = _law_of(past, similar)
    laws = [law_of(k) for k in periods] if law_of else []
    check = None
    if basis == "own demand" and n > _FIRST_TRIAL:
        check = back_test(past, n_first=_FIRST_TRIAL, law_of=_own_law(past))
    return PartOutlook(
        past=tuple(past),
        basis=basis,
        forecast=laws[0].mean if laws else None,
        ahead=tuple(_ahead(k, law) for k, law in zip(periods, laws, strict=False)),
        level=(
            stock_level(laws[cover - 1], target=target, measure=measure)
            if laws
            else None
        ),
        cover_periods=cover,
        check=check,
        priced=_priced(laws[cover - 1], prices) if laws and prices else None,
    )


def demand_ahead(
    past: Sequence[int], periods: int, *, similar: Sequence[Sequence[int]] = ()
) -> NegativeBinomial | None:
    """
    Give the law of all that will be wanted of a part during some periods.

    Parameters
    ----------
    past
        Demand of each period, the oldest first. [pieces]
    periods
        Periods from now. [periods]
    similar
        Demand of parts like it.

    Returns
    -------
    NegativeBinomial or None
        The law; ``None`` if nothing is known.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    refuse(unlike("periods", periods, least=1, is_whole=True))
    _, law_of = _law_of(past, similar)
    return law_of(periods) if law_of else None


def _law_of(
    past: Sequence[int], similar: Sequence[Sequence[int]]
) -> tuple[Basis, Callable[[int], NegativeBinomial] | None]:
    """Say on what the demand to come is founded, and how it is reckoned."""
    n = len(past)
    if n >= FEW_PERIODS:
        own, made = _own_law(past), np.asarray(past, dtype=np.float64)
        return "own demand", lambda k: own(made, k)
    prior = _prior(similar)
    if prior is None:
        return "nothing known", None
    size, time = prior[0] + sum(past), prior[1] + n
    return "parts like it", lambda k: NegativeBinomial(mean=k * size / time, size=size)


def _own_law(past: Sequence[int]) -> Callable[[Floats, int], NegativeBinomial]:
    return _rare if is_rare(past) else _smooth


def _priced(law: NegativeBinomial, prices: TwoPrices) -> Newsvendor:
    return newsvendor(law, holding=prices.over, shortage=prices.lacking)


def is_rare(past: Sequence[int]) -> bool:
    """
    Say whether demand is rare or lumpy.

    Parameters
    ----------
    past
        Demand of each period. [pieces]

    Returns
    -------
    bool
        False if nearly every period wants some, and of like size.
    """
    sizes = np.array([n for n in past if n], dtype=np.float64)
    if not len(sizes):
        return True
    cv2 = float(sizes.var() / sizes.mean() ** 2)
    return len(past) / len(sizes) > _MOST_GAP or cv2 > _MOST_CV2


def _rare(past: Floats, periods: int) -> NegativeBinomial:
    return predict_demand(past, periods=periods).law


def _smooth(past: Floats, periods: int) -> NegativeBinomial:
    """Give the law of periods that are alike, as spread as the past or as chance."""
    n, total = len(past), float(past.sum())
    mean_so_far = float(past.mean())
    ratio = max(1.0, float(past.var(ddof=1)) / mean_so_far) if mean_so_far else 1.0
    if ratio == 1.0:
        return NegativeBinomial.ahead(
            failures=total, exposure=n, future_exposure=periods
        )
    mean = (total + 0.5) / n
    variance = periods * mean * ratio * (1 + periods / n)
    return NegativeBinomial.from_sd(mean=periods * mean, sd=variance**0.5)


def _prior(similar: Sequence[Sequence[int]]) -> tuple[float, float] | None:
    """Give a gamma law of the mean demand, by moments of the means of parts like it."""
    means = np.array([np.mean(one) for one in similar if len(one)])
    if not len(means) or not means.sum():
        return None
    mean = float(means.mean())
    # One part says nothing of the spread; parts all alike are not known to be alike.
    variance = max(float(means.var()), mean**2 / len(means))
    return mean**2 / variance, mean / variance


def _ahead(periods: int, law: NegativeBinomial) -> Ahead:
    at_most = np.cumsum(law.chances())
    places = np.searchsorted(at_most, np.array(_QUANTILES) - 1e-12)
    return Ahead(periods, *(int(place) for place in places))
