"""Is a share of defective units found where there is one, and only there?"""

import math

import numpy as np
import pytest
from scipy import optimize, stats

from random_lives import generator
from turnscrew.core.reliability.defective import defective_share_limits, fit_defective
from turnscrew.core.reliability.lives import Lives, lives_of, lives_until
from turnscrew.errors import BadArgumentError


def mixed(seed, n, share, family="weibull", *, with_entry=False):
    rng = generator(seed)
    age = 100 * rng.weibull(2.0, n)
    if family == "lognormal":
        age = 100 * np.exp(0.5 * rng.standard_normal(n))
    age[rng.random(n) > share] = np.inf
    entry = rng.uniform(0, 40, n) * with_entry
    kept = age > entry
    age, entry = age[kept], entry[kept]
    end = entry + rng.uniform(200, 500, len(age))
    return lives_of(np.minimum(age, end), age <= end, entry=entry)


def loglik(lives: Lives, family, p, mu, sigma):
    law = stats.weibull_min(1 / sigma, scale=math.exp(mu))
    if family == "lognormal":
        law = stats.lognorm(sigma, scale=math.exp(mu))
    rows = np.where(
        lives.is_event,
        math.log(p) + law.logpdf(lives.exit),
        np.log1p(-p * law.cdf(lives.exit)),
    )
    if lives.entry is not None:
        rows = rows - np.log1p(-p * law.cdf(lives.entry))
    return float(rows.sum())


@pytest.mark.parametrize("family", ["weibull", "lognormal"])
@pytest.mark.parametrize("with_entry", [True, False])
def test_it_finds_the_fit_of_a_slow_search(family, with_entry):
    for seed in range(3):
        lives = mixed(seed, 300, 0.3, family, with_entry=with_entry)
        fit = fit_defective(lives, family=family)
        found = optimize.minimize(
            lambda x, lives=lives: -loglik(
                lives, family, 1 / (1 + math.exp(-x[0])), x[1], math.exp(x[2])
            ),
            [-1, 4.6, -0.7], method="Nelder-Mead",
            options={"xatol": 1e-8, "fatol": 1e-10, "maxiter": 3000},
        )  # fmt: skip
        assert "fitted" == fit.status
        assert pytest.approx(1 / (1 + math.exp(-found.x[0])), rel=1e-4) == (
            fit.p_defective
        )
        assert pytest.approx(found.x[1], rel=1e-5) == fit.mu
        assert fit.loglik >= -found.fun - 1e-7
        assert pytest.approx(loglik(lives, family, fit.p_defective, fit.mu, fit.sigma)
                             ) == fit.loglik  # fmt: skip


def test_it_sees_a_small_defective_share():
    fit = fit_defective(mixed(1, 5000, 0.02))
    assert pytest.approx(0.02, abs=0.006) == fit.p_defective
    assert pytest.approx(2.0, abs=0.5) == fit.shape
    assert fit.p_value < 1e-6
    assert pytest.approx(1 - fit.p_defective, abs=1e-9) == fit.reliability(5000)
    half = fit.quantile(fit.p_defective / 2)
    assert pytest.approx(1 - fit.p_defective / 2) == fit.reliability(half)
    assert fit.quantile(0.5) is None
    assert fit.aic == 6 - 2 * fit.loglik


def test_it_holds_the_truth_as_often_as_it_says():
    held = {"Wald, log scale": 0, "likelihood ratio": 0}
    for seed in range(30):
        lives = mixed(100 + seed, 150, 0.3)
        fit = fit_defective(lives)
        for name in held:
            limits = defective_share_limits(fit, lives, confidence=0.9, convention=name)
            held[name] += limits.low <= 0.3 <= limits.high
    # Binomial of 30 and 0.9: 21 to 30 holds all but one in a thousand.
    assert all(21 <= one <= 30 for one in held.values())


def test_it_sets_limits_where_the_likelihood_has_lost_enough():
    lives = mixed(3, 200, 0.3)
    fit = fit_defective(lives)
    limits = defective_share_limits(fit, lives)
    for end in (limits.low, limits.high):
        best = -optimize.minimize(
            lambda x, end=end: -loglik(lives, "weibull", end, x[0], math.exp(x[1])),
            [fit.mu, math.log(fit.sigma)], method="Nelder-Mead",
            options={"xatol": 1e-8, "fatol": 1e-10},
        ).fun  # fmt: skip
        assert pytest.approx(fit.loglik - stats.chi2.ppf(0.95, 1) / 2, abs=1e-5) == best


def test_it_sees_no_sound_share_where_all_fail():
    lives = lives_of(100 * generator(2).weibull(2.0, 80))
    fit = fit_defective(lives)
    assert "no sound share seen" == fit.status
    assert (1, 1) == (fit.p_defective, fit.p_value)
    limits = defective_share_limits(fit, lives)
    assert limits.high is None
    assert 0.9 < limits.low < 1
    assert defective_share_limits(fit, lives, convention="Wald, log scale").low is None


def test_it_says_why_there_is_no_fit():
    fit = fit_defective(lives_until([], [5, 6]))
    assert "no failures" == fit.status
    assert fit.reliability(3) is None and fit.quantile(0.1) is None
    assert fit.shape is None and fit.scale is None and fit.aic is None
    assert defective_share_limits(fit, lives_until([], [5, 6])).estimate is None
    # Failures of one age: the law may be as narrow as one likes.
    assert "no maximum" == fit_defective(lives_until([5, 5], [9])).status


@pytest.mark.parametrize(
    "call",
    [lambda f: f.reliability(0), lambda f: f.quantile(1),
     lambda f: defective_share_limits(f, lives_until([5]), confidence=1)],
)  # fmt: skip
def test_it_refuses_what_is_outside_its_range(call):
    with pytest.raises(BadArgumentError, match="found"):
        call(fit_defective(mixed(1, 100, 0.3)))
