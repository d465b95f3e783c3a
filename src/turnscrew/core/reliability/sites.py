"""
Which sites have more failures, or fewer, than chance among all sites makes?

Each site is held against its share of all failures; what varies between sites anyhow
is taken off before one is singled out; all sites count, also those without failures.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any, unlisted
from turnscrew.core.reliability.discoveries import AdjustRule, adjust_p
from turnscrew.core.reliability.prediction import GammaFit, GammaLaw, fit_gamma
from turnscrew.core.reliability.two_counts import Alternative

Floats = NDArray[np.float64]
Against = Literal["all sites", "pooled rate", "target"]
SitePRule = Literal["doubled", "mid-p"]
Spread = Literal["taken off", "left in"]
Verdict = Literal["more", "fewer", "as others", "too few to tell"]

N_LEAST = 5
"""Fewest failures of which a ranking is made; practice, no source. [1]"""

_ALPHA_SPREAD = 0.05
_WINSOR = 0.1


@dataclass(frozen=True, slots=True)
class Site:
    """
    One site among all.

    Parameters
    ----------
    name
        Its name.
    failures
        Failures seen. [1]
    exposure
        Its exposure. [unit of exposure]
    expected
        Failures expected if it were as the others. [1]
    ratio
        Failures by expected ones. [1]
    p_value
        Chance of a result so far off, spread between sites left in. [1]
    p_used
        The same after what varies between sites anyhow was taken off. [1]
    p_adjusted
        The same, adjusted for the number of sites. [1]
    rate
        Rate drawn towards the mean of all. [1/unit of exposure]
    rate_lower
        Lower limit of that rate. [1/unit of exposure]
    rate_upper
        Upper limit of that rate. [1/unit of exposure]
    rank
        Place by that rate, the worst first; ``None`` with fewer than five failures.
    verdict
        What may be said.
    """

    name: str
    failures: int
    exposure: float
    expected: float
    ratio: float
    p_value: float
    p_used: float
    p_adjusted: float
    rate: float
    rate_lower: float
    rate_upper: float
    rank: int | None
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class SiteScreen:
    """
    All sites, and how much they vary together.

    Parameters
    ----------
    status
        ``too few failures``: fewer than five in all, no site is singled out or ranked.
    sites
        The sites in the order given.
    n_failures
        Failures of all. [1]
    rate
        Rate of all, or the target. [1/unit of exposure]
    chi2
        Pearson's distance of the sites from that rate, so many failures as tell as much
        as one counted once. [1]
    df
        Its degrees of freedom. [1]
    p_spread
        Chance of such a distance by chance alone; rough below five expected failures
        a site. [1]
    dispersion
        Distance by degrees of freedom. [1]
    within
        How many failures tell as much as one, as they clump on units. [1]
    dispersion_used
        Distance by degrees of freedom with the outermost tenth on each side drawn in,
        at least 1; what was taken off. [1]
    fit
        Gamma law of the rates.
    against
        What each site is held against.
    p_rule
        How two-sided p-values were made.
    adjust
        How they were adjusted.
    alternative
        The side on which a result counts as far off.
    q
        Level for the adjusted p-values. [1]
    """

    status: Literal["screened", "too few failures"]
    sites: tuple[Site, ...]
    n_failures: int
    rate: float
    chi2: float
    df: int
    p_spread: float
    dispersion: float
    within: float
    dispersion_used: float
    fit: GammaFit
    against: Against
    p_rule: SitePRule
    adjust: AdjustRule
    alternative: Alternative
    q: float


@dataclass(frozen=True, slots=True, eq=False)
class _Rows:
    n: Floats
    t: Floats
    expected: Floats
    within: float
    target: float | None

    @property
    def df(self) -> int:
        return len(self.n) - (self.target is None)

    @property
    def z(self) -> Floats:
        return np.asarray((self.n - self.expected) / np.sqrt(self.expected))


def screen_sites(
    failures: ArrayLike,
    exposure: ArrayLike,
    *,
    names: Sequence[str] = (),
    against: Against = "all sites",
    target_rate: float | None = None,
    p_rule: SitePRule = "doubled",
    alternative: Alternative = "two-sided",
    spread: Spread = "taken off",
    within: float = 1.0,
    adjust: AdjustRule = "bh",
    q: float = 0.05,
    confidence: float = 0.9,
) -> SiteScreen:
    """
    Screen sites for too many or too few failures.

    Parameters
    ----------
    failures
        Failures of each site, 0 included. [1], shape (n_sites,)
    exposure
        Exposure of each site. [unit of exposure], shape (n_sites,)
    names
        Names of the sites; numbers from 1 where none are given.
    against
        ``all sites``: its share of all failures, exact given their total; ``pooled
        rate``: that rate taken as known; ``target``: a rate set beforehand.
    target_rate
        That rate. [1/unit of exposure]
    p_rule
        ``doubled`` or ``mid-p``, both twice the smaller tail.
    alternative
        ``greater`` if only too many failures count.
    spread
        Whether what varies between sites anyhow is taken off when it is proven.
    within
        Dispersion of failures between the units of a site, at least 1: all is reckoned
        as if so many failures were one. [1]
    adjust
        How p-values are adjusted for the number of sites.
    q
        Level for the adjusted p-values. [1]
    confidence
        Level of the limits of the rates. [1]

    Returns
    -------
    SiteScreen
        The sites with verdicts, and their spread.

    Raises
    ------
    BadArgumentError
        If a figure is outside its range, or target and rule do not go together.

    References
    ----------
    Benjamini and Hochberg (1995); Spiegelhalter (2005) for the spread (method from
    memory).
    """
    n, t = column("failures", failures), column("exposure", exposure)
    refuse(*_bad_columns(n, t, names))
    refuse(
        unlike_any("failures", n, least=0, is_whole=True),
        unlike_any("exposure", t, above=0),
        unlisted("against", against, get_args(Against)),
        unlisted("p_rule", p_rule, get_args(SitePRule)),
        unlisted("alternative", alternative, get_args(Alternative)),
        unlisted("spread", spread, get_args(Spread)),
        unlike("within", within, least=1),
        unlike("q", q, above=0, below=1),
        unlike("confidence", confidence, above=0, below=1),
        _bad_target(against, target_rate),
    )
    rate = float(n.sum() / t.sum()) if target_rate is None else target_rate
    expected = np.maximum(rate * t, 1e-300)
    rows = _Rows(n / within, t / within, expected / within, within, target_rate)
    p_values = _p_values(rows, against, p_rule, alternative)
    chi2 = float((rows.z**2).sum()) if n.sum() or target_rate else 0.0
    p_spread = float(scipy.special.chdtrc(rows.df, chi2)) if rows.df else 1.0
    phi = 1.0
    if spread == "taken off" and p_spread < _ALPHA_SPREAD:
        phi = _winsorised(rows)
    used = _widened(p_values, phi, alternative)
    adjusted = adjust_p(used, adjust)
    fit = fit_gamma(n, t)
    return SiteScreen(
        status="screened" if n.sum() >= N_LEAST else "too few failures",
        sites=_sites(rows, names, (p_values, used, adjusted), fit, (q, confidence)),
        n_failures=int(n.sum()),
        rate=rate,
        chi2=chi2,
        df=rows.df,
        p_spread=p_spread,
        dispersion=chi2 / rows.df if rows.df else 1.0,
        within=within,
        dispersion_used=phi,
        fit=fit,
        against=against,
        p_rule=p_rule,
        adjust=adjust,
        alternative=alternative,
        q=q,
    )


def _bad_columns(n: Floats, t: Floats, names: Sequence[str]) -> tuple[str, ...]:
    return (
        "" if len(n) else "failures: found none, wanted at least one site",
        "" if len(t) == len(n) else f"exposure: found {len(t)} rows, wanted {len(n)}",
        ""
        if len(names) in (0, len(n))
        else f"names: found {len(names)}, wanted {len(n)}",
    )


def _bad_target(against: str, target_rate: float | None) -> str:
    if against != "target":
        wanted = f"none where held against {against}"
        return "" if target_rate is None else f"target_rate: found one, wanted {wanted}"
    return unlike("target_rate", target_rate, above=0)


def _p_values(
    rows: _Rows, against: Against, p_rule: SitePRule, alternative: Alternative
) -> Floats:
    n, total = rows.n, float(rows.n.sum())
    if against == "all sites":
        share = rows.t / rows.t.sum()
        at_least = np.where(
            n > 0, scipy.special.betainc(_or_one(n), total - n + 1, share), 1.0
        )
        above = np.where(
            n < total,
            scipy.special.betainc(n + 1, _or_one(total - n), share),
            0.0,
        )
    else:
        at_least = np.where(
            n > 0, scipy.special.gammainc(_or_one(n), rows.expected), 1.0
        )
        above = scipy.special.gammainc(n + 1, rows.expected)
    weight = 0.5 if p_rule == "mid-p" else 1.0
    high = weight * at_least + (1 - weight) * above
    low = weight * (1 - above) + (1 - weight) * (1 - at_least)
    if alternative == "two-sided":
        return np.asarray(np.minimum(1.0, 2 * np.minimum(high, low)))
    made = high if alternative == "greater" else low
    return np.asarray(np.clip(made, 0.0, 1.0))


def _or_one(n: Floats) -> Floats:
    """Give 1 in place of none, where the tail is known anyhow."""
    return np.where(n > 0, n, 1.0)


def _winsorised(rows: _Rows) -> float:
    """Give the dispersion with the outermost sites drawn in."""
    z = np.sort(rows.z)
    k = int(_WINSOR * len(z))
    drawn = np.clip(z, z[k], z[len(z) - 1 - k])
    return max(1.0, float((drawn**2).sum()) / rows.df)


def _widened(p_values: Floats, phi: float, alternative: Alternative) -> Floats:
    if phi == 1.0:
        return p_values
    half = 2.0 if alternative == "two-sided" else 1.0
    z = scipy.special.ndtri(np.clip(p_values, 1e-300, 1.0) / half)
    return np.asarray(np.minimum(1.0, half * scipy.special.ndtr(z / math.sqrt(phi))))


def _limits(rows: _Rows, fit: GammaFit, confidence: float) -> tuple[Floats, ...]:
    law = fit.law
    if law is None:
        # One rate for all: its limits are those of all failures together.
        law = GammaLaw(float(rows.n.sum()) + 0.5, float(rows.t.sum()))
        shape, rate = np.full_like(rows.n, law.shape), np.full_like(rows.n, law.rate)
    else:
        shape, rate = law.shape + rows.n, law.rate + rows.t
    p_out = (1 - confidence) / 2
    return (
        np.asarray(shape / rate),
        np.asarray(scipy.special.gammaincinv(shape, p_out) / rate),
        np.asarray(scipy.special.gammainccinv(shape, p_out) / rate),
    )


def _sites(
    rows: _Rows,
    names: Sequence[str],
    p: tuple[Floats, Floats, Floats],
    fit: GammaFit,
    levels: tuple[float, float],
) -> tuple[Site, ...]:
    q, confidence = levels
    means, lows, highs = _limits(rows, fit, confidence)
    n = np.rint(rows.n * rows.within)
    is_enough = n.sum() >= N_LEAST
    ranked = np.flatnonzero(n >= N_LEAST)
    order = ranked[np.argsort(-means[ranked], kind="stable")]
    rank = {int(site): place + 1 for place, site in enumerate(order)}
    made = []
    for i in range(len(n)):
        observed, expected = float(n[i]), float(rows.expected[i] * rows.within)
        verdict: Verdict = "as others"
        if not is_enough or max(observed, expected) < N_LEAST:
            verdict = "too few to tell"
        elif p[2][i] <= q:
            verdict = "more" if observed > expected else "fewer"
        made.append(
            Site(
                name=names[i] if names else str(i + 1),
                failures=int(observed),
                exposure=float(rows.t[i] * rows.within),
                expected=expected,
                ratio=observed / expected,
                p_value=float(p[0][i]),
                p_used=float(p[1][i]),
                p_adjusted=float(p[2][i]),
                rate=float(means[i]),
                rate_lower=float(lows[i]),
                rate_upper=float(highs[i]),
                rank=rank.get(i),
                verdict=verdict,
            )
        )
    return tuple(made)
