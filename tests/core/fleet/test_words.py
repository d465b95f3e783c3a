"""Does advice on a fleet read as it must, word by word?"""

from dataclasses import replace
from math import inf

import pytest

from core.fleet.test_prevention import ADVICE
from turnscrew.core.fleet.prevention import prevention_of

BARE = replace(ADVICE, cause="X-1")
"""Advice on a fault whose words tell no usual cause."""


def test_the_whole_advice() -> None:
    assert BARE.says == (
        "X-1 on V80: 6 of 9 at Night team, which has 19.0 % of the time under watch. "
        "Against elsewhere: 8.5 times as often, between 2.5 and 33.0 (limits of 90 %); "
        "chance of so many 0.0026, 0.010 with all 4 comparisons counted. "
        "They cost about 120.00. "
        "Were it like the others: 5.3 fewer a term (3.6 to 5.8), about 100.00 less. "
        "Look there for the cause. "
        "More than 3 next term show that it has not helped, no more than 5 in 2 terms "
        "that it has."
    )


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"of": "model-year", "site": "2024"}, "6 of 9 of model-year 2024, which has"),
        ({"is_by_age": True}, "which has 19.0 % of what their ages bring."),
        (
            {"ratio": inf},
            "none there, so at least 2.5 times as often (limits of 90 %);",
        ),
        (
            {"within": 2.14},
            "Some devices fail again and again: limits and chances count 2.1 failures "
            "as one.",
        ),
        ({"ratio_limits": (2.5, inf)}, "between 2.5 and no upper limit (limits"),
        ({"chance": 0.00001}, "chance of so many below 0.0001,"),
        ({"chance": 0.0001}, "chance of so many 0.0001,"),
        ({"chance": 0.00999}, "chance of so many 0.0100,"),
        ({"chance": 0.01}, "chance of so many 0.010,"),
        ({"model": ""}, "X-1: 6 of 9 at Night team, which has"),
        ({"n_devices": None}, "comparisons counted. They cost"),
        ({"n_devices": 2}, "counted. The 6 are of 2 devices. They cost about 120.00."),
        ({"saved_minor": None}, "(3.6 to 5.8); what they cost is not known. Look"),
        ({"confidence": 0.995}, "33.0 (limits of 99.5 %); chance"),
        ({"known_by": 7}, "More than 7 next term show that it has not helped, no"),
        ({"helped_by": (1, 3)}, "not helped, no more than 3 that it has."),
        ({"helped_by": None}, "; that it has cannot be shown within 4 terms."),
    ],
)
def test_each_fact_changes_its_own_words(change, said) -> None:
    assert said in replace(BARE, **change).says


def test_whom_costs_are_not_for_reads_none() -> None:
    told = BARE.worded("", with_money=False)

    assert "5.3 fewer a term (3.6 to 5.8). Look there" in told
    assert "cost" not in told
    assert "less" not in told


def test_one_device_that_fails_again_is_no_matter_of_its_place() -> None:
    told = replace(BARE, n_devices=1).says

    assert "All 6 are of one device." in told
    assert told.endswith("Look at that device; of the others nothing is told.")


def test_unknown_cost_is_left_out() -> None:
    assert "They cost" not in replace(BARE, cost_minor=None).says


def test_a_fault_is_called_by_code_and_name() -> None:
    assert BARE.worded("lamp dead").startswith("X-1 lamp dead on V80: ")
    assert BARE.worded("").startswith("X-1 on V80: ")


def test_place_and_model_year_that_are_the_same_devices_are_said_so() -> None:
    told = replace(BARE, same_as="2024").says

    assert "place and model-year cannot be told apart." in told
    assert "all of model-year 2024, and no others are" in told


def test_large_and_small_letters_tell_the_same_cause() -> None:
    assert prevention_of("FRONT GLASS CRACKED") == prevention_of("front glass cracked")
