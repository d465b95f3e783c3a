"""A numeric problem is read whole, or refused with everything that is wrong."""

import json
from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest

from opening_cases import all_cases, bench_rows, device_cases
from turnscrew.core.opening.answer import Move, NumericAnswer
from turnscrew.core.opening.problem import Act, Check, Guard, Mode, OpeningProblem
from turnscrew.errors import BadFileError
from turnscrew.files.problem_file import answer_json, read_problem

SMALL: dict[str, Any] = {
    "name": "small",
    "unit": "1 s",
    "postures": ["down", "up"],
    "posture_cost": [[0, 9], [None, 0]],
    "posture_guard": [{"frm": "down", "to": "up", "needs": [["cover", "plug"]]}],
    "tools": ["none", "driver"],
    "tool_cost": [[0, 4], [3, 0]],
    "start": {"posture": "down", "tool": "none"},
    "end_posture": "up",
    "targets": ["plug"],
    "actions": [
        {
            "id": "cover",
            "needs": [],
            "modes": [{"postures": ["down"], "tool": "driver", "cost": 30}],
            "refit_checks": ["power"],
        },
        {
            "id": "plug",
            "needs": [["cover"]],
            "modes": [
                {"postures": ["down", "up"], "tool": None, "cost": 5},
                {"postures": ["up"], "tool": None, "cost": 1, "if": [["cover"]]},
            ],
            "refit_modes": [{"postures": ["up"], "tool": None, "cost": 6}],
            "refit_after": ["cover"],
        },
    ],
    "checks": [
        {
            "id": "power",
            "postures": ["up"],
            "tool": None,
            "cost": 8,
            "fitted": ["plug"],
            "applies_if_removed": ["cover"],
            "rework": {"plug": 2},
        }
    ],
    "already_off": ["cover"],
}

MEANT = OpeningProblem(
    name="small",
    unit="1 s",
    postures=("down", "up"),
    posture_cost=((0, 9), (None, 0)),
    guards=(Guard("down", "up", (("cover", "plug"),)),),
    tools=("none", "driver"),
    tool_cost=((0, 4), (3, 0)),
    start_posture="down",
    start_tool="none",
    end_posture="up",
    targets=("plug",),
    actions=(
        Act(
            "cover",
            (),
            (Mode(("down",), "driver", 30),),
            (Mode(("down",), "driver", 30),),
            refit_checks=("power",),
        ),
        Act(
            "plug",
            (("cover",),),
            (Mode(("down", "up"), None, 5), Mode(("up",), None, 1, (("cover",),))),
            (Mode(("up",), None, 6),),
            refit_after=("cover",),
        ),
    ),
    checks=(Check("power", ("up",), None, 8, ("plug",), ("cover",), (("plug", 2),)),),
    already_off=("cover",),
)


def edited(edit: Callable[[dict[str, Any]], object]) -> str:
    device = deepcopy(SMALL)
    edit(device)
    return json.dumps(device, indent=1)


def problems_in(text: str) -> list[tuple[str, str, str]]:
    with pytest.raises(BadFileError) as caught:
        read_problem(text)
    return [(p.where, p.found, p.wanted) for p in caught.value.problems]


def test_it_reads_every_field() -> None:
    assert MEANT == read_problem(json.dumps(SMALL))


def test_it_reads_a_problem_inside_a_case() -> None:
    assert MEANT == read_problem(json.dumps({"id": "x", "device": SMALL}))


@pytest.mark.parametrize("name", device_cases())
def test_it_reads_every_given_case(name: str) -> None:
    case = all_cases()[name]

    problem = read_problem(json.dumps(case["device"]))

    ids = {action["id"] for action in case["device"]["actions"]}
    assert ids <= {act.name for act in problem.actions}
    assert len(problem.actions) <= len(case["device"]["actions"])


def test_it_reads_every_device_of_the_benchmark() -> None:
    rows = bench_rows()

    problems = [read_problem(json.dumps(row)) for row in rows]

    assert [row["device"]["name"] for row in rows] == [p.name for p in problems]


def test_it_ends_where_it_starts_and_asks_nothing_more_by_default() -> None:
    least = {key: SMALL[key] for key in SMALL if key not in ("unit", "end_posture")}
    for key in ("posture_guard", "checks", "already_off"):
        del least[key]
    least["actions"] = [
        {"id": "plug", "needs": [], "modes": SMALL["actions"][1]["modes"][:1]}
    ]

    problem = read_problem(json.dumps(least))

    assert ("down", "", (), (), ()) == (
        problem.end_posture,
        problem.unit,
        problem.guards,
        problem.checks,
        problem.already_off,
    )


NONE_KNOWN = "the name of an action"
WHOLE = "a whole number from 0 to 1000000000000"
SLIPS: list[tuple[Callable[[dict[str, Any]], object], tuple[str, str, str]]] = [
    (
        lambda d: d.update(targets=["plog"]),
        ("targets[0]", '"plog"', 'perhaps "plug"'),
    ),
    (
        lambda d: d["actions"][1]["needs"].append(["nothing like it"]),
        ("actions[1].needs[1][0]", '"nothing like it"', NONE_KNOWN),
    ),
    (
        lambda d: d["actions"][1]["needs"].append([]),
        (
            "actions[1].needs[1]",
            "an empty list",
            "at least one action in each inner list",
        ),
    ),
    (
        lambda d: d["actions"][1]["needs"].append(["plug"]),
        (
            "actions[1].needs[1][0]",
            '"plug"',
            "another action: none waits for itself",
        ),
    ),
    (
        lambda d: d["actions"][1]["refit_after"].append("plug"),
        (
            "actions[1].refit_after[1]",
            '"plug"',
            "another action: none waits for itself",
        ),
    ),
    (
        lambda d: d["actions"][0].update(refit_checks=["powr"]),
        ("actions[0].refit_checks[0]", '"powr"', 'perhaps "power"'),
    ),
    (
        lambda d: d["actions"][0]["modes"][0].update(cost=-1),
        ("actions[0].modes[0].cost", "-1", WHOLE),
    ),
    (
        lambda d: d["actions"][0]["modes"][0].update(cost=1.0),
        ("actions[0].modes[0].cost", "1.0", WHOLE),
    ),
    (
        lambda d: d["actions"][0]["modes"][0].update(tool="drivr"),
        ("actions[0].modes[0].tool", '"drivr"', 'perhaps "driver"'),
    ),
    (
        lambda d: d["actions"][0]["modes"][0].update(postures=["dwn"]),
        ("actions[0].modes[0].postures[0]", '"dwn"', 'perhaps "down"'),
    ),
    (
        lambda d: d["actions"][0]["modes"][0].update(postures=[]),
        ("actions[0].modes[0].postures", "an empty list", "at least one posture"),
    ),
    (
        lambda d: d["actions"][0].update(modes=[]),
        ("actions[0].modes", "an empty list", "at least one mode"),
    ),
    (
        lambda d: d["actions"][0].update(refit_mode=[]),
        ("actions[0].refit_mode", 'unknown key "refit_mode"', 'perhaps "refit_modes"'),
    ),
    (
        lambda d: d["actions"][0].pop("needs"),
        ("actions[0]", "nothing", "a value for needs"),
    ),
    (
        lambda d: d["actions"].append("cover"),
        ("actions[2]", '"cover"', "an object with names and values"),
    ),
    (
        lambda d: d["posture_cost"].pop(),
        ("posture_cost", "1 rows", "2 rows, one per name"),
    ),
    (
        lambda d: d["tool_cost"][1].append(4),
        ("tool_cost[1]", "3 numbers", "2 numbers, one per name"),
    ),
    (
        lambda d: d["tool_cost"][0].__setitem__(1, None),
        ("tool_cost[0][1]", "null", WHOLE),
    ),
    (
        lambda d: d["posture_cost"][1].__setitem__(1, 3),
        ("posture_cost[1][1]", "3", "0 on the diagonal"),
    ),
    (
        lambda d: d["postures"].append("up"),
        ("postures[2]", '"up"', "a posture name used once"),
    ),
    (
        lambda d: d["tools"].clear() or d.update(tool_cost=[]),
        ("tools", "an empty list", "at least one tool"),
    ),
    (
        lambda d: d["posture_guard"][0].update(frm="up", to="down"),
        ("posture_guard[0]", "no turn from up to down", "a direct turn"),
    ),
    (
        lambda d: d["start"].pop("tool"),
        ("start", "nothing", "a value for tool"),
    ),
    (
        lambda d: d["start"].update(posture="upp"),
        ("start.posture", '"upp"', 'perhaps "up"'),
    ),
    (
        lambda d: d.update(end_posture="upp"),
        ("end_posture", '"upp"', 'perhaps "up"'),
    ),
    (
        lambda d: d["checks"].append(d["checks"][0]),
        ("checks[1].id", '"power"', "a check name used once"),
    ),
    (
        lambda d: d["checks"][0].update(rework={"plg": 2}),
        ("checks[0].rework.plg", '"plg"', 'perhaps "plug"'),
    ),
    (
        lambda d: d["checks"][0].update(rework={"plug": -2}),
        ("checks[0].rework.plug", "-2", WHOLE),
    ),
    (
        lambda d: d.update(already_off=["covr"]),
        ("already_off[0]", '"covr"', 'perhaps "cover"'),
    ),
    (lambda d: d.pop("name"), ("text", "nothing", "a value for name")),
]


@pytest.mark.parametrize(("edit", "problem"), SLIPS, ids=[s[1][0] for s in SLIPS])
def test_it_tells_one_slip_with_its_place(
    edit: Callable[[dict[str, Any]], object], problem: tuple[str, str, str]
) -> None:
    assert problem in problems_in(edited(edit))


def test_it_tells_all_slips_at_once_in_the_order_of_the_text() -> None:
    def slip(device: dict[str, Any]) -> None:
        device["checks"][0]["cost"] = "8"
        device["actions"][1]["modes"][1]["if"] = [["cver"]]
        device["unit"] = 1
        device["colour"] = "red"

    text = edited(slip)
    with pytest.raises(BadFileError) as caught:
        read_problem(text)

    problems = caught.value.problems
    assert ["unit", "actions[1].modes[1].if[0][0]", "checks[0].cost", "colour"] == [
        problem.where for problem in problems
    ]
    lines = text.splitlines()
    assert ['"unit": 1,', '"cver"', '"cost": "8",', '"colour": "red"'] == [
        lines[problem.line - 1][problem.column - 1 :] for problem in problems
    ]


@pytest.mark.parametrize("text", ["[]", "null", "3", '{"device": 3}', '"x"'])
def test_it_refuses_what_is_no_problem_at_all(text: str) -> None:
    assert "an object with names and values" == problems_in(text)[0][2]


def test_it_reads_entries_alike_in_every_field_as_one_action() -> None:
    text = edited(lambda d: d["actions"].append(d["actions"][0]))

    assert MEANT == read_problem(text)


def test_it_reads_entries_that_differ_as_actions_of_their_own() -> None:
    def add(device: dict[str, Any]) -> None:
        other = deepcopy(device["actions"][0])
        other["modes"][0]["cost"] = 31
        device["actions"].append(other)

    problem = read_problem(edited(add))

    assert ("cover", "plug", "cover (2)") == tuple(a.name for a in problem.actions)
    plug = problem.actions[1]
    assert (("cover",), ("cover (2)",)) == plug.needs
    assert (("cover",), ("cover (2)",)) == plug.modes[1].when
    assert (("cover", "plug"), ("cover (2)", "plug")) == problem.guards[0].needs
    assert ("cover", "cover (2)") == plug.refit_after
    assert ("cover", "cover (2)") == problem.already_off
    assert ("cover", "cover (2)") == problem.checks[0].applies_if_removed


def test_it_refuses_a_group_that_would_unfold_without_end() -> None:
    def add(device: dict[str, Any]) -> None:
        mode = {"postures": ["down"], "tool": None}
        for name in range(20):
            for cost in (1, 2):
                entry = {
                    "id": f"x{name}",
                    "needs": [],
                    "modes": [mode | {"cost": cost}],
                }
                device["actions"].append(entry)
        device["actions"][1]["needs"] = [[f"x{name}" for name in range(20)]]

    assert [
        ("actions[1].needs[0]", "too many", "fewer ids that head several actions")
    ] == problems_in(edited(add))


def test_it_gives_an_answer_as_plain_values() -> None:
    plan = (
        Move("turn", "up", 9),
        Move("take", "driver", 4),
        Move("remove", "cover", 30),
        Move("turn-round", "", 0),
        Move("check", "power", 8),
        Move("refit", "cover", 30),
    )

    assert {
        "status": "bounded",
        "cost": 81,
        "bound": 80,
        "plan": [
            "turn to up",
            "take driver",
            "remove cover",
            "-- turn-round --",
            "check power",
            "refit cover",
        ],
    } == answer_json(NumericAnswer("bounded", 81, 80, plan))


def test_it_gives_no_way_as_plain_values() -> None:
    assert {
        "status": "impossible",
        "cost": None,
        "bound": None,
        "plan": [],
    } == answer_json(NumericAnswer("impossible", None, None, (), ("p", "q"), "ring"))
