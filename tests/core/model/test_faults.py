"""Does a fault table refuse figures that cannot be, and know its own outcomes?"""

import pytest

from turnscrew.core.model.faults import (
    CheckOut,
    Damage,
    Fault,
    FaultRepair,
    FaultTable,
    FaultTest,
    GiveUp,
    Prior,
    Reading,
    Sign,
)
from turnscrew.core.model.quantities import BadFieldError


@pytest.mark.parametrize(
    ("noun", "fields", "told"),
    [
        (Fault, {"weight": -1.0}, "weight: found -1"),
        (Prior, {"source": "x", "cases": -3.0}, "cases: found -3"),
        (Reading, {"unit": "V"}, "low: found no limit, wanted low, high or both"),
        (
            Reading,
            {"unit": "V", "low": 5.0, "high": 5.0},
            "low: found 5, wanted less than high, which is 5",
        ),
        (Reading, {"unit": "V", "low": 1.0, "percent": 51.0}, "percent: found 51"),
        (Reading, {"unit": "V", "low": 1.0, "plus": -0.1}, "plus: found -0.1"),
        (FaultTest, {"minutes": 1441.0, "means": {}}, "minutes: found 1441"),
        (FaultRepair, {"minutes": -1.0, "mends": {}}, "minutes: found -1"),
        (FaultRepair, {"minutes": 1.0, "mends": {}, "price": -5}, "price: found -5"),
        (Damage, {"chance": 1.1, "price": 0}, "chance: found 1.1"),
        (CheckOut, {"minutes": -1.0}, "minutes: found -1"),
        (GiveUp, {"price": -1}, "price: found -1"),
    ],
)
def test_it_refuses_what_cannot_be(noun, fields, told) -> None:
    with pytest.raises(BadFieldError) as caught:
        noun(**fields)

    assert told in f"{caught.value.field}: found {caught.value.found}" + (
        f", wanted {caught.value.wanted}"
    )


@pytest.mark.parametrize("limit", [{"low": 3.0}, {"high": 3.0}])
def test_it_takes_a_reading_with_one_limit(limit) -> None:
    reading = Reading("A", **limit)

    assert (0.0, 0.0, "common practice, no source") == (
        reading.percent,
        reading.plus,
        reading.source,
    )


def test_it_gives_every_reading_the_same_three_outcomes() -> None:
    means = {"lead": (1.0, 0.0, 0.0)}

    read = FaultTest(1.0, means, reading=Reading("V", low=3.0))
    seen = FaultTest(1.0, means, outcomes=("bright", "dim", "dark"))

    assert ("low", "within limits", "high") == read.all_outcomes
    assert ("bright", "dim", "dark") == seen.all_outcomes


def test_it_admits_that_weights_without_a_source_have_none() -> None:
    table = FaultTable(
        family="Box",
        rate=4800,
        faults={"lead": Fault(1.0)},
        repairs={"change lead": FaultRepair(1.0, {"lead": 1.0})},
        check_out=CheckOut(5.0),
        give_up=GiveUp(1000),
    )

    assert "common practice, no source" == table.prior.source
    assert 0.0 == table.nothing_wrong
    assert table.check_out.closed
    assert not table.give_up.closed


def test_it_takes_a_sign_in_nobodys_words() -> None:
    assert () == Sign({"lead": 0.5}).says
