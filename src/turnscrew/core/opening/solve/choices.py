"""
What shall come off at all?

Where there is more than one way in, or where taking something extra off makes
other work cheaper, a choice is open.
Choices are settled one at a time, always going on from the cheapest bound;
once all are settled the trip itself is searched exactly.
"""

import heapq
from dataclasses import dataclass, field

from turnscrew.core.opening.solve.bounds import SetUps
from turnscrew.core.opening.solve.compact import FAR, Compact, Masks, bits_of
from turnscrew.core.opening.solve.layout import due_checks, way_back, way_in
from turnscrew.core.opening.solve.leg import Scope
from turnscrew.core.opening.solve.reach import Musts, musts, removable
from turnscrew.core.opening.solve.search import Asked, never
from turnscrew.core.opening.solve.trip import NO_TRIP, Trip, cheapest_trip


@dataclass(order=True)
class Choice:
    """
    A part of the choices settled.

    Parameters
    ----------
    bound
        Cost no trip under these choices undercuts. [problem's unit]
    rank
        Settles ties: deeper first, then in order of making.
    certain
        Actions that come off.
    shut
        Actions that stay on.
    set_ups
        The share of the bound that is set-ups. [problem's unit]
    is_refined
        True once the set-ups were bounded for this very choice.
    """

    bound: int
    rank: tuple[int, int]
    certain: int = field(compare=False)
    shut: int = field(compare=False)
    set_ups: int = field(compare=False)
    is_refined: bool = field(compare=False)


class ChoiceSearch:
    """
    Best-first search over what comes off.

    Parameters
    ----------
    problem
        The problem in bits.
    can
        What can come off at all.
    is_time_up
        Asked now and then.
    one_way
        True for the way in alone.
    """

    def __init__(
        self, problem: Compact, can: int, is_time_up: Asked, *, one_way: bool
    ) -> None:
        self.problem = problem
        self.one_way = one_way
        self.is_time_up = is_time_up
        self.musts: Musts = musts(problem, can, one_way=one_way)
        self.never = ((1 << problem.n) - 1) & ~can
        self.best: Trip = NO_TRIP
        self.heap: list[Choice] = []
        self.n_made = 0
        self.unfinished: list[tuple[int, int]] = []
        self.gates = 0
        for _, _, needs in problem.guards:
            for mask in needs:
                self.gates |= mask

    def run(self) -> Trip:
        """
        Settle all choices.

        Returns
        -------
        Trip
            The cheapest trip with the bound proven for all trips.
        """
        wanted = self.problem.targets | self.problem.already_off
        self._add(wanted, self.never, set_ups=0, is_refined=False)
        if self.heap:
            # What the first bound knows of set-ups, all later choices inherit.
            self._refine(heapq.heappop(self.heap))
        while self.heap and self.heap[0].bound < self.best.total:
            if self.is_time_up() and self.best.inward:
                break
            self._go_on(heapq.heappop(self.heap))
        if not self.best.inward:
            self._insist()
        left = [bound for bound, _ in self.unfinished]
        left += [choice.bound for choice in self.heap[:1]]
        lowest = min([self.best.total, *left])
        best = self.best
        return Trip(best.total, lowest, best.inward, best.back, best.legs)

    def _insist(self) -> None:
        """Search what was broken off before any trip was found, time or no time."""
        for _, off in sorted(self.unfinished):
            trip = self._trip(off, never)
            if trip.inward:
                self.best = trip
                return
        # Every broken-off set has now been searched to its end: none has a trip.
        self.unfinished = []

    def _trip(self, off: int, is_time_up: Asked) -> Trip:
        return cheapest_trip(
            self.problem, off, self.best.total, is_time_up, one_way=self.one_way
        )

    def _go_on(self, choice: Choice) -> None:
        """Refine, branch or search a choice."""
        if self.best.inward and not choice.is_refined:
            self._refine(choice)
            return
        letter = self._next_open(choice)
        if letter:
            self._branch(choice, letter)
            return
        most = self.best.total
        trip = self._trip(choice.certain, self.is_time_up)
        if trip.total < most:
            self.best = trip
        if trip.bound < min(most, trip.total):
            bound = max(trip.bound, choice.bound)
            self.unfinished.append((bound, choice.certain))

    def _branch(self, choice: Choice, letter: int) -> None:
        shut = choice.shut | letter
        # Without what opens a turn some postures, and so some work, are out of reach.
        if not letter & self.gates or not choice.certain & ~removable(
            self.problem, shut
        ):
            self._add(
                choice.certain,
                shut,
                set_ups=choice.set_ups,
                is_refined=choice.is_refined,
            )
        self._add(
            choice.certain | letter,
            choice.shut,
            set_ups=choice.set_ups,
            is_refined=False,
        )

    def _add(self, certain: int, shut: int, *, set_ups: int, is_refined: bool) -> None:
        closure = self._closure(certain, shut)
        if closure is None:
            return
        bound = self._least(closure, shut) + set_ups
        if bound < self.best.total:
            self.n_made += 1
            rank = (-(closure | shut).bit_count(), self.n_made)
            heapq.heappush(
                self.heap, Choice(bound, rank, closure, shut, set_ups, is_refined)
            )

    def _refine(self, choice: Choice) -> None:
        """Bound the set-ups of a choice by its legs, each with free choices waived."""
        every = (1 << self.problem.n) - 1
        scope = Scope(choice.certain, every & ~choice.certain & ~choice.shut)
        set_ups = 0
        for lay_out in (way_in,) if self.one_way else (way_in, way_back):
            leg = lay_out(self.problem, scope)
            if leg is None:
                return
            least = SetUps(leg, is_time_up=self.is_time_up)
            set_ups += min(
                least.least(leg.begun, posture, tool) for posture, tool in leg.starts
            )
        choice.bound += max(0, set_ups - choice.set_ups)
        choice.set_ups = max(set_ups, choice.set_ups)
        choice.is_refined = True
        if choice.bound < self.best.total:
            heapq.heappush(self.heap, choice)

    def _closure(self, certain: int, shut: int) -> int | None:
        """Add all that must come off too; None if something shut would have to."""
        done = 0
        while not certain & shut:
            fresh = certain & ~done
            if not fresh:
                return certain
            for a in bits_of(fresh):
                grown = self._drawn_in(a, shut)
                if grown is None:
                    return None
                certain |= grown
            done |= fresh
        return None

    def _drawn_in(self, a: int, shut: int) -> int | None:
        """Give what one action draws in; None if it needs something shut."""
        before = self.musts.before
        found = before[a]
        for mask in self._needs(a):
            left = mask & ~shut
            if not left:
                return None
            if left != mask:
                common = -1
                for b in bits_of(left):
                    common &= before[b]
                found |= common
        return found

    def _needs(self, a: int) -> Masks:
        if self.one_way and self.problem.already_off >> a & 1:
            return ()
        return self.problem.acts[a].needs

    def _least(self, certain: int, shut: int) -> int:
        """Bound the cost of all doing, set-ups aside."""
        problem = self.problem
        total = 0
        for a in bits_of(certain):
            act = problem.acts[a]
            groups = [] if problem.already_off >> a & 1 else [act.modes]
            if not self.one_way:
                groups.append(act.refit_modes)
            for modes in groups:
                total += min(
                    (
                        mode.cost
                        for mode in modes
                        if all(mask & ~shut for mask in mode.when)
                    ),
                    default=FAR,
                )
        if not self.one_way:
            due = due_checks(problem, certain)
            total += sum(problem.checks[k].mode.cost for k in due)
        ways = (self._least_way(m & ~shut, certain) for m in self._unmet(certain))
        return total + max(ways, default=0)

    def _unmet(self, certain: int) -> list[int]:
        return [
            mask
            for a in bits_of(certain)
            for mask in self._needs(a)
            if not mask & certain
        ]

    def _next_open(self, choice: Choice) -> int:
        """Pick the next action to settle: first the ways in, then the extras."""
        certain, shut = choice.certain, choice.shut
        unmet = self._unmet(certain)
        if unmet:
            mask = max(unmet, key=lambda m: self._least_way(m & ~shut, certain))
            return self._cheapest(mask & ~shut, certain)
        extras = self._useful(certain) & ~certain & ~shut
        return self._cheapest(extras, certain) if extras else 0

    def _added(self, b: int, certain: int) -> int:
        """Bound what one more action costs, with all that must come off for it."""
        return self.musts.cost(self.musts.before[b] & ~certain)

    def _least_way(self, mask: int, certain: int) -> int:
        return min(self._added(b, certain) for b in bits_of(mask))

    def _cheapest(self, mask: int, certain: int) -> int:
        return 1 << min(bits_of(mask), key=lambda b: (self._added(b, certain), b))

    def _useful(self, certain: int) -> int:
        """Find all whose coming off could make other work cheaper or sooner."""
        found = self.gates
        for a in bits_of(certain):
            act = self.problem.acts[a]
            for mask in self._needs(a):
                if mask & (mask - 1):
                    found |= mask
            modes = act.modes if self.one_way else act.modes + act.refit_modes
            for mode in modes:
                for mask in mode.when:
                    found |= mask
        return found
