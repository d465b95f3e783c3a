"""Is a part told of by its own demand, by parts like it, or not at all?"""

import pytest
from scipy import stats

from random_lives import generator
from turnscrew.core.stock.intermittent import (
    back_test,
    intermittent_forecast,
    predict_demand,
)
from turnscrew.core.stock.part_outlook import (
    TwoPrices,
    demand_ahead,
    is_rare,
    part_outlook,
)
from turnscrew.core.stock.service import stock_level
from turnscrew.errors import BadArgumentError

# The example shelf: failures of a quarter (invented, for the demo).
EXAMPLE = (4, 6, 3, 7, 5, 4, 8, 5)


def test_own_demand_gives_limits_a_level_and_its_check() -> None:
    told = part_outlook(EXAMPLE, lead_periods=0, measure="P(X<=s)", target=0.9)

    assert "own demand" == told.basis
    assert told.level is not None and told.forecast is not None
    # The example's 90 % level: 8 if the mean were known, 9 with its uncertainty
    # (reckoned apart: Poisson, and negative binomial by scipy).
    assert 8 == stats.poisson(42 / 8).ppf(0.9)
    assert 9 == stats.nbinom(42.5, 8 / 9).ppf(0.9) == told.level.stock
    assert 42.5 / 8 == pytest.approx(told.forecast)
    assert told.check is not None
    assert 2 == told.check.n_trials
    assert [1, 2, 3] == [one.periods for one in told.ahead]


def test_rare_demand_takes_the_law_of_rare_demand() -> None:
    rare = (0, 0, 2, 0, 0, 0, 1, 0, 0, 0, 0, 3)
    told = part_outlook(rare, lead_periods=2)

    assert is_rare(rare)
    assert not is_rare(EXAMPLE)
    law = predict_demand(rare, periods=3).law
    assert stock_level(law, target=0.95, measure="unit fill") == told.level
    assert told.check == back_test(rare, n_first=6)


@pytest.mark.parametrize(
    ("past", "rare"),
    [
        # Gap 4/3 just above 1.32; sizes 1 and 6: squared variation .51 above .49.
        ((2, 2, 2, 0), True),
        ((2, 2, 2, 2, 0), False),
        ((1, 6), True),
        ((2, 6), False),
        ((0, 0), True),
    ],
)
def test_demand_is_parted_by_the_published_limits(past, rare) -> None:
    # Syntetos, Boylan and Croston (2005): 1.32 and .49 (from memory).
    assert rare == is_rare(past)


def test_limits_of_smooth_demand_hold_out_of_sample() -> None:
    # Poisson months and months of twice its spread: about nine in ten lie within.
    rng = generator(3)
    for spread in (1.0, 2.0):
        inside = n = 0
        for _ in range(600):
            mean = rng.uniform(4, 20)
            size = 1e9 if spread == 1 else mean / (spread - 1)
            months = rng.negative_binomial(size, size / (size + mean), 13)
            if is_rare(months[:12]):
                continue
            told = part_outlook(months[:12].tolist(), lead_periods=0).ahead[0]
            inside += told.low <= months[12] <= told.high
            n += 1
        assert n > 400
        assert 0.87 < inside / n < 0.96


def test_the_fan_opens_with_time() -> None:
    told = part_outlook(EXAMPLE, lead_periods=5)

    assert 6 == told.cover_periods == len(told.ahead)
    for one, other in zip(told.ahead, told.ahead[1:], strict=False):
        assert other.high - other.low >= one.high - one.low
        assert other.middle >= one.middle
    for one in told.ahead:
        assert one.low <= one.lower <= one.middle <= one.upper <= one.high


def test_few_periods_lean_on_parts_like_it_and_say_so() -> None:
    like = [(2, 3, 1, 2, 2, 3), (4, 3, 5, 4, 4, 4), (1, 0, 1, 1, 2, 1)]
    told = part_outlook((3,), lead_periods=1, similar=like)

    assert "parts like it" == told.basis
    assert told.forecast is not None
    # By hand: means 13/6, 4 and 1, their mean 43/18. Three parts: the variance is taken
    # as at least a third of its square, which is more than their own 1.52, so that the
    # gamma law has shape 3 and 54/43 periods; with 3 pieces in one period more:
    assert (3 + 3) / (54 / 43 + 1) == pytest.approx(told.forecast)
    assert told.check is None
    more = part_outlook((3, 3, 3), lead_periods=1, similar=like)
    assert abs((more.forecast or 0) - 3) < abs(told.forecast - 3)


def test_nothing_known_is_an_answer() -> None:
    for similar in ((), ((0, 0),), ((),)):
        told = part_outlook((), lead_periods=2, similar=similar)
        assert ("nothing known", None, ()) == (told.basis, told.level, told.ahead)


def test_it_refuses_a_lead_time_that_cannot_be() -> None:
    with pytest.raises(BadArgumentError, match="lead_periods"):
        part_outlook(EXAMPLE, lead_periods=-1)


def test_two_prices_imply_the_level_and_its_stock() -> None:
    # The invented demo history of the glass: mean 5.75 a period; with the uncertainty
    # of its mean 9 pieces reach 90 %, and prices of 9 to 1 imply just that level.
    past = (4, 6, 3, 7, 5, 4, 8, 5)
    dear = part_outlook(past, lead_periods=0, prices=TwoPrices(lacking=9, over=1))
    even = part_outlook(past, lead_periods=0, prices=TwoPrices(lacking=1, over=1))

    assert (0.9, 9) == (dear.priced.ratio, dear.priced.stock)
    assert (0.5, True) == (even.priced.ratio, even.priced.stock < dear.priced.stock)
    assert part_outlook(past, lead_periods=0).priced is None
    assert part_outlook((), lead_periods=0, prices=TwoPrices(9, 1)).priced is None


@pytest.mark.parametrize("past", [[5, -1, 5, 5, 5, 5], [5, 5.5, 5, 5, 5, 5]])
def test_it_refuses_a_demand_that_cannot_be(past) -> None:
    with pytest.raises(BadArgumentError, match="past"):
        part_outlook(past, lead_periods=1)


def test_a_part_first_wanted_after_a_while_has_its_check() -> None:
    told = part_outlook([0] * 6 + [1] * 26, lead_periods=1)

    assert told.check is not None


@pytest.mark.parametrize(
    ("reckon", "words"),
    [
        (lambda: demand_ahead([1, 2, 3], 0), "periods: found 0"),
        (
            lambda: intermittent_forecast([1, 0, 2], first_period="never"),
            "first_period: found never",
        ),
    ],
)
def test_a_figure_that_cannot_be_is_refused_by_its_name(reckon, words) -> None:
    with pytest.raises(BadArgumentError, match=f"^{words}"):
        reckon()
