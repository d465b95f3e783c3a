"""
What do simple rules give for the same wish, to see what the optimum is worth?

Both rules remove what the first-listed way asks for at every choice, then put it back
in the opposite order as far as the rules of the way back allow.
Their plans are written as lines, priced and replayed like any other plan.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from tests.opening_cases import TURN_ROUND, plan_of

from turnscrew.core.opening.answer import Move
from turnscrew.core.opening.problem import Act, Cnf, Mode, OpeningProblem
from turnscrew.core.opening.solve import solve

OUT_OF_REACH = 10**9


class StuckError(Exception):
    """Say that a rule has led to where nothing goes on."""


@dataclass
class Bench:
    """Posture, tool and lines so far."""

    problem: OpeningProblem
    posture: str
    tool: str
    lines: list[str] = field(default_factory=list)
    off: set[str] = field(default_factory=set)

    def price(self, mode: Mode) -> tuple[int, int]:
        """Price a mode from here: set-up, then the cost of the action."""
        change = 0
        if mode.tool not in (None, self.tool):
            tools = self.problem.tools
            row = self.problem.tool_cost[tools.index(self.tool)]
            change = row[tools.index(str(mode.tool))]
        return self._nearest(mode)[0] + change, mode.cost

    def use(self, mode: Mode, line: str) -> None:
        """Turn, take the tool and do something."""
        path = self._nearest(mode)[1]
        self.lines += [f"turn to {name}" for name in path]
        self.posture = path[-1] if path else self.posture
        if mode.tool not in (None, self.tool):
            self.lines.append(f"take {mode.tool}")
        self.tool = mode.tool or self.tool
        self.lines += [line] if line else []

    def open_modes(self, modes: tuple[Mode, ...]) -> list[Mode]:
        """Give the modes that are open and within reach now."""
        return [
            mode
            for mode in modes
            if holds(mode.when, self.off) and self.price(mode)[0] < OUT_OF_REACH
        ]

    def _nearest(self, mode: Mode) -> tuple[int, tuple[str, ...]]:
        ways = self._ways()
        return min(ways.get(name, (OUT_OF_REACH, ())) for name in mode.postures)

    def _ways(self) -> dict[str, tuple[int, tuple[str, ...]]]:
        """Find the cheapest turns to every posture while this is off."""
        best: dict[str, tuple[int, tuple[str, ...]]] = {self.posture: (0, ())}
        waiting = [self.posture]
        names = self.problem.postures
        while waiting:
            here = waiting.pop()
            row = self.problem.posture_cost[names.index(here)]
            for end, edge in zip(names, row, strict=True):
                if edge is None or end == here or self._is_barred(here, end):
                    continue
                new = (best[here][0] + edge, (*best[here][1], end))
                if end not in best or new[0] < best[end][0]:
                    best[end] = new
                    waiting.append(end)
        return best

    def _is_barred(self, start: str, end: str) -> bool:
        return any(
            (guard.start, guard.end) == (start, end)
            and not holds(guard.needs, self.off)
            for guard in self.problem.guards
        )


def holds(needs: Cnf, off: set[str]) -> bool:
    """Tell whether an AND of ORs holds."""
    return all(any(name in off for name in group) for group in needs)


def behind_guard(problem: OpeningProblem, act: Act) -> list[str]:
    """Name what guards every posture in which an action can be done."""
    guards = {guard.end: guard.needs for guard in problem.guards}
    postures = {name for mode in act.modes for name in mode.postures}
    if not postures <= set(guards):
        return []
    return [group[0] for name in postures for group in guards[name]]


def first_listed(problem: OpeningProblem) -> list[Act]:
    """Collect what comes off if the first-listed way is taken at every choice."""
    acts = {act.name: act for act in problem.actions}
    wanted: set[str] = set()
    waiting = list(problem.targets)
    while waiting:
        name = waiting.pop()
        if name not in wanted:
            wanted.add(name)
            waiting += [group[0] for group in acts[name].needs]
            waiting += behind_guard(problem, acts[name])
    return [act for act in problem.actions if act.name in wanted]


Ready = list[tuple[Act, list[Mode]]]
Rule = Callable[[Bench, Ready], tuple[Act, Mode]]


def by_listing(bench: Bench, ready: Ready) -> tuple[Act, Mode]:
    """Take the first in the list, in the way that is cheapest now."""
    act, modes = ready[0]
    return act, min(modes, key=lambda mode: sum(bench.price(mode)))


def by_nearest(bench: Bench, ready: Ready) -> tuple[Act, Mode]:
    """Take what asks for the least set-up now; the first in the list among equals."""
    pairs = [(act, mode) for act, modes in ready for mode in modes]
    return min(pairs, key=lambda pair: bench.price(pair[1]))


def round_trip(problem: OpeningProblem, rule: Rule) -> tuple[Move, ...]:
    """
    Plan a round trip by a rule.

    Parameters
    ----------
    problem
        The problem.
    rule
        Which ready action comes next.

    Returns
    -------
    tuple[Move, ...]
        The plan.

    Raises
    ------
    StuckError
        If the rule leads to where nothing goes on.
    """
    chosen = first_listed(problem)
    bench = Bench(problem, problem.start_posture, problem.start_tool)
    while left := [act for act in chosen if act.name not in bench.off]:
        ready = [
            (act, modes)
            for act in left
            if holds(act.needs, bench.off) and (modes := bench.open_modes(act.modes))
        ]
        if not ready:
            raise StuckError(f"cannot remove {left[0].name}")
        act, mode = rule(bench, ready)
        bench.use(mode, f"remove {act.name}")
        bench.off.add(act.name)
    bench.lines.append(TURN_ROUND)
    _close(bench, chosen, rule)
    return plan_of(problem, bench.lines)


def _close(bench: Bench, chosen: list[Act], rule: Rule) -> None:
    problem = bench.problem
    passed: set[str] = set()
    _check(bench, passed)
    while bench.off:
        ready = [
            (act, modes)
            for act in reversed(chosen)
            if act.name in bench.off
            and _may_go_back(bench, act, chosen, passed)
            and (modes := bench.open_modes(act.refit_modes))
        ]
        if not ready:
            raise StuckError(f"cannot refit {', '.join(sorted(bench.off))}")
        act, mode = rule(bench, ready)
        bench.use(mode, f"refit {act.name}")
        bench.off.discard(act.name)
        _check(bench, passed)
    bench.use(Mode((problem.end_posture,), None, 0), "")


def _check(bench: Bench, passed: set[str]) -> None:
    for check in bench.problem.checks:
        if check.name not in passed and not bench.off.intersection(check.fitted):
            mode = Mode(check.postures, check.tool, check.cost)
            bench.use(mode, f"check {check.name}")
            passed.add(check.name)


def _may_go_back(bench: Bench, act: Act, chosen: list[Act], passed: set[str]) -> bool:
    rest = bench.off - {act.name}
    others = [other for other in chosen if other.name in rest]
    return (
        holds(act.needs, rest)
        and all(holds(other.needs, rest - {other.name}) for other in others)
        and not any(act.name in behind_guard(bench.problem, o) for o in others)
        and not rest.intersection(act.refit_after)
        and passed.issuperset(act.refit_checks)
    )


def separate_openings(problem: OpeningProblem) -> tuple[Move, ...]:
    """
    Open and close once per target, each time at least cost.

    Parameters
    ----------
    problem
        The problem.

    Returns
    -------
    tuple[Move, ...]
        The moves of all round trips, one trip after the other.
    """
    moves: tuple[Move, ...] = ()
    for target in problem.targets:
        moves += solve(replace(problem, targets=(target,))).plan
    return moves
