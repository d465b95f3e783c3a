"""Which law of lives fits best, and by how much?"""

from dataclasses import dataclass
from typing import Literal

from turnscrew.core.reliability.exponential import fit_exponential
from turnscrew.core.reliability.fit import Family, LifeFit
from turnscrew.core.reliability.lives import Lives
from turnscrew.core.reliability.lognormal import fit_lognormal
from turnscrew.core.reliability.weibull import fit_weibull
from turnscrew.errors import BadArgumentError

Criterion = Literal["aic", "bic", "loglik"]

ALIKE = 2.0
"""Laws whose criterion is nearer than this are told as alike. [practice]"""

_FITS = {
    "exponential": fit_exponential,
    "weibull": fit_weibull,
    "lognormal": fit_lognormal,
}


@dataclass(frozen=True)
class RankedFit:
    """
    One law among several.

    Parameters
    ----------
    fit
        The law.
    behind
        How much worse its criterion is than the best; ``None`` if it was not fitted.
        [1]
    """

    fit: LifeFit
    behind: float | None


@dataclass(frozen=True)
class BestFit:
    """
    The laws, best first.

    Parameters
    ----------
    by
        What they were ranked by. The log-likelihood alone favours laws with more
        parameters; all three hang on the unit of age, their differences do not.
    ranked
        The laws that were fitted, best first, then the others.
    is_clear
        Whether no other law is nearly as good.
    """

    by: Criterion
    ranked: tuple[RankedFit, ...]
    is_clear: bool

    @property
    def best(self) -> LifeFit | None:
        """Give the best law; ``None`` if none was fitted."""
        first = self.ranked[0]
        return None if first.behind is None else first.fit


def best_life_fit(
    lives: Lives,
    *,
    families: tuple[Family, ...] = ("exponential", "weibull", "lognormal"),
    by: Criterion = "aic",
) -> BestFit:
    """
    Fit several laws and rank them.

    Parameters
    ----------
    lives
        The lives.
    families
        The laws to try.
    by
        What to rank by.

    Returns
    -------
    BestFit
        The laws, best first.

    Raises
    ------
    BadArgumentError
        If there is no law to try.
    """
    if not families:
        raise BadArgumentError("families: found none, wanted at least one law")
    fits = [_FITS[family](lives) for family in families]
    scored = [(score, fit) for fit in fits if (score := _score(fit, by)) is not None]
    scored.sort(key=lambda one: one[0])
    ranked = [RankedFit(fit, score - scored[0][0]) for score, fit in scored]
    ranked += [RankedFit(fit, None) for fit in fits if fit.loglik is None]
    gap = ranked[1].behind if len(scored) > 1 else None
    is_clear = bool(scored) and (gap is None or gap > _alike(by))
    return BestFit(by, tuple(ranked), is_clear)


def _score(fit: LifeFit, by: Criterion) -> float | None:
    """Give what is best when it is least."""
    if by == "loglik":
        return None if fit.loglik is None else -fit.loglik
    return fit.aic if by == "aic" else fit.bic


def _alike(by: Criterion) -> float:
    return ALIKE / 2 if by == "loglik" else ALIKE
