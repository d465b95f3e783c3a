"""Does each device get the due day of its tranche?"""

import random

import pytest

from turnscrew.core.model.expected import Arrived, Expected, due_days
from turnscrew.errors import BadArgumentError


def test_it_fills_the_earliest_tranche_of_a_model_first() -> None:
    told = [Expected("V80", n=1, due_day=7), Expected("V80", n=2, due_day=4)]
    here = [Arrived(line, "V80") for line in (1, 2, 3, 4)]

    assert {1: 4, 2: 4, 3: 7} == due_days(here, told)


def test_it_leaves_a_day_that_was_agreed_and_counts_it() -> None:
    told = [Expected("V80", n=1, due_day=4), Expected("V80", n=1, due_day=7)]
    here = [Arrived(1, "V80"), Arrived(2, "V80", due_day=4)]

    assert {1: 7} == due_days(here, told)


def test_one_named_has_its_own_day_by_number_or_serial_and_takes_no_place() -> None:
    told = [Expected("V80", n=1, due_day=7), Expected(number="shn-0001", due_day=2),
            Expected(number="TV8-2", due_day=3)]  # fmt: skip
    here = [
        Arrived(1, "V80", ("SHN-0001", "TV8-1")),
        Arrived(2, "V80", ("", "tv8-2")),
        Arrived(3, "V80", ("", "")),
    ]

    assert {1: 2, 2: 3, 3: 7} == due_days(here, told)


def test_what_has_no_day_or_no_place_left_gets_none() -> None:
    told = [Expected("V80", n=3), Expected("L240", n=1, due_day=4)]
    here = [Arrived(1, "V80"), Arrived(2, "L240"), Arrived(3, "L240"), Arrived(4, "X")]

    assert {2: 4} == due_days(here, told)


def test_no_tranche_is_overfilled_and_no_place_stays_free_beside_a_device() -> None:
    for seed in range(500):
        rng = random.Random(seed)
        told = [
            Expected(
                rng.choice("AB"), n=rng.randint(1, 3), due_day=rng.choice((4, 7, None))
            )
            for _ in range(rng.randint(1, 4))
        ]
        here = [
            Arrived(n, rng.choice("AB"), due_day=rng.choice((None, None, 4)))
            for n in range(1, rng.randint(2, 9))
        ]
        given = due_days(here, told)
        for model in "AB":
            for day in (4, 7):
                places = sum(
                    one.n for one in told if (one.model, one.due_day) == (model, day)
                )
                own = sum((one.model, one.due_day) == (model, day) for one in here)
                got = sum(
                    given.get(one.line) == day for one in here if one.model == model
                )
                without = [
                    one for one in here
                    if one.model == model
                    and one.due_day is None
                    and one.line not in given
                ]  # fmt: skip
                assert got <= max(0, places - own), seed
                assert not without or got == max(0, places - own), seed


def test_it_refuses_nothing_and_too_many() -> None:
    for n in (0, 1_000_001):
        with pytest.raises(BadArgumentError, match="n: found"):
            Expected("V80", n=n)
    with pytest.raises(BadArgumentError, match="due_day: found 0"):
        Expected("V80", due_day=0)
