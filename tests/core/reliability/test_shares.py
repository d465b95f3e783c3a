"""Are limits of shares those of the general statistics library?"""

import random

import pytest
from statsmodels.stats.proportion import proportion_confint

from turnscrew.core.reliability.shares import dirichlet_prior, share_limits
from turnscrew.errors import BadArgumentError


def test_it_gives_the_limits_of_a_general_library() -> None:
    # Reference: statsmodels, proportion_confint, methods "beta" and "wilson".
    rng = random.Random(7)
    for _ in range(2000):
        n = rng.randint(1, 400)
        count = rng.randint(0, n)
        confidence = rng.choice((0.8, 0.9, 0.95, 0.99))
        for rule, method in (("exact", "beta"), ("wilson", "wilson")):
            ours = share_limits(count, n, confidence=confidence, rule=rule)
            low, high = proportion_confint(count, n, 1 - confidence, method=method)
            assert (ours.low, ours.high) == pytest.approx((low, high), abs=1e-10)


def test_it_holds_the_share_between_its_limits_and_narrows_with_more() -> None:
    for n in range(1, 60):
        for count in range(n + 1):
            few, many = share_limits(count, n), share_limits(10 * count, 10 * n)
            assert few.share is not None
            assert few.low <= few.share <= few.high
            assert many.high - many.low < few.high - few.low


def test_it_says_nothing_of_none() -> None:
    none = share_limits(0, 0)

    assert (None, 0.0, 1.0) == (none.share, none.low, none.high)


@pytest.mark.parametrize(("count", "n"), [(-1, 3), (4, 3), (0, -1)])
def test_it_refuses_more_than_there_are(count, n) -> None:
    with pytest.raises(BadArgumentError, match="count: found"):
        share_limits(count, n)


@pytest.mark.parametrize("confidence", [0, 1, -0.5, float("nan")])
def test_it_refuses_a_confidence_that_is_none(confidence) -> None:
    with pytest.raises(BadArgumentError, match="confidence: found"):
        share_limits(1, 3, confidence=confidence)


def test_it_gives_shares_the_weight_of_so_many_cases() -> None:
    prior = dirichlet_prior(
        {"screen": 258, "power": 315, "keyboard": 0}, pseudo_cases=30
    )

    assert 30 == pytest.approx(sum(prior.values()))
    assert 258 / 315 == pytest.approx(prior["screen"] / prior["power"])
    assert 0 == prior["keyboard"]


def test_it_refuses_a_prior_of_nothing_with_every_reason() -> None:
    with pytest.raises(BadArgumentError, match="wanted at least one case; pseudo"):
        dirichlet_prior({"screen": 0}, pseudo_cases=0)
    with pytest.raises(BadArgumentError, match="screen: found -1"):
        dirichlet_prior({"screen": -1}, pseudo_cases=30)
