"""Are limits and comparisons of constant rates as printed elsewhere?"""

import math
from collections.abc import Mapping
from functools import partial

from turnscrew.core.reliability.counts import LimitRule
from turnscrew.core.reliability.rates import (
    compare_rates,
    expected_ratio,
    rate_limits,
)
from turnscrew.flows.selfcheck.case import Case, Figure, Within

_FAN_FAILURES = {
    450: 1, 1150: 2, 1600: 1, 2070: 2, 2080: 1, 3100: 1, 3450: 1, 4600: 1, 6100: 1,
    8750: 1,
}  # fmt: skip
_FAN_LEFT = {
    460: 1, 1560: 1, 1660: 1, 1850: 5, 2030: 3, 2200: 1, 3000: 4, 3200: 1, 3750: 2,
    4150: 4, 4300: 4, 4850: 4, 5000: 3, 6100: 3, 6300: 1, 6450: 2, 6700: 1, 7450: 1,
    7800: 2, 8100: 2, 8200: 1, 8500: 3, 8750: 2, 9400: 1, 9900: 1, 10100: 3, 11500: 1,
}  # fmt: skip


def _timed() -> Mapping[str, Figure]:
    found = rate_limits(
        total_time=800, failures=2, confidence=0.9, sided=2, termination="time"
    )
    return {
        "mtbf": found.mtbf,
        "mtbf_lower": found.mtbf_lower,
        "mtbf_upper": found.mtbf_upper,
        "factor_lower": found.factor_lower,
        "factor_upper": found.factor_upper,
    }


def _no_failure() -> Mapping[str, Figure]:
    found = rate_limits(total_time=800, failures=0, confidence=0.9, sided=1)
    return {"mtbf_lower": found.mtbf_lower, "mtbf_upper": found.mtbf_upper}


def _counts() -> Mapping[str, Figure]:
    asked = [(0, 0.95), (10, 0.95), (25, 0.9), (25, 0.95), (25, 0.99), (5, 0.95)]
    made = {}
    for count, level in [*asked, (1, 0.95)]:
        found = rate_limits(failures=count, total_time=1, confidence=level)
        made[f"n{count}_{level * 100:.0f}"] = [found.rate_lower, found.rate_upper]
    return made


def _ratio() -> Mapping[str, Figure]:
    found = expected_ratio(observed=137, expected=24.19893, confidence=0.95)
    return {"ratio": found.ratio, "limits": [found.lower, found.upper]}


def _two_rates() -> Mapping[str, Figure]:
    compare = partial(
        compare_rates, count1=11, exposure1=800, count2=21, exposure2=3011
    )
    found = compare(p_rule="doubled")
    return {
        "ratio": found.ratio,
        "expected_count1": found.expected_count1,
        "limits": [found.lower, found.upper],
        "p_min_likelihood": compare(p_rule="min-likelihood").p_value,
        "p_doubled": found.p_value,
        "p_mid_doubled": compare(p_rule="mid-p").p_value,
        "p_e_test": compare(p_rule="e-test").p_value,
    }


def _many_tests() -> Mapping[str, Figure]:
    compare = partial(
        compare_rates, count1=60, exposure1=51477.5, count2=30, exposure2=54308.7
    )
    likely = compare(p_rule="min-likelihood", interval_rule="min-likelihood")
    central = compare()
    wald = compare(p_rule="wald", alternative="greater")
    score = compare(p_rule="score", alternative="greater")
    exact = compare(p_rule="doubled", alternative="greater")
    return {
        "ratio": central.ratio,
        "p_min_likelihood": likely.p_value,
        "limits_min_likelihood": [likely.lower, likely.upper],
        "limits_central": [central.lower, central.upper],
        "wald_z": wald.z,
        "score_z": score.z,
        "log_wald_z": compare(p_rule="log-wald").z,
        "sqrt_z": compare(p_rule="sqrt").z,
        "one_sided_p_wald": wald.p_value,
        "one_sided_p_score": score.p_value,
        "one_sided_p_exact": exact.p_value,
    }


def _fan() -> Mapping[str, Figure]:
    failures = sum(_FAN_FAILURES.values())
    rows = [*_FAN_FAILURES.items(), *_FAN_LEFT.items()]
    total_time = sum(age * n for age, n in rows)
    made: dict[str, Figure] = {"failures": failures, "total_time": total_time}
    rules: tuple[tuple[str, LimitRule], ...] = (
        ("limits_2r+2_2r", "2r+2/2r"),
        ("limits_2r_2r", "2r/2r"),
        ("limits_log_wald", "log-wald"),
    )
    for name, rule in rules:
        found = rate_limits(
            failures=failures,
            total_time=total_time,
            confidence=0.95,
            termination="multiple",
            rule=rule,
        )
        made["mtbf"] = found.mtbf
        made[name] = [found.mtbf_lower, found.mtbf_upper]
    return made


CASES = (
    Case(
        name="A1",
        title="MTBF after 2 failures in 800 h, 90 % two-sided, ended by time",
        source=(
            "NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1, formula and "
            "printed output; the two factors from memory"
        ),
        reckon=_timed,
        expected={
            "mtbf": 400,
            "mtbf_lower": 127.069,
            "mtbf_upper": 2251.229,
            "factor_lower": 0.3177,
            "factor_upper": 5.6281,
        },
        within={
            "mtbf": Within(1e-9),
            "mtbf_lower": Within(5e-5),
            "mtbf_upper": Within(5e-4),
            "factor_lower": Within(5e-5),
            "factor_upper": Within(5e-5),
        },
    ),
    Case(
        name="A2",
        title="lower MTBF after no failure, one-sided",
        source="computed; formula of NIST/SEMATECH e-Handbook, 8.4.5.1",
        reckon=_no_failure,
        expected={"mtbf_lower": 347.43558552260146, "mtbf_upper": math.inf},
        within={"mtbf_lower": Within(1e-10, "rel")},
    ),
    Case(
        name="A3",
        title="exact limits of Poisson counts",
        source=(
            "Garwood (1936) as printed by two public calculators; counts 5 and 1 "
            "computed"
        ),
        reckon=_counts,
        expected={
            "n0_95": [0, 3.689],
            "n10_95": [4.8, 18.39],
            "n25_90": [17.38, 34.92],
            "n25_95": [16.18, 36.9],
            "n25_99": [14.0, 41.0],
            "n5_95": [1.623486390118421, 11.66833207932267],
            "n1_95": [0.025317807984289897, 5.571643390938898],
        },
        within={
            "n0_95": Within(0.0005),
            "n10_95": Within(0.005),
            "n25_90": Within(0.005),
            "n25_95": Within(0.006),
            "n25_99": Within(0.006),
            "n5_95": Within(1e-9, "rel"),
            "n1_95": Within(1e-9, "rel"),
        },
    ),
    Case(
        name="A5",
        title="observed by expected, 137 by 24.19893",
        source="R stats::poisson.test example 1: inputs seen, output from memory",
        reckon=_ratio,
        expected={"ratio": 5.661407, "limits": [4.753125, 6.692709]},
        within={"ratio": Within(5e-7), "limits": Within(6e-7)},
    ),
    Case(
        name="A6",
        title="two rates, 11 in 800 and 21 in 3011",
        source=(
            "R stats::poisson.test output in a public validation note; the mid-p "
            "value computed, the E-test value computed with statsmodels"
        ),
        reckon=_two_rates,
        expected={
            "ratio": 1.971488,
            "expected_count1": 6.7174,
            "limits": [0.8584264, 4.2772659],
            "p_min_likelihood": 0.07967,
            "p_doubled": 0.112,
            "p_mid_doubled": 0.08007683656038772,
            "p_e_test": 0.0635,
        },
        within={
            "ratio": Within(5e-7),
            "expected_count1": Within(5e-5),
            "limits": Within(6e-8),
            "p_min_likelihood": Within(5e-6),
            "p_doubled": Within(0.0005),
            "p_mid_doubled": Within(1e-9, "rel"),
            "p_e_test": Within(5e-5),
        },
    ),
    Case(
        name="A7",
        title="two rates, several tests, 60 in 51477.5 and 30 in 54308.7",
        source=(
            "Gu, Ng, Tang and Schucany (2008), example 1, and R exactci output, as "
            "printed in statsmodels tests; the central limits computed. The printed "
            "table swaps exact and mid-p"
        ),
        reckon=_many_tests,
        expected={
            "ratio": 2.10999757175465,
            "p_min_likelihood": 0.000675182658686321,
            "limits_min_likelihood": [1.34983090611567, 3.27764509862914],
            "limits_central": [1.3397357217716694, 3.3883655736243234],
            "wald_z": 3.384913,
            "score_z": 3.417402,
            "log_wald_z": 3.3393,
            "sqrt_z": 3.445485,
            "one_sided_p_wald": 0.000356,
            "one_sided_p_score": 0.000316,
            "one_sided_p_exact": 0.000428,
        },
        within={
            "ratio": Within(1e-12, "rel"),
            "p_min_likelihood": Within(1e-9, "rel"),
            "limits_min_likelihood": Within(1e-3),
            "limits_central": Within(1e-6, "rel"),
            "wald_z": Within(1e-5),
            "score_z": Within(1e-5),
            "log_wald_z": Within(5e-5),
            "sqrt_z": Within(1e-5),
            "one_sided_p_wald": Within(5e-6),
            "one_sided_p_score": Within(5e-6),
            "one_sided_p_exact": Within(5e-4),
        },
    ),
    Case(
        name="A9",
        title="fans that left at many times",
        source="computed; data of Nelson (1982) p. 318 as printed in a public manual",
        reckon=_fan,
        expected={
            "failures": 12,
            "total_time": 344440,
            "mtbf": 28703.333333333332,
            "limits_2r+2_2r": [16431.963480259623, 55549.68595017639],
            "limits_2r_2r": [17500.219795180914, 55549.68595017639],
            "limits_log_wald": [16300.901173493878, 50542.073451995326],
        },
        within={
            "mtbf": Within(1e-12, "rel"),
            "limits_2r+2_2r": Within(1e-9, "rel"),
            "limits_2r_2r": Within(1e-9, "rel"),
            "limits_log_wald": Within(1e-9, "rel"),
        },
    ),
)
