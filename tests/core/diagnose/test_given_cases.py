"""The solver meets every given figure, and its strategy keeps the rules."""

import pytest

from core.diagnose.given import PORTABLE, all_cases, never, problem_of
from turnscrew.core.diagnose.check import faults_in
from turnscrew.core.diagnose.problem import MODES, Mode
from turnscrew.core.diagnose.solve import solve

BARE_TREE = "D04-tree-rollback"
TOLERANCE = 1e-6

SLOW = [(PORTABLE, "free")]
"""Takes longest by far; see ``--slow-cases``."""

GIVEN = [
    (name, mode)
    for name, case in all_cases().items()
    for mode in MODES
    if name != BARE_TREE and mode in case["expected"]
]


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    is_all = metafunc.config.getoption("--slow-cases")
    rows = [row for row in GIVEN if is_all or row not in SLOW]
    metafunc.parametrize(("name", "mode"), rows)


def test_it_meets_the_given_figures(name: str, mode: Mode) -> None:
    expected = all_cases()[name]["expected"][mode]
    figures = expected.get("first_action_values", {})
    problem = problem_of(name)

    answer = solve(problem, mode, never, wants_policy=True)

    assert "optimal" == answer.status
    assert pytest.approx(expected["optimal_cost"], abs=TOLERANCE) == answer.cost
    assert answer.cost == answer.bound
    found = {first: answer.values[first] for first in figures}
    assert pytest.approx(figures, abs=TOLERANCE) == found
    # Where repairs share a power test their order is free, so more may be named.
    assert set(answer.first) >= set(expected["first"])
    if mode == "each":
        assert set(answer.first) == set(expected["first"])
    assert answer.policy is not None
    assert () == faults_in(problem, answer.policy, mode, answer.cost)
