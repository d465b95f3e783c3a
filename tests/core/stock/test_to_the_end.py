"""Does what is bought or kept last to the end as often as the prices ask?"""

import random
from fractions import Fraction
from itertools import product

import numpy as np
import pytest
from scipy.stats import nbinom

from turnscrew.core.stock.laws import NegativeBinomial
from turnscrew.core.stock.part_outlook import demand_ahead, part_outlook
from turnscrew.core.stock.to_the_end import (
    MOST_DONORS,
    AtTheEnd,
    donors_to_keep,
    to_the_end,
)
from turnscrew.errors import BadArgumentError


def p_lasts_slowly(law: NegativeBinomial, there: int, n: int, share: Fraction) -> float:
    """Go through every way in which donors' pieces may be good or bad."""
    p = law.chances()
    total = 0.0
    for goods in product((True, False), repeat=n):
        chance = Fraction(1)
        for is_good in goods:
            chance *= share if is_good else 1 - share
        total += float(chance) * p[: there + sum(goods) + 1].sum()
    return total


def test_it_keeps_the_fewest_donors_that_last_as_often_as_wanted() -> None:
    chance = random.Random(23)
    n_kept = 0
    for _ in range(300):
        law = NegativeBinomial(chance.uniform(0.05, 4), 10 ** chance.uniform(-1, 2))
        share = Fraction(chance.randint(3, 10), 10)
        there, target = chance.randint(0, 3), chance.uniform(0.3, 0.95)

        found = donors_to_keep(
            law, on_hand=there, share_good=float(share), target=target
        )

        assert found.n is not None
        if found.n > 9:
            continue
        n_kept += found.n > 0
        reached = p_lasts_slowly(law, there, found.n, share)
        assert reached == pytest.approx(found.reached)
        assert reached >= target - 1e-9
        if found.n:
            assert target > p_lasts_slowly(law, there, found.n - 1, share)
    assert n_kept > 100


def test_donors_whose_pieces_are_all_good_are_as_many_as_pieces_bought() -> None:
    chance = random.Random(24)
    for _ in range(500):
        law = NegativeBinomial(10 ** chance.uniform(-1, 2), 10 ** chance.uniform(-1, 2))
        cost = chance.randint(1, 90)
        at = AtTheEnd(
            unit_cost=cost,
            shortage_cost=cost * chance.uniform(1.1, 20),
            salvage_value=cost * chance.uniform(0, 0.9),
            on_hand=chance.randint(0, 5),
            share_good=1.0,
        )

        told = to_the_end(law, at)

        assert told.donors is not None
        if told.donors.n is not None:
            assert told.buy.quantity == told.donors.n


def test_its_limits_hold_the_demand_nine_times_in_ten() -> None:
    law = NegativeBinomial(14.0, 6.0)
    told = to_the_end(law, AtTheEnd(1400, 9000))
    # Gamma mixture of Poissons: size 6, mean 14, so p = 6 / (6 + 14).
    law_of_scipy = nbinom(6, 6 / 20)

    assert 14.0 == told.mean
    assert law_of_scipy.cdf(told.low - 1) < 0.05 <= law_of_scipy.cdf(told.low)
    assert law_of_scipy.cdf(told.high - 1) < 0.95 <= law_of_scipy.cdf(told.high)
    assert told.donors is None


def test_a_piece_that_is_not_worth_its_price_is_neither_bought_nor_kept() -> None:
    told = to_the_end(NegativeBinomial(9, 3), AtTheEnd(5000, 4000, share_good=0.9))

    assert (0, 0.0, None) == (told.buy.quantity, told.buy.ratio, told.donors)


def test_it_says_when_the_most_donors_are_too_few() -> None:
    law = NegativeBinomial(1000.0, 50.0)
    found = donors_to_keep(law, on_hand=0, share_good=0.5, target=0.9)

    assert found.n is None
    assert 0.9 > found.reached
    assert MOST_DONORS < law.mean


def test_what_lies_beyond_all_demand_lasts_for_certain() -> None:
    law = NegativeBinomial(0.5, 2.0)
    found = donors_to_keep(law, on_hand=10_000, share_good=0.5, target=0.999)

    assert (0, 1.0) == (found.n, pytest.approx(found.reached))


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"on_hand": -1}, "on_hand: found -1, wanted a whole number"),
        ({"share_good": 0.0}, "share_good: found 0, wanted a number above 0"),
        ({"share_good": 1.5}, "share_good: found 1.5"),
        ({"target": 1.0}, "target: found 1, wanted a number above 0 and below 1"),
    ],
)
def test_it_refuses_what_makes_no_sense(wrong, says) -> None:
    fit = {"on_hand": 0, "share_good": 0.8, "target": 0.9}
    with pytest.raises(BadArgumentError, match=says):
        donors_to_keep(NegativeBinomial(3, 2), **(fit | wrong))


@pytest.mark.parametrize(
    ("past", "similar"),
    [((2, 0, 1, 3, 2), ()), ((0, 0, 5, 0, 0, 0, 1), ()), ((1,), ((2, 1), (4, 0)))],
)
def test_the_law_of_more_periods_goes_on_where_the_outlook_ends(past, similar) -> None:
    outlook = part_outlook(past, lead_periods=2, similar=similar)
    law = demand_ahead(past, 3, similar=similar)

    assert law is not None
    at_most = np.cumsum(law.chances())
    assert outlook.ahead[2].middle == int(np.searchsorted(at_most, 0.5 - 1e-12))
    longer = demand_ahead(past, 24, similar=similar)
    assert longer is not None
    assert 8 * law.mean == pytest.approx(longer.mean)


def test_nothing_known_has_no_law() -> None:
    assert demand_ahead((), 12) is None
