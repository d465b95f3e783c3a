"""
Which order of one leg is cheapest, and how far is that proven?

A* over absorbed states (what is done, posture, tool): whatever is free of set-up
and at its cheapest is done at once, so only changes of place, dearer modes and
checks that make later items dearer branch.
A state is dropped when another in the same place has done at least as much
for no more.
A narrow beam over the same moves gives a good order early.
"""

import heapq
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from turnscrew.core.opening.solve.bounds import SetUps
from turnscrew.core.opening.solve.compact import FAR
from turnscrew.core.opening.solve.leg import Leg

Onward = tuple[int, int, int, int, int]
"""Done after, place after, cost above the cheapest, item branched on, its mode."""

State = tuple[int, int]
"""What is done, and the place: ``posture * n_tools + tool``."""

Link = tuple[State | None, int, int]
"""The state before, the item branched on (or -1) and its mode's index."""

Asked = Callable[[], bool]

POLLED = 32
"""States opened between two looks at the clock. [1]"""


def never() -> bool:
    """
    Give all the time there is.

    Returns
    -------
    bool
        Always false.
    """
    return False


@dataclass(frozen=True)
class Arrival:
    """
    One finished leg.

    Parameters
    ----------
    place
        Where it ended.
    cost
        Cost of the leg without what its end costs. [problem's unit]
    total
        Cost with what its end costs. [problem's unit]
    state
        The last state.
    links
        How each state on the way was reached.
    """

    place: int
    cost: int
    total: int
    state: State
    links: dict[State, Link]


def moves_from(  # noqa: C901 - one loop over all places, hot
    leg: Leg, done: int, place: int
) -> Iterator[Onward]:
    """
    List the moves that lead on from a state.

    Parameters
    ----------
    leg
        The leg.
    done
        Items done.
    place
        Posture and tool in hand.

    Yields
    ------
    Onward
        Items done after, place after, cost above the cheapest modes,
        item branched on (or -1), index of its mode.
    """
    n_tools = leg.n_tools
    posture, tool = divmod(place, n_tools)
    ready = leg.ready(done)
    changes = leg.changes[tool]
    mask_here, cheap_here, sure_here = leg.mask_here, leg.cheap_here, leg.sure_here
    row_here = posture * n_tools
    for to_posture, turn in enumerate(leg.ways(done)[posture]):
        if turn >= FAR:
            continue
        row = to_posture * n_tools
        turned = sure_here[row + tool]
        for to_tool in range(n_tools):
            to_place = row + to_tool
            fresh = mask_here[to_place] & ready
            if fresh and to_posture != posture and to_tool != tool:
                # Two changes at once pay only for an item that neither alone serves.
                fresh &= ~(turned | sure_here[row_here + to_tool])
            if not fresh:
                continue
            spent = turn + changes[to_tool]
            if to_place != place and fresh & cheap_here[to_place]:
                after = leg.absorb(done, to_place)
                if after != done:
                    yield after, to_place, spent, -1, 0
            if leg.dear_here[to_place]:
                yield from _single_moves(leg, done, ready, to_place, spent)


def _single_moves(
    leg: Leg, done: int, ready: int, place: int, spent: int
) -> Iterator[Onward]:
    """Do one item that is dear here, or one check that makes later items dearer."""
    for (bit, _, _, when), surplus, mode in leg.dear_here[place]:
        if not bit & ready or any(not mask & done for mask in when):
            continue
        extra = surplus
        if bit & leg.late:
            extra += sum(
                more
                for item, check, more in leg.rework
                if check == bit and not item & done
            )
        after = leg.absorb(done | bit, place)
        yield after, place, spent + extra, bit.bit_length() - 1, mode


class LegSearch:
    """
    A resumable best-first search of one leg.

    Parameters
    ----------
    leg
        The leg.
    is_time_up
        Asked now and then; once true, bounds grow weaker.
    final
        Cost of ending the leg in each place; empty for none.
    """

    def __init__(
        self, leg: Leg, is_time_up: Asked, final: tuple[int, ...] = ()
    ) -> None:
        self.leg = leg
        self.final = final
        self.floor = min(final, default=0)
        self.set_ups = SetUps(leg, *_split(leg, final), is_time_up=is_time_up)
        self.cost: dict[State, int] = {}
        self.links: dict[State, Link] = {}
        self.heap: list[tuple[int, int, int, int, int]] = []
        self.opened: list[list[tuple[int, int]]] = [[] for _ in leg.cheap_here]
        self.n_opened = 0
        for posture, tool in leg.starts:
            place = posture * leg.n_tools + tool
            done = leg.absorb(leg.begun, place)
            self._reach((done, place), leg.base, (None, -1, 0))

    @property
    def bound(self) -> int:
        """Total below which no further arrival can come. [problem's unit]."""
        return self.heap[0][0] if self.heap else FAR

    def next_arrival(self, most: int, is_time_up: Asked) -> Arrival | None:
        """
        Go on until the next arrival, a cost limit or the end of time.

        Parameters
        ----------
        most
            Totals of this much or more are of no interest.
        is_time_up
            Asked now and then.

        Returns
        -------
        Arrival | None
            The next cheapest arrival; ``None`` if there is none below the limit
            or time is up.
        """
        heap = self.heap
        while heap and heap[0][0] < most:
            total, _, cost, done, place = heap[0]
            state = (done, place)
            if self.cost[state] < cost:
                heapq.heappop(heap)
                continue
            if done == self.leg.full:
                heapq.heappop(heap)
                return Arrival(place, cost, total, state, self.links)
            self.n_opened += 1
            if self.n_opened % POLLED == 0 and is_time_up():
                return None
            heapq.heappop(heap)
            if not self._is_beaten(done, place, cost):
                for after, to_place, extra, item, mode in moves_from(
                    self.leg, done, place
                ):
                    self._reach((after, to_place), cost + extra, (state, item, mode))
        return None

    def _is_beaten(self, done: int, place: int, cost: int) -> bool:
        """Tell whether a state opened before here had done all this for no more."""
        opened = self.opened[place]
        for other, other_cost in opened:
            if done | other == other and other_cost <= cost and done != other:
                return True
        opened.append((done, cost))
        return False

    def bound_at(self, state: State, cost: int) -> int:
        """
        Bound the total of any leg through a state.

        Parameters
        ----------
        state
            The state.
        cost
            Cost so far, counted from the sum of all cheapest modes.

        Returns
        -------
        int
            A total no leg through the state undercuts. [problem's unit]
        """
        done, place = state
        if done == self.leg.full:
            return cost + (self.final[place] if self.final else 0)
        posture, tool = divmod(place, self.leg.n_tools)
        return cost + self.floor + self.set_ups.least(done, posture, tool)

    def _reach(self, state: State, cost: int, link: Link) -> None:
        if cost >= self.cost.get(state, FAR):
            return
        bound = self.bound_at(state, cost)
        if bound >= FAR:
            return
        self.cost[state] = cost
        self.links[state] = link
        heapq.heappush(self.heap, (bound, -state[0].bit_count(), cost, *state))


def beam(search: LegSearch, width: int, is_time_up: Asked) -> Arrival | None:
    """
    Find a good order early, without proof.

    Parameters
    ----------
    search
        A search of the leg; its bounds rank the states, its progress is not touched.
    width
        States kept from each rank. [1]
    is_time_up
        Asked between ranks.

    Returns
    -------
    Arrival | None
        An arrival; ``None`` if none was found or time is up.
    """
    links: dict[State, Link] = {}
    rank = _starts(search.leg)
    for state in rank:
        links[state] = (None, -1, 0)
    best: Arrival | None = None
    while rank:
        best = _best_arrival(search, rank, links, best)
        reached = _next_rank(search.leg, rank, links)
        if is_time_up():
            return best
        ranked = sorted(
            (search.bound_at(state, cost), -state[0].bit_count(), state, cost)
            for state, cost in reached.items()
        )
        limit = FAR if best is None else best.total
        rank = _kept(search.leg, ranked, width, limit)
    return best


def _kept(
    leg: Leg, ranked: list[tuple[int, int, State, int]], width: int, limit: int
) -> dict[State, int]:
    """Keep the best states, and of each posture the best: some cannot be left again."""
    kept: dict[State, int] = {}
    seen: set[int] = set()
    for bound, _, state, cost in ranked:
        posture = state[1] // leg.n_tools
        if bound < limit and (len(kept) < width or posture not in seen):
            kept[state] = cost
        seen.add(posture)
    return kept


def _starts(leg: Leg) -> dict[State, int]:
    places = [posture * leg.n_tools + tool for posture, tool in leg.starts]
    return {(leg.absorb(leg.begun, place), place): leg.base for place in places}


def _best_arrival(
    search: LegSearch,
    rank: dict[State, int],
    links: dict[State, Link],
    best: Arrival | None,
) -> Arrival | None:
    for state, cost in rank.items():
        if state[0] == search.leg.full:
            total = search.bound_at(state, cost)
            if best is None or total < best.total:
                best = Arrival(state[1], cost, total, state, links)
    return best


def _next_rank(
    leg: Leg, rank: dict[State, int], links: dict[State, Link]
) -> dict[State, int]:
    """Make all moves from a rank; keep the cheapest way to each new state."""
    reached: dict[State, int] = {}
    for state, cost in rank.items():
        for after, place, extra, item, mode in moves_from(leg, *state):
            new = (after, place)
            if new not in links or cost + extra < reached.get(new, -1):
                reached[new] = cost + extra
                links[new] = (state, item, mode)
    return reached


def _split(leg: Leg, final: tuple[int, ...]) -> tuple[list[int], list[int]]:
    """Split the final costs, above their least, into a posture's and a tool's share."""
    if not final:
        return [], []
    n_tools, floor = leg.n_tools, min(final)
    above = [cost - floor for cost in final]
    tools = [min(above[t::n_tools]) for t in range(n_tools)]
    postures = [
        min(above[p * n_tools + t] - tools[t] for t in range(n_tools))
        for p in range(len(leg.turns))
    ]
    return postures, tools
