"""Do resampled mean cumulative functions agree with a slow loop and with theory?"""

import math

import numpy as np
import pytest

from random_lives import generator
from turnscrew.core.reliability.bootstrap import mean_cumulative_bootstrap
from turnscrew.core.reliability.lives import Recurrences, recurrences_of
from turnscrew.core.reliability.recurrence import mean_cumulative
from turnscrew.errors import BadArgumentError


def random_parts(seed: int, n: int, *, with_entry: bool, with_cost: bool):
    """Draw ages at failure, ends, entries and costs; ages are whole and often tied."""
    rng = generator(seed)
    entry = np.where(rng.random(n) < 0.5, rng.integers(0, 6, n), 0) * with_entry
    end = entry + rng.integers(3, 12, n)
    events = [
        rng.integers(begin + 1, last + 1, rng.integers(0, 5)).tolist()
        for begin, last in zip(entry, end, strict=True)
    ]
    cost = [rng.integers(1, 9, len(ages)).tolist() for ages in events]
    return events, end, entry, cost if with_cost else None


def fleet_of(parts, weight=None) -> Recurrences:
    events, end, entry, cost = parts
    return recurrences_of(events, end, entry=entry, cost=cost, weight=weight)


def slow_means(parts, weight, n_draws, rng):
    """Draw whole units into a list, and reckon each mean from the list."""
    events, end, entry, cost = parts
    weight = np.ones(len(end)) if weight is None else np.array(weight)
    ages = sorted({age for unit in events for age in unit})
    means = []
    for _ in range(n_draws):
        times = rng.multinomial(int(weight.sum()), weight / weight.sum())
        units = [u for u, n in enumerate(times) for _ in range(n)]
        mean, row = 0.0, []
        for age in ages:
            at_risk = sum(entry[u] < age <= end[u] for u in units)
            total = sum(
                (cost[u][k] if cost else 1)
                for u in units
                for k, one in enumerate(events[u])
                if one == age
            )
            mean += total / at_risk if at_risk else 0.0
            row.append(mean)
        means.append(row)
    return np.array(means)


@pytest.mark.parametrize("seed", range(24))
def test_it_agrees_with_a_slow_loop_over_the_same_draws(seed: int) -> None:
    parts = random_parts(
        seed, 3 + seed % 5, with_entry=seed % 2 > 0, with_cost=seed % 3 > 0
    )
    weight = [1 + (seed + unit) % 3 for unit in range(3 + seed % 5)]
    weight = weight if seed % 4 > 1 else None
    wanted = slow_means(parts, weight, 40, generator(seed + 1000))
    found = mean_cumulative_bootstrap(
        fleet_of(parts, weight), n_draws=40, rng=generator(seed + 1000), confidence=0.8
    )

    assert wanted.shape[1] == len(found.age)
    assert np.allclose(wanted.var(axis=0, ddof=1), found.variance, atol=1e-12)
    assert np.allclose(np.quantile(wanted, 0.1, axis=0), found.low)
    assert np.allclose(np.quantile(wanted, 0.9, axis=0), found.high)


@pytest.mark.parametrize("seed", range(6))
def test_it_agrees_with_the_robust_variance_where_all_are_watched_alike(
    seed: int,
) -> None:
    # Then each mean is one of n counts, and the variance of the draws is, but for
    # chance, exactly the robust one, whose divisor is n.
    n_draws = 4000
    rng = generator(seed)
    level = rng.gamma(2, 1, 30)
    events = [rng.integers(1, 11, rng.poisson(one)).tolist() for one in level]
    fleet = recurrences_of(events, [10] * 30)
    robust = mean_cumulative(fleet).variance
    drawn = mean_cumulative_bootstrap(fleet, n_draws=n_draws, rng=rng).variance

    # A variance of n normal draws has the relative standard error sqrt(2 / n); four of
    # them, for ten ages that move together.
    assert np.allclose(robust, drawn, rtol=4 * math.sqrt(2 / n_draws))


@pytest.mark.parametrize("seed", range(6))
def test_it_comes_near_the_robust_variance_where_watches_differ(seed: int) -> None:
    parts = random_parts(seed, 300, with_entry=True, with_cost=True)
    fleet = fleet_of(parts)
    robust = mean_cumulative(fleet)
    drawn = mean_cumulative_bootstrap(fleet, n_draws=2000, rng=generator(seed))
    is_many = robust.n_at_risk > 60

    assert is_many.sum() > 5
    # Chance as above, and terms of the order 1 / (units at risk), which the robust
    # variance leaves out.
    wanted = 4 * math.sqrt(2 / 2000) + 3 / 60
    ratio = (drawn.variance / robust.variance)[is_many]
    assert np.abs(ratio - 1).max() < wanted


def test_it_holds_the_true_mean_as_often_as_it_says() -> None:
    n_held, n_trials = 0, 300
    for seed in range(n_trials):
        rng = generator(seed)
        counts = rng.poisson(rng.gamma(4, 0.5, 40))
        events = [rng.uniform(0.01, 10, n).tolist() for n in counts]
        found = mean_cumulative_bootstrap(
            recurrences_of(events, [10] * 40), n_draws=300, rng=rng, confidence=0.9
        )
        n_held += found.low[-1] <= 2 <= found.high[-1]

    # Percentile limits of 40 units hold somewhat less than they say; three standard
    # errors of a share of 0.9 are 0.052.
    assert 0.83 < n_held / n_trials < 0.952


def test_it_keeps_the_mean_of_the_fleet_and_names_what_it_did() -> None:
    fleet = fleet_of(random_parts(1, 8, with_entry=True, with_cost=True))
    plain = mean_cumulative(fleet)
    found = mean_cumulative_bootstrap(fleet, n_draws=50, rng=generator(1))

    assert plain.mean.tolist() == found.mean.tolist()
    assert plain.n_at_risk.tolist() == found.n_at_risk.tolist()
    assert ("bootstrap", "percentile") == (found.variance_rule, found.limits)


def test_it_sets_limits_on_one_side_or_on_both() -> None:
    fleet = fleet_of(random_parts(2, 20, with_entry=False, with_cost=False))
    one = mean_cumulative_bootstrap(
        fleet, n_draws=200, rng=generator(1), confidence=0.95, sided=1
    )
    both = mean_cumulative_bootstrap(
        fleet, n_draws=200, rng=generator(1), confidence=0.9
    )

    assert np.allclose(one.low, both.low)
    assert (one.low < one.high).any()


@pytest.mark.parametrize("n_units", [0, 2])
def test_it_is_empty_where_nothing_failed(n_units: int) -> None:
    fleet = recurrences_of([[]] * n_units, [5.0] * n_units)
    found = mean_cumulative_bootstrap(fleet, n_draws=5, rng=generator(1))

    assert 0 == len(found.variance) == len(found.low)


@pytest.mark.parametrize(
    ("changes", "weight", "told"),
    [
        ({"n_draws": 1}, None, "n_draws: found 1"),
        ({"n_draws": 60_000_000}, None, "n_draws x ages"),
        ({"confidence": 1}, None, "confidence"),
        ({}, [1, 1.5], "weight, row 2: found 1.5"),
    ],
)
def test_it_refuses_what_makes_no_sense(changes, weight, told: str) -> None:
    fleet = recurrences_of([[1], [2]], [5, 5], weight=weight)
    with pytest.raises(BadArgumentError, match=told):
        mean_cumulative_bootstrap(
            fleet, **{"n_draws": 9, "rng": generator(1)} | changes
        )
