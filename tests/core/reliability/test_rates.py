"""Do limits and comparisons of rates agree with other programs and with their laws?"""

import math
import random

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.rates import confint_poisson
from statsmodels.stats.rates import test_poisson_2indep as two_poisson

from turnscrew.core.reliability import rates
from turnscrew.core.reliability.counts import count_limits
from turnscrew.core.reliability.rates import (
    compare_rates,
    expected_ratio,
    rate_limits,
)
from turnscrew.errors import BadArgumentError


def random_pairs(n: int):
    chance = random.Random(11)
    for _ in range(n):
        yield {
            "count1": chance.randint(0, 60),
            "exposure1": chance.uniform(1, 1000),
            "count2": chance.randint(0, 60),
            "exposure2": chance.uniform(1, 1000),
        }


@pytest.mark.parametrize(
    ("rule", "other"),
    [
        ("exact", "exact-c"),
        ("score", "score"),
        ("wald", "wald"),
        ("jeffreys", "jeff"),
        ("byar-half", None),
    ],
)
def test_it_agrees_with_other_limits_of_counts(rule: str, other: str | None) -> None:
    chance = random.Random(3)
    for _ in range(300):
        count, p = chance.randint(1, 400), chance.uniform(0.001, 0.2)
        if other is None:
            # As printed: x + 1/2 in both limits.
            n, z = count + 0.5, stats.norm.isf(p)
            far = z / 3 * math.sqrt(1 / n)
            wanted = [
                n * (1 - 1 / (9 * n) - far) ** 3,
                n * (1 - 1 / (9 * n) + far) ** 3,
            ]
        else:
            wanted = confint_poisson(count, 1, method=other, alpha=2 * p)

        assert wanted == pytest.approx(count_limits(count, p, p, rule), rel=2e-7)


def test_it_counts_half_of_the_outcome_itself_by_mid_p() -> None:
    chance = random.Random(5)
    for _ in range(300):
        count, p = chance.randint(1, 300), chance.uniform(0.001, 0.2)
        low, high = count_limits(count, p, p, "mid-p")
        above = stats.poisson.sf(count, low) + stats.poisson.pmf(count, low) / 2
        below = stats.poisson.cdf(count, high) - stats.poisson.pmf(count, high) / 2

        assert (p, p) == pytest.approx((above, below), rel=1e-8)


def test_it_names_two_formulas_of_one_name() -> None:
    one, two = (
        count_limits(3, 0.025, 0.025, "byar"),
        count_limits(3, 0.025, 0.025, "byar-half"),
    )

    assert one == pytest.approx((0.602, 8.766), abs=0.001)
    assert one[0] != pytest.approx(two[0], abs=0.05)
    assert one[1] != pytest.approx(two[1], abs=0.05)


def test_it_covers_at_least_its_level_where_it_is_exact() -> None:
    counts = np.arange(0, 200)
    limits = np.array([count_limits(int(c), 0.05, 0.05) for c in counts])
    for mean in np.linspace(0.1, 80, 200):
        is_in = (limits[:, 0] <= mean) & (mean <= limits[:, 1])

        assert stats.poisson.pmf(counts, mean)[is_in].sum() >= 0.9 - 1e-9


def test_it_covers_exactly_where_a_failure_ended_it() -> None:
    # 2 r MTBF-hat / MTBF is chi-squared with 2 r degrees of freedom.
    found = rate_limits(failures=7, total_time=70, termination="failure")
    p_below = stats.chi2.cdf(2 * 70 / found.mtbf_lower, 14)
    p_above = stats.chi2.sf(2 * 70 / found.mtbf_upper, 14)

    assert (0.95, 0.95) == pytest.approx((p_below, p_above))
    assert ("exact", "2r/2r") == (found.exactness, found.rule)


def test_it_says_what_is_approximate() -> None:
    many = rate_limits(failures=3, total_time=10, termination="multiple")
    wald = rate_limits(failures=3, total_time=10, rule="wald")

    assert ("approximate", "2r+2/2r") == (many.exactness, many.rule)
    assert "approximate" == wald.exactness


@pytest.mark.parametrize("rule", ["2r/2r", "wald", "log-wald"])
def test_it_never_calls_a_rate_nought_for_want_of_failures(rule: str) -> None:
    found = rate_limits(failures=0, total_time=100, rule=rule)

    assert math.inf == found.rate_upper
    assert 0 == found.mtbf_lower
    assert found.factor_lower is None
    assert found.factor_upper is None


def test_it_widens_with_level_and_with_fewer_failures() -> None:
    wide = rate_limits(failures=5, total_time=50, confidence=0.99)
    narrow = rate_limits(failures=5, total_time=50, confidence=0.8)
    more = rate_limits(failures=50, total_time=500, confidence=0.8)

    assert wide.rate_lower < narrow.rate_lower < more.rate_lower < 0.1
    assert 0.1 < more.rate_upper < narrow.rate_upper < wide.rate_upper


@pytest.mark.parametrize(
    ("rule", "other"),
    [("score", "score"), ("wald", "wald"), ("log-wald", "wald-log"), ("sqrt", "sqrt"),
     ("min-likelihood", "exact-cond"), ("e-test", "etest-score"),
     ("e-test wald", "etest-wald")],
)  # fmt: skip
@pytest.mark.parametrize("alternative", ["two-sided", "greater", "less"])
def test_it_agrees_with_other_tests_of_two_rates(rule, other, alternative) -> None:
    n = 40 if rule.startswith("e-test") else 300
    words = {"greater": "larger", "less": "smaller"}
    for pair in random_pairs(n):
        # The other program has no answer where a count is 0.
        pair["count1"] += 1
        pair["count2"] += 1
        found = compare_rates(**pair, p_rule=rule, alternative=alternative)
        wanted = two_poisson(
            *pair.values(),
            method=other,
            alternative=words.get(alternative, alternative),
            compare="ratio",
        )

        assert wanted.pvalue == pytest.approx(found.p_value, rel=1e-6, abs=1e-10)


def test_it_agrees_with_the_binomial_test() -> None:
    for pair in random_pairs(400):
        n = pair["count1"] + pair["count2"]
        if n == 0:
            continue
        share = pair["exposure1"] / (pair["exposure1"] + pair["exposure2"])
        found = compare_rates(**pair, p_rule="min-likelihood")

        wanted = stats.binomtest(pair["count1"], n, share)
        assert wanted.pvalue == pytest.approx(found.p_value, rel=1e-9)
        ci = wanted.proportion_ci(0.95)
        odds = pair["exposure2"] / pair["exposure1"]
        low = ci.low / (1 - ci.low) * odds
        assert low == pytest.approx(found.lower, rel=1e-9)
        if pair["count2"]:
            high = ci.high / (1 - ci.high) * odds
            assert high == pytest.approx(found.upper, rel=1e-9)


def test_it_has_limits_that_invert_the_test() -> None:
    for rule, p_rule in [
        ("central", "doubled"),
        ("mid-p", "mid-p"),
        ("score", "score"),
        ("log-wald", "log-wald"),
    ]:
        for pair in random_pairs(60):
            found = compare_rates(**pair, interval_rule=rule)
            if not (pair["count1"] and pair["count2"]):
                continue
            for edge in (found.lower, found.upper):
                at = compare_rates(**pair, supposed_ratio=edge, p_rule=p_rule)

                assert 0.05 == pytest.approx(at.p_value, rel=1e-6)


def test_it_keeps_no_ratio_beyond_the_likely_interval() -> None:
    for pair in random_pairs(40):
        found = compare_rates(
            **pair, interval_rule="min-likelihood", p_rule="min-likelihood"
        )
        rule = "min-likelihood"
        for edge, way in ((found.lower, 0.999), (found.upper, 1.001)):
            if not 0 < edge < math.inf:
                continue
            beyond = compare_rates(**pair, supposed_ratio=edge * way, p_rule=rule)
            inside = compare_rates(**pair, supposed_ratio=edge / way, p_rule=rule)

            assert beyond.p_value < 0.05
            # The p-value is not monotone, so that it may dip inside as well.
            assert inside.p_value > 0.04


def test_it_turns_over_when_the_two_are_swapped() -> None:
    for pair in random_pairs(100):
        swapped = {
            "count1": pair["count2"],
            "exposure1": pair["exposure2"],
            "count2": pair["count1"],
            "exposure2": pair["exposure1"],
        }
        one, two = compare_rates(**pair), compare_rates(**swapped)

        assert one.p_value == pytest.approx(two.p_value)
        if one.lower > 0:
            assert one.lower == pytest.approx(1 / two.upper)


def test_it_has_no_ratio_without_events() -> None:
    found = compare_rates(count1=0, exposure1=5, count2=0, exposure2=6)

    assert (None, 0, math.inf) == (found.ratio, found.lower, found.upper)
    assert 1 == found.p_value
    half = compare_rates(count1=3, exposure1=5, count2=0, exposure2=6, p_rule="score")
    assert math.inf == half.ratio == half.upper


def test_it_holds_a_one_sided_level_on_one_side() -> None:
    found = compare_rates(
        count1=9, exposure1=5, count2=4, exposure2=6, alternative="greater"
    )
    both = compare_rates(count1=9, exposure1=5, count2=4, exposure2=6, confidence=0.9)

    assert both.lower == pytest.approx(found.lower)
    assert math.inf == found.upper


def test_it_is_quick_for_large_counts() -> None:
    found = compare_rates(
        count1=510_000, exposure1=1, count2=500_000, exposure2=1,
        p_rule="min-likelihood", interval_rule="min-likelihood",
    )  # fmt: skip

    assert 1.016 < found.lower < 1.02 < found.upper < 1.024
    assert 1e-23 == pytest.approx(found.p_value, rel=1)


def test_it_gives_limits_of_a_ratio_as_of_a_count() -> None:
    found = expected_ratio(observed=0, expected=4)

    assert (0, 0, 3.6888794541139354 / 4) == pytest.approx(
        (found.ratio, found.lower, found.upper)
    )


def test_it_proves_what_the_test_length_promises() -> None:
    for failures in range(6):
        plan = rates.test_length(mtbf=500, failures=failures, confidence=0.9)
        found = rate_limits(
            failures=failures, total_time=plan.total_time, sided=1, confidence=0.9
        )

        assert 500 == pytest.approx(found.mtbf_lower)


def test_it_reckons_the_chance_of_passing() -> None:
    plan = rates.test_length(mtbf=100, failures=2, confidence=0.8, true_mtbf=300)

    assert plan.p_pass == pytest.approx(stats.poisson.cdf(2, plan.total_time / 300))
    assert plan.factor == pytest.approx(stats.chi2.ppf(0.8, 6) / 2)
    assert rates.test_length(mtbf=100).p_pass is None


def test_it_tells_all_that_is_off_at_once() -> None:
    with pytest.raises(BadArgumentError) as caught:
        rate_limits(failures=-1, total_time=math.nan, confidence=1.5, rule="guess")

    told = str(caught.value).split("; ")
    assert 4 == len(told)
    assert told[0].startswith("failures: found -1, wanted ")


@pytest.mark.parametrize(
    "call",
    [
        lambda: rate_limits(failures=0, total_time=5, termination="failure"),
        lambda: rate_limits(failures=1, total_time=5, confidence=0.3, sided=1),
        lambda: rate_limits(failures=None, total_time=5),
        lambda: compare_rates(count1=1.5, exposure1=1, count2=1, exposure2=1),
        lambda: compare_rates(count1=1, exposure1=0, count2=1, exposure2=1),
        lambda: expected_ratio(observed=1, expected=0),
        lambda: rates.test_length(mtbf=1, failures=-1),
        lambda: count_limits(1, 0.7, 0.1),
    ],
)
def test_it_refuses_what_makes_no_sense(call) -> None:
    with pytest.raises(BadArgumentError, match="found"):
        call()


def test_without_a_failure_on_either_side_nothing_differs() -> None:
    # 0 over 0 is no difference, however long one side was watched.
    told = compare_rates(
        count1=0, exposure1=1, count2=0, exposure2=1000, p_rule="log-wald"
    )

    assert 1 == pytest.approx(told.p_value)


def test_the_middle_of_byar_is_told_without_a_failure_too() -> None:
    # The exact limit at a half is the median of a gamma law, ln 2 = 0.693.
    told = rate_limits(failures=0, total_time=10, confidence=0.5, sided=1, rule="byar")

    assert 0 == told.rate_lower
    assert told.rate_upper == pytest.approx(0.0693, rel=0.03)
