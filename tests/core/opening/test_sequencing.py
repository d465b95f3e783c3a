"""Does the search meet published optima of sequencing problems, where they fit?"""

from itertools import pairwise

import pytest

from real_input import loaded
from turnscrew.core.opening.check import faults_in
from turnscrew.core.opening.solve import solve

EXAMPLES = loaded()
# Published best known values; sources in data/published/README.md.
CASES = EXAMPLES.published("sequencing.json")


@pytest.mark.parametrize("name", sorted(CASES))
def test_it_meets_the_published_optimum(name: str) -> None:
    problem = EXAMPLES.as_opening(name)
    answer = solve(problem, one_way=True)

    assert ("optimal", CASES[name]["published"]) == (answer.status, answer.cost)
    assert () == faults_in(problem, answer, one_way=True)
    turns = [move.name for move in answer.plan if move.kind == "turn"]
    assert len(turns) == len(set(turns)), "a city was passed through"
    assert all(a != b for a, b in pairwise(turns))
