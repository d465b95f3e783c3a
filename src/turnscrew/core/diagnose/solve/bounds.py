"""
How is a state of the search written, and how little can it cost?

A state is what is known about the device: outcomes, failed repairs, what is open,
whether repairs wait for their power test. Weights are not divided by their sum, so a
state's value is its expected cost times its probability.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from turnscrew.core.diagnose.compile import OK, Compact
from turnscrew.core.diagnose.problem import Mode
from turnscrew.core.diagnose.solve.lattice import Floats, Ints
from turnscrew.core.diagnose.solve.patterns import Pattern


@dataclass(slots=True)
class State:
    """
    What is known about the device.

    Parameters
    ----------
    outcomes
        Number of the set of outcomes.
    tried
        Mask of the repairs tried.
    open_set
        Mask of what is open.
    is_pending
        True if a repair waits for its power test.
    ok
        Weight of the device working, not yet seen. [1]
    weights
        Weight of each hypothesis. [1]
    places
        For each group of faults where its table holds this state.
    scales
        For each group the probability of what its table does not hold. [1]
    least
        Bound on the value from below. [cost]
    """

    outcomes: int
    tried: int
    open_set: int
    is_pending: bool
    ok: float
    weights: list[float]
    places: list[int]
    scales: list[float]
    least: float

    @property
    def mass(self) -> float:
        """Weight of all [1]."""
        return sum(self.weights) + self.ok


class Bounds(Protocol):
    """What the search wants to know of a state it has not searched."""

    n_groups: int

    def after_test(self, state: State, t: int, o: int, open_set: int) -> float:
        """Bound the broken part of the state after an outcome [cost]."""

    def after_repair(self, state: State, r: int, open_set: int) -> float:
        """
        Bound the broken part of the state after a repair [cost].

        With a power test straight after it, or free of rules; ``open_set`` is what is
        open then.
        """

    def waiting(
        self, state: State, r: int, open_set: int, broken: float, mass: float
    ) -> float:
        """Bound the state after a repair that waits for its power test [cost]."""

    def refined(self, state: State) -> float:
        """Bound a state that waits for its power test more closely [cost]."""

    def at(self, state: State, open_set: int) -> float:
        """Bound the broken part of the state itself with something open [cost]."""

    def place_test(self, state: State, t: int, o: int) -> tuple[list[int], list[float]]:
        """Find places and scales after an outcome."""

    def place_repair(self, state: State, r: int) -> list[int]:
        """Find the places after a repair."""


class GroupBounds:
    """
    Bounds from tables of groups of faults.

    Parameters
    ----------
    whole
        The problem.
    patterns
        The groups.
    """

    def __init__(self, whole: Compact, patterns: list[Pattern]) -> None:
        self.whole = whole
        self.patterns = patterns
        self.n_groups = len(patterns)
        firsts = [pattern.table.lattice.faults[0] for pattern in patterns]
        self._steps = [
            [pattern.steps[t] for pattern in patterns] for t in range(len(whole.tests))
        ]
        self._scales = [
            [
                [
                    1.0 if pattern.steps[t] else test.rows[first][o]
                    for pattern, first in zip(patterns, firsts, strict=True)
                ]
                for o in range(len(test.ok_row))
            ]
            for t, test in enumerate(whole.tests)
        ]
        self._jumps = [
            [pattern.bits[r] * pattern.width for pattern in patterns]
            for r in range(len(whole.repairs))
        ]
        self._views: dict[int, list[memoryview]] = {}
        self._further: dict[tuple[int, int, int], tuple[Ints, Floats]] = {}

    def refined(self, state: State) -> float:
        """
        Bound a state that waits for its power test more closely [cost].

        Each group chooses its own best further repairs before the power test, paid for
        at the weight of the whole state; opening counts only if one group holds all.
        """
        whole = self.whole
        if not state.is_pending or self.patterns[0].waiting is None:
            return state.least
        mass = state.mass
        done = whole.access.move(state.open_set, 0, whole.verify_shut)
        end = whole.access.closing(done.open_set)
        least = (done.cost + whole.verify_cost) * mass + end * state.ok
        for g, (pattern, place, scale) in enumerate(
            zip(self.patterns, state.places, state.scales, strict=True)
        ):
            tried, outcomes = divmod(place, pattern.width)
            after, cost = self._ways_on(g, tried, state.open_set)
            values = pattern.after_test[after, outcomes]
            least += float((cost * mass + scale * values).min())
        return min(least, whole.giving_up(state.open_set) * mass)

    def _ways_on(self, g: int, tried: int, open_set: int) -> tuple[Ints, Floats]:
        """Every set of repairs of a group that may be tried next, with its cost."""
        is_alone = len(self.patterns) == 1
        key = (g, tried, open_set if is_alone else 0)
        found = self._further.get(key)
        if found is None:
            pattern = self.patterns[g]
            sets = np.arange(pattern.table.lattice.n_tried)
            after = sets[sets & tried == tried]
            cost = pattern.repair_cost[after & ~tried]
            if is_alone:
                needs = pattern.repair_need[after & ~tried].tolist()
                extra = {n: self._extra(open_set, n) for n in set(needs)}
                cost = cost + np.array([extra[n] for n in needs])
            found = self._further[key] = (after, cost)
        return found

    def _extra(self, open_set: int, need: int) -> float:
        """Reckon what opening for further repairs adds to opening and closing."""
        access, shut = self.whole.access, self.whole.verify_shut
        there = access.move(open_set, need, 0)
        back = access.move(there.open_set, 0, shut).cost
        return there.cost + back - access.move(open_set, 0, shut).cost

    def _view(self, open_set: int) -> list[memoryview]:
        view = self._views.get(open_set)
        if view is None:
            view = [p.cells[open_set & p.relevant] for p in self.patterns]
            self._views[open_set] = view
        return view

    def after_test(self, state: State, t: int, o: int, open_set: int) -> float:
        """Bound the broken part of the state after an outcome [cost]."""
        n, least = o + 1, 0.0
        for cells, place, step, scale, factor in zip(
            self._view(open_set),
            state.places,
            self._steps[t],
            state.scales,
            self._scales[t][o],
            strict=True,
        ):
            least += scale * factor * cells[place + n * step]
        return least

    def after_repair(self, state: State, r: int, open_set: int) -> float:
        """Bound the broken part of the state after a repair [cost]."""
        least = 0.0
        for cells, place, jump, scale in zip(
            self._view(open_set),
            state.places,
            self._jumps[r],
            state.scales,
            strict=True,
        ):
            least += scale * cells[place + jump]
        return least

    def waiting(
        self, state: State, r: int, open_set: int, broken: float, mass: float
    ) -> float:
        """Bound the state after a repair that waits for its power test [cost]."""
        whole = self.whole
        when_ok = least_when_ok(whole, open_set) * (mass - broken)
        if self.patterns[0].waiting is None:
            return when_ok + self.after_repair(state, r, open_set)
        done = whole.access.move(open_set, 0, whole.verify_shut).cost
        least = (done + whole.verify_cost) * broken
        for pattern, place, jump, scale in zip(
            self.patterns, state.places, self._jumps[r], state.scales, strict=True
        ):
            assert pattern.waiting is not None
            least += scale * pattern.waiting[place + jump]
        return min(least + when_ok, whole.giving_up(open_set) * mass)

    def at(self, state: State, open_set: int) -> float:
        """Bound the broken part of the state itself with something open [cost]."""
        return sum(
            scale * cells[place]
            for cells, place, scale in zip(
                self._view(open_set), state.places, state.scales, strict=True
            )
        )

    def place_test(self, state: State, t: int, o: int) -> tuple[list[int], list[float]]:
        """Find places and scales after an outcome."""
        steps, factors, n = self._steps[t], self._scales[t][o], o + 1
        return (
            [p + n * s for p, s in zip(state.places, steps, strict=True)],
            [s * f for s, f in zip(state.scales, factors, strict=True)],
        )

    def place_repair(self, state: State, r: int) -> list[int]:
        """Find the places after a repair."""
        jumps = self._jumps[r]
        return [p + j for p, j in zip(state.places, jumps, strict=True)]


class CureBounds:
    """
    Bounds of a clairvoyant, for sets of faults.

    Method: with the set known, the dearest of its faults alone costs at least the best
    run of the repairs that touch it, in falling order of chance over cost, each taken
    or left, then giving up.

    Parameters
    ----------
    whole
        The problem.
    mode
        When a power test is due.
    """

    n_groups = 0

    def __init__(self, whole: Compact, mode: Mode) -> None:
        self.whole = whole
        self.mode = mode
        names = sorted({name for faults in whole.hypotheses for name in faults})
        self._singles = {
            name: [
                (r, chance)
                for r in range(len(whole.repairs))
                if (chance := self._chance(r, name)) > 0
            ]
            for name in names
        }
        self._cures: dict[tuple[str, int], float] = {}

    def _chance(self, r: int, name: str) -> float:
        # The chance that the repair takes this fault out of the smallest set with it.
        for h, faults in enumerate(self.whole.hypotheses):
            if name in faults:
                return sum(
                    p
                    for left, p in self.whole.repairs[r].goes[h]
                    if left == OK or name not in self.whole.hypotheses[left]
                )
        return 0.0

    def _cure(self, name: str, tried: int) -> float:
        key = (name, tried)
        cure = self._cures.get(key)
        if cure is None:
            verify, write_off = self.whole.verify_cost, self.whole.write_off
            share = verify if self.mode == "each" else 0.0
            # In between a test may tell that a repair failed: only what works is seen.
            end = min(verify, write_off) if self.mode == "free" else 0.0
            left = [
                (self.whole.repairs[r].cost + share, chance)
                for r, chance in self._singles[name]
                if not tried >> r & 1
            ]
            left.sort(key=lambda pair: pair[0] / pair[1], reverse=True)
            cure = write_off
            for cost, chance in left:
                cure = min(cure, cost + chance * end + (1 - chance) * cure)
            if self.mode == "block":
                cure = min(cure + verify, write_off)
            self._cures[key] = cure
        return cure

    def _least(self, weights: list[float], tried: int) -> float:
        return sum(
            weight * max(self._cure(name, tried) for name in faults)
            for weight, faults in zip(weights, self.whole.hypotheses, strict=True)
            if weight > 0
        )

    def after_test(self, state: State, t: int, o: int, open_set: int) -> float:
        """Bound the broken part of the state after an outcome [cost]."""
        rows = self.whole.tests[t].rows
        weights = [w * row[o] for w, row in zip(state.weights, rows, strict=True)]
        return self._least(weights, state.tried)

    def after_repair(self, state: State, r: int, open_set: int) -> float:
        """Bound the broken part of the state after a repair [cost]."""
        weights, _ = repaired(self.whole, state.weights, r)
        return self._least(weights, state.tried | 1 << r)

    def waiting(
        self, state: State, r: int, open_set: int, broken: float, mass: float
    ) -> float:
        """Bound the state after a repair that waits for its power test [cost]."""
        when_ok = least_when_ok(self.whole, open_set) * (mass - broken)
        return when_ok + self.after_repair(state, r, open_set)

    def refined(self, state: State) -> float:
        """Bound a state that waits for its power test more closely [cost]."""
        return state.least

    def at(self, state: State, open_set: int) -> float:
        """Bound the broken part of the state itself with something open [cost]."""
        return self._least(state.weights, state.tried)

    def place_test(self, state: State, t: int, o: int) -> tuple[list[int], list[float]]:
        """Find places and scales after an outcome; there are none."""
        return [], []

    def place_repair(self, state: State, r: int) -> list[int]:
        """Find the places after a repair; there are none."""
        return []


def repaired(whole: Compact, weights: list[float], r: int) -> tuple[list[float], float]:
    """
    Move weight as a repair does.

    Parameters
    ----------
    whole
        The problem.
    weights
        Weight of each hypothesis before. [1]
    r
        The repair, by index.

    Returns
    -------
    tuple
        Weight of each hypothesis after, and of what it mended. [1]
    """
    after, mended = [0.0] * len(weights), 0.0
    for weight, goes in zip(weights, whole.repairs[r].goes, strict=True):
        if weight <= 0:
            continue
        for left, p in goes:
            if left == OK:
                mended += weight * p
            else:
                after[left] += weight * p
    return after, mended


def least_when_ok(whole: Compact, open_set: int) -> float:
    """
    Reckon the cost of a device that works, which only a power test can show.

    Parameters
    ----------
    whole
        The problem.
    open_set
        What is open.

    Returns
    -------
    float
        The least cost. [cost]
    """
    move = whole.access.move(open_set, 0, whole.verify_shut)
    verified = move.cost + whole.verify_cost + whole.access.closing(move.open_set)
    return min(whole.giving_up(open_set), verified)
