"""Are failures of renewed parts counted as theory has them?"""

import math

import numpy as np
import pytest
from scipy import stats

from random_lives import generator
from turnscrew.core.reliability.renewal import renewals
from turnscrew.errors import BadArgumentError


def told_by(cdf, days: float, n_steps: int = 200):
    return renewals(cdf, cdf, days=days, n_steps=n_steps)


def test_by_chance_alone_they_come_at_one_rate() -> None:
    # Of a Poisson process the mean number by t is t / scale (definition).
    told = told_by(stats.expon(scale=100).cdf, 500)

    assert np.linspace(0, 5, 201) == pytest.approx(told, abs=2e-3)


def test_a_life_of_two_stages_has_its_closed_form() -> None:
    # Cox, Renewal Theory (1962), 4.2: m(t) = r t / 2 - (1 - exp(-2 r t)) / 4, for a
    # gamma law of shape 2 and rate r (from memory).
    rate = 1 / 50
    told = told_by(stats.gamma(2, scale=1 / rate).cdf, 400, 400)
    days = np.linspace(0, 400, 401)
    wanted = rate * days / 2 - (1 - np.exp(-2 * rate * days)) / 4

    assert wanted == pytest.approx(told, abs=2e-3)


@pytest.mark.parametrize("shape", [0.5, 1.5, 4.0])
def test_it_is_that_of_parts_played_one_by_one(shape) -> None:
    rng = generator(int(10 * shape))
    n, days = 40_000, 300.0
    at = 100 * rng.weibull(shape, n)
    n_failed = np.zeros(n)
    while (at <= days).any():
        n_failed += at <= days
        at += 100 * rng.weibull(shape, n)
    told = told_by(stats.weibull_min(shape, scale=100).cdf, days, 400)[-1]

    assert told == pytest.approx(n_failed.mean(), abs=4 * n_failed.std() / math.sqrt(n))


def test_parts_that_fail_at_once_are_as_many_new_ones() -> None:
    new = stats.weibull_min(2, scale=100).cdf
    told = renewals(lambda t: np.full(len(t), 7.0), new, days=200, n_steps=100)

    assert 7 * (1 + told_by(new, 200, 100)[1:]) == pytest.approx(told[1:], rel=1e-9)


def test_more_steps_change_little() -> None:
    new = stats.weibull_min(3, scale=60).cdf
    few, many = told_by(new, 364, 144)[-1], told_by(new, 364, 1440)[-1]

    assert few == pytest.approx(many, rel=2e-3)


@pytest.mark.parametrize(
    ("days", "n_steps", "words"),
    [
        (0, 10, "days: found 0"),
        (math.nan, 10, "days: found nan"),
        (10, 0, "n_steps: found 0"),
        (10, 5000, "n_steps: found 5000"),
    ],
)
def test_it_refuses_no_time_and_no_steps(days, n_steps, words) -> None:
    with pytest.raises(BadArgumentError, match=words):
        told_by(stats.expon(scale=100).cdf, days, n_steps)
