"""
How many failures will come, given how many came?

A gamma law stands for what is not known of the rate, and exposures may differ. A
Poisson law at the rate found (``plug-in``) promises too narrow a range.
"""

import math
from dataclasses import dataclass, field
from typing import Literal, Self, get_args

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any, unlisted
from turnscrew.core.reliability.count_tables import (
    convolved,
    count_at,
    negative_binomial,
    poisson,
    poisson_logs,
)

Floats = NDArray[np.float64]
Predictive = Literal["gamma-Poisson", "plug-in"]
FitRule = Literal["marginal likelihood", "moments"]


@dataclass(frozen=True, slots=True)
class GammaLaw:
    """
    Gamma law of a rate: prior or posterior.

    Parameters
    ----------
    shape
        Shape, like a number of failures. [1]
    rate
        Rate, not scale, like the time in which they came. [unit of time]
    """

    shape: float
    rate: float

    def __post_init__(self) -> None:
        """Refuse figures below 0."""
        refuse(unlike("shape", self.shape, least=0), unlike("rate", self.rate, least=0))

    @classmethod
    def from_mtbf(cls, *, mtbf_50: float, mtbf_05: float) -> Self:
        """
        Make the law from two statements about the MTBF.

        Parameters
        ----------
        mtbf_50
            MTBF that is exceeded with a chance of 50 %. [unit of time]
        mtbf_05
            MTBF that is exceeded with a chance of 95 %. [unit of time]

        Returns
        -------
        GammaLaw
            The law; rounding the shape before the rate would shift the rate.

        Raises
        ------
        BadArgumentError
            If the second MTBF is not well below the first.

        References
        ----------
        NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.5.
        """
        refuse(unlike("mtbf_50", mtbf_50, above=0))
        refuse(unlike("mtbf_05", mtbf_05, above=mtbf_50 / 1e6, below=mtbf_50 / 1.001))

        def off(log_shape: float) -> float:
            shape = math.exp(log_shape)
            middle, high = scipy.special.gammaincinv(shape, (0.5, 0.95))
            return float(high / middle) - mtbf_50 / mtbf_05

        shape = math.exp(scipy.optimize.brentq(off, -3.0, 18.0, xtol=1e-15, rtol=1e-14))
        return cls(shape, mtbf_05 * float(scipy.special.gammaincinv(shape, 0.95)))

    @property
    def mean(self) -> float:
        """Give the mean rate; infinite without a rate parameter. [1/unit of time]."""
        return self.shape / self.rate if self.rate > 0 else math.inf

    def after(self, failures: float, exposure: float) -> "GammaLaw":
        """
        Learn from failures.

        Parameters
        ----------
        failures
            Failures seen. [1]
        exposure
            Time in which they came. [unit of time]

        Returns
        -------
        GammaLaw
            The law afterwards.
        """
        return GammaLaw(self.shape + failures, self.rate + exposure)

    def cdf(self, rate: float) -> float:
        """
        Give the chance that the rate is not above a figure.

        Parameters
        ----------
        rate
            The figure. [1/unit of time]

        Returns
        -------
        float
            The chance. [1]
        """
        return float(scipy.special.gammainc(self.shape, self.rate * rate))

    def quantile(self, p: float) -> float:
        """
        Give the rate that is not exceeded with a chance.

        Parameters
        ----------
        p
            The chance. [1]

        Returns
        -------
        float
            The rate; infinite if the law puts none into bounds. [1/unit of time]
        """
        if not self.rate:
            return math.inf
        return float(scipy.special.gammaincinv(self.shape, p)) / self.rate


JEFFREYS = GammaLaw(0.5, 0.0)
"""The prior that says least about a rate."""


@dataclass(frozen=True, slots=True)
class GammaFit:
    """
    Spread of the rates of many units or sites.

    Parameters
    ----------
    status
        ``spread``; ``no spread`` if one rate explains all; ``no failure``.
    law
        Gamma law of the rates; its shape is the k (size) of the negative binomial
        counts. ``None`` without spread.
    mean
        Mean rate. [1/unit of exposure]
    log_likelihood
        Logarithm of the marginal likelihood, factorials included. [1]
    rule
        How it was fitted.
    """

    status: Literal["spread", "no spread", "no failure"]
    law: GammaLaw | None
    mean: float
    log_likelihood: float
    rule: FitRule

    def shrunk(self, failures: ArrayLike, exposure: ArrayLike) -> Floats:
        """
        Give each unit's rate, drawn towards the mean the more the less it tells.

        Parameters
        ----------
        failures
            Failures of each unit. [1], shape (n_units,)
        exposure
            Exposure of each unit. [unit of exposure], shape (n_units,)

        Returns
        -------
        numpy.ndarray
            Posterior mean rates. [1/unit of exposure], shape (n_units,)
        """
        n, t = column("failures", failures), column("exposure", exposure)
        if self.law is None:
            return np.full(np.broadcast_shapes(n.shape, t.shape), self.mean)
        return np.asarray((self.law.shape + n) / (self.law.rate + t))


@dataclass(frozen=True, slots=True)
class CountPrediction:
    """
    Failures to come.

    Parameters
    ----------
    mean
        Mean. [1]
    variance
        Variance. [1]
    lower
        Lower limit. [1]
    upper
        Upper limit; as counts are whole, both hold at least the level. [1]
    confidence
        Level of both limits together. [1]
    predictive
        Law of the prediction.
    chances
        Chances of 0, 1, 2 ... failures. [1], shape (n,)
    """

    mean: float
    variance: float
    lower: int
    upper: int
    confidence: float
    predictive: Predictive
    chances: Floats = field(repr=False, compare=False)

    def quantile(self, p: float) -> int:
        """
        Give the least count that is not exceeded with a chance.

        Parameters
        ----------
        p
            The chance. [1]

        Returns
        -------
        int
            The count. [1]
        """
        return count_at(self.chances, p)


def fit_gamma(
    failures: ArrayLike,
    exposure: ArrayLike = 1.0,
    *,
    frequency: ArrayLike = 1.0,
    rule: FitRule = "marginal likelihood",
) -> GammaFit:
    """
    Fit a gamma law to the rates of many units.

    Parameters
    ----------
    failures
        Failures of each unit. [1], shape (n_units,)
    exposure
        Exposure of each unit, one for all or one for each. [unit of exposure]
    frequency
        How many units each row stands for. [1]
    rule
        ``marginal likelihood``; or ``moments``, for equal exposures.

    Returns
    -------
    GammaFit
        The law, or that there is no spread.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range, or moments are asked of unequal exposures.
    """
    n, t, w = _table(failures, exposure, frequency)
    refuse(unlisted("rule", rule, get_args(FitRule)))
    if rule == "moments" and np.ptp(t) > 0:
        refuse(f"exposure: found {t.min():g} to {t.max():g}, wanted one for all")
    mean = float(w @ n) / float(w @ t)
    if mean == 0:
        return GammaFit("no failure", None, 0.0, 0.0, rule)
    law = (_by_moments if rule == "moments" else _by_likelihood)(n, t, w)
    if law is None:
        log_p = poisson_logs(n, mean * t)
        return GammaFit("no spread", None, mean, float(w @ log_p), rule)
    return GammaFit("spread", law, law.mean, _log_likelihood(law, n, t, w), rule)


def exposure_ahead(
    ages: ArrayLike,
    *,
    window: float,
    retire_age: float = math.inf,
    retire_rate: float = 0.0,
) -> Floats:
    """
    Give the time that each unit will be in service within a window.

    Parameters
    ----------
    ages
        Ages now. [unit of time], shape (n_units,)
    window
        Length of the window. [unit of time]
    retire_age
        Age at which a unit is retired. [unit of time]
    retire_rate
        Rate at which units leave before that, by loss or sale. [1/unit of time]

    Returns
    -------
    numpy.ndarray
        Expected times in service. [unit of time], shape (n_units,)

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    made = column("ages", ages)
    refuse(
        unlike_any("ages", made, least=0),
        unlike("window", window, least=0),
        "" if retire_age > 0 else f"retire_age: found {retire_age}, wanted above 0",
        unlike("retire_rate", retire_rate, least=0),
    )
    left = np.clip(retire_age - made, 0.0, window)
    if retire_rate == 0:
        return left
    return np.asarray(-np.expm1(-retire_rate * left) / retire_rate)


def predict_count(
    *,
    failures: ArrayLike,
    exposure: ArrayLike,
    future_exposure: ArrayLike,
    prior: GammaLaw = JEFFREYS,
    confidence: float = 0.9,
    predictive: Predictive = "gamma-Poisson",
) -> CountPrediction:
    """
    Predict how many failures will come.

    Rows are groups with rates of their own, such as models; their sum is predicted.
    Units that share one rate are one row: add up their exposures first.

    Parameters
    ----------
    failures
        Failures so far. [1], shape (n_groups,)
    exposure
        Time in which they came. [unit of time], shape (n_groups,)
    future_exposure
        Time in service to come, retirements taken off. [unit of time],
        shape (n_groups,)
    prior
        What was known of the rate before.
    confidence
        Level of both limits together. [1]
    predictive
        Law of the prediction.

    Returns
    -------
    CountPrediction
        Mean, limits and chances.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.
    """
    n, t, _ = _table(failures, exposure, 1.0, least=-1e-300)
    ahead = column("future_exposure", future_exposure)
    refuse(
        unlike_any("future_exposure", ahead, least=0),
        unlike("confidence", confidence, above=0, below=1),
        unlisted("predictive", predictive, get_args(Predictive)),
        "" if len(ahead) == len(n)
        else f"future_exposure: found {len(ahead)} rows, wanted {len(n)}",
    )  # fmt: skip
    is_plug_in = predictive == "plug-in"
    size = n if is_plug_in else n + prior.shape
    time = t if is_plug_in else t + prior.rate
    refuse(
        unlike_any("exposure, with the prior", time, above=0),
        "" if is_plug_in else unlike_any("failures, with the prior", size, above=0),
    )
    means = size * ahead / time
    refuse(unlike("mean to come", float(means.sum()), most=2e7))
    chances = np.array([1.0])
    for mean, shape in zip(means, size, strict=True):
        one = poisson(mean) if is_plug_in else negative_binomial(mean, shape)
        chances = convolved(chances, one)
    spread = np.zeros_like(means) if is_plug_in else means**2 / size
    p_out = (1 - confidence) / 2
    return CountPrediction(
        mean=float(means.sum()),
        variance=float((means + spread).sum()),
        lower=count_at(chances, p_out),
        upper=count_at(chances, 1 - p_out),
        confidence=confidence,
        predictive=predictive,
        chances=chances,
    )


def _table(
    failures: ArrayLike, exposure: ArrayLike, frequency: ArrayLike, least: float = 0.0
) -> tuple[Floats, Floats, Floats]:
    n = column("failures", failures)
    t, w = column("exposure", exposure), column("frequency", frequency)
    told = [
        f"{name}: found {len(given)} rows, wanted 1 or {len(n)}"
        for name, given in (("exposure", t), ("frequency", w))
        if len(given) not in (1, len(n))
    ]
    refuse("" if len(n) else "failures: found none, wanted at least one", *told)
    refuse(
        unlike_any("failures", n, least=0, is_whole=True),
        unlike_any("exposure", t, above=least),
        unlike_any("frequency", w, above=0),
    )
    return n, np.broadcast_to(t, n.shape), np.broadcast_to(w, n.shape)


def _by_moments(n: Floats, t: Floats, w: Floats) -> GammaLaw | None:
    total = float(w.sum())
    mean = float(w @ n) / total
    variance = float(w @ (n - mean) ** 2) / max(total - 1, 1e-300)
    if variance <= mean:
        return None
    shape = mean * mean / (variance - mean)
    return GammaLaw(shape, shape * float(t[0]) / mean)


def _by_likelihood(n: Floats, t: Floats, w: Floats) -> GammaLaw | None:
    # Units alike are one row; a fleet has few different rows.
    rows, place = np.unique(np.column_stack([n, t]), axis=0, return_inverse=True)
    n, t, w = rows[:, 0], rows[:, 1], np.bincount(place.ravel(), w).astype(float)
    mean = float(w @ n) / float(w @ t)

    def rate_at(shape: float) -> float:
        def off(log_rate: float) -> float:
            # Falls from what was seen to nothing as the rate grows.
            rate = math.exp(log_rate)
            return float(w @ ((n + shape) / (rate + t) * rate)) / shape - float(w.sum())

        least = math.log(shape / mean) - 30
        return math.exp(scipy.optimize.brentq(off, least, least + 60, xtol=1e-14))

    def score(log_shape: float) -> float:
        shape = math.exp(log_shape)
        steps = scipy.special.digamma(shape + n) - scipy.special.digamma(shape)
        return float(w @ (steps - np.log1p(t / rate_at(shape))))

    low, high = -10.0, 11.0
    # At a shape so large the counts are Poisson to all digits that matter.
    if score(high) >= 0 or score(low) <= 0:
        return None
    shape = math.exp(scipy.optimize.brentq(score, low, high, xtol=1e-13))
    return GammaLaw(shape, rate_at(shape))


def _log_likelihood(law: GammaLaw, n: Floats, t: Floats, w: Floats) -> float:
    a, b, log_gamma = law.shape, law.rate, scipy.special.gammaln
    made = log_gamma(a + n) - log_gamma(a) - log_gamma(n + 1)
    made = made + a * np.log(b / (b + t)) + scipy.special.xlogy(n, t / (b + t))
    return float(w @ made)
