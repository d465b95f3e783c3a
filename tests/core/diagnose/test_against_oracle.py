"""The solver agrees with trying everything, from any number of groups of faults."""

import random
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from core.diagnose.given import drawn_model, never, problem_from
from oracles.diagnose_brute import Search, State, brute, open_sets, whole
from random_models import Model
from turnscrew.core.diagnose.check import faults_in
from turnscrew.core.diagnose.problem import MODES, DiagnosisProblem, Mode
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


def barred_model(seed: int, **changes: Any) -> Model:
    """Draw a model of which some faults forbid power, and some tests power."""
    rng = random.Random(-seed)
    model = drawn_model(seed, **changes)
    faults = [*model.get("faults", model.get("multi", {}).get("independent", ()))]
    tests = [{**test, "powers": rng.random() < 0.5} for test in model["tests"]]
    return model | {
        "tests": tests,
        "no_power": rng.sample(faults, rng.randint(1, len(faults))),
        "power_limit": rng.choice((0.05, 0.3, 0.5, 0.8)),
    }


def barred_problem(model: Model) -> DiagnosisProblem:
    powers = {test["id"] for test in model["tests"] if test["powers"]}
    plain = {k: v for k, v in model.items() if k not in ("no_power", "power_limit")}
    plain["tests"] = [
        {k: v for k, v in test.items() if k != "powers"} for test in model["tests"]
    ]
    problem = problem_from(plain)
    return replace(
        problem,
        tests=tuple(replace(t, powers=t.name in powers) for t in problem.tests),
        no_power=tuple(model["no_power"]),
        power_limit=model["power_limit"],
    )


@pytest.mark.parametrize("mode", MODES)
def test_it_agrees_where_some_faults_forbid_power(
    mode: Mode, n_random_models: int
) -> None:
    n_dearer = 0
    for seed in range(100_000, 100_000 + n_random_models):
        model = barred_model(seed, has_keep=mode == "each" and seed % 4 == 0)
        cost, firsts = brute(model, mode)
        problem, most_work = barred_problem(model), WORKS[seed % len(WORKS)]

        answer = solve(problem, mode, never, most_work=most_work, wants_policy=True)

        assert "optimal" == answer.status, seed
        assert pytest.approx(float(cost), rel=TOLERANCE) == answer.cost, seed
        wanted = {name: float(value) for name, value in firsts.items()}
        assert pytest.approx(wanted, rel=TOLERANCE) == answer.values, seed
        assert answer.policy is not None
        assert () == faults_in(problem, answer.policy, mode, answer.cost), seed
        n_dearer += cost > brute({**model, "no_power": []}, mode)[0]
    # The bar bites: many of the models would be cheaper without it.
    assert n_dearer > n_random_models / 10


@pytest.mark.parametrize("mode", MODES)
def test_it_agrees_where_work_costs_nothing(mode: Mode) -> None:
    """A check-out and repairs free of cost: a value of 0 is a value."""
    for seed in range(200_000, 200_100):
        model = drawn_model(seed)
        model["verify"]["cost"] = 0
        for action in (*model["repairs"], *model["tests"][:1], *model["nodes"]):
            action |= {"cost": 0} if "cost" in action else {"open": 0, "close": 0}
        cost, firsts = brute(model, mode)
        problem, most_work = problem_from(model), WORKS[seed % len(WORKS)]

        answer = solve(problem, mode, never, most_work=most_work, wants_policy=True)

        assert pytest.approx(float(cost), rel=TOLERANCE) == answer.cost, seed
        wanted = {name: float(value) for name, value in firsts.items()}
        assert pytest.approx(wanted, rel=TOLERANCE) == answer.values, seed
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


def hardly_working_model() -> Model:
    """Give a model in which bad outcomes leave next to no device that works."""
    rows = {
        "t0": (5, (0.9, 0.95, 0.3, 0.9)),
        "t1": (1, (0.5, 0.5, 0.95, 0.3)),
        "t2": (1, (0.3, 0.95, 0.95, 0.5)),
        "t3": (5, (0.95, 0.95, 0.3, 0.3)),
        "t4": (2, (0.7, 0.95, 0.5, 0.9)),
    }
    fixes = {
        "r0": (30, {"f0": 0.9}),
        "r1": (30, {"f1": 0.95, "f3": 0.5}),
        "r2": (5, {"f0": 0.5}),
    }
    return {
        "faults": {"f0": 0.2, "f1": 0.3, "f2": 0.25, "f3": 0.25},
        "ok_prior": 0.01,
        "nodes": [],
        "tests": [
            {
                "id": name,
                "cost": cost,
                "outcomes": ["bad", "good"],
                "p": {f"f{i}": [p, round(1 - p, 2)] for i, p in enumerate(row)},
                "ok": [0.001, 0.999],
            }
            for name, (cost, row) in rows.items()
        ],
        "repairs": [
            {"id": name, "cost": cost, "fix": fix}
            for name, (cost, fix) in fixes.items()
        ],
        "verify": {"cost": 0.5},
        "writeoff": {"cost": 300},
    }


@pytest.mark.parametrize("mode", ["block", "free"])
def test_it_agrees_where_hardly_any_device_works(mode: Mode) -> None:
    """A chance too small for the memory's digits is still kept apart from none."""
    model = hardly_working_model()
    cost, _ = brute(model, mode)

    answer = solve(problem_from(model), mode, never, wants_policy=True)

    assert pytest.approx(float(cost), rel=TOLERANCE) == answer.cost


@pytest.mark.parametrize("seed", [301057, 301207, 301386, 301746, 302324])
def test_it_agrees_where_a_test_spares_a_dear_power_test(seed: int) -> None:
    """With several faults at once a test may tell that a repair failed."""
    sizes = {"faults": 2, "tests": 2, "repairs": 3, "nodes": 0, "n_at_once": 2}
    model = drawn_model(seed, **sizes)
    model["verify"]["cost"] = 12
    cost, _ = brute(model, "free")

    answer = solve(problem_from(model), "free", never, wants_policy=True)

    assert pytest.approx(float(cost), rel=TOLERANCE) == answer.cost
