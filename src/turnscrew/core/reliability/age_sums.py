"""What are weights by age, and how are they added up?"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from turnscrew.core.reliability.curves import weight_before
from turnscrew.core.reliability.lives import Floats, Indices

_MOST_WHOLE_AGE = 1e5
"""Whole ages below this are counted by place, which is quicker than sorting. [d]"""

_MOST_CELLS = 5_000_000
"""Places and whole ages together that are counted at once. [1]"""

NOTHING = 1e-12
"""Share of the whole weight below which a row is a rounding of weights. [1]"""


@dataclass(frozen=True, eq=False)
class AgeSums:
    """
    Weights by age.

    Parameters
    ----------
    age
        Ages, rising. [d], shape (n_ages,)
    weight
        Weight at each. [1], shape (n_ages,)
    """

    age: Floats
    weight: Floats

    @property
    def total(self) -> float:
        """Give the weight of all ages. [1]."""
        return float(self.weight.sum())

    def before(self, at: Floats) -> Floats:
        """
        Give the weight at ages strictly before each of some ages.

        Parameters
        ----------
        at
            Rising ages to look from. [d], shape (n_ages,)

        Returns
        -------
        ndarray
            The weights. [1], shape (n_ages,)
        """
        return weight_before(self.age, self.weight, at)


def by_place(
    place: Indices, age: Floats, weight: Floats, n: int
) -> tuple[AgeSums, ...]:
    """
    Add weights by place and age.

    Parameters
    ----------
    place
        Place of each row. [1], shape (n_rows,)
    age
        Age of each. [d], shape (n_rows,)
    weight
        Weight of each. [1], shape (n_rows,)
    n
        Places. [1]

    Returns
    -------
    tuple[AgeSums, ...]
        Weights by age of each place.
    """
    if _is_whole(age) and n * (age.max() + 1) < _MOST_CELLS:
        width = int(age.max()) + 1
        key = place * width + age.astype(np.int64)
        sums = counted(key, weight, n * width).reshape(n, width)
        filled = [np.flatnonzero(row) for row in sums]
        return tuple(
            AgeSums(ages.astype(np.float64), row[ages])
            for ages, row in zip(filled, sums, strict=True)
        )
    order = np.argsort(place, kind="stable")
    cuts = np.searchsorted(place[order], np.arange(n + 1))
    return tuple(summed(age[order[a:b]], weight[order[a:b]]) for a, b in pairwise(cuts))


def counted(place: Indices, amounts: Floats, n: int) -> Floats:
    """
    Add amounts by place.

    Parameters
    ----------
    place
        Place of each row. [1], shape (n_rows,)
    amounts
        What is added. [any], shape (n_rows,)
    n
        Places at least. [1]

    Returns
    -------
    ndarray
        The sums. [any], shape (n_places,)
    """
    return np.bincount(place, amounts, n).astype(np.float64)


def summed(age: Floats, weight: Floats) -> AgeSums:
    """
    Add weights by age; ages without weight are left out.

    Parameters
    ----------
    age
        Age of each row. [d], shape (n_rows,)
    weight
        Weight of each. [1], shape (n_rows,)

    Returns
    -------
    AgeSums
        The sums.
    """
    if _is_whole(age):
        sums = counted(age.astype(np.int64), weight, 0)
        whole = np.flatnonzero(sums)
        return AgeSums(whole.astype(np.float64), sums[whole])
    ages, at = np.unique(age, return_inverse=True)
    sums = counted(at, weight, len(ages))
    return AgeSums(ages[sums > 0], sums[sums > 0])


def _is_whole(age: Floats) -> bool:
    return bool(len(age) and age.max() < _MOST_WHOLE_AGE and not (age % 1).any())


def joined(parts: Sequence[AgeSums]) -> AgeSums:
    """
    Put weights by age together.

    Parameters
    ----------
    parts
        The weights.

    Returns
    -------
    AgeSums
        Their sums.
    """
    return summed(
        np.concatenate([one.age for one in parts]),
        np.concatenate([one.weight for one in parts]),
    )


def less(all_of: AgeSums, some: AgeSums) -> AgeSums:
    """
    Take some weights away from all.

    Parameters
    ----------
    all_of
        All.
    some
        Some of them, at ages that all have.

    Returns
    -------
    AgeSums
        What is left.
    """
    left = all_of.weight.copy()
    left[np.searchsorted(all_of.age, some.age)] -= some.weight
    keeps = left > NOTHING * all_of.total
    return AgeSums(all_of.age[keeps], left[keeps])
