"""Is a hard problem proved share by share, each bound on the way an honest one?"""

from collections.abc import Callable
from itertools import count

import pytest

from core.diagnose.given import PORTABLE, all_cases, never, problem_of
from turnscrew.core.diagnose import solve as module
from turnscrew.core.diagnose.problem import MODES, Mode
from turnscrew.core.diagnose.solve import solve

TOLERANCE = 1e-6
CASES = [
    (name, mode)
    for name, case in all_cases().items()
    for mode in MODES
    if "optimal_cost" in case["expected"].get(mode, {}) and name != PORTABLE
]
HARD: tuple[str, Mode] = (PORTABLE, "free")


def optimum(name: str, mode: Mode) -> float:
    return all_cases()[name]["expected"][mode]["optimal_cost"]


def after(n: int) -> Callable[[], bool]:
    asked = count()
    return lambda: next(asked) >= n


@pytest.fixture(autouse=True)
def _nothing_is_easy(monkeypatch) -> None:
    monkeypatch.setattr(module, "_EASY_STATES", -(10**9))


@pytest.mark.parametrize(("name", "mode"), CASES)
def test_it_comes_to_the_same_end(name: str, mode: Mode) -> None:
    answer = solve(problem_of(name), mode, never)

    assert "optimal" == answer.status
    assert pytest.approx(optimum(name, mode), abs=TOLERANCE) == answer.cost
    assert answer.cost == answer.bound


def test_every_bound_on_the_way_is_honest_and_they_rise_to_the_proof() -> None:
    bounds = []
    for n in (1, 100, 300, 3000):
        answer = solve(problem_of(PORTABLE), "free", after(n))

        assert answer.bound <= optimum(*HARD) + TOLERANCE, n
        assert answer.cost >= optimum(*HARD) - TOLERANCE, n
        bounds.append(answer.bound)
    assert sorted(bounds) == bounds
    assert bounds[0] < bounds[1] < bounds[-1]
    assert pytest.approx(optimum(*HARD), abs=TOLERANCE) == bounds[-1]
