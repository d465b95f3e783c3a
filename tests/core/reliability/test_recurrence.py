"""Do mean cumulative functions agree with slow oracles and laws?"""

import math

import numpy as np
import pytest

from random_lives import generator
from turnscrew.core.reliability.lives import Recurrences, recurrences_of
from turnscrew.core.reliability.recurrence import mean_cumulative, mean_difference
from turnscrew.errors import BadArgumentError

RULES = ("robust (Lawless-Nadeau)", "unbiased (Nelson)", "Poisson",
         "independent increments")  # fmt: skip


def random_fleet(seed, n=8, *, with_entry=True, with_cost=True, step=1):
    rng = generator(seed)
    entry = np.where(rng.random(n) < 0.5, rng.integers(0, 8, n), 0) * float(with_entry)
    end = entry + rng.integers(3, 15, n)
    events, cost = [], []
    for begin, last in zip(entry, end, strict=True):
        size = int(rng.integers(0, 5))
        ages = rng.integers(begin + 1, last + 1, size) / step
        events.append([float(max(age, begin + 0.5)) for age in ages])
        cost.append([float(one) for one in rng.integers(1, 9, size)])
    return events, end, entry, cost if with_cost else None


def fleet_of(parts) -> Recurrences:
    events, end, entry, cost = parts
    return recurrences_of(events, end, entry=entry, cost=cost)


def slow(parts):
    """Reckon the mean and its variances unit by unit and pair by pair of ages."""
    events, end, entry, cost = parts
    n = len(end)
    cost = cost or [[1.0] * len(ages) for ages in events]
    ages = sorted({age for unit in events for age in unit})
    d = np.zeros((n, len(ages)))
    single = np.zeros(len(ages))
    for unit in range(n):
        for age, one in zip(events[unit], cost[unit], strict=True):
            d[unit, ages.index(age)] += one
            single[ages.index(age)] += one**2
    watches = list(zip(entry, end, strict=True))
    risk = np.array([[begin < age <= last for age in ages] for begin, last in watches])
    y = risk.sum(axis=0)
    bar = d.sum(axis=0) / y
    moved = np.where(risk, (d - bar) / y, 0)
    robust = (np.cumsum(moved, axis=1) ** 2).sum(axis=0)
    independent = np.cumsum((np.where(risk, d - bar, 0) ** 2).sum(axis=0) / y**2)
    unbiased = np.zeros(len(ages))
    for k in range(len(ages)):
        for j in range(k + 1):
            here = risk[:, k]
            c = (d[here, j] * (d[here, k] - bar[k])).sum() / (y[k] - 1 or np.nan)
            unbiased[k] += (1 if j == k else 2) * c / y[j]
    return (ages, y, np.cumsum(bar), robust, np.cumsum(unbiased),
            np.cumsum(single / y**2), independent)  # fmt: skip


@pytest.mark.parametrize("with_entry", [True, False])
def test_it_agrees_with_a_slow_oracle_on_thousands_of_fleets(with_entry):
    for seed in range(600):
        parts = random_fleet(seed, 3 + seed % 7, with_entry=with_entry,
                             with_cost=seed % 2 > 0)  # fmt: skip
        ages, at_risk, mean, *variances = slow(parts)
        for rule, wanted in zip(RULES, variances, strict=True):
            if rule == "unbiased (Nelson)" and with_entry:
                continue
            curve = mean_cumulative(fleet_of(parts), variance=rule)
            assert ages == curve.age.tolist()
            assert at_risk.tolist() == curve.n_at_risk.tolist()
            assert np.allclose(mean, curve.mean, rtol=1e-12)
            assert np.allclose(wanted, curve.variance, atol=1e-9, equal_nan=True)


def test_it_gives_one_step_after_another_if_asked():
    fleet = recurrences_of([[8.0], [8.0], []], [10, 10, 10])
    joint = mean_cumulative(fleet, variance="independent increments")
    apart = mean_cumulative(fleet, variance="independent increments", ties="sequential")
    assert pytest.approx(2 / 27) == joint.variance[0]
    assert pytest.approx(2 * 2 / 27) == apart.variance[0]


def test_it_counts_units_by_weight():
    events, end, entry, cost = random_fleet(3, 6)
    weight = [1, 2, 3, 1, 2, 1]
    weighed = recurrences_of(events, end, entry=entry, cost=cost, weight=weight)
    plain = recurrences_of(
        [one for one, w in zip(events, weight, strict=True) for _ in range(w)],
        np.repeat(end, weight), entry=np.repeat(entry, weight),
        cost=[one for one, w in zip(cost, weight, strict=True) for _ in range(w)],
    )  # fmt: skip
    for rule in (RULES[0], RULES[2], RULES[3]):
        one = mean_cumulative(weighed, variance=rule)
        other = mean_cumulative(plain, variance=rule)
        assert np.allclose(one.mean, other.mean)
        assert np.allclose(one.variance, other.variance, atol=1e-10)
        assert one.n_events == other.n_events


def test_it_is_exact_where_all_are_watched_as_long():
    events, _, _, _ = random_fleet(5, 20, with_entry=False)
    fleet = recurrences_of(events, [20.0] * 20)
    counts = np.array([len(one) for one in events])
    assert pytest.approx(counts.mean()) == mean_cumulative(fleet).mean[-1]
    assert pytest.approx(counts.var() / 20) == mean_cumulative(fleet).variance[-1]
    unbiased = mean_cumulative(fleet, variance=RULES[1]).variance[-1]
    assert pytest.approx(counts.var(ddof=1) / 20) == unbiased


def test_it_sets_limits_as_told():
    fleet = fleet_of(random_fleet(6, 10))
    normal = mean_cumulative(fleet, limits="normal")
    log = mean_cumulative(fleet)
    assert np.allclose(normal.high - normal.mean, 1.959963985 * normal.standard_error)
    assert np.allclose(log.low * log.high, log.mean**2)
    one_sided = mean_cumulative(fleet, sided=1)
    two_sided = mean_cumulative(fleet, confidence=0.9)
    assert np.allclose(one_sided.low, two_sided.low)
    assert "robust (Lawless-Nadeau)" == log.variance_rule


def test_it_reads_the_mean_between_its_ages():
    curve = mean_cumulative(recurrences_of([[5, 8], []], [12, 16]))
    means = [curve.mean_at(age) for age in (4, 5, 7, 30)]
    assert [0, 0.5, 0.5, 1] == means


def test_it_is_empty_where_nothing_failed():
    fleet = recurrences_of([[], []], [12, 16])
    assert 0 == len(mean_cumulative(fleet).age)
    assert 0 == mean_cumulative(fleet).mean_at(3)
    found = mean_difference(fleet, fleet)
    assert found.z is None and found.p_value is None


def test_it_finds_fleets_of_one_law_alike_as_often_as_it_says():
    n_apart = 0
    for seed in range(150):
        one = fleet_of(random_fleet(2 * seed, 60, with_cost=False))
        other = fleet_of(random_fleet(2 * seed + 1, 60, with_cost=False))
        n_apart += mean_difference(one, other).p_value < 0.1
    # Binomial of 150 and 0.1: 4 to 28 holds all but one in a thousand.
    assert 4 <= n_apart <= 28


def test_it_finds_a_worse_fleet():
    rng = generator(4)
    one = [sorted(rng.uniform(0.01, 10, rng.poisson(2))) for _ in range(100)]
    other = [sorted(rng.uniform(0.01, 10, rng.poisson(1))) for _ in range(100)]
    found = mean_difference(
        recurrences_of(one, [10] * 100), recurrences_of(other, [10] * 100)
    )
    assert found.p_value < 1e-4
    assert 0 < found.z
    assert found.low[-1] < 1 < found.high[-1]
    turned = mean_difference(
        recurrences_of(other, [10] * 100), recurrences_of(one, [10] * 100)
    )
    assert pytest.approx(-found.z) == turned.z


def test_it_compares_as_long_as_both_are_watched():
    one = recurrences_of([[1, 6], [9]], [10, 10])
    other = recurrences_of([[2], [4]], [5, 5])
    found = mean_difference(one, other)
    assert [1, 2, 4] == found.age.tolist()
    assert [0.5, 0, -0.5] == found.difference.tolist()
    # By hand: weights Y1 Y2 / (Y1 + Y2) = 1, steps 1/2 against 1/2 and 1/2.
    assert pytest.approx(-0.5 / math.sqrt(1 / 8 + 0)) == found.z


def test_it_tells_no_unbiased_variance_of_late_comers():
    with pytest.raises(BadArgumentError, match="found unbiased"):
        mean_cumulative(recurrences_of([[5]], [9], entry=[2]), variance=RULES[1])


def test_it_refuses_a_confidence_that_is_none():
    with pytest.raises(BadArgumentError, match="confidence"):
        mean_difference(recurrences_of([[5]], [9]), recurrences_of([[5]], [9]),
                        confidence=2)  # fmt: skip
