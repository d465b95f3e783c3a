"""A numeric problem of diagnosis is read whole, or refused with all that is wrong."""

import json
from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest

from turnscrew.core.diagnose.answer import DiagnosisAnswer
from turnscrew.core.diagnose.problem import (
    DiagnosisProblem,
    Node,
    Repair,
    Verification,
    WriteOff,
)
from turnscrew.core.diagnose.problem import Test as Look
from turnscrew.errors import BadFileError
from turnscrew.files.case_file import diagnosis_json, read_case

SMALL: dict[str, Any] = {
    "faults": {"panel": 0.75, "cable": 0.25},
    "ok_prior": 0.1,
    "nodes": [
        {"id": "cover", "open": 2, "close": 3},
        {"id": "deck", "open": 4, "close": 5, "needs": ["cover"]},
    ],
    "tests": [
        {
            "id": "look",
            "cost": 1.5,
            "outcomes": ["pass", "fail"],
            "p": {"panel": [0.25, 0.75], "cable": [1, 0]},
            "ok": [1, 0],
            "open": ["cover"],
            "closed": ["deck"],
        }
    ],
    "repairs": [
        {
            "id": "swap",
            "cost": 10,
            "fix": {"panel": 0.9},
            "keep": 20,
            "open": ["deck"],
        }
    ],
    "verify": {"cost": 1, "closed": "all"},
    "writeoff": {"cost": 100, "close_first": True},
    "open_now": ["cover"],
}

MEANT = DiagnosisProblem(
    faults={"panel": 0.75, "cable": 0.25},
    nodes=(Node("cover", 2, 3), Node("deck", 4, 5, ("cover",))),
    tests=(
        Look(
            "look",
            1.5,
            ("pass", "fail"),
            {"panel": (0.25, 0.75), "cable": (1, 0)},
            (1, 0),
            ("cover",),
            ("deck",),
        ),
    ),
    repairs=(Repair("swap", 10, {"panel": 0.9}, 20, ("deck",)),),
    verification=Verification(1, ("cover", "deck")),
    write_off=WriteOff(100, is_closed_first=True),
    p_ok=0.1,
    open_now=("cover",),
)

Model = dict[str, Any]
Edit = Callable[[Model], object]


def edited(edit: Edit) -> str:
    model = deepcopy(SMALL)
    edit(model)
    return json.dumps(model, indent=1)


def problems_in(text: str) -> list[tuple[str, str, str]]:
    with pytest.raises(BadFileError) as caught:
        read_case(text)
    return [(p.where, p.found, p.wanted) for p in caught.value.problems]


def test_it_reads_every_field() -> None:
    assert MEANT == read_case(json.dumps(SMALL))


def test_it_reads_a_problem_inside_a_case() -> None:
    assert MEANT == read_case(json.dumps({"id": "x", "model": SMALL}))


def test_it_reads_faults_that_may_be_there_together() -> None:
    def edit(model: Model) -> None:
        del model["faults"]
        shares = {"panel": 0.4, "cable": 0.3}
        model["multi"] = {"independent": shares, "max": 3}
        model["tests"][0]["looks_at"] = ["panel"]
        del model["tests"][0]["p"]["cable"]

    problem = read_case(edited(edit))

    assert ({}, {"panel": 0.4, "cable": 0.3}, 3) == (
        problem.faults,
        problem.independent,
        problem.most_faults,
    )
    assert ("panel",) == problem.tests[0].looks_at


def test_it_takes_two_faults_at_most_where_no_number_is_said() -> None:
    def edit(model: Model) -> None:
        del model["faults"]
        model["multi"] = {"independent": {"panel": 0.4, "cable": 0.3}}

    assert 2 == read_case(edited(edit)).most_faults


def look(model: Model) -> Model:
    return model["tests"][0]


def swap(model: Model) -> Model:
    return model["repairs"][0]


def several(model: Model, shares: Model, **more: Any) -> None:
    del model["faults"]
    model["multi"] = {"independent": shares, **more}


BAD: dict[str, tuple[Edit, tuple[str, str, str]]] = {
    "shares that miss one": (
        lambda m: m["faults"].update(panel=0.5),
        ("faults", "a sum of 0.75", "probabilities that sum to 1"),
    ),
    "no fault": (
        lambda m: m.update(faults={}, tests=[], repairs=[]),
        ("faults", "none", "at least one fault"),
    ),
    "neither kind of faults": (
        lambda m: m.update(tests=[], repairs=[]) or m.pop("faults"),
        ("text", "neither", "faults with their probabilities, or multi"),
    ),
    "both kinds of faults": (
        lambda m: m.update(multi={"independent": {"panel": 0.1, "cable": 0.1}}),
        ("multi", "both", "faults or multi"),
    ),
    "several faults none of which is there": (
        lambda m: several(m, {"panel": 0, "cable": 0}),
        ("multi.independent", "an object", "at least one fault above 0"),
    ),
    "several faults without any": (
        lambda m: m.update(tests=[], repairs=[]) or several(m, {}),
        ("multi.independent", "an object", "at least one fault above 0"),
    ),
    "none at once": (
        lambda m: several(m, {"panel": 0.1, "cable": 0.1}, max=0),
        ("multi.max", "0", "at least 1"),
    ),
    "a share that is a text": (
        lambda m: m.update(faults={"panel": 1, "cable": "rare"}),
        ("faults.cable", '"rare"', "a number from 0 to 1e+12"),
    ),
    "nothing ever wrong": (
        lambda m: m.update(ok_prior=1),
        ("ok_prior", "1", "a probability below 1"),
    ),
    "a key that is not known": (
        lambda m: m.update(verifyy=1),
        ("verifyy", 'unknown key "verifyy"', 'perhaps "verify"'),
    ),
    "no write-off": (
        lambda m: m.pop("writeoff"),
        ("text", "nothing", "a value for writeoff"),
    ),
    "a node twice": (
        lambda m: m["nodes"][1].update(id="cover", needs=[]) or in_one_node(m),
        ("nodes[1].id", "cover again", "each name once"),
    ),
    "a ring of nodes": (
        lambda m: m["nodes"][0].update(needs=["deck"]),
        ("nodes", "a ring: cover, deck", "needs without a ring"),
    ),
    "a node that needs itself": (
        lambda m: m["nodes"][1].update(needs=["deck"]),
        ("nodes", "a ring: deck", "needs without a ring"),
    ),
    "a need of an unknown node": (
        lambda m: m["nodes"][1].update(needs=["covr"]),
        ("nodes[1].needs[0]", '"covr"', 'perhaps "cover"'),
    ),
    "a cost below nothing": (
        lambda m: m["nodes"][1].update(close=-1),
        ("nodes[1].close", "-1", "a number from 0 to 1e+12"),
    ),
    "a node open that is not there": (
        lambda m: m.update(open_now=["roof"]),
        ("open_now[0]", '"roof"', "the name of a node"),
    ),
    "a row for an unknown fault": (
        lambda m: look(m)["p"].update(cabel=[1, 0]),
        ("tests[0].p.cabel", "unknown fault cabel", 'perhaps "cable"'),
    ),
    "a missing row": (
        lambda m: look(m)["p"].pop("cable"),
        ("tests[0].p", "nothing", "a row for cable"),
    ),
    "a row that misses one": (
        lambda m: look(m)["p"].update(cable=[0.5, 0.25]),
        ("tests[0].p.cable", "a sum of 0.75", "probabilities that sum to 1"),
    ),
    "a row of another length": (
        lambda m: look(m)["p"].update(cable=[0.5, 0.25, 0.25]),
        ("tests[0].p.cable", "3", "2 probabilities"),
    ),
    "a row when all is well of another length": (
        lambda m: look(m).update(ok=[1]),
        ("tests[0].ok", "1", "2 probabilities"),
    ),
    "a probability above one": (
        lambda m: look(m).update(ok=[1.5, -0.5]),
        ("tests[0].ok[0]", "1.5", "a number from 0 to 1"),
    ),
    "no outcome": (
        lambda m: look(m).update(outcomes=[], ok=[], p={"panel": [], "cable": []}),
        ("tests[0].outcomes", "an empty list", "at least one outcome"),
    ),
    "one outcome twice": (
        lambda m: look(m).update(outcomes=["pass", "pass"]),
        ("tests[0].outcomes[1]", "pass again", "each name once"),
    ),
    "a look at an unknown fault": (
        lambda m: look(m).update(looks_at=["pannel"]),
        ("tests[0].looks_at[0]", '"pannel"', 'perhaps "panel"'),
    ),
    "a test at an unknown node": (
        lambda m: look(m).update(open=["kover"]),
        ("tests[0].open[0]", '"kover"', 'perhaps "cover"'),
    ),
    "a test with a node open and shut": (
        lambda m: look(m).update(open=["deck"], closed=["deck"]),
        ("tests[0].closed", "deck open too", "nothing that open needs"),
    ),
    "a test with a node open and what carries it shut": (
        lambda m: look(m).update(open=["deck"], closed=["cover"]),
        ("tests[0].closed", "cover open too", "nothing that open needs"),
    ),
    "a repair with a node open and all shut": (
        lambda m: swap(m).update(closed="all"),
        ("repairs[0].closed", "cover, deck open too", "nothing that open needs"),
    ),
    "a repair of an unknown fault": (
        lambda m: swap(m).update(fix={"panl": 1}),
        ("repairs[0].fix.panl", "unknown fault panl", 'perhaps "panel"'),
    ),
    "a repair that mends more than always": (
        lambda m: swap(m).update(fix={"panel": 2}),
        ("repairs[0].fix.panel", "2", "a number from 0 to 1"),
    ),
    "a test and a repair of one name": (
        lambda m: swap(m).update(id="look"),
        ("repairs[0].id", "look again", "each name once"),
    ),
    "a repair called like the write-off": (
        lambda m: swap(m).update(id="WRITE-OFF"),
        ("repairs[0].id", "WRITE-OFF again", "each name once"),
    ),
    "a repair without a name": (
        lambda m: swap(m).update(id=" "),
        ("repairs[0].id", '" "', "a text"),
    ),
    "a price of a text": (
        lambda m: swap(m).update(keep="20"),
        ("repairs[0].keep", '"20"', "a number from 0 to 1e+12"),
    ),
    "a power test for less than nothing": (
        lambda m: m["verify"].update(cost=-1),
        ("verify.cost", "-1", "a number from 0 to 1e+12"),
    ),
    "a power test with an unknown node shut": (
        lambda m: m["verify"].update(closed=["decks"]),
        ("verify.closed[0]", '"decks"', 'perhaps "deck"'),
    ),
    "a write-off for a truth value": (
        lambda m: m["writeoff"].update(cost=True),
        ("writeoff.cost", "true", "a number from 0 to 1e+12"),
    ),
    "a write-off that may be closed first": (
        lambda m: m["writeoff"].update(close_first="maybe"),
        ("writeoff.close_first", '"maybe"', "true or false"),
    ),
    "a list that is none": (
        lambda m: m.update(nodes={}, tests=[], repairs=[], open_now=[]),
        ("nodes", "an object", "a list"),
    ),
    "a test that is no object": (
        lambda m: m["tests"].append(7),
        ("tests[1]", "7", "an object with names and values"),
    ),
}


def in_one_node(model: Model) -> None:
    """Speak of no node but the cover."""
    look(model).update(open=[], closed=[])
    swap(model).update(open=["cover"])


@pytest.mark.parametrize("name", BAD)
def test_it_refuses(name: str) -> None:
    edit, problem = BAD[name]

    assert problem in problems_in(edited(edit))


# What else these say follows from the same slip.
TWOFOLD = {"a probability above one", "a ring of nodes"}


@pytest.mark.parametrize("name", [name for name in BAD if name not in TWOFOLD])
def test_it_says_one_thing_of_one_slip(name: str) -> None:
    edit, problem = BAD[name]

    assert [problem] == problems_in(edited(edit))


def test_it_names_every_problem_at_its_line_and_column() -> None:
    def edit(model: Model) -> None:
        model["faults"]["panel"] = 0.5
        model["nodes"][0]["open"] = -2
        model["nodes"][0]["needs"] = ["deck"]
        look(model)["p"]["cabel"] = look(model)["p"].pop("cable")
        swap(model)["closed"] = ["deck"]
        model["verify"]["cost"] = None
        model["writeoff"] = {"costs": 100}
        model["open_now"] = ["covr"]

    text = edited(edit)

    with pytest.raises(BadFileError) as caught:
        read_case(text)

    lines = text.splitlines()
    found = [
        (p.where, lines[p.line - 1][p.column - 1 :].split(":")[0].rstrip(","))
        for p in caught.value.problems
    ]
    assert [
        ("faults", '"faults"'),
        ("nodes", '"nodes"'),
        ("nodes[0].open", '"open"'),
        ("tests[0].p", '"p"'),
        ("tests[0].p.cabel", '"cabel"'),
        # With the ring the cover needs the deck, which this test wants shut.
        ("tests[0].closed", '"closed"'),
        ("repairs[0].closed", '"closed"'),
        ("verify.cost", '"cost"'),
        ("writeoff", '"writeoff"'),
        ("writeoff.costs", '"costs"'),
        ("open_now[0]", '"covr"'),
    ] == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", "nothing"),
        ("{", '""'),
        ('{"faults": NaN}', "the number NaN"),
        ('{"faults": {}, "faults": {}}', 'the key "faults" twice in one object'),
    ],
)
def test_it_refuses_what_is_no_json(text: str, found: str) -> None:
    ((_, told, _),) = problems_in(text)

    assert found == told


def test_it_refuses_a_number_past_all_bounds() -> None:
    text = json.dumps(SMALL).replace('"cost": 100', '"cost": 1e999')

    assert [("writeoff.cost", "Infinity", "a number from 0 to 1e+12")] == (
        problems_in(text)
    )


def test_it_says_the_answer_in_plain_values() -> None:
    answer = DiagnosisAnswer(
        status="bounded",
        mode="block",
        cost=12.5,
        bound=11.0,
        first=("look",),
        values={"look": 12.5, "WRITE-OFF": 100.0},
        proven=frozenset({"WRITE-OFF", "look"}),
    )

    assert {
        "status": "bounded",
        "mode": "block",
        "cost": 12.5,
        "bound": 11.0,
        "first": ["look"],
        "values": {"look": 12.5, "WRITE-OFF": 100.0},
        "proven": ["WRITE-OFF", "look"],
    } == json.loads(json.dumps(diagnosis_json(answer)))


def test_it_takes_a_model_without_tests_and_access() -> None:
    text = (
        '{"faults": {"a": 1}, "repairs": [{"id": "r", "cost": 3, "fix": {"a": 1}}],'
        ' "verify": {"cost": 1}, "writeoff": {"cost": 9}}'
    )

    problem = read_case(text)

    assert ((), ()) == (problem.tests, problem.nodes)
