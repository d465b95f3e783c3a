"""Does the search meet published optima of sequencing problems, where they fit?"""

import json
from itertools import pairwise
from pathlib import Path

import pytest

from turnscrew.core.opening.check import faults_in
from turnscrew.core.opening.problem import Act, Guard, Mode, OpeningProblem
from turnscrew.core.opening.solve import solve

FOLDER = Path(__file__).parents[2] / "cases" / "sequencing"
MATRICES = json.loads((FOLDER / "matrices.json").read_text("utf-8"))


def as_opening(name: str) -> OpeningProblem:
    """
    Make every city a posture of its own with one action in it.

    A city may be left only once its action is done, so none is passed through undone.
    A cost of -1 from row to column says that the column comes before the row.
    """
    rows = MATRICES[name]["rows"]
    cities = [f"c{i}" for i in range(len(rows))]
    acts = []
    for i, row in enumerate(rows):
        mode = Mode((cities[i],), None, 0)
        needs = tuple((cities[j],) for j, cost in enumerate(row) if cost == -1)
        acts.append(Act(cities[i], needs, (mode,), (mode,)))
    guards = tuple(
        Guard(start, end, ((start,),))
        for start in cities
        for end in cities
        if start != end
    )
    return OpeningProblem(
        name=name,
        unit="as published",
        postures=tuple(cities),
        posture_cost=tuple(
            tuple(None if cost == -1 else cost for cost in row) for row in rows
        ),
        guards=guards,
        tools=("none",),
        tool_cost=((0,),),
        start_posture=cities[0],
        start_tool="none",
        end_posture=cities[0],
        targets=(cities[-1],),
        actions=tuple(acts),
    )


@pytest.mark.parametrize("name", sorted(MATRICES))
def test_it_meets_the_published_optimum(name: str) -> None:
    answer = solve(as_opening(name), one_way=True)

    assert ("optimal", MATRICES[name]["published"]) == (answer.status, answer.cost)
    assert () == faults_in(as_opening(name), answer, one_way=True)
    turns = [move.name for move in answer.plan if move.kind == "turn"]
    assert len(turns) == len(set(turns)), "a city was passed through"
    assert all(a != b for a, b in pairwise(turns))
