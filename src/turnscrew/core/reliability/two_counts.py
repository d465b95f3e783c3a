"""
How unlikely is it that two Poisson counts differ so far, and how much may they?

Given the total, the first count is binomial; the exact rules stand on that.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
import scipy
from numpy.typing import NDArray

Alternative = Literal["two-sided", "greater", "less"]
PRule = Literal[
    "doubled", "min-likelihood", "mid-p", "e-test", "e-test wald", "score", "wald",
    "log-wald", "sqrt",
]  # fmt: skip
IntervalRule = Literal["central", "min-likelihood", "mid-p", "score", "log-wald"]

# Two outcomes as likely as each other must not differ by the last bits of a float.
_TIE = 1 + 1e-7
_N_STEPS = 600


@dataclass(frozen=True, slots=True)
class Pair:
    """
    Two counts with their exposures.

    Parameters
    ----------
    count1
        Events of the first; no whole number where several tell as much as one, which
        only the central limits take. [1]
    exposure1
        Its exposure. [unit of exposure]
    count2
        Events of the second. [1]
    exposure2
        Its exposure. [unit of exposure]
    """

    count1: float
    exposure1: float
    count2: float
    exposure2: float

    @property
    def n(self) -> float:
        """Give the events of both. [1]."""
        return self.count1 + self.count2

    @property
    def ratio(self) -> float | None:
        """Give the first rate by the second; ``None`` without any event. [1]."""
        if self.count2 == 0:
            return math.inf if self.count1 else None
        return self.count1 * self.exposure2 / (self.count2 * self.exposure1)

    def share(self, ratio: float) -> float:
        """
        Give the share of all events that the first would have.

        Parameters
        ----------
        ratio
            First rate by second. [1]

        Returns
        -------
        float
            The share. [1]
        """
        first = ratio * self.exposure1
        return first / (first + self.exposure2)

    def ratio_at(self, share: float) -> float:
        """
        Give the ratio of the rates that makes a share.

        Parameters
        ----------
        share
            Share of all events that the first has. [1]

        Returns
        -------
        float
            First rate by second. [1]
        """
        if share >= 1:
            return math.inf
        return share / (1 - share) * self.exposure2 / self.exposure1


def p_value(
    pair: Pair, ratio: float, rule: PRule, alternative: Alternative
) -> tuple[float, float | None]:
    """
    Give the probability of a result so far off.

    Parameters
    ----------
    pair
        The two counts.
    ratio
        The ratio supposed. [1]
    rule
        How to reckon it.
    alternative
        The side on which a result counts as far off.

    Returns
    -------
    tuple[float, float | None]
        The p-value, and the statistic of a rule that has one. [1]
    """
    if rule in _Z:
        z = _Z[rule](pair.count1, pair.count2, pair, ratio)
        return _normal_tail(float(z), alternative), float(z)
    if rule in ("e-test", "e-test wald"):
        return _e_test(pair, ratio, rule, alternative)
    share = pair.share(ratio)
    if rule == "min-likelihood" and alternative == "two-sided":
        shares = np.array([share])
        return float(_likely_no_more(int(pair.count1), int(pair.n), shares)[0]), None
    weight = 0.5 if rule == "mid-p" else 1.0
    high = _tail_high(pair.count1, pair.n, share, weight)
    low = _tail_low(pair.count1, pair.n, share, weight)
    if alternative == "two-sided":
        return min(1.0, 2 * min(high, low)), None
    return (high if alternative == "greater" else low), None


def interval_of(
    pair: Pair, rule: IntervalRule, alternative: Alternative, confidence: float
) -> tuple[float, float]:
    """
    Give limits of the ratio of two rates.

    Parameters
    ----------
    pair
        The two counts.
    rule
        How to make them.
    alternative
        ``greater`` asks for the lower limit alone, ``less`` for the upper alone.
    confidence
        Their level. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit; 0 and infinite where there is none. [1]
    """
    if pair.n == 0:
        return 0.0, math.inf
    p_out = 1 - confidence
    if rule == "min-likelihood" and alternative == "two-sided":
        return _likely_interval(pair, p_out)
    if alternative == "two-sided":
        p_out /= 2
    lower, upper = _INTERVALS[rule](pair, p_out)
    return (
        0.0 if alternative == "less" else lower,
        math.inf if alternative == "greater" else upper,
    )


def _tail_high(count: float, n: float, share: float, weight: float) -> float:
    here = (
        float(scipy.special.betainc(count, n - count + 1, share)) if count > 0 else 1.0
    )
    more = (
        float(scipy.special.betainc(count + 1, n - count, share)) if count < n else 0.0
    )
    return weight * here + (1 - weight) * more


def _tail_low(count: float, n: float, share: float, weight: float) -> float:
    return _tail_high(n - count, n, 1 - share, weight)


def _log_pmf(count: Any, n: int, shares: NDArray[np.float64]) -> NDArray[np.float64]:
    ways = scipy.special.gammaln(n + 1) - scipy.special.gammaln(count + 1)
    ways = ways - scipy.special.gammaln(n - count + 1)
    made = (
        ways
        + scipy.special.xlogy(count, shares)
        + scipy.special.xlog1py(n - count, -shares)
    )
    return np.asarray(made, dtype=np.float64)


def _likely_no_more(
    count: int, n: int, shares: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Add up all outcomes that are no more likely than the one counted."""
    limit = _log_pmf(count, n, shares) + math.log(_TIE)
    is_above = count >= n * shares
    # Beyond the mode the probabilities fall, so the far tail is found by halving:
    # first outcome of the far side that is unlikely enough, counted from the mode.
    mode = np.minimum(np.floor((n + 1) * shares), n)
    near, far = mode.copy(), np.where(is_above, -1.0, n + 1.0)
    while np.any(np.abs(far - near) > 1):
        middle = np.trunc((near + far) / 2)
        is_unlikely = _log_pmf(middle, n, shares) <= limit
        far = np.where(is_unlikely, middle, far)
        near = np.where(is_unlikely, near, middle)
    own_high = (
        scipy.special.bdtrc(count - 1, n, shares) if count > 0 else np.ones_like(far)
    )
    own_low = scipy.special.bdtr(count, n, shares)
    other_low = np.where(
        far >= 0, scipy.special.bdtr(np.maximum(far, 0), n, shares), 0.0
    )
    other_high = np.where(
        far <= n, scipy.special.bdtrc(np.clip(far - 1, 0, n), n, shares), 0.0
    )
    p = np.where(is_above, own_high + other_low, own_low + other_high)
    is_at_mode = _log_pmf(mode, n, shares) <= limit
    return np.asarray(np.where(is_at_mode, 1.0, np.minimum(p, 1.0)), dtype=np.float64)


def _likely_interval(pair: Pair, p_out: float) -> tuple[float, float]:
    """Find the outermost shares that the data do not refuse."""
    outer = _central(pair, p_out / 100)
    lows = [pair.share(outer[0]) if outer[0] > 0 else 0.0]
    highs = [pair.share(outer[1]) if outer[1] < math.inf else 1.0]
    best = pair.count1 / pair.n

    def is_kept(shares: NDArray[np.float64]) -> NDArray[np.bool_]:
        return _likely_no_more(int(pair.count1), int(pair.n), shares) >= p_out

    return (
        0.0 if pair.count1 == 0 else pair.ratio_at(_edge(lows[0], best, is_kept)),
        math.inf if pair.count2 == 0 else pair.ratio_at(_edge(highs[0], best, is_kept)),
    )


def _edge(
    far: float, best: float, is_kept: Callable[[NDArray[np.float64]], NDArray[np.bool_]]
) -> float:
    # The p-value jumps, so that the outermost kept point is looked for on ever finer
    # grids, each between the last refused point and the first kept one.
    refused, kept = far, best
    for _ in range(5):
        shares = np.linspace(refused, kept, _N_STEPS)
        first = int(np.argmax(is_kept(shares)))
        if first == 0:
            return float(shares[0])
        refused, kept = float(shares[first - 1]), float(shares[first])
    return kept


def _central(pair: Pair, p_out: float) -> tuple[float, float]:
    one, two = pair.count1, pair.count2
    low = float(scipy.special.betaincinv(one, two + 1, p_out)) if one else 0.0
    high = 1 - float(scipy.special.betaincinv(two, one + 1, p_out)) if two else 1.0
    return pair.ratio_at(low), pair.ratio_at(high)


def _mid(pair: Pair, p_out: float) -> tuple[float, float]:
    def off(share: float, tail: Callable[[float, float, float, float], float]) -> float:
        return tail(pair.count1, pair.n, share, 0.5) - p_out

    low, high = 0.0, 1.0
    if pair.count1:
        low = scipy.optimize.brentq(off, 0.0, 1.0, args=(_tail_high,), xtol=1e-15)
    if pair.count2:
        high = scipy.optimize.brentq(off, 0.0, 1.0, args=(_tail_low,), xtol=1e-15)
    return pair.ratio_at(low), pair.ratio_at(high)


def _score_interval(pair: Pair, p_out: float) -> tuple[float, float]:
    """Invert the score test of the share, after Wilson."""
    z2 = float(scipy.special.ndtri(p_out)) ** 2
    share = pair.count1 / pair.n
    middle = (share + z2 / (2 * pair.n)) / (1 + z2 / pair.n)
    spread = math.sqrt(z2 * share * (1 - share) / pair.n + (z2 / (2 * pair.n)) ** 2)
    half = spread / (1 + z2 / pair.n)
    low = middle - half if pair.count1 else 0.0
    high = middle + half if pair.count2 else 1.0
    return pair.ratio_at(low), pair.ratio_at(high)


def _log_wald_interval(pair: Pair, p_out: float) -> tuple[float, float]:
    if pair.count1 == 0 or pair.count2 == 0:
        return 0.0, math.inf
    far = -float(scipy.special.ndtri(p_out)) * math.sqrt(
        1 / pair.count1 + 1 / pair.count2
    )
    ratio = pair.ratio or math.nan
    return ratio * math.exp(-far), ratio * math.exp(far)


_INTERVALS: dict[str, Callable[[Pair, float], tuple[float, float]]] = {
    "central": _central,
    # One-sided, the outcomes as unlikely as the one counted are those of one tail.
    "min-likelihood": _central,
    "mid-p": _mid,
    "score": _score_interval,
    "log-wald": _log_wald_interval,
}


def _over(above: Any, below: Any) -> Any:
    # 0 over 0 is no difference at all; the statistic is then 0.
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(above == 0, 0.0, above / below)


def _wald_z(one: Any, two: Any, pair: Pair, ratio: float) -> Any:
    d = pair.exposure1 * ratio / pair.exposure2
    return _over(one - two * d, np.sqrt(one + two * d * d))


def _score_z(one: Any, two: Any, pair: Pair, ratio: float) -> Any:
    d = pair.exposure1 * ratio / pair.exposure2
    return _over(one - two * d, np.sqrt((one + two) * d))


def _log_wald_z(one: Any, two: Any, pair: Pair, ratio: float) -> Any:
    if not max(one, two):
        return 0.0
    d = pair.exposure1 * ratio / pair.exposure2
    # A half event each keeps the logarithm finite where one count is 0.
    plus = 0.5 if min(one, two) == 0 else 0.0
    off = math.log((one + plus) / (two + plus)) - math.log(d)
    return off / math.sqrt(1 / (one + plus) + 1 / (two + plus))


def _root_z(one: Any, two: Any, pair: Pair, ratio: float) -> Any:
    d = pair.exposure1 * ratio / pair.exposure2
    off = np.sqrt(one + 3 / 8) - np.sqrt(d * (two + 3 / 8))
    return 2 * off / math.sqrt(1 + d)


_Z: dict[str, Callable[[Any, Any, Pair, float], Any]] = {
    "wald": _wald_z,
    "score": _score_z,
    "log-wald": _log_wald_z,
    "sqrt": _root_z,
}


def _normal_tail(z: float, alternative: Alternative) -> float:
    if alternative == "two-sided":
        return 2 * float(scipy.special.ndtr(-abs(z)))
    return float(scipy.special.ndtr(-z if alternative == "greater" else z))


def _counts_around(mean: float) -> NDArray[np.float64]:
    far = 9 * math.sqrt(mean) + 30
    return np.arange(max(0, math.floor(mean - far)), math.ceil(mean + far) + 1.0)


def _e_test(
    pair: Pair, ratio: float, rule: str, alternative: Alternative
) -> tuple[float, float]:
    """Sum the chances of all pairs of counts at least as far off."""
    form = _wald_z if rule == "e-test wald" else _score_z
    z = float(form(pair.count1, pair.count2, pair, ratio))
    mean1 = pair.n * pair.share(ratio)
    mean2 = pair.n - mean1
    ones, twos = _counts_around(mean1), _counts_around(mean2)
    zs = form(ones[:, None], twos[None, :], pair, ratio)
    slack = 1e-12 * max(1.0, abs(z))
    if alternative == "two-sided":
        is_far = np.abs(zs) >= abs(z) - slack
    else:
        is_far = zs >= z - slack if alternative == "greater" else zs <= z + slack
    p = _poisson(ones, mean1) @ is_far @ _poisson(twos, mean2)
    return min(1.0, float(p)), z


def _poisson(counts: NDArray[np.float64], mean: float) -> NDArray[np.float64]:
    log_p = scipy.special.xlogy(counts, mean) - mean - scipy.special.gammaln(counts + 1)
    return np.asarray(np.exp(log_p), dtype=np.float64)
