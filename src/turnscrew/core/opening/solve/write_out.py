"""How does a searched trip read, move by move?"""

from turnscrew.core.opening.answer import Move, MoveKind
from turnscrew.core.opening.problem import OpeningProblem
from turnscrew.core.opening.solve.compact import FAR
from turnscrew.core.opening.solve.leg import Leg
from turnscrew.core.opening.solve.search import Arrival, State
from turnscrew.core.opening.solve.trip import Trip

Deed = tuple[int, int, int]
"""Item, index of its mode, cost."""


def moves_of(problem: OpeningProblem, trip: Trip) -> tuple[Move, ...]:
    """
    Write a trip out in moves.

    Parameters
    ----------
    problem
        The problem with its names.
    trip
        The trip found.

    Returns
    -------
    tuple[Move, ...]
        All moves in order.
    """
    inward = trip.legs[0]
    if trip.inward is None:
        return ()
    writer = _Writer(problem, inward)
    for before, place, done_here in _stages(inward, trip.inward):
        writer.go_to(place, before)
        for item, mode, cost in done_here:
            writer.act("remove", inward.items[item].act, mode, cost)
    if trip.back is not None:
        _write_back(writer, trip.legs, trip.back)
    return tuple(writer.moves)


def _write_back(writer: "_Writer", legs: tuple[Leg, ...], arrival: Arrival) -> None:
    """Write the way back: its stages were found against the clock."""
    inward, back = legs
    writer.add("turn-round", "", 0, 0)
    off_now = {item.act for item in inward.items}
    for _, place, done_here in reversed(_stages(back, arrival)):
        writer.go_to(place, _off_bits(inward, off_now))
        for item, mode, cost in reversed(done_here):
            act = back.items[item].act
            off_now.discard(act)
            writer.act("refit" if act >= 0 else "check", act, mode, cost)
    _, start = _states(arrival)[0]
    writer.go_to(start, _off_bits(inward, off_now))


def _off_bits(leg: Leg, off: set[int]) -> int:
    return sum(1 << i for i, item in enumerate(leg.items) if item.act in off)


def _states(arrival: Arrival) -> list[State]:
    """List the states of an arrival from the first to the last."""
    chain: list[State] = []
    state: State | None = arrival.state
    while state is not None:
        chain.append(state)
        state = arrival.links[state][0]
    return chain[::-1]


def _stages(leg: Leg, arrival: Arrival) -> list[tuple[int, int, list[Deed]]]:
    """List the stages of a leg: what was done before, the place, what is done there."""
    stages = []
    done = leg.begun
    for state in _states(arrival):
        after, place = state
        _, item, mode = arrival.links[state]
        here: list[Deed] = []
        grown = done
        if item >= 0:
            here.append((item, mode, _cost(leg, item, mode, grown)))
            grown |= 1 << item
        here += _absorbed(leg, grown, place, after)
        stages.append((done, place, here))
        done = after
    return stages


def _cost(leg: Leg, item: int, mode: int, done: int) -> int:
    for m in leg.modes[item]:
        if m.index == mode:
            return m.cost + _late_cost(leg, item, done)
    raise RuntimeError(f"item {item} has no mode {mode}")


def _late_cost(leg: Leg, item: int, done: int) -> int:
    """Give the rework an item carries because its check is already done on this leg."""
    bit = 1 << item
    return sum(more for b, check, more in leg.rework if b == bit and check & done)


def _absorbed(leg: Leg, done: int, place: int, after: int) -> list[Deed]:
    """List what was absorbed in a place, in an order that respects all needs."""
    posture, tool = divmod(place, leg.n_tools)
    found = []
    again = True
    while again and done != after:
        again = False
        for bit, need, alternatives, when in leg.ready_here[place]:
            if bit & done or need & ~done or not bit & after:
                continue
            if all(m & done for m in alternatives) and all(m & done for m in when):
                item = bit.bit_length() - 1
                mode = _mode_here(leg, item, posture, tool, done)
                found.append((item, mode, _cost(leg, item, mode, done)))
                done |= bit
                again = True
    return found


def _mode_here(leg: Leg, item: int, posture: int, tool: int, done: int) -> int:
    for mode in leg.modes[item]:
        if (
            mode.cost == leg.least[item]
            and mode.postures >> posture & 1
            and mode.tool in (-1, tool)
            and all(mask & done for mask in mode.when)
        ):
            return mode.index
    raise RuntimeError(f"item {item} has no cheapest mode here")


class _Writer:
    """Keeps place and tool while moves are written."""

    def __init__(self, problem: OpeningProblem, leg: Leg) -> None:
        self.problem = problem
        self.leg = leg
        self.posture = problem.postures.index(problem.start_posture)
        self.tool = problem.tools.index(problem.start_tool)
        self.moves: list[Move] = []

    def add(self, kind: MoveKind, name: str, cost: int, mode: int) -> None:
        posture = self.problem.postures[self.posture]
        tool = self.problem.tools[self.tool]
        self.moves.append(Move(kind, name, cost, mode, posture, tool))

    def act(self, kind: MoveKind, act: int, mode: int, cost: int) -> None:
        name = (
            self.problem.actions[act].name
            if act >= 0
            else self.problem.checks[-1 - act].name
        )
        self.add(kind, name, cost, mode)

    def go_to(self, place: int, off: int) -> None:
        posture, tool = divmod(place, self.leg.n_tools)
        if tool != self.tool:
            cost = self.leg.changes[self.tool][tool]
            self.tool = tool
            self.add("take", self.problem.tools[tool], cost, 0)
        for end in self._way(posture, off):
            cost = self._edge(self.posture, end, off)
            self.posture = end
            self.add("turn", self.problem.postures[end], cost, 0)

    def _way(self, posture: int, off: int) -> list[int]:
        """Find the cheapest turns to a posture, of equally cheap ones the fewest."""
        best = {self.posture: (0, 0, [self.posture])}
        waiting = [self.posture]
        while waiting:
            here = min(waiting, key=lambda p: best[p][:2])
            waiting.remove(here)
            cost, n_turns, way = best[here]
            for end in range(len(self.leg.turns)):
                edge = self._edge(here, end, off)
                known = best.get(end, (FAR, 0, []))[:2]
                if edge < FAR and (cost + edge, n_turns + 1) < known:
                    best[end] = (cost + edge, n_turns + 1, [*way, end])
                    waiting.append(end)
        return best[posture][2][1:]

    def _edge(self, start: int, end: int, off: int) -> int:
        for a, b, needs in self.leg.guards:
            if (a, b) == (start, end):
                if needs is None or not all(mask & off for mask in needs):
                    return FAR
        return self.leg.turns[start][end]
