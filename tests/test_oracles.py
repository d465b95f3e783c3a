"""The oracles meet the figures that were given or are known from the textbooks."""

import random
from itertools import combinations

import pytest

from opening_cases import all_cases, device_cases, problem_of
from oracles import opening_cpsat, opening_dijkstra
from oracles.opening_enumerate import (
    Poset,
    n_linear_extensions,
    n_order_ideals,
    strip_by_every_order,
)
from random_devices import random_problem

SMALL = device_cases(n_actions=18)


def expected(name: str, way: str) -> int | None:
    figure = all_cases()[name]["expected"].get(way)
    return None if figure == "infeasible" else figure


@pytest.mark.parametrize("name", SMALL)
def test_it_strips_at_the_given_cost_by_trying_every_state(name: str) -> None:
    found = opening_dijkstra.cheapest(problem_of(name), one_way=True)

    assert expected(name, "strip") == (found and found[0])


@pytest.mark.parametrize(
    "name", [n for n in SMALL if "round_trip" in all_cases()[n]["expected"]]
)
def test_it_goes_and_returns_at_the_given_cost_by_trying_every_state(
    name: str,
) -> None:
    found = opening_dijkstra.cheapest(problem_of(name), one_way=False)

    assert found is not None
    assert expected(name, "round_trip") == found[0]


@pytest.mark.parametrize(
    "name", [n for n in SMALL if "orders_enumerated" in all_cases()[n]["expected"]]
)
def test_it_tries_the_given_number_of_orders(name: str) -> None:
    figures = all_cases()[name]["expected"]

    assert (figures["strip"], figures["orders_enumerated"]) == strip_by_every_order(
        problem_of(name)
    )


def test_it_finds_no_order_where_there_is_none() -> None:
    assert (None, 0) == strip_by_every_order(problem_of("infeasible"))


def fence(n: int) -> Poset:
    return {
        str(i): frozenset(str(j) for j in (i - 1, i + 1) if i % 2 == 1 and 0 <= j < n)
        for i in range(n)
    }


def subsets(n: int) -> Poset:
    found = [
        frozenset(some)
        for size in range(n + 1)
        for some in combinations(range(n), size)
    ]
    return {
        str(sorted(larger)): frozenset(
            str(sorted(smaller)) for smaller in found if smaller < larger
        )
        for larger in found
    }


def grid(n: int) -> Poset:
    return {
        f"{row},{column}": frozenset(
            f"{r},{c}"
            for r, c in ((row - 1, column), (row, column - 1))
            if r >= 0 and c >= 0
        )
        for row in range(2)
        for column in range(n)
    }


def poset_named(name: str) -> Poset:
    if name.startswith("fence of "):
        return fence(int(name.split()[-1]))
    if name.startswith("all subsets of "):
        return subsets(int(name.split()[3]))
    if name.startswith("2 x "):
        return grid(int(name.split()[2]))
    parent = {"1": "0", "2": "0", "3": "1", "4": "1", "5": "2", "6": "5", "7": "5"}
    return {"0": frozenset()} | {
        child: frozenset((above,)) for child, above in parent.items()
    }


@pytest.mark.parametrize(
    "row", all_cases()["counts"]["expected"], ids=lambda row: row["poset"]
)
def test_it_counts_orders_and_states(row: dict[str, int | str]) -> None:
    poset = poset_named(str(row["poset"]))

    assert row["linear_extensions"] == n_linear_extensions(poset)
    assert row["order_ideals"] == n_order_ideals(poset)


def test_it_adds_up_the_published_worksheet() -> None:
    sheet = all_cases()["worksheet"]
    tenths = sum(
        round(10 * row["tool"])
        + row["repeats"] * round(10 * (row["removal"] + row["set_aside"]))
        for row in sheet["rows"]
    )

    assert round(10 * sheet["expected"]["total_seconds"]) == tenths
    # 30 per hour, so 3000 cents in 36,000 tenths of a second.
    assert sheet["expected"]["labour_cost_cents"] == round(tenths / 12, 2)


@pytest.mark.parametrize("one_way", [True, False])
@pytest.mark.parametrize("seed", range(40))
def test_it_agrees_with_the_constraint_solver(seed: int, one_way: bool) -> None:
    rng = random.Random(seed)
    problem = random_problem(rng, rng.randint(1, 6))
    by_states = opening_dijkstra.cheapest(problem, one_way=one_way)

    found = opening_cpsat.cheapest(problem, 60, one_way=one_way, n_workers=1)

    assert ("optimal" if by_states else "impossible") == found.status
    assert (by_states and by_states[0]) == found.cost


@pytest.mark.parametrize(
    "name", ["rebuild-not-reverse", "posture-guard", "ring-broken-by-or", "infeasible"]
)
def test_it_meets_the_given_costs_with_the_constraint_solver(name: str) -> None:
    problem = problem_of(name)

    found = opening_cpsat.cheapest(problem, 60, one_way=True, n_workers=1)

    assert expected(name, "strip") == found.cost
    if expected(name, "round_trip"):
        found = opening_cpsat.cheapest(problem, 60, one_way=False, n_workers=1)
        assert expected(name, "round_trip") == found.cost
