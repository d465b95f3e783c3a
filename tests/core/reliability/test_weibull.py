"""Do fits of the Weibull law and their limits agree with slow oracles and laws?"""

import math

import numpy as np
import pytest
from scipy import optimize, stats

from random_lives import generator, random_lives
from turnscrew.core.reliability.fit import LifeFit, wald_limits
from turnscrew.core.reliability.likelihood import ratio_limits, slopes, terms_of
from turnscrew.core.reliability.lives import Lives, lives_of, lives_until
from turnscrew.core.reliability.weibull import fit_weibull, fit_weibull_causes
from turnscrew.errors import BadArgumentError


def loglik(lives: Lives, shape: float, scale: float) -> float:
    law = stats.weibull_min(shape, scale=scale)
    weight = np.ones(lives.n_rows) if lives.weight is None else lives.weight
    rows = np.where(lives.is_event, law.logpdf(lives.exit), law.logsf(lives.exit))
    if lives.entry is not None:
        rows = rows - law.logsf(lives.entry)
    return float(weight @ rows)


def oracle(lives: Lives) -> tuple[float, float, float]:
    found = optimize.minimize(
        lambda at: -loglik(lives, math.exp(at[0]), math.exp(at[1])),
        [0.0, math.log(lives.exit.mean())],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-11, "maxiter": 4000},
    )
    return math.exp(found.x[0]), math.exp(found.x[1]), -found.fun


@pytest.mark.parametrize("seed", range(6))
def test_it_finds_the_fit_of_a_slow_search(seed):
    lives = random_lives(seed, 40, with_weight=seed % 2 == 0)
    fit = fit_weibull(lives)
    shape, scale, best = oracle(lives)
    assert pytest.approx(shape, rel=1e-5) == fit.shape
    assert pytest.approx(scale, rel=1e-5) == fit.scale
    assert fit.loglik >= best - 1e-9
    assert pytest.approx(loglik(lives, fit.shape, fit.scale), rel=1e-12) == fit.loglik


def test_it_is_never_beaten_nearby_on_thousands_of_tables():
    for seed in range(700):
        lives = random_lives(seed, 6 + seed % 25, with_entry=seed % 3 > 0,
                             with_weight=seed % 2 > 0, digits=seed % 4)  # fmt: skip
        fit = fit_weibull(lives)
        if fit.status != "fitted":
            assert fit.status in ("no failures", "failures at the last age",
                                  "no maximum")  # fmt: skip
            continue
        at = slopes("weibull", terms_of(lives), fit.mu, math.log(fit.sigma))
        size = fit.n_events
        assert abs(at.by_mu * fit.sigma) < 1e-8 * size
        assert abs(at.by_log_sigma) < 1e-8 * size
        assert pytest.approx(at.value, abs=1e-8) == fit.loglik
        information = -np.array([
            [at.mu_mu, at.mu_log_sigma], [at.mu_log_sigma, at.log_sigma_log_sigma]
        ])  # fmt: skip
        assert np.allclose(np.linalg.inv(information), fit.covariance, rtol=1e-6)


@pytest.mark.parametrize("family", ["weibull", "lognormal"])
def test_it_gives_slopes_as_differences_do(family):
    terms = terms_of(random_lives(3, 60, with_weight=True))
    mu, s, h = 6.6, -0.3, 1e-5
    at = slopes(family, terms, mu, s)
    by_mu = [slopes(family, terms, mu + d, s) for d in (h, -h)]
    by_s = [slopes(family, terms, mu, s + d) for d in (h, -h)]

    def difference(pair, name):
        return (getattr(pair[0], name) - getattr(pair[1], name)) / (2 * h)

    assert pytest.approx(difference(by_mu, "value"), rel=1e-6) == at.by_mu
    assert pytest.approx(difference(by_s, "value"), rel=1e-6) == at.by_log_sigma
    assert pytest.approx(difference(by_mu, "by_mu"), rel=1e-6) == at.mu_mu
    assert pytest.approx(difference(by_s, "by_mu"), rel=1e-6) == at.mu_log_sigma
    assert (
        pytest.approx(difference(by_s, "by_log_sigma"), rel=1e-6)
        == at.log_sigma_log_sigma
    )


def test_it_reads_a_long_table_as_a_short_one():
    """The sample and the series give what plain steps over all rows give."""
    lives = random_lives(5, 90_000, with_weight=True)
    fit = fit_weibull(lives)
    at = slopes("weibull", terms_of(lives), fit.mu, math.log(fit.sigma))
    assert abs(at.by_log_sigma) < 1e-7 * math.sqrt(fit.n_events)
    assert pytest.approx(at.value, rel=1e-12) == fit.loglik


def test_it_counts_equal_rows_as_one_weighted_row():
    lives = random_lives(8, 50, with_weight=True)
    times = lives.weight.astype(int)
    plain = lives_of(np.repeat(lives.exit, times), np.repeat(lives.is_event, times),
                     entry=np.repeat(lives.entry, times))  # fmt: skip
    one, other = fit_weibull(lives), fit_weibull(plain)
    assert pytest.approx(one.shape, rel=1e-12) == other.shape
    assert pytest.approx(one.covariance[0][0], rel=1e-10) == other.covariance[0][0]
    assert one.n_units == other.n_units


def test_it_follows_the_unit_of_age():
    lives = random_lives(9, 50)
    hours = Lives(lives.exit * 24, lives.is_event, lives.entry * 24)
    one, other = fit_weibull(lives), fit_weibull(hours)
    assert pytest.approx(one.shape, rel=1e-11) == other.shape
    assert pytest.approx(one.scale * 24, rel=1e-11) == other.scale
    loss = one.n_events * math.log(24)
    assert pytest.approx(one.loglik - loss, rel=1e-11) == other.loglik


@pytest.mark.parametrize("factor", [1e-250, 1e250])
def test_it_fits_ages_of_any_size(factor):
    fit = fit_weibull(lives_until(np.array([54.0, 187, 216]) * factor, [500 * factor]))
    assert pytest.approx(fit_weibull(lives_until([54, 187, 216], [500])).shape) == (
        fit.shape
    )


@pytest.mark.parametrize(
    ("lives", "status"),
    [
        (lives_until([], [5, 6]), "no failures"),
        (lives_until([6, 6], [5, 6]), "failures at the last age"),
        (lives_until([6]), "failures at the last age"),
        (lives_of([2, 900, 900], [1, 0, 0], entry=[1, 5, 5]), "no maximum"),
    ],
)
def test_it_says_why_there_is_no_fit(lives, status):
    fit = fit_weibull(lives)
    assert status == fit.status
    assert fit.shape is None and fit.scale is None and fit.loglik is None
    assert fit.quantile(0.1) is None and fit.reliability(3) is None
    assert fit.aic is None and fit.bic is None
    assert fit.standard_error("shape") is None
    for limits in (wald_limits(fit, "shape"), ratio_limits(fit, lives, "shape")):
        assert limits.estimate is None and limits.low is None and limits.high is None


def test_it_fits_one_failure_among_longer_lives():
    fit = fit_weibull(lives_until([6], [5, 7, 8]))
    assert fit.status == "fitted"
    limits = ratio_limits(fit, lives_until([6], [5, 7, 8]), "scale", confidence=0.999)
    assert limits.is_sparse
    assert limits.high is None
    assert limits.low < fit.scale


def test_it_sets_no_lower_limit_where_any_low_shape_is_likely():
    lives = lives_of([1100, 500, 600], [1, 1, 0], entry=[300, 200, 500])
    fit = fit_weibull(lives)
    limits = ratio_limits(fit, lives, "shape")
    assert limits.low is None
    assert fit.shape < limits.high
    assert ratio_limits(fit, lives, "quantile", at=0.1).low is None


def test_it_sets_limits_of_few_lives_around_the_estimate():
    for seed in range(60):
        lives = random_lives(5000 + seed, 2 + seed % 6, with_entry=seed % 2 > 0,
                             digits=-2)  # fmt: skip
        fit = fit_weibull(lives)
        if fit.status == "fitted":
            limits = ratio_limits(fit, lives, "quantile", at=0.1)
            assert limits.low is None or limits.low <= limits.estimate
            assert limits.high is None or limits.high >= limits.estimate


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(
    ("of", "at"),
    [("shape", None), ("scale", None), ("quantile", 0.1), ("reliability", 400)],
)
def test_it_sets_limits_where_the_likelihood_has_lost_enough(seed, of, at):
    lives = random_lives(seed, 30)
    fit = fit_weibull(lives)
    limits = ratio_limits(fit, lives, of, at=at, confidence=0.9)
    loss = stats.chi2.ppf(0.9, 1) / 2
    for end in (limits.low, limits.high):

        def left(log_shape, end=end):
            k = math.exp(log_shape)
            scale = end
            if of == "quantile":
                scale = end / (-math.log1p(-at)) ** (1 / k)
            if of == "reliability":
                scale = at / (-math.log(end)) ** (1 / k)
            return -loglik(lives, k, scale)

        if of == "shape":
            best = -optimize.minimize_scalar(
                lambda x, end=end: -loglik(lives, end, math.exp(x)),
                bounds=(4, 10), method="bounded", options={"xatol": 1e-10},
            ).fun  # fmt: skip
        else:
            best = -optimize.minimize_scalar(
                left, bounds=(-3, 3), method="bounded", options={"xatol": 1e-10}
            ).fun
        assert pytest.approx(fit.loglik - loss, abs=1e-6) == best
    assert limits.low < limits.estimate < limits.high


@pytest.mark.parametrize("of", ["shape", "scale", "mu", "sigma"])
def test_it_sets_limits_alike_by_all_ways_on_many_lives(of):
    lives = random_lives(1, 8_000)
    fit = fit_weibull(lives)
    ratio = ratio_limits(fit, lives, of)
    for on in ("log", "natural"):
        wald = wald_limits(fit, of, on=on)
        width = wald.high - wald.low
        assert pytest.approx(ratio.low, abs=0.02 * width) == wald.low
        assert pytest.approx(ratio.high, abs=0.02 * width) == wald.high


@pytest.mark.parametrize(("of", "at"), [("quantile", 0.1), ("reliability", 300.0)])
def test_it_gives_the_error_of_figures_as_differences_do(of, at):
    fit = fit_weibull(random_lives(2, 100))

    def figure(mu, s):
        moved = LifeFit("weibull", "fitted", mu, math.exp(s), fit.covariance, 0.0, 1, 1,
                        "watched from age 0")  # fmt: skip
        return moved.quantile(at) if of == "quantile" else moved.reliability(at)

    mu, s, h = fit.mu, math.log(fit.sigma), 1e-6
    slope = np.array([
        (figure(mu + h, s) - figure(mu - h, s)) / (2 * h),
        (figure(mu, s + h) - figure(mu, s - h)) / (2 * h),
    ])  # fmt: skip
    wanted = math.sqrt(slope @ np.array(fit.covariance) @ slope)
    assert pytest.approx(wanted, rel=1e-6) == fit.standard_error(of, at=at)


def test_it_keeps_the_reliability_between_0_and_1_on_the_log_scale():
    fit = fit_weibull(lives_until([54, 187, 216], [500]))
    limits = wald_limits(fit, "reliability", at=20, confidence=0.999)
    assert 0 < limits.low < limits.estimate < limits.high < 1
    assert 1 < wald_limits(fit, "reliability", at=20, confidence=0.999,
                           on="natural").high  # fmt: skip


def test_it_covers_the_truth_as_often_as_it_says():
    held = 0
    for seed in range(150):
        lives = random_lives(1000 + seed, 60)
        limits = ratio_limits(fit_weibull(lives), lives, "shape", confidence=0.9)
        held += limits.low <= 1.8 <= limits.high
    # Binomial of 150 and 0.9: 122 to 146 holds all but one in a thousand.
    assert 122 <= held <= 146


def test_it_fits_causes_that_compete():
    rng = generator(3)
    ages = np.stack([500 * rng.weibull(1.0, 4000), 800 * rng.weibull(3.0, 4000)])
    first, end = ages.min(axis=0), rng.uniform(200, 1500, 4000)
    event = first <= end
    lives = lives_of(np.minimum(first, end), event)
    cause = np.where(event, ages.argmin(axis=0), -1)
    fit = fit_weibull_causes(lives, cause, ("pack", "hinge"))
    assert pytest.approx([1.0, 3.0], rel=0.05) == [one.shape for one in fit.fits]
    assert pytest.approx(sum(one.loglik for one in fit.fits)) == fit.loglik
    left = fit.reliability(600)
    stopped = [fit.p_stopped_by(name, 600) for name in fit.causes]
    assert pytest.approx(1, abs=1e-7) == left + sum(stopped)
    assert pytest.approx((ages.min(axis=0) > 600).mean(), abs=0.03) == left


def test_it_lets_a_cause_without_failures_stop_nobody():
    lives = lives_until([5, 7, 9], [10])
    fit = fit_weibull_causes(lives, np.array([0, 0, 0, -1]), ("pack", "hinge"))
    assert fit.fits[1].status == "no failures"
    assert fit.fits[0].reliability(6) == fit.reliability(6)
    assert 0 == fit.p_stopped_by("hinge", 6)


def test_it_knows_no_share_where_a_cause_has_no_law():
    lives = lives_until([5, 7, 10])
    fit = fit_weibull_causes(lives, np.array([0, 0, 1]), ("pack", "hinge"))
    assert fit.loglik is None
    assert fit.reliability(6) is None
    assert fit.p_stopped_by("pack", 6) is None


@pytest.mark.parametrize(
    "call",
    [
        lambda f: f.quantile(0),
        lambda f: f.reliability(-1),
        lambda f: f.standard_error("quantile"),
        lambda f: f.standard_error("rate"),
        lambda f: wald_limits(f, "shape", confidence=1),
        lambda f: ratio_limits(f, lives_until([5, 7]), "shape", confidence=0),
        lambda f: fit_weibull_causes(lives_until([5, 7]), np.array([0, 1]), ("a",)),
        lambda f: fit_weibull_causes(lives_until([5, 7]), np.array([0]), ("a",)),
        lambda f: fit_weibull_causes(
            lives_until([5, 7]), np.array([0, 0]), ("a",)
        ).p_stopped_by("b", 2),
    ],
)
def test_it_refuses_what_is_outside_its_range(call):
    fit = fit_weibull(lives_until([54, 187, 216], [500]))
    with pytest.raises(BadArgumentError, match="found"):
        call(fit)


def test_two_lives_that_differ_by_their_last_bit_raise_nothing() -> None:
    near = np.nextafter(1000.0, 2000.0)

    assert fit_weibull(lives_until([1000.0, near])).status in ("no maximum", "fitted")
