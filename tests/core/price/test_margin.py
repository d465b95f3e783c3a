"""Is a kind of job reckoned as by hand, and is nothing unknown taken as zero?"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnscrew.core.price.margin import (
    JobMoney,
    by_customer,
    by_fault,
    by_kind,
    by_model,
    earnings,
    labour_cost_minor,
)
from turnscrew.errors import BadArgumentError

HOUR_MINOR = 2_400


def job(model: str, fault: str, **facts) -> JobMoney:
    usual = {
        "customer": "a hospice", "revenue_minor": 10_000, "parts_minor": 3_000,
        "minutes": 45.0,
    }  # fmt: skip
    return JobMoney(model=model, fault=fault, **(usual | facts))


# Worked by hand at 24.00 an hour, 0.40 a minute.
# N KBD: 100 - 30 - 18 = 52 and 80 - 30 - 24 - 40 of rework = -14; one left out.
# N FAN: 60 - 10 - 20 = 30. S GLS: 120 - 70 - 10 = 40. S DOR: 20 - 0 - 12 = 8.
JOBS = (
    job("N", "KBD"),
    job("N", "KBD", revenue_minor=8_000, minutes=60.0, rework_minor=4_000),
    job("N", "KBD", minutes=None),
    job("N", "FAN", revenue_minor=6_000, parts_minor=1_000, minutes=50.0),
    job("S", "GLS", revenue_minor=12_000, parts_minor=7_000, minutes=25.0),
    job("S", "DOR", customer="a school", revenue_minor=2_000, parts_minor=0,
        minutes=30.0),
    job("S", "SPK", parts_minor=None, rework_minor=None),
)  # fmt: skip


def test_it_reckons_each_kind_as_by_hand() -> None:
    told = earnings(JOBS, HOUR_MINOR)

    assert [
        (("S", "DOR"), 1, 0, 800, 800.0),
        (("N", "KBD"), 2, 1, 3_800, 1_900.0),
        (("N", "FAN"), 1, 0, 3_000, 3_000.0),
        (("S", "GLS"), 1, 0, 4_000, 4_000.0),
        (("S", "SPK"), 0, 1, 0, None),
    ] == [
        (row.key, row.n, row.n_left_out, row.profit_minor, row.profit_each_minor)
        for row in told.rows
    ]
    keys = told.rows[1]
    assert (18_000, 6_000, 4_200, 4_000) == (
        keys.revenue_minor, keys.parts_minor, keys.labour_minor, keys.rework_minor,
    )  # fmt: skip


def test_it_shows_the_three_worst_and_the_rest() -> None:
    told = earnings(JOBS, HOUR_MINOR)

    assert ["DOR", "KBD", "FAN"] == [row.key[1] for row in told.worst]
    assert ["GLS", "SPK"] == [row.key[1] for row in told.others]
    few = earnings(JOBS[4:], HOUR_MINOR)
    assert ["DOR", "GLS"] == [row.key[1] for row in few.worst]


def test_it_counts_what_it_leaves_out_and_why() -> None:
    told = earnings(JOBS, HOUR_MINOR)

    assert (5, 2) == (told.n, told.n_left_out)
    wanted = {"minutes": 1, "cost of parts": 1, "cost of a comeback": 1}
    assert wanted == dict(told.missing)


def test_it_tells_a_price_that_was_not_agreed_from_one_that_is_not_known() -> None:
    unpriced = replace(JOBS[0], revenue_minor=None)

    assert ("revenue",) == unpriced.missing
    assert ("an agreed quote",) == replace(unpriced, is_agreed=False).missing
    assert () == replace(JOBS[0], is_agreed=False).missing


@pytest.mark.parametrize(
    "name", ["revenue_minor", "parts_minor", "minutes", "rework_minor"]
)
def test_one_unknown_leaves_the_job_out_and_is_not_zero(name: str) -> None:
    bare = replace(JOBS[0], **{name: None})

    (row,) = earnings([JOBS[0], bare], HOUR_MINOR).rows

    assert (1, 1, 5_200) == (row.n, row.n_left_out, row.profit_minor)


def test_it_adds_up_by_model_fault_and_customer() -> None:
    sums = {
        key.__name__: {
            row.key[0]: row.profit_minor for row in earnings(JOBS, HOUR_MINOR, key).rows
        }
        for key in (by_model, by_fault, by_customer)
    }

    assert {
        "by_model": {"N": 6_800, "S": 4_800},
        "by_fault": {"DOR": 800, "KBD": 3_800, "FAN": 3_000, "GLS": 4_000, "SPK": 0},
        "by_customer": {"a school": 800, "a hospice": 10_800},
    } == sums


def test_a_loss_stands_before_a_smaller_one() -> None:
    lossy = [job("N", fault, revenue_minor=n) for fault, n in (("A", 1), ("B", 0))]

    assert ["B", "A"] == [row.key[1] for row in earnings(lossy, HOUR_MINOR).rows]


def test_of_one_loss_a_job_the_more_frequent_is_the_worse() -> None:
    lossy = [job("N", fault, revenue_minor=0) for fault in "ABB"]

    assert ["B", "A"] == [row.key[1] for row in earnings(lossy, HOUR_MINOR).rows]


@pytest.mark.parametrize(
    ("minutes", "cost"), [(0.0, 0), (1.0, 40), (0.0125, 1), (0.0124, 0), (90.0, 3_600)]
)
def test_it_rounds_a_half_up(minutes: float, cost: int) -> None:
    assert cost == labour_cost_minor(minutes, HOUR_MINOR)


@given(
    st.lists(
        st.builds(
            JobMoney,
            model=st.sampled_from("NS"),
            fault=st.sampled_from("abc"),
            customer=st.sampled_from("xy"),
            revenue_minor=st.none() | st.integers(-10_000, 10_000),
            parts_minor=st.none() | st.integers(0, 9_000),
            minutes=st.none() | st.floats(0, 600),
            rework_minor=st.none() | st.integers(0, 9_000),
        )
    ),
    st.integers(0, 9_000),
)
def test_every_way_of_sorting_gives_one_sum(jobs, hour_minor) -> None:
    told = [
        earnings(jobs, hour_minor, key)
        for key in (by_kind, by_model, by_fault, by_customer)
    ]

    assert 1 == len({sum(row.profit_minor for row in one.rows) for one in told})
    assert {len(jobs)} == {one.n + one.n_left_out for one in told}


def test_it_refuses_what_cannot_be() -> None:
    for made in (
        lambda: job("N", "KBD", parts_minor=-1),
        lambda: job("N", "KBD", minutes=float("nan")),
        lambda: job("N", "KBD", revenue_minor=1.5),
        lambda: job("N", "KBD", rework_minor=-1),
        lambda: earnings([], -1),
        lambda: labour_cost_minor(-1.0, 100),
    ):
        with pytest.raises(BadArgumentError, match="found"):
            made()
