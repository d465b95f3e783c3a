"""
How far may a figure of a fitted law go before the data speak against it?

Limits by the ratio of likelihoods: the figure is moved away from its estimate, the rest
of the law is fitted anew, and the limit is where twice the loss of log-likelihood
reaches the quantile of chi-squared with one degree of freedom.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import cast

import numpy as np
import scipy

from turnscrew.core.reliability.fit import (
    FEW_EVENTS,
    Family,
    LifeFit,
    Limits,
    Quantity,
    place,
    refuse_confidence,
    refuse_strange,
    survival,
)
from turnscrew.core.reliability.lives import Flags, Floats, Lives

# A limit farther off than by the factor e^20 is none; beyond, the floats lose the ages.
_FARTHEST = 20.0
_MOST_STEPS = 60
_HALF_LOG_TAU = 0.5 * math.log(2 * math.pi)


@dataclass(frozen=True)
class Terms:
    """
    Lives as terms of a log-likelihood on the logarithm of age.

    Parameters
    ----------
    failed
        Logarithms of the ages at failure. [1]
    n_failed
        What each of them weighs. [1]
    running
        Logarithms of the ages of those still running. [1]
    n_running
        What each of them weighs. [1]
    entered
        Logarithms of the ages of entry above 0. [1]
    n_entered
        What each of them weighs. [1]
    """

    failed: Floats
    n_failed: Floats
    running: Floats
    n_running: Floats
    entered: Floats
    n_entered: Floats


@dataclass(frozen=True)
class Slopes:
    """
    A log-likelihood at one place, with its slopes in mu and log sigma.

    Parameters
    ----------
    value
        Log-likelihood. [1]
    by_mu
        Slope in mu. [1]
    by_log_sigma
        Slope in log sigma. [1]
    mu_mu
        Second slope in mu. [1]
    mu_log_sigma
        Second slope in both. [1]
    log_sigma_log_sigma
        Second slope in log sigma. [1]
    """

    value: float
    by_mu: float
    by_log_sigma: float
    mu_mu: float
    mu_log_sigma: float
    log_sigma_log_sigma: float


def terms_of(lives: Lives) -> Terms:
    """
    Sort lives into terms, equal ones counted once.

    Parameters
    ----------
    lives
        The lives.

    Returns
    -------
    Terms
        The terms.
    """
    weight = np.ones(lives.n_rows) if lives.weight is None else lives.weight
    event = lives.is_event
    nothing = np.empty(0)
    entered, n_entered = nothing, nothing
    if lives.entry is not None:
        entered, n_entered = _counted(lives.entry, weight, lives.entry > 0)
    failed, n_failed = _counted(lives.exit, weight, event)
    running, n_running = _counted(lives.exit, weight, ~event)
    return Terms(failed, n_failed, running, n_running, entered, n_entered)


def slopes(family: Family, terms: Terms, mu: float, log_sigma: float) -> Slopes:
    """
    Give the log-likelihood and its slopes.

    Parameters
    ----------
    family
        The law.
    terms
        The lives.
    mu
        Place. [1]
    log_sigma
        Logarithm of the spread. [1]

    Returns
    -------
    Slopes
        Value, first and second slopes.
    """
    sigma = math.exp(log_sigma)
    d = float(terms.n_failed.sum())
    total = np.zeros(6)
    for x, weight, kind, sign in (
        (terms.failed, terms.n_failed, _density, 1.0),
        (terms.running, terms.n_running, _survival, 1.0),
        (terms.entered, terms.n_entered, _survival, -1.0),
    ):
        if len(x):
            # Farther out the floats end; nothing likely lies there.
            z = np.clip((x - mu) / sigma, -1e40, 300.0)
            total += sign * _gathered(z, weight, kind(family, z), sigma)
    total[0] -= d * log_sigma + float(terms.n_failed @ terms.failed)
    total[2] -= d
    return Slopes(*(float(one) for one in total))


def ratio_limits(
    fit: LifeFit,
    lives: Lives,
    of: Quantity,
    *,
    at: float | None = None,
    confidence: float = 0.95,
) -> Limits:
    """
    Set limits by the ratio of likelihoods.

    Parameters
    ----------
    fit
        The fitted law.
    lives
        The lives it was fitted to.
    of
        The figure.
    at
        Share failed [1] for a quantile, age [d] for the reliability.
    confidence
        Share of such limits that hold the truth. [1]

    Returns
    -------
    Limits
        Figure and limits; a side on which the data set no limit is ``None``.

    Raises
    ------
    BadArgumentError
        If the law has no such figure, or a number is outside its range.
    """
    refuse_confidence(confidence)
    refuse_strange(fit.family, of, at)
    is_sparse = fit.n_events < FEW_EVENTS
    if fit.mu is None or fit.sigma is None or fit.loglik is None:
        return Limits(None, None, None, confidence, "likelihood ratio", is_sparse)
    loss = 0.5 * float(scipy.special.chdtri(1, 1 - confidence))
    terms = terms_of(lives)
    best = slopes(fit.family, terms, fit.mu, math.log(fit.sigma)).value
    profile, start, step, turn = _profile(fit, terms, of, at)

    def over(psi: float) -> float:
        return profile(psi) - best + loss

    ends = [_end(over, start, -step), _end(over, start, step)]
    told = [None if end is None else turn(end) for end in ends]
    # A rate, a shape and the reliability fall where what is moved rises.
    if turn(start + step) < turn(start):
        told.reverse()
    return Limits(
        turn(start), told[0], told[1], confidence, "likelihood ratio", is_sparse
    )


Profile = tuple[Callable[[float], float], float, float, Callable[[float], float]]


def _profile(fit: LifeFit, terms: Terms, of: Quantity, at: float | None) -> Profile:
    """Give the profile in one figure, its start, a step, and the way back from it."""
    assert fit.mu is not None and fit.sigma is not None
    log_sigma = math.log(fit.sigma)
    if of in ("shape", "sigma"):
        side = 1.0 if of == "sigma" else -1.0
        error = fit.standard_error("sigma") or 0.0
        return (
            partial(_over_mu, fit.family, terms, fit.mu),
            log_sigma,
            error / fit.sigma,
            lambda s: math.exp(side * s),
        )
    if of == "reliability":
        assert at is not None
        x, z = math.log(at), (math.log(at) - fit.mu) / fit.sigma
        by_z = lambda psi: _over_sigma(fit, terms, x, psi, log_sigma)  # noqa: E731
        error = fit._z(at)[1]
        return by_z, z, error, lambda psi: survival(fit.family, psi)
    z = place(fit.family, at) if of == "quantile" and at is not None else 0.0
    by_x = lambda psi: _over_sigma(fit, terms, psi, z, log_sigma)  # noqa: E731
    turns: dict[str, Callable[[float], float]] = {
        "mu": lambda psi: psi,
        "rate": lambda psi: math.exp(-psi),
    }
    error = fit._log("quantile" if of == "quantile" else "scale", at)[1]
    return by_x, fit.mu + fit.sigma * z, error, turns.get(of, math.exp)


def _over_sigma(
    fit: LifeFit, terms: Terms, x: float, z: float, log_sigma: float
) -> float:
    """Give the best log-likelihood of all laws that go through z at x."""

    def along(s: float) -> tuple[float, float, float]:
        sigma = math.exp(s)
        bend = -sigma * z
        at = slopes(fit.family, terms, x - sigma * z, s)
        slope = at.by_mu * bend + at.by_log_sigma
        second = at.mu_mu * bend**2 + at.by_mu * bend
        second += 2 * at.mu_log_sigma * bend + at.log_sigma_log_sigma
        return at.value, slope, second

    if fit.family == "exponential":
        # The exponential has no spread to fit: where z is moved, mu follows.
        return slopes("exponential", terms, x - z, 0.0).value
    return _top(along, log_sigma)


def _over_mu(family: Family, terms: Terms, start: float, log_sigma: float) -> float:
    """Give the best log-likelihood of all laws of one spread."""

    def along(mu: float) -> tuple[float, float, float]:
        at = slopes(family, terms, mu, log_sigma)
        return at.value, at.by_mu, at.mu_mu

    if family == "weibull":
        return _top(along, _weibull_mu(terms, math.exp(log_sigma)))
    return _top(along, start)


def _weibull_mu(terms: Terms, sigma: float) -> float:
    """Give the likeliest mu of a Weibull of known shape, which is closed."""
    groups = (
        (terms.failed, terms.n_failed, 1.0),
        (terms.running, terms.n_running, 1.0),
        (terms.entered, terms.n_entered, -1.0),
    )
    ref = max(float(x.max()) for x, _, _ in groups if len(x))
    # Less 1 each, so that late entries take nothing from small differences.
    total = sum(side * float(n @ np.expm1((x - ref) / sigma)) for x, n, side in groups)
    total += sum(side * float(n.sum()) for _, n, side in groups)
    # Under the smallest of floats the place no longer counts.
    return ref + sigma * math.log(max(total, 1e-300) / float(terms.n_failed.sum()))


def _top(along: Callable[[float], tuple[float, float, float]], start: float) -> float:
    """Climb to the top of a curve: by Newton's steps as long as they climb."""
    at = start
    value, slope, second = along(at)
    for _ in range(_MOST_STEPS):
        step = -slope / second if second < 0 else math.copysign(0.5, slope)
        step = min(max(step, -1.0), 1.0)
        # At the top the gain is below what the floats can tell.
        if abs(step * slope) < 1e-12 * max(1.0, abs(value)):
            return value
        found = along(at + step)
        while not found[0] > value and abs(step) > 1e-9:
            step /= 2
            found = along(at + step)
        if not found[0] > value:
            return value
        at, (value, slope, second) = at + step, found
    best = scipy.optimize.minimize_scalar(
        lambda s: -along(s)[0], bounds=(start - 8, start + 8), method="bounded"
    )
    return max(value, -float(best.fun))


def _end(over: Callable[[float], float], start: float, step: float) -> float | None:
    """Find where the profile has lost too much; ``None`` if it never does."""
    if not step:
        # What a law holds fixed has no limits but itself.
        return start
    near, far = start, start + step
    while over(far) > 0:
        step *= 1.6
        near, far = far, far + step
        if abs(far - start) > _FARTHEST:
            return None
    return cast(
        float,
        scipy.optimize.brentq(over, near, far, xtol=1e-9 * abs(far - near), rtol=1e-14),
    )


def _counted(ages: Floats, weight: Floats, keeps: Flags) -> tuple[Floats, Floats]:
    """Give the logarithms of different ages, and what each weighs."""
    chosen, place_of = np.unique(ages[keeps], return_inverse=True)
    n_each = np.bincount(place_of, weight[keeps], minlength=len(chosen))
    return np.log(chosen), n_each.astype(np.float64)


def _gathered(
    z: Floats, weight: Floats, terms: tuple[Floats, Floats, Floats], sigma: float
) -> Floats:
    """Sum a term and its slopes in mu and log sigma from its slopes in z."""
    s = float
    g, g1, g2 = terms
    slope, slope_z = s(weight @ g1), s(weight @ (z * g1))
    bend, bend_z = s(weight @ g2), s(weight @ (z * g2))
    bend_zz = s(weight @ (z * z * g2))
    return np.array([
        s(weight @ g),
        -slope / sigma,
        -slope_z,
        bend / sigma**2,
        (slope + bend_z) / sigma,
        slope_z + bend_zz,
    ])  # fmt: skip


def _density(family: Family, z: Floats) -> tuple[Floats, Floats, Floats]:
    """Give the logarithm of the density and its slopes in z."""
    if family == "lognormal":
        return -0.5 * z * z - _HALF_LOG_TAU, -z, -np.ones_like(z)
    e = np.exp(z)
    return z - e, 1 - e, -e


def _survival(family: Family, z: Floats) -> tuple[Floats, Floats, Floats]:
    """Give the logarithm of the share running and its slopes in z."""
    if family == "lognormal":
        # The hazard of the normal law, without loss far out on either side.
        hazard = np.where(
            z > -5,
            math.sqrt(2 / math.pi)
            / scipy.special.erfcx(np.maximum(z, -5) / math.sqrt(2)),
            0,
        )
        low = z <= -5
        hazard[low] = np.exp(
            -0.5 * z[low] ** 2 - _HALF_LOG_TAU - scipy.special.log_ndtr(-z[low])
        )
        return scipy.special.log_ndtr(-z), -hazard, -hazard * (hazard - z)
    e = np.exp(z)
    return -e, -e, -e
