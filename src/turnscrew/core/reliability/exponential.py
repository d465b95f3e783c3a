"""
Which constant rate do these lives follow?

The rate is the failures divided by the time watched, sum(exit - entry): ages of entry
and censoring need nothing more.
"""

import math

import numpy as np

from turnscrew.core.reliability.fit import LifeFit
from turnscrew.core.reliability.lives import Lives
from turnscrew.core.reliability.weibull import risk_set_of


def watched(lives: Lives) -> float:
    """
    Sum the time the lives were watched.

    Parameters
    ----------
    lives
        The lives.

    Returns
    -------
    float
        Time, with the weights. [d]
    """
    spans = lives.exit if lives.entry is None else lives.exit - lives.entry
    if lives.weight is not None:
        spans = spans * lives.weight
    return float(np.sum(spans))


def fit_exponential(lives: Lives) -> LifeFit:
    """
    Fit a law of constant rate.

    Parameters
    ----------
    lives
        The lives, part of them censored or watched from a later age.

    Returns
    -------
    LifeFit
        The law; without failures its rate is 0 and it has no scale.

    References
    ----------
    J. F. Lawless, Statistical Models and Methods for Lifetime Data, 2nd ed. (2003),
    section 4.1.
    """
    d, time = lives.n_events, watched(lives)
    mu = loglik = sigma = covariance = None
    if d:
        mu, sigma = math.log(time / d), 1.0
        loglik = -d * mu - d
        covariance = ((1 / d, 0.0), (0.0, 0.0))
    return LifeFit(
        "exponential",
        "fitted" if d else "no failures",
        mu,
        sigma,
        covariance,
        loglik,
        lives.n_units,
        d,
        risk_set_of(lives),
    )
