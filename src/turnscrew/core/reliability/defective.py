"""
Which share of the units has a defect that will stop them, and when does it?

A limited-failure population: a share p is defective and follows a law of lives, the
others never fail of this cause: F(age) = p G(age). Maximum likelihood in logit p, mu
and log sigma with right censoring, ages of entry and weights.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
import scipy

from turnscrew.core.reliability.fit import (
    FEW_EVENTS,
    Limits,
    place,
    refuse_confidence,
    survival,
)
from turnscrew.core.reliability.likelihood import Terms, terms_of
from turnscrew.core.reliability.lives import Floats, Lives
from turnscrew.core.reliability.lognormal import fit_lognormal
from turnscrew.core.reliability.weibull import fit_weibull
from turnscrew.errors import BadArgumentError

DefectFamily = Literal["weibull", "lognormal"]
DefectStatus = Literal[
    "fitted", "no sound share seen", "share not told", "no failures", "no maximum"
]

# Beyond this logit the data cannot tell the share from all.
_ALL = 12.0
_STARTS = (-4.0, -1.5, 0.0, 2.0, 5.0)


@dataclass(frozen=True)
class DefectiveFit:
    """
    A share of defective units and the law of their lives.

    Parameters
    ----------
    family
        The law.
    status
        ``fitted``; ``no sound share seen`` where all being defective is likeliest;
        ``share not told`` where the likelihood is flat in it.
    p_defective
        Share that is defective; ``None`` if not fitted. [1]
    mu
        Place of the law on the logarithm of age; ``None`` if not fitted. [1]
    sigma
        Spread on the logarithm of age; ``None`` if not fitted. [1]
    covariance
        Of logit p, mu and log sigma, from the observed information; ``None`` where the
        share is at its end or not told. [1]
    loglik
        Logarithm of the likelihood; ``None`` if not fitted. [1]
    loglik_all_defective
        The same with all units defective; ``None`` if that has no maximum. [1]
    p_value
        Probability of so large a gain if all were defective: half of chi-squared with
        one degree of freedom, as the share is then at its end; ``None`` if not told.
        [1]
    n_events
        Failures, with their weights. [1]
    """

    family: DefectFamily
    status: DefectStatus
    p_defective: float | None
    mu: float | None
    sigma: float | None
    covariance: tuple[tuple[float, float, float], ...] | None
    loglik: float | None
    loglik_all_defective: float | None
    p_value: float | None
    n_events: float

    @property
    def shape(self) -> float | None:
        """Give the shape of the Weibull; ``None`` for a log-normal. [1]."""
        if self.sigma is None or self.family == "lognormal":
            return None
        return 1 / self.sigma

    @property
    def scale(self) -> float | None:
        """Give exp(mu): 63.2 % life of defective units, or their median. [d]."""
        return None if self.mu is None else math.exp(self.mu)

    @property
    def aic(self) -> float | None:
        """Give the criterion of Akaike with three parameters. [1]."""
        return None if self.loglik is None else 6 - 2 * self.loglik

    def reliability(self, age: float) -> float | None:
        """
        Give the share of all units still running at an age.

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
        if not 0 < age < math.inf:
            raise BadArgumentError(f"age: found {age}, wanted above 0")
        if self.p_defective is None or self.mu is None or self.sigma is None:
            return None
        z = (math.log(age) - self.mu) / self.sigma
        return 1 - self.p_defective * (1 - survival(self.family, z))

    def quantile(self, share: float) -> float | None:
        """
        Give the age by which a share of all units has failed.

        Parameters
        ----------
        share
            Share failed. [1]

        Returns
        -------
        float
            Age; ``None`` if not fitted, or if fewer are defective. [d]

        Raises
        ------
        BadArgumentError
            If the share is not between 0 and 1.
        """
        if not 0 < share < 1:
            raise BadArgumentError(f"share: found {share}, wanted between 0 and 1")
        if self.p_defective is None or self.mu is None or self.sigma is None:
            return None
        if share >= self.p_defective:
            return None
        return math.exp(
            self.mu + self.sigma * place(self.family, share / self.p_defective)
        )


def fit_defective(lives: Lives, *, family: DefectFamily = "weibull") -> DefectiveFit:
    """
    Fit a share of defective units and the law of their lives.

    Parameters
    ----------
    lives
        The lives.
    family
        The law of the defective units.

    Returns
    -------
    DefectiveFit
        Share and law, or why there is none.

    References
    ----------
    W. Q. Meeker, Limited failure population life tests: application to integrated
    circuit reliability, Technometrics 29 (1987).
    """
    d = lives.n_events
    if not d:
        return _unfitted(family, "no failures", d)
    whole = (fit_weibull if family == "weibull" else fit_lognormal)(lives)
    terms = terms_of(lives)
    tops = [_climbed(family, terms, (start, *_first(terms))) for start in _STARTS]
    if whole.mu is not None and whole.sigma is not None:
        near = (3.0, whole.mu, math.log(whole.sigma))
        tops.append(_climbed(family, terms, near))
    at, value = max(tops, key=lambda top: top[1])
    if not math.isfinite(value) or abs(at[2]) > 15:
        return _unfitted(family, "no maximum", d)
    if whole.loglik is not None and (at[0] > _ALL or value <= whole.loglik + 1e-8):
        return DefectiveFit(
            family, "no sound share seen", 1.0, whole.mu, whole.sigma, None,
            whole.loglik, whole.loglik, 1.0, d,
        )  # fmt: skip
    covariance = _covariance(family, terms, at)
    gain = None if whole.loglik is None else 2 * max(value - whole.loglik, 0.0)
    return DefectiveFit(
        family,
        "share not told" if covariance is None else "fitted",
        float(scipy.special.expit(at[0])),
        float(at[1]),
        math.exp(at[2]),
        covariance,
        value,
        whole.loglik,
        None if gain is None else 0.5 * float(scipy.special.chdtrc(1, gain)),
        d,
    )


def defective_share_limits(
    fit: DefectiveFit,
    lives: Lives,
    *,
    confidence: float = 0.95,
    convention: Literal["Wald, log scale", "likelihood ratio"] = "likelihood ratio",
) -> Limits:
    """
    Set limits to the defective share.

    Parameters
    ----------
    fit
        The share and the law.
    lives
        The lives they were fitted to.
    confidence
        Share of such limits that hold the truth. [1]
    convention
        By the standard error of logit p, or by the ratio of likelihoods.

    Returns
    -------
    Limits
        Share and limits; without an upper one where all may be defective.

    Raises
    ------
    BadArgumentError
        If the confidence is not between 0 and 1.
    """
    refuse_confidence(confidence)
    is_sparse = fit.n_events < FEW_EVENTS
    p, low, high = fit.p_defective, None, None
    square = float(scipy.special.chdtri(1, 1 - confidence))
    if p is not None and convention == "Wald, log scale":
        if fit.covariance is not None:
            logit, width = math.log(p / (1 - p)), math.sqrt(square)
            width *= math.sqrt(fit.covariance[0][0])
            low, high = (
                float(scipy.special.expit(logit - width)),
                float(scipy.special.expit(logit + width)),
            )
    elif p is not None:
        low, high = _ratio_ends(fit, terms_of(lives), square / 2)
    return Limits(p, low, high, confidence, convention, is_sparse)


def _unfitted(
    family: DefectFamily, status: DefectStatus, n_events: float
) -> DefectiveFit:
    return DefectiveFit(
        family, status, None, None, None, None, None, None, None, n_events
    )


def _ratio_ends(
    fit: DefectiveFit, terms: Terms, loss: float
) -> tuple[float | None, float | None]:
    assert fit.mu is not None and fit.sigma is not None and fit.loglik is not None
    assert fit.p_defective is not None
    best, rest = fit.loglik, np.array([fit.mu, math.log(fit.sigma)])
    middle = min(math.log(fit.p_defective / max(1 - fit.p_defective, 1e-6)), _ALL)

    def over(logit: float) -> float:
        found = scipy.optimize.minimize(
            lambda x: _both(fit.family, terms, np.array([logit, *x]), 1),
            rest, jac=True, method="BFGS", options={"gtol": 1e-7},
        )  # fmt: skip
        return loss - float(found.fun) - best

    ends: list[float | None] = []
    for side in (-1.0, 1.0):
        step = 0.5
        while abs(middle + side * step) <= 2 * _ALL and over(middle + side * step) > 0:
            step *= 1.6
        far = middle + side * step
        is_endless = abs(far) > 2 * _ALL
        near = middle + side * (step / 1.6 if step > 0.5 else 0.0)
        end = (
            None
            if is_endless
            else float(
                scipy.special.expit(scipy.optimize.brentq(over, near, far, xtol=1e-8))
            )
        )
        ends.append(end)
    return ends[0], ends[1]


def _first(terms: Terms) -> tuple[float, float]:
    """Start from the failures alone: they are the defective ones that were seen."""
    n = float(terms.n_failed.sum())
    mean = float(terms.n_failed @ terms.failed) / n
    spread = float(terms.n_failed @ (terms.failed - mean) ** 2) / n
    return mean + 0.3, 0.5 * math.log(max(spread, 1e-4))


def _climbed(
    family: DefectFamily, terms: Terms, start: tuple[float, float, float]
) -> tuple[Floats, float]:
    found = scipy.optimize.minimize(
        lambda at: _both(family, terms, at, 0), np.array(start), jac=True,
        method="BFGS", options={"gtol": 1e-8, "maxiter": 500},
    )  # fmt: skip
    value = -float(found.fun)
    return np.asarray(found.x), value if math.isfinite(value) else -math.inf


def _both(
    family: DefectFamily, terms: Terms, at: Floats, n_fixed: int
) -> tuple[float, Floats]:
    """Give minus the log-likelihood and its slopes in what is not held."""
    logit, mu = float(np.clip(at[0], -40, 40)), float(at[1])
    log_sigma = float(np.clip(at[2], -20, 20))
    sigma, p = math.exp(log_sigma), float(scipy.special.expit(logit))
    slopes, d = np.zeros(3), float(terms.n_failed.sum())
    value = d * (math.log(p) - log_sigma) - float(terms.n_failed @ terms.failed)
    slopes[0], slopes[2] = d * (1 - p), -d
    z = np.clip((terms.failed - mu) / sigma, -1e8, 600)
    log_density, by_z = _density(family, z)
    value += float(terms.n_failed @ log_density)
    slopes += _chained(terms.n_failed, by_z, z, sigma)
    for x, weight, sign in (
        (terms.running, terms.n_running, 1.0),
        (terms.entered, terms.n_entered, -1.0),
    ):
        z = np.clip((x - mu) / sigma, -1e8, 600)
        failed, density = _failed(family, z)
        left = (1 - p) + p * (1 - failed)
        left = np.maximum(left, 1e-300)
        value += sign * float(weight @ np.log(left))
        slopes[0] -= sign * float(weight @ (failed / left)) * p * (1 - p)
        slopes += sign * _chained(weight, -p * density / left, z, sigma)
    return -value, -slopes[n_fixed:]


def _chained(weight: Floats, by_z: Floats, z: Floats, sigma: float) -> Floats:
    """Give slopes in logit p, mu and log sigma from those in z."""
    return np.array([0.0, -float(weight @ by_z) / sigma, -float(weight @ (by_z * z))])


def _density(family: DefectFamily, z: Floats) -> tuple[Floats, Floats]:
    """Give the logarithm of the density of z, and its slope."""
    if family == "lognormal":
        return -0.5 * z * z - 0.5 * math.log(2 * math.pi), -z
    e = np.exp(z)
    return z - e, 1 - e


def _failed(family: DefectFamily, z: Floats) -> tuple[Floats, Floats]:
    """Give the share failed at z, and its slope."""
    if family == "lognormal":
        # Beyond 40 the density is 0, and its logarithm would end the floats.
        near = np.clip(z, -40, 40)
        return scipy.special.ndtr(z), np.exp(-0.5 * near * near) / math.sqrt(
            2 * math.pi
        )
    e = np.exp(z)
    return -np.expm1(-e), np.exp(np.minimum(z - e, 0.0))


def _covariance(
    family: DefectFamily, terms: Terms, at: Floats
) -> tuple[tuple[float, float, float], ...] | None:
    """Turn the information, from differences of the slopes, into a covariance."""
    step = 1e-5
    rows = []
    for place_of in np.eye(3) * step:
        up = _both(family, terms, at + place_of, 0)[1]
        down = _both(family, terms, at - place_of, 0)[1]
        rows.append((up - down) / (2 * step))
    information: npt.NDArray[np.float64] = np.array(rows)
    information = (information + information.T) / 2
    if np.linalg.eigvalsh(information).min() <= 1e-9:
        return None
    found = np.linalg.inv(information)
    return tuple((float(a), float(b), float(c)) for a, b, c in found)
