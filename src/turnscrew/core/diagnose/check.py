"""
Does a strategy keep the rules, and does it cost what it says?

Method: the tree is walked from the problem alone, with the weight of every set of
faults in a table. Nothing of the solver is used, so that its slips show here.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations
from math import prod

from turnscrew.core.diagnose.answer import FAILS, WORKS, Leaf, Policy, Step
from turnscrew.core.diagnose.problem import (
    VERIFY,
    DiagnosisProblem,
    Mode,
    Repair,
    Test,
)

Weights = dict[frozenset[str], float]
"""Weight of each set of faults present; the empty set is a device that works [1]."""


_ROUNDING = 1e-7


@dataclass(frozen=True)
class Standing:
    """
    Where a walk stands.

    Parameters
    ----------
    weights
        Weight of each set of faults. [1]
    is_open
        Nodes open.
    done
        Tests and repairs used up.
    waits
        True if a repair waits for its power test.
    last
        The action before, as its kind.
    """

    weights: Weights
    is_open: frozenset[str]
    done: frozenset[str]
    waits: bool
    last: str


def cost_of(problem: DiagnosisProblem, policy: Policy, mode: Mode) -> float:
    """
    Reckon the expected cost of a strategy, refusing one that breaks the rules.

    Parameters
    ----------
    problem
        The problem.
    policy
        The strategy.
    mode
        When a power test is due.

    Returns
    -------
    float
        The expected cost. [cost]

    Raises
    ------
    ValueError
        If the strategy breaks a rule or states a wrong probability or cost.
    """
    weights = _prior(problem)
    is_open = _with_needs(problem, problem.open_now)
    start = Standing(weights, is_open, frozenset(), waits=False, last="")
    return _walk(problem, policy, mode, start)


def faults_in(
    problem: DiagnosisProblem, policy: Policy, mode: Mode, cost: float
) -> tuple[str, ...]:
    """
    Name what is wrong with a strategy and its stated cost.

    Parameters
    ----------
    problem
        The problem.
    policy
        The strategy.
    mode
        When a power test is due.
    cost
        What it is said to cost. [cost]

    Returns
    -------
    tuple
        What is wrong, in words; empty if all is well.
    """
    try:
        found = cost_of(problem, policy, mode)
    except ValueError as error:
        return (str(error),)
    if not _is_near(cost, found):
        return (f"said to cost {cost}, costs {found}",)
    return ()


def _prior(problem: DiagnosisProblem) -> Weights:
    if problem.independent:
        shares = problem.independent
        weights = {
            frozenset(present): prod(
                p if name in present else 1 - p for name, p in shares.items()
            )
            for n in range(1, min(problem.most_faults, len(shares)) + 1)
            for present in combinations(shares, n)
        }
    else:
        weights = {frozenset({name}): p for name, p in problem.faults.items()}
    total = sum(weights.values())
    prior = {s: w / (total or 1.0) * (1 - problem.p_ok) for s, w in weights.items()}
    prior[frozenset()] = problem.p_ok
    return prior


def _walk(problem: DiagnosisProblem, policy: Policy, mode: Mode, at: Standing) -> float:
    if mode == "each" and at.last == "repair" and policy.kind != "verify":
        name = policy.kind if isinstance(policy, Leaf) else policy.action
        raise ValueError(f"{name} follows a repair without a power test")
    if isinstance(policy, Leaf):
        return _leaf(problem, policy, at)
    if policy.kind == "verify":
        return _verification(problem, policy, mode, at)
    if policy.action in at.done:
        raise ValueError(f"{policy.action} is used twice")
    if policy.kind == "test":
        if mode == "block" and at.waits:
            raise ValueError(f"{policy.action} while a repair waits for its power test")
        return _test(problem, policy, mode, at)
    return _repair(problem, policy, mode, at)


def _leaf(problem: DiagnosisProblem, leaf: Leaf, at: Standing) -> float:
    closing = sum(node.close_cost for node in problem.nodes if node.name in at.is_open)
    if leaf.kind == "works":
        if any(w > _ROUNDING for s, w in at.weights.items() if s) or at.last != WORKS:
            raise ValueError("handed over without a power test that passed")
        wanted = closing
    else:
        closing = closing if problem.write_off.is_closed_first else 0.0
        wanted = problem.write_off.cost + closing
    if not _is_near(leaf.cost, wanted):
        raise ValueError(f"{leaf.kind} is said to cost {leaf.cost}, costs {wanted}")
    return wanted * sum(at.weights.values())


def _test(problem: DiagnosisProblem, step: Step, mode: Mode, at: Standing) -> float:
    test = next((t for t in problem.tests if t.name == step.action), None)
    if test is None:
        raise ValueError(f"there is no test {step.action}")
    if test.powers:
        _refuse_power(problem, step, at)
    cost, is_open = _access(problem, step, at, test.open, test.closed)
    _compare(step, cost + test.cost)
    total = (cost + test.cost) * sum(at.weights.values())
    branches = _branches(step, test.outcomes)
    for o, outcome in enumerate(test.outcomes):
        weights = {s: w * _row(test, s)[o] for s, w in at.weights.items()}
        share = sum(weights.values()) / sum(at.weights.values())
        total += _branch(
            problem,
            mode,
            branches.get(outcome),
            share,
            Standing(weights, is_open, at.done | {test.name}, at.waits, "test"),
        )
    return total


def _branches(step: Step, outcomes: tuple[str, ...]) -> dict[str, tuple[float, Policy]]:
    branches: dict[str, tuple[float, Policy]] = {}
    for name, p, rest in step.branches:
        if name not in outcomes:
            raise ValueError(f"{step.action} shows {name}, wanted one of {outcomes}")
        if name in branches:
            raise ValueError(f"{step.action} shows {name} twice")
        branches[name] = (p, rest)
    return branches


def _branch(
    problem: DiagnosisProblem,
    mode: Mode,
    branch: tuple[float, Policy] | None,
    share: float,
    after: Standing,
) -> float:
    if branch is None:
        if share > _ROUNDING:
            raise ValueError(f"an outcome of probability {share} leads nowhere")
        return 0.0
    if not _is_near(branch[0], share):
        raise ValueError(f"an outcome is said to have {branch[0]}, has {share}")
    if share <= 0:
        return 0.0
    return _walk(problem, branch[1], mode, after)


def _row(test: Test, present: frozenset[str]) -> tuple[float, ...]:
    seen = [
        name
        for name in present
        if name in test.p and (test.looks_at is None or name in test.looks_at)
    ]
    if not seen:
        return test.p_ok
    if len(seen) == 1:
        return test.p[seen[0]]
    first = test.p_ok[0]
    for name in seen:
        first *= min(1.0, test.p[name][0] / test.p_ok[0])
    return (first, 1 - first)


def _repair(problem: DiagnosisProblem, step: Step, mode: Mode, at: Standing) -> float:
    repair = next((r for r in problem.repairs if r.name == step.action), None)
    if repair is None:
        raise ValueError(f"there is no repair {step.action}")
    cost, is_open = _access(problem, step, at, repair.open, repair.closed)
    weights = _mended(repair, at.weights)
    empty: frozenset[str] = frozenset()
    mended = weights.get(empty, 0.0) - at.weights.get(empty, 0.0)
    mass = sum(at.weights.values())
    at_once = cost + repair.cost + repair.keep_cost * mended / mass
    _compare(step, at_once)
    if len(step.branches) != 1:
        raise ValueError(f"{step.action} shows {len(step.branches)} outcomes, wanted 1")
    done = at.done | {repair.name}
    after = Standing(weights, is_open, done, waits=True, last="repair")
    return at_once * mass + _branch(problem, mode, step.branches[0][1:], 1.0, after)


def _mended(repair: Repair, before: Weights) -> Weights:
    weights = dict(before)
    for name, chance in repair.mends.items():
        for present, weight in list(weights.items()):
            if name in present:
                weights[present] = weight * (1 - chance)
                rest = present - {name}
                weights[rest] = weights.get(rest, 0.0) + weight * chance
    return weights


def _verification(
    problem: DiagnosisProblem, step: Step, mode: Mode, at: Standing
) -> float:
    if step.action != VERIFY:
        raise ValueError(f"the power test is called {step.action}")
    _refuse_power(problem, step, at)
    closed = problem.verification.closed
    cost, is_open = _access(problem, step, at, (), closed)
    cost += problem.verification.cost
    _compare(step, cost)
    mass = sum(at.weights.values())
    empty: frozenset[str] = frozenset()
    works = {empty: at.weights.get(empty, 0.0)}
    fails = {s: w for s, w in at.weights.items() if s}
    total = cost * mass
    branches = _branches(step, (WORKS, FAILS))
    for name, weights in ((WORKS, works), (FAILS, fails)):
        share = sum(weights.values()) / mass
        after = Standing(weights, is_open, at.done, waits=False, last=name)
        total += _branch(problem, mode, branches.get(name), share, after)
    return total


def _refuse_power(problem: DiagnosisProblem, step: Step, at: Standing) -> None:
    attended = {
        name
        for repair in problem.repairs
        if repair.name in at.done
        for name, chance in repair.mends.items()
        if chance > 0
    }
    kept_off = set(problem.no_power) - attended
    share = sum(w for s, w in at.weights.items() if s & kept_off)
    share /= sum(at.weights.values())
    if share > problem.power_limit:
        raise ValueError(
            f"{step.action} powers the device while {sorted(kept_off)} have {share}"
        )


def _is_near(said: float, found: float) -> bool:
    # So written that what is no number is near nothing.
    return abs(said - found) <= _ROUNDING * (1 + abs(found))


def _compare(step: Step, cost: float) -> None:
    if not _is_near(step.cost, cost):
        raise ValueError(f"{step.action} is said to cost {step.cost}, costs {cost}")


def _access(
    problem: DiagnosisProblem,
    step: Step,
    at: Standing,
    wanted: Iterable[str],
    unwanted: Iterable[str],
) -> tuple[float, frozenset[str]]:
    nodes = {node.name: node for node in problem.nodes}
    now, cost = set(at.is_open), 0.0
    for name in step.closes:
        above = [n for n in now if name in _with_needs(problem, (n,)) and n != name]
        if name not in now or above:
            raise ValueError(f"{name} cannot be closed before {step.action}")
        now.remove(name)
        cost += nodes[name].close_cost
    for name in step.opens:
        if name not in nodes or name in now or not now.issuperset(nodes[name].needs):
            raise ValueError(f"{name} cannot be opened before {step.action}")
        now.add(name)
        cost += nodes[name].open_cost
    if not now.issuperset(wanted):
        raise ValueError(f"{step.action} with {sorted(set(wanted) - now)} still closed")
    if now.intersection(unwanted):
        raise ValueError(f"{step.action} with {sorted(now & set(unwanted))} still open")
    return cost, frozenset(now)


def _with_needs(problem: DiagnosisProblem, names: Iterable[str]) -> frozenset[str]:
    needs = {node.name: node.needs for node in problem.nodes}
    found: set[str] = set()
    todo = list(names)
    while todo:
        name = todo.pop()
        if name not in found:
            found.add(name)
            todo += needs[name]
    return frozenset(found)
