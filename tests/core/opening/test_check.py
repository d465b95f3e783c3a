"""The referee accepts what is right and names what is wrong."""

import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from opening_cases import TURN_ROUND, all_cases, device_cases, plan_of, problem_of
from oracles.opening_dijkstra import cheapest
from random_devices import random_problem
from turnscrew.core.opening.answer import Move, NumericAnswer
from turnscrew.core.opening.check import faults_in
from turnscrew.core.opening.problem import Act, Check, Guard, Mode, OpeningProblem

BY_HAND = (Mode(("base",), None, 4),)
BY_DRIVER = (Mode(("base",), "driver", 20),)

TOY = OpeningProblem(
    name="toy",
    unit="1 s",
    postures=("base", "lid", "aside"),
    posture_cost=((0, 9, 15), (9, 0, None), (15, None, 0)),
    guards=(Guard("base", "aside", (("board screws",),)),),
    tools=("none", "driver", "pick"),
    tool_cost=((0, 4, 4), (5, 0, 4), (5, 4, 0)),
    start_posture="lid",
    start_tool="none",
    end_posture="lid",
    targets=("jack",),
    actions=(
        Act("screws", (), BY_DRIVER, BY_DRIVER, refit_checks=("power",)),
        Act("cover", (("screws",),), BY_HAND, BY_HAND, refit_checks=("power",)),
        Act("plug", (("cover",),), (Mode(("base",), "pick", 6),), BY_HAND),
        Act("lead", (("cover",),), BY_HAND, BY_HAND, refit_after=("fan",)),
        Act(
            "fan",
            (("plug",),),
            (*BY_DRIVER, Mode(("base",), "driver", 7, (("lead",),))),
            BY_DRIVER,
        ),
        Act("board screws", (("fan",),), BY_DRIVER, BY_DRIVER),
        Act("jack", (("board screws",),), (Mode(("aside",), None, 8),), BY_HAND),
        Act("seal", (), BY_HAND, BY_HAND),
    ),
    checks=(
        Check("power", ("lid",), None, 30, ("plug", "fan"), (), (("lead", 3),)),
        Check("tight", ("base",), None, 10, (), ("seal",)),
    ),
)

WAY_IN = [
    "turn to base",
    "take driver",
    "remove screws",
    "remove cover",
    "remove lead",
    "take pick",
    "remove plug",
    "take driver",
    "remove fan",
    "remove board screws",
    "turn to aside",
    "remove jack",
]
WAY_BACK = [
    "turn to base",
    "refit jack",
    "refit board screws",
    "refit fan",
    "refit plug",
    "turn to lid",
    "check power",
    "turn to base",
    "refit lead",
    "refit cover",
    "refit screws",
    "turn to lid",
]
GOOD = [*WAY_IN, TURN_ROUND, *WAY_BACK]

Edit = Callable[[list[str]], list[str]]


def without(line: str) -> Edit:
    return lambda lines: [other for other in lines if other != line]


def after(line: str, *more: str) -> Edit:
    def put(lines: list[str]) -> list[str]:
        place = lines.index(line) + 1
        return [*lines[:place], *more, *lines[place:]]

    return put


def moved(line: str, behind: str) -> Edit:
    return lambda lines: after(behind, line)(without(line)(lines))


BAD_PLANS: list[tuple[str, Edit]] = [
    ("posture nowhere is unknown", after("turn to base", "turn to nowhere")),
    ("tool spoon is unknown", after("turn to base", "take spoon")),
    ("(remove ghost): unknown action", after("remove cover", "remove ghost")),
    ("(refit ghost): unknown action", after(TURN_ROUND, "refit ghost")),
    ("(check ghost): unknown check", after(TURN_ROUND, "check ghost")),
    ("(remove cover): is already off", after("remove cover", "remove cover")),
    ("(refit seal): is already on", after(TURN_ROUND, "refit seal")),
    ("(remove cover): waits for screws", without("remove screws")),
    ("(remove jack): waits for board screws", without("remove board screws")),
    ("cannot be done in posture base", without("turn to aside")),
    ("wants driver in hand, not none", without("take driver")),
    ("wants pick in hand, not driver", without("take pick")),
    (
        "the turn from base waits for board screws",
        moved("remove board screws", "turn to aside"),
    ),
    ("no direct turn from aside", after("turn to aside", "turn to lid")),
    ("turns to where the device already lies", after("turn to base", "turn to base")),
    ("takes what is already in hand", after("take pick", "take pick")),
    ("the plan never turns round", without(TURN_ROUND)),
    ("turns round a second time", after("refit jack", TURN_ROUND)),
    ("removes after the turn-round", after("refit jack", "remove seal")),
    ("refits before the turn-round", after("remove lead", "refit lead")),
    ("checks before the turn-round", after("remove jack", "check power")),
    ("target jack was not removed", without("remove jack")),
    ("at the end lead is still off", without("refit lead")),
    ("check power is due and was not made", without("check power")),
    ("(check power): is not due", after("check power", "check power")),
    ("(check tight): is not due", after("refit plug", "check tight")),
    ("check tight is due and was not made", after("remove cover", "remove seal")),
    ("ends in posture base, wanted lid", lambda lines: lines[:-1]),
    (
        "is made while plug is off",
        moved("refit plug", "check power"),
    ),
    ("(refit cover): shuts in plug", moved("refit cover", "refit fan")),
    ("(refit plug): is shut out: needs cover off", moved("refit cover", "refit fan")),
    ("(refit cover): must follow check power", moved("refit cover", "refit plug")),
    ("(refit lead): must follow fan", moved("refit lead", "refit jack")),
]


def test_it_accepts_a_good_plan() -> None:
    plan = plan_of(TOY, GOOD)

    assert () == faults_in(TOY, plan, one_way=False)
    assert () == faults_in(TOY, plan_of(TOY, WAY_IN), one_way=True)


@pytest.mark.parametrize(("fault", "edit"), BAD_PLANS, ids=[f for f, _ in BAD_PLANS])
def test_it_names_what_is_wrong_with_a_plan(fault: str, edit: Edit) -> None:
    faults = faults_in(TOY, plan_of(TOY, edit(GOOD)), one_way=False)

    assert fault in "\n".join(faults)


@pytest.mark.parametrize("line", [TURN_ROUND, "refit jack", "check power"])
def test_it_keeps_the_way_back_out_of_a_one_way_plan(line: str) -> None:
    faults = faults_in(TOY, plan_of(TOY, [*WAY_IN, line]), one_way=True)

    assert (f"line 13 ({line}): does not belong in a one-way plan",) == faults


def test_it_misses_a_target_in_a_one_way_plan() -> None:
    faults = faults_in(TOY, plan_of(TOY, WAY_IN[:-1]), one_way=True)

    assert ("target jack was not removed",) == faults


def test_it_wants_the_rework_of_a_refit_before_its_check_paid() -> None:
    early = plan_of(TOY, moved("refit lead", "refit fan")(GOOD))
    unpaid = tuple(
        replace(move, cost=4) if str(move) == "refit lead" else move for move in early
    )

    assert () == faults_in(TOY, early, one_way=False)
    assert ("line 18 (refit lead): costs 7, claimed 4",) == faults_in(
        TOY, unpaid, one_way=False
    )


def test_it_refuses_a_mode_whose_condition_is_not_met() -> None:
    lines = without("refit lead")(without("remove lead")(GOOD))
    plan = tuple(
        replace(move, cost=7, mode=1) if str(move) == "remove fan" else move
        for move in plan_of(TOY, lines)
    )

    assert ("line 8 (remove fan): this mode waits for lead",) == faults_in(
        TOY, plan, one_way=False
    )


@pytest.mark.parametrize("mode", [-1, 2])
def test_it_refuses_a_mode_that_is_not_there(mode: int) -> None:
    plan = tuple(
        replace(move, mode=mode) if str(move) == "remove fan" else move
        for move in plan_of(TOY, GOOD)
    )

    assert (f"line 9 (remove fan): mode {mode} is unknown",) == faults_in(
        TOY, plan, one_way=False
    )


@pytest.mark.parametrize("number", range(len(GOOD)))
def test_it_recomputes_the_cost_of_every_line(number: int) -> None:
    plan = list(plan_of(TOY, GOOD))
    plan[number] = replace(plan[number], cost=plan[number].cost + 1)

    faults = faults_in(TOY, tuple(plan), one_way=False)

    assert 1 == len(faults)
    assert f"line {number + 1} " in faults[0]
    assert "claimed" in faults[0]


@pytest.mark.parametrize("field", ["posture", "tool"])
def test_it_compares_the_place_after_every_line(field: str) -> None:
    plan = plan_of(TOY, GOOD)
    for number, move in enumerate(plan):
        wrong = replace(move, **{field: "elsewhere"})
        faults = faults_in(
            TOY, (*plan[:number], wrong, *plan[number + 1 :]), one_way=False
        )

        assert 1 == len(faults)
        assert "claimed 'elsewhere'" in faults[0]


def test_it_lets_a_tool_change_cost_what_the_best_detour_costs() -> None:
    dear = replace(TOY, tool_cost=((0, 4, 40), (5, 0, 4), (5, 4, 0)))
    lines = ["turn to base", "take pick"]
    through = (replace(plan_of(dear, lines)[1], cost=8),)
    move = plan_of(dear, lines)[0]

    def faults_at(cost: int) -> tuple[str, ...]:
        plan = (move, replace(through[0], cost=cost))
        return faults_in(replace(dear, targets=()), plan, one_way=True)

    assert () == faults_at(8)
    assert () == faults_at(40)
    assert ("line 2 (take pick): costs 8, claimed 9",) == faults_at(9)


def answer_for(moves: tuple[Move, ...], **claims: object) -> NumericAnswer:
    cost = sum(move.cost for move in moves)
    return replace(NumericAnswer("optimal", cost, cost, moves), **claims)


@pytest.mark.parametrize(
    ("claims", "n_faults"),
    [
        ({}, 0),
        ({"status": "bounded"}, 0),
        ({"status": "bounded", "bound": 1}, 0),
        ({"bound": 1}, 1),
        ({"status": "bounded", "bound": 10**6}, 1),
        ({"status": "bounded", "bound": None}, 1),
        ({"status": "bounded", "cost": 10**6}, 1),
        ({"status": "bounded", "cost": None}, 1),
        ({"status": "impossible"}, 1),
        ({"status": "impossible", "cost": None, "bound": None, "plan": ()}, 0),
        (
            {
                "status": "impossible",
                "cost": None,
                "bound": None,
                "plan": (),
                "stuck": ("ghost", "fan"),
            },
            1,
        ),
    ],
)
def test_it_weighs_the_claims_of_an_answer(
    claims: dict[str, object], n_faults: int
) -> None:
    answer = answer_for(plan_of(TOY, GOOD), **claims)

    assert n_faults == len(faults_in(TOY, answer, one_way=False))


def test_it_says_what_an_answer_claims_wrongly() -> None:
    moves = plan_of(TOY, GOOD)
    refusal = answer_for(moves, status="impossible")
    stuck = NumericAnswer("impossible", None, None, (), stuck=("ghost",))
    dear = answer_for(moves, cost=10**6)

    assert "impossible, but with a cost, a bound or a plan" in told(refusal)
    assert "stuck action ghost is unknown" in told(stuck)
    assert any(f"claimed cost {10**6}, but the lines" in words for words in told(dear))


def told(answer: NumericAnswer) -> tuple[str, ...]:
    return faults_in(TOY, answer, one_way=False)


GIVEN = [
    (name, way)
    for name in device_cases()
    for way in ("strip", "round_trip")
    if f"one_optimal_{way}" in all_cases()[name]
]


@pytest.mark.parametrize(("name", "way"), GIVEN)
def test_it_accepts_the_given_plans_at_their_given_cost(name: str, way: str) -> None:
    case, problem = all_cases()[name], problem_of(name)
    plan = plan_of(problem, case[f"one_optimal_{way}"])

    assert () == faults_in(problem, plan, one_way=way == "strip")
    assert case["expected"][way] == sum(move.cost for move in plan)


@pytest.mark.parametrize("one_way", [True, False])
def test_it_accepts_what_the_oracle_plans(one_way: bool) -> None:
    n_plans = 0
    for seed in range(400):
        rng = random.Random(seed)
        problem = random_problem(rng, rng.randint(1, 6))
        found = cheapest(problem, one_way=one_way)
        if found is None:
            continue
        n_plans += 1
        answer = NumericAnswer("optimal", found[0], found[0], found[1])

        assert () == faults_in(problem, answer, one_way=one_way), seed
    assert n_plans > 200


def test_it_refuses_an_oracle_plan_with_a_line_left_out() -> None:
    n_plans = 0
    for seed in range(200):
        rng = random.Random(seed)
        problem = random_problem(rng, 5)
        found = cheapest(problem, one_way=False)
        if found is None or not found[1]:
            continue
        plan = found[1]
        number = rng.randrange(len(plan))
        n_plans += 1
        rest = (*plan[:number], *plan[number + 1 :])

        assert faults_in(problem, answer_for(rest, cost=found[0]), one_way=False) or (
            plan[number].cost == 0
        ), seed
    assert n_plans > 80
