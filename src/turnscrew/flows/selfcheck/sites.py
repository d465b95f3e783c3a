"""Are predictions of counts and comparisons of sites as printed elsewhere?"""

from collections.abc import Mapping

import numpy as np

from turnscrew.core.reliability.discoveries import adjust_p
from turnscrew.core.reliability.funnel import funnel_limits
from turnscrew.core.reliability.prediction import (
    GammaLaw,
    fit_gamma,
    predict_count,
)
from turnscrew.flows.selfcheck.case import Case, Figure, Within

_LEVELS = (0.025, 0.5, 0.9, 0.95, 0.975)
_PUMP_FAILURES = [5, 1, 5, 14, 3, 19, 1, 1, 4, 22]
_PUMP_EXPOSURE = [94.3, 15.7, 62.9, 126.0, 5.24, 31.4, 1.05, 1.05, 2.1, 10.5]
_P_VALUES = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324,
    0.4262, 0.5719, 0.6528, 0.759, 1.0,
]  # fmt: skip


def _two_statements() -> Mapping[str, Figure]:
    law = GammaLaw.from_mtbf(mtbf_50=600, mtbf_05=250)
    # The printed check takes shape, rate and 1/600 as rounded in print.
    rounded = GammaLaw(2.863, 1522.46)
    return {
        "shape": law.shape,
        "rate": law.rate,
        "cdf_1_over_600": law.cdf(1 / 600),
        "cdf_1_over_250": law.cdf(1 / 250),
        "cdf_1_over_600_rounded": rounded.cdf(0.001667),
        "cdf_1_over_250_rounded": rounded.cdf(0.004),
    }


def _pumps() -> Mapping[str, Figure]:
    fit = fit_gamma(_PUMP_FAILURES, _PUMP_EXPOSURE)
    return {
        "shape": None if fit.law is None else fit.law.shape,
        "rate": None if fit.law is None else fit.law.rate,
        "log_likelihood": fit.log_likelihood,
        "shrunk": [float(r) for r in fit.shrunk(_PUMP_FAILURES, _PUMP_EXPOSURE)],
    }


def _count_table() -> Mapping[str, Figure]:
    table = [70, 38, 17, 10, 9, 3, 2, 1]
    likely = fit_gamma(range(8), frequency=table)
    moments = fit_gamma(range(8), frequency=table, rule="moments")
    return {
        "k_mle": None if likely.law is None else likely.law.shape,
        "mean": likely.mean,
        "k_moments": None if moments.law is None else moments.law.shape,
    }


def _to_come() -> Mapping[str, Figure]:
    found = predict_count(failures=12, exposure=344.44, future_exposure=100)
    plain = predict_count(
        failures=12, exposure=344.44, future_exposure=100, predictive="plug-in"
    )
    return {
        "mean": found.mean,
        "variance": found.variance,
        "chances_0_to_3": [float(p) for p in found.chances[:4]],
        "quantiles": [found.quantile(p) for p in _LEVELS],
        "plug_in_quantiles": [plain.quantile(p) for p in _LEVELS],
    }


def _discoveries() -> Mapping[str, Figure]:
    adjusted = adjust_p(_P_VALUES, "bh")

    def n_standing(rule: str) -> int:
        return int(np.sum(adjust_p(_P_VALUES, rule) <= 0.05))  # type: ignore[arg-type]

    return {
        "n_bh": n_standing("bh"),
        "n_bonferroni": n_standing("bonferroni"),
        "n_raw": n_standing("none"),
        "adjusted_4th_5th": [float(adjusted[3]), float(adjusted[4])],
        "n_holm_hochberg_by": [n_standing(r) for r in ("holm", "hochberg", "by")],
    }


def _funnel() -> Mapping[str, Figure]:
    limits = funnel_limits([5, 10, 20], [0.001, 0.025, 0.975, 0.999])
    plain = funnel_limits([5, 10, 20], [0.025, 0.975], is_interpolated=False)
    return {
        "E5": [float(x) for x in limits[0]],
        "E10": [float(x) for x in limits[1]],
        "E20": [float(x) for x in limits[2]],
        "plain_95": [float(x) for x in plain.ravel()],
    }


CASES = (
    Case(
        name="F1",
        title="gamma law from two statements about the MTBF, 600 and 250",
        source=(
            "NIST/SEMATECH e-Handbook of Statistical Methods, script output; its text "
            "rounds to 2.863 and 1522.46, of which the two checks are made"
        ),
        reckon=_two_statements,
        expected={
            "shape": 2.863055,
            "rate": 1522.506,
            "cdf_1_over_600": 0.5,
            "cdf_1_over_250": 0.95,
            "cdf_1_over_600_rounded": 0.5001232,
            "cdf_1_over_250_rounded": 0.9499963,
        },
        within={
            "shape": Within(5e-7),
            "rate": Within(5e-4),
            "cdf_1_over_600": Within(1e-12),
            "cdf_1_over_250": Within(1e-12),
            "cdf_1_over_600_rounded": Within(5e-8),
            "cdf_1_over_250_rounded": Within(5e-8),
        },
    ),
    Case(
        name="F2",
        title="ten pumps of unequal exposure",
        source="computed; data of Gaver and O'Muircheartaigh (1987), widely printed",
        reckon=_pumps,
        expected={
            "shape": 0.822965,
            "rate": 1.261653,
            "log_likelihood": -32.257836,
            "shrunk": [
                0.060934,
                0.107476,
                0.090755,
                0.116476,
                0.587999,
                0.606919,
                0.788598,
                0.788598,
                1.4347,
                1.940456,
            ],
        },
        within={
            "shape": Within(5e-6),
            "rate": Within(1e-5),
            "log_likelihood": Within(1e-6),
            "shrunk": Within(2e-6),
        },
    ),
    Case(
        name="F3",
        title="negative binomial fitted to a table of counts",
        source="Bliss and Fisher (1953): data seen, k from memory, the rest computed",
        reckon=_count_table,
        expected={"k_mle": 1.02459, "mean": 1.146667, "k_moments": 1.166697},
        within={
            "k_mle": Within(5e-6),
            "mean": Within(5e-7),
            "k_moments": Within(1e-6),
        },
    ),
    Case(
        name="F5",
        title="failures to come in 100 kh after 12 in 344.44 kh",
        source="computed",
        reckon=_to_come,
        expected={
            "mean": 3.6290790849,
            "variance": 4.6826962852,
            "chances_0_to_3": [0.04132906, 0.11623914, 0.17653996, 0.19198913],
            "quantiles": [0, 3, 7, 8, 9],
            "plug_in_quantiles": [0, 3, 6, 7, 8],
        },
        within={
            "mean": Within(1e-9),
            "variance": Within(1e-9),
            "chances_0_to_3": Within(1e-8),
        },
    ),
    Case(
        name="H1",
        title="15 p-values, five adjustments",
        source="Benjamini and Hochberg (1995), section 4; three counts computed",
        reckon=_discoveries,
        expected={
            "n_bh": 4,
            "n_bonferroni": 3,
            "n_raw": 9,
            "adjusted_4th_5th": [0.035625, 0.0603],
            "n_holm_hochberg_by": [3, 3, 3],
        },
        within={"adjusted_4th_5th": Within(1e-12)},
    ),
    Case(
        name="H3",
        title="control limits of a funnel plot",
        source="computed; method of Spiegelhalter (2005) from memory",
        reckon=_funnel,
        expected={
            "E5": [-0.851587, 0.542066, 9.376559, 12.771353],
            "E10": [1.220529, 3.775188, 16.159951, 20.662001],
            "E20": [7.169187, 11.205001, 28.745769, 34.713529],
            "plain_95": [1, 10, 4, 17, 12, 29],
        },
        within={"E5": Within(1e-6), "E10": Within(1e-6), "E20": Within(1e-6)},
    ),
)
