"""
How far do real times spread about the usual, and how is that known?

Method: the pooled standard deviation of the logarithms of whole jobs' minutes about the
mean of their model; repair times are most commonly taken as lognormal (MIL-HDBK-338B,
maintainability). Jobs of one model with different faults differ too, so the figure is
rather wide than narrow.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log, sqrt
from typing import Literal

from turnscrew.core.model.amounts import counted

ENOUGH = 20
"""Degrees of freedom from which own times tell; a choice, no source. [1]"""

WIDER = 1.5
"""The terms' figure is taken times this without own times; a choice, no source. [1]"""


@dataclass(frozen=True)
class Spread:
    """
    How far real times spread.

    Parameters
    ----------
    sd
        Standard deviation of the logarithm of real times. [1]
    known_by
        Whether own times say it, or the terms' figure made wider.
    n_jobs
        Whole jobs it rests on. [1]
    """

    sd: float
    known_by: Literal["own times", "terms, made wider"]
    n_jobs: int

    def __str__(self) -> str:
        """Say which figure it is."""
        jobs = counted(self.n_jobs, "job")
        if self.known_by == "own times":
            return f"times spread by own times of {jobs}, {self.sd:.2f}"
        return (
            f"too few own times of like jobs ({jobs}): the figure of the terms made "
            f"wider, {self.sd:.2f}"
        )


def spread_of(own_min: Mapping[str, Sequence[float]], agreed: float) -> Spread:
    """
    Give the spread to play a plan with.

    Parameters
    ----------
    own_min
        Minutes of whole jobs, by model. [min]
    agreed
        Standard deviation of the logarithm that the terms say. [1]

    Returns
    -------
    Spread
        By own times where there are enough; else the terms' figure, made wider.
    """
    groups = [[log(one) for one in some if one > 0] for some in own_min.values()]
    # One job of a model tells nothing of how such jobs differ.
    groups = [logs for logs in groups if len(logs) > 1]
    n_jobs = sum(len(logs) for logs in groups)
    freedom = n_jobs - len(groups)
    if freedom < ENOUGH:
        return Spread(agreed * WIDER, "terms, made wider", n_jobs)
    squares = sum((one - sum(logs) / len(logs)) ** 2 for logs in groups for one in logs)
    return Spread(sqrt(squares / freedom), "own times", n_jobs)
