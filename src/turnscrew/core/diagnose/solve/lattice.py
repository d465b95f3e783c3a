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
    verify_shut
        What must be closed for a power test, as a mask.
    """

    whole: Compact
    faults: tuple[int, ...]
    tests: tuple[int, ...]
    repairs: tuple[int, ...]
    verify_shut: int

    @cached_property
    def strides(self) -> tuple[int, ...]:
        """For each test the worth of its digit [1]."""
        sizes = [len(self.whole.tests[t].ok_row) + 1 for t in self.tests]
        return tuple(prod(sizes[:i]) for i in range(len(sizes)))

    @cached_property
    def n_outcomes(self) -> int:
        """Count the sets of outcomes [1]."""
        return prod(len(self.whole.tests[t].ok_row) + 1 for t in self.tests)

    @cached_property
    def n_tried(self) -> int:
        """Count the sets of failed repairs [1]."""
        return 1 << len(self.repairs)

    @cached_property
    def likelihood(self) -> Floats:
        """Probability of the outcomes under each fault. [1], (n_outcomes, n_faults)."""
        return self._products([self.whole.tests[t].rows for t in self.tests])

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
        """Weight of each set of evidence. [1], (n_tried, n_outcomes)."""
        return self.left @ self.likelihood.T

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
        """Every open set in which an action may begin, as masks; see ``relevant``."""
        whole, access = self.whole, self.whole.access
        shut = self.verify_shut
        tests = {(t.need & self.relevant, t.shut) for t in whole.tests}
        repairs = {(r.need & self.relevant, r.shut) for r in whole.repairs}
        repairs |= {(need, 0) for need in self.needs}
        found = {whole.open_now & self.relevant}
        todo = list(found)
        while todo:
            now = todo.pop()
            after = {access.move(now, 0, shut).open_set}
            after.add(access.move(now, 0, whole.verify_shut).open_set)
            after |= {access.move(now, *test).open_set for test in tests}
            after |= {
                access.move(access.move(now, *repair).open_set, 0, shut).open_set
                for repair in repairs
            }
            todo += after - found
            found |= after
        return tuple(sorted(found))

    @cached_property
    def relevant(self) -> int:
        """
        Mask of the nodes that the actions of this part need open.

        Any other node open costs only its closing, so leaving it out of sight never
        makes a value too large. In the whole problem every node counts.
        """
        if len(self.faults) == len(self.whole.hypotheses):
            return -1
        mask = 0
        for t in self.tests:
            mask |= self.whole.tests[t].need
        for r in self.repairs:
            mask |= self.whole.repairs[r].need
        return mask

    @cached_property
    def needs(self) -> tuple[int, ...]:
        """What sets of repairs together may need open, as masks."""
        found = {0}
        for r in self.repairs:
            found |= {need | self.whole.repairs[r].need for need in found}
        return tuple(sorted(found))


def lattice_of(whole: Compact, faults: tuple[int, ...], verify_shut: int) -> Lattice:
    """
    Take part of the faults with the tests and repairs that matter to them.

    Parameters
    ----------
    whole
        The whole problem.
    faults
        The faults, by index.
    verify_shut
        What must be closed for a power test, as a mask.

    Returns
    -------
    Lattice
        The part. A test all of whose rows are alike there tells nothing and is left
        out; so is a repair that mends none of the faults.
    """
    tests = tuple(
        t for t, test in enumerate(whole.tests) if _tells(whole, test.rows, faults)
    )
    repairs = tuple(
        r
        for r, repair in enumerate(whole.repairs)
        if any(repair.p_mends(f) > 0 for f in faults)
    )
    return Lattice(whole, faults, tests, repairs, verify_shut)


def _tells(
    whole: Compact, rows: tuple[tuple[float, ...], ...], faults: tuple[int, ...]
) -> bool:
    alive = [rows[f] for f in faults if whole.prior[f] > 0]
    return any(row != alive[0] for row in alive[1:])
