"""
How far do failures clump on some units of a group?

A unit that fails again and again makes many failures tell less of its group than as
many units with one failure each would.
"""

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike_any

Floats = NDArray[np.float64]


def dispersion_within(
    *,
    failures: ArrayLike,
    squares: ArrayLike,
    by_exposure: ArrayLike,
    exposure: ArrayLike,
    exposure_squares: ArrayLike,
    n_units: ArrayLike,
) -> float:
    """
    Give the dispersion of failures between the units of one group.

    What each unit is off the rate of its own group is squared and added up over all
    groups, and divided by what chance alone would make of that. All is told by sums
    over the units of each group.

    Parameters
    ----------
    failures
        Failures of each group. [1], shape (n_groups,)
    squares
        Failures of a unit squared, added up. [1], shape (n_groups,)
    by_exposure
        Failures of a unit times its exposure, added up. [unit of exposure], shape
        (n_groups,)
    exposure
        Exposure of each group. [unit of exposure], shape (n_groups,)
    exposure_squares
        Exposures of its units squared, added up. [unit of exposure squared], shape
        (n_groups,)
    n_units
        Units of each group. [1], shape (n_groups,)

    Returns
    -------
    float
        The dispersion, at least 1: so many failures tell as much as one. [1]

    Raises
    ------
    BadArgumentError
        If the columns differ in length, or a group has no exposure.

    References
    ----------
    Rao and Scott (1999) for counts divided by a design effect; one dispersion for all
    groups as in quasi-likelihood (McCullagh and Nelder 1989, section 6.2); both from
    memory.
    """
    names = (
        "failures", "squares", "by_exposure", "exposure", "exposure_squares", "n_units",
    )  # fmt: skip
    given = (failures, squares, by_exposure, exposure, exposure_squares, n_units)
    columns = [column(*pair) for pair in zip(names, given, strict=True)]
    lengths = {len(one) for one in columns}
    refuse(
        f"columns: found lengths {sorted(lengths)}, wanted one for all"
        if len(lengths) > 1
        else ""
    )
    n, n2, nt, t, t2, units = columns
    refuse(unlike_any("exposure", t, above=0))
    rate = n / t
    off = n2 - 2 * rate * nt + rate**2 * t2
    # Each group's rate is its own units' mean: that takes one unit's worth off.
    by_chance = n * (1 - 1 / np.maximum(units, 1))
    if not by_chance.sum():
        return 1.0
    return max(1.0, float(off.sum() / by_chance.sum()))


def chance_of_repeats(
    *,
    failures: ArrayLike,
    squares: ArrayLike,
    exposure: ArrayLike,
    exposure_squares: ArrayLike,
) -> float:
    """
    Give the chance that so many failures meet units that have failed already.

    Pairs of failures of the same unit are counted; where all units of a group are
    alike their number is nearly Poisson.

    Parameters
    ----------
    failures
        Failures of each group. [1], shape (n_groups,)
    squares
        Failures of a unit squared, added up. [1], shape (n_groups,)
    exposure
        Exposure of each group. [unit of exposure], shape (n_groups,)
    exposure_squares
        Exposures of its units squared, added up. [unit of exposure squared], shape
        (n_groups,)

    Returns
    -------
    float
        The chance of as many pairs or more. [1]

    Raises
    ------
    BadArgumentError
        If a group has no exposure.

    References
    ----------
    Diaconis and Mosteller (1989) for the Poisson law of coincidences, from memory.
    """
    n, n2 = column("failures", failures), column("squares", squares)
    t, t2 = column("exposure", exposure), column("exposure_squares", exposure_squares)
    refuse(unlike_any("exposure", t, above=0))
    pairs = float((n2 - n).sum()) / 2
    expected = float((n * (n - 1) / 2 * t2 / t**2).sum())
    return 1.0 if pairs <= 0 else float(scipy.special.gammainc(pairs, expected))
