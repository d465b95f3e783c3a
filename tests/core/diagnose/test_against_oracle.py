"""The solver agrees with trying everything, from any number of groups of faults."""

import random
from fractions import Fraction

import pytest

from core.diagnose.given import drawn_model, never, problem_from
from oracles.diagnose_brute import Search, State, brute, open_sets, whole
from random_models import Model
from turnscrew.core.diagnose.check import faults_in
from turnscrew.core.diagnose.problem import MODES, Mode
from turnscrew.core.diagnose.solve import solve

WORKS = (1, 200, 4_000_000)
"""Values to reckon for the bounds: each fault by itself, some together, all."""

TOLERANCE = 1e-9


def cost_from(model: Model, mode: Mode, opened: list[str]) -> Fraction:
    """Try everything from a device that is open already."""
    search = Search(model, mode)
    start = State(whole(search.prior), frozenset(search.acts), is_unverified=False)
    costs = search.cost(start.weights, start)
    total = sum(start.weights) * search.shares(start.left) * search.unit
    return Fraction(costs[search.sets.index(frozenset(opened))], total)


@pytest.mark.parametrize("mode", MODES)
def test_it_agrees_with_trying_everything(mode: Mode, n_random_models: int) -> None:
    for seed in range(n_random_models):
        # A price due on success is not defined where repairs share a power test.
        model = drawn_model(seed, has_keep=mode == "each" and seed % 4 == 0)
        cost, firsts = brute(model, mode)
        problem, most_work = problem_from(model), WORKS[seed % len(WORKS)]

        answer = solve(problem, mode, never, most_work=most_work, wants_policy=True)

        assert "optimal" == answer.status, seed
        assert pytest.approx(float(cost), rel=TOLERANCE) == answer.cost, seed
        wanted = {name: float(value) for name, value in firsts.items()}
        shared = {name: answer.values[name] for name in wanted if name in answer.values}
        assert wanted.keys() == shared.keys() == answer.values.keys(), seed
        assert pytest.approx(wanted, rel=TOLERANCE) == shared, seed
        assert answer.proven == answer.values.keys(), seed
        assert {n for n in firsts if firsts[n] == cost} == set(answer.first), seed
        assert answer.policy is not None
        assert () == faults_in(problem, answer.policy, mode, answer.cost), seed


@pytest.mark.parametrize("mode", MODES)
def test_it_agrees_for_a_device_that_is_open_already(mode: Mode) -> None:
    for seed in range(50_000, 50_040):
        model = drawn_model(seed)
        nodes = {node["id"]: node for node in model["nodes"]}
        opened = sorted(random.Random(seed).choice(open_sets(nodes)))
        problem = problem_from(model | {"open_now": opened})
        most_work = WORKS[seed % len(WORKS)]

        answer = solve(problem, mode, never, most_work=most_work, wants_policy=True)

        cost = float(cost_from(model, mode, opened))
        assert pytest.approx(cost, rel=TOLERANCE) == answer.cost, seed
        assert answer.policy is not None
        assert () == faults_in(problem, answer.policy, mode, answer.cost), seed
