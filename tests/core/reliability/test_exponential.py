"""Does the constant rate agree with its closed forms?"""

import math

import pytest
from scipy import optimize, stats

from random_lives import random_lives
from turnscrew.core.reliability.exponential import fit_exponential, watched
from turnscrew.core.reliability.fit import wald_limits
from turnscrew.core.reliability.likelihood import ratio_limits
from turnscrew.core.reliability.lives import lives_of, lives_until
from turnscrew.core.reliability.weibull import fit_weibull
from turnscrew.errors import BadArgumentError


@pytest.mark.parametrize("seed", range(40))
def test_it_divides_failures_by_time(seed):
    lives = random_lives(seed, 30, with_weight=seed % 2 > 0, with_entry=seed % 3 > 0)
    fit = fit_exponential(lives)
    rows = [
        (lives.exit[row] - (0 if lives.entry is None else lives.entry[row]))
        * (1 if lives.weight is None else lives.weight[row])
        for row in range(lives.n_rows)
    ]
    assert pytest.approx(sum(rows), rel=1e-12) == watched(lives)
    assert pytest.approx(lives.n_events / sum(rows), rel=1e-12) == fit.rate
    wanted = lives.n_events * math.log(fit.rate) - fit.rate * sum(rows)
    assert pytest.approx(wanted, rel=1e-12) == fit.loglik
    assert pytest.approx(fit.rate / math.sqrt(lives.n_events)) == (
        fit.standard_error("rate")
    )


@pytest.mark.parametrize("seed", range(10))
def test_it_sets_ratio_limits_of_the_rate_as_the_closed_form_does(seed):
    lives = random_lives(seed, 12)
    fit = fit_exponential(lives)
    d, time = fit.n_events, watched(lives)
    loss = stats.chi2.ppf(0.95, 1) / 2

    def over(rate):
        return d * math.log(rate) - rate * time - fit.loglik + loss

    limits = ratio_limits(fit, lives, "rate")
    low = optimize.brentq(over, fit.rate * 1e-6, fit.rate)
    high = optimize.brentq(over, fit.rate, fit.rate * 100)
    assert pytest.approx((low, high), rel=1e-8) == (limits.low, limits.high)
    scale = ratio_limits(fit, lives, "scale")
    assert pytest.approx((1 / high, 1 / low), rel=1e-8) == (scale.low, scale.high)
    reliability = ratio_limits(fit, lives, "reliability", at=100)
    assert pytest.approx(math.exp(-100 * high), rel=1e-8) == reliability.low
    b10 = ratio_limits(fit, lives, "quantile", at=0.1)
    assert pytest.approx(-math.log(0.9) / high, rel=1e-8) == b10.low


def test_it_gives_a_rate_of_0_without_failures():
    fit = fit_exponential(lives_until([], [5, 6]))
    assert "no failures" == fit.status
    assert 0 == fit.rate
    assert fit.scale is None and fit.covariance is None
    assert wald_limits(fit, "rate").high is None


def test_it_is_a_weibull_of_shape_1():
    lives = random_lives(2, 60)
    fit = fit_exponential(lives)
    assert 1 == fit.shape
    assert 1 == fit.n_parameters
    assert fit.loglik < fit_weibull(lives).loglik
    assert pytest.approx(math.exp(-1)) == fit.reliability(fit.scale)


def test_it_names_its_risk_set():
    assert "entry < age <= exit" == (
        fit_exponential(lives_of([5.0], entry=[2.0])).risk_set
    )
    assert "watched from age 0" == fit_exponential(lives_of([5.0])).risk_set


def test_it_has_no_rate_but_that_of_the_exponential():
    assert fit_weibull(lives_until([5, 7])).rate is None
    with pytest.raises(BadArgumentError, match="found rate"):
        ratio_limits(fit_weibull(lives_until([5, 7])), lives_until([5, 7]), "rate")


def test_a_figure_that_the_law_holds_fixed_is_its_own_limit() -> None:
    lives = lives_until([100.0, 200.0, 300.0])
    fit = fit_exponential(lives)

    for of in ("shape", "sigma"):
        told = ratio_limits(fit, lives, of)
        assert (1, 1, 1) == (told.low, told.estimate, told.high)
