"""May the device be switched on or charged yet?"""

from dataclasses import replace

import pytest

from core.diagnose.small_bench import LAYERING, TABLE
from turnscrew.core.diagnose.answer import Step
from turnscrew.core.diagnose.entry import evidence_from, finding_from
from turnscrew.core.diagnose.hazards import look_first, p_no_power
from turnscrew.core.model.faults import Fault, FaultRepair, FaultTest, Reading
from turnscrew.errors import BadArgumentError
from turnscrew.flows.diagnosis import next_step

LOOK = FaultTest(
    minutes=9,
    outcomes=("wet", "dry"),
    means={"wet": (0.95, 0.05), "others": (0.02, 0.98), "nothing wrong": (0.01, 0.99)},
)


def table(weight: float):
    """The small bench with liquid that may be inside, and a slow look for it."""
    tests = {name: replace(test, powers=True) for name, test in TABLE.tests.items()}
    return replace(
        TABLE,
        faults={**TABLE.faults, "wet": Fault(weight, no_power=True)},
        tests={**tests, "look": LOOK},
        repairs={**TABLE.repairs, "dry": FaultRepair(minutes=5, mends={"wet": 0.5})},
    )


def advice(weight: float, *findings: str):
    given = table(weight)
    evidence = evidence_from(given, (), findings)
    return next_step(given, LAYERING, evidence, "block", lambda: False)


def test_it_looks_before_it_powers_while_liquid_is_possible() -> None:
    """One in nine: the quick swap would be cheaper, and would power the device."""
    found = advice(0.5)

    assert "look" == found.action
    assert isinstance(found.answer.policy, Step)
    assert {"wet", "dry"} == {name for name, _, _ in found.answer.policy.branches}
    assert any("Do not switch on" in words for words in found.cautions)


def test_it_powers_once_liquid_is_excluded() -> None:
    found = advice(0.5, "look=dry")

    assert "swap" == found.action
    assert not any("Do not switch on" in words for words in found.cautions)


def test_it_leaves_out_what_powers_while_liquid_is_likely() -> None:
    found = advice(0.5, "look=wet")

    assert {"swap", "volts"} == set(found.left_out)
    assert "while wet is likely" in found.left_out["swap"]


def test_it_does_not_look_for_what_hardly_can_be() -> None:
    assert "look" != advice(0.02).action


def test_it_chooses_only_a_look_that_tells() -> None:
    blind = replace(
        LOOK,
        means={"wet": (0.5, 0.5), "others": (0.4, 0.6), "nothing wrong": (0.4, 0.6)},
    )
    given = table(0.5)
    belief = {"lead": 0.2, "pack": 0.7, "wet": 0.1, "nothing wrong": 0.0}

    assert 0.1 == pytest.approx(p_no_power(given, belief))
    assert "look" == look_first(given, belief, ("look", "swap"))
    given = replace(given, tests={**given.tests, "look": blind})
    assert "" == look_first(given, belief, ("look", "swap"))


@pytest.mark.parametrize("said", ["-9.5 V", "400 V"])
def test_it_takes_no_reading_that_cannot_be(said) -> None:
    reading = Reading("V", low=9, high=11, least=-1, most=60, beyond="stop")
    volts = replace(TABLE.tests["volts"], reading=reading)

    with pytest.raises(BadArgumentError, match="stop"):
        finding_from(
            replace(TABLE, tests={**TABLE.tests, "volts": volts}), f"volts={said}"
        )


def test_it_does_not_switch_on_to_see_whether_a_wet_device_works() -> None:
    given = replace(table(0.5), nothing_wrong=0.9)
    evidence = evidence_from(given, (), ("look=wet",))

    found = next_step(given, LAYERING, evidence, "block", lambda: False)

    assert "VERIFY" != found.action
    assert "VERIFY" not in found.answer.values
