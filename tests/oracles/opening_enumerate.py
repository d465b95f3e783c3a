"""
What does trying every order say: how many there are, and what the cheapest costs?

For at most nine or so actions, and the way in only.
"""

from collections.abc import Iterable, Iterator
from functools import cache

from turnscrew.core.opening.problem import Act, Cnf, OpeningProblem

Places = dict[tuple[str, str], int]


def strip_by_every_order(problem: OpeningProblem) -> tuple[int | None, int]:
    """
    Give the least cost of the way in, and the number of orders tried.

    An order says what comes off in turn, and each time in which of its open modes
    and postures; it ends with the last target.
    """

    def go_on(off: frozenset[str], places: Places) -> tuple[int | None, int]:
        if set(problem.targets) <= off:
            return min(places.values()), 1
        best, n_orders = None, 0
        settled = set_ups(problem, off, places)
        for act in problem.actions:
            for after in places_after(act, off, settled):
                found, n_more = go_on(off | {act.name}, after)
                n_orders += n_more
                best = min((c for c in (best, found) if c is not None), default=None)
        return best, n_orders

    start = {(problem.start_posture, problem.start_tool): 0}
    return go_on(frozenset(problem.already_off), start)


def places_after(act: Act, off: frozenset[str], places: Places) -> Iterator[Places]:
    """Give, for each open mode and posture of an action, the costs it leaves."""
    if act.name in off or not holds(act.needs, off):
        return
    for mode in act.modes:
        if not holds(mode.when, off):
            continue
        for posture in mode.postures:
            after = {
                place: cost + mode.cost
                for place, cost in places.items()
                if place[0] == posture and mode.tool in (None, place[1])
            }
            if after:
                yield after


def holds(needs: Cnf, off: frozenset[str]) -> bool:
    return all(any(name in off for name in group) for group in needs)


def set_ups(problem: OpeningProblem, off: frozenset[str], places: Places) -> Places:
    """Let costs settle over all turns and tool changes open at this moment."""
    settled = dict(places)
    is_settling = True
    while is_settling:
        is_settling = False
        for (posture, tool), cost in list(settled.items()):
            for place, extra in neighbours(problem, off, posture, tool):
                if cost + extra < settled.get(place, cost + extra + 1):
                    settled[place] = cost + extra
                    is_settling = True
    return settled


def neighbours(
    problem: OpeningProblem, off: frozenset[str], posture: str, tool: str
) -> Iterable[tuple[tuple[str, str], int]]:
    row = problem.posture_cost[problem.postures.index(posture)]
    for end, cost in zip(problem.postures, row, strict=True):
        guards = [g for g in problem.guards if (g.start, g.end) == (posture, end)]
        if cost is not None and all(holds(guard.needs, off) for guard in guards):
            yield (end, tool), cost
    tool_row = problem.tool_cost[problem.tools.index(tool)]
    for taken, change in zip(problem.tools, tool_row, strict=True):
        yield (posture, taken), change


Poset = dict[str, frozenset[str]]
"""Each thing with the things that must come before it."""


def n_linear_extensions(poset: Poset) -> int:
    """Count the orders that keep every before."""

    @cache
    def n_ways(done: frozenset[str]) -> int:
        if len(done) == len(poset):
            return 1
        return sum(n_ways(done | {name}) for name in ready(poset, done))

    return n_ways(frozenset())


def n_order_ideals(poset: Poset) -> int:
    """Count the sets that hold, with each thing, all that must come before it."""
    seen = {frozenset[str]()}
    waiting = list(seen)
    while waiting:
        done = waiting.pop()
        for name in ready(poset, done):
            larger = done | {name}
            if larger not in seen:
                seen.add(larger)
                waiting.append(larger)
    return len(seen)


def ready(poset: Poset, done: frozenset[str]) -> list[str]:
    return [name for name in poset if name not in done and poset[name] <= done]


def poset_of(problem: OpeningProblem) -> Poset:
    """Read the needs of a problem without ORs as a poset."""
    return {
        act.name: frozenset(name for (name,) in act.needs) for act in problem.actions
    }
