"""Are sites singled out only where chance and common spread do not explain them?"""

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.multitest import multipletests

from turnscrew.core.reliability.discoveries import adjust_p
from turnscrew.core.reliability.funnel import funnel_limits
from turnscrew.core.reliability.sites import screen_sites
from turnscrew.errors import BadArgumentError


def rng(seed: int):
    return np.random.default_rng(seed)  # noqa: TID251 - a fixed seed


@pytest.mark.parametrize(
    ("rule", "other"),
    [
        ("bh", "fdr_bh"),
        ("by", "fdr_by"),
        ("holm", "holm"),
        ("hochberg", "simes-hochberg"),
        ("bonferroni", "bonferroni"),
    ],
)
def test_it_adjusts_as_another_program_does(rule: str, other: str) -> None:
    chance = rng(1)
    for _ in range(20):
        p = np.round(chance.random(chance.integers(1, 12)) ** 2, 2)

        assert multipletests(p, method=other)[1] == pytest.approx(adjust_p(p, rule))
        assert list(p) == list(adjust_p(p, "none"))


def test_it_has_the_funnel_limits_of_other_quantiles() -> None:
    chance = rng(2)
    for _ in range(50):
        mean, p = 10 ** chance.uniform(-2, 4), chance.uniform(0.001, 0.999)
        plain = funnel_limits([mean], [p], is_interpolated=False)[0, 0]
        moved = funnel_limits([mean], [p])[0, 0]

        assert stats.poisson.ppf(p, mean) == plain
        over = (stats.poisson.cdf(plain, mean) - p) / stats.poisson.pmf(plain, mean)
        assert plain - over == pytest.approx(moved, abs=1e-6)


@pytest.mark.parametrize("alternative", ["two-sided", "greater", "less"])
def test_it_agrees_with_exact_tests_site_by_site(alternative: str) -> None:
    chance = rng(3)
    for _ in range(40):
        t = chance.uniform(1, 9, 6)
        n = chance.poisson(t * 1.5)
        found = screen_sites(n, t, alternative=alternative)
        target = screen_sites(
            n, t, against="target", target_rate=1.2, alternative=alternative
        )
        for i in range(6):
            law = stats.binom(n.sum(), t[i] / t.sum())
            other = stats.poisson(1.2 * t[i])
            for one, p in ((law, found.sites[i]), (other, target.sites[i])):
                high, low = one.sf(n[i] - 1), one.cdf(n[i])
                wanted = {
                    "two-sided": min(1, 2 * min(high, low)),
                    "greater": high,
                    "less": low,
                }[alternative]
                assert wanted == pytest.approx(p.p_value, abs=1e-12)


def test_it_takes_mid_p_as_half_of_the_outcome() -> None:
    n, t = [9, 3, 4], [2, 2, 2]
    found = screen_sites(n, t, p_rule="mid-p", alternative="greater").sites[0]
    law = stats.binom(16, 1 / 3)

    assert law.sf(9) + law.pmf(9) / 2 == pytest.approx(found.p_value)


def test_it_singles_out_few_where_all_are_alike() -> None:
    chance = rng(4)
    n_wrong = 0
    for _ in range(300):
        t = chance.uniform(1, 10, 30)
        found = screen_sites(chance.poisson(3 * t), t)
        n_wrong += any(site.verdict in ("more", "fewer") for site in found.sites)

    assert n_wrong / 300 < 0.06


def test_it_finds_the_one_that_is_planted() -> None:
    chance = rng(5)
    n_found = 0
    for _ in range(100):
        n = chance.poisson(20, 30)
        n[7] = chance.poisson(60)
        found = screen_sites(n, np.ones(30))
        n_found += found.sites[7].verdict == "more"

    assert n_found > 95


def test_it_blames_nobody_for_what_varies_everywhere() -> None:
    chance = rng(6)
    n_off = {"taken off": 0, "left in": 0}
    for _ in range(100):
        n = chance.poisson(chance.gamma(5, 8, 40))
        for spread in n_off:
            found = screen_sites(n, np.ones(40), spread=spread)
            n_off[spread] += sum(s.verdict != "as others" for s in found.sites)
        assert found.p_spread < 0.05

    assert n_off["left in"] > 500
    assert n_off["taken off"] < 60


def test_it_counts_sites_without_failures() -> None:
    few = screen_sites([14, 4, 4, 4], np.ones(4), spread="left in")
    many = screen_sites([14, 4, 4, 4] + [4] * 30, np.ones(34), spread="left in")

    assert few.sites[0].p_adjusted / few.sites[0].p_used == pytest.approx(4)
    assert many.sites[0].p_adjusted / many.sites[0].p_used == pytest.approx(34)


def test_it_refuses_a_league_table_of_a_handful() -> None:
    found = screen_sites([4, 0, 0], [1, 50, 50])

    assert "too few failures" == found.status
    assert {"too few to tell"} == {site.verdict for site in found.sites}
    assert {None} == {site.rank for site in found.sites}
    some = screen_sites([9, 4, 12], [1, 1, 1], names=["a", "b", "c"])
    assert [2, None, 1] == [site.rank for site in some.sites]
    none = screen_sites([0, 0], [1, 1])
    assert (0, 1.0) == (none.rate, none.sites[0].p_value)


def test_it_draws_rates_of_small_sites_to_the_mean() -> None:
    found = screen_sites([3, 60, 20, 5], [1, 100, 10, 20])
    small = found.sites[0]

    assert found.rate < small.rate < 3
    assert small.rate_lower < small.rate < small.rate_upper


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: screen_sites([1, 2], [1]), "exposure: found 1 rows, wanted 2"),
        (lambda: screen_sites([1], [1], names=["a", "b"]), "names: found 2"),
        (lambda: screen_sites([1, -1], [1, 1]), "failures, row 2"),
        (lambda: screen_sites([1, 1], [1, 0]), "exposure, row 2"),
        (lambda: screen_sites([], []), "found none"),
        (lambda: screen_sites([1], [1], against="target"), "target_rate"),
        (lambda: screen_sites([1], [1], target_rate=2.0), "target_rate: found one"),
        (lambda: adjust_p([2.0]), "p_values, row 1"),
        (lambda: adjust_p([0.1], "guess"), "rule"),
        (lambda: funnel_limits([0.0], [0.5]), "expected"),
        (lambda: funnel_limits([1.0], [1.0]), "p, row 1"),
    ],
)
def test_it_refuses_what_makes_no_sense(call, told: str) -> None:
    with pytest.raises(BadArgumentError, match=told):
        call()
