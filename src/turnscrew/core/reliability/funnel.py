"""Between which counts does a site of given expectation lie by chance alone?"""

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from turnscrew.core.model.wanted import column, refuse, unlike_any


def funnel_limits(
    expected: ArrayLike, p: ArrayLike, *, is_interpolated: bool = True
) -> NDArray[np.float64]:
    """
    Give control limits of Poisson counts for a funnel plot.

    Parameters
    ----------
    expected
        Events expected at each site against a fixed target. [1], shape (n_sites,)
    p
        Tail probabilities, such as 0.025 and 0.975 for 95 %, 0.001 and 0.999 for
        99.8 %. [1], shape (n_limits,)
    is_interpolated
        Whether the limit is moved into the last count by (F(r) - p) / f(r); a limit
        below 0 is then left to be clipped by whoever draws it.

    Returns
    -------
    numpy.ndarray
        Limits in counts. [1], shape (n_sites, n_limits)

    Raises
    ------
    BadArgumentError
        If a figure is outside its range.

    References
    ----------
    Spiegelhalter (2005), doi 10.1002/sim.1970 (method from memory).
    """
    means, tails = column("expected", expected), column("p", p)
    refuse(
        unlike_any("expected", means, above=0),
        unlike_any("p", tails, above=0, below=1),
    )
    mean, tail = means[:, None], tails[None, :]
    count = _quantiles(mean, tail)
    if not is_interpolated:
        return count
    at_most = scipy.special.gammaincc(count + 1, mean)
    log_p = scipy.special.xlogy(count, mean) - mean - scipy.special.gammaln(count + 1)
    return np.asarray(count - (at_most - tail) / np.exp(log_p))


def _quantiles(
    mean: NDArray[np.float64], tail: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the least count whose chance of not being exceeded reaches the tail."""
    slack = 1e-13
    low = np.full(np.broadcast_shapes(mean.shape, tail.shape), -1.0)
    far = mean + 40 * np.sqrt(mean) + 100
    high = np.broadcast_to(np.ceil(far), low.shape).copy()
    while np.any(high - low > 1):
        middle = np.floor((low + high) / 2)
        is_reached = scipy.special.gammaincc(middle + 1, mean) >= tail - slack
        is_inside = high - low > 1
        high = np.where(is_inside & is_reached, middle, high)
        low = np.where(is_inside & ~is_reached, middle, low)
    return high
