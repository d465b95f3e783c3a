"""Of how many is this one in so many, and how sure is that share?"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Literal

import scipy

from turnscrew.errors import BadArgumentError

ShareRule = Literal["exact", "wilson"]


@dataclass(frozen=True)
class ShareLimits:
    """
    A share with its two-sided limits.

    Parameters
    ----------
    count
        How many are so. [1]
    n
        Of how many. [1]
    share
        The share; ``None`` of none at all. [1]
    low
        Lower limit. [1]
    high
        Upper limit. [1]
    confidence
        How sure the limits are. [1]
    rule
        How they are reckoned.
    """

    count: int
    n: int
    share: float | None
    low: float
    high: float
    confidence: float
    rule: ShareRule


def share_limits(
    count: int, n: int, *, confidence: float = 0.9, rule: ShareRule = "exact"
) -> ShareLimits:
    """
    Give a share with its limits.

    Parameters
    ----------
    count
        How many are so. [1]
    n
        Of how many. [1]
    confidence
        How sure the two limits together are. [1]
    rule
        ``exact``: those of Clopper and Pearson, Biometrika 26 (1934), from quantiles of
        the beta distribution; ``wilson``: of the score, Wilson, JASA 22 (1927). Both
        from memory.

    Returns
    -------
    ShareLimits
        The share; of none at all anything from 0 to 1 may be true.

    Raises
    ------
    BadArgumentError
        If a count is negative or above its whole, or the confidence is not between.
    """
    if not 0 <= count <= n:
        raise BadArgumentError(f"count: found {count} of {n}, wanted 0 to {n}")
    if not 0 < confidence < 1:
        raise BadArgumentError(f"confidence: found {confidence}, wanted 0 to 1")
    if n == 0:
        return ShareLimits(0, 0, None, 0.0, 1.0, confidence, rule)
    limits = _exact if rule == "exact" else _wilson
    low, high = limits(count, n, (1 - confidence) / 2)
    return ShareLimits(count, n, count / n, low, high, confidence, rule)


def _exact(count: int, n: int, tail: float) -> tuple[float, float]:
    low = float(scipy.special.betaincinv(count, n - count + 1, tail)) if count else 0.0
    high = (
        float(scipy.special.betaincinv(count + 1, n - count, 1 - tail))
        if count < n
        else 1.0
    )
    return low, high


def _wilson(count: int, n: int, tail: float) -> tuple[float, float]:
    z = float(-scipy.special.ndtri(tail))
    share, square = count / n, z * z / n
    middle = (share + square / 2) / (1 + square)
    half = z * sqrt(share * (1 - share) / n + square / (4 * n)) / (1 + square)
    return max(0.0, middle - half), min(1.0, middle + half)


def dirichlet_prior(
    counts: Mapping[str, int], *, pseudo_cases: float
) -> dict[str, float]:
    """
    Give shares counted elsewhere the weight of so many own cases.

    Parameters
    ----------
    counts
        Cases of each kind elsewhere. [1]
    pseudo_cases
        How many own cases they weigh: a choice, to be told beside the result. [1]

    Returns
    -------
    dict
        Parameters of the Dirichlet distribution, by kind. [1]

    Raises
    ------
    BadArgumentError
        If a count is negative, all are zero, or the weight is not above zero.
    """
    n = sum(counts.values())
    wrong = [
        f"{kind}: found {k}, wanted 0 or more" for kind, k in counts.items() if k < 0
    ]
    if not n and not wrong:
        wrong.append("counts: found none, wanted at least one case")
    if pseudo_cases <= 0:
        wrong.append(f"pseudo_cases: found {pseudo_cases:g}, wanted more than 0")
    if wrong:
        raise BadArgumentError("; ".join(wrong))
    return {kind: pseudo_cases * k / n for kind, k in counts.items()}
