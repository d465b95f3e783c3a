"""
How many failures come while every part that fails is renewed?

A renewed part may fail again within the time looked at. Adding up the hazard of the old
part alone leaves that out: far above the truth where parts wear, below it where they
fail early.
"""

from collections.abc import Callable
from typing import TypeAlias

import numpy as np

from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.reliability.lives import Floats

Failed: TypeAlias = Callable[[Floats], Floats]
"""Gives what has failed for the first time by each of some times. [1]"""


MOST_STEPS = 4_000
"""Steps of one look ahead. [1]"""


def renewals(first: Failed, renewed: Failed, *, days: float, n_steps: int) -> Floats:
    """
    Give the mean number of failures by each of some times.

    Parameters
    ----------
    first
        Mean number of parts in service now that have failed once by a time; of many
        parts their sum.
    renewed
        Chance that a part new at time 0 has failed by a time.
    days
        How far to look ahead. [d]
    n_steps
        Steps to it. [1]

    Returns
    -------
    ndarray
        Mean number of failures after each step, from none at once.
        [1], shape (n_steps + 1,)

    Raises
    ------
    BadArgumentError
        If the time is not above 0, or there is no step.

    References
    ----------
    Xie, "On the solution of renewal-type integral equations", Communications in
    Statistics: Simulation and Computation 18 (1989) 281 to 293 (from memory): the
    equation summed by steps, what has failed taken at the middle of each, so that a
    density without bound at 0 does no harm.
    """
    refuse(
        unlike("days", days, above=0, most=1e9),
        unlike("n_steps", n_steps, least=1, most=MOST_STEPS, is_whole=True),
    )
    step = days / n_steps
    whole: Floats = step * np.arange(1.0, n_steps + 1)
    half: Floats = whole - step / 2
    new = _by_steps(renewed(whole), renewed(half))
    grown, middles = np.diff(new, prepend=0.0), first(half)
    again = np.convolve(middles, grown)[:n_steps]
    return np.concatenate((np.zeros(1), first(whole) + again))


def _by_steps(whole: Floats, half: Floats) -> Floats:
    """Give the mean number of failures of one new part after each step."""
    least, n = 1 - half[0], len(whole)
    grown = np.zeros(n)
    mean = 0.0
    told = np.zeros(n)
    for k in range(n):
        before = float(grown[:k] @ half[k:0:-1]) if k else 0.0
        told[k] = (whole[k] + before - mean * half[0]) / least
        grown[k] = told[k] - mean
        mean = told[k]
    return told
