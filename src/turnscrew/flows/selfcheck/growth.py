"""Are trends of mended units as printed elsewhere?"""

from collections.abc import Mapping

from turnscrew.core.reliability.crow import crow_factors
from turnscrew.core.reliability.growth import fit_power_law
from turnscrew.core.reliability.trends import fit_log_linear, trend_tests
from turnscrew.flows.selfcheck.case import Case, Figure, Within

_TEN = [5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478]
_TWENTY_SEVEN = [
    2.6, 16.5, 16.5, 17.0, 21.4, 29.1, 33.3, 56.5, 63.1, 70.6, 73.0, 77.7, 93.9, 95.5,
    98.1, 101.1, 132.0, 142.2, 147.7, 149.0, 167.2, 190.7, 193.0, 198.7, 251.9, 282.5,
    286.1,
]  # fmt: skip
_TWENTY_TWO = [
    2.7, 10.3, 12.5, 30.6, 57.0, 61.3, 80.0, 109.5, 125.0, 128.6, 143.8, 167.9, 229.2,
    296.7, 320.6, 328.2, 366.2, 396.7, 421.1, 438.2, 501.2, 620.0,
]  # fmt: skip
_THREE_SYSTEMS = {
    "S1": [4.3, 4.4, 10.2, 23.5, 23.8, 26.4, 74.0, 77.1, 92.1, 197.2],
    "S2": [
        0.1, 5.6, 18.6, 19.5, 24.2, 26.7, 45.1, 45.8, 75.7, 79.7, 98.6, 120.1, 161.8,
        180.6, 190.8,
    ],
    "S3": [8.4, 32.5, 44.7, 48.4, 50.6, 73.6, 98.7, 112.2, 129.8, 136.0, 195.8],
}  # fmt: skip
_ENGINE_KH = [
    1.382, 2.99, 4.124, 6.827, 7.472, 7.567, 8.845, 9.45, 9.794, 10.848, 11.993, 12.3,
    15.413, 16.497, 17.352, 17.632, 18.122, 19.067, 19.172, 19.299, 19.36, 19.686,
    19.94, 19.944, 20.121, 20.132, 20.431, 20.525, 21.057, 21.061, 21.309, 21.31,
    21.378, 21.391, 21.456, 21.461, 21.603, 21.658, 21.688, 21.75, 21.815, 21.82,
    21.822, 21.888, 21.93, 21.943, 21.946, 22.181, 22.311, 22.634, 22.635, 22.669,
    22.691, 22.846, 22.947, 23.149, 23.305, 23.491, 23.526, 23.774, 23.791, 23.822,
    24.006, 24.286, 25.0, 25.01, 25.048, 25.268, 25.4, 25.5, 25.518,
]  # fmt: skip
_LAST_ENDED = [
    10400, 26900, 43400, 66400, 89400, 130400, 163400, 232000, 242000, 340700,
]  # fmt: skip


def _improving() -> Mapping[str, Figure]:
    found = fit_power_law(
        _TEN, 1500, estimator="modified", confidence=0.8, mtbf_rule="handbook"
    )
    mle = fit_power_law(_TEN, 1500)
    return {
        "growth_slope": found.growth_slope,
        "shape_modified": found.shape,
        "rate_modified": found.rate,
        "mtbf": found.mtbf,
        "mtbf80_lower": found.mtbf_lower,
        "mtbf80_upper": found.mtbf_upper,
        "shape_mle": mle.shape,
        "rate_mle": mle.rate,
    }


def _tests() -> Mapping[str, Figure]:
    found = trend_tests(_TEN, 1500)
    return {
        "laplace_z": found.laplace_z,
        "mil_chi2": found.mil_chi2,
        "df": found.df,
        "p_improvement_upper_tail": found.p_improvement,
        "p_two_sided_doubled": found.p_two_sided,
        "reversals": found.reversals,
        "reversal_z_with_continuity": found.reversal_z,
    }


def _handbook() -> Mapping[str, Figure]:
    found = fit_power_law(_TWENTY_SEVEN, 300)
    return {
        "shape": found.shape,
        "rate": found.rate,
        "shape_modified": fit_power_law(_TWENTY_SEVEN, 300, estimator="modified").shape,
        "intensity": found.intensity(300),
        "mtbf": found.mtbf,
        "cramer_von_mises": found.cramer_von_mises,
    }


def _factors() -> Mapping[str, Figure]:
    return {"n23_80": crow_factors(23, 0.8), "n27_90": crow_factors(27, 0.9)}


def _fisher() -> Mapping[str, Figure]:
    found = fit_power_law(_TWENTY_TWO, termination="failure", confidence=0.9)
    eighty = fit_power_law(
        _TWENTY_TWO, termination="failure", confidence=0.8, shape_rule="fisher"
    )
    ninety = fit_power_law(
        _TWENTY_TWO, termination="failure", confidence=0.9, shape_rule="fisher"
    )
    modified = fit_power_law(_TWENTY_TWO, termination="failure", estimator="modified")
    return {
        "shape": found.shape,
        "rate": found.rate,
        "fisher_80": [eighty.shape_lower, eighty.shape_upper],
        "fisher_90": [ninety.shape_lower, ninety.shape_upper],
        "exact_90": [found.shape_lower, found.shape_upper],
        "mtbf": found.mtbf,
        "shape_modified": modified.shape,
    }


def _pooled() -> Mapping[str, Figure]:
    end = {"S1": 200, "S2": 200, "S3": 200}
    found = fit_power_law(_THREE_SYSTEMS, end, confidence=0.9)
    trend = trend_tests(_THREE_SYSTEMS, end)
    return {
        "shape": found.shape,
        "rate_per_system": found.rate,
        "shape_full": found.shape,
        "laplace_z": trend.laplace_z,
        "mil_chi2": trend.mil_chi2,
        "df": trend.df,
        "exact_90": [found.shape_lower, found.shape_upper],
    }


def _engine() -> Mapping[str, Figure]:
    power = fit_power_law(_ENGINE_KH, 25.5181)
    log = fit_log_linear(_ENGINE_KH, 25.5181)
    return {
        "log_linear": [log.g0, log.g1],
        "shape": power.shape,
        "eta": power.eta,
        "log_linear_full": [log.g0, log.g1],
        "power_full": [power.shape, power.eta],
        "laplace_z": trend_tests(_ENGINE_KH, 25.5181).laplace_z,
    }


def _failure_ended() -> Mapping[str, Figure]:
    found = fit_power_law(_LAST_ENDED, termination="failure")
    return {
        "shape": found.shape,
        "rate": found.rate,
        "mtbf_instantaneous": found.mtbf,
        "mtbf_cumulative": found.mtbf_at(340700, "cumulative"),
        "age_at_cumulative_50000": found.age_at_mtbf(50000, "cumulative"),
        "age_at_instantaneous_50000": found.age_at_mtbf(50000),
    }


CASES = (
    Case(
        name="E1",
        title="ten failures in 1500 h, modified estimator, 80 % limits of the MTBF",
        source=(
            "NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.2, printed output; "
            "the rate by maximum likelihood computed"
        ),
        reckon=_improving,
        expected={
            "growth_slope": 0.516494,
            "shape_modified": 0.483506,
            "rate_modified": 0.2913003,
            "mtbf": 310.234,
            "mtbf80_lower": 157.7138,
            "mtbf80_upper": 548.5566,
            "shape_mle": 0.5372288660341876,
            "rate_mle": 0.19665821571379197,
        },
        within={
            "growth_slope": Within(5e-7),
            "shape_modified": Within(5e-7),
            "rate_modified": Within(5e-8),
            "mtbf": Within(5e-4),
            "mtbf80_lower": Within(5e-5),
            "mtbf80_upper": Within(5e-5),
            "shape_mle": Within(1e-12, "rel"),
            "rate_mle": Within(1e-12, "rel"),
        },
    ),
    Case(
        name="E2",
        title="trend tests of the same failures",
        source=(
            "computed; formulas of NIST/SEMATECH e-Handbook, 8.2.3.4; SurPyval prints "
            "the same"
        ),
        reckon=_tests,
        expected={
            "laplace_z": -1.326949,
            "mil_chi2": 37.228081,
            "df": 20,
            "p_improvement_upper_tail": 0.010986,
            "p_two_sided_doubled": 0.0219727,
            "reversals": 33,
            "reversal_z_with_continuity": 1.9677,
        },
        within={
            "laplace_z": Within(5e-7),
            "mil_chi2": Within(5e-7),
            "p_improvement_upper_tail": Within(5e-7),
            "p_two_sided_doubled": Within(5e-7),
            "reversal_z_with_continuity": Within(1e-4),
        },
    ),
    Case(
        name="E3",
        title="27 failures in 300 h, with goodness of fit",
        source=(
            "MIL-HDBK-189 (1981), appendix C, as printed in a public validation script"
        ),
        reckon=_handbook,
        expected={
            "shape": 0.7163392624,
            "rate": 0.4538418614,
            "shape_modified": 0.689808178574665,
            "intensity": 0.0644705336,
            "mtbf": 15.510962,
            "cramer_von_mises": 0.0910611,
        },
        within={
            "shape": Within(1e-9, "rel"),
            "rate": Within(1e-9, "rel"),
            "shape_modified": Within(1e-12, "rel"),
            "intensity": Within(1e-8, "rel"),
            "mtbf": Within(1e-8, "rel"),
            "cramer_von_mises": Within(5e-8),
        },
    ),
    Case(
        name="E5",
        title="factors of the current MTBF, ended by time",
        source="NASA TM-103511 after Crow, as printed in a public validation script",
        reckon=_factors,
        expected={"n23_80": [0.6762, 1.5744], "n27_90": [0.6361467, 1.6817864]},
        within={"n23_80": Within(5e-5), "n27_90": Within(6e-8)},
    ),
    Case(
        name="E6",
        title="22 failures, ended by the last; 80 % and 90 % limits kept apart",
        source=(
            "reliawiki.com example data with limits as printed in a public test; "
            "90 % limits, MTBF and modified shape computed"
        ),
        reckon=_fisher,
        expected={
            "shape": 0.6142104,
            "rate": 0.4239422,
            "fisher_80": [0.4673647, 0.807195],
            "fisher_90": [0.43253081, 0.8722024],
            "exact_90": [0.392872, 0.811372],
            "mtbf": 45.883003910306016,
            "shape_modified": 0.558373090847027,
        },
        within={
            "shape": Within(5e-8),
            "rate": Within(5e-8),
            "fisher_80": Within(2e-7),
            "fisher_90": Within(1e-7),
            "exact_90": Within(1e-6),
            "mtbf": Within(1e-9, "rel"),
            "shape_modified": Within(1e-9, "rel"),
        },
    ),
    Case(
        name="E7",
        title="three systems of one age, pooled",
        source=(
            "Crow (1975), AMSAA TR-138: data seen, shape and rate from memory; the "
            "rest computed, SurPyval agrees on both tests"
        ),
        reckon=_pooled,
        expected={
            "shape": 0.615,
            "rate_per_system": 0.461,
            "shape_full": 0.615336252693585,
            "laplace_z": -3.012036,
            "mil_chi2": 117.009196,
            "df": 72,
            "exact_90": [0.456907, 0.793171],
        },
        within={
            "shape": Within(5e-4),
            "rate_per_system": Within(5e-4),
            "shape_full": Within(1e-12, "rel"),
            "laplace_z": Within(5e-7),
            "mil_chi2": Within(5e-7),
            "exact_90": Within(1e-6),
        },
    ),
    Case(
        name="E9",
        title="71 maintenance actions of an engine, two laws",
        source=(
            "Ascher and Feingold (1984), Meeker and Escobar (1998), chapter 16; "
            "log-linear values seen in a public test, power law from memory, full "
            "digits computed"
        ),
        reckon=_engine,
        expected={
            "log_linear": [-1.43, 0.149],
            "shape": 2.76,
            "eta": 5.45,
            "log_linear_full": [-1.42752, 0.149349],
            "power_full": [2.76031, 5.447256],
            "laplace_z": 7.595954,
        },
        within={
            "log_linear": Within(0.005),
            "shape": Within(0.005),
            "eta": Within(0.005),
            "log_linear_full": Within(1e-5),
            "power_full": Within(1e-6),
            "laplace_z": Within(1e-5),
        },
    ),
    Case(
        name="E10",
        title="ten failures, ended by the last; both MTBFs",
        source=(
            "Python package reliability, tests of repairable systems; the age for the "
            "instantaneous MTBF computed"
        ),
        reckon=_failure_ended,
        expected={
            "shape": 0.741656619656656,
            "rate": 0.0007886414235385733,
            "mtbf_instantaneous": 45937.70094814556,
            "mtbf_cumulative": 34070.0,
            "age_at_cumulative_50000": 1503979.9172547427,
            "age_at_instantaneous_50000": 472956.39537787583,
        },
        within={
            "shape": Within(1e-12, "rel"),
            "rate": Within(1e-10, "rel"),
            "mtbf_instantaneous": Within(1e-10, "rel"),
            "mtbf_cumulative": Within(1e-12, "rel"),
            "age_at_cumulative_50000": Within(1e-9, "rel"),
            "age_at_instantaneous_50000": Within(1e-9, "rel"),
        },
    ),
)
