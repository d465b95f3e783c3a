"""
What does a strategy without tests cost from here?

Method: repairs in falling order of the chance to mend over the cost with access; then
the best points for a power test and the best point to give up, by backward induction
over that order. Access is closed after each power test, which a lazy hand need not do;
so the cost is an upper bound.
"""

from dataclasses import dataclass
from itertools import accumulate
from math import inf

from turnscrew.core.diagnose.compile import Compact
from turnscrew.core.diagnose.problem import Mode
from turnscrew.core.diagnose.solve.bounds import State
from turnscrew.core.diagnose.solve.power import PowerBar

MOST_IN_BLOCK = 3
"""Most repairs before a power test that are looked at [1]."""


LEAST_CHANCE = 0.005
"""Repairs that hardly ever mend are left out of a plan. [1]"""


@dataclass(frozen=True)
class Plan:
    """
    A strategy without tests.

    Parameters
    ----------
    value
        Its expected cost times the weight of the state. [cost]
    block
        Repairs before the next power test, by index; empty with ``gives_up`` false
        means a power test at once.
    gives_up
        True if the best is to give up at once.
    """

    value: float
    block: tuple[int, ...]
    gives_up: bool


@dataclass(frozen=True)
class _Course:
    """
    Repairs in one order; each list but the first has one entry more.

    Parameters
    ----------
    order
        The repairs, by index.
    left
        Weight left broken before each repair and after all. [1]
    kept_off
        Weight of what keeps power off, likewise. [1]
    tail
        Least cost of going on with nothing open, likewise. [cost]
    """

    order: list[int]
    left: list[float]
    kept_off: list[float]
    tail: list[float]


class Planner:
    """
    Plans for many states of one problem.

    Parameters
    ----------
    whole
        The problem, one fault at a time.
    mode
        When a power test is due; in ``free`` a block serves too.
    """

    def __init__(self, whole: Compact, mode: Mode) -> None:
        self.whole = whole
        self.power = PowerBar(whole)
        self.is_block = mode == "block"
        self.longest = 1 if mode == "each" else MOST_IN_BLOCK
        n = range(len(whole.hypotheses))
        self._mends = [
            [(h, p) for h in n if (p := repair.p_mends(h)) > 0]
            for repair in whole.repairs
        ]
        access = whole.access
        self._prices = [
            repair.cost
            + repair.keep_cost
            + access.move(0, repair.need, 0).cost
            + access.closing(repair.need)
            + whole.verify_cost
            for repair in whole.repairs
        ]
        self._give_up = whole.giving_up(0)
        self._tests: dict[int, float] = {}

    def plan(self, state: State) -> Plan:
        """
        Find the best strategy without tests along one order of repairs.

        Parameters
        ----------
        state
            The state.

        Returns
        -------
        Plan
            The strategy.
        """
        order = self._order(state)
        left = self._left(state, order)
        kept_off = self._kept_off(state, order)
        tail = [0.0] * (len(order) + 1)
        course = _Course(order, left, kept_off, tail)
        for i in range(len(order), -1, -1):
            least = self._give_up * left[i]
            for value in self._blocks(course, i, 0):
                least = min(least, value)
            tail[i] = least
        mass = left[0] + state.ok
        best = Plan(self.whole.giving_up(state.open_set) * mass, (), gives_up=True)
        may_power = self.power.is_below(kept_off[0], mass)
        is_due = state.is_pending and self.is_block
        if may_power and (state.ok > 0 or is_due):
            value = self._power_test(state.open_set) * mass + tail[0]
            if value < best.value:
                best = Plan(value, (), gives_up=False)
        first = self._blocks(course, 0, state.open_set, ok=state.ok)
        for n, value in enumerate(first, start=1):
            if value < best.value:
                best = Plan(value, tuple(order[:n]), gives_up=False)
        return best

    def _order(self, state: State) -> list[int]:
        """Most chance for its cost first; what keeps power off before all else."""
        weights = state.weights
        least = LEAST_CHANCE * sum(weights)
        may_power = self.power.allows(weights, state.ok, state.tried)
        ratios: list[tuple[bool, float, int]] = []
        for r, mends in enumerate(self._mends):
            if state.tried >> r & 1:
                continue
            chance = 0.0
            for h, p in mends:
                chance += weights[h] * p
            if chance > least:
                price = self._prices[r]
                is_later = may_power or not self.whole.repairs[r].attends
                ratio = -chance / price if price > 0 else -inf
                ratios.append((is_later, ratio, r))
        ratios.sort()
        return [r for _, _, r in ratios]

    def _kept_off(self, state: State, order: list[int]) -> list[float]:
        """Weight that keeps power off, before each repair of an order and after all."""
        masks = accumulate(order, lambda tried, r: tried | 1 << r, initial=state.tried)
        return [
            sum(state.weights[h] for h in self.power.unattended(mask)) for mask in masks
        ]

    def _left(self, state: State, order: list[int]) -> list[float]:
        weights = list(state.weights)
        broken = sum(weights)
        left = [broken]
        for r in order:
            for h, p in self._mends[r]:
                broken -= weights[h] * p
                weights[h] *= 1 - p
            left.append(max(0.0, broken))
        return left

    def _blocks(
        self, course: _Course, i: int, open_set: int, *, ok: float = 0.0
    ) -> list[float]:
        """Value to the end of a block of one repair, of two and so on, if allowed."""
        whole, move_to = self.whole, self.whole.access.move
        order, left = course.order, course.left
        found: list[float] = []
        mass, cost = left[i] + ok, 0.0
        for j in range(i, min(i + self.longest, len(order))):
            repair = whole.repairs[order[j]]
            move = move_to(open_set, repair.need, repair.shut)
            open_set = move.open_set
            cost += (move.cost + repair.cost) * mass
            if repair.keep_cost:
                cost += repair.keep_cost * (left[j] - left[j + 1])
            value = cost + self._power_test(open_set) * mass + course.tail[j + 1]
            may_power = self.power.is_below(course.kept_off[j + 1], mass)
            found.append(value if may_power else inf)
        return found

    def _power_test(self, open_set: int) -> float:
        """Cost of a power test after which all is closed, whatever it shows."""
        cost = self._tests.get(open_set)
        if cost is None:
            cost = self.whole.access.closing(open_set) + self.whole.verify_cost
            self._tests[open_set] = cost
        return cost
