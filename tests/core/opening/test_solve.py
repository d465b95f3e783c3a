"""The solver is exact, says how far it is proven, and obeys the laws of the matter."""

import random
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from opening_cases import (
    all_cases,
    bench_problem,
    bench_rows,
    device_cases,
    problem_of,
)
from oracles.opening_dijkstra import cheapest
from random_devices import random_problem
from turnscrew.core.opening.answer import NumericAnswer
from turnscrew.core.opening.check import faults_in
from turnscrew.core.opening.problem import Act, Guard, Mode, OpeningProblem
from turnscrew.core.opening.solve import solve

WAYS = pytest.mark.parametrize("one_way", [True, False], ids=["strip", "round trip"])
LAW_SEEDS = range(10_000, 10_120)


def devices(seeds: range, largest: int = 6) -> list[OpeningProblem]:
    problems = []
    for seed in seeds:
        rng = random.Random(seed)
        problem = random_problem(rng, rng.randint(1, largest))
        problems.append(replace(problem, name=f"seed {seed}"))
    return problems


def cost_of(problem: OpeningProblem, one_way: bool) -> float:
    """Give the proven cost; no way costs more than any way."""
    answer = solve(problem, one_way=one_way)
    assert () == faults_in(problem, answer, one_way=one_way), problem.name
    if answer.status == "impossible":
        return float("inf")
    assert "optimal" == answer.status, problem.name
    assert answer.cost is not None
    return answer.cost


class Allowance:
    """Runs out after so many questions."""

    def __init__(self, n_questions: int) -> None:
        self.left = n_questions

    def __call__(self) -> bool:
        self.left -= 1
        return self.left < 0


# --- the given cases ---------------------------------------------------------

GIVEN = [
    (name, way)
    for name in device_cases()
    for way in ("strip", "round_trip")
    if way in all_cases()[name]["expected"]
]


@pytest.mark.parametrize(("name", "way"), GIVEN)
def test_it_meets_the_given_cost(name: str, way: str) -> None:
    problem, figure = problem_of(name), all_cases()[name]["expected"][way]

    cost = cost_of(problem, way == "strip")

    assert (float("inf") if figure == "infeasible" else figure) == cost


@WAYS
@pytest.mark.parametrize("name", device_cases())
def test_it_proves_and_replays_every_given_case(name: str, one_way: bool) -> None:
    answer = solve(problem_of(name), one_way=one_way)

    assert ("impossible" if name == "infeasible" else "optimal") == answer.status
    assert () == faults_in(problem_of(name), answer, one_way=one_way)


PROVED = [
    (row["seed"], way)
    for row in bench_rows()
    for way in ("strip", "round_trip")
    if row[way]["cost"] is not None
]


@pytest.mark.parametrize(("seed", "way"), PROVED)
def test_it_meets_the_proved_cost_of_the_benchmark(seed: int, way: str) -> None:
    row = next(row for row in bench_rows() if row["seed"] == seed)
    problem = bench_problem(row)

    assert len(row["device"]["actions"]) == len(problem.actions)
    assert row[way]["cost"] == cost_of(problem, way == "strip")


@WAYS
def test_it_names_the_ring_that_bars_the_way(one_way: bool) -> None:
    answer = solve(problem_of("infeasible"), one_way=one_way)

    assert {"p", "q"} <= set(answer.stuck)
    assert answer.reason


@WAYS
@pytest.mark.parametrize("name", device_cases(n_actions=100))
def test_it_gives_the_same_answer_twice(name: str, one_way: bool) -> None:
    problem = problem_of(name)

    assert solve(problem, one_way=one_way) == solve(problem, one_way=one_way)


# --- the oracle --------------------------------------------------------------


@WAYS
def test_it_agrees_with_trying_every_state(
    one_way: bool, n_random_devices: int
) -> None:
    for problem in devices(range(n_random_devices), largest=7):
        found = cheapest(problem, one_way=one_way)

        cost = cost_of(problem, one_way)

        assert (float("inf") if found is None else found[0]) == cost, problem.name


@WAYS
@pytest.mark.parametrize("n_questions", [0, 1, 3, 10, 30])
def test_it_never_claims_more_than_it_proved(one_way: bool, n_questions: int) -> None:
    for problem in devices(range(20_000, 20_060)):
        true_cost = cost_of(problem, one_way)

        answer = solve(problem, one_way=one_way, is_time_up=Allowance(n_questions))

        assert () == faults_in(problem, answer, one_way=one_way), problem.name
        if answer.status == "impossible":
            assert float("inf") == true_cost, problem.name
        else:
            assert answer.cost is not None
            assert answer.bound is not None
            assert answer.bound <= true_cost <= answer.cost, problem.name


@WAYS
@pytest.mark.parametrize("name", ["random-26-5", "random-60-10", "random-100-11"])
def test_it_has_a_plan_with_its_gap_when_time_is_up(name: str, one_way: bool) -> None:
    problem = problem_of(name)
    true_cost = cost_of(problem, one_way)

    answer = solve(problem, one_way=one_way, is_time_up=lambda: True)

    assert () == faults_in(problem, answer, one_way=one_way)
    assert answer.bound is not None
    assert answer.cost is not None
    assert answer.bound <= true_cost <= answer.cost


# --- laws --------------------------------------------------------------------

Change = Callable[[OpeningProblem, random.Random], OpeningProblem]


def others(problem: OpeningProblem, act: Act) -> list[str]:
    return [other.name for other in problem.actions if other is not act]


def with_act(problem: OpeningProblem, index: int, act: Act) -> OpeningProblem:
    actions = (*problem.actions[:index], act, *problem.actions[index + 1 :])
    return replace(problem, actions=actions)


def one_need_more(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    index = rng.randrange(len(problem.actions))
    act = problem.actions[index]
    if not others(problem, act):
        return problem
    group = (rng.choice(others(problem, act)),)
    return with_act(problem, index, replace(act, needs=(*act.needs, group)))


def one_mode_less(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    index = rng.randrange(len(problem.actions))
    act = problem.actions[index]
    if len(act.modes) > 1:
        act = replace(act, modes=act.modes[1:])
    if len(act.refit_modes) > 1:
        act = replace(act, refit_modes=act.refit_modes[:-1])
    return with_act(problem, index, act)


def one_order_more(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    index = rng.randrange(len(problem.actions))
    act = problem.actions[index]
    if not others(problem, act):
        return problem
    after = (*act.refit_after, rng.choice(others(problem, act)))
    return with_act(problem, index, replace(act, refit_after=after))


def one_guard_more(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    turns = [
        (start, end)
        for start, row in zip(problem.postures, problem.posture_cost, strict=True)
        for end, cost in zip(problem.postures, row, strict=True)
        if start != end and cost is not None
    ]
    if not turns:
        return problem
    start, end = rng.choice(turns)
    name = rng.choice(problem.actions).name
    return replace(problem, guards=(*problem.guards, Guard(start, end, ((name,),))))


def one_target_more(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    name = rng.choice(problem.actions).name
    return replace(problem, targets=tuple(sorted({*problem.targets, name})))


def dearer_tools(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    n = len(problem.tools)
    row, column = rng.randrange(n), rng.randrange(n)
    cost = [list(cells) for cells in problem.tool_cost]
    cost[row][column] += 0 if row == column else rng.randint(1, 9)
    return replace(problem, tool_cost=tuple(tuple(cells) for cells in cost))


def dearer_check(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    checks = tuple(
        replace(
            check,
            cost=check.cost + 3,
            rework=tuple((n, c + 1) for n, c in check.rework),
        )
        for check in problem.checks
    )
    return replace(problem, checks=checks)


HARDER: list[Change] = [
    one_need_more,
    one_mode_less,
    one_order_more,
    one_guard_more,
    one_target_more,
    dearer_tools,
    dearer_check,
]


@WAYS
@pytest.mark.parametrize("change", HARDER, ids=lambda change: change.__name__)
def test_it_never_gets_cheaper_when_things_get_harder(
    change: Change, one_way: bool
) -> None:
    n_dearer = 0
    for problem in devices(LAW_SEEDS):
        harder = change(problem, random.Random(problem.name))
        before, now = cost_of(problem, one_way), cost_of(harder, one_way)
        n_dearer += before < now

        assert before <= now, problem.name
    is_about_the_way_back = change in (one_order_more, dearer_check)
    assert (n_dearer > 0) == (not (one_way and is_about_the_way_back))


def scaled(problem: OpeningProblem, factor: int) -> OpeningProblem:
    def modes(given: tuple[Mode, ...]) -> tuple[Mode, ...]:
        return tuple(replace(mode, cost=factor * mode.cost) for mode in given)

    return replace(
        problem,
        posture_cost=tuple(
            tuple(None if cost is None else factor * cost for cost in row)
            for row in problem.posture_cost
        ),
        tool_cost=tuple(
            tuple(factor * cost for cost in row) for row in problem.tool_cost
        ),
        actions=tuple(
            replace(act, modes=modes(act.modes), refit_modes=modes(act.refit_modes))
            for act in problem.actions
        ),
        checks=tuple(
            replace(
                check,
                cost=factor * check.cost,
                rework=tuple((name, factor * cost) for name, cost in check.rework),
            )
            for check in problem.checks
        ),
    )


@WAYS
def test_it_scales_with_the_costs(one_way: bool) -> None:
    for problem in devices(LAW_SEEDS):
        cost = cost_of(problem, one_way)

        assert 7 * cost == cost_of(scaled(problem, 7), one_way), problem.name


def renumbered(problem: OpeningProblem, rng: random.Random) -> OpeningProblem:
    def shuffled(count: int) -> list[int]:
        return rng.sample(range(count), count)

    rows, tools = shuffled(len(problem.postures)), shuffled(len(problem.tools))
    return replace(
        problem,
        postures=tuple(problem.postures[i] for i in rows),
        posture_cost=tuple(
            tuple(problem.posture_cost[i][j] for j in rows) for i in rows
        ),
        tools=tuple(problem.tools[i] for i in tools),
        tool_cost=tuple(tuple(problem.tool_cost[i][j] for j in tools) for i in tools),
        actions=tuple(problem.actions[i] for i in shuffled(len(problem.actions))),
        checks=tuple(problem.checks[i] for i in shuffled(len(problem.checks))),
        targets=problem.targets[::-1],
    )


@WAYS
def test_it_costs_the_same_in_any_numbering(one_way: bool) -> None:
    for problem in devices(LAW_SEEDS):
        other = renumbered(problem, random.Random(problem.name))

        assert cost_of(problem, one_way) == cost_of(other, one_way), problem.name


@WAYS
def test_it_costs_the_sum_of_the_chosen_times_without_set_ups(one_way: bool) -> None:
    for problem in devices(LAW_SEEDS):
        free = replace(
            problem,
            posture_cost=tuple(
                tuple(None if cost is None else 0 for cost in row)
                for row in problem.posture_cost
            ),
            tool_cost=tuple(tuple(0 for _ in row) for row in problem.tool_cost),
        )
        answer = solve(free, one_way=one_way)
        handled = (
            m.cost for m in answer.plan if m.kind in ("remove", "refit", "check")
        )

        assert (answer.cost or 0) == sum(handled), problem.name
        assert cost_of(free, one_way) <= cost_of(problem, one_way), problem.name


def least_refit(problem: OpeningProblem) -> int:
    return sum(
        min(mode.cost for mode in act.refit_modes)
        for act in problem.actions
        if act.name in problem.targets or act.name in problem.already_off
    )


def test_it_returns_at_no_less_than_the_way_in_and_the_least_refit() -> None:
    n_possible = 0
    for problem in devices(LAW_SEEDS):
        trip = cost_of(problem, one_way=False)
        n_possible += trip < float("inf")

        assert cost_of(problem, one_way=True) + least_refit(problem) <= trip
    assert n_possible > len(LAW_SEEDS) // 2


@WAYS
def test_it_does_not_mind_a_tool_that_nothing_needs(one_way: bool) -> None:
    for problem in devices(LAW_SEEDS):
        n = len(problem.tools)
        more = replace(
            problem,
            tools=(*problem.tools, "spare"),
            tool_cost=(
                *((*row, 50) for row in problem.tool_cost),
                (*(50 for _ in range(n)), 0),
            ),
        )

        assert cost_of(problem, one_way) == cost_of(more, one_way), problem.name


def test_it_gives_a_numeric_answer_with_its_gap() -> None:
    answer = solve(problem_of("or-route"))

    assert isinstance(answer, NumericAnswer)
    assert (1516, 1516, 0.0) == (answer.cost, answer.bound, answer.gap)


def test_it_follows_a_chain_of_very_many_changes() -> None:
    tools = ("none", "a", "b")
    acts = []
    for i in range(1500):
        mode = Mode(("up",), "ab"[i % 2], 10)
        acts.append(Act(f"x{i}", ((f"x{i - 1}",),) if i else (), (mode,), (mode,)))
    problem = OpeningProblem(
        name="chain",
        unit="0.1 s",
        postures=("up",),
        posture_cost=((0,),),
        guards=(),
        tools=tools,
        tool_cost=((0, 5, 5), (5, 0, 5), (5, 5, 0)),
        start_posture="up",
        start_tool="none",
        end_posture="up",
        targets=("x1499",),
        actions=tuple(acts),
    )

    answer = solve(problem, one_way=True)

    assert ("optimal", 1500 * 15) == (answer.status, answer.cost)


@pytest.mark.parametrize("row", bench_rows(), ids=lambda row: f"{row['seed']}")
@WAYS
def test_it_has_a_plan_even_when_stopped_at_once(
    row: dict[str, Any], one_way: bool
) -> None:
    problem = bench_problem(row)
    reference = row["strip" if one_way else "round_trip"]

    answer = solve(problem, one_way=one_way, is_time_up=lambda: True)

    assert () == faults_in(problem, answer, one_way=one_way)
    assert answer.cost is not None, answer.reason
    assert answer.bound is not None
    if reference["cost"] is not None:
        assert answer.bound <= reference["cost"] <= answer.cost


def test_it_does_not_call_a_device_impossible_because_it_was_stopped() -> None:
    rng = random.Random("stopped")
    for _ in range(60):
        problem = random_problem(rng, 14)

        early = solve(problem, is_time_up=lambda: True)
        late = solve(problem)

        assert ("impossible" == early.status) == ("impossible" == late.status)
