"""
What does a filled table say about the device on the bench?

Until the first power test the device may also have been well all along; those states
carry the weight of "ok" beside that of the faults, and no failed repairs.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from turnscrew.core.diagnose.compile import Compact
from turnscrew.core.diagnose.problem import VERIFY, WRITE_OFF
from turnscrew.core.diagnose.solve.lattice import Floats
from turnscrew.core.diagnose.solve.table import Filling, Table


@dataclass(frozen=True)
class State:
    """
    Where the job stands.

    Parameters
    ----------
    outcomes
        Number of the set of outcomes.
    tried
        Mask of the failed repairs.
    is_fresh
        True until the first power test.
    open_set
        What is open, as a mask.
    """

    outcomes: int
    tried: int
    is_fresh: bool
    open_set: int


@dataclass(frozen=True)
class Option:
    """
    One way on from a state.

    Parameters
    ----------
    name
        The first action of it.
    value
        Its expected cost to the end. [cost]
    batch
        Repairs that share one power test, by index in the problem.
    """

    name: str
    value: float
    batch: tuple[int, ...] = ()


class TableReader:
    """
    Read states of one table.

    Parameters
    ----------
    table
        The table.
    """

    def __init__(self, table: Table) -> None:
        self.table = table
        self.lattice = table.lattice
        self.whole: Compact = table.lattice.whole
        self.filling = Filling(table)
        self.ok_weight = self.whole.p_ok * self.lattice.likelihood_ok

    @cached_property
    def fresh(self) -> dict[int, Floats]:
        """Values before the first power test, for each open set."""
        whole, lattice, table = self.whole, self.lattice, self.table
        access = whole.access
        mass = lattice.mass[:, 0] + self.ok_weight
        block = {key: whole.giving_up(key) * mass for key in lattice.open_sets}
        for key, values in block.items():
            done = access.move(key, 0, table.verify_shut)
            end = access.closing(done.open_set)
            verified = (done.cost + table.verify_cost) * mass + end * self.ok_weight
            verified += table.values[done.open_set][:, 0]
            np.minimum(values, verified, out=values)
            for r in lattice.repairs if self.filling.batch is None else ():
                np.minimum(values, self._repaired(key, r, mass), out=values)
            for need, cost, after in (
                self.filling.batch_moves(key) if self.filling.batch else ()
            ):
                found = self._fresh_batches.get((need, after))
                if found is not None:
                    np.minimum(values, found + cost * mass, out=values)
        columns = {key: values[:, None] for key, values in block.items()}
        self.filling.add_tests(columns, mass[:, None])
        return {key: values[:, 0] for key, values in columns.items()}

    @cached_property
    def _fresh_batches(self) -> dict[tuple[int, int], Floats]:
        mass = self.lattice.mass[:, 0] + self.ok_weight
        return self.filling.best_batches(0, mass)

    def _repaired(self, key: int, r: int, mass: Floats) -> Floats:
        repair, table, access = self.whole.repairs[r], self.table, self.whole.access
        bit = 1 << self.lattice.repairs.index(r)
        there = access.move(key, repair.need, repair.shut)
        done = access.move(there.open_set, 0, table.verify_shut)
        left = self.lattice.mass[:, bit]
        cost = there.cost + repair.cost + done.cost + table.verify_cost
        return (
            cost * mass
            + access.closing(done.open_set) * (mass - left)
            + repair.keep_cost * (self.lattice.mass[:, 0] - left)
            + table.values[done.open_set][:, bit]
        )

    def weight(self, state: State) -> float:
        """
        Weigh a state.

        Parameters
        ----------
        state
            The state.

        Returns
        -------
        float
            Probability of its evidence. [1]
        """
        weight = float(self.lattice.mass[state.outcomes, state.tried])
        if state.is_fresh:
            weight += float(self.ok_weight[state.outcomes])
        return weight

    def weighted(self, state: State) -> float:
        """
        Look a state's value up.

        Parameters
        ----------
        state
            The state.

        Returns
        -------
        float
            Its value times its weight. [cost]
        """
        if state.is_fresh:
            return float(self.fresh[state.open_set][state.outcomes])
        kept = self.table.values.get(state.open_set)
        if kept is not None:
            return float(kept[state.outcomes, state.tried])
        return float(self.table.column(state.tried)[state.open_set][state.outcomes])

    def options(self, state: State) -> list[Option]:
        """
        List every way on from a state.

        Parameters
        ----------
        state
            The state, with some weight.

        Returns
        -------
        list[Option]
            The ways on, each followed by the best.
        """
        options = self._tests(state)
        if self.filling.batch is None:
            for r in range(len(self.whole.repairs)):
                i = self._bit(r)
                if i is None or not state.tried >> i & 1:
                    value = self.batch_value(state, (r,))
                    options.append(Option(self.whole.repairs[r].name, value, (r,)))
        else:
            options += self._batches_first(state)
        if state.is_fresh and self.ok_weight[state.outcomes] > 0:
            options.append(Option(VERIFY, self.batch_value(state, ())))
        options.append(Option(WRITE_OFF, self.whole.giving_up(state.open_set)))
        return options

    def _bit(self, r: int) -> int | None:
        repairs = self.lattice.repairs
        return repairs.index(r) if r in repairs else None

    def _tests(self, state: State) -> list[Option]:
        options: list[Option] = []
        for t, test in enumerate(self.whole.tests):
            move = self.whole.access.move(state.open_set, test.need, test.shut)
            after = [s for _, s in self.after_test(state, t)]
            if after:
                total = sum(self.weighted(s) for s in after)
                value = move.cost + test.cost + total / self.weight(state)
                options.append(Option(test.name, value))
        return options

    def after_test(self, state: State, t: int) -> list[tuple[int, State]]:
        """
        List the states after a test.

        Parameters
        ----------
        state
            The state before.
        t
            The test, by index in the problem.

        Returns
        -------
        list
            Index of each outcome with the state after it; empty if the test was made.
        """
        test = self.whole.tests[t]
        move = self.whole.access.move(state.open_set, test.need, test.shut)
        if t not in self.lattice.tests:
            after = State(
                state.outcomes, state.tried, state.is_fresh, move.open_set
            )
            return [(0, after)]
        i = self.lattice.tests.index(t)
        stride = self.lattice.strides[i]
        if state.outcomes // stride % (len(test.ok_row) + 1):
            return []
        return [
            (
                o,
                State(
                    state.outcomes + (o + 1) * stride,
                    state.tried,
                    state.is_fresh,
                    move.open_set,
                ),
            )
            for o in range(len(test.ok_row))
        ]

    def after_batch(self, state: State, batch: tuple[int, ...]) -> State:
        """
        Find the state after repairs whose power test failed.

        Parameters
        ----------
        state
            The state before.
        batch
            The repairs, by index in the problem; none for the power test alone.

        Returns
        -------
        State
            The state after.
        """
        tried = state.tried
        open_set = state.open_set
        for r in batch:
            repair = self.whole.repairs[r]
            open_set = self.whole.access.move(
                open_set, repair.need, repair.shut
            ).open_set
            i = self._bit(r)
            tried |= 0 if i is None else 1 << i
        open_set = self.whole.access.move(
            open_set, 0, self.table.verify_shut
        ).open_set
        return State(state.outcomes, tried, False, open_set)

    def batch_value(self, state: State, batch: tuple[int, ...]) -> float:
        """
        Reckon repairs that share one power test, and the best after it.

        Parameters
        ----------
        state
            The state before.
        batch
            The repairs, by index in the problem; none for the power test alone.

        Returns
        -------
        float
            The expected cost to the end. [cost]
        """
        access = self.whole.access
        cost, keep, open_set = self.table.verify_cost, 0.0, state.open_set
        for r in batch:
            repair = self.whole.repairs[r]
            there = access.move(open_set, repair.need, repair.shut)
            cost += there.cost + repair.cost
            keep += repair.keep_cost
            open_set = there.open_set
        done = access.move(open_set, 0, self.table.verify_shut)
        after = self.after_batch(state, batch)
        weight, left = self.weight(state), self.weight(after)
        mended = float(self.lattice.mass[state.outcomes, state.tried]) - left
        total = access.closing(done.open_set) * (weight - left) + keep * mended
        return cost + done.cost + (total + self.weighted(after)) / weight

    def _lattice_batches(self, state: State) -> list[Option]:
        batch, lattice, access = self.filling.batch, self.lattice, self.whole.access
        assert batch is not None
        pick = np.flatnonzero((batch.sets & state.tried) == 0)
        sets, weight = batch.sets[pick], self.weight(state)
        value = batch.cost[pick] + self.table.verify_cost
        for need in dict.fromkeys(batch.need[pick].tolist()):
            there, done = self.filling.through(state.open_set, need)
            chosen = np.flatnonzero(batch.need[pick] == need)
            after = state.tried | sets[chosen]
            left = lattice.mass[state.outcomes, after]
            end = access.closing(done.open_set)
            total = self.table.values[done.open_set][state.outcomes, after]
            value[chosen] += (
                there.cost + done.cost + (total + end * (weight - left)) / weight
            )
        options: list[Option] = []
        for i, r in enumerate(lattice.repairs):
            if state.tried >> i & 1:
                continue
            holding = np.flatnonzero(sets & 1 << i)
            best = holding[np.argmin(value[holding])]
            members = self._members(int(sets[best]))
            least = min(float(value[best]), self._for_nothing(state, r))
            name = self.whole.repairs[r].name
            options.append(Option(name, least, (r, *(m for m in members if m != r))))
        return options

    def _members(self, batch: int) -> tuple[int, ...]:
        repairs = self.lattice.repairs
        return tuple(r for i, r in enumerate(repairs) if batch >> i & 1)

    def _for_nothing(self, state: State, r: int) -> float:
        repair = self.whole.repairs[r]
        there = self.whole.access.move(state.open_set, repair.need, repair.shut)
        return there.cost + repair.cost + self.whole.giving_up(there.open_set)

    def _batches_first(self, state: State) -> list[Option]:
        options = self._lattice_batches(state)
        for r, repair in enumerate(self.whole.repairs):
            if self._bit(r) is not None:
                continue
            # A repair that mends nothing may still be said first; what follows shares
            # its power test, or it was for nothing.
            move = self.whole.access.move(state.open_set, repair.need, repair.shut)
            opened = State(state.outcomes, state.tried, state.is_fresh, move.open_set)
            rest = [option.value for option in self._lattice_batches(opened)]
            rest.append(self.batch_value(opened, ()))
            rest.append(self.whole.giving_up(move.open_set))
            value = move.cost + repair.cost + min(rest)
            options.append(Option(repair.name, value, (r,)))
        return options
