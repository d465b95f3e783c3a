"""
How are all sets of evidence of a single-fault problem numbered?

With one fault at a time, evidence commutes: what is known is which outcome each test
gave and which repairs have failed, in any order.
The outcomes are digits of one number (0: not made), the failed repairs bits of another.
"""

from dataclasses import dataclass
from functools import cached_property
from math import prod

import numpy as np
import numpy.typing as npt

from turnscrew.core.diagnose.compile import Compact

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Lattice:
    """
    A part of a problem with its numbers of evidence.

    Parameters
    ----------
    whole
        The whole problem.
    faults
        The faults of this part, by index.
    tests
        The tests that tell something in this part, by index.
    repairs
        The repairs that mend something in this part, by index.
    """

    whole: Compact
    faults: tuple[int, ...]
    tests: tuple[int, ...]
    repairs: tuple[int, ...]

    @cached_property
    def strides(self) -> tuple[int, ...]:
        """For each test the worth of its digit. [1]"""
        sizes = [len(self.whole.tests[t].ok_row) + 1 for t in self.tests]
        return tuple(prod(sizes[:i]) for i in range(len(sizes)))

    @cached_property
    def n_outcomes(self) -> int:
        """Count the sets of outcomes. [1]"""
        return prod(len(self.whole.tests[t].ok_row) + 1 for t in self.tests)

    @cached_property
    def n_tried(self) -> int:
        """Count the sets of failed repairs. [1]"""
        return 1 << len(self.repairs)

    @cached_property
    def likelihood(self) -> Floats:
        """Probability of the outcomes under each fault. [1], (n_outcomes, n_faults)."""
        return self._products([self.whole.tests[t].rows for t in self.tests])

    @cached_property
    def likelihood_ok(self) -> Floats:
        """Probability of the outcomes on a device that works. [1], (n_outcomes,)."""
        product = np.ones(1)
        for t in self.tests:
            row = np.array((1.0, *self.whole.tests[t].ok_row))
            product = (row[:, None] * product[None, :]).reshape(-1)
        return product

    def _products(self, rows: list[tuple[tuple[float, ...], ...]]) -> Floats:
        product = np.ones((1, len(self.faults)))
        for row in rows:
            outcomes = np.array([row[f] for f in self.faults]).T
            digits = np.vstack([np.ones(len(self.faults)), outcomes])
            product = (digits[:, None, :] * product[None, :, :]).reshape(
                -1, len(self.faults)
            )
        return product

    @cached_property
    def mends(self) -> Floats:
        """Chance of each repair to mend each fault. [1], (n_repairs, n_faults)."""
        whole = self.whole
        return np.array(
            [[whole.repairs[r].p_mends(f) for f in self.faults] for r in self.repairs]
        ).reshape(len(self.repairs), len(self.faults))

    @cached_property
    def left(self) -> Floats:
        """Prior weight left after failed repairs. [1], (n_tried, n_faults)."""
        product = np.array([[self.whole.prior[f] for f in self.faults]])
        for row in self.mends:
            product = np.vstack([product, product * (1 - row)])
        return product

    @cached_property
    def mass(self) -> Floats:
        """Weight of each set of evidence. [1], (n_outcomes, n_tried)."""
        return self.likelihood @ self.left.T

    @cached_property
    def n_made(self) -> Ints:
        """Count the tests made in each set of outcomes. [1], (n_outcomes,)."""
        index = np.arange(self.n_outcomes)
        made = np.zeros(self.n_outcomes, dtype=np.int64)
        for stride, t in zip(self.strides, self.tests, strict=True):
            made += index // stride % (len(self.whole.tests[t].ok_row) + 1) > 0
        return made

    @cached_property
    def not_made(self) -> tuple[tuple[tuple[int, Ints], ...], ...]:
        """For each count of tests made: each test with the sets that lack it."""
        index = np.arange(self.n_outcomes)
        levels: list[tuple[tuple[int, Ints], ...]] = []
        for n in range(len(self.tests)):
            lacking: list[tuple[int, Ints]] = []
            for i, t in enumerate(self.tests):
                size = len(self.whole.tests[t].ok_row) + 1
                is_lacking = index // self.strides[i] % size == 0
                lacking.append((i, index[is_lacking & (self.n_made == n)]))
            levels.append(tuple(lacking))
        return tuple(levels)

    @cached_property
    def open_sets(self) -> tuple[int, ...]:
        """Every open set that can come up, as masks."""
        whole = self.whole
        found = {0, whole.open_now}
        todo = list(found)
        while todo:
            now = todo.pop()
            after = [
                whole.access.move(now, whole.tests[t].need, whole.tests[t].shut)
                for t in self.tests
            ]
            after += [
                whole.access.move(now, whole.repairs[r].need, whole.repairs[r].shut)
                for r in self.repairs
            ]
            after.append(whole.access.move(now, 0, whole.verify_shut))
            for move in after:
                if move.open_set not in found:
                    found.add(move.open_set)
                    todo.append(move.open_set)
        return tuple(sorted(found))

    @property
    def n_cells(self) -> int:
        """Count the cells of a full table. [1]"""
        return self.n_outcomes * self.n_tried * len(self.open_sets)


def lattice_of(whole: Compact, faults: tuple[int, ...]) -> Lattice:
    """
    Take part of the faults with the tests and repairs that matter to them.

    Parameters
    ----------
    whole
        The whole problem.
    faults
        The faults, by index.

    Returns
    -------
    Lattice
        The part. A test all of whose rows are alike there tells nothing and is left
        out; so is a repair that mends none of the faults.
    """
    tests = tuple(
        t for t, test in enumerate(whole.tests) if _tells(whole, test.rows, faults)
        or (whole.p_ok > 0 and any(test.ok_row != test.rows[f] for f in faults))
    )
    repairs = tuple(
        r
        for r, repair in enumerate(whole.repairs)
        if any(repair.p_mends(f) > 0 for f in faults)
    )
    return Lattice(whole, faults, tests, repairs)


def _tells(
    whole: Compact, rows: tuple[tuple[float, ...], ...], faults: tuple[int, ...]
) -> bool:
    alive = [rows[f] for f in faults if whole.prior[f] > 0]
    return any(row != alive[0] for row in alive[1:])
