"""
By which law does demand come, and how likely is each number of pieces?

Poisson where pieces fail one by one at a known rate, negative binomial where the rate
itself is unsure, compound Poisson where one order takes several pieces.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Self

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any

Chances = NDArray[np.float64]

# What lies beyond is less than the rounding of the whole.
_TAIL = 1e-17
_MOST = 2**23
_SUM_SLACK = 1e-9
_MOST_LOST = 1e-9
"""Most chance beyond the longest table that is reckoned. [1]"""


def first_at(reached: Chances, wanted: float) -> int:
    """
    Give the first number of pieces that reaches what is wanted.

    Parameters
    ----------
    reached
        What 0, 1, 2 ... pieces reach. [1], shape (n,)
    wanted
        What is wanted. [1]

    Returns
    -------
    int
        The pieces; the last of the table if none of it reaches that much.
    """
    is_reached = reached >= wanted
    return int(np.argmax(is_reached)) if is_reached.any() else len(reached) - 1


@dataclass(frozen=True, slots=True)
class Poisson:
    """
    Demand of single pieces at a known rate.

    Parameters
    ----------
    mean
        Mean demand. [pieces]
    """

    mean: float

    def __post_init__(self) -> None:
        """Refuse a mean below 0."""
        refuse(unlike("mean", self.mean, least=0, most=1e8))

    @property
    def variance(self) -> float:
        """Give the variance. [pieces^2]."""
        return self.mean

    def chances(self) -> Chances:
        """
        Give the probability of each number of pieces.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces. [1], shape (n,)
        """
        n = math.ceil(self.mean + 12 * math.sqrt(self.mean) + 60)
        counts = np.arange(n + 1.0)
        log_p = scipy.special.xlogy(counts, self.mean) - self.mean
        made = np.exp(log_p - scipy.special.gammaln(counts + 1))
        # Logarithms of large gammas lose last digits; the sum gives most of them back.
        return np.asarray(made / made.sum())

    def order_sizes(self) -> Chances:
        """
        Give the chances of the size of one order.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces; here always one. [1]
        """
        return np.array([0.0, 1.0])


@dataclass(frozen=True, slots=True)
class NegativeBinomial:
    """
    Demand of single pieces whose rate is unsure: a gamma mixture of Poissons.

    Parameters
    ----------
    mean
        Mean demand. [pieces]
    size
        Shape of the gamma, often called k or r; it need not be whole. Some programs
        give its reciprocal. [1]
    """

    mean: float
    size: float

    def __post_init__(self) -> None:
        """Refuse figures outside their ranges."""
        refuse(
            unlike("mean", self.mean, least=0, most=1e7),
            unlike("size", self.size, above=0),
        )

    @classmethod
    def from_sd(cls, *, mean: float, sd: float) -> Self:
        """
        Make the law from mean and standard deviation.

        Parameters
        ----------
        mean
            Mean demand. [pieces]
        sd
            Standard deviation; its square must be above the mean. [pieces]

        Returns
        -------
        NegativeBinomial
            The law; its size is not rounded.

        Raises
        ------
        BadArgumentError
            If the spread is no larger than that of a Poisson law.
        """
        refuse(unlike("mean", mean, above=0), unlike("sd", sd, above=0))
        refuse(unlike("sd ** 2", sd * sd, above=mean))
        return cls(mean=mean, size=mean * mean / (sd * sd - mean))

    @classmethod
    def ahead(
        cls,
        *,
        failures: float,
        exposure: float,
        future_exposure: float,
        shape: float = 0.5,
        rate: float = 0.0,
    ) -> Self:
        """
        Make the law of what will be needed from what was needed.

        Parameters
        ----------
        failures
            Pieces needed so far. [pieces]
        exposure
            Time in service of all units in which they were needed. [unit of time]
        future_exposure
            Time in service of all units that lies ahead, retirements taken off.
            [unit of time]
        shape
            Shape of the gamma prior. [1]
        rate
            Rate of the gamma prior. [unit of time]

        Returns
        -------
        NegativeBinomial
            The law, wider than a Poisson of the rate found.

        Raises
        ------
        BadArgumentError
            If a figure is outside its range.
        """
        refuse(
            unlike("failures", failures, least=0),
            unlike("exposure", exposure, least=0),
            unlike("future_exposure", future_exposure, least=0),
            unlike("shape", shape, least=0),
            unlike("rate", rate, least=0),
        )
        refuse(
            unlike("shape + failures", shape + failures, above=0),
            unlike("rate + exposure", rate + exposure, above=0),
        )
        size = shape + failures
        return cls(mean=size * future_exposure / (rate + exposure), size=size)

    @property
    def variance(self) -> float:
        """Give the variance. [pieces^2]."""
        return self.mean + self.mean**2 / self.size

    def chances(self) -> Chances:
        """
        Give the probability of each number of pieces.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces. [1], shape (n,)
        """
        if self.mean == 0:
            return np.array([1.0])
        q = self.mean / (self.size + self.mean)
        n = 64
        # The chance of more than n pieces is an incomplete beta function.
        while scipy.special.betainc(n + 1.0, self.size, q) > _TAIL and n < _MOST:
            n *= 2
        beyond = float(scipy.special.betainc(n + 1.0, self.size, q))
        refuse(unlike(f"chance of more than {n} pieces", beyond, most=_MOST_LOST))
        counts = np.arange(1.0, n + 1)
        # Each chance by the one before: gammas of a large size would lose digits.
        steps = np.log(q * (counts - 1 + self.size) / counts)
        first = -self.size * math.log1p(self.mean / self.size)
        made = np.exp(first + np.concatenate([[0.0], np.cumsum(steps)]))
        return np.asarray(made / made.sum())

    def order_sizes(self) -> Chances:
        """
        Give the chances of the size of one order.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces; here always one. Orders of logarithmic size
            make the same law: see ``CompoundPoisson.logarithmic``. [1]
        """
        return np.array([0.0, 1.0])


@dataclass(frozen=True, slots=True)
class CompoundPoisson:
    """
    Demand of orders that come one by one, each for some pieces.

    Parameters
    ----------
    orders
        Mean number of orders. [1]
    sizes
        Chances that an order is for 0, 1, 2 ... pieces; they sum to 1. [1]
    """

    orders: float
    sizes: tuple[float, ...]

    def __post_init__(self) -> None:
        """Refuse figures outside their ranges."""
        refuse(
            unlike("orders", self.orders, least=0, most=1e5),
            _no_chances("sizes", self.sizes),
        )
        refuse(unlike("sizes, chance of 0", self.sizes[0], below=1))

    @classmethod
    def logarithmic(cls, *, orders: float, theta: float) -> Self:
        """
        Make the law with orders of logarithmic size.

        Parameters
        ----------
        orders
            Mean number of orders. [1]
        theta
            Parameter of the sizes: the chance of k pieces goes with theta**k / k. [1]

        Returns
        -------
        CompoundPoisson
            The law, which is also a negative binomial one.

        Raises
        ------
        BadArgumentError
            If theta is outside 0 to 1.
        """
        refuse(unlike("theta", theta, above=0, most=0.9999))
        n = math.ceil(math.log(_TAIL) / math.log(theta)) + 1
        counts = np.arange(1, n + 1)
        made = -(theta**counts) / counts / math.log1p(-theta)
        return cls(orders=orders, sizes=(0.0, *(float(p) for p in made)))

    @property
    def mean(self) -> float:
        """Give the mean. [pieces]."""
        return self.orders * float(np.arange(len(self.sizes)) @ np.array(self.sizes))

    @property
    def variance(self) -> float:
        """Give the variance. [pieces^2]."""
        squares = np.arange(len(self.sizes)) ** 2
        return self.orders * float(squares @ np.array(self.sizes))

    def chances(self) -> Chances:
        """
        Give the probability of each number of pieces, by Panjer's recursion.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces. [1], shape (n,)
        """
        sizes = np.array(self.sizes)
        weights = self.orders * sizes * np.arange(len(sizes))
        far = self.mean + 12 * math.sqrt(self.variance) + 60
        far += 12 * (len(sizes) if self.orders else 0)
        made = np.zeros(math.ceil(far) + 1)
        # Halves of the orders are reckoned and laid together, so that the chance of no
        # piece at all never drowns.
        n_halvings = max(0, math.ceil(math.log2(max(self.orders, 1) / 500)))
        part = 0.5**n_halvings
        made[0] = math.exp(-self.orders * part * (1 - sizes[0]))
        for n in range(1, len(made)):
            last = min(n, len(sizes) - 1)
            before = made[n - last : n][::-1]
            made[n] = part * float(weights[1 : last + 1] @ before) / n
        if n_halvings:
            from scipy import signal  # noqa: PLC0415 - a slow library
        for _ in range(n_halvings):
            made = signal.fftconvolve(made, made)[: len(made)].clip(0)
        return made

    def order_sizes(self) -> Chances:
        """
        Give the chances of the size of one order.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces; orders for nothing are left out. [1]
        """
        made = np.array(self.sizes)
        made[0] = 0.0
        return np.asarray(made / made.sum())


@dataclass(frozen=True, slots=True)
class Counted:
    """
    Demand with given chances, such as counted or forecast ones.

    Parameters
    ----------
    given
        Chances of 0, 1, 2 ... pieces; they sum to 1. [1]
    """

    given: tuple[float, ...] = field(repr=False)

    def __post_init__(self) -> None:
        """Refuse what are no chances."""
        refuse(_no_chances("given", self.given))

    @property
    def mean(self) -> float:
        """Give the mean. [pieces]."""
        return float(np.arange(len(self.given)) @ np.array(self.given))

    @property
    def variance(self) -> float:
        """Give the variance. [pieces^2]."""
        off = np.arange(len(self.given)) - self.mean
        return float(off**2 @ np.array(self.given))

    def chances(self) -> Chances:
        """
        Give the probability of each number of pieces.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces. [1], shape (n,)
        """
        return np.array(self.given)

    def order_sizes(self) -> Chances:
        """
        Give the chances of the size of one order.

        Returns
        -------
        numpy.ndarray
            Chances of 0, 1, 2 ... pieces; here always one. [1]
        """
        return np.array([0.0, 1.0])


Law = Poisson | NegativeBinomial | CompoundPoisson | Counted


def law_of_all(laws: Sequence[Law]) -> Counted:
    """
    Give the law of demands that come side by side, each by its own.

    Parameters
    ----------
    laws
        The laws.

    Returns
    -------
    Counted
        The law of their sum.

    Raises
    ------
    BadArgumentError
        If there is no law.
    """
    refuse("" if laws else "laws: found none, wanted at least one")
    made = np.array([1.0])
    for law in laws:
        made = np.convolve(made, law.chances())
        kept = np.flatnonzero(made > _TAIL)
        made = made[: kept[-1] + 1]
    return Counted(tuple(float(p) for p in made / made.sum()))


def _no_chances(where: str, chances: ArrayLike) -> str:
    made = column(where, chances)
    bad = unlike_any(where, made, least=0, most=1)
    if bad or not len(made):
        return bad or f"{where}: found nothing, wanted chances"
    return unlike(
        f"sum of {where}", float(made.sum()), least=1 - _SUM_SLACK, most=1 + _SUM_SLACK
    )
