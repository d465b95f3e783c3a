"""Do as many devices come back as was said, and is it said where nobody can tell?"""

import math
from datetime import date, timedelta
from random import Random

import pytest

from turnscrew.core.reliability.prediction import predict_count
from turnscrew.errors import BadArgumentError
from turnscrew.flows.promises import Promised, promises_ahead

TODAY = date(2027, 4, 1)
DAYS = 90


def ago(days: int, came_back_after: int | None = None, **facts) -> Promised:
    """A promise given some days ago."""
    day = TODAY - timedelta(days=days)
    back = None if came_back_after is None else day + timedelta(days=came_back_after)
    return Promised(day, **({"promise_days": DAYS, "came_back": back} | facts))


def test_it_counts_the_days_of_each_promise() -> None:
    # By hand, on 1 April: given 10, 90, 91 and 200 days ago; used after 20 of 60.
    promised = [ago(10), ago(90), ago(91), ago(200), ago(60, 20)]

    assert [10, 90, 90, 90, 20] == [one.days_run(TODAY) for one in promised]
    assert [80, 0, None, None, None] == [one.days_left(TODAY) for one in promised]
    told = promises_ahead(promised, TODAY)
    assert (5, 1, 300) == (told.n_promises, told.n_comebacks, told.days_run)
    assert [("2027-01", 1), ("2027-03", 1)] == [
        (one.month, one.n_open) for one in told.months
    ]
    assert 2 == told.total.n_open


def test_it_expects_what_the_rate_says() -> None:
    # By hand: 12 comebacks and half a one (Jeffreys) in 80 * 90 + 12 * 45 days.
    promised = [ago(200)] * 80 + [ago(200, 45)] * 12 + [ago(30)] * 20
    rate = 12.5 / (80 * 90 + 12 * 45 + 20 * 30)
    alone = predict_count(
        failures=12, exposure=8_340, future_exposure=20 * 60, confidence=0.9
    )

    told = promises_ahead(promised, TODAY)

    assert told.total.expected == pytest.approx(20 * -math.expm1(-rate * 60))
    assert told.total.expected < alone.mean
    assert told.total.low <= told.total.expected <= told.total.high <= alone.upper
    assert 0.9 == told.confidence
    assert not any("Few data" in words for words in told.says)


def test_the_months_add_up_to_the_whole() -> None:
    promised = [ago(200, 3)] + [ago(7 * n) for n in range(40)]

    told = promises_ahead(promised, TODAY)

    assert len(told.months) > 3
    assert told.total.n_open == sum(one.n_open for one in told.months)
    assert told.total.expected == pytest.approx(
        sum(one.expected for one in told.months)
    )
    names = [one.month for one in told.months]
    assert sorted(names) == names


def test_it_sets_aside_the_mean_cost_of_each() -> None:
    promised = [ago(200)] * 80 + [ago(200, 45)] * 12 + [ago(30)] * 20

    told = promises_ahead(
        promised, TODAY, comeback_costs_minor=[2_000, 4_000], repair_costs_minor=[1]
    )

    assert ("comebacks", 3_000) == (told.costs_of, told.provision.mean_cost_minor)
    assert told.total.expected * 3_000 == pytest.approx(told.provision.expected_minor)
    assert told.total.low * 3_000 == told.provision.low_minor
    assert told.total.high * 3_000 == told.provision.high_minor
    assert () == told.says


def test_it_says_so_where_only_first_repairs_have_a_cost() -> None:
    told = promises_ahead([ago(200), ago(30)], TODAY, repair_costs_minor=[5_000])

    assert ("first repairs", 5_000) == (told.costs_of, told.provision.mean_cost_minor)
    assert any("as much as a first repair" in words for words in told.says)


def test_it_gives_no_money_where_no_cost_is_known() -> None:
    told = promises_ahead([ago(200), ago(30)], TODAY)

    assert told.provision is None
    assert told.total.expected is not None
    assert any("costs is unknown" in words for words in told.says)


@pytest.mark.parametrize("promised", [[], [ago(0)], [ago(0), ago(0)]])
def test_unknown_is_an_answer(promised) -> None:
    told = promises_ahead(promised, TODAY, comeback_costs_minor=[5_000])

    assert told.says[0].startswith("Unknown: no promise has run")
    assert (None, None, None) == (
        told.total.expected, told.total.low, told.total.high,
    )  # fmt: skip
    assert told.provision is None
    assert len(promised) == told.total.n_open


def test_few_data_give_a_wide_range_in_words() -> None:
    few = promises_ahead([ago(200, 5), ago(200), *[ago(10)] * 30], TODAY)
    many = promises_ahead(
        [*[ago(200, 5)] * 100, *[ago(200)] * 100, *[ago(10)] * 30], TODAY
    )

    assert few.says[0] == (
        "Few data: 1 comeback in 32 promises so far, so the range is wide."
    )
    assert not any("Few" in words for words in many.says)


def test_no_comeback_so_far_does_not_mean_none_to_come() -> None:
    told = promises_ahead([ago(200)] * 5 + [ago(1)] * 20, TODAY)

    assert 0 == told.n_comebacks
    assert told.total.expected > 0
    assert told.total.high > 0


def test_no_open_promise_owes_nothing() -> None:
    told = promises_ahead([ago(200, 5), ago(300)], TODAY, comeback_costs_minor=[5_000])

    assert (0, 0.0, 0, 0) == (
        told.total.n_open, told.total.expected, told.total.low, told.total.high,
    )  # fmt: skip
    assert 0 == told.provision.expected_minor
    assert () == told.months


def test_one_promise_is_used_once() -> None:
    told = promises_ahead([ago(1)], TODAY)

    assert 1 == told.total.high
    assert 0 < told.total.expected <= 1
    assert any("every open promise" in words for words in told.says)


def test_what_nobody_watched_tells_nothing() -> None:
    began = TODAY - timedelta(days=10)
    # One came back as the watch began, one after it; one was over before.
    promised = [
        ago(40, 30, watched_from=began), ago(40, 35, watched_from=began),
        ago(150, watched_from=began), ago(40, watched_from=began),
    ]  # fmt: skip

    told = promises_ahead(promised, TODAY)

    assert [0, 5, 0, 10] == [one.days_run(TODAY) for one in promised]
    assert (2, 1, 15, 1) == (
        told.n_promises, told.n_comebacks, told.days_run, told.total.n_open,
    )  # fmt: skip
    assert "Not counted, as nobody had watched until then: 1 comeback." in told.says


def test_it_refuses_what_cannot_be() -> None:
    for made in (
        lambda: ago(1, promise_days=-1),
        lambda: ago(10, -1),
        lambda: promises_ahead([ago(1)], TODAY, confidence=1.0),
        lambda: promises_ahead([ago(1)], TODAY, comeback_costs_minor=[-1]),
    ):
        with pytest.raises(BadArgumentError, match="found"):
            made()


def played(source: Random, n: int, share: float):
    """
    Let devices come back at one rate.

    Gives the promises as they are known today, and how many of them came later.
    """
    # Whole days, each with the same chance: a constant hazard day by day.
    log_stays = math.log(1 - share) / DAYS
    promised, n_later = [], 0
    for _ in range(n):
        days = source.randrange(400)
        after = 1 + int(math.log(1 - source.random()) / log_stays)
        is_under = after <= DAYS
        is_known = is_under and after <= days
        n_later += is_under and not is_known
        promised.append(ago(days, after if is_known else None))
    return promised, n_later


@pytest.mark.parametrize(
    ("n", "share", "n_plays", "most"),
    [
        # Few devices: counts are whole, so the limits hold more than they say.
        (40, 0.05, 400, 1.0),
        (150, 0.10, 400, 0.99),
        (600, 0.10, 200, 0.96),
        # Far more than a workshop would stand.
        (150, 0.30, 400, 0.97),
    ],
)
def test_the_actual_is_within_the_limits_nine_times_in_ten(
    n, share, n_plays, most
) -> None:
    source = Random(20270401)
    n_within, n_below, n_above, expected, actual, n_known = 0, 0, 0, 0.0, 0, 0
    for _ in range(n_plays):
        promised, n_later = played(source, n, share)
        told = promises_ahead(promised, TODAY)
        n_below += n_later < told.total.low
        n_above += n_later > told.total.high
        n_within += told.total.low <= n_later <= told.total.high
        expected, actual = expected + told.total.expected, actual + n_later
        n_known += told.n_comebacks

    # Three standard errors of a share of 0.9, and of one of 0.05.
    assert 0.9 - 3 * (0.09 / n_plays) ** 0.5 <= n_within / n_plays <= most
    for n_out in (n_below, n_above):
        assert n_out / n_plays <= 0.05 + 3 * (0.0475 / n_plays) ** 0.5
    # The half comeback of Jeffreys expects a little too many.
    too_many = 1 + 0.5 * n_plays / n_known
    assert expected / actual == pytest.approx(too_many, abs=3 * (1.3 / actual) ** 0.5)
