"""How long do parts last, and do they fail early, by chance, or by wear?"""

from turnscrew.core.fleet.answer import FaultLife, Way
from turnscrew.core.reliability.curves import survival_curve
from turnscrew.core.reliability.fit import LifeFit, Limits, wald_limits
from turnscrew.core.reliability.sums import FleetSums
from turnscrew.core.reliability.weibull import fit_weibull

SURE = 0.9
"""
Level of the limits by which a way of failing is told, whichever limits are shown; a
choice, no source. [1]
"""

FEW_FAILURES = 10
"""Fewest failures of which a way of failing is told; a choice, no source. [1]"""


def life_of(
    model: str,
    sums: FleetSums,
    cause: str,
    *,
    confidence: float = 0.9,
) -> FaultLife:
    """
    Tell the life to the first failure of a cause.

    Parameters
    ----------
    model
        The model.
    sums
        What its units add up to.
    cause
        The cause.
    confidence
        Level of both limits together. [1]

    Returns
    -------
    FaultLife
        Law, limits, curve and way of failing.
    """
    lives = sums.lives(cause)
    fit = fit_weibull(lives)
    return FaultLife(
        model=model,
        cause=cause,
        fit=fit,
        shape=wald_limits(fit, "shape", confidence=confidence),
        tenth=wald_limits(fit, "quantile", at=0.1, confidence=confidence),
        curve=survival_curve(lives, confidence=confidence),
        way=_way(fit, wald_limits(fit, "shape", confidence=SURE)),
        oldest_d=float(sums.ends.age[-1]),
    )


def _way(fit: LifeFit, shape: Limits) -> Way:
    if fit.n_events < FEW_FAILURES or shape.low is None or shape.high is None:
        return "too few to tell"
    if shape.low > 1:
        return "by wear"
    return "early" if shape.high < 1 else "neither shown"
