"""
What does a fitted law of lives say, and how sure is it?

All laws are read on the logarithm of age: z = (log age - mu) / sigma. Weibull: shape
1 / sigma, scale exp(mu). Exponential: a Weibull of shape 1. Log-normal: median exp(mu).
"""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Literal

import scipy

from turnscrew.errors import BadArgumentError

Family = Literal["weibull", "exponential", "lognormal"]
Status = Literal["fitted", "no failures", "failures at the last age", "no maximum"]
Quantity = Literal["shape", "scale", "mu", "sigma", "rate", "quantile", "reliability"]
WaldScale = Literal["log", "natural"]
Convention = Literal["Wald, log scale", "Wald, natural scale", "likelihood ratio"]
RiskSet = Literal["watched from age 0", "entry < age <= exit"]
Covariance = tuple[tuple[float, float], tuple[float, float]]

FEW_EVENTS = 10
"""Fewer failures than this: the limits of Wald are not to be trusted. [practice]"""


_MOST_LOG = 300.0
"""Half a width on the log scale beyond which there is no limit to speak of. [1]"""


@dataclass(frozen=True)
class Limits:
    """
    A figure with its two-sided limits.

    Parameters
    ----------
    estimate
        The figure, in its own unit; ``None`` if the data do not tell it.
    low
        Lower limit; ``None`` where the data set none.
    high
        Upper limit; ``None`` where the data set none.
    confidence
        Share of such limits that hold the truth; each side fails by half of the
        rest. [1]
    convention
        How the limits were reckoned.
    is_sparse
        Whether there were so few failures that limits of Wald mislead.
    """

    estimate: float | None
    low: float | None
    high: float | None
    confidence: float
    convention: Convention
    is_sparse: bool


@dataclass(frozen=True)
class LifeFit:
    """
    A law fitted by maximum likelihood, or why none could be.

    Parameters
    ----------
    family
        The law.
    status
        Whether it was fitted.
    mu
        Place on the logarithm of age; ``None`` if not fitted. [1]
    sigma
        Spread on the logarithm of age; ``None`` if not fitted. [1]
    covariance
        Of mu and the logarithm of sigma, from the observed information; ``None`` if not
        fitted. [1]
    loglik
        Logarithm of the likelihood; differs with the unit of age. [1]
    n_units
        Lives, with their weights. [1]
    n_events
        Failures, with their weights. [1]
    risk_set
        Whether ages of entry counted.
    estimator
        How it was fitted.
    """

    family: Family
    status: Status
    mu: float | None
    sigma: float | None
    covariance: Covariance | None
    loglik: float | None
    n_units: float
    n_events: float
    risk_set: RiskSet
    estimator: Literal["maximum likelihood"] = "maximum likelihood"

    @property
    def shape(self) -> float | None:
        """Give the shape of the Weibull; ``None`` for a log-normal. [1]."""
        if self.sigma is None or self.family == "lognormal":
            return None
        return 1 / self.sigma

    @property
    def scale(self) -> float | None:
        """Give exp(mu): the 63.2 % life of a Weibull, the median else. [d]."""
        return None if self.mu is None else math.exp(self.mu)

    @property
    def rate(self) -> float | None:
        """Give the failures per time of an exponential; ``None`` else. [1/d]."""
        if self.family != "exponential" or self.status == "no maximum":
            return None
        return 0.0 if self.mu is None else math.exp(-self.mu)

    @property
    def n_parameters(self) -> int:
        """Count what was fitted. [1]."""
        return 1 if self.family == "exponential" else 2

    @property
    def aic(self) -> float | None:
        """Give the criterion of Akaike, 2 parameters - 2 log-likelihood. [1]."""
        return None if self.loglik is None else 2 * (self.n_parameters - self.loglik)

    @property
    def bic(self) -> float | None:
        """Give the criterion of Schwarz, counting failures, not lives. [1]."""
        if self.loglik is None or not self.n_events:
            return None
        return self.n_parameters * math.log(self.n_events) - 2 * self.loglik

    def standard_error(self, of: Quantity, *, at: float | None = None) -> float | None:
        """
        Give the standard error on the natural scale.

        Parameters
        ----------
        of
            The figure.
        at
            Share failed [1] for a quantile, age [d] for the reliability.

        Returns
        -------
        float
            Standard error, in the unit of the figure; ``None`` if not fitted.

        Raises
        ------
        BadArgumentError
            If the law has no such figure, or ``at`` is missing or outside its range.
        """
        found = self.told(of, at)
        return None if found is None else found[1]

    def told(self, of: Quantity, at: float | None) -> tuple[float, float] | None:
        """
        Give a figure and its standard error on the natural scale.

        Parameters
        ----------
        of
            The figure.
        at
            Share failed [1] for a quantile, age [d] for the reliability.

        Returns
        -------
        tuple
            Figure and standard error, in the unit of the figure; ``None`` if not
            fitted.

        Raises
        ------
        BadArgumentError
            If the law has no such figure, or ``at`` is missing or outside its range.
        """
        refuse_strange(self.family, of, at)
        if self.mu is None or self.sigma is None or self.covariance is None:
            return None
        if of == "reliability":
            z, error = self._z(at)
            slope = -math.exp(log_density(self.family, z))
            return survival(self.family, z), abs(slope) * error
        if of == "mu":
            return self.mu, math.sqrt(self.covariance[0][0])
        log_figure, error = self._log(of, at)
        return math.exp(log_figure), math.exp(log_figure) * error

    def quantile(self, share: float) -> float | None:
        """
        Give the age by which a share has failed, such as 0.1 for B10.

        Parameters
        ----------
        share
            Share failed. [1]

        Returns
        -------
        float
            Age; ``None`` if not fitted. [d]

        Raises
        ------
        BadArgumentError
            If the share is not between 0 and 1.
        """
        found = self.told("quantile", share)
        return None if found is None else found[0]

    def reliability(self, age: float) -> float | None:
        """
        Give the share still running at an age.

        Parameters
        ----------
        age
            Age. [d]

        Returns
        -------
        float
            Share running; ``None`` if not fitted. [1]

        Raises
        ------
        BadArgumentError
            If the age is not above 0.
        """
        found = self.told("reliability", age)
        return None if found is None else found[0]

    def _log(self, of: Quantity, at: float | None) -> tuple[float, float]:
        """Give the logarithm of a figure above 0, and its standard error."""
        assert self.mu is not None and self.sigma is not None
        log_sigma = math.log(self.sigma)
        if of in ("shape", "sigma"):
            value = log_sigma if of == "sigma" else -log_sigma
            return value, self._error(0.0, 1.0)
        z = place(self.family, at) if of == "quantile" and at is not None else 0.0
        value = self.mu + self.sigma * z
        return (-value if of == "rate" else value), self._error(1.0, self.sigma * z)

    def _z(self, age: float | None) -> tuple[float, float]:
        assert age is not None and self.mu is not None and self.sigma is not None
        z = (math.log(age) - self.mu) / self.sigma
        return z, self._error(-1 / self.sigma, -z)

    def _error(self, by_mu: float, by_log_sigma: float) -> float:
        assert self.covariance is not None
        (a, b), (_, c) = self.covariance
        square = by_mu**2 * a + 2 * by_mu * by_log_sigma * b + by_log_sigma**2 * c
        return math.sqrt(max(square, 0.0))


def wald_limits(
    fit: LifeFit,
    of: Quantity,
    *,
    at: float | None = None,
    confidence: float = 0.95,
    on: WaldScale = "log",
) -> Limits:
    """
    Set limits by the standard error.

    On the log scale a figure above 0 is multiplied and divided by one factor; the
    reliability moves with z, so that it stays between 0 and 1. On the natural scale the
    limits are symmetric and may leave the range of the figure. For mu both are one.

    Parameters
    ----------
    fit
        The fitted law.
    of
        The figure.
    at
        Share failed [1] for a quantile, age [d] for the reliability.
    confidence
        Share of such limits that hold the truth. [1]
    on
        The scale on which the limits are symmetric.

    Returns
    -------
    Limits
        Figure and limits; without limits if nothing was fitted, or where they would lie
        beyond all numbers.

    Raises
    ------
    BadArgumentError
        If the law has no such figure, or a number is outside its range.
    """
    refuse_confidence(confidence)
    found = fit.told(of, at)
    is_sparse = fit.n_events < FEW_EVENTS
    is_natural = on == "natural" or of == "mu"
    name: Convention = "Wald, natural scale" if is_natural else "Wald, log scale"
    if found is None:
        return Limits(None, None, None, confidence, name, is_sparse)
    width = NormalDist().inv_cdf((1 + confidence) / 2)
    value, error = found
    low, high = value - width * error, value + width * error
    if not is_natural and of == "reliability":
        z, by = fit._z(at)
        low, high = (survival(fit.family, z + side * width * by) for side in (1, -1))
    elif not is_natural:
        if width * error / value > _MOST_LOG:
            return Limits(value, None, None, confidence, name, is_sparse)
        factor = math.exp(width * error / value)
        low, high = value / factor, value * factor
    return Limits(value, low, high, confidence, name, is_sparse)


def refuse_confidence(confidence: float) -> None:
    """
    Refuse a confidence that is none.

    Parameters
    ----------
    confidence
        Share of limits that hold the truth. [1]

    Raises
    ------
    BadArgumentError
        If it is not between 0 and 1.
    """
    if not 0 < confidence < 1:
        raise BadArgumentError(
            f"confidence: found {confidence:g}, wanted between 0 and 1"
        )


def refuse_strange(family: Family, of: Quantity, at: float | None) -> None:
    """
    Refuse a figure that a law has not.

    Parameters
    ----------
    family
        The law.
    of
        The figure.
    at
        Share failed [1] for a quantile, age [d] for the reliability.

    Raises
    ------
    BadArgumentError
        If the law has no such figure, or ``at`` is missing or outside its range.
    """
    strange = (of == "shape" and family == "lognormal") or (
        of == "rate" and family != "exponential"
    )
    if strange:
        raise BadArgumentError(f"of: found {of}, wanted a figure of the {family} law")
    if of == "quantile" and not (at is not None and 0 < at < 1):
        raise BadArgumentError(f"at: found {at}, wanted a share between 0 and 1")
    if of == "reliability" and not (at is not None and 0 < at < math.inf):
        raise BadArgumentError(f"at: found {at}, wanted an age above 0")


def place(family: Family, share: float) -> float:
    """
    Give z by which a share has failed.

    Parameters
    ----------
    family
        The law.
    share
        Share failed. [1]

    Returns
    -------
    float
        z. [1]
    """
    if family == "lognormal":
        return float(scipy.special.ndtri(share))
    return math.log(-math.log1p(-share))


def survival(family: Family, z: float) -> float:
    """
    Give the share still running at z.

    Parameters
    ----------
    family
        The law.
    z
        Place on the scale of the law. [1]

    Returns
    -------
    float
        Share running. [1]
    """
    if family == "lognormal":
        return float(scipy.special.ndtr(-z))
    # Beyond 700 the exponential would leave the floats, long after nothing runs.
    return math.exp(-math.exp(min(z, 700.0)))


def log_density(family: Family, z: float) -> float:
    """
    Give the logarithm of the density at z.

    Parameters
    ----------
    family
        The law.
    z
        Place on the scale of the law. [1]

    Returns
    -------
    float
        Logarithm of the density of z. [1]
    """
    if family == "lognormal":
        return -0.5 * z * z - 0.5 * math.log(2 * math.pi)
    return z - math.exp(min(z, 700.0))
