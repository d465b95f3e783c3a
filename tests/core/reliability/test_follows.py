"""Is a carrier suspected only if failures went with it from unit to unit?"""

from itertools import permutations, product

import numpy as np
import pytest

from turnscrew.core.reliability.follows import follows
from turnscrew.errors import BadArgumentError


def rng(seed: int):
    return np.random.default_rng(seed)  # noqa: TID251 - a fixed seed


def slow_tests(units, carriers, failures) -> tuple[dict[str, float], float]:
    """Try every order of every unit, alike ones too."""
    names = sorted(set(carriers))
    rows = [[i for i, u in enumerate(units) if u == one] for one in sorted(set(units))]
    rows = [
        r for r in rows
        if len({carriers[i] for i in r}) > 1 and sum(failures[i] for i in r)
    ]  # fmt: skip

    def sums(ways) -> tuple[int, ...]:
        made = dict.fromkeys(names, 0)
        for place, way in zip(rows, ways, strict=True):
            for i, n in zip(place, way, strict=True):
                made[carriers[i]] += n
        return tuple(made[name] for name in names)

    seen = sums([[failures[i] for i in r] for r in rows])
    every = [
        sums(ways)
        for ways in product(*(permutations([failures[i] for i in r]) for r in rows))
    ]
    table = np.array(every)
    tails = [
        {k: float(np.mean(table[:, j] >= k)) for k in set(table[:, j])}
        for j in range(len(names))
    ]
    least = min(tails[j][seen[j]] for j in range(len(names)))
    worst = [min(tails[j][one[j]] for j in range(len(names))) for one in every]
    alone = {name: tails[j][seen[j]] for j, name in enumerate(names)}
    return alone, float(np.mean(np.array(worst) <= least * (1 + 1e-9)))


def random_rows(chance, n: int, n_units: int = 3):
    units = [f"u{chance.integers(n_units)}" for _ in range(n)]
    carriers = [f"c{chance.integers(3)}" for _ in range(n)]
    return units, carriers, [int(k) for k in chance.poisson(0.8, n)]


def test_it_agrees_with_trying_every_order() -> None:
    chance = rng(1)
    for _ in range(60):
        units, carriers, failures = random_rows(chance, 9)
        found = follows(units, carriers, failures)
        if found.how == "nothing to compare":
            continue
        alone, most = slow_tests(units, carriers, failures)

        assert "exact" == found.how
        assert most == pytest.approx(found.p_any)
        for one in found.carriers:
            assert alone[one.name] == pytest.approx(one.p_value)


def test_it_draws_close_to_what_is_exact() -> None:
    chance = rng(2)
    for null in (None, np.array([1.0, 2, 3, 1, 5, 2, 2, 1, 4])):
        units = ["a", "a", "a", "b", "b", "b", "c", "c", "c"]
        carriers = ["x", "y", "z"] * 3
        failures = [3, 0, 1, 2, 0, 0, 1, 0, 1]
        exact = follows(units, carriers, failures, exposure=null)
        # More units that cannot tell anything would not change it; more rows do.
        many = follows(units * 9, carriers * 9, failures * 9,
                       exposure=None if null is None else np.tile(null, 9),
                       rng=chance, n_draws=4000)  # fmt: skip
        silent = follows(units * 9, carriers * 9, failures * 9)

        assert ("exact", 0) == (exact.how, exact.n_drawn)
        assert ("Monte Carlo", 4000) == (many.how, many.n_drawn)
        assert many.p_any < exact.p_any
        assert ("too large", None) == (silent.how, silent.p_any)
        assert silent.carriers[0].p_value < 0.01


def test_it_is_right_about_chance_by_the_length_of_spells() -> None:
    found = follows(["a", "a"], ["x", "y"], [2, 1], exposure=[1.0, 3.0])
    by_name = {one.name: one for one in found.carriers}

    # Three failures on rows of a quarter and three quarters of the time.
    assert 3 * 0.25**2 * 0.75 + 0.25**3 == pytest.approx(by_name["x"].p_value)
    assert 1 - 0.25**3 * 1 == pytest.approx(by_name["y"].p_value)
    assert (0.75, 2.25) == (by_name["x"].expected, by_name["y"].expected)


def test_it_finds_the_charger_that_kills() -> None:
    chance = rng(3)
    n_found = 0
    for _ in range(40):
        units = [f"u{i}" for i in range(30) for _ in range(4)]
        carriers = [f"c{k}" for _ in range(30) for k in chance.permutation(8)[:4]]
        p = [0.8 if one == "c5" else 0.05 for one in carriers]
        found = follows(units, carriers, chance.binomial(1, p), rng=chance, n_draws=499)
        n_found += (
            found.carriers[0].name == "c5" and found.carriers[0].p_adjusted < 0.05
        )

    assert n_found > 35


def test_it_blames_no_carrier_of_a_weak_unit() -> None:
    # One unit fails with everything; its own carriers must not pay for it.
    found = follows(
        ["weak"] * 4 + ["good"] * 4,
        ["a", "b", "c", "d", "e", "f", "g", "h"],
        [5, 5, 5, 5, 0, 0, 0, 1],
    )

    assert all(one.p_value > 0.2 for one in found.carriers)


def test_it_cries_wolf_no_more_often_than_it_says() -> None:
    chance = rng(4)
    n_off = 0
    for _ in range(300):
        units, carriers, failures = random_rows(chance, 12, 4)
        found = follows(units, carriers, failures, rng=chance, n_draws=199)
        n_off += found.p_any is not None and found.p_any <= 0.1

    assert n_off / 300 < 0.13


def test_it_has_nothing_to_compare_where_nothing_moved() -> None:
    found = follows(["a", "b"], ["x", "y"], [3, 0])

    assert ("nothing to compare", None) == (found.how, found.p_any)
    assert {1.0} == {one.p_value for one in found.carriers}


def test_it_takes_many_rows() -> None:
    chance = rng(5)
    n = 20_000
    found = follows(
        chance.integers(0, 4000, n), chance.integers(0, 30, n), chance.poisson(0.3, n)
    )

    assert "too large" == found.how
    assert found.carriers[0].p_adjusted > 0.001


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: follows([], [], []), "found none"),
        (lambda: follows(["a"], ["x", "y"], [1]), "carriers: found 2 rows, wanted 1"),
        (lambda: follows(["a"], ["x"], [-1]), "failures, row 1"),
        (lambda: follows(["a"], ["x"], [1], exposure=[0]), "exposure, row 1"),
        (lambda: follows(["a"], ["x"], [1], n_draws=5), "n_draws"),
    ],
)
def test_it_refuses_what_makes_no_sense(call, told: str) -> None:
    with pytest.raises(BadArgumentError, match=told):
        call()


def test_one_device_with_very_many_carriers_is_told_too() -> None:
    n = 1100
    told = follows(
        ["D"] * n, [f"A{k}" for k in range(n)], [1] + [0] * (n - 1), rng=rng(1)
    )

    assert "exact" == told.how
    assert told.carriers[0].p_value == pytest.approx(1 / n)
