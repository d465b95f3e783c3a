"""
Which share had probably failed at each failure, and which line runs through the plot?

Median ranks, the ranks of Johnson where lives are censored between failures, and
regression on Weibull paper. A regression is no likelihood fit: the two give different
laws, and so do its two directions.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import scipy

from turnscrew.core.reliability.lives import Floats, Numbers, refuse_if_any, rows_told
from turnscrew.errors import BadArgumentError

RankRule = Literal["exact", "benard", "mean", "midpoint", "filliben"]
Direction = Literal["x on y", "y on x"]

# Each share is (rank - a) / (n + b).
_PLACES: dict[str, tuple[float, float]] = {
    "benard": (0.3, 0.4),
    "mean": (0.0, 1.0),
    "midpoint": (0.5, 0.0),
    "filliben": (0.3175, 0.365),
}


@dataclass(frozen=True, eq=False)
class RankFit:
    """
    A Weibull law from a line through ranks.

    Parameters
    ----------
    shape
        Shape of the law. [1]
    scale
        Age by which 63.2 % have failed. [d]
    slope
        Slope of log10(-ln(1 - share)) in log10(age); the shape. [1]
    intercept
        Its value at age 1. [1]
    r_squared
        Square of the correlation, alike in both directions. [1]
    age
        Ages at failure. [d], shape (n_failures,)
    share
        Share failed at each. [1], shape (n_failures,)
    direction
        Whether the distances of age, x on y, or of the ranks, y on x, were made least.
    rule
        How the shares were reckoned.
    """

    shape: float
    scale: float
    slope: float
    intercept: float
    r_squared: float
    age: Floats
    share: Floats
    direction: Direction
    rule: RankRule


def median_ranks(
    n: int, *, method: RankRule = "exact", ranks: Numbers | None = None
) -> Floats:
    """
    Give the share that had probably failed at each rank.

    Parameters
    ----------
    n
        Lives in all. [1]
    method
        ``exact``: median of Beta(i, n - i + 1); ``benard``: (i - 0.3) / (n + 0.4);
        ``mean``: i / (n + 1); ``midpoint``: (i - 0.5) / n; ``filliben``:
        (i - 0.3175) / (n + 0.365).
    ranks
        The ranks, also broken ones; 1 to n if not given. [1], shape (n_ranks,)

    Returns
    -------
    ndarray
        The shares. [1], shape (n_ranks,)

    Raises
    ------
    BadArgumentError
        If there is no life, or a rank is not between 0 and n.
    """
    if n < 1:
        raise BadArgumentError(f"n: found {n}, wanted 1 or more")
    places: Floats = np.arange(1.0, n + 1)
    if ranks is not None:
        places = np.asarray(ranks, dtype=np.float64)
    bad = ~((places > 0) & (places <= n))
    refuse_if_any(
        rows_told(bad, "rank {row}: found {0:g}, wanted above 0 up to n", [places])
    )
    if method == "exact":
        return np.asarray(
            scipy.special.betaincinv(places, n - places + 1, 0.5), dtype=np.float64
        )
    less, more = _PLACES[method]
    return (places - less) / (n + more)


def johnson_ranks(failures: Numbers, censored: Numbers = ()) -> Floats:
    """
    Give the ranks of failures among lives that were censored between them.

    A life censored at the age of a failure is taken to have lasted longer.

    Parameters
    ----------
    failures
        Ages at failure. [d], shape (n_failures,)
    censored
        Ages of those still running when last seen. [d], shape (n_censored,)

    Returns
    -------
    ndarray
        Ranks of the failures in rising order of age. [1], shape (n_failures,)

    Raises
    ------
    BadArgumentError
        If an age is not above 0.

    References
    ----------
    L. G. Johnson, The Statistical Treatment of Fatigue Experiments (1964).
    """
    failed, running = (np.sort(_ages(*one)) for one in
                       (("failures", failures), ("censored", censored)))  # fmt: skip
    n = len(failed) + len(running)
    gone = np.searchsorted(running, failed, side="left")
    left = n - gone - np.arange(len(failed))
    # rank + (n + 1 - rank) / (1 + left): what is not yet ranked shrinks by a factor.
    return np.asarray((n + 1) * (1 - np.cumprod(left / (left + 1))))


def rank_regression(
    failures: Numbers,
    censored: Numbers = (),
    *,
    direction: Direction = "x on y",
    ranks: RankRule = "benard",
) -> RankFit | None:
    """
    Fit a Weibull law by a line through ranks.

    Parameters
    ----------
    failures
        Ages at failure. [d], shape (n_failures,)
    censored
        Ages of those still running when last seen. [d], shape (n_censored,)
    direction
        Whether to make the distances of age, x on y, or of the ranks least.
    ranks
        How to reckon the shares.

    Returns
    -------
    RankFit
        The law; ``None`` with fewer than two different ages at failure.

    Raises
    ------
    BadArgumentError
        If an age is not above 0.

    References
    ----------
    R. B. Abernethy, The New Weibull Handbook, 5th ed. (2006), chapter 2.
    """
    age = np.sort(_ages("failures", failures))
    places = johnson_ranks(failures, censored)
    if len(np.unique(age)) < 2:
        return None
    # The last rank of complete lives is n but for the last bits of a product.
    n = len(age) + len(_ages("censored", censored))
    share = median_ranks(n, method=ranks, ranks=np.minimum(places, n))
    x, y = np.log10(age), np.log10(-np.log1p(-share))
    dx, dy = x - x.mean(), y - y.mean()
    xx, yy, xy = float(dx @ dx), float(dy @ dy), float(dx @ dy)
    slope = yy / xy if direction == "x on y" else xy / xx
    intercept = float(y.mean() - slope * x.mean())
    return RankFit(
        slope, 10 ** (-intercept / slope), slope, intercept, xy * xy / (xx * yy), age,
        share, direction, ranks,
    )  # fmt: skip


def _ages(where: str, values: Numbers) -> Floats:
    ages = np.asarray(values, dtype=np.float64)
    bad = ~((ages > 0) & (ages < math.inf))
    words = where + ", row {row}: found age {0:g}, wanted above 0"
    refuse_if_any(rows_told(bad, words, [ages]))
    return ages
