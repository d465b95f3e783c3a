"""
What does every state of evidence cost, reckoned all at once?

Method: backward induction over the lattice of evidence, whole levels at a time.
A value is weighted by the probability of its evidence, so nothing is divided:
``V(evidence) = min(giving up, min over actions of cost * mass + sum of V(after))``.
After a failed power test the device works with probability 0, hence the weights of
the faults say everything.
In mode ``block`` a whole set of repairs with one power test is one action.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from turnscrew.core.diagnose.access import Move
from turnscrew.core.diagnose.problem import Mode
from turnscrew.core.diagnose.solve.lattice import Floats, Ints, Lattice

Asked = Callable[[], bool]
_CHUNK_CELLS = 250_000


@dataclass(frozen=True)
class Batch:
    """
    All sets of repairs, sorted by what they need open.

    Parameters
    ----------
    sets
        The sets as masks over the lattice's repairs.
    cost
        Cost of the repairs of each set. [cost]
    need
        What each set needs open, as a mask over the nodes.
    """

    sets: Ints
    cost: Floats
    need: Ints


@dataclass(frozen=True)
class Table:
    """
    The values of all states.

    Parameters
    ----------
    lattice
        The part of the problem.
    mode
        ``each`` or ``block``.
    verify_cost
        Cost of the power test. [cost]
    works_cost
        What is due once when the device works. [cost]
    waiting
        Least cost of further repairs and what follows them, if the power test costs
        nothing; only in mode ``block``. [cost], (n_tried, n_outcomes)
    values
        For each open set the weighted values. [cost], (n_tried, n_outcomes)
    """

    lattice: Lattice
    mode: Mode
    verify_cost: float
    works_cost: float
    waiting: Floats | None = field(repr=False)
    values: dict[int, Floats] = field(repr=False)


def fill(
    lattice: Lattice,
    mode: Mode,
    is_time_up: Asked,
    *,
    verify_cost: float,
    works_cost: float = 0.0,
) -> Table | None:
    """
    Reckon all values.

    Parameters
    ----------
    lattice
        The part of the problem.
    mode
        ``each`` or ``block``.
    is_time_up
        Asked now and then.
    verify_cost
        Cost of the power test. [cost]
    works_cost
        What is due once when the device works. [cost]

    Returns
    -------
    Table | None
        The values; none if the time ran out.
    """
    shape = (lattice.n_tried, lattice.n_outcomes)
    table = Table(
        lattice,
        mode,
        verify_cost,
        works_cost,
        np.empty(shape) if mode == "block" else None,
        {key: np.empty(shape) for key in lattice.open_sets},
    )
    filling = _Filling(table)
    tried = np.arange(lattice.n_tried)
    n_tried = np.array([int(s).bit_count() for s in tried])
    width = max(8, _CHUNK_CELLS // lattice.n_outcomes)
    for n in range(len(lattice.repairs), -1, -1):
        level = tried[n_tried == n]
        for start in range(0, len(level), width):
            if is_time_up():
                return None
            chunk = level[start : start + width]
            block = filling.chunk(chunk)
            for key, values in table.values.items():
                values[chunk] = block[key]
    return table


class _Filling:
    """One table being filled: what all chunks share."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.lattice = table.lattice
        self.whole = table.lattice.whole
        self.batch = _batch(table.lattice) if table.mode == "block" else None
        self._further: dict[int, Floats] = {}

    def chunk(self, tried: Ints) -> dict[int, Floats]:
        """Reckon the values of some sets of failed repairs, all equally many."""
        mass = self.lattice.mass[tried]
        block = {
            key: self.whole.giving_up(key) * mass for key in self.lattice.open_sets
        }
        if self.batch is None:
            self._single_repairs(tried, mass, block)
        else:
            for row, s in enumerate(tried):
                self._batches(int(s), row, block)
        block = self.with_tests(block, mass)
        if self.table.waiting is not None:
            self._note_waiting(tried, block)
        return block

    def _note_waiting(self, tried: Ints, block: dict[int, Floats]) -> None:
        assert self.table.waiting is not None
        least = np.minimum.reduce(list(block.values()))
        for row, s in enumerate(tried.tolist()):
            further = self._further.pop(s, None)
            self.table.waiting[s] = (
                least[row] if further is None else np.minimum(least[row], further)
            )

    def _single_repairs(
        self, tried: Ints, mass: Floats, block: dict[int, Floats]
    ) -> None:
        table, lattice, access = self.table, self.lattice, self.whole.access
        for i, r in enumerate(lattice.repairs):
            repair = self.whole.repairs[r]
            rows = np.flatnonzero(tried & 1 << i == 0)
            if not len(rows):
                continue
            after = tried[rows] | 1 << i
            before = mass[rows]
            bases: dict[int, Floats] = {}
            for key, values in block.items():
                there = access.move(key, repair.need, repair.shut)
                done = access.move(there.open_set, 0, lattice.verify_shut)
                base = bases.get(done.open_set)
                if base is None:
                    base = table.values[done.open_set][after]
                    end = (
                        access.closing(done.open_set)
                        + table.works_cost
                        + repair.keep_cost
                    )
                    if end:
                        base += end * (before - lattice.mass[after])
                    bases[done.open_set] = base
                cost = there.cost + repair.cost + done.cost + table.verify_cost
                values[rows] = np.minimum(values[rows], base + cost * before)

    def _batches(self, s: int, row: int, block: dict[int, Floats]) -> None:
        mass = self.lattice.mass[s]
        best = self.best_batches(s, mass)
        if best:
            # Whether it pays to wait for no further repair is seen once the column is
            # whole; see ``chunk``.
            self._further[s] = np.minimum.reduce(list(best.values()))
        for key, values in block.items():
            least = values[row]
            for need, cost, after in self.batch_moves[key]:
                found = best.get((need, after))
                if found is not None:
                    np.minimum(least, found + cost * mass, out=least)

    @cached_property
    def batch_moves(self) -> dict[int, list[tuple[int, float, int]]]:
        """
        Say what a batch costs beside its repairs.

        For each open set and need of a batch: the need, the cost of opening, verifying
        and closing, and what is open afterwards.
        """
        moves: dict[int, list[tuple[int, float, int]]] = {}
        for key in self.lattice.open_sets:
            moves[key] = []
            for need in self.lattice.needs:
                there, done = self.through(key, need)
                cost = there.cost + done.cost + self.table.verify_cost
                moves[key].append((need, cost, done.open_set))
        return moves

    def through(self, key: int, need: int) -> tuple[Move, Move]:
        """Open what a batch needs, then close what the power test needs closed."""
        access = self.whole.access
        there = access.move(key, need, 0)
        return there, access.move(there.open_set, 0, self.lattice.verify_shut)

    def best_batches(self, s: int, mass: Floats) -> dict[tuple[int, int], Floats]:
        """For each need and open set after it, the best batch without its access."""
        assert self.batch is not None
        batch, lattice = self.batch, self.lattice
        pick = np.flatnonzero((batch.sets & ~self._useful(s)) == 0)
        if not len(pick):
            return {}
        after, need, cost = s | batch.sets[pick], batch.need[pick], batch.cost[pick]
        starts = np.flatnonzero(np.diff(need, prepend=-1))
        present = need[starts].tolist()
        wanted = {
            (n, done) for moves in self.batch_moves.values() for n, _, done in moves
        }
        best: dict[tuple[int, int], Floats] = {}
        for done in {done for _, done in wanted}:
            total = self.table.values[done][after]
            total += np.outer(cost, mass)
            end = self.whole.access.closing(done) + self.table.works_cost
            if end:
                # What is not left broken works, also what was well from the start.
                total += end * (mass - lattice.mass[after])
            least = np.minimum.reduceat(total, starts, axis=0)
            best |= {
                (n, done): row
                for n, row in zip(present, least, strict=True)
                if (n, done) in wanted
            }
        return best

    def _useful(self, s: int) -> int:
        rows = self.lattice.mends * self.lattice.left[s]
        return sum(1 << i for i in range(len(rows)) if not s >> i & 1 and rows[i].any())

    def with_tests(self, block: dict[int, Floats], mass: Floats) -> dict[int, Floats]:
        """Let tests lower the values, the most evidence first."""
        lattice, access = self.lattice, self.whole.access
        if not lattice.tests:
            return block
        # Sets of outcomes as rows, so that picking some of them copies whole rows.
        weights = np.ascontiguousarray(mass.T)
        turned = {key: np.ascontiguousarray(v.T) for key, v in block.items()}
        for lacking in reversed(lattice.not_made):
            for i, index in lacking:
                test = self.whole.tests[lattice.tests[i]]
                stride, n = lattice.strides[i], len(test.ok_row)
                weight = weights[index]
                sums: dict[int, Floats] = {}
                for key, values in turned.items():
                    move = access.move(key, test.need, test.shut)
                    after = sums.get(move.open_set)
                    if after is None:
                        there = turned[move.open_set]
                        after = there[index + stride]
                        for o in range(2, n + 1):
                            after += there[index + o * stride]
                        sums[move.open_set] = after
                    cost = move.cost + test.cost
                    values[index] = np.minimum(values[index], after + cost * weight)
        return {key: values.T for key, values in turned.items()}


def repair_sets(lattice: Lattice) -> tuple[Floats, Ints]:
    """
    Reckon every set of repairs.

    Parameters
    ----------
    lattice
        The part of the problem.

    Returns
    -------
    tuple
        Cost of each set [cost], and what it needs open as a mask. (n_tried,)
    """
    cost, need = np.zeros(1), np.zeros(1, dtype=np.int64)
    for r in lattice.repairs:
        repair = lattice.whole.repairs[r]
        cost = np.concatenate([cost, cost + repair.cost])
        need = np.concatenate([need, need | repair.need])
    return cost, need


def _batch(lattice: Lattice) -> Batch:
    cost, need = repair_sets(lattice)
    sets = np.arange(1, lattice.n_tried)
    order = np.lexsort((sets, need[1:]))
    return Batch(sets[order], cost[1:][order], need[1:][order])
