"""Does a prediction hold its level, and does its law agree with slow sums?"""

import math

import numpy as np
import pytest
from scipy import optimize, stats

from turnscrew.core.reliability.prediction import (
    JEFFREYS,
    GammaLaw,
    exposure_ahead,
    fit_gamma,
    predict_count,
)
from turnscrew.errors import BadArgumentError


def rng(seed: int):
    return np.random.default_rng(seed)  # noqa: TID251 - a fixed seed


def test_it_agrees_with_another_search_for_the_likelihood() -> None:
    chance = rng(1)
    n_spread = 0
    for _ in range(60):
        t = chance.uniform(0.5, 20, 25)
        n = chance.poisson(t * chance.gamma(1.5, 0.4, 25))
        fit = fit_gamma(n, t)
        if fit.law is None:
            continue

        def lack(x, n=n, t=t):
            a, b = np.exp(x)
            return -stats.nbinom.logpmf(n, a, b / (b + t)).sum()

        at = np.log([fit.law.shape, fit.law.rate])
        slow = optimize.minimize(lack, [0, 0], method="Nelder-Mead")
        n_spread += 1

        assert lack(at) <= slow.fun + 1e-7
        assert -lack(at) == pytest.approx(fit.log_likelihood)

    assert n_spread > 40


def test_it_finds_no_spread_where_there_is_none() -> None:
    even = fit_gamma([3, 3, 3, 3], 2.0)
    none = fit_gamma([0, 0], 2.0)

    assert ("no spread", None, 1.5) == (even.status, even.law, even.mean)
    assert [1.5, 1.5] == list(even.shrunk([0, 9], 1.0))
    assert ("no failure", 0.0) == (none.status, none.mean)
    assert "no spread" == fit_gamma([2, 3], rule="moments").status


def test_it_counts_a_frequency_as_so_many_rows() -> None:
    one = fit_gamma([0, 1, 5], [1, 2, 3], frequency=[4, 3, 2])
    other = fit_gamma([0] * 4 + [1] * 3 + [5] * 2, [1] * 4 + [2] * 3 + [3] * 2)

    assert other.law.shape == pytest.approx(one.law.shape)
    assert other.law.rate == pytest.approx(one.law.rate)


def test_it_shrinks_towards_the_mean_and_less_the_more_is_known() -> None:
    fit = fit_gamma([0, 1, 9, 30], [1.0, 1.0, 1.0, 2.0])
    little, much = fit.shrunk([4, 400], [1.0, 100.0])

    assert abs(much - 4) < abs(little - 4)


def test_it_predicts_as_other_negative_binomials() -> None:
    chance = rng(2)
    for _ in range(200):
        n, t, ahead = chance.integers(0, 400), *chance.uniform(1, 300, 2)
        found = predict_count(failures=n, exposure=t, future_exposure=ahead)
        law = stats.nbinom(n + 0.5, t / (t + ahead))
        counts = np.arange(min(len(found.chances), 400))

        assert law.pmf(counts) == pytest.approx(
            found.chances[counts], rel=1e-8, abs=1e-14
        )
        assert (law.mean(), law.var()) == pytest.approx((found.mean, found.variance))
        assert law.ppf([0.05, 0.95]) == pytest.approx([found.lower, found.upper])


def test_it_holds_its_level_where_the_plug_in_does_not() -> None:
    chance = rng(3)
    inside = {"gamma-Poisson": 0, "plug-in": 0}
    for _ in range(2000):
        before = chance.poisson(8.0)
        after = chance.poisson(40.0)
        for law in inside:
            if before == 0 and law == "plug-in":
                continue
            found = predict_count(
                failures=before, exposure=10, future_exposure=50, predictive=law
            )
            inside[law] += found.lower <= after <= found.upper

    assert 0.88 < inside["gamma-Poisson"] / 2000 < 0.93
    assert inside["plug-in"] / 2000 < 0.65


def test_it_adds_groups_with_rates_of_their_own() -> None:
    both = predict_count(failures=[3, 10], exposure=[5, 9], future_exposure=[4, 2])
    one = predict_count(failures=3, exposure=5, future_exposure=4)
    two = predict_count(failures=10, exposure=9, future_exposure=2)

    assert one.mean + two.mean == pytest.approx(both.mean)
    slow = [np.dot(one.chances[: n + 1], two.chances[n::-1]) for n in range(12)]
    assert slow == pytest.approx(list(both.chances[:12]))


def test_it_expects_none_where_nothing_lies_ahead() -> None:
    found = predict_count(failures=3, exposure=5, future_exposure=0)

    assert (0, 0, 0) == (found.mean, found.lower, found.upper)


def test_it_takes_retirements_off() -> None:
    made = exposure_ahead([0, 3, 4.5, 9], window=2, retire_age=5)
    leaving = exposure_ahead([0.0], window=2, retire_rate=0.7)

    assert [2, 2, 0.5, 0] == list(made)
    assert (1 - math.exp(-1.4)) / 0.7 == pytest.approx(leaving[0])


def test_it_reads_statements_about_the_mtbf_back() -> None:
    for middle, low in ((600, 250), (1000, 990), (50, 0.5)):
        law = GammaLaw.from_mtbf(mtbf_50=middle, mtbf_05=low)

        assert (0.5, 0.95) == pytest.approx((law.cdf(1 / middle), law.cdf(1 / low)))
        assert 1 / middle == pytest.approx(law.quantile(0.5))
    assert GammaLaw(3, 5) == GammaLaw(1, 2).after(2, 3)
    assert math.inf == GammaLaw(0.5, 0).mean


def test_it_fits_a_large_fleet_at_once() -> None:
    chance = rng(4)
    n = chance.poisson(chance.gamma(0.8, 2.0, 300_000))
    fit = fit_gamma(n)

    assert 0.8 == pytest.approx(fit.law.shape, rel=0.02)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: fit_gamma([1, -2], [1, 1]), "failures, row 2: found -2"),
        (lambda: fit_gamma([1, 1.5], [1, 1]), "failures, row 2: found 1.5"),
        (lambda: fit_gamma([1, 2], [1, 0]), "exposure, row 2"),
        (lambda: fit_gamma([1, 2], [1, 1, 1]), "exposure: found 3 rows"),
        (lambda: fit_gamma([]), "found none"),
        (lambda: fit_gamma([1, 2], [1, 3], rule="moments"), "wanted one for all"),
        (lambda: GammaLaw(-1, 1), "shape"),
        (lambda: GammaLaw.from_mtbf(mtbf_50=5, mtbf_05=6), "mtbf_05"),
        (lambda: exposure_ahead([1], window=-1), "window"),
        (lambda: exposure_ahead([1], window=1, retire_age=0), "retire_age"),
        (
            lambda: predict_count(
                failures=0, exposure=0, future_exposure=1, prior=GammaLaw(0, 0)
            ),
            "with the prior",
        ),
        (
            lambda: predict_count(failures=1, exposure=1, future_exposure=[1, 2]),
            "found 2 rows",
        ),
    ],
)
def test_it_refuses_what_makes_no_sense(call, told: str) -> None:
    with pytest.raises(BadArgumentError, match=told):
        call()


def test_it_refuses_what_reaches_beyond_its_longest_table() -> None:
    with pytest.raises(BadArgumentError, match="chance of more than"):
        predict_count(failures=[0], exposure=[1], future_exposure=[1e7])


def test_the_prior_that_says_least_bounds_nothing() -> None:
    assert np.inf == JEFFREYS.quantile(0.5)
