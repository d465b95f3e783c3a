"""
What will so many devices take, if they are like those met before?

Method: each device met before is a case with its minutes and parts; a table's faults
are cases that count for less than one each. The next device is one of the cases, by
their weights, and every further one the same with all before it counted too: the urn of
Pólya, which is what is not known of the shares once they are learned from so few cases
(Dirichlet and multinomial). So the spread holds both the chance of the draw and how
little is known.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

LEVEL = 0.8
"""Chance that the actual lies between the limits. [1]"""

_NORMAL = 1.2815515655446004
"""Standard normal quantile of 0.9: the limits hold 0.8 between them. [1]"""


@dataclass(frozen=True)
class Case:
    """
    A device as met before, or as a table foretells it.

    Parameters
    ----------
    weight
        How many devices it counts for. [1]
    minutes
        What it took. [min]
    parts
        Spare parts it needed; a part named twice was needed twice.
    """

    weight: float
    minutes: float
    parts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Total:
    """
    The minutes of all devices together.

    Parameters
    ----------
    mean
        Mean. [min]
    variance
        Variance. [min²]
    """

    mean: float
    variance: float

    @property
    def limits(self) -> tuple[float, float]:
        """
        Give the limits that hold four in five.

        Returns
        -------
        tuple
            Lower limit, 0 at least, and upper limit, by the normal law. [min]
        """
        half = _NORMAL * math.sqrt(self.variance)
        return max(0.0, self.mean - half), self.mean + half


@dataclass(frozen=True)
class Pieces:
    """
    The pieces of one part that all devices together need.

    Parameters
    ----------
    mean
        Mean. [1]
    low
        Fewer than these are needed with a chance of one in ten at most. [1]
    high
        More than these are needed with a chance of one in ten at most. [1]
    """

    mean: float
    low: int
    high: int


def minutes_of(cases: Sequence[Case], n: int) -> Total:
    """
    Foretell the minutes of some devices.

    Parameters
    ----------
    cases
        What was met before; their weights sum to more than 0.
    n
        Devices to come. [1]

    Returns
    -------
    Total
        Mean and variance.

    References
    ----------
    N. L. Johnson, S. Kotz, N. Balakrishnan, Discrete Multivariate Distributions (1997),
    chapter on the multivariate Pólya law: its variances are those of the multinomial
    law times (n + W) / (1 + W), W the sum of the weights (from memory).
    """
    whole = math.fsum(one.weight for one in cases)
    mean = math.fsum(one.weight * one.minutes for one in cases) / whole
    spread = math.fsum(one.weight * (one.minutes - mean) ** 2 for one in cases) / whole
    return Total(n * mean, n * spread * (n + whole) / (1 + whole))


def summed(totals: Iterable[Total]) -> Total:
    """
    Add what several models take; they know nothing of one another.

    Parameters
    ----------
    totals
        One for each model.

    Returns
    -------
    Total
        Means and variances added.
    """
    some = list(totals)
    return Total(
        math.fsum(one.mean for one in some), math.fsum(one.variance for one in some)
    )


def pieces_of(cases: Sequence[Case], n: int, part: str) -> Pieces:
    """
    Foretell how many pieces of a part some devices need.

    Parameters
    ----------
    cases
        What was met before; their weights sum to more than 0.
    n
        Devices to come. [1]
    part
        The part.

    Returns
    -------
    Pieces
        Mean and limits. A device that needs the part at all needs as many as the mean
        of those that did, for the limits.

    References
    ----------
    The count of devices that need it is beta-binomial: the same urn with two colours.
    """
    counts = [(one.weight, one.parts.count(part)) for one in cases]
    whole = math.fsum(weight for weight, _ in counts)
    needing = math.fsum(weight for weight, k in counts if k)
    if not needing:
        return Pieces(0.0, 0, 0)
    each = math.fsum(weight * k for weight, k in counts) / needing
    chances = beta_binomial(n, needing, whole - needing)
    return Pieces(
        mean=n * each * needing / whole,
        low=math.floor(each * _quantile(chances, (1 - LEVEL) / 2) + 1e-9),
        high=math.ceil(each * _quantile(chances, (1 + LEVEL) / 2) - 1e-9),
    )


def parts_in(cases: Iterable[Case]) -> list[str]:
    """
    Name the parts that were ever needed, the most needed first.

    Parameters
    ----------
    cases
        What was met before.

    Returns
    -------
    list
        Part numbers.
    """
    needed: dict[str, float] = defaultdict(float)
    for one in cases:
        for part in one.parts:
            needed[part] += one.weight
    return sorted(needed, key=lambda part: (-needed[part], part))


def beta_binomial(n: int, a: float, b: float) -> list[float]:
    """
    Give the chance of every count of one colour in draws from an urn.

    Parameters
    ----------
    n
        Draws. [1]
    a
        Weight of the colour. [1]
    b
        Weight of all else. [1]

    Returns
    -------
    list
        Chances of 0 to ``n``. [1]
    """
    if b <= 0:
        return [0.0] * n + [1.0]
    log_all = _log_beta(a, b)
    return [
        math.exp(
            math.lgamma(n + 1)
            - math.lgamma(k + 1)
            - math.lgamma(n - k + 1)
            + _log_beta(a + k, b + n - k)
            - log_all
        )
        for k in range(n + 1)
    ]


def _log_beta(a: float, b: float) -> float:
    return math.lgamma(a) + math.lgamma(b) - math.lgamma(a + b)


def _quantile(chances: Sequence[float], p: float) -> int:
    total = 0.0
    for k, chance in enumerate(chances):
        total += chance
        if total >= p - 1e-12:
            return k
    return len(chances) - 1
