"""
What does the cheapest plan cost, found by trying every state?

Dijkstra over (what is off, posture, tool, whether the turn-round is past,
which due checks are not yet passed), with sets of names as whole numbers, one bit each.
No bound, no dominance, no relevance: for small problems only.
"""

import heapq
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from turnscrew.core.opening.answer import Move
from turnscrew.core.opening.problem import Cnf, Mode, OpeningProblem

Bits = int
BitCnf = tuple[Bits, ...]
State = tuple[Bits, int, int, bool, Bits]


class BitMode(NamedTuple):
    index: int
    postures: frozenset[int]
    tool: int | None
    cost: int
    when: BitCnf


class BitAct(NamedTuple):
    name: str
    bit: Bits
    needs: BitCnf
    modes: tuple[BitMode, ...]
    refit_modes: tuple[BitMode, ...]
    refit_after: Bits
    refit_checks: Bits


class BitCheck(NamedTuple):
    name: str
    bit: Bits
    mode: BitMode
    fitted: Bits
    triggers: Bits
    rework: dict[str, int]


class Board:
    """A problem with its names as bits and indices."""

    def __init__(self, problem: OpeningProblem, *, one_way: bool) -> None:
        self.problem = problem
        self.one_way = one_way
        self.bit = {act.name: 1 << i for i, act in enumerate(problem.actions)}
        self.check_bit = {check.name: 1 << i for i, check in enumerate(problem.checks)}
        self.posture = {name: i for i, name in enumerate(problem.postures)}
        self.tool = {name: i for i, name in enumerate(problem.tools)}
        self.targets = self.bits(problem.targets)
        self.acts = [
            BitAct(
                act.name,
                self.bit[act.name],
                self.cnf(act.needs),
                self.modes(act.modes),
                self.modes(act.refit_modes),
                self.bits(act.refit_after),
                sum(self.check_bit[name] for name in set(act.refit_checks)),
            )
            for act in problem.actions
        ]
        self.checks = [
            BitCheck(
                check.name,
                self.check_bit[check.name],
                self.modes((Mode(check.postures, check.tool, check.cost),))[0],
                self.bits(check.fitted),
                self.bits(check.applies_if_removed),
                dict(check.rework),
            )
            for check in problem.checks
        ]
        self.guards = [
            (self.posture[g.start], self.posture[g.end], self.cnf(g.needs))
            for g in problem.guards
        ]

    def bits(self, names: Iterable[str]) -> Bits:
        return sum(self.bit[name] for name in set(names))

    def cnf(self, needs: Cnf) -> BitCnf:
        return tuple(self.bits(group) for group in needs)

    def modes(self, modes: tuple[Mode, ...]) -> tuple[BitMode, ...]:
        return tuple(
            BitMode(
                index,
                frozenset(self.posture[name] for name in mode.postures),
                None if mode.tool is None else self.tool[mode.tool],
                mode.cost,
                self.cnf(mode.when),
            )
            for index, mode in enumerate(modes)
        )

    def move(self, kind: str, name: str, cost: int, mode: int, after: State) -> Move:
        posture = self.problem.postures[after[1]]
        return Move(kind, name, cost, mode, posture, self.problem.tools[after[2]])


Step = tuple[int, State, str, str, int]
"""Cost, state after, kind, name, mode."""


def cheapest(
    problem: OpeningProblem, *, one_way: bool
) -> tuple[int, tuple[Move, ...]] | None:
    """Give cost and moves of a cheapest plan, or None if there is no plan."""
    board = Board(problem, one_way=one_way)
    start: State = (
        board.bits(problem.already_off),
        board.posture[problem.start_posture],
        board.tool[problem.start_tool],
        False,
        0,
    )
    cost_to = {start: 0}
    came_by: dict[State, tuple[State, Step]] = {}
    queue = [(0, start)]
    settled: set[State] = set()
    while queue:
        cost, state = heapq.heappop(queue)
        if state in settled:
            continue
        settled.add(state)
        if is_goal(board, state):
            return cost, moves_to(board, state, came_by)
        for step in steps_from(board, state):
            total, after = cost + step[0], step[1]
            if after not in cost_to or total < cost_to[after]:
                cost_to[after] = total
                came_by[after] = (state, step)
                heapq.heappush(queue, (total, after))
    return None


def is_goal(board: Board, state: State) -> bool:
    off, posture, _, is_back, awaited = state
    if board.one_way:
        return off & board.targets == board.targets
    is_closed = is_back and not off and not awaited
    return is_closed and board.problem.postures[posture] == board.problem.end_posture


def moves_to(
    board: Board, state: State, came_by: dict[State, tuple[State, Step]]
) -> tuple[Move, ...]:
    moves = []
    while state in came_by:
        before, (cost, after, kind, name, mode) = came_by[state]
        moves.append(board.move(kind, name, cost, mode, after))
        state = before
    return tuple(reversed(moves))


def holds(needs: BitCnf, off: Bits) -> bool:
    return all(group & off for group in needs)


def steps_from(board: Board, state: State) -> Iterator[Step]:
    yield from turns(board, state)
    yield from takes(board, state)
    if state[3]:
        yield from refits(board, state)
        yield from checks(board, state)
    else:
        yield from removals(board, state)
        yield from turn_round(board, state)


def turn_round(board: Board, state: State) -> Iterator[Step]:
    off, posture, tool, _, _ = state
    if not board.one_way and off & board.targets == board.targets:
        due = sum(c.bit for c in board.checks if not c.triggers or c.triggers & off)
        yield 0, (off, posture, tool, True, due), "turn-round", "", 0


def turns(board: Board, state: State) -> Iterator[Step]:
    off, start, tool, is_back, awaited = state
    for end, cost in enumerate(board.problem.posture_cost[start]):
        if end == start or cost is None:
            continue
        if all(holds(n, off) for s, e, n in board.guards if (s, e) == (start, end)):
            after = (off, end, tool, is_back, awaited)
            yield cost, after, "turn", board.problem.postures[end], 0


def takes(board: Board, state: State) -> Iterator[Step]:
    off, posture, start, is_back, awaited = state
    for end, cost in enumerate(board.problem.tool_cost[start]):
        if end != start:
            after = (off, posture, end, is_back, awaited)
            yield cost, after, "take", board.problem.tools[end], 0


def can_be_used(mode: BitMode, state: State) -> bool:
    off, posture, tool, _, _ = state
    is_here = posture in mode.postures and mode.tool in (None, tool)
    return is_here and holds(mode.when, off)


def removals(board: Board, state: State) -> Iterator[Step]:
    off, posture, tool, is_back, awaited = state
    for act in board.acts:
        if off & act.bit or not holds(act.needs, off):
            continue
        after = (off | act.bit, posture, tool, is_back, awaited)
        for mode in act.modes:
            if can_be_used(mode, state):
                yield mode.cost, after, "remove", act.name, mode.index


def refits(board: Board, state: State) -> Iterator[Step]:
    off, posture, tool, is_back, awaited = state
    for act in board.acts:
        rest = off & ~act.bit
        if not off & act.bit or not may_go_back(board, act, rest, awaited):
            continue
        rework = sum(c.rework.get(act.name, 0) for c in board.checks if c.bit & awaited)
        after = (rest, posture, tool, is_back, awaited)
        for mode in act.refit_modes:
            if can_be_used(mode, state):
                yield mode.cost + rework, after, "refit", act.name, mode.index


def may_go_back(board: Board, act: BitAct, rest: Bits, awaited: Bits) -> bool:
    return (
        holds(act.needs, rest)
        and not act.refit_after & rest
        and not act.refit_checks & awaited
        and all(holds(other.needs, rest) for other in board.acts if other.bit & rest)
    )


def checks(board: Board, state: State) -> Iterator[Step]:
    off, posture, tool, is_back, awaited = state
    for check in board.checks:
        if not check.bit & awaited or check.fitted & off:
            continue
        if can_be_used(check.mode, state):
            after = (off, posture, tool, is_back, awaited & ~check.bit)
            yield check.mode.cost, after, "check", check.name, 0
