"""
Do mended units whose failures were only counted between ages fail more rarely?

Power law by maximum likelihood from grouped counts.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike, unlike_any

Status = Literal["fitted", "no failure", "too few failures", "no such law"]


@dataclass(frozen=True, slots=True)
class GroupedPowerLaw:
    """
    Power law fitted to counts between ages.

    Parameters
    ----------
    status
        ``fitted``, or why there is no fit; figures are then ``None``. Counts of units
        watched from later than new may fall too fast for any law (``no such law``).
    shape
        Exponent of age, by maximum likelihood. [1]
    rate
        Factor of the law for one unit. [1/unit of age ** shape]
    mtbf
        Mean time between failures of one unit at the last age. [unit of age]
    expected
        Failures expected in each group. [1]
    chi2
        Pearson's distance of counts and expected failures. [1]
    df
        Its degrees of freedom: groups less 2. [1]
    p_value
        Chance of a distance so large if the law holds. [1]
    """

    status: Status
    shape: float | None
    rate: float | None
    mtbf: float | None
    expected: tuple[float, ...]
    chi2: float | None
    df: int
    p_value: float | None


def fit_grouped(
    edges: ArrayLike, counts: ArrayLike, *, n_systems: int = 1
) -> GroupedPowerLaw:
    """
    Fit a power law to failures counted between ages.

    Parameters
    ----------
    edges
        Ages between which was counted, rising, the first 0 or above. [unit of age]
    counts
        Failures of all units in each group, one less than edges. [1]
    n_systems
        Units watched over all these ages. [1]

    Returns
    -------
    GroupedPowerLaw
        The law by maximum likelihood and its distance from the counts.

    Raises
    ------
    BadArgumentError
        If edges do not rise or counts are no whole numbers.

    References
    ----------
    MIL-HDBK-189 (1981), appendix C (grouped data; method from memory).
    """
    at, n = column("edges", edges), column("counts", counts)
    refuse(
        unlike_any("edges", at, least=0),
        unlike_any("counts", n, least=0, is_whole=True),
        unlike("n_systems", n_systems, least=1, is_whole=True),
        "" if len(at) == len(n) + 1 and len(n) > 1
        else f"counts: found {len(n)}, wanted {max(2, len(at) - 1)}",
        *(f"edges, row {row + 2}: found {at[row + 1]:g}, wanted a larger one"
          for row in np.flatnonzero(np.diff(at) <= 0)),
    )  # fmt: skip
    total, top = float(n.sum()), float(at[-1])
    share = at / top
    df = len(n) - 2
    if total < 1 or np.count_nonzero(n) < 2 and (n[0] or n[-1]):
        status: Status = "no failure" if total < 1 else "too few failures"
        return GroupedPowerLaw(status, None, None, None, (), None, df, None)

    shape = _shape_of(n, share)
    if shape is None:
        return GroupedPowerLaw("no such law", None, None, None, (), None, df, None)
    powers = share**shape
    expected = total * np.diff(powers) / (1 - powers[0])
    chi2 = float(((n - expected) ** 2 / expected).sum())
    rate = total / n_systems / (top**shape * (1 - powers[0]))
    return GroupedPowerLaw(
        status="fitted",
        shape=shape,
        rate=rate,
        mtbf=1 / (rate * shape * top ** (shape - 1)),
        expected=tuple(float(one) for one in expected),
        chi2=chi2,
        df=df,
        p_value=float(scipy.special.chdtrc(df, chi2)) if df else None,
    )


def _shape_of(n: NDArray[np.float64], share: NDArray[np.float64]) -> float | None:
    logs = np.log(np.where(share > 0, share, 1.0))

    def lack(log_shape: float) -> float:
        """Give minus the log-likelihood of a shape, its best rate put in."""
        powers = share ** math.exp(log_shape)
        parts = np.diff(powers) / (1 - powers[0])
        return -float(scipy.special.xlogy(n, np.maximum(parts, 1e-300)).sum())

    def score(log_shape: float) -> float:
        powers = share ** math.exp(log_shape)
        moved = powers * logs
        kept = n > 0
        inner = n[kept] @ (np.diff(moved)[kept] / np.diff(powers)[kept])
        return float(inner + n.sum() * moved[0] / (1 - powers[0]))

    # The grid finds the hill, the score its top to the last digit.
    grid = np.linspace(-5, 5, 201)
    near = int(np.argmin([lack(x) for x in grid]))
    if near in (0, len(grid) - 1):
        return None
    found = scipy.optimize.brentq(score, grid[near - 1], grid[near + 1], xtol=1e-15)
    return math.exp(found)
