"""Do trend tests see what is there, and nothing else?"""

import math
import random

import numpy as np
import pytest
from scipy import integrate, stats

from turnscrew.core.reliability.trends import fit_log_linear, trend_tests


def slow_reversals(systems: list[list[float]]) -> int:
    total = 0
    for times in systems:
        gaps = np.diff([0, *sorted(times)])
        total += sum(
            gaps[i] < gaps[j] for i in range(len(gaps)) for j in range(i + 1, len(gaps))
        )
    return total


def test_it_counts_reversals_as_pair_by_pair() -> None:
    rng = random.Random(1)
    for _ in range(400):
        systems = [
            [float(rng.randint(1, 12)) for _ in range(rng.randint(0, 9))]
            for _ in range(rng.randint(1, 4))
        ]

        assert slow_reversals(systems) == trend_tests(systems, 12).reversals


def test_it_finds_nothing_more_often_than_it_says() -> None:
    rng = random.Random(2)
    p_laplace, p_up, p_down, z_turned = [], [], [], []
    for _ in range(2000):
        systems = [[rng.random() * end for _ in range(6)] for end in (5, 20)]
        found = trend_tests(systems, [5, 20])
        p_laplace.append(found.p_laplace)
        p_up.append(found.p_improvement)
        p_down.append(found.p_deterioration)
        z_turned.append(found.reversal_z)

    for ps in (p_laplace, p_up, p_down):
        assert 0.1 == pytest.approx(np.mean(np.array(ps) < 0.1), abs=0.02)
    assert 1 == pytest.approx(np.std(z_turned), abs=0.1)


def test_it_tells_improvement_from_deterioration() -> None:
    better = trend_tests([1, 2, 4, 8, 16, 32], 100)
    worse = trend_tests([60, 80, 90, 95, 98, 99], 100)

    assert better.p_improvement < 0.05 < better.p_deterioration
    assert worse.p_deterioration < 0.05 < worse.p_improvement
    assert better.laplace_z < 0 < worse.laplace_z
    assert better.reversal_z > 0 > worse.reversal_z


def test_it_drops_the_failure_that_ended_the_watch() -> None:
    times = [3.0, 9.0, 11.0, 30.0]
    found = trend_tests(times, termination="failure")
    rest = trend_tests(times[:-1], 30.0)

    assert (3, 6) == (found.n_used, found.df)
    assert rest.mil_chi2 == pytest.approx(found.mil_chi2)
    assert rest.laplace_z == pytest.approx(found.laplace_z)
    assert slow_reversals([times]) == found.reversals


def test_it_knows_nothing_without_failures() -> None:
    found = trend_tests([[]], 10)

    assert (None, None, None, 0) == (
        found.laplace_z, found.mil_chi2, found.reversal_z, found.n_used
    )  # fmt: skip
    assert trend_tests([4.0], 9, start=2).mil_chi2 is None


def test_it_takes_a_million_failures_at_once() -> None:
    rng = np.random.default_rng(3)  # noqa: TID251 - a fixed seed
    times = rng.random(1_000_000)
    found = trend_tests(times, 1.0)

    assert abs(found.laplace_z) < 4
    assert abs(found.reversal_z) < 4


def test_it_is_at_the_top_of_the_log_linear_likelihood() -> None:
    rng = random.Random(4)
    for _ in range(60):
        ends = [rng.uniform(1, 30) for _ in range(3)]
        times = [[rng.uniform(0.01, end) for _ in range(5)] for end in ends]
        found = fit_log_linear(times, ends)

        def value(g0: float, g1: float, rows=(times, ends)) -> float:
            made = sum(g0 + g1 * t for row in rows[0] for t in row)
            for end in rows[1]:
                made -= integrate.quad(lambda t: math.exp(g0 + g1 * t), 0, end)[0]
            return made

        best = value(found.g0, found.g1)
        for a, b in ((1e-3, 0), (-1e-3, 0), (0, 1e-3), (0, -1e-3)):
            assert best > value(found.g0 + a, found.g1 + b) - 1e-9


def test_it_fits_a_constant_where_ages_are_even() -> None:
    found = fit_log_linear([2.0, 5.0, 8.0], 10)

    assert (math.log(0.3), 0) == pytest.approx((found.g0, found.g1), abs=1e-9)
    assert "no failure" == fit_log_linear([[]], 10).status
    assert "all at the end" == fit_log_linear([10.0], 10).status


def test_it_agrees_with_a_chi_squared_tail() -> None:
    found = trend_tests([1.0, 4.0], 8)

    wanted = stats.chi2.sf(2 * math.log(16), 4)
    assert wanted == pytest.approx(found.p_improvement)


@pytest.mark.parametrize("times", [[0.4], [0.4, 0.5, 0.6]])
def test_failures_right_after_the_start_have_their_law(times) -> None:
    told = fit_log_linear(times, 1000)

    # Long after it the intensity has faded: the mean age is one over its slope.
    assert "fitted" == told.status
    assert told.g1 == pytest.approx(-1 / np.mean(times), rel=1e-3)


def test_a_watch_that_begins_late_is_counted_from_there() -> None:
    told = fit_log_linear([950.01], 1000, start=950)

    assert "fitted" == told.status
    assert told.g1 == pytest.approx(-100, rel=1e-3)
