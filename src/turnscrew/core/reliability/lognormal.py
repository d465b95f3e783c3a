"""
Which log-normal law do these lives follow?

Maximum likelihood in the mean and the logarithm of the spread of log age, by steps of
Newton that are shortened until they climb.
"""

import math

import numpy as np

from turnscrew.core.reliability.fit import LifeFit
from turnscrew.core.reliability.likelihood import Slopes, Terms, slopes, terms_of
from turnscrew.core.reliability.lives import Lives
from turnscrew.core.reliability.weibull import inverse, risk_set_of, unfitted

_MOST_STEPS = 200
_LARGEST_STEP = 1.0


def fit_lognormal(lives: Lives) -> LifeFit:
    """
    Fit a log-normal law.

    Parameters
    ----------
    lives
        The lives, part of them censored or watched from a later age.

    Returns
    -------
    LifeFit
        The law; without figures if there is no failure, if all failures are at the last
        age, or if no law is likeliest.

    References
    ----------
    J. F. Lawless, Statistical Models and Methods for Lifetime Data, 2nd ed. (2003),
    section 5.3.
    """
    if not lives.n_events:
        return unfitted("lognormal", "no failures", lives)
    last = float(lives.exit.max())
    if not (lives.is_event & (lives.exit < last)).any():
        return unfitted("lognormal", "failures at the last age", lives)
    terms = terms_of(lives)
    found = _climbed(terms)
    if found is None:
        return unfitted("lognormal", "no maximum", lives)
    mu, log_sigma, at = found
    information = (
        (-at.mu_mu, -at.mu_log_sigma),
        (-at.mu_log_sigma, -at.log_sigma_log_sigma),
    )
    return LifeFit(
        "lognormal",
        "fitted",
        mu,
        math.exp(log_sigma),
        inverse(information),
        at.value,
        lives.n_units,
        lives.n_events,
        risk_set_of(lives),
    )


def _climbed(terms: Terms) -> tuple[float, float, Slopes] | None:
    """Climb from the mean and spread of all logarithms to the likeliest law."""
    x = np.concatenate((terms.failed, terms.running))
    n = np.concatenate((terms.n_failed, terms.n_running))
    mu = float(n @ x / n.sum())
    log_sigma = 0.5 * math.log(float(n @ (x - mu) ** 2 / n.sum()) + 1e-12)
    at = slopes("lognormal", terms, mu, log_sigma)
    for _ in range(_MOST_STEPS):
        by_mu, by_s = _step(at, math.exp(log_sigma))
        gain = by_mu * at.by_mu + by_s * at.by_log_sigma
        if _is_top(at) and abs(gain) < 1e-13 * max(1.0, abs(at.value)):
            return mu, log_sigma, at
        share = 1.0
        found = slopes("lognormal", terms, mu + by_mu, log_sigma + by_s)
        while not found.value > at.value and share > 1e-9:
            share /= 2
            found = slopes(
                "lognormal", terms, mu + share * by_mu, log_sigma + share * by_s
            )
        if not found.value > at.value:
            return (mu, log_sigma, at) if _is_top(at) and abs(gain) < 1e-6 else None
        mu, log_sigma, at = mu + share * by_mu, log_sigma + share * by_s, found
    return None


def _is_top(at: Slopes) -> bool:
    size = at.mu_mu * at.log_sigma_log_sigma - at.mu_log_sigma**2
    return at.mu_mu < 0 and size > 0


def _step(at: Slopes, sigma: float) -> tuple[float, float]:
    """Give Newton's step; where the likelihood is not bent down, one uphill."""
    if _is_top(at):
        size = at.mu_mu * at.log_sigma_log_sigma - at.mu_log_sigma**2
        by_mu = at.mu_log_sigma * at.by_log_sigma - at.log_sigma_log_sigma * at.by_mu
        by_s = at.mu_log_sigma * at.by_mu - at.mu_mu * at.by_log_sigma
        by_mu, by_s = by_mu / size, by_s / size
    else:
        # Slopes per spread, so that the step does not hang on the unit.
        by_mu, by_s = sigma**2 * at.by_mu, at.by_log_sigma
    longest = max(abs(by_mu) / sigma, abs(by_s), _LARGEST_STEP)
    return by_mu / longest * _LARGEST_STEP, by_s / longest * _LARGEST_STEP
