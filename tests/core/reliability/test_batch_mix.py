"""Is what a batch will take foretold as an urn of past devices would have it?"""

import math
import random
from itertools import product

import pytest

from turnscrew.core.reliability.batch_mix import (
    Case,
    Total,
    beta_binomial,
    minutes_of,
    parts_in,
    pieces_of,
    summed,
)


def drawn(rng: random.Random) -> list[Case]:
    return [
        Case(
            rng.choice((0.5, 1.0, 2.0, 3.25)),
            rng.choice((10.0, 22.5, 60.0)),
            rng.choice(((), ("P",), ("Q",), ("P", "Q"))),
        )
        for _ in range(rng.randint(1, 4))
    ]


def every_draw(cases: list[Case], n: int) -> list[tuple[float, tuple[Case, ...]]]:
    """List every order in which an urn may give out its cases, each with its chance."""
    listed = []
    for order in product(range(len(cases)), repeat=n):
        weights, chance = [one.weight for one in cases], 1.0
        for k in order:
            chance *= weights[k] / sum(weights)
            weights[k] += 1
        listed.append((chance, tuple(cases[k] for k in order)))
    return listed


def test_it_agrees_with_listing_every_draw_from_the_urn() -> None:
    for seed in range(400):
        rng = random.Random(seed)
        cases, n = drawn(rng), rng.randint(1, 4)
        listed = every_draw(cases, n)
        sums = [(p, sum(one.minutes for one in some)) for p, some in listed]
        mean = sum(p * minutes for p, minutes in sums)
        variance = sum(p * (minutes - mean) ** 2 for p, minutes in sums)

        total = minutes_of(cases, n)
        pieces = pieces_of(cases, n, "P")

        assert pytest.approx(mean) == total.mean, seed
        assert pytest.approx(variance, abs=1e-9) == total.variance, seed
        chances = [0.0] * (n + 1)
        for p, some in listed:
            chances[sum("P" in one.parts for one in some)] += p
        assert pytest.approx(sum(k * p for k, p in enumerate(chances))) == pieces.mean
        below = sum(chances[: pieces.low])
        above = sum(chances[pieces.high + 1 :])
        assert below <= 0.1 + 1e-9, seed
        assert above <= 0.1 + 1e-9, seed
        assert pieces.low <= pieces.high


def test_a_flat_urn_gives_every_count_alike() -> None:
    """Beta-binomial with a = b = 1 is uniform on 0 to n (Laplace; from memory)."""
    assert [pytest.approx(1 / 7)] * 7 == beta_binomial(6, 1.0, 1.0)


def test_a_part_that_all_need_is_needed_by_all() -> None:
    pieces = pieces_of([Case(3, 10, ("P", "P"))], 5, "P")

    assert (10.0, 10, 10) == (pieces.mean, pieces.low, pieces.high)
    none = pieces_of([Case(3, 10, ("P",))], 5, "Q")
    assert (0.0, 0, 0) == (none.mean, none.low, none.high)


def test_more_known_narrows_the_limits_and_never_to_nothing() -> None:
    few = [Case(1, 10), Case(1, 50)]
    many = [Case(100, 10), Case(100, 50)]
    wide, narrow = minutes_of(few, 20), minutes_of(many, 20)

    assert wide.mean == narrow.mean == 600
    assert wide.variance > narrow.variance > 20 * 20**2
    low, high = Total(10.0, 400.0).limits
    assert (0.0, True) == (low, high > 10)


def test_models_are_added_and_parts_named_by_need() -> None:
    total = summed([Total(10, 4), Total(20, 5)])
    cases = [Case(1, 1, ("B", "A")), Case(1, 1, ("A",)), Case(0.5, 1, ("C",))]

    assert (30, 9) == (total.mean, total.variance)
    assert ["A", "B", "C"] == parts_in(cases)
    assert 0 == summed([]).mean


def test_the_limits_hold_four_in_five_in_play() -> None:
    rng = random.Random(20270201)
    cases = [Case(1, minutes) for minutes in (20, 25, 30, 45, 60, 60, 75, 90)]
    total = minutes_of(cases, 30)
    held = 0
    for _ in range(2000):
        weights, minutes = [1.0] * len(cases), 0.0
        for _ in range(30):
            k = rng.choices(range(len(cases)), weights)[0]
            weights[k] += 1
            minutes += cases[k].minutes
        low, high = total.limits
        held += low <= minutes <= high

    assert 0.77 < held / 2000 < 0.83
    assert math.isclose(sum(beta_binomial(30, 2.5, 7)), 1.0)


def test_its_lower_limit_is_held_where_some_need_one_and_some_two() -> None:
    cases = [Case(1, 10, ("p",)), Case(1, 10, ("p", "p")), Case(0.2, 10)]

    # One device: fewer than two pieces with a chance of 1.2 / 2.2.
    assert 1 == pieces_of(cases, 1, "p").low
