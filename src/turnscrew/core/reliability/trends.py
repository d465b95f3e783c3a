"""
Is there a trend in the failures of mended units at all?

Tests against failures at a constant rate: by the mean age (Laplace), by the logarithms
of the ages (MIL-HDBK-189), and by the order of the gaps (reverse arrangements).
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import scipy
from numpy.typing import NDArray

from turnscrew.core.reliability.systems import Ages, EndedBy, Systems, Times

_STEEPEST = 1e9
"""Steepest growth looked for, over the whole watch. [1]"""


@dataclass(frozen=True, slots=True)
class TrendTests:
    """
    Three tests of a trend side by side.

    Parameters
    ----------
    n_used
        Failures used; those that ended a watch are left out. [1]
    laplace_z
        Laplace's statistic; below 0 for improvement. ``None`` without failures. [1]
    p_laplace
        Its two-sided p-value. [1]
    mil_chi2
        Twice the sum of ln(end / age); large for improvement. ``None`` if a unit was
        not watched from new. [1]
    df
        Its degrees of freedom. [1]
    p_improvement
        Chance of a larger one without a trend: the upper tail. [1]
    p_deterioration
        Chance of a smaller one: the lower tail. [1]
    p_two_sided
        Twice the smaller tail, at most 1. [1]
    reversals
        Pairs of gaps of one unit of which the later is longer. [1]
    reversal_z
        Their statistic, with a half added for continuity; above 0 for improvement.
        ``None`` if no unit has two gaps. [1]
    termination
        What ended the watch.
    """

    n_used: int
    laplace_z: float | None
    p_laplace: float | None
    mil_chi2: float | None
    df: int
    p_improvement: float | None
    p_deterioration: float | None
    p_two_sided: float | None
    reversals: int
    reversal_z: float | None
    termination: EndedBy


@dataclass(frozen=True, slots=True)
class LogLinear:
    """
    Intensity that grows by the same factor in equal times: exp(g0 + g1 t).

    Parameters
    ----------
    status
        ``fitted``, or why there is no fit; figures are then ``None``.
    g0
        Logarithm of the intensity of one unit when new. [1]
    g1
        Growth of that logarithm. [1/unit of age]
    termination
        What ended the watch.
    """

    status: Literal["fitted", "no failure", "all at the end", "all at the start"]
    g0: float | None
    g1: float | None
    termination: EndedBy


def trend_tests(
    times: Times,
    end: Ages | None = None,
    *,
    start: Ages = 0.0,
    termination: EndedBy = "time",
) -> TrendTests:
    """
    Test whether mended units fail more rarely, or more often, as they age.

    Units are pooled: each is held against its own watch.

    Parameters
    ----------
    times
        Ages at failure of one unit, or those of each of several. [unit of age]
    end
        Age up to which it was watched, one for all or one for each; left out, the last
        failure of each ended it. [unit of age]
    start
        Age from which it was watched. [unit of age]
    termination
        What ended the watch. A failure that ended it is dropped.

    Returns
    -------
    TrendTests
        Statistics with both tails named.

    Raises
    ------
    BadArgumentError
        If an age lies outside its watch.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4; MIL-HDBK-189.
    """
    systems = Systems.of(times, end, start=start, termination=termination)
    inner = systems.inner()
    z = _laplace(inner)
    reversals, reversal_z = _reversals(systems)
    chi2 = None
    if inner.n_failures and not np.any(inner.starts > 0):
        chi2 = 2 * float(np.log(inner.ends[inner.system] / inner.times).sum())
    df = 2 * inner.n_failures
    above = None if chi2 is None else float(scipy.special.chdtrc(df, chi2))
    below = None if chi2 is None else float(scipy.special.chdtr(df, chi2))
    both = None if above is None or below is None else min(1.0, 2 * min(above, below))
    return TrendTests(
        n_used=inner.n_failures,
        laplace_z=z,
        p_laplace=None if z is None else 2 * float(scipy.special.ndtr(-abs(z))),
        mil_chi2=chi2,
        df=df,
        p_improvement=above,
        p_deterioration=below,
        p_two_sided=both,
        reversals=reversals,
        reversal_z=reversal_z,
        termination=termination,
    )


def fit_log_linear(
    times: Times,
    end: Ages | None = None,
    *,
    start: Ages = 0.0,
    termination: EndedBy = "time",
) -> LogLinear:
    """
    Fit an intensity that grows or falls exponentially with age.

    Parameters
    ----------
    times
        Ages at failure of one unit, or those of each of several. [unit of age]
    end
        Age up to which it was watched; left out, the last failure of each ended it.
        [unit of age]
    start
        Age from which it was watched. [unit of age]
    termination
        What ended the watch.

    Returns
    -------
    LogLinear
        The law by maximum likelihood.

    Raises
    ------
    BadArgumentError
        If an age lies outside its watch.

    References
    ----------
    Ascher and Feingold (1984); Meeker and Escobar (1998), chapter 16.
    """
    systems = Systems.of(times, end, start=start, termination=termination)
    n = systems.n_failures
    if n == 0:
        return LogLinear("no failure", None, None, termination)
    top = float(systems.ends.max())
    ends, starts = systems.ends / top, systems.starts / top
    mean = float(systems.times.mean()) / top

    def score(g: float) -> float:
        return mean - _mean_age(g, starts, ends)

    low, high = -1.0, 1.0
    while score(low) < 0 and low > -_STEEPEST:
        low *= 2
    while score(high) > 0 and high < _STEEPEST:
        high *= 2
    if score(high) > 0:
        return LogLinear("all at the end", None, None, termination)
    if score(low) < 0:
        return LogLinear("all at the start", None, None, termination)
    g = float(scipy.optimize.brentq(score, low, high, xtol=1e-14, rtol=1e-14))
    # Counted from the end or the start where the intensity is highest.
    begin = float(starts.min())
    base = ends - 1 if g > 0 else starts - begin
    total = float((np.exp(g * base) * _span(-abs(g), ends - starts)).sum())
    g0 = math.log(n / (total * top)) - (g if g > 0 else g * begin)
    return LogLinear("fitted", g0, g / top, termination)


def _span(g: float, lengths: NDArray[np.float64]) -> NDArray[np.float64]:
    """Integrate exp(g t) over lengths from 0."""
    if abs(g) < 1e-9:
        return lengths * (1 + g * lengths / 2)
    return np.asarray(np.expm1(g * lengths) / g)


def _mean_age(
    g: float, starts: NDArray[np.float64], ends: NDArray[np.float64]
) -> float:
    """Give the mean age of failures of such an intensity."""
    lengths = ends - starts
    # Counted from the latest end where the intensity grows, so that nothing overflows.
    base = ends - ends.max() if g > 0 else starts - starts.min()
    weights = np.exp(g * base) * _span(-abs(g), lengths)
    x = g * lengths
    small = np.abs(x) < 1e-4
    safe = np.where(small, 1.0, x)
    # Mean place within the watch, from 0 to 1; a series where the form cancels.
    far = np.clip(safe, -700, 700)
    place = np.where(small, 0.5 + x / 12, 1 / -np.expm1(-far) - 1 / safe)
    return float(weights @ (starts + lengths * place) / weights.sum())


def _laplace(inner: Systems) -> float | None:
    if not inner.n_failures:
        return None
    low, high = inner.starts[inner.system], inner.ends[inner.system]
    off = float((inner.times - (low + high) / 2).sum())
    return off / math.sqrt(float(((high - low) ** 2).sum()) / 12)


def _reversals(systems: Systems) -> tuple[int, float | None]:
    """Count, over all units, the pairs of gaps of which the later is longer."""
    first = np.append(True, systems.system[1:] != systems.system[:-1])
    first = first[: systems.n_failures]
    before = np.append(0.0, systems.times[:-1])[: systems.n_failures]
    gaps = systems.times - np.where(first, systems.starts[systems.system], before)
    sizes = np.bincount(systems.system, minlength=systems.n_systems).astype(float)
    mean = float((sizes * (sizes - 1) / 4).sum())
    variance = float(((2 * sizes + 5) * (sizes - 1) * sizes / 72).sum())
    n_pairs = _n_rising(gaps, systems.system)
    if variance <= 0:
        return n_pairs, None
    return n_pairs, (n_pairs - mean + 0.5) / math.sqrt(variance)


def _n_rising(gaps: NDArray[np.float64], system: NDArray[np.intp]) -> int:
    """Count the rising pairs within each unit, by merging blocks of double length."""
    n = len(gaps)
    if n < 2:
        return 0
    ranks = np.unique(gaps, return_inverse=True)[1].astype(np.int64)
    # Units lie one after another; a unit is set wholly above those after it, so that
    # no pair of two units rises.
    ranks += (int(system[-1]) - system.astype(np.int64)) * (n + 1)
    ranks = np.unique(ranks, return_inverse=True)[1].astype(np.int64)
    place = np.arange(n)
    total, width = 0, 1
    while width < n:
        pair, is_right = place // (2 * width), (place // width) % 2 == 1
        left = np.sort(pair[~is_right] * (n + 1) + ranks[~is_right])
        right = pair[is_right]
        found = np.searchsorted(left, right * (n + 1) + ranks[is_right], side="left")
        total += int((found - right * width).sum())
        width *= 2
    return total
