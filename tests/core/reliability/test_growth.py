"""Does the power law of mended units agree with slow sums and hold its limits?"""

import math
import random

import numpy as np
import pytest
from scipy import optimize

from turnscrew.core.reliability.crow import crow_factors
from turnscrew.core.reliability.grouped import fit_grouped
from turnscrew.core.reliability.growth import fit_power_law
from turnscrew.errors import BadArgumentError


def drawn(rng: random.Random, shape: float, mean: float, end: float) -> list[float]:
    """Draw the failures of one unit: Poisson in number, powers in age."""
    n, total = 0, rng.expovariate(1)
    while total < mean:
        n, total = n + 1, total + rng.expovariate(1)
    return sorted(end * (1 - rng.random()) ** (1 / shape) for _ in range(n))


def log_likelihood(shape, rate, times, starts, ends) -> float:
    all_times = np.concatenate(times)
    spans = np.array(ends) ** shape - np.array(starts) ** shape
    growth = math.log(rate * shape) * len(all_times)
    return growth + (shape - 1) * np.log(all_times).sum() - rate * spans.sum()


def test_it_is_never_beaten_on_the_likelihood() -> None:
    rng = random.Random(3)
    for _ in range(120):
        k = rng.randint(1, 5)
        ends = [rng.uniform(5, 50) for _ in range(k)]
        starts = [rng.choice([0.0, rng.uniform(0, 4)]) for _ in range(k)]
        times = [
            [rng.uniform(low, high) for _ in range(rng.randint(1, 12))]
            for low, high in zip(starts, ends, strict=True)
        ]
        found = fit_power_law(times, ends, start=starts)

        def lack(x, rows=(times, starts, ends)):
            return -log_likelihood(math.exp(x[0]), math.exp(x[1]), *rows)

        if found.shape is None:
            continue
        at = [math.log(found.shape), math.log(found.rate)]
        slow = optimize.minimize(lack, at, method="Nelder-Mead")

        assert lack(at) <= slow.fun + 1e-6
        for off in ([1e-3, 0], [-1e-3, 0], [0, 1e-3], [0, -1e-3]):
            assert lack(at) < lack([at[0] + off[0], at[1] + off[1]])


def test_it_needs_the_profile_where_ages_differ() -> None:
    times = {"A": [1, 5, 9], "B": [2, 3, 30, 44, 49]}
    closed = 8 / (
        sum(math.log(10 / t) for t in times["A"])
        + sum(math.log(50 / t) for t in times["B"])
    )
    found = fit_power_law(times, {"A": 10, "B": 50})

    assert closed != pytest.approx(found.shape, rel=0.01)
    assert "approximate" == found.exactness
    assert "exact" == fit_power_law(times, 50).exactness


def test_it_agrees_with_one_unit_split_into_two_watches() -> None:
    times = [3.0, 7.0, 20.0, 28.0, 39.0]
    whole = fit_power_law(times, 40)
    split = fit_power_law([[3.0, 7.0], [20.0, 28.0, 39.0]], [15, 40], start=[0, 15])

    assert whole.shape == pytest.approx(split.shape)
    assert whole.rate == pytest.approx(split.rate)


@pytest.mark.parametrize("termination", ["time", "failure"])
def test_it_holds_its_level_for_shape_and_mtbf(termination: str) -> None:
    rng = random.Random(5)
    n_in_shape = n_in_mtbf = n = 0
    for _ in range(700):
        times = drawn(rng, 0.7, 12, 100)
        if len(times) < 3:
            continue
        end = 100.0 if termination == "time" else None
        if termination == "failure":
            # The tenth failure ends it, so that the number is not by chance.
            sums = np.cumsum([rng.expovariate(1) for _ in range(10)])
            times = list((sums / 0.5) ** (1 / 0.7))
            end = None
        found = fit_power_law(times, end, termination=termination, confidence=0.8)
        rate = 12 / 100**0.7 if termination == "time" else 0.5
        true = 1 / (rate * 0.7 * found.end ** (-0.3))
        n += 1
        n_in_shape += found.shape_lower <= 0.7 <= found.shape_upper
        n_in_mtbf += found.mtbf_lower <= true <= found.mtbf_upper

    assert 0.8 == pytest.approx(n_in_shape / n, abs=0.035)
    # Counts are whole numbers, so that the time rule may hold a little more.
    assert -0.035 < n_in_mtbf / n - 0.8 < 0.08


def test_it_has_no_bias_where_it_says_so() -> None:
    rng = random.Random(6)
    for termination in ("time", "failure"):
        shapes = []
        for _ in range(3000):
            sums = np.cumsum([rng.expovariate(1) for _ in range(8)])
            end = None
            if termination == "time":
                sums = np.array([rng.random() for _ in range(8)])
                end = 1.0
            one = fit_power_law(
                list(sums ** (1 / 1.5)), end, termination=termination,
                estimator="modified", mtbf_rule="fisher", shape_rule="fisher",
            )  # fmt: skip
            shapes.append(one.shape)

        assert 1.5 == pytest.approx(np.mean(shapes), abs=0.05)


def test_it_gives_factors_as_simulated_where_a_failure_ends_it() -> None:
    rng = np.random.default_rng(4)  # noqa: TID251 - a fixed seed
    for n in (2, 5, 30):
        w = rng.chisquare(2 * n, 400_000) * rng.chisquare(2 * n - 2, 400_000)
        low, high = crow_factors(n, 0.8, "failure")

        assert 0.1 == pytest.approx(np.mean(w > 4 * n * n / low), abs=0.003)
        assert 0.1 == pytest.approx(np.mean(w < 4 * n * n / high), abs=0.003)


def test_it_tightens_with_more_failures() -> None:
    for termination in ("time", "failure"):
        factors = [crow_factors(n, 0.9, termination) for n in (5, 20, 100, 2000)]
        lows, highs = zip(*factors, strict=True)

        assert sorted(lows) == list(lows)
        assert sorted(highs, reverse=True) == list(highs)
        assert factors[-1] == pytest.approx((1, 1), abs=0.06)
    assert crow_factors(1, 0.9)[1] is None


def test_it_says_when_there_is_no_fit() -> None:
    assert "no failure" == fit_power_law([[], []], 10).status
    assert "all at the end" == fit_power_law([10.0, 10.0], 10).status
    few = fit_power_law([5.0], 10, estimator="modified")
    assert ("too few failures", None, None) == (few.status, few.shape, few.mtbf)
    assert few.expected(3) is None
    assert few.mtbf_at(3) is None
    assert few.age_at_mtbf(3) is None
    assert few.eta is None
    assert few.growth_slope is None
    one = fit_power_law([5.0], 10)
    assert 1 / math.log(2) == pytest.approx(one.shape)
    assert one.mtbf_upper is None


def test_it_reads_ages_back_from_the_mtbf() -> None:
    found = fit_power_law([5, 40, 43, 175, 389], 500)
    for kind in ("instantaneous", "cumulative"):
        age = found.age_at_mtbf(300.0, kind)

        assert 300 == pytest.approx(found.mtbf_at(age, kind))
    assert 1 == pytest.approx(found.expected(found.eta))


def test_it_agrees_between_counts_in_fine_groups_and_ages() -> None:
    rng = random.Random(9)
    for shape in (0.5, 1.0, 2.2):
        times = drawn(rng, shape, 60, 100)
        edges = np.linspace(0, 100, 4001)
        counts = np.histogram(times, edges)[0]
        fine = fit_grouped(edges, counts)
        exact = fit_power_law(times, 100)

        assert exact.shape == pytest.approx(fine.shape, rel=0.03)
        assert len(times) == pytest.approx(sum(fine.expected))


def test_it_is_at_the_top_of_the_grouped_likelihood() -> None:
    rng = random.Random(10)
    for _ in range(200):
        edges = np.cumsum([rng.choice([0.0, 3.0]), *map(rng.uniform, [1] * 4, [9] * 4)])
        counts = [rng.randint(1, 15) for _ in range(4)]
        found = fit_grouped(edges, counts, n_systems=3)
        if found.status == "no such law":
            continue

        def value(shape: float, rows=(edges, counts)) -> float:
            parts = np.diff(rows[0] ** shape)
            return float(np.array(rows[1]) @ np.log(parts / parts.sum()))

        assert value(found.shape) >= value(found.shape * 1.001)
        assert value(found.shape) >= value(found.shape * 0.999)
        assert sum(counts) == pytest.approx(
            3 * found.rate * np.diff(edges**found.shape).sum()
        )
        assert 0 <= found.p_value <= 1


def test_it_says_when_groups_allow_no_fit() -> None:
    assert "no failure" == fit_grouped([0, 1, 2], [0, 0]).status
    assert "too few failures" == fit_grouped([0, 1, 2], [0, 5]).status
    assert fit_grouped([0, 1, 2], [1, 5]).p_value is None
    assert "no such law" == fit_grouped([5, 6, 7], [90, 1]).status


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: fit_power_law([1, 2, 30], 20), "times, row 3: found 30, wanted above"),
        (lambda: fit_power_law({"A": [1], "B": [0, 2]}, 20), "times of B, row 1"),
        (lambda: fit_power_law([1, 2]), "end: found nothing"),
        (lambda: fit_power_law({"A": [1]}, {"B": 2}), "end of A: found nothing"),
        (lambda: fit_power_law([[1], [2]], [3, 4, 5]), "found 3 ages"),
        (lambda: fit_power_law([[1], []], termination="failure"), "found none"),
        (lambda: fit_power_law([1, 2], 3, termination="failure"), "wanted the last"),
        (lambda: fit_power_law([1, math.nan], 3), "row 2: found nan"),
        (lambda: fit_power_law(["x"], 3), "wanted numbers"),
        (lambda: fit_power_law([4], 5, start=6), "start: found 6, wanted below 5"),
        (lambda: fit_power_law([4], 5, confidence=1), "confidence"),
        (lambda: fit_power_law([4], 5).age_at_mtbf(0), "target"),
        (lambda: fit_power_law([4], 5, estimator="best"), "estimator"),
        (lambda: fit_grouped([0, 2, 1], [1, 1]), "edges, row 3"),
        (lambda: fit_grouped([0, 1, 2], [1, 1, 1]), "counts: found 3, wanted 2"),
        (lambda: crow_factors(0, 0.9), "n: found 0"),
        (lambda: crow_factors(1, 0.9, "failure"), "n: found 1"),
    ],
)
def test_it_refuses_what_makes_no_sense(call, told: str) -> None:
    with pytest.raises(BadArgumentError, match=told):
        call()


def test_failures_at_the_very_end_have_a_law_that_fits_in_a_number() -> None:
    told = fit_power_law([[990.0, 995.0, 999.0]], [1000.0])
    shape = 3 / sum(math.log(1000 / age) for age in (990, 995, 999))

    assert told.shape == pytest.approx(shape)
    # Three failures in all, so the next is as far off as the last age by three shapes.
    assert told.mtbf == pytest.approx(1000 / (3 * shape))
    one = fit_power_law([[999.0]], [1000.0])
    assert one.mtbf == pytest.approx(1000 * math.log(1000 / 999))
