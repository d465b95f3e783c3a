"""Do ranks and lines through them agree with definitions and another program?"""

import numpy as np
import pytest
from scipy import stats

from random_lives import generator
from turnscrew.core.reliability.ranks import (
    johnson_ranks,
    median_ranks,
    rank_regression,
)
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize("n", [1, 2, 7, 40])
def test_it_gives_the_median_of_each_order(n):
    wanted = [stats.beta(i, n - i + 1).median() for i in range(1, n + 1)]
    assert np.allclose(wanted, median_ranks(n))
    for method in ("benard", "mean", "midpoint", "filliben"):
        found = median_ranks(n, method=method)
        assert np.allclose(found + found[::-1], 1)
        assert (np.diff(found) > 0).all()
        assert np.abs(found - wanted).max() < 0.2


def test_it_names_each_rule_by_its_formula():
    one = {m: median_ranks(4, method=m)[0] for m in ("mean", "midpoint", "filliben")}
    wanted = {"mean": 1 / 5, "midpoint": 0.5 / 4, "filliben": 0.6825 / 4.365}
    assert pytest.approx(wanted) == one


def test_it_ranks_failures_among_censored_lives_as_step_by_step():
    rng = generator(2)
    for _ in range(500):
        failures = rng.integers(1, 30, rng.integers(1, 8)).tolist()
        censored = rng.integers(1, 30, rng.integers(0, 8)).tolist()
        n, rank, wanted = len(failures) + len(censored), 0.0, []
        for row, age in enumerate(sorted(failures)):
            left = n - row - sum(one < age for one in censored)
            rank += (n + 1 - rank) / (1 + left)
            wanted.append(rank)
        assert np.allclose(wanted, johnson_ranks(failures, censored))


def test_it_draws_the_line_of_another_program():
    rng = generator(3)
    for _ in range(100):
        age = 100 * rng.weibull(2, 12)
        fit = rank_regression(age, direction="y on x")
        y = np.log10(-np.log(1 - median_ranks(12, method="benard")))
        line = stats.linregress(np.log10(np.sort(age)), y)
        assert pytest.approx((line.slope, line.intercept)) == (fit.slope, fit.intercept)
        turned = stats.linregress(y, np.log10(np.sort(age)))
        other = rank_regression(age)
        assert pytest.approx(1 / turned.slope) == other.shape
        assert pytest.approx(10**turned.intercept) == other.scale
        assert pytest.approx(line.rvalue**2) == other.r_squared
        assert pytest.approx(other.r_squared) == fit.shape / other.shape


def test_it_ranks_complete_lives_without_loss():
    for rule in ("exact", "benard", "mean", "midpoint", "filliben"):
        assert rank_regression([3, 5, 9], ranks=rule).shape > 0
    assert np.allclose([1, 2, 3], johnson_ranks([9, 3, 5]))


def test_it_draws_no_line_through_one_age():
    assert rank_regression([5, 5], [9]) is None
    assert rank_regression([], [9]) is None


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: median_ranks(0), "n: found 0"),
        (lambda: median_ranks(3, ranks=[1, 4]), "rank 1: found 4"),
        (lambda: rank_regression([1, -2]), "failures, row 1: found age -2"),
        (lambda: rank_regression([1, 2], [0]), "censored, row 0: found age 0"),
    ],
)
def test_it_refuses_what_cannot_be(call, words):
    with pytest.raises(BadArgumentError, match=words):
        call()
