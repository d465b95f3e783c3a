"""
Which strategy costs least?

Method: depth-first search over alternatives and outcomes with a memory. A budget is
passed down: a branch is left as soon as it must cost more than what it competes with,
and what was proven of it so far is kept as a bound. Bounds of states not yet searched
come from ``bounds``. Values are weighted by the probability of their state.
"""

from collections.abc import Callable, Hashable
from dataclasses import dataclass, replace
from math import frexp, inf
from typing import Literal

from turnscrew.core.diagnose.compile import Compact
from turnscrew.core.diagnose.problem import Mode
from turnscrew.core.diagnose.solve.bounds import (
    Bounds,
    State,
    least_when_ok,
    repaired,
)
from turnscrew.core.diagnose.solve.power import PowerBar

Asked = Callable[[], bool]
_DIGITS = 11
_LOOK_EVERY = 64


class OutOfTimeError(Exception):
    """The time is up, or enough states were searched."""


@dataclass(slots=True)
class Option:
    """
    One action from a state.

    Parameters
    ----------
    kind
        What it is.
    index
        Test or repair, by index; -1 for the power test.
    cost
        What it costs at once, times the state's weight. [cost]
    leasts
        For each outcome a bound on the value of the state after it. [cost]
    total
        Cost and bounds together. [cost]
    open_set
        What is open afterwards.
    """

    kind: Literal["test", "repair", "verify"]
    index: int
    cost: float
    leasts: list[float]
    total: float
    open_set: int


class Search:
    """
    The search with its memory.

    Parameters
    ----------
    whole
        The problem.
    mode
        When a power test is due.
    bounds
        Bounds of states not yet searched.
    is_time_up
        Asked now and then.
    """

    def __init__(
        self, whole: Compact, mode: Mode, bounds: Bounds, is_time_up: Asked
    ) -> None:
        self.whole = whole
        self.mode = mode
        self.bounds = bounds
        self.is_time_up = is_time_up
        self.memory: dict[Hashable, tuple[float, bool]] = {}
        self.n_states = 0
        self.most_states = inf
        self.power = PowerBar(whole)
        self._is_single = whole.is_single
        self._ok_costs: dict[int, float] = {}
        self._digits: list[int] = []
        worth = 1
        for test in whole.tests:
            self._digits.append(worth)
            worth *= len(test.ok_row) + 1
        n = range(len(whole.hypotheses))
        self._rows = [
            [[row[o] for row in test.rows] for o in range(len(test.ok_row))]
            for test in whole.tests
        ]
        self._touches = [
            [h for h in n if repair.goes[h] != ((h, 1.0),)] for repair in whole.repairs
        ]
        self._stays = [[1 - repair.p_mends(h) for h in n] for repair in whole.repairs]

    # --- states ---------------------------------------------------------------

    def start(self) -> State:
        """Give the state at the beginning."""
        whole = self.whole
        n = self.bounds.n_groups
        state = State(
            outcomes=0,
            tried=0,
            open_set=whole.open_now,
            is_pending=False,
            ok=whole.p_ok,
            weights=list(whole.prior),
            places=[0] * n,
            scales=[1.0] * n,
            least=0.0,
        )
        state.least = self.bounds.at(state, whole.open_now) + whole.p_ok * self.when_ok(
            whole.open_now
        )
        return state

    def key(self, state: State) -> Hashable:
        """Name what the value of a state depends on."""
        flags = state.open_set << 1 | state.is_pending
        if self._is_single:
            # The weights follow from the evidence; what was mended does not. However
            # little of it there is, it is kept apart from none.
            digits, exponent = frexp(state.ok)
            return (
                state.outcomes,
                state.tried,
                flags,
                round(digits, _DIGITS),
                exponent,
            )
        mass = state.mass
        belief = tuple(round(weight / mass, _DIGITS) for weight in state.weights)
        return (state.outcomes, state.tried, flags, belief)

    def when_ok(self, open_set: int) -> float:
        """Cost of a device that works, not yet seen to [cost]."""
        cost = self._ok_costs.get(open_set)
        if cost is None:
            cost = self._ok_costs[open_set] = least_when_ok(self.whole, open_set)
        return cost

    def after(self, state: State, option: Option, outcome: int) -> State:
        """
        Give the state after an action.

        Parameters
        ----------
        state
            The state before.
        option
            The action.
        outcome
            Its outcome, by index; 0 after a repair, and after a power test that failed.

        Returns
        -------
        State
            The state after.
        """
        least = option.leasts[outcome]
        if option.kind == "test":
            t, o = option.index, outcome
            places, scales = self.bounds.place_test(state, t, o)
            return State(
                state.outcomes + (o + 1) * self._digits[t],
                state.tried,
                option.open_set,
                state.is_pending,
                state.ok * self.whole.tests[t].ok_row[o],
                [w * p for w, p in zip(state.weights, self._rows[t][o], strict=True)],
                places,
                scales,
                least,
            )
        if option.kind == "verify":
            return replace(
                state, open_set=option.open_set, is_pending=False, ok=0.0, least=least
            )
        return self._after_repair(state, option.index, option.open_set, least)

    def _after_repair(self, state: State, r: int, open_set: int, least: float) -> State:
        if self._is_single:
            stays = self._stays[r]
            weights = [w * p for w, p in zip(state.weights, stays, strict=True)]
            mended = sum(state.weights) - sum(weights)
        else:
            weights, mended = repaired(self.whole, state.weights, r)
        is_each = self.mode == "each"
        return State(
            outcomes=state.outcomes,
            tried=state.tried | 1 << r,
            open_set=open_set,
            is_pending=not is_each,
            ok=0.0 if is_each else state.ok + mended,
            weights=weights,
            places=self.bounds.place_repair(state, r),
            scales=state.scales,
            least=least,
        )

    # --- actions --------------------------------------------------------------

    def options(self, state: State, *, with_useless: bool = False) -> list[Option]:
        """
        List the actions from a state, the most hopeful first.

        Parameters
        ----------
        state
            The state.
        with_useless
            True to list also what cannot change anything.

        Returns
        -------
        list[Option]
            The actions; giving up is not among them.
        """
        mass = state.mass
        found: list[Option] = []
        may_power = self.power.allows(state.weights, state.ok, state.tried)
        if not (state.is_pending and self.mode == "block"):
            found += self._tests(
                state, mass, may_power=may_power, with_useless=with_useless
            )
        found += self._repairs(state, mass, with_useless=with_useless)
        if may_power and (state.ok > 0 or (state.is_pending and self.mode == "block")):
            found.append(self._verification(state, mass))
        found.sort(key=lambda option: option.total)
        return found

    def _tests(
        self, state: State, mass: float, *, may_power: bool, with_useless: bool
    ) -> list[Option]:
        whole, bounds = self.whole, self.bounds
        found: list[Option] = []
        for t, test in enumerate(whole.tests):
            n = len(test.ok_row)
            if state.outcomes // self._digits[t] % (n + 1):
                continue
            if test.powers and not may_power:
                continue
            if not (with_useless or self._tells(state, t)):
                continue
            move = whole.access.move(state.open_set, test.need, test.shut)
            there = move.open_set
            cost = (move.cost + test.cost) * mass
            leasts = [bounds.after_test(state, t, o, there) for o in range(n)]
            if state.ok > 0:
                when_ok = state.ok * self.when_ok(there)
                leasts = [
                    least + when_ok * p
                    for least, p in zip(leasts, test.ok_row, strict=True)
                ]
            found.append(Option("test", t, cost, leasts, cost + sum(leasts), there))
        return found

    def _tells(self, state: State, t: int) -> bool:
        test = self.whole.tests[t]
        alive = [row for row, w in zip(test.rows, state.weights, strict=True) if w > 0]
        if state.ok > 0:
            alive.append(test.ok_row)
        first = alive[0]
        return any(row != first for row in alive)

    def _repairs(
        self, state: State, mass: float, *, with_useless: bool
    ) -> list[Option]:
        whole = self.whole
        found: list[Option] = []
        for r, repair in enumerate(whole.repairs):
            if state.tried >> r & 1:
                continue
            if not with_useless and not any(
                state.weights[h] > 0 for h in self._touches[r]
            ):
                continue
            move = whole.access.move(state.open_set, repair.need, repair.shut)
            cost = move.cost + repair.cost
            there = move.open_set
            if self.mode == "each":
                # What a repair leaves alone keeps its weight, so this is known before.
                tried = state.tried | 1 << r
                if self.power.allows(state.weights, state.ok, tried):
                    found.append(self._repair_and_verify(state, r, cost, there, mass))
                continue
            mended = self._mended(state, r)
            broken = mass - state.ok - mended
            least = self.bounds.waiting(state, r, there, broken, mass)
            total = cost * mass + repair.keep_cost * mended
            found.append(Option("repair", r, total, [least], total + least, there))
        return found

    def _repair_and_verify(
        self, state: State, r: int, cost: float, there: int, mass: float
    ) -> Option:
        whole = self.whole
        done = whole.access.move(there, 0, whole.verify_shut)
        total = (cost + done.cost + whole.verify_cost) * mass
        end, keep = whole.access.closing(done.open_set), whole.repairs[r].keep_cost
        if end or keep:
            mended = self._mended(state, r)
            total += end * (state.ok + mended) + keep * mended
        least = self.bounds.after_repair(state, r, done.open_set)
        return Option("repair", r, total, [least], total + least, done.open_set)

    def _mended(self, state: State, r: int) -> float:
        repair = self.whole.repairs[r]
        return sum(
            state.weights[h] * repair.p_mends(h)
            for h in self._touches[r]
            if state.weights[h] > 0
        )

    def _verification(self, state: State, mass: float) -> Option:
        whole = self.whole
        move = whole.access.move(state.open_set, 0, whole.verify_shut)
        end = whole.access.closing(move.open_set)
        cost = (move.cost + whole.verify_cost) * mass + end * state.ok
        least = self.bounds.at(state, move.open_set)
        return Option("verify", -1, cost, [least], cost + least, move.open_set)

    # --- values ---------------------------------------------------------------

    def value(self, state: State, limit: float) -> float:
        """
        Find the value of a state, or prove that it is not below a limit.

        Parameters
        ----------
        state
            The state.
        limit
            What is too much anyway. [cost]

        Returns
        -------
        float
            The value if it is below the limit, else a bound not below it. [cost]

        Raises
        ------
        OutOfTimeError
            If the time is up or enough states were searched.
        """
        if state.least >= limit:
            return state.least
        key = self.key(state)
        known = self._known(key, state)
        if known is not None and (known[1] or known[0] >= limit):
            return known[0]
        least = self.bounds.refined(state)
        if least >= limit:
            return least
        self.n_states += 1
        if self.n_states % _LOOK_EVERY == 0 and (
            self.n_states > self.most_states or self.is_time_up()
        ):
            raise OutOfTimeError
        best = self.whole.giving_up(state.open_set) * state.mass
        floor = best
        for option in self.options(state):
            cut = min(best, limit)
            if option.total >= cut:
                floor = min(floor, option.total)
                break
            total = self.option_value(state, option, cut)
            best = min(best, total) if total < cut else best
            floor = min(floor, total)
        is_exact = best < limit
        found = best if is_exact else max(floor, state.least)
        self._remember(key, state, found, is_exact=is_exact)
        return found

    def option_value(self, state: State, option: Option, cut: float) -> float:
        """
        Find the value of an action, or prove that it is not below a limit.

        Parameters
        ----------
        state
            The state before.
        option
            The action.
        cut
            What is too much anyway. [cost]

        Returns
        -------
        float
            The value if it is below the limit, else a bound not below it. [cost]

        Raises
        ------
        OutOfTimeError
            If the time is up or enough states were searched.
        """
        total, leasts = option.total, option.leasts
        for o in sorted(range(len(leasts)), key=leasts.__getitem__, reverse=True):
            if total >= cut:
                break
            after = self.after(state, option, o)
            if leasts[o] <= 0 and after.mass <= 0:
                continue
            total += self.value(after, cut - (total - leasts[o])) - leasts[o]
        return total

    def _known(self, key: Hashable, state: State) -> tuple[float, bool] | None:
        known = self.memory.get(key)
        if known is None:
            return None
        return known[0] * self._scale(state), known[1]

    def _remember(
        self, key: Hashable, state: State, value: float, *, is_exact: bool
    ) -> None:
        self.memory[key] = (value / self._scale(state), is_exact)

    def _scale(self, state: State) -> float:
        # Of one fault at a time states of one key share all their weights; of several
        # only their belief.
        return 1.0 if self._is_single else state.mass
