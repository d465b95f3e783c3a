"""Trying everything meets the given figures, and what must hold for any model."""

import json
import random
from copy import deepcopy
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from oracles.diagnose_brute import brute
from random_models import Model, needed_for, portable_model, random_model

CASES = Path(__file__).resolve().parents[1] / "cases" / "diagnosis-cases.json"
TOO_LARGE = {"D04-tree-rollback", "D17-portable-9-faults"}
"""The first is a bare tree and no model; the second has too many states."""

IN_SIX_DIGITS = {
    "D05-coherent-system",
    "D13-independent-faults",
    "D15-car-start-multi-fault",
}
MODES = ("free", "block", "each")


@cache
def cases() -> dict[str, Any]:
    return {case["id"]: case for case in json.loads(CASES.read_text("utf-8"))["cases"]}


GIVEN = [
    (name, mode)
    for name, case in cases().items()
    for mode in MODES
    if name not in TOO_LARGE and mode in case["expected"]
]


@pytest.mark.parametrize(("name", "mode"), GIVEN)
def test_it_meets_the_given_figures(name: str, mode: str) -> None:
    expected = cases()[name]["expected"][mode]

    cost, firsts = brute(cases()[name]["model"], mode)

    tolerance = 5e-7 if name in IN_SIX_DIGITS else 1e-9
    figures = expected.get("first_action_values", {})
    found = {first: float(firsts[first]) for first in figures}
    assert pytest.approx(expected["optimal_cost"], abs=tolerance) == float(cost)
    assert pytest.approx(figures, abs=tolerance) == found
    assert expected.get("exact_fraction", str(cost)) == str(cost)
    assert {f for f in firsts if firsts[f] == cost} >= set(expected["first"])


def one_fault(**changes: Any) -> Model:
    return {
        "faults": {"f": 1},
        "nodes": [
            {"id": "cover", "open": 2, "close": 3, "needs": []},
            {"id": "deck", "open": 4, "close": 5, "needs": ["cover"]},
        ],
        "tests": [],
        "repairs": [{"id": "r", "cost": 10, "open": ["deck"], "fix": {"f": 0.5}}],
        "verify": {"cost": 1, "closed": ["deck"]},
        "writeoff": {"cost": 100, "close_first": False},
    } | changes


def test_it_closes_no_more_than_the_power_test_needs() -> None:
    way_to_the_power_test = 2 + 4 + 10 + 5 + 1

    cost, _ = brute(one_fault(), "each")

    assert way_to_the_power_test + Fraction(3 + 100, 2) == cost


def test_it_closes_what_is_open_before_a_write_off_that_asks_for_it() -> None:
    write_off = {"cost": 100, "close_first": True}

    cost, _ = brute(one_fault(writeoff=write_off), "each")

    assert 2 + 4 + 10 + 5 + 1 + Fraction(3 + 3 + 100, 2) == cost


def test_it_closes_the_deck_with_the_cover_for_a_test_that_wants_the_cover_on() -> None:
    model = one_fault(ok_prior=0.5, repairs=[])
    model["tests"] = [
        {
            "id": "t",
            "cost": 1,
            "closed": ["cover"],
            "outcomes": ["pass", "fail"],
            "p": {"f": [0, 1]},
            "ok": [1, 0],
        }
    ]
    inside = deepcopy(model["tests"][0]) | {"id": "u", "cost": 0, "open": ["deck"]}
    del inside["closed"]

    _, firsts = brute(model | {"tests": [*model["tests"], inside]}, "block")

    # After `u` the belief is certain, so only closing is still to be paid if it works.
    assert 4 + 2 + Fraction(5 + 1 + 3 + 100, 2) == firsts["u"]
    assert 1 + Fraction(1 + 100, 2) == firsts["t"]


def test_it_mends_each_fault_of_a_set_by_itself() -> None:
    model = one_fault(
        multi={"independent": {"a": 0.5, "b": 0.5}, "max": 2},
        repairs=[{"id": "r", "cost": 3, "fix": {"a": 1, "b": 0.5}}],
        verify={"cost": 0, "closed": "all"},
        writeoff={"cost": 10},
    )
    p_pass = (1 + Fraction(1, 2) + Fraction(1, 2)) / 3

    cost, _ = brute(model, "each")

    assert 3 + (1 - p_pass) * 10 == cost


def test_it_takes_a_kept_part_only_for_what_the_repair_mends() -> None:
    repair = {"id": "r", "cost": 10, "keep": 20, "fix": {"f": 0.5}}

    _, firsts = brute(one_fault(ok_prior=0.6, repairs=[repair]), "each")

    p_mends = Fraction(4, 10) / 2
    assert 10 + 1 + p_mends * (20 + 100) == firsts["r"]


def test_it_lists_the_power_test_first_only_where_nothing_may_be_wrong() -> None:
    assert {"r", "WRITE-OFF"} == set(brute(one_fault(), "free")[1])
    assert {"r", "VERIFY", "WRITE-OFF"} == set(
        brute(one_fault(ok_prior=0.1), "free")[1]
    )


def test_it_refuses_a_kept_part_where_a_power_test_may_be_shared() -> None:
    repair = {"id": "r", "cost": 10, "keep": 20, "fix": {"f": 0.5}}

    with pytest.raises(ValueError, match="keep is defined in mode 'each' only"):
        brute(one_fault(repairs=[repair]), "block")


def test_it_refuses_a_mode_it_does_not_know() -> None:
    with pytest.raises(ValueError, match="mode 'any' is none of"):
        brute(one_fault(), "any")


def drawn(seed: int) -> Model:
    rng = random.Random(seed)
    return random_model(
        rng, faults=3, repairs=3, tests=2, nodes=3, n_at_once=rng.choice((1, 1, 2))
    )


@pytest.mark.parametrize("seed", range(60))
def test_it_never_costs_more_with_more_freedom(seed: int) -> None:
    costs = [brute(drawn(seed), mode)[0] for mode in MODES]

    assert sorted(costs) == costs
    assert costs[-1] <= drawn(seed)["writeoff"]["cost"]


@pytest.mark.parametrize("seed", range(20))
def test_it_costs_twice_as_much_at_twice_the_prices(seed: int) -> None:
    dearer = drawn(seed)
    for node in dearer["nodes"]:
        node |= {"open": 2 * node["open"], "close": 2 * node["close"]}
    for thing in (*dearer["tests"], *dearer["repairs"]):
        thing["cost"] *= 2
    dearer["verify"]["cost"] *= 2
    dearer["writeoff"]["cost"] *= 2

    assert 2 * brute(drawn(seed), "block")[0] == brute(dearer, "block")[0]


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("seed", range(20))
def test_it_never_costs_less_with_fewer_actions(seed: int, mode: str) -> None:
    model = drawn(seed)
    cost, _ = brute(model, mode)

    for kind in ("tests", "repairs"):
        assert cost <= brute(model | {kind: model[kind][1:]}, mode)[0]


@pytest.mark.parametrize("mode", ["block", "each"])
@pytest.mark.parametrize("seed", range(20))
def test_it_costs_the_mean_over_the_faults_when_they_are_told(
    seed: int, mode: str
) -> None:
    model = random_model(random.Random(seed), faults=3, repairs=3, tests=1, nodes=3) | {
        "ok_prior": 0
    }
    names = list(model["faults"])
    told = {
        "id": "told",
        "cost": 0,
        "outcomes": names,
        "p": {name: [int(name == other) for other in names] for name in names},
        "ok": [1, 0, 0],
    }
    alone = [
        brute(model | {"faults": {n: int(n == name) for n in names}}, mode)[0]
        for name in names
    ]
    mean = sum(
        Fraction(str(p)) * cost
        for p, cost in zip(model["faults"].values(), alone, strict=True)
    )

    assert mean == brute(model | {"tests": [*model["tests"], told]}, mode)[0]


def breaches(model: Model) -> list[str]:
    """Name everything that a valid model would not have."""
    things = [*model["tests"], *model["repairs"]]
    ids = [thing["id"] for thing in (*model["nodes"], *things)]
    found = [f"id twice: {name}" for name in ids if ids.count(name) > 1]
    for index, node in enumerate(model["nodes"]):
        if not set(node["needs"]) <= set(ids[:index]):
            found.append(f"{node['id']} needs a later node")
    for thing in (*things, model["verify"]):
        opened = needed_for(thing.get("open", []), model["nodes"])
        closed = thing.get("closed", [])
        if opened if closed == "all" else opened & set(closed):
            found.append(f"{thing} is to be open and closed")
    return found + odds_breaches(model)


def odds_breaches(model: Model) -> list[str]:
    names = set(model.get("faults") or model["multi"]["independent"])
    found = []
    if "faults" in model and exact_sum(model["faults"].values()) != 1:
        found.append("the shares of the faults have another sum than 1")
    for test in model["tests"]:
        if set(test["p"]) != set(test.get("looks_at", names)):
            found.append(f"{test['id']} has rows for other faults than it looks at")
        found.extend(row_breaches(test))
    for repair in model["repairs"]:
        if not set(repair["fix"]) <= names:
            found.append(f"{repair['id']} mends a fault that is not there")
        if not all(0 < p <= 1 for p in repair["fix"].values()):
            found.append(f"{repair['id']} mends with odds outside 0 to 1")
    return found


def row_breaches(test: Model) -> list[str]:
    return [
        f"{test['id']} has the row {row}"
        for row in (*test["p"].values(), test["ok"])
        if exact_sum(row) != 1 or min(row) < 0 or len(row) != len(test["outcomes"])
    ]


def exact_sum(numbers: Any) -> Fraction:
    return sum((Fraction(str(number)) for number in numbers), Fraction(0))


def drawn_large(seed: int) -> Model:
    rng = random.Random(seed)
    n_at_once, has_keep = rng.choice((1, 1, 3)), rng.random() < 0.3
    return random_model(
        rng,
        faults=rng.randint(1, 8),
        repairs=rng.randint(0, 8),
        tests=rng.randint(0, 6),
        nodes=rng.randint(0, 6),
        n_at_once=n_at_once,
        has_keep=has_keep,
    )


def drawn_portable(seed: int) -> Model:
    rng = random.Random(seed)
    faults, share = rng.randint(2, 14), rng.choice((0, 0.5, 1))
    return portable_model(
        rng, faults=faults, repairs=faults + 2, tests=6, nodes=6, noisy=share
    )


@pytest.mark.parametrize("draw", [drawn_large, drawn_portable])
def test_it_draws_valid_models_the_same_for_the_same_seed(draw: Any) -> None:
    for seed in range(200):
        assert [] == breaches(draw(seed))
        assert draw(seed) == draw(seed)


def test_it_calls_the_given_models_valid_and_broken_ones_not() -> None:
    portable = cases()["D17-portable-9-faults"]["model"]
    broken = deepcopy(portable)
    broken["tests"][0]["ok"] = [0.9, 0.2]
    broken["repairs"][1]["closed"] = ["cover"]

    assert [] == breaches(portable)
    assert 2 == len(breaches(broken))


def test_it_draws_models_of_every_kind() -> None:
    models = [drawn_large(seed) for seed in range(200)]
    tests = [test for model in models for test in model["tests"]]
    repairs = [repair for model in models for repair in model["repairs"]]
    mended = [{f for r in model["repairs"] for f in r["fix"]} for model in models]

    assert {2, 3} == {len(test["outcomes"]) for test in tests}
    assert {1, 2} == {len(repair["fix"]) for repair in repairs}
    assert any("ok_prior" in model for model in models)
    assert any("multi" in model for model in models)
    assert any("keep" in repair for repair in repairs)
    assert any(test.get("closed") == "all" for test in tests)
    assert any(isinstance(test.get("closed"), list) for test in tests)
    assert any(len(node["needs"]) == 2 for model in models for node in model["nodes"])
    assert {"all", "some", "none"} == {
        "all" if closed == "all" else "some" if closed else "none"
        for closed in (model["verify"]["closed"] for model in models)
    }
    assert {True, False} == {model["writeoff"]["close_first"] for model in models}
    assert any(
        not set(model.get("faults", fixed)) <= fixed
        for model, fixed in zip(models, mended, strict=True)
    )


def test_it_draws_certain_rows_in_the_share_asked_for() -> None:
    def rows(share: float) -> list[list[float]]:
        model = portable_model(
            random.Random(1), faults=9, repairs=10, tests=40, nodes=6, noisy=share
        )
        return [
            row for test in model["tests"] for row in (*test["p"].values(), test["ok"])
        ]

    assert all(0 in row for row in rows(0))
    assert {True, False} == {0 in row for row in rows(0.5)}
    assert not any(0 in row for row in rows(1))
