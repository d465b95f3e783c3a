"""
How much will be wanted of a part that is wanted only now and then?

Point forecasts by size and interval (Croston and its corrections) or by size and
chance (TSB), and a whole law of the demand over one or several periods ahead, which
can be held against the past.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any, unlisted
from turnscrew.core.stock.laws import NegativeBinomial

Floats = NDArray[np.float64]
Method = Literal["croston", "sba", "sbj", "tsb"]
Start = Literal["first", "mean"]
FirstPeriod = Literal["skipped", "updated"]
LimitRule = Literal["nearest", "at least"]
LawOf = Callable[[Floats, int], NegativeBinomial]

MEMORY = 0.82
"""Weight of a period against the one after it; chosen by back-test. [1]"""

# Chosen on one half of a few thousand intermittent series by the likelihood of what
# came next, one to twelve periods ahead, and held against the other half (see
# benchmarks/shelf.py): part of a demand is added to what was seen, the spread of sizes
# is drawn to single pieces with the weight of thirty periods, the level may be off by
# this share of its square, and the error of what is known of it grows by this share
# with each period ahead.
_PRIOR_DEMANDS = 0.4
_PRIOR_RATIO = 1.0
_PRIOR_PERIODS = 30.0
_LEVEL_SPREAD = 0.4
_LEVEL_GROWTH = 0.1


@dataclass(frozen=True, slots=True)
class IntermittentForecast:
    """
    Point forecast of one period.

    Parameters
    ----------
    status
        ``no demand`` if nothing was ever wanted; the forecast is then 0.
    forecast
        Mean demand of a period to come. [pieces]
    size
        Smoothed size of a demand; ``None`` without one. [pieces]
    interval
        Smoothed periods between demands; ``None`` for TSB or without demand. [periods]
    probability
        Smoothed chance of a demand in a period, for TSB alone. [1]
    method
        ``croston``; ``sba`` and ``sbj``, which take off its bias; ``tsb``, which falls
        with every empty period.
    start
        Where the interval starts: at the position of the first demand, or at the mean.
    first_period
        Whether TSB learns from the first period.
    """

    status: Literal["forecast", "no demand"]
    forecast: float
    size: float | None
    interval: float | None
    probability: float | None
    method: Method
    start: Start
    first_period: FirstPeriod


@dataclass(frozen=True, slots=True)
class DemandPrediction:
    """
    Law of the demand over the periods ahead.

    Parameters
    ----------
    law
        The law: a negative binomial, wide enough for a level that moves.
    periods
        Periods ahead, taken together. [periods]
    lower
        Lower limit. [pieces]
    upper
        Upper limit. [pieces]
    confidence
        Level asked for. [1]
    stated
        Chance that the law itself gives to the limits: whole pieces cannot hit every
        level. [1]
    limit_rule
        ``nearest``: limits whose chance is nearest to the level; ``at least``: the
        quantiles, whose chance is never below it.
    """

    law: NegativeBinomial
    periods: int
    lower: int
    upper: int
    confidence: float
    stated: float
    limit_rule: LimitRule


@dataclass(frozen=True, slots=True)
class BackTest:
    """
    How the limits would have held in the past.

    Parameters
    ----------
    n_trials
        Origins from which was predicted. [1]
    inside
        Share of outcomes within the limits; ``None`` without a trial. [1]
    stated
        Mean chance that the law gave to the limits. [1]
    even
        Share of outcomes within the level when whole pieces are spread evenly over
        their chance, so that it may be compared with the level itself. [1]
    confidence
        The level. [1]
    places
        Chances below and up to each outcome. [1], shape (n_trials, 2)
    """

    n_trials: int
    inside: float | None
    stated: float | None
    even: float | None
    confidence: float
    places: Floats = field(repr=False, compare=False)


def intermittent_forecast(
    demand: ArrayLike,
    *,
    method: Method = "sba",
    alpha: float = 0.1,
    beta: float | None = None,
    start: Start = "first",
    first_period: FirstPeriod = "skipped",
    start_size: float | None = None,
    start_probability: float | None = None,
) -> IntermittentForecast:
    """
    Forecast the mean demand of a period.

    Parameters
    ----------
    demand
        Demand of each period, the oldest first. [pieces], shape (n_periods,)
    method
        How to forecast.
    alpha
        Smoothing of sizes. [1]
    beta
        Smoothing of intervals, or of the chance by TSB; as alpha where left out. The
        corrections are 1 - beta/2 (``sba``) and 1 - beta/(2 - beta) (``sbj``). [1]
    start
        Interval to start from: the position of the first demand, or the mean interval.
    first_period
        Whether TSB learns from the first period.
    start_size
        Size to start from by TSB; the first demand where left out. [pieces]
    start_probability
        Chance to start from by TSB; the share of periods with demand where left out.
        [1]

    Returns
    -------
    IntermittentForecast
        The forecast and what it stands on.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range or a period lacks its demand.

    References
    ----------
    Croston (1972); Syntetos and Boylan (2005); Teunter, Syntetos and Babai (2011).
    """
    made = _demands(demand)
    rate = alpha if beta is None else beta
    refuse(
        unlisted("method", method, get_args(Method)),
        unlisted("start", start, get_args(Start)),
        unlisted("first_period", first_period, get_args(FirstPeriod)),
        unlike("alpha", alpha, above=0, most=1),
        unlike("beta", rate, above=0, most=1),
        "" if start_size is None else unlike("start_size", start_size, above=0),
        "" if start_probability is None
        else unlike("start_probability", start_probability, least=0, most=1),
    )  # fmt: skip
    at = np.flatnonzero(made > 0)
    rules = (method, start, first_period)
    if not len(at):
        return IntermittentForecast("no demand", 0.0, None, None, None, *rules)
    if method == "tsb":
        begin = (
            float(made[at[0]]) if start_size is None else start_size,
            len(at) / len(made) if start_probability is None else start_probability,
        )
        size, chance = _tsb(made, (alpha, rate), begin, first_period)
        return IntermittentForecast(
            "forecast", size * chance, size, None, chance, *rules
        )
    size = _smoothed(made[at], alpha, float(made[at[0]]))
    intervals = np.diff(at, prepend=-1).astype(np.float64)
    first = float(intervals[0] if start == "first" else intervals.mean())
    interval = _smoothed(intervals, rate, first)
    factor = {"croston": 1.0, "sba": 1 - rate / 2, "sbj": 1 - rate / (2 - rate)}[method]
    forecast = factor * size / interval
    return IntermittentForecast("forecast", forecast, size, interval, None, *rules)


def predict_demand(
    demand: ArrayLike,
    *,
    periods: int = 1,
    confidence: float = 0.9,
    memory: float = MEMORY,
    limit_rule: LimitRule = "nearest",
) -> DemandPrediction:
    """
    Give the law of the demand over the periods ahead, taken together.

    The level is the mean of the past, older periods weighing less; the law adds what is
    not known of the level, the spread of sizes and that the level moves.

    Parameters
    ----------
    demand
        Demand of each period in whole pieces, the oldest first. [pieces],
        shape (n_periods,)
    periods
        Periods ahead, such as a lead time. [periods]
    confidence
        Level of the limits. [1]
    memory
        Weight of a period against the one after it. [1]
    limit_rule
        How limits in whole pieces are chosen.

    Returns
    -------
    DemandPrediction
        Law and limits; wide where the past is short.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range or a period lacks its demand.
    """
    made = _demands(demand, is_whole=True)
    _refuse_bad(periods, confidence, memory, limit_rule)
    law = _law_ahead(made, int(periods), memory)
    chances = law.chances()
    lower, upper = _limits(chances, confidence, limit_rule)
    return DemandPrediction(
        law=law,
        periods=int(periods),
        lower=lower,
        upper=upper,
        confidence=confidence,
        stated=float(chances[lower : upper + 1].sum()),
        limit_rule=limit_rule,
    )


def back_test(
    demand: ArrayLike,
    *,
    periods: int = 1,
    confidence: float = 0.9,
    memory: float = MEMORY,
    limit_rule: LimitRule = "nearest",
    n_first: int = 18,
    law_of: LawOf | None = None,
) -> BackTest:
    """
    Predict the past from what went before it, and count how often the limits held.

    Parameters
    ----------
    demand
        Demand of each period in whole pieces, the oldest first. [pieces],
        shape (n_periods,)
    periods
        Periods ahead, taken together; origins lie as far apart. [periods]
    confidence
        Level of the limits. [1]
    memory
        Weight of a period against the one after it. [1]
    limit_rule
        How limits in whole pieces are chosen.
    n_first
        Periods known at the first origin. [periods]
    law_of
        Gives the law ahead from a past and a number of periods; that of
        ``predict_demand`` if not given.

    Returns
    -------
    BackTest
        Shares over all origins; ``None`` if the past is too short for one.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range or a period lacks its demand.
    """
    made = _demands(demand, is_whole=True)
    _refuse_bad(periods, confidence, memory, limit_rule)
    refuse(unlike("n_first", n_first, least=1, is_whole=True))
    p_out = (1 - confidence) / 2
    law_of = law_of or partial(_law_ahead, memory=memory)
    inside: list[bool] = []
    stated: list[float] = []
    places: list[tuple[float, float]] = []
    n_first, periods = int(n_first), int(periods)
    for origin in range(n_first, len(made) - periods + 1, periods):
        chances = law_of(made[:origin], periods).chances()
        outcome = int(made[origin : origin + periods].sum())
        low, high = _limits(chances, confidence, limit_rule)
        inside.append(low <= outcome <= high)
        stated.append(float(chances[low : high + 1].sum()))
        below = float(chances[:outcome].sum())
        here = float(chances[outcome]) if outcome < len(chances) else 0.0
        places.append((below, below + here))
    table = np.array(places).reshape(-1, 2)
    if not places:
        return BackTest(0, None, None, None, confidence, table)
    return BackTest(
        n_trials=len(places),
        inside=float(np.mean(inside)),
        stated=float(np.mean(stated)),
        even=_evenly_inside(table, p_out),
        confidence=confidence,
        places=table,
    )


def _demands(demand: ArrayLike, *, is_whole: bool = False) -> Floats:
    made = column("demand", demand)
    refuse("" if len(made) else "demand: found no period, wanted at least one")
    refuse(unlike_any("demand", made, least=0, is_whole=is_whole))
    return made


def _refuse_bad(
    periods: int, confidence: float, memory: float, limit_rule: LimitRule
) -> None:
    refuse(
        unlike("periods", periods, least=1, is_whole=True),
        unlike("confidence", confidence, above=0, below=1),
        unlike("memory", memory, above=0, most=1),
        unlisted("limit_rule", limit_rule, get_args(LimitRule)),
    )


def _smoothed(values: Floats, weight: float, start: float) -> float:
    """Smooth from a start that the first value then leaves, or confirms."""
    from scipy import signal  # noqa: PLC0415 - a slow library

    made = signal.lfilter([weight], [1, weight - 1], values, zi=[(1 - weight) * start])
    return float(made[0][-1])


def _tsb(
    demand: Floats,
    weights: tuple[float, float],
    begin: tuple[float, float],
    first_period: FirstPeriod,
) -> tuple[float, float]:
    used = demand[1:] if first_period == "skipped" else demand
    sizes = used[used > 0]
    size = _smoothed(sizes, weights[0], begin[0]) if len(sizes) else begin[0]
    came = (used > 0).astype(np.float64)
    chance = _smoothed(came, weights[1], begin[1]) if len(came) else begin[1]
    return size, chance


def _law_ahead(demand: Floats, periods: int, memory: float) -> NegativeBinomial:
    n = len(demand)
    weights = memory ** np.arange(n - 1, -1, -1.0)
    total = float(weights.sum())
    n_alike = total**2 / float(weights @ weights)
    plain = max(float(demand.mean()), 0.02)
    # Variance by mean of a period: 1 for single pieces, more where sizes vary.
    squares = float(((demand - demand.mean()) ** 2).sum())
    drawn = (squares / plain + _PRIOR_RATIO * _PRIOR_PERIODS) / (n - 1 + _PRIOR_PERIODS)
    ratio = max(1.0, drawn)
    level = (float(weights @ demand) + _PRIOR_DEMANDS * ratio) / total
    mean = periods * level
    # What is known of the level is worth n_alike periods, and ages while it moves.
    error = periods * mean * ratio / n_alike * (1 + _LEVEL_GROWTH * periods)
    variance = mean * ratio + error + mean**2 * _LEVEL_SPREAD
    return NegativeBinomial.from_sd(mean=mean, sd=math.sqrt(variance))


def _limits(chances: Floats, confidence: float, rule: LimitRule) -> tuple[int, int]:
    at_most = np.cumsum(chances)
    p_out = (1 - confidence) / 2
    last = len(chances) - 1
    low = min(last, int(np.searchsorted(at_most, p_out - 1e-12)))
    high = min(last, int(np.searchsorted(at_most, 1 - p_out - 1e-12)))
    if rule == "at least":
        return low, high
    below = np.concatenate([[0.0], at_most])
    pairs = [
        (a, b)
        for a in range(max(0, low - 1), low + 2)
        for b in range(max(0, high - 2), high + 1)
        if a <= b
    ]
    return min(
        pairs,
        key=lambda p: (abs(below[p[1] + 1] - below[p[0]] - confidence), p[1] - p[0]),
    )


def _evenly_inside(places: Floats, p_out: float) -> float:
    low, high = places[:, 0], places[:, 1]
    covered = np.clip(high, p_out, 1 - p_out) - np.clip(low, p_out, 1 - p_out)
    width = high - low
    is_point = width <= 0
    at = (low > p_out) & (low < 1 - p_out)
    return float(np.where(is_point, at, covered / np.where(is_point, 1, width)).mean())
