"""
What do simple rules give for the same wish, to see what the optimum is worth?

Both rules remove what a first-listed choice asks for, then put it back in the opposite
order as far as the rules of the way back allow; costs are counted as the referee does.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

from turnscrew.core.opening.problem import Act, Cnf, Mode, OpeningProblem


@dataclass
class Bench:
    """Posture, tool and cost so far."""

    problem: OpeningProblem
    posture: str
    tool: str
    cost: int = 0
    n_set_ups: int = 0
    off: set[str] = field(default_factory=set)

    def price(self, mode: Mode) -> tuple[int, str, int]:
        """Price a mode from here: set-up and cost, posture used, set-ups."""
        found = []
        for posture in mode.postures:
            turn, n_turns = self._turn(posture)
            change = 0
            if mode.tool is not None and mode.tool != self.tool:
                tools = self.problem.tools
                row = self.problem.tool_cost[tools.index(self.tool)]
                change = row[tools.index(mode.tool)]
            n = n_turns + (change > 0)
            found.append((turn + change + mode.cost, posture, n))
        return min(found)

    def use(self, mode: Mode) -> None:
        """Do something in a mode."""
        cost, self.posture, n = self.price(mode)
        self.cost += cost
        self.n_set_ups += n
        self.tool = mode.tool or self.tool

    def _turn(self, posture: str) -> tuple[int, int]:
        """Find the cheapest turns while this is off: cost and number."""
        best = {self.posture: (0, 0)}
        waiting = [self.posture]
        names = self.problem.postures
        while waiting:
            here = waiting.pop()
            for end, edge in zip(
                names, self.problem.posture_cost[names.index(here)], strict=True
            ):
                guards = [
                    g for g in self.problem.guards if (g.start, g.end) == (here, end)
                ]
                if edge is None or not all(holds(g.needs, self.off) for g in guards):
                    continue
                new = (best[here][0] + edge, best[here][1] + (edge > 0))
                if end not in best or new < best[end]:
                    best[end] = new
                    waiting.append(end)
        return best.get(posture, (10**9, 0))


def holds(needs: Cnf, off: set[str]) -> bool:
    """Tell whether an AND of ORs holds."""
    return all(any(name in off for name in group) for group in needs)


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
    return [act for act in problem.actions if act.name in wanted]


def by_listing(bench: Bench, ready: list[tuple[Act, list[Mode]]]) -> tuple[Act, Mode]:
    """Take the first in the list."""
    act, modes = ready[0]
    return act, min(modes, key=bench.price)


def by_nearest(bench: Bench, ready: list[tuple[Act, list[Mode]]]) -> tuple[Act, Mode]:
    """Take what asks for the least set-up now."""
    pairs = [(act, mode) for act, modes in ready for mode in modes]
    return min(pairs, key=lambda pair: bench.price(pair[1])[0] - pair[1].cost)


Rule = Callable[[Bench, list[tuple[Act, list[Mode]]]], tuple[Act, Mode]]


def round_trip(problem: OpeningProblem, rule: Rule) -> tuple[int, int]:
    """
    Reckon a round trip by a rule.

    Parameters
    ----------
    problem
        The problem.
    rule
        Which ready action comes next.

    Returns
    -------
    tuple[int, int]
        Cost and number of set-ups.
    """
    chosen = first_listed(problem)
    bench = Bench(problem, problem.start_posture, problem.start_tool)
    while left := [act for act in chosen if act.name not in bench.off]:
        ready = [
            (act, [m for m in act.modes if holds(m.when, bench.off)])
            for act in left
            if holds(act.needs, bench.off)
        ]
        act, mode = rule(bench, ready)
        bench.use(mode)
        bench.off.add(act.name)
    passed: set[str] = set()
    while bench.off or len(passed) < len(problem.checks):
        _check(problem, bench, passed)
        ready = [
            (act, [m for m in act.refit_modes if holds(m.when, bench.off)])
            for act in reversed(chosen)
            if act.name in bench.off and _may_go_back(act, chosen, bench.off, passed)
        ]
        if not ready:
            continue
        act, mode = rule(bench, ready)
        bench.use(mode)
        bench.off.discard(act.name)
        bench.cost += sum(
            extra
            for check in problem.checks
            if check.name not in passed
            for name, extra in check.rework
            if name == act.name
        )
    bench.use(Mode((problem.end_posture,), None, 0))
    return bench.cost, bench.n_set_ups


def _check(problem: OpeningProblem, bench: Bench, passed: set[str]) -> None:
    for check in problem.checks:
        if check.name not in passed and not bench.off.intersection(check.fitted):
            bench.use(Mode(check.postures, check.tool, check.cost))
            passed.add(check.name)


def _may_go_back(act: Act, chosen: list[Act], off: set[str], passed: set[str]) -> bool:
    rest = off - {act.name}
    return (
        holds(act.needs, rest)
        and all(holds(o.needs, rest - {o.name}) for o in chosen if o.name in rest)
        and not rest.intersection(act.refit_after)
        and passed.issuperset(act.refit_checks)
    )
