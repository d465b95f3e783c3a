"""
What is the least expected cost of mending, and of each first action?

Everything is tried: every action, and before it every set of open nodes, one opening
or closing at a time. No state is left out and no number is rounded: beliefs are
whole-number weights without a common factor, and costs are whole multiples of one
share of a unit.

Read so: in mode `each` nothing but the power test may follow a repair, not even the
write-off; a price in `keep` falls due with the odds that this repair makes all well.
Faults in `no_power` that no repair made could have mended bar the power test, and tests
with `powers`, once their odds together reach `power_limit`.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from itertools import combinations
from math import gcd, lcm, prod
from typing import Any

Model = dict[str, Any]
Hypothesis = frozenset[str]
"""The faults that are present; none of them is `ok`."""

Weights = tuple[int, ...]
"""One for each hypothesis, `ok` first; only their ratios count."""

Costs = tuple[int, ...]
"""One for each open set, times the sum of the weights and all shares still left."""

OK: Hypothesis = frozenset()
MODES = ("each", "block", "free")


@dataclass(frozen=True)
class Act:
    """
    A test or a repair.

    A branch is a list of (from, to, weight): how the weight of one hypothesis goes to
    another. A test has one branch for each outcome, a repair just one.
    """

    is_repair: bool
    cost: int
    keep: int
    at: tuple[int, ...]
    share: int
    branches: tuple[tuple[tuple[int, int, int], ...], ...]
    powers: bool = False
    attends: frozenset[str] = frozenset()


@dataclass(frozen=True)
class State:
    weights: Weights
    left: frozenset[str]
    is_unverified: bool


def brute(model: Model, mode: str) -> tuple[Fraction, dict[str, Fraction]]:
    """Give the least expected cost, and the least after each possible first action."""
    if mode not in MODES:
        raise ValueError(f"mode {mode!r} is none of {MODES}")
    if mode != "each" and any(repair.get("keep") for repair in model["repairs"]):
        raise ValueError(f"keep is defined in mode 'each' only, found mode {mode!r}")
    search = Search(model, mode)
    start = State(whole(search.prior), frozenset(search.acts), is_unverified=False)
    total = sum(start.weights) * search.shares(start.left)
    way_in = search.moves[search.sets.index(frozenset())]
    firsts = {
        name: Fraction(
            min(total * way_in[place] + costs[place] for place in costs),
            total * search.unit,
        )
        for name, costs in search.ways(start).items()
        if costs
    }
    return min(firsts.values()), firsts


class Search:
    """A model in whole numbers, and what is known of its states so far."""

    def __init__(self, model: Model, mode: str) -> None:
        self.mode = mode
        self.unit = lcm(*(exact(cost).denominator for cost in costs_in(model)))
        self.prior = prior_of(model)
        self.nodes = {node["id"]: node for node in model["nodes"]}
        self.sets = list(open_sets(self.nodes))
        self.moves = self.cheapest_moves()
        self.verify_cost = self.units(model["verify"]["cost"])
        self.verify_at = self.sets_for(model["verify"])
        write_off = model["writeoff"]
        self.write_off_cost = self.units(write_off["cost"])
        self.is_closed_first = write_off.get("close_first", False)
        self.acts = {test["id"]: self.test(test) for test in model["tests"]}
        self.acts |= {repair["id"]: self.repair(repair) for repair in model["repairs"]}
        self.no_power = frozenset(model.get("no_power", ()))
        self.limit = exact(model.get("power_limit", 1))
        self.known: dict[State, Costs] = {}
        self.shares = cache(lambda left: prod(self.acts[name].share for name in left))

    def cost(self, weights: Iterable[int], state: State) -> Costs:
        """Give the least cost from each open set, whatever is done next."""
        weights = tuple(weights)
        factor = gcd(*weights)
        if not factor:
            return (0,) * len(self.sets)
        bare = State(
            tuple(w // factor for w in weights), state.left, state.is_unverified
        )
        if bare not in self.known:
            self.known[bare] = self.cheapest(bare)
        return tuple(factor * cost for cost in self.known[bare])

    def cheapest(self, state: State) -> Costs:
        """Go to any open set first, then do what is best there."""
        best: dict[int, int] = {}
        for costs in self.ways(state).values():
            for there, cost in costs.items():
                best[there] = min(cost, best.get(there, cost))
        per_move = sum(state.weights) * self.shares(state.left)
        return tuple(
            min(per_move * row[there] + cost for there, cost in best.items())
            for row in self.moves
        )

    def ways(self, state: State) -> dict[str, dict[int, int]]:
        """Give the cost of whatever may be done, by the open set it is done at."""
        is_forced = self.mode == "each" and state.is_unverified
        ways = {}
        for name in sorted(state.left) if not is_forced else ():
            act = self.acts[name]
            if act.powers and not self.may_power(state):
                continue
            left = state.left - {name}
            if (
                act.is_repair
                and self.mode == "each"
                and not self.may_power(replace(state, left=left))
            ):
                continue
            if act.is_repair or self.mode != "block" or not state.is_unverified:
                ways[name] = self.act_costs(name, state)
        if (state.is_unverified or state.weights[0]) and self.may_power(state):
            ways["VERIFY"] = self.verify_costs(state)
        if not is_forced:
            ways["WRITE-OFF"] = self.write_off_costs(state)
        return ways

    def may_power(self, state: State) -> bool:
        """Nothing is powered while what nobody saw to may forbid it."""
        seen_to = {
            fault
            for name, act in self.acts.items()
            if name not in state.left
            for fault in act.attends
        }
        barring = self.no_power - seen_to
        if not barring:
            return True
        kept_off = sum(
            weight
            for faults, weight in zip(self.prior, state.weights, strict=True)
            if faults & barring
        )
        return kept_off < self.limit * sum(state.weights)

    def act_costs(self, name: str, state: State) -> dict[int, int]:
        act, left = self.acts[name], state.left - {name}
        paid = act.cost * sum(state.weights) * self.shares(state.left)
        after = State(state.weights, left, state.is_unverified or act.is_repair)
        branches = [flow(branch, state.weights) for branch in act.branches]
        if act.keep:
            n_mended = branches[0][0] - act.share * state.weights[0]
            paid += act.keep * n_mended * self.shares(left)
        rests = [self.cost(weights, after) for weights in branches]
        return {s: paid + sum(rest[s] for rest in rests) for s in act.at}

    def verify_costs(self, state: State) -> dict[int, int]:
        shares, n_pass = self.shares(state.left), state.weights[0]
        paid = self.verify_cost * sum(state.weights) * shares
        after = State(state.weights, state.left, is_unverified=False)
        fail = self.cost((0, *state.weights[1:]), after)
        return {
            s: paid + n_pass * shares * self.closing(s) + fail[s]
            for s in self.verify_at
        }

    def write_off_costs(self, state: State) -> dict[int, int]:
        total = sum(state.weights) * self.shares(state.left)
        return {
            s: total
            * (self.write_off_cost + (self.closing(s) if self.is_closed_first else 0))
            for s in range(len(self.sets))
        }

    def closing(self, place: int) -> int:
        return self.moves[place][self.sets.index(frozenset())]

    def cheapest_moves(self) -> list[list[int]]:
        """Give the cost between any two open sets, by single openings and closings."""
        places = range(len(self.sets))
        never = 1 + 2 * sum(
            self.units(node["open"]) + self.units(node["close"])
            for node in self.nodes.values()
        )
        cost = [[0 if a == b else never for b in places] for a in places]
        for lower in places:
            for name, node in self.nodes.items():
                # If anything stood open on the node, the lower one were no open set.
                if name not in self.sets[lower] and (
                    (upper_set := self.sets[lower] | {name}) in self.sets
                ):
                    upper = self.sets.index(upper_set)
                    cost[lower][upper] = self.units(node["open"])
                    cost[upper][lower] = self.units(node["close"])
        for via in places:
            for a in places:
                for b in places:
                    cost[a][b] = min(cost[a][b], cost[a][via] + cost[via][b])
        return cost

    def sets_for(self, action: Model) -> tuple[int, ...]:
        """Give the open sets that an action may be done at."""
        closed = action.get("closed", [])
        shut = set(self.nodes) if closed == "all" else set(closed)
        needed = set(action.get("open", []))
        return tuple(
            place
            for place, opened in enumerate(self.sets)
            if needed <= opened and not shut & opened
        )

    def test(self, test: Model) -> Act:
        rows = [[exact(p) for p in row_of(test, hyp)] for hyp in self.prior]
        share = lcm(*(p.denominator for row in rows for p in row))
        branches = tuple(
            tuple((i, i, int(row[k] * share)) for i, row in enumerate(rows))
            for k in range(len(test["outcomes"]))
        )
        cost, at = self.units(test["cost"]), self.sets_for(test)
        powers = test.get("powers", False)
        return Act(False, cost, 0, at, share, branches, powers=powers)

    def repair(self, repair: Model) -> Act:
        hypotheses = list(self.prior)
        flows = [
            (i, hypotheses.index(rest), p)
            for i, hyp in enumerate(hypotheses)
            for rest, p in mended(hyp, repair["fix"]).items()
        ]
        share = lcm(*(p.denominator for _, _, p in flows))
        branch = tuple((i, j, int(p * share)) for i, j, p in flows)
        cost, keep = self.units(repair["cost"]), self.units(repair.get("keep", 0))
        attends = frozenset(fault for fault, p in repair["fix"].items() if p > 0)
        at = self.sets_for(repair)
        return Act(True, cost, keep, at, share, (branch,), attends=attends)

    def units(self, cost: float) -> int:
        return int(exact(cost) * self.unit)


def exact(number: float) -> Fraction:
    """Read a number as it is written."""
    return Fraction(str(number))


def flow(branch: Iterable[tuple[int, int, int]], weights: Weights) -> list[int]:
    after = [0] * len(weights)
    for start, end, weight in branch:
        after[end] += weight * weights[start]
    return after


def whole(prior: dict[Hypothesis, Fraction]) -> Weights:
    share = lcm(*(p.denominator for p in prior.values()))
    weights = [int(p * share) for p in prior.values()]
    return tuple(weight // gcd(*weights) for weight in weights)


def costs_in(model: Model) -> Iterator[float]:
    for node in model["nodes"]:
        yield from (node["open"], node["close"])
    for action in (*model["tests"], *model["repairs"]):
        yield from (action["cost"], action.get("keep", 0))
    yield from (model["verify"]["cost"], model["writeoff"]["cost"])


def prior_of(model: Model) -> dict[Hypothesis, Fraction]:
    """Give the belief at the start; `ok` comes first, also where it has no mass."""
    if "multi" in model:
        broken = fault_sets(model["multi"])
    else:
        broken = {frozenset({f}): exact(p) for f, p in model["faults"].items()}
    p_ok, total = exact(model.get("ok_prior", 0)), sum(broken.values())
    return {OK: p_ok} | {h: (1 - p_ok) * p / total for h, p in broken.items()}


def fault_sets(multi: Model) -> dict[Hypothesis, Fraction]:
    """Give the weight of each set of at least one and at most `max` faults."""
    q = {fault: exact(p) for fault, p in multi["independent"].items()}
    return {
        frozenset(present): prod(
            (q[f] if f in present else 1 - q[f] for f in q), start=Fraction(1)
        )
        for size in range(1, min(multi["max"], len(q)) + 1)
        for present in combinations(q, size)
    }


def row_of(test: Model, hypothesis: Hypothesis) -> list[float]:
    seen = hypothesis & set(test.get("looks_at", hypothesis))
    if len(seen) > 1:
        raise ValueError(
            f"test {test['id']}: found the faults {sorted(seen)} at once; "
            "wanted looks_at with one fault"
        )
    return next((test["p"][fault] for fault in seen), test["ok"])


def mended(hypothesis: Hypothesis, fix: dict[str, float]) -> dict[Hypothesis, Fraction]:
    """Give what is left of some faults after a repair, each mended or not by itself."""
    rests = {hypothesis: Fraction(1)}
    for fault in sorted(hypothesis & set(fix)):
        p_mends = exact(fix[fault])
        rests = {h: p * (1 - p_mends) for h, p in rests.items()} | {
            h - {fault}: p * p_mends for h, p in rests.items()
        }
    return {rest: p for rest, p in rests.items() if p}


def open_sets(nodes: dict[str, Model]) -> list[frozenset[str]]:
    """Open one node after another, each when its needs are open, in every way."""
    found = [frozenset[str]()]
    for opened in found:
        for name, node in nodes.items():
            larger = opened | {name}
            if set(node.get("needs", [])) <= opened and larger not in found:
                found.append(larger)
    return found
