"""Is it seen how far failures clump on some units, and held against a peer?"""

import numpy as np
import pytest
import scipy
import statsmodels.api as sm

from turnscrew.core.reliability.clumping import chance_of_repeats, dispersion_within
from turnscrew.core.reliability.sites import screen_sites
from turnscrew.errors import BadArgumentError

Units = list[tuple[str, int, float]]


def sums(units: Units) -> dict[str, list[float]]:
    """Add up, group by group, as is written in the words of the function."""
    names = sorted({name for name, _, _ in units})
    of = [[(n, t) for name, n, t in units if name == one] for one in names]
    return {
        "failures": [sum(n for n, _ in one) for one in of],
        "squares": [sum(n * n for n, _ in one) for one in of],
        "by_exposure": [sum(n * t for n, t in one) for one in of],
        "exposure": [sum(t for _, t in one) for one in of],
        "exposure_squares": [sum(t * t for _, t in one) for one in of],
        "n_units": [len(one) for one in of],
    }


@pytest.mark.parametrize("seed", range(20))
def test_with_one_group_of_like_exposure_it_is_pearsons_dispersion(seed: int) -> None:
    # Peer: statsmodels, Poisson regression, Pearson's chi-squared by its degrees of
    # freedom.
    rng = np.random.default_rng(seed)  # noqa: TID251 - a fixed seed
    n = rng.poisson(rng.gamma(0.5, 2.0, 40))
    peer = sm.GLM(n, np.ones(40), family=sm.families.Poisson()).fit()

    made = sums([("A", int(one), 2.0) for one in n])
    told = dispersion_within(**made)
    assert max(1.0, peer.pearson_chi2 / peer.df_resid) == pytest.approx(told)


@pytest.mark.parametrize("seed", range(200))
def test_sums_tell_what_each_unit_by_itself_tells(seed: int) -> None:
    rng = np.random.default_rng(seed)  # noqa: TID251 - a fixed seed
    units: Units = [
        (str(rng.choice(list("ABC"))), int(rng.poisson(rng.gamma(0.4, 3))), float(t))
        for t in rng.uniform(0.2, 3, 30)
    ]
    off = chance = 0.0
    for name in {name for name, _, _ in units}:
        some = [(n, t) for one, n, t in units if one == name]
        rate = sum(n for n, _ in some) / sum(t for _, t in some)
        off += sum((n - rate * t) ** 2 for n, t in some)
        chance += sum(n for n, _ in some) * (len(some) - 1) / len(some)
    told = dispersion_within(**sums(units))
    assert told == pytest.approx(max(1.0, off / chance) if chance else 1.0)


def test_failures_by_chance_alone_have_a_dispersion_near_one() -> None:
    rng = np.random.default_rng(3)  # noqa: TID251 - a fixed seed
    told = []
    for _ in range(300):
        n = rng.poisson(0.4, 200)
        made = [("AB"[k % 2], int(one), 1.0) for k, one in enumerate(n)]
        told.append(dispersion_within(**sums(made)))
    assert 1.0 < np.mean(told) < 1.06


def test_groups_of_one_unit_tell_nothing_of_it() -> None:
    told = dispersion_within(**sums([("A", 9, 1.0), ("B", 1, 1.0)]))
    assert told == 1.0


def test_columns_of_unlike_length_are_refused() -> None:
    made = {**sums([("A", 1, 1.0)]), "n_units": [1.0, 2.0]}
    with pytest.raises(BadArgumentError, match="wanted one for all"):
        dispersion_within(**made)


def test_the_chance_of_a_shared_birthday() -> None:
    # 23 people, 365 days: .5073, in every handbook; pairs by Poisson give .5000
    # (Diaconis and Mosteller 1989, from memory).
    told = chance_of_repeats(
        failures=[23], squares=[25], exposure=[365], exposure_squares=[365]
    )
    assert told == pytest.approx(-np.expm1(-23 * 22 / 730))
    assert told == pytest.approx(0.5, abs=1e-3)


def test_it_seldom_tells_of_repeats_where_all_units_are_alike() -> None:
    rng = np.random.default_rng(4)  # noqa: TID251 - a fixed seed
    n_told = 0
    for _ in range(1000):
        made = [("A", int(one), 1.0) for one in rng.poisson(0.3, 60)]
        told = sums(made)
        told.pop("by_exposure"), told.pop("n_units")
        n_told += chance_of_repeats(**told) <= 0.05
    assert n_told <= 60


def test_sites_are_screened_as_if_so_many_failures_were_one() -> None:
    # Twice the failures that count half each: the same chances as half of them.
    half = screen_sites([6, 2, 1], [15, 30, 32.5], alternative="greater")
    twice = screen_sites([12, 4, 2], [30, 60, 65], within=2.0, alternative="greater")

    for one, other in zip(half.sites, twice.sites, strict=True):
        assert one.p_value == pytest.approx(other.p_value)
        assert 2 * one.failures == other.failures
        assert 2 * one.expected == pytest.approx(other.expected)
        assert 2 * one.exposure == pytest.approx(other.exposure)
    # Six of nine where a fifth is due: binomial, as scipy has it.
    peer = scipy.stats.binomtest(6, 9, 15 / 77.5, alternative="greater").pvalue
    assert twice.sites[0].p_value == pytest.approx(peer)
    with pytest.raises(BadArgumentError, match="within: found 0.5"):
        screen_sites([1, 2], [1, 1], within=0.5)
