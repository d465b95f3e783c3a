"""Which of many p-values still stand when all that were looked at are counted?"""

from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike_any, unlisted

AdjustRule = Literal["none", "bh", "by", "bonferroni", "holm", "hochberg"]


def adjust_p(p_values: ArrayLike, rule: AdjustRule = "bh") -> NDArray[np.float64]:
    """
    Adjust p-values for the number of tests.

    All tests made must be given, also those in which nothing was seen.

    Parameters
    ----------
    p_values
        One p-value for each test. [1], shape (n_tests,)
    rule
        ``bh`` and ``by`` hold the share of false findings (``by`` under any
        dependence); ``bonferroni``, ``holm`` and ``hochberg`` the chance of a single
        one.

    Returns
    -------
    numpy.ndarray
        Adjusted p-values, in the order given: a test stands if its own is not above
        the level. [1], shape (n_tests,)

    Raises
    ------
    BadArgumentError
        If a p-value is outside 0 to 1 or the rule unknown.

    References
    ----------
    Benjamini and Hochberg (1995); the others are common practice.
    """
    p = column("p_values", p_values)
    refuse(
        unlike_any("p_values", p, least=0, most=1),
        unlisted("rule", rule, get_args(AdjustRule)),
    )
    m = len(p)
    if rule == "none" or not m:
        return p.copy()
    if rule == "bonferroni":
        return np.minimum(p * m, 1.0)
    order = np.argsort(p, kind="stable")
    ranks = np.arange(1, m + 1)
    made = p[order] * _factors(rule, ranks, m)
    if rule == "holm":
        made = np.maximum.accumulate(made)
    else:
        made = np.minimum.accumulate(made[::-1])[::-1]
    adjusted = np.empty(m)
    adjusted[order] = np.minimum(made, 1.0)
    return adjusted


def _factors(rule: AdjustRule, ranks: NDArray[np.intp], m: int) -> NDArray[np.float64]:
    if rule in ("holm", "hochberg"):
        return np.asarray(m - ranks + 1.0, dtype=np.float64)
    extra = float((1 / ranks).sum()) if rule == "by" else 1.0
    return np.asarray(extra * m / ranks, dtype=np.float64)
