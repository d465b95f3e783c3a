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
    verify_shut
        What must be closed for it, as a mask.
    values
        For each open set the weighted values; only for those that a power test can
        leave, unless all were asked for. [cost], (n_outcomes, n_tried)
    """

    lattice: Lattice
    mode: Mode
    verify_cost: float
    verify_shut: int
    values: dict[int, Floats] = field(repr=False)
    columns: dict[int, dict[int, Floats]] = field(default_factory=dict, repr=False)

    def column(self, tried: int) -> dict[int, Floats]:
        """
        Give the values for one set of failed repairs, for every open set.

        Parameters
        ----------
        tried
            The set, as a mask.

        Returns
        -------
        dict
            For each open set the weighted values. [cost], (n_outcomes,)
        """
        column = self.columns.get(tried)
        if column is None:
            block = Filling(self).chunk(np.array([tried], dtype=np.int64))
            column = {key: values[:, 0] for key, values in block.items()}
            self.columns[tried] = column
        return column


def fill(
    lattice: Lattice,
    mode: Mode,
    is_time_up: Asked,
    *,
    verify_cost: float,
    verify_shut: int,
    keeps_all: bool = False,
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
    verify_shut
        What must be closed for it, as a mask.
    keeps_all
        True to keep the values for every open set.

    Returns
    -------
    Table | None
        The values; none if the time ran out.
    """
    kept = lattice.open_sets if keeps_all else _left_by_verifying(lattice, verify_shut)
    shape = (lattice.n_outcomes, lattice.n_tried)
    table = Table(
        lattice, mode, verify_cost, verify_shut, {key: np.empty(shape) for key in kept}
    )
    filling = Filling(table)
    tried = np.arange(lattice.n_tried)
    n_tried = np.array([int(s).bit_count() for s in tried])
    width = max(8, _CHUNK_CELLS // lattice.n_outcomes)
    for n in range(len(lattice.repairs), -1, -1):
        level = tried[n_tried == n]
        is_alive = filling.is_alive[level]
        for values in table.values.values():
            values[:, level[~is_alive]] = (
                lattice.whole.write_off * lattice.mass[:, level[~is_alive]]
            )
        alive = level[is_alive]
        for start in range(0, len(alive), width):
            if is_time_up():
                return None
            chunk = alive[start : start + width]
            block = filling.chunk(chunk)
            for key, values in table.values.items():
                values[:, chunk] = block[key]
    return table


def _left_by_verifying(lattice: Lattice, verify_shut: int) -> tuple[int, ...]:
    access = lattice.whole.access
    left = {access.move(key, 0, verify_shut).open_set for key in lattice.open_sets}
    return tuple(sorted(left))


class Filling:
    """One table being filled: what all chunks share."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.lattice = table.lattice
        self.whole = table.lattice.whole
        self.batch = _batch(table.lattice) if table.mode == "block" else None
        self.is_alive = _alive(table)

    def chunk(self, tried: Ints) -> dict[int, Floats]:
        """Reckon the values of some sets of failed repairs, all equally many."""
        mass = self.lattice.mass[:, tried]
        block = {
            key: self.whole.giving_up(key) * mass for key in self.lattice.open_sets
        }
        if self.batch is None:
            self._single_repairs(tried, mass, block)
        else:
            for column, s in enumerate(tried):
                self._batches(int(s), column, block)
        self.add_tests(block, mass)
        return block

    def _single_repairs(
        self, tried: Ints, mass: Floats, block: dict[int, Floats]
    ) -> None:
        table, lattice, access = self.table, self.lattice, self.whole.access
        for i, r in enumerate(lattice.repairs):
            repair = self.whole.repairs[r]
            column = np.flatnonzero(tried & 1 << i == 0)
            if not len(column):
                continue
            after = tried[column] | 1 << i
            before_mass = mass[:, column]
            mended = before_mass - lattice.mass[:, after]
            bases: dict[int, Floats] = {}
            for key, values in block.items():
                there = access.move(key, repair.need, repair.shut)
                done = access.move(there.open_set, 0, table.verify_shut)
                base = bases.get(done.open_set)
                if base is None:
                    end = access.closing(done.open_set) + repair.keep_cost
                    base = table.values[done.open_set][:, after] + end * mended
                    bases[done.open_set] = base
                cost = there.cost + repair.cost + done.cost + table.verify_cost
                values[:, column] = np.minimum(
                    values[:, column], base + cost * before_mass
                )

    def _batches(self, s: int, column: int, block: dict[int, Floats]) -> None:
        best = self.best_batches(s, self.lattice.mass[:, s])
        mass = self.lattice.mass[:, s]
        for key, values in block.items():
            for need, access_cost, after in self.batch_moves(key):
                found = best.get((need, after))
                if found is not None:
                    np.minimum(
                        values[:, column],
                        found + access_cost * mass,
                        out=values[:, column],
                    )

    def batch_moves(self, key: int) -> list[tuple[int, float, int]]:
        """For each need of a batch: cost of opening, verifying and closing, and after."""
        assert self.batch is not None
        moves: list[tuple[int, float, int]] = []
        for need in dict.fromkeys(self.batch.need.tolist()):
            there, done = self.through(key, need)
            cost = there.cost + done.cost + self.table.verify_cost
            moves.append((need, cost, done.open_set))
        return moves

    def through(self, key: int, need: int) -> tuple[Move, Move]:
        """Open what a batch needs, then close what the power test needs closed."""
        access = self.whole.access
        there = access.move(key, need, 0)
        return there, access.move(there.open_set, 0, self.table.verify_shut)

    def best_batches(self, s: int, mass: Floats) -> dict[tuple[int, int], Floats]:
        """For each need and open set after it, the best batch without its access."""
        assert self.batch is not None
        batch, table, lattice = self.batch, self.table, self.lattice
        useful = self._useful(s)
        pick = np.flatnonzero((batch.sets & ~useful) == 0)
        if not len(pick):
            return {}
        sets, need = batch.sets[pick], batch.need[pick]
        starts = np.flatnonzero(np.diff(need, prepend=-1))
        afters = {
            (n, self.through(key, n)[1].open_set)
            for n in need[starts].tolist()
            for key in lattice.open_sets
        }
        best: dict[tuple[int, int], Floats] = {}
        for after in sorted({a for _, a in afters}):
            end = self.whole.access.closing(after)
            columns = table.values[after][:, s | sets] + np.outer(mass, batch.cost[pick])
            if end:
                # What is not left broken works, also what was well from the start.
                works = mass[:, None] - lattice.mass[:, s | sets]
                columns += end * works
            least = np.minimum.reduceat(columns, starts, axis=1)
            for i, n in enumerate(need[starts].tolist()):
                if (n, after) in afters:
                    best[n, after] = least[:, i]
        return best

    def _useful(self, s: int) -> int:
        rows = self.lattice.mends * self.lattice.left[s]
        return sum(
            1 << i for i in range(len(rows)) if not s >> i & 1 and rows[i].any()
        )

    def add_tests(self, block: dict[int, Floats], mass: Floats) -> None:
        """Let tests lower the values, the most evidence first."""
        lattice, access = self.lattice, self.whole.access
        for lacking in reversed(lattice.not_made):
            for i, index in lacking:
                test = self.whole.tests[lattice.tests[i]]
                stride, n = lattice.strides[i], len(test.ok_row)
                weight = mass[index]
                sums: dict[int, Floats] = {}
                moves = {key: access.move(key, test.need, test.shut) for key in block}
                for move in moves.values():
                    if move.open_set not in sums:
                        after = block[move.open_set]
                        sums[move.open_set] = sum(
                            (after[index + o * stride] for o in range(2, n + 1)),
                            start=after[index + stride],
                        )
                for key, move in moves.items():
                    values = block[key]
                    cost = move.cost + test.cost
                    values[index] = np.minimum(
                        values[index], sums[move.open_set] + cost * weight
                    )


def _batch(lattice: Lattice) -> Batch:
    cost, need = np.zeros(1), np.zeros(1, dtype=np.int64)
    for r in lattice.repairs:
        repair = lattice.whole.repairs[r]
        cost = np.concatenate([cost, cost + repair.cost])
        need = np.concatenate([need, need | repair.need])
    sets = np.arange(1, lattice.n_tried)
    order = np.lexsort((sets, need[1:]))
    return Batch(sets[order], cost[1:][order], need[1:][order])


def _alive(table: Table) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
    """
    Tell which sets of failed repairs leave anything to do but giving up.

    Method: even if the fault were known, the cheapest cure costs more than giving up.
    """
    lattice, whole = table.lattice, table.lattice.whole
    if whole.is_closed_first:
        # Giving up then depends on what is open; the test below would not be sharp.
        return np.ones(lattice.n_tried, dtype=np.bool_)
    known = cheapest_cure(table)
    least = lattice.likelihood @ (lattice.left * known).T
    alive = (least < whole.write_off * lattice.mass).any(axis=0)
    alive[0] = True
    return np.asarray(alive, dtype=np.bool_)


def _least_cost(table: Table, r: int) -> float:
    # What a repair needs open may be open already, but it has to be closed again.
    whole = table.lattice.whole
    repair = whole.repairs[r]
    if table.mode != "each":
        return repair.cost
    closing = whole.access.closing(repair.need & table.verify_shut)
    return repair.cost + closing + table.verify_cost


def cheapest_cure(table: Table) -> Floats:
    """
    Reckon the least cost of curing each fault if it were known.

    Method: repairs in falling order of chance over cost, each taken or left, then
    giving up; the first one needs no opening, and in ``block`` none a power test.

    Parameters
    ----------
    table
        The table.

    Returns
    -------
    Floats
        The cost. [cost], (n_tried, n_faults)
    """
    lattice, whole = table.lattice, table.lattice.whole
    tried = np.arange(lattice.n_tried)
    known = np.full((lattice.n_tried, len(lattice.faults)), whole.write_off)
    for column in range(len(lattice.faults)):
        chances = lattice.mends[:, column]
        costs = np.array([_least_cost(table, r) for r in lattice.repairs])
        touching = [i for i in range(len(chances)) if chances[i] > 0]
        touching.sort(key=lambda i: costs[i] / chances[i], reverse=True)
        least = known[:, column]
        for i in touching:
            taken = costs[i] + (1 - chances[i]) * least
            least = np.where(tried & 1 << i, least, np.minimum(least, taken))
        if table.mode == "block":
            least = np.minimum(least + table.verify_cost, whole.write_off)
        known[:, column] = least
    return known
