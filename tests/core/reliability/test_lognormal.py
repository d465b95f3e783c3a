"""Do fits of the log-normal law agree with slow oracles and laws?"""

import math

import numpy as np
import pytest
from scipy import optimize, stats

from random_lives import random_lives
from turnscrew.core.reliability.fit import wald_limits
from turnscrew.core.reliability.likelihood import ratio_limits, slopes, terms_of
from turnscrew.core.reliability.lives import Lives, lives_of, lives_until
from turnscrew.core.reliability.lognormal import fit_lognormal
from turnscrew.errors import BadArgumentError


def loglik(lives, mu, sigma):
    law = stats.lognorm(sigma, scale=math.exp(mu))
    weight = np.ones(lives.n_rows) if lives.weight is None else lives.weight
    rows = np.where(lives.is_event, law.logpdf(lives.exit), law.logsf(lives.exit))
    if lives.entry is not None:
        rows = rows - law.logsf(lives.entry)
    return float(weight @ rows)


@pytest.mark.parametrize("seed", range(6))
def test_it_finds_the_fit_of_a_slow_search(seed):
    lives = random_lives(seed, 40, family="lognormal", with_weight=seed % 2 == 0)
    fit = fit_lognormal(lives)
    found = optimize.minimize(
        lambda at: -loglik(lives, at[0], math.exp(at[1])),
        [6.0, 0.0],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-11, "maxiter": 4000},
    )
    assert pytest.approx(found.x[0], rel=1e-6) == fit.mu
    assert pytest.approx(math.exp(found.x[1]), rel=1e-5) == fit.sigma
    assert fit.loglik >= -found.fun - 1e-9


@pytest.mark.parametrize("seed", range(5))
def test_it_gives_mean_and_spread_of_complete_lives(seed):
    lives = lives_of(random_lives(seed, 30, with_entry=False).exit)
    fit = fit_lognormal(lives)
    assert pytest.approx(np.log(lives.exit).mean(), rel=1e-10) == fit.mu
    # Maximum likelihood divides by n.
    assert pytest.approx(np.log(lives.exit).std(), rel=1e-8) == fit.sigma


def test_it_stands_on_a_top_for_thousands_of_tables():
    n_fitted = 0
    for seed in range(700):
        lives = random_lives(seed, 6 + seed % 25, family="lognormal",
                             with_entry=seed % 3 > 0, digits=seed % 4)  # fmt: skip
        fit = fit_lognormal(lives)
        if fit.status != "fitted":
            assert fit.mu is None
            continue
        n_fitted += 1
        at = slopes("lognormal", terms_of(lives), fit.mu, math.log(fit.sigma))
        assert abs(at.by_mu * fit.sigma) < 1e-4 * fit.n_events
        assert abs(at.by_log_sigma) < 1e-4 * fit.n_events
        assert fit.covariance[0][0] > 0 and fit.covariance[1][1] > 0
        for by_mu, by_s in ((0.3, 0), (-0.3, 0), (0, 0.3), (0, -0.3)):
            other = slopes("lognormal", terms_of(lives), fit.mu + by_mu,
                           math.log(fit.sigma) + by_s)  # fmt: skip
            assert other.value <= fit.loglik
    assert n_fitted > 650


def test_it_follows_the_unit_of_age():
    lives = random_lives(9, 50, family="lognormal")
    hours = Lives(lives.exit * 24, lives.is_event, lives.entry * 24)
    one, other = fit_lognormal(lives), fit_lognormal(hours)
    assert pytest.approx(one.sigma, rel=1e-8) == other.sigma
    assert pytest.approx(one.scale * 24, rel=1e-8) == other.scale


def test_it_gives_limits_and_figures_of_its_own():
    lives = random_lives(4, 4000, family="lognormal", with_entry=False)
    fit = fit_lognormal(lives)
    law = stats.lognorm(fit.sigma, scale=fit.scale)
    assert pytest.approx(law.ppf(0.1)) == fit.quantile(0.1)
    assert pytest.approx(law.sf(900)) == fit.reliability(900)
    for of, at in (("scale", None), ("sigma", None), ("quantile", 0.1),
                   ("reliability", 300), ("mu", None)):  # fmt: skip
        wald = wald_limits(fit, of, at=at)
        ratio = ratio_limits(fit, lives, of, at=at)
        width = wald.high - wald.low
        assert pytest.approx(wald.low, abs=0.03 * width) == ratio.low
        assert pytest.approx(wald.high, abs=0.03 * width) == ratio.high


@pytest.mark.parametrize(
    ("lives", "status"),
    [
        (lives_until([], [5, 6]), "no failures"),
        (lives_until([6, 6], [5, 6]), "failures at the last age"),
        (lives_of([2, 900, 900], [1, 0, 0], entry=[1, 5, 5]), "no maximum"),
    ],
)
def test_it_says_why_there_is_no_fit(lives, status):
    fit = fit_lognormal(lives)
    assert status == fit.status
    assert fit.quantile(0.5) is None


def test_it_has_no_shape():
    fit = fit_lognormal(lives_until([5, 7]))
    assert fit.shape is None
    with pytest.raises(BadArgumentError, match="found shape"):
        wald_limits(fit, "shape")


def test_it_keeps_its_slopes_far_out():
    terms = terms_of(lives_of([1e-3, 1e9, 5.0], [1, 0, 1], entry=[0, 1e-9, 2]))
    at = slopes("lognormal", terms, 1.0, -1.0)
    h = 1e-6
    up, down = (slopes("lognormal", terms, 1.0 + d, -1.0) for d in (h, -h))
    assert pytest.approx((up.value - down.value) / (2 * h), rel=1e-6) == at.by_mu
