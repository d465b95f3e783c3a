"""Are laws of lives, and lines through ranks, as printed elsewhere?"""

from collections.abc import Mapping

from turnscrew.core.reliability.exponential import fit_exponential
from turnscrew.core.reliability.fit import LifeFit, Limits, wald_limits
from turnscrew.core.reliability.likelihood import ratio_limits
from turnscrew.core.reliability.lives import (
    Lives,
    counted_lives,
    lives_of,
    lives_until,
)
from turnscrew.core.reliability.lognormal import fit_lognormal
from turnscrew.core.reliability.ranks import median_ranks, rank_regression
from turnscrew.core.reliability.weibull import fit_weibull
from turnscrew.flows.selfcheck.case import Case, Figure, Within

_STOPPED = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386]  # fmt: skip
_FANS = [[450, 1, 1], [460, 0, 1], [1150, 1, 2], [1560, 0, 1], [1600, 1, 1],
 [1660, 0, 1], [1850, 0, 5], [2030, 0, 3], [2070, 1, 2], [2080, 1, 1],
 [2200, 0, 1], [3000, 0, 4], [3100, 1, 1], [3200, 0, 1], [3450, 1, 1],
 [3750, 0, 2], [4150, 0, 4], [4300, 0, 4], [4600, 1, 1], [4850, 0, 4],
 [5000, 0, 3], [6100, 0, 3], [6100, 1, 1], [6300, 0, 1], [6450, 0, 2],
 [6700, 0, 1], [7450, 0, 1], [7800, 0, 2], [8100, 0, 2], [8200, 0, 1],
 [8500, 0, 3], [8750, 0, 2], [8750, 1, 1], [9400, 0, 1], [9900, 0, 1],
 [10100, 0, 3], [11500, 0, 1]]  # fmt: skip
_DISTANCES = [6700, 6950, 7820, 8790, 9120, 9660, 9820, 11310, 11690, 11850, 11880,
 12140, 12200, 12870, 13150, 13330, 13470, 14040, 14300, 17520, 17540,
 17890, 18450, 18960, 18980, 19410, 20100, 20100, 20150, 20320, 20900,
 22700, 23490, 26510, 27410, 27490, 27890, 28100]  # fmt: skip
_FAILED = {6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27490}
_BEARINGS = [17.88, 28.92, 33.0, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12,
 55.56, 67.8, 68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84,
 127.92, 128.04, 173.4]  # fmt: skip
_CAGES = [[50, 0, 288], [150, 0, 148], [230, 1, 1], [250, 0, 124], [334, 1, 1],
 [350, 0, 111], [423, 1, 1], [450, 0, 106], [550, 0, 99], [650, 0, 110],
 [750, 0, 114], [850, 0, 119], [950, 0, 127], [990, 1, 1], [1009, 1, 1],
 [1050, 0, 123], [1150, 0, 93], [1250, 0, 47], [1350, 0, 41],
 [1450, 0, 27], [1510, 1, 1], [1550, 0, 11], [1650, 0, 6], [1850, 0, 1],
 [2050, 0, 2]]  # fmt: skip
_LATE_TIMES = [3, 5, 6, 7, 8, 9, 10, 11, 12, 12, 12, 12]
_LATE_EVENTS = [1, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0]
_LATE_ENTRIES = [0, 0, 2, 1, 4, 0, 6, 3, 5, 2, 0, 8]


def _stopped_test() -> Mapping[str, Figure]:
    lives = lives_until(_STOPPED, [500] * 10)
    fit = fit_weibull(lives)
    return {
        "shape": fit.shape,
        "scale": fit.scale,
        "loglik": fit.loglik,
        "aic": fit.aic,
        "se_shape": fit.standard_error("shape"),
        "se_scale": fit.standard_error("scale"),
        "lr95_shape": _ends(ratio_limits(fit, lives, "shape")),
        "logwald95_shape": _ends(wald_limits(fit, "shape")),
        "logwald95_scale": _ends(wald_limits(fit, "scale")),
        "B10": fit.quantile(0.1),
        "lognormal_mu_sigma_ll": _lognormal(lives),
    }


def _many_censored() -> Mapping[str, Figure]:
    failures = [45, 46, 34, 45, 32, 24, 58, 79, 56, 63, 34, 50]
    censored = [23, 24, 57, 78, 76, 85, 51, 59]
    fit = fit_weibull(lives_until(failures, censored))
    return {
        "shape": fit.shape,
        "scale": fit.scale,
        "wald95_shape": _ends(wald_limits(fit, "shape", on="natural")),
        "wald95_scale": _ends(wald_limits(fit, "scale", on="natural")),
        "logwald95_shape": _ends(wald_limits(fit, "shape")),
        "logwald95_scale": _ends(wald_limits(fit, "scale")),
    }


def _fans() -> Mapping[str, Figure]:
    lives = counted_lives(_FANS)
    fit = fit_weibull(lives)
    return {
        "weibull_shape": fit.shape,
        "weibull_scale": fit.scale,
        "ev_location": fit.mu,
        "ev_scale": fit.sigma,
        "se_shape": fit.standard_error("shape"),
        "weibull_loglik": fit.loglik,
        "lognormal_mu_sigma_ll": _lognormal(lives),
    }


def _shocks() -> Mapping[str, Figure]:
    first = _DISTANCES.index(20100)
    events = [
        one in _FAILED and (one != 20100 or place == first)
        for place, one in enumerate(_DISTANCES)
    ]
    lives = lives_of(_DISTANCES, events)
    fit, other = fit_weibull(lives), fit_lognormal(lives)
    return {
        "weibull_mu_sigma": [fit.mu, fit.sigma],
        "lognormal_mu_sigma": [other.mu, other.sigma],
        "weibull_shape_scale": _shape_scale(fit),
        "weibull_loglik": fit.loglik,
        "lognormal_loglik": other.loglik,
        "se_mu_se_sigma": [fit.standard_error("mu"), fit.standard_error("sigma")],
    }


def _bearings() -> Mapping[str, Figure]:
    fits = {
        one: fit_weibull(lives_of([one if x == 48.48 else x for x in _BEARINGS]))
        for one in (48.4, 48.48, 48.8)
    }
    fit = fits[48.48]
    other = fit_lognormal(lives_of(_BEARINGS))
    return {
        "shape_48.48": fit.shape,
        "scale_48.48": fit.scale,
        "shape_scale_48.40": _shape_scale(fits[48.4]),
        "shape_scale_48.48_full": _shape_scale(fit),
        "shape_scale_48.80": _shape_scale(fits[48.8]),
        "loglik_48.48": fit.loglik,
        "lognormal_mu_sigma_48.48": [other.mu, other.sigma],
    }


def _cages() -> Mapping[str, Figure]:
    fit = fit_weibull(counted_lives(_CAGES))
    return {
        "shape": fit.shape,
        "scale": fit.scale,
        "n_failures": [fit.n_units, fit.n_events],
        "se_shape": fit.standard_error("shape"),
        "loglik": fit.loglik,
    }


def _latecomers() -> Mapping[str, Figure]:
    lives = lives_of(_LATE_TIMES, _LATE_EVENTS, entry=_LATE_ENTRIES)
    fit = fit_weibull(lives)
    errors: list[Figure] = [fit.standard_error("shape"), fit.standard_error("scale")]
    return {
        "exponential_rate": fit_exponential(lives).rate,
        "weibull_shape": fit.shape,
        "weibull_scale": fit.scale,
        "weibull_loglik": fit.loglik,
        "se_shape_scale": errors,
        "lognormal_mu_sigma_ll": _lognormal(lives),
        "weibull_if_truncation_ignored": _shape_scale(
            fit_weibull(lives_of(_LATE_TIMES, _LATE_EVENTS))
        ),
    }


def _ranks() -> Mapping[str, Figure]:
    return {
        "exact_n5": median_ranks(5).tolist(),
        "benard_n5": median_ranks(5, method="benard").tolist(),
        "exact_n10": median_ranks(10).tolist(),
        "benard_n10": median_ranks(10, method="benard").tolist(),
    }


def _lines() -> Mapping[str, Figure]:
    failures, censored = [30, 49, 82, 90, 96], [10, 45, 100]
    one = rank_regression(failures, censored, direction="x on y")
    other = rank_regression(failures, censored, direction="y on x")
    line = rank_regression(_STOPPED, [500] * 10, direction="y on x")
    assert one is not None and other is not None and line is not None
    return {
        "X_on_Y_shape_scale": [one.shape, one.scale],
        "Y_on_X_shape_scale": [other.shape, other.scale],
        "mle_shape_scale": _shape_scale(fit_weibull(lives_until(failures, censored))),
        "nist_slope_intercept_Y_on_X": [line.slope, line.intercept],
    }


def _ends(limits: Limits) -> list[Figure]:
    return [limits.low, limits.high]


def _shape_scale(fit: LifeFit) -> list[Figure]:
    return [fit.shape, fit.scale]


def _lognormal(lives: Lives) -> list[Figure]:
    fit = fit_lognormal(lives)
    return [fit.mu, fit.sigma, fit.loglik]


CASES = (
    Case(
        name="B1",
        title="Weibull, 10 of 20 failed, test stopped at 500",
        source=(
            "NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3 and 8.4.1.2: "
            "shape, scale; log-likelihood and criterion seen in a test file; "
            "errors, limits, B10 and log-normal computed"
        ),
        reckon=_stopped_test,
        expected={
            "shape": 1.7207,
            "scale": 606.528,
            "loglik": -75.135,
            "aic": 154.27,
            "se_shape": 0.50215,
            "se_scale": 124.9106,
            "lr95_shape": [0.90565, 2.88574],
            "logwald95_shape": [0.97127, 3.04874],
            "logwald95_scale": [405.089, 908.135],
            "B10": 164.0224,
            "lognormal_mu_sigma_ll": [6.226015, 0.908914, -75.196271],
        },
        within={
            "shape": Within(0.00011),
            "scale": Within(0.0006),
            "loglik": Within(0.0005),
            "aic": Within(0.005),
            "se_shape": Within(5e-05),
            "se_scale": Within(0.005),
            "lr95_shape": Within(2e-05),
            "logwald95_shape": Within(5e-05),
            "logwald95_scale": Within(0.02),
            "B10": Within(0.001),
            "lognormal_mu_sigma_ll": Within(2e-06),
        },
    ),
    Case(
        name="B2",
        title="Weibull with many censored, symmetric and log limits",
        source=(
            "Journal of Quality Technology 1997, doi "
            "10.1080/00224065.1997.11979730: law and limits on the natural scale; "
            "limits on the log scale computed"
        ),
        reckon=_many_censored,
        expected={
            "shape": 2.754,
            "scale": 67.9188,
            "wald95_shape": [1.4977, 4.0102],
            "wald95_scale": [53.8755, 81.9622],
            "logwald95_shape": [1.74523, 4.34571],
            "logwald95_scale": [55.2322, 83.5196],
        },
        within={
            "shape": Within(5e-05),
            "scale": Within(5e-05),
            "wald95_shape": Within(0.0001),
            "wald95_scale": Within(0.002),
            "logwald95_shape": Within(0.0002),
            "logwald95_scale": Within(0.005),
        },
    ),
    Case(
        name="B4",
        title="fans, Weibull and log-normal",
        source=(
            "Nelson (1982) p. 318: data; Weibull figures from memory and computed, "
            "the rest computed"
        ),
        reckon=_fans,
        expected={
            "weibull_shape": 1.0584,
            "weibull_scale": 26296.85,
            "ev_location": 10.1772,
            "ev_scale": 0.9448,
            "se_shape": 0.26825,
            "weibull_loglik": -135.15272,
            "lognormal_mu_sigma_ll": [10.143239, 1.679593, -134.549648],
        },
        within={
            "weibull_shape": Within(5e-05),
            "weibull_scale": Within(0.05),
            "ev_location": Within(5e-05),
            "ev_scale": Within(5e-05),
            "se_shape": Within(0.0002),
            "weibull_loglik": Within(1e-05),
            "lognormal_mu_sigma_ll": Within(5e-06),
        },
    ),
    Case(
        name="B5",
        title="distances of shock absorbers",
        source=(
            "Meeker & Escobar (1998), ch. 8 and p. 630: data; places and spreads "
            "from memory and computed, the rest computed"
        ),
        reckon=_shocks,
        expected={
            "weibull_mu_sigma": [10.23, 0.3164],
            "lognormal_mu_sigma": [10.14, 0.5301],
            "weibull_shape_scale": [3.16047, 27718.718],
            "weibull_loglik": -123.995361,
            "lognormal_loglik": -124.60855,
            "se_mu_se_sigma": [0.10989, 0.07317],
        },
        within={
            "weibull_mu_sigma": Within(0.005),
            "lognormal_mu_sigma": Within(0.005),
            "weibull_shape_scale": Within(1e-06, "rel"),
            "weibull_loglik": Within(1e-05),
            "lognormal_loglik": Within(1e-05),
            "se_mu_se_sigma": Within(2e-05),
        },
    ),
    Case(
        name="B6",
        title="ball bearings, three printed variants",
        source=(
            "Lieblein & Zelen (1956): data, with the 7th value as three sources "
            "print it; 2.10 and 81.88 from memory and computed, the rest computed"
        ),
        reckon=_bearings,
        expected={
            "shape_48.48": 2.1,
            "scale_48.48": 81.88,
            "shape_scale_48.40": [2.101846864, 81.874558724],
            "shape_scale_48.48_full": [2.102058875, 81.878334052],
            "shape_scale_48.80": [2.102902975, 81.893430932],
            "loglik_48.48": -113.691291,
            "lognormal_mu_sigma_48.48": [4.150454, 0.521649],
        },
        within={
            "shape_48.48": Within(0.005),
            "scale_48.48": Within(0.005),
            "shape_scale_48.40": Within(1e-08, "rel"),
            "shape_scale_48.48_full": Within(1e-08, "rel"),
            "shape_scale_48.80": Within(1e-08, "rel"),
            "loglik_48.48": Within(1e-05),
            "lognormal_mu_sigma_48.48": Within(5e-06),
        },
    ),
    Case(
        name="B7",
        title="6 failures among 1703 bearing cages",
        source=(
            "Abernethy et al. (1983), Meeker & Escobar (1998) ch. 8: data; 2.035 "
            "and 11792 from memory and computed, the rest computed"
        ),
        reckon=_cages,
        expected={
            "shape": 2.035,
            "scale": 11792,
            "n_failures": [1703, 6],
            "se_shape": 0.66567,
            "loglik": -76.436896,
        },
        within={
            "shape": Within(0.0005),
            "scale": Within(0.5),
            "se_shape": Within(0.0005),
            "loglik": Within(1e-05),
        },
    ),
    Case(
        name="B9",
        title="lives watched from a later age",
        source="computed: four fits, two of them by lifelines 0.30.3 and SurPyval 0.25",
        reckon=_latecomers,
        expected={
            "exponential_rate": 0.10526315789473684,
            "weibull_shape": 1.96315164,
            "weibull_scale": 10.60363258,
            "weibull_loglik": -24.83212804,
            "se_shape_scale": [0.74472, 1.934],
            "lognormal_mu_sigma_ll": [2.144287, 0.622741, -24.667038],
            "weibull_if_truncation_ignored": [2.3649812, 11.33501334],
        },
        within={
            "exponential_rate": Within(1e-12, "rel"),
            "weibull_shape": Within(2e-07),
            "weibull_scale": Within(2e-06),
            "weibull_loglik": Within(1e-07),
            "se_shape_scale": Within(0.0005),
            "lognormal_mu_sigma_ll": Within(3e-06),
            "weibull_if_truncation_ignored": Within(1e-07, "rel"),
        },
    ),
    Case(
        name="I1",
        title="median ranks",
        source=(
            "definition and standard tables: exact ranks from memory and computed; "
            "the others computed"
        ),
        reckon=_ranks,
        expected={
            "exact_n5": [0.1294, 0.3138, 0.5, 0.6862, 0.8706],
            "benard_n5": [0.12963, 0.31481, 0.5, 0.68519, 0.87037],
            "exact_n10": [
                0.06697,
                0.16226,
                0.25857,
                0.3551,
                0.45169,
                0.54831,
                0.6449,
                0.74143,
                0.83774,
                0.93303,
            ],
            "benard_n10": [
                0.06731,
                0.16346,
                0.25962,
                0.35577,
                0.45192,
                0.54808,
                0.64423,
                0.74038,
                0.83654,
                0.93269,
            ],
        },
        within={
            "exact_n5": Within(5.1e-05),
            "benard_n5": Within(5e-06),
            "exact_n10": Within(5e-06),
            "benard_n10": Within(5e-06),
        },
    ),
    Case(
        name="I3",
        title="lines through ranks, both directions",
        source=(
            "The New Weibull Handbook, fig. 2-5: 2.024 and 94.998, x on y; "
            "NIST/SEMATECH e-Handbook of Statistical Methods, probability plot: "
            "1.457519 and -4.116536, y on x; the rest computed"
        ),
        reckon=_lines,
        expected={
            "X_on_Y_shape_scale": [2.024, 94.998],
            "Y_on_X_shape_scale": [1.929418, 96.889399],
            "mle_shape_scale": [3.017019, 87.956292],
            "nist_slope_intercept_Y_on_X": [1.457519, -4.116536],
        },
        within={
            "X_on_Y_shape_scale": Within(0.0006),
            "Y_on_X_shape_scale": Within(1e-06),
            "mle_shape_scale": Within(1e-06),
            "nist_slope_intercept_Y_on_X": Within(5e-07),
        },
    ),
)
