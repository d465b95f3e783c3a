"""What must hold for any problem: its cost, its bounds, a search cut short."""

import random
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from core.diagnose.given import (
    PORTABLE,
    Allowance,
    drawn,
    never,
    portable,
    problem_of,
)
from turnscrew.core.diagnose.check import faults_in
from turnscrew.core.diagnose.compile import compact
from turnscrew.core.diagnose.problem import (
    MODES,
    WRITE_OFF,
    DiagnosisProblem,
    Mode,
    Repair,
    Verification,
    WriteOff,
)
from turnscrew.core.diagnose.problem import Test as Look
from turnscrew.core.diagnose.solve import MOST_WORK, bounds_for, solve
from turnscrew.core.diagnose.solve.bounds import GroupBounds, State
from turnscrew.core.diagnose.solve.search import Search

Shares = dict[str, float]
Change = Callable[[DiagnosisProblem, random.Random], DiagnosisProblem]

SEEDS = range(60_000, 60_020)
NEAR = 1e-9
WORKS = (1, 30, 200, 2_000, MOST_WORK)
EACH_MODE = pytest.mark.parametrize("mode", MODES)


def cost_of(problem: DiagnosisProblem, mode: Mode) -> float:
    answer = solve(problem, mode, never)
    assert "optimal" == answer.status
    return answer.cost


def at_most(one: float, other: float) -> bool:
    return one <= other + NEAR * (1 + abs(other))


def single(seed: int, **changes: Any) -> DiagnosisProblem:
    return drawn(seed, n_at_once=1, **changes)


# --- laws of the cost --------------------------------------------------------


@pytest.mark.parametrize("seed", range(60_000, 60_060))
def test_it_never_costs_more_with_more_freedom(seed: int) -> None:
    problem = drawn(seed)

    free, block, each = (cost_of(problem, mode) for mode in ("free", "block", "each"))

    assert at_most(free, block)
    assert at_most(block, each)
    assert at_most(each, problem.write_off.cost)


def times(problem: DiagnosisProblem, k: float) -> DiagnosisProblem:
    return replace(
        problem,
        nodes=tuple(
            replace(n, open_cost=k * n.open_cost, close_cost=k * n.close_cost)
            for n in problem.nodes
        ),
        tests=tuple(replace(t, cost=k * t.cost) for t in problem.tests),
        repairs=tuple(
            replace(r, cost=k * r.cost, keep_cost=k * r.keep_cost)
            for r in problem.repairs
        ),
        verification=replace(problem.verification, cost=k * problem.verification.cost),
        write_off=replace(problem.write_off, cost=k * problem.write_off.cost),
    )


@EACH_MODE
@pytest.mark.parametrize("seed", SEEDS)
def test_it_costs_so_many_times_as_much_at_so_many_times_the_prices(
    seed: int, mode: Mode
) -> None:
    problem, k = drawn(seed), 0.37 + seed % 7

    one, many = solve(problem, mode, never), solve(times(problem, k), mode, never)

    assert pytest.approx(k * one.cost, rel=NEAR) == many.cost
    assert set(one.first) == set(many.first)


def one_test_less(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    lost = rng.choice(problem.tests)
    return replace(problem, tests=tuple(t for t in problem.tests if t != lost))


def one_repair_less(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    lost = rng.choice(problem.repairs)
    return replace(problem, repairs=tuple(r for r in problem.repairs if r != lost))


def dearer(things: tuple[Any, ...], rng: random.Random) -> tuple[Any, ...]:
    chosen = rng.choice(things)
    more = rng.randint(1, 9)
    return tuple(replace(t, cost=t.cost + more) if t == chosen else t for t in things)


def dearer_test(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    return replace(problem, tests=dearer(problem.tests, rng))


def dearer_repair(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    return replace(problem, repairs=dearer(problem.repairs, rng))


def dearer_opening(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    chosen, more = rng.choice(problem.nodes), rng.randint(1, 9)
    return replace(
        problem,
        nodes=tuple(
            replace(n, open_cost=n.open_cost + more) if n == chosen else n
            for n in problem.nodes
        ),
    )


def dearer_closing(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    chosen, more = rng.choice(problem.nodes), rng.randint(1, 9)
    return replace(
        problem,
        nodes=tuple(
            replace(n, close_cost=n.close_cost + more) if n == chosen else n
            for n in problem.nodes
        ),
    )


def dearer_power_test(
    problem: DiagnosisProblem, rng: random.Random
) -> DiagnosisProblem:
    cost = problem.verification.cost + rng.randint(1, 9)
    return replace(problem, verification=replace(problem.verification, cost=cost))


def dearer_write_off(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    cost = problem.write_off.cost + rng.randint(1, 30)
    return replace(problem, write_off=replace(problem.write_off, cost=cost))


HARDER: list[Change] = [
    one_test_less,
    one_repair_less,
    dearer_test,
    dearer_repair,
    dearer_opening,
    dearer_closing,
    dearer_power_test,
    dearer_write_off,
]


@EACH_MODE
@pytest.mark.parametrize("change", HARDER, ids=lambda change: change.__name__)
def test_it_never_gets_cheaper_when_things_get_harder(
    change: Change, mode: Mode
) -> None:
    for seed in SEEDS:
        problem = drawn(seed)
        harder = change(problem, random.Random(seed))

        assert at_most(cost_of(problem, mode), cost_of(harder, mode)), seed


@EACH_MODE
def test_it_costs_at_least_the_mean_where_two_shops_see_other_faults(
    mode: Mode,
) -> None:
    for seed in SEEDS:
        problem, rng = single(seed), random.Random(seed)
        one, other = problem.faults, shares_like(problem.faults, rng)
        part = rng.uniform(0.1, 0.9)
        both = {name: part * one[name] + (1 - part) * other[name] for name in one}

        costs = [
            cost_of(replace(problem, faults=shares), mode)
            for shares in (one, other, both)
        ]

        assert at_most(part * costs[0] + (1 - part) * costs[1], costs[2]), seed


def shares_like(shares: Shares, rng: random.Random) -> Shares:
    raw = {name: rng.random() for name in shares}
    return {name: weight / sum(raw.values()) for name, weight in raw.items()}


def shuffled(problem: DiagnosisProblem, rng: random.Random) -> DiagnosisProblem:
    def mixed(things: Any) -> tuple[Any, ...]:
        return tuple(rng.sample(list(things), len(things)))

    return replace(
        problem,
        faults=dict(mixed(problem.faults.items())),
        independent=dict(mixed(problem.independent.items())),
        nodes=mixed(problem.nodes),
        tests=mixed(tuple(turned(test) for test in problem.tests)),
        repairs=mixed(problem.repairs),
    )


def turned(test: Look) -> Look:
    return replace(
        test,
        outcomes=test.outcomes[::-1],
        p={name: row[::-1] for name, row in test.p.items()},
        p_ok=test.p_ok[::-1],
    )


@EACH_MODE
@pytest.mark.parametrize("seed", SEEDS)
def test_it_does_not_mind_the_order_of_lists(seed: int, mode: Mode) -> None:
    problem = drawn(seed)

    one = solve(problem, mode, never)
    other = solve(shuffled(problem, random.Random(seed)), mode, never)

    assert pytest.approx(one.cost, rel=NEAR) == other.cost
    assert pytest.approx(one.values, rel=NEAR) == other.values
    assert set(one.first) == set(other.first)


@pytest.mark.parametrize("mode", ["each", "block"])
@pytest.mark.parametrize("seed", SEEDS)
def test_it_costs_the_mean_over_the_faults_when_they_are_told(
    seed: int, mode: Mode
) -> None:
    problem = replace(single(seed), p_ok=0.0)
    names = tuple(problem.faults)
    rows = {n: tuple(float(n == other) for other in names) for n in names}
    told = Look("told", 0.0, names, rows, rows[names[0]])
    mean = sum(
        share
        * cost_of(
            replace(problem, faults={name: 1.0}, tests=alone(problem, name)), mode
        )
        for name, share in problem.faults.items()
    )

    cost = cost_of(replace(problem, tests=(*problem.tests, told)), mode)

    assert pytest.approx(mean, rel=NEAR) == cost


def alone(problem: DiagnosisProblem, name: str) -> tuple[Look, ...]:
    return tuple(replace(test, p={name: test.p[name]}) for test in problem.tests)


def test_it_writes_off_where_nothing_else_can_be_done() -> None:
    problem = replace(single(1), tests=(), repairs=(), p_ok=0.0)

    answer = solve(problem, "each", never, wants_policy=True)

    assert (WRITE_OFF,) == answer.first
    assert problem.write_off.cost == answer.cost


def test_it_leaves_out_a_repair_of_nothing_that_is_there() -> None:
    problem = replace(single(1), p_ok=0.0)
    idle = Repair("idle", 0.0, {"somewhere else": 1.0})

    cost = cost_of(replace(problem, repairs=(*problem.repairs, idle)), "block")

    assert pytest.approx(cost_of(problem, "block"), rel=NEAR) == cost


# --- bounds ------------------------------------------------------------------


def searching(problem: DiagnosisProblem, mode: Mode, most_work: int) -> Search:
    whole = compact(problem)
    bounds = bounds_for(whole, mode, never, most_work)
    return Search(whole, mode, bounds, never)


@EACH_MODE
@pytest.mark.parametrize("most_work", WORKS)
def test_it_never_bounds_a_state_above_its_cost(mode: Mode, most_work: int) -> None:
    for seed in range(61_000, 61_030):
        search = searching(drawn(seed, faults=4), mode, most_work)
        for state in states_on_a_way(search, random.Random(seed)):
            value = search.value(state, float("inf"))

            assert at_most(state.least, value), seed
            for option in search.options(state, with_useless=True):
                value = search.option_value(state, option, float("inf"))
                assert at_most(option.total, value), (seed, option)


def states_on_a_way(search: Search, rng: random.Random) -> list[State]:
    """Take actions and outcomes at random until nothing is left to do."""
    states = [search.start()]
    while options := search.options(states[-1]):
        option = rng.choice(options)
        possible = [
            after
            for outcome in range(len(option.leasts))
            if (after := search.after(states[-1], option, outcome)).mass > 1e-9
        ]
        if not possible:
            break
        states.append(rng.choice(possible))
    return states


@EACH_MODE
def test_it_bounds_no_worse_with_faults_in_groups_than_one_by_one(mode: Mode) -> None:
    for seed in range(62_000, 62_030):
        problem = single(seed, faults=4)
        leasts = []
        for most_work in (1, MOST_WORK):
            search = searching(problem, mode, most_work)
            assert isinstance(search.bounds, GroupBounds)
            leasts.append(search.start().least)

        assert at_most(leasts[0], leasts[1]), seed
        assert at_most(leasts[1], cost_of(problem, mode)), seed


@pytest.mark.parametrize("mode", ["each", "block"])
def test_it_knows_the_cost_at_once_where_one_group_holds_all(mode: Mode) -> None:
    for seed in range(63_000, 63_030):
        problem = replace(single(seed), p_ok=0.0)
        problem = replace(
            problem, repairs=tuple(replace(r, closed=()) for r in problem.repairs)
        )
        search = searching(problem, mode, MOST_WORK)
        if search.bounds.n_groups > 1:
            continue

        assert pytest.approx(cost_of(problem, mode), rel=NEAR) == search.start().least


# --- a search cut short ------------------------------------------------------


@EACH_MODE
@pytest.mark.parametrize("n_questions", [0, 1, 3, 10, 40])
def test_it_never_claims_more_than_it_proved(mode: Mode, n_questions: int) -> None:
    for seed in range(64_000, 64_006):
        problem = portable(seed, 6)
        optimum = cost_of(problem, mode)

        for wants_policy in (False, True):
            answer = solve(
                problem,
                mode,
                Allowance(n_questions),
                most_work=200,
                wants_policy=wants_policy,
            )

            assert at_most(answer.bound, optimum), seed
            assert at_most(optimum, answer.cost), seed
            assert 0 <= answer.gap < 1, seed
            assert answer.first, seed
            assert all(at_most(optimum, value) for value in answer.values.values())
            if answer.policy is not None:
                assert () == faults_in(problem, answer.policy, mode, answer.cost), seed


@EACH_MODE
@pytest.mark.parametrize("wants_policy", [False, True])
def test_it_has_an_answer_with_its_gap_when_the_time_is_up_at_once(
    wants_policy: bool, mode: Mode
) -> None:
    figures = {"each": 164.044999, "block": 160.962654, "free": 154.697671}
    problem = problem_of(PORTABLE)

    answer = solve(problem, mode, lambda: True, wants_policy=wants_policy)

    assert "bounded" == answer.status
    assert answer.bound < figures[mode] <= answer.cost
    assert 0 < answer.gap < 1
    assert answer.first
    assert answer.policy is None or wants_policy
    if answer.policy is not None:
        assert () == faults_in(problem, answer.policy, mode, answer.cost)


@EACH_MODE
def test_it_has_an_answer_for_several_faults_when_the_time_is_up(mode: Mode) -> None:
    problem = problem_of("D15-car-start-multi-fault")
    optimum = cost_of(problem, mode)

    answer = solve(problem, mode, lambda: True, wants_policy=True)

    assert at_most(answer.bound, optimum)
    assert at_most(optimum, answer.cost)
    assert answer.policy is not None
    assert () == faults_in(problem, answer.policy, mode, answer.cost)


def test_it_names_the_repair_it_falls_back_on_when_tests_took_all_the_time() -> None:
    rows = {"a": (0.5, 0.5), "b": (0.51, 0.49)}
    problem = DiagnosisProblem(
        faults={"a": 0.6, "b": 0.4},
        nodes=(),
        tests=tuple(
            Look(f"vague {n}", 0.1, ("pass", "fail"), rows, rows["a"])
            for n in range(20)
        ),
        repairs=(
            Repair("mend a", 10.0, {"a": 1.0}),
            Repair("mend b", 10.0, {"b": 1.0}),
        ),
        verification=Verification(0.0),
        write_off=WriteOff(100.0),
    )

    answer = solve(problem, "each", lambda: True)

    assert "bounded" == answer.status
    assert ("mend a",) == answer.first
    assert pytest.approx(10 + 0.4 * 10) == answer.cost == answer.values["mend a"]
    assert "mend a" not in answer.proven
