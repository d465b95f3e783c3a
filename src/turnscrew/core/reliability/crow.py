"""
Within which limits does the current MTBF of a power law lie?

Exact factors after Crow, by the law of the failures given what the ages tell.
"""

import math
from collections.abc import Callable

import numpy as np
import scipy

from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.reliability.systems import EndedBy


def crow_factors(
    n: int, confidence: float, termination: EndedBy = "time"
) -> tuple[float, float | None]:
    """
    Give the exact limits of the current MTBF, by its maximum-likelihood estimate.

    Parameters
    ----------
    n
        Failures. [1]
    confidence
        Level of both limits together. [1]
    termination
        What ended the watch.

    Returns
    -------
    tuple[float, float | None]
        Factors of the lower and the upper limit; no upper one for a single failure
        before a set end. [1]

    Raises
    ------
    BadArgumentError
        If there is no failure, or one alone that ended the watch.

    References
    ----------
    Crow (1975), AMSAA TR-138; the factors by quadrature where a failure ended it.
    """
    least = 2 if termination == "failure" else 1
    refuse(
        unlike("n", n, least=least, is_whole=True),
        unlike("confidence", confidence, above=0, below=1),
    )
    p_out = (1 - confidence) / 2
    if termination == "failure":
        low = 4 * n * n / _root(lambda w: _product_cdf(n, w) - (1 - p_out), 4.0 * n * n)
        high = 4 * n * n / _root(lambda w: _product_cdf(n, w) - p_out, 4.0 * n * n)
        return low, high
    lower = _root(lambda x: _bessel_cdf(n, x) - p_out, 2.0 * n)
    if n == 1:
        return 4 * n * n / lower**2, None
    upper = _root(lambda x: _bessel_cdf(n - 1, x) - (1 - p_out), 2.0 * n)
    return 4 * n * n / lower**2, 4 * n * n / upper**2


def _root(off: Callable[[float], float], about: float) -> float:
    low = high = about
    while off(low) * off(high) > 0 and high < about * 1e12:
        low, high = low / 2, high * 2
    return float(scipy.optimize.brentq(off, low, high, xtol=1e-13, rtol=1e-13))


def _bessel_cdf(n: int, x: float) -> float:
    """Give the chance of at most n failures, given the ages' own statistic."""
    # The terms peak at half of x; far from there they add nothing.
    far = 12 * math.sqrt(x) + 40
    j = np.arange(max(1.0, math.floor(x / 2 - far)), min(n, math.ceil(x / 2 + far)) + 1)
    if not len(j):
        return 0.0
    terms = (
        (2 * j - 1) * math.log(x / 2)
        - scipy.special.gammaln(j + 1)
        - scipy.special.gammaln(j)
    )
    total = scipy.special.logsumexp(terms) - math.log(scipy.special.ive(1, x)) - x
    return float(np.exp(total))


_NODES, _WEIGHTS = scipy.special.roots_legendre(200)


def _product_cdf(n: int, w: float) -> float:
    """Give the chance that chi-squared(2n) times chi-squared(2n - 2) is below w."""
    spread = 9 / math.sqrt(n)
    # On the logarithm the first factor is smooth and has no long tail.
    middle = math.log(n)
    logs = middle + spread * _NODES - spread / 3
    u = np.exp(logs)
    density = np.exp(n * logs - u - scipy.special.gammaln(n)) * spread * _WEIGHTS
    return float(density @ scipy.special.gammainc(n - 1, w / (4 * u)) / density.sum())
