"""
Within which limits does the mean of a Poisson count lie?

Eleven rules are in print; the exact one and its kin stand on chi-squared.
"""

import math
from collections.abc import Callable
from typing import Literal, get_args

import scipy

from turnscrew.core.model.wanted import refuse, unlike, unlisted

LimitRule = Literal[
    "exact", "2r+2/2r", "2r/2r", "mid-p", "score", "wald", "log-wald", "sqrt",
    "byar", "byar-half", "jeffreys",
]  # fmt: skip


def count_limits(
    count: float, p_low: float, p_high: float, rule: LimitRule = "exact"
) -> tuple[float, float]:
    """
    Give limits of the mean of a Poisson count.

    Parameters
    ----------
    count
        Events counted. [1]
    p_low
        Error allowed below: the mean lies below the lower limit this often. [1]
    p_high
        Error allowed above. [1]
    rule
        How the limits are made; ``exact`` is ``2r+2/2r`` here.

    Returns
    -------
    tuple[float, float]
        Lower and upper limit of the mean. [1]

    Raises
    ------
    BadArgumentError
        If the count is negative, an error outside 0 to 0.5 or the rule unknown.

    References
    ----------
    Garwood (1936), fiducial limits of the Poisson distribution, for ``exact``; Byar's
    approximation as read in published test files, in two forms; the others are
    common practice.
    """
    refuse(
        unlike("count", count, least=0),
        unlike("p_low", p_low, above=0, most=0.5),
        unlike("p_high", p_high, above=0, most=0.5),
        unlisted("rule", rule, get_args(LimitRule)),
    )
    lower, upper = _LIMITS[rule]
    low = lower(count, p_low) if count > 0 or rule == "jeffreys" else 0.0
    return max(0.0, low), upper(count, p_high)


_Limit = Callable[[float, float], float]


def _z(p: float) -> float:
    return -float(scipy.special.ndtri(p))


def _gamma(shift: float, *, is_upper: bool) -> _Limit:
    def limit(count: float, p: float) -> float:
        inverse = scipy.special.gammainccinv if is_upper else scipy.special.gammaincinv
        if count + shift > 0:
            return float(inverse(count + shift, p))
        # No event says nothing about how high the mean may be by such a rule.
        return math.inf if is_upper else 0.0

    return limit


def _mid_p(*, is_upper: bool) -> _Limit:
    def tail(mean: float, count: float) -> float:
        at_most = float(scipy.special.gammaincc(count + 1, mean))
        below = float(scipy.special.gammaincc(count, mean)) if count > 0 else 0.0
        half = (at_most + below) / 2
        return half if is_upper else 1 - half

    def limit(count: float, p: float) -> float:
        far = float(scipy.special.gammainccinv(count + 1, p / 2)) + 1
        return float(
            scipy.optimize.brentq(lambda m: tail(m, count) - p, 1e-300, far, xtol=1e-13)
        )

    return limit


def _signed(form: Callable[[float, float], float], *, is_upper: bool) -> _Limit:
    return lambda count, p: form(count, abs(_z(p)) if is_upper else -abs(_z(p)))


def _score(count: float, z: float) -> float:
    return count + z * z / 2 + z * math.sqrt(count + z * z / 4)


def _wald(count: float, z: float) -> float:
    return count + z * math.sqrt(count) if count else math.inf


def _log_wald(count: float, z: float) -> float:
    return count * math.exp(z / math.sqrt(count)) if count else math.inf


def _root(count: float, z: float) -> float:
    return max(0.0, math.sqrt(count) + z / 2) ** 2


def _byar(count: float, z: float) -> float:
    # The count itself stands below, the count and one above; so too where z is 0.
    n = count + 1 if math.copysign(1.0, z) > 0 else count
    if not n:
        return 0.0
    return n * max(0.0, 1 - 1 / (9 * n) + z / (3 * math.sqrt(n))) ** 3


def _byar_half(count: float, z: float) -> float:
    n = count + 0.5
    return n * max(0.0, 1 - 1 / (9 * n) + z / (3 * math.sqrt(n))) ** 3


def _pair(form: Callable[[float, float], float]) -> tuple[_Limit, _Limit]:
    return _signed(form, is_upper=False), _signed(form, is_upper=True)


_LIMITS: dict[str, tuple[_Limit, _Limit]] = {
    "exact": (_gamma(0, is_upper=False), _gamma(1, is_upper=True)),
    "2r+2/2r": (_gamma(0, is_upper=False), _gamma(1, is_upper=True)),
    "2r/2r": (_gamma(0, is_upper=False), _gamma(0, is_upper=True)),
    "jeffreys": (_gamma(0.5, is_upper=False), _gamma(0.5, is_upper=True)),
    "mid-p": (_mid_p(is_upper=False), _mid_p(is_upper=True)),
    "score": _pair(_score),
    "wald": _pair(_wald),
    "log-wald": _pair(_log_wald),
    "sqrt": _pair(_root),
    "byar": _pair(_byar),
    "byar-half": _pair(_byar_half),
}
