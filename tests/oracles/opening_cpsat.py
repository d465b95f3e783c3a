"""
What does the cheapest plan cost according to a constraint solver?

Method: one circuit from the start through removals, refits and checks to the end,
with posture and tool carried along the arcs and strictly rising positions, so that
no two actions can support each other.
Rule (2) of refitting needs no constraint of its own: what is off only shrinks on
the way back, so a need that holds when an action goes back held all the time before.
"""

from dataclasses import dataclass, field
from itertools import product
from typing import NamedTuple

from ortools.sat.python import cp_model

from turnscrew.core.opening.problem import Check, Cnf, Mode, OpeningProblem

Literal = cp_model.LiteralT


class Found(NamedTuple):
    status: str
    cost: int | None
    bound: int | None
    seconds: float


@dataclass(eq=False)
class Event:
    """One removal, refit or check, or the end, as the solver sees it."""

    name: str
    is_back: bool
    is_made: Literal
    position: cp_model.IntVar
    came_in: list[Literal] = field(default_factory=list)
    came_with: list[Literal] = field(default_factory=list)
    posture: list[Literal] = field(default_factory=list)
    tool: list[Literal] = field(default_factory=list)


def cheapest(
    problem: OpeningProblem, seconds: float, *, one_way: bool, n_workers: int = 2
) -> Found:
    """Give status, cost, bound and seconds; optimal, bounded, impossible or unknown."""
    circuit = Circuit(problem, one_way=one_way)
    circuit.build()
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = n_workers
    status = solver.solve(circuit.model)
    if status == cp_model.INFEASIBLE:
        return Found("impossible", None, None, solver.wall_time)
    bound = round(solver.best_objective_bound)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Found("unknown", None, bound, solver.wall_time)
    word = "optimal" if status == cp_model.OPTIMAL else "bounded"
    return Found(word, round(solver.objective_value), bound, solver.wall_time)


def relevant(problem: OpeningProblem) -> set[str]:
    """Close the targets under everything that could ever help to reach them."""
    acts = {act.name: act for act in problem.actions}
    waiting = [*problem.targets, *problem.already_off]
    for guard in problem.guards:
        waiting += names_in(guard.needs)
    kept: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name in kept:
            continue
        kept.add(name)
        waiting += names_in(acts[name].needs)
        for mode in (*acts[name].modes, *acts[name].refit_modes):
            waiting += names_in(mode.when)
    return kept


def names_in(needs: Cnf) -> list[str]:
    return [name for group in needs for name in group]


class Circuit:
    """Builds the model; one method per kind of rule."""

    def __init__(self, problem: OpeningProblem, *, one_way: bool) -> None:
        self.problem = problem
        self.one_way = one_way
        self.model = cp_model.CpModel()
        names = relevant(problem)
        self.acts = [act for act in problem.actions if act.name in names]
        self.n_positions = 2 * len(self.acts) + len(problem.checks) + 2
        self.costs: list[cp_model.LinearExprT] = []
        self.turn_round = self.model.new_int_var(0, self.n_positions, "turn-round")
        self.removals: dict[str, Event] = {}
        self.refits: dict[str, Event] = {}
        self.checks: dict[str, Event] = {}

    def build(self) -> None:
        self.make_events()
        for act in self.acts:
            if act.name in self.removals:
                event = self.removals[act.name]
                self.need(act.needs, event, event.is_made)
                self.choose_mode(event, act.modes)
        self.targets_off()
        if not self.one_way:
            self.way_back()
        self.link()
        self.model.minimize(sum(self.costs))

    # --- events --------------------------------------------------------------

    def event(self, name: str, is_made: Literal, *, is_back: bool) -> Event:
        position = self.model.new_int_var(1, self.n_positions, f"at {name}")
        event = Event(name, is_back, is_made, position)
        n_postures, n_tools = len(self.problem.postures), len(self.problem.tools)
        for literals, n in (
            (event.came_in, n_postures),
            (event.posture, n_postures),
            (event.came_with, n_tools),
            (event.tool, n_tools),
        ):
            literals += [self.model.new_bool_var("") for _ in range(n)]
            self.model.add(sum(literals) == 1).only_enforce_if(is_made)
            self.model.add(sum(literals) == 0).only_enforce_if(~is_made)
        return event

    def make_events(self) -> None:
        new, true = self.model.new_bool_var, self.model.new_constant(1)
        off_at_start = set(self.problem.already_off)
        for act in self.acts:
            is_made = true
            if act.name not in off_at_start:
                is_made = new(f"remove {act.name}")
                event = self.event(f"remove {act.name}", is_made, is_back=False)
                self.removals[act.name] = event
                self.model.add(event.position < self.turn_round)
            if not self.one_way:
                refit = self.event(f"refit {act.name}", is_made, is_back=True)
                self.refits[act.name] = refit
                self.model.add(refit.position > self.turn_round)

    def is_removed(self, name: str) -> Literal:
        if name in self.problem.already_off:
            return self.model.new_constant(1)
        event = self.removals.get(name)
        return event.is_made if event else self.model.new_constant(0)

    def targets_off(self) -> None:
        for name in self.problem.targets:
            self.model.add(self.is_removed(name) == 1)

    # --- what is off at an event ----------------------------------------------

    def off_at(self, name: str, event: Event) -> Literal:
        """A literal that, if true, has name off at the event (itself not counted)."""
        is_off = self.model.new_bool_var(f"{name} off at {event.name}")
        self.model.add_implication(is_off, self.is_removed(name))
        if event.is_back:
            refit = self.refits.get(name)
            if refit is not None and refit is not event:
                later = refit.position > event.position
                self.model.add(later).only_enforce_if(is_off)
        elif name in self.removals:
            earlier = self.removals[name].position < event.position
            self.model.add(earlier).only_enforce_if(is_off)
        return is_off

    def need(self, needs: Cnf, event: Event, condition: Literal) -> None:
        for group in needs:
            support = [self.off_at(name, event) for name in group]
            self.model.add_bool_or([*support, ~condition])

    def choose_mode(self, event: Event, modes: tuple[Mode, ...]) -> None:
        chosen = []
        for mode in modes:
            for name in mode.postures:
                is_used = self.model.new_bool_var("")
                chosen.append(is_used)
                posture = event.posture[self.problem.postures.index(name)]
                self.model.add_implication(is_used, posture)
                self.set_tool(event, mode.tool, is_used)
                self.need(mode.when, event, is_used)
                self.costs.append(mode.cost * is_used)
        self.model.add(sum(chosen) == 1).only_enforce_if(event.is_made)
        self.model.add(sum(chosen) == 0).only_enforce_if(~event.is_made)

    def set_tool(self, event: Event, tool: str | None, is_used: Literal) -> None:
        if tool is not None:
            held = event.tool[self.problem.tools.index(tool)]
            self.model.add_implication(is_used, held)
            return
        for before, after in zip(event.came_with, event.tool, strict=True):
            self.model.add(before == after).only_enforce_if(is_used)

    # --- the way back ----------------------------------------------------------

    def way_back(self) -> None:
        due = {check.name: self.is_due(check) for check in self.problem.checks}
        for check in self.problem.checks:
            name = f"check {check.name}"
            event = self.event(name, due[check.name], is_back=True)
            self.checks[check.name] = event
            self.model.add(event.position > self.turn_round)
            mode = Mode(check.postures, check.tool, check.cost)
            self.choose_mode(event, (mode,))
            for fitted in check.fitted:
                self.refit_before(fitted, event, event.is_made)
            self.price_rework(check, event)
        for act in self.acts:
            event = self.refits[act.name]
            self.need(act.needs, event, event.is_made)
            self.choose_mode(event, act.refit_modes)
            for name in act.refit_after:
                self.refit_before(name, event, event.is_made)
            for name in act.refit_checks:
                both = (event.is_made, due[name])
                passed = self.checks[name].position < event.position
                self.model.add(passed).only_enforce_if(*both)

    def is_due(self, check: Check) -> Literal:
        if not check.applies_if_removed:
            return self.model.new_constant(1)
        due = self.model.new_bool_var(f"{check.name} due")
        removed = [self.is_removed(name) for name in check.applies_if_removed]
        self.model.add_max_equality(due, removed)
        return due

    def refit_before(self, name: str, event: Event, condition: Literal) -> None:
        if name in self.refits:
            refit = self.refits[name]
            earlier = refit.position < event.position
            self.model.add(earlier).only_enforce_if(condition, refit.is_made)

    def price_rework(self, check: Check, event: Event) -> None:
        for name, cost in check.rework:
            if name not in self.refits:
                continue
            refit = self.refits[name]
            is_early = self.model.new_bool_var("")
            condition = (event.is_made, refit.is_made, ~is_early)
            self.model.add(event.position < refit.position).only_enforce_if(*condition)
            self.costs.append(cost * is_early)

    # --- arcs ------------------------------------------------------------------

    def link(self) -> None:
        true = self.model.new_constant(1)
        end = self.event("end", true, is_back=True)
        if self.one_way:
            for before, after in zip(end.came_in, end.posture, strict=True):
                self.model.add(before == after)
        else:
            wanted = self.problem.postures.index(self.problem.end_posture)
            self.model.add(end.posture[wanted] == 1)
        self.set_tool(end, None, true)
        inner = [*self.removals.values(), *self.refits.values(), *self.checks.values()]
        events = [*inner, end]
        node = {id(event): index for index, event in enumerate(events, start=1)}
        arcs = [(node[id(event)], node[id(event)], ~event.is_made) for event in inner]
        arcs.append((node[id(end)], 0, true))
        for after in events:
            arcs.append((0, node[id(after)], self.first(after)))
            for before in inner:
                is_allowed = after.is_back or not before.is_back
                if before is not after and is_allowed:
                    arc = (
                        node[id(before)],
                        node[id(after)],
                        self.follow(before, after),
                    )
                    arcs.append(arc)
        self.model.add_circuit(arcs)
        for event in events:
            self.price_turn(event)
            self.price_tool(event)

    def first(self, event: Event) -> Literal:
        arc = self.model.new_bool_var(f"start to {event.name}")
        posture = self.problem.postures.index(self.problem.start_posture)
        tool = self.problem.tools.index(self.problem.start_tool)
        self.model.add_implication(arc, event.came_in[posture])
        self.model.add_implication(arc, event.came_with[tool])
        return arc

    def follow(self, before: Event, after: Event) -> Literal:
        arc = self.model.new_bool_var(f"{before.name} to {after.name}")
        self.model.add(after.position > before.position).only_enforce_if(arc)
        for left, right in (
            *zip(before.posture, after.came_in, strict=True),
            *zip(before.tool, after.came_with, strict=True),
        ):
            self.model.add(left == right).only_enforce_if(arc)
        return arc

    def price_tool(self, event: Event) -> None:
        closed = closed_costs(self.problem.tool_cost)
        for start, end in product(range(len(closed)), repeat=2):
            if start != end:
                is_change = self.model.new_bool_var("")
                both = [~event.came_with[start], ~event.tool[end], is_change]
                self.model.add_bool_or(both)
                self.costs.append(closed[start][end] * is_change)

    def price_turn(self, event: Event) -> None:
        ways = []
        for start in range(len(self.problem.postures)):
            for path, cost in simple_paths(self.problem, start):
                is_used = self.model.new_bool_var("")
                ways.append(is_used)
                self.model.add_implication(is_used, event.came_in[start])
                self.model.add_implication(is_used, event.posture[path[-1]])
                self.costs.append(cost * is_used)
                for guard in self.problem.guards:
                    ends = (
                        self.problem.postures.index(guard.start),
                        self.problem.postures.index(guard.end),
                    )
                    if ends in set(zip(path, path[1:], strict=False)):
                        self.need_while_turning(guard.needs, event, is_used)
        self.model.add(sum(ways) == 1).only_enforce_if(event.is_made)
        self.model.add(sum(ways) == 0).only_enforce_if(~event.is_made)

    def need_while_turning(self, needs: Cnf, event: Event, is_used: Literal) -> None:
        """Before a refit the action itself is still off; before a removal still on."""
        for group in needs:
            support = [self.off_at(name, event) for name in group]
            self.model.add_bool_or([*support, ~is_used])


def simple_paths(
    problem: OpeningProblem, start: int
) -> list[tuple[tuple[int, ...], int]]:
    """Give every way from one posture to any other that meets none twice."""
    found = []
    waiting = [((start,), 0)]
    while waiting:
        path, cost = waiting.pop()
        found.append((path, cost))
        for end, extra in enumerate(problem.posture_cost[path[-1]]):
            if extra is not None and end not in path:
                waiting.append(((*path, end), cost + extra))
    return found


def closed_costs(cost: tuple[tuple[int, ...], ...]) -> list[list[int]]:
    n = len(cost)
    closed = [list(row) for row in cost]
    for via, start, end in product(range(n), repeat=3):
        through = closed[start][via] + closed[via][end]
        closed[start][end] = min(closed[start][end], through)
    return closed
