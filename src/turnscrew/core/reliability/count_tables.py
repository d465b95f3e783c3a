"""What are the chances of each number of failures?"""

import math

import numpy as np
import scipy

from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.reliability.lives import Floats

_TAIL = 1e-15
_MOST = 2**22
_MOST_LOST = 1e-9
"""Most chance that may lie beyond the longest table. [1]"""


def negative_binomial(mean: float, size: float) -> Floats:
    """
    Give the chances of counts whose rate is known by a gamma law.

    Parameters
    ----------
    mean
        Mean count. [1]
    size
        Shape of the gamma law. [1]

    Returns
    -------
    ndarray
        Chances of 0, 1, 2 ... [1], shape (n,)

    Raises
    ------
    BadArgumentError
        If more than a trace lies beyond the longest table.
    """
    if mean == 0:
        return np.array([1.0])
    q, n = mean / (size + mean), 64
    while scipy.special.betainc(n + 1.0, size, q) > _TAIL and n < _MOST:
        n *= 2
    beyond = float(scipy.special.betainc(n + 1.0, size, q))
    refuse(unlike(f"chance of more than {n} failures", beyond, most=_MOST_LOST))
    counts: Floats = np.arange(1.0, n + 1)
    # Each chance by the one before: gammas of a large size would lose digits.
    steps = np.log(q * (counts - 1 + size) / counts)
    first = -size * math.log1p(mean / size)
    return np.asarray(np.exp(first + np.concatenate([[0.0], np.cumsum(steps)])))


def poisson(mean: float) -> Floats:
    """
    Give the chances of counts of a known rate.

    Parameters
    ----------
    mean
        Mean count. [1]

    Returns
    -------
    ndarray
        Chances of 0, 1, 2 ... [1], shape (n,)
    """
    counts = np.arange(math.ceil(mean + 12 * math.sqrt(mean) + 60) + 1.0)
    made = np.exp(poisson_logs(counts, mean))
    return np.asarray(made / made.sum())


def poisson_logs(n: Floats, at: float | Floats) -> Floats:
    """
    Give logarithms of Poisson chances.

    Parameters
    ----------
    n
        Counts. [1], shape (n_counts,)
    at
        Their means. [1]

    Returns
    -------
    ndarray
        The logarithms. [1], shape (n_counts,)
    """
    return np.asarray(scipy.special.xlogy(n, at) - at - scipy.special.gammaln(n + 1))


def convolved(one: Floats, other: Floats) -> Floats:
    """
    Give the chances of a sum; only where both have any are they multiplied.

    Parameters
    ----------
    one
        Chances of the one count. [1], shape (n,)
    other
        Those of the other. [1], shape (m,)

    Returns
    -------
    ndarray
        Chances of 0, 1, 2 ... [1], shape (k,)
    """
    (a, b), (c, d) = (np.flatnonzero(of > _TAIL * 1e-3)[[0, -1]] for of in (one, other))
    made = np.convolve(one[a : b + 1], other[c : d + 1])
    return np.concatenate((np.zeros(a + c), made))


def count_at(chances: Floats, p: float) -> int:
    """
    Give the least count that is not exceeded with a chance.

    Parameters
    ----------
    chances
        Chances of 0, 1, 2 ... [1], shape (n,)
    p
        The chance. [1]

    Returns
    -------
    int
        The count. [1]
    """
    reached = np.cumsum(chances) >= p - 1e-12
    return int(np.argmax(reached)) if reached[-1] else len(chances) - 1
