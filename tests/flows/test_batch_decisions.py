"""Is every device decided and quoted, or asked about with the reason?"""

from dataclasses import replace
from typing import Any

import pytest

from small_batch import PARTS, TERMS, batch, line, terms
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.model.terms import Donors
from turnscrew.flows.batch.decisions import decided_devices
from turnscrew.flows.batch.supply import supplied


def decided(**part: Any) -> DecidedDevice:
    """Decide a device with a worn fan, the part changed as said."""
    parts = PARTS | {"FAN": replace(PARTS["FAN"], **part)}
    given = batch(line(1, "FAN"), parts=parts)
    (device,) = decided_devices(given, {}, lambda _line: None)
    return device


@pytest.mark.parametrize(
    ("part", "reason"),
    [
        (
            {"cost_minor": 0},
            "FAN costs 0.00: give its cost, or confirm that it is free",
        ),
        ({"cost_minor": None}, "the cost of FAN is not known: find it out"),
        # Nobody can confirm a cost that nobody has said.
        ({"cost_minor": None, "is_free": True}, "the cost of FAN is not known"),
    ],
)
def test_a_part_without_a_cost_stops_the_quote(part, reason) -> None:
    device = decided(**part)

    assert ("ask", None) == (device.decision.code, device.decision.quote_minor)
    assert reason in device.decision.reason
    assert () == device.charges
    assert any(hold.kind == "quote" and reason in hold.says for hold in device.holds)


def test_a_part_confirmed_to_be_free_is_quoted_at_nothing() -> None:
    device = decided(cost_minor=0, is_free=True)

    assert "go" == device.decision.code
    assert [0] == [line.net_minor for line in device.charges if line.part == "FAN"]
    # 12 + 14 + 16 min of handling and opening and 14 min of exchange at 48.00 an hour.
    assert 4480 == device.decision.quote_minor


def test_a_value_that_is_an_estimate_is_marked_and_asked_about() -> None:
    model = replace(TERMS.models["N"], worth_estimated=("1",))
    given = batch(
        line(1, "FAN"),
        line(2, "FAN", revision="2"),
        line(3, "FAN", revision="7"),
        terms=terms(models={**TERMS.models, "N": model}),
    )
    devices = decided_devices(given, {}, lambda _line: None)

    # A value nobody gave is asked for and is no estimate.
    assert [True, False, False] == [one.decision.is_estimate for one in devices]
    assert "ask the list price and age" in devices[2].decision.reason
    asked = [any("estimate" in hold.says for hold in one.holds) for one in devices]
    assert [True, False, False] == asked


def test_a_device_is_worth_as_a_donor_what_others_would_buy() -> None:
    # Two want a fan that is not on the shelf; the third has a good one, at 10.00, and
    # its keys are wanted by nobody.
    given = batch(line(1, "FAN"), line(2, "FAN"), line(3, "BAT"))
    devices = decided_devices(given, {}, lambda _line: None)
    supply = supplied(given, devices, WhatIf())

    assert {1: 0, 2: 0, 3: 1000} == supply.as_donor_minor
    agreed = replace(TERMS, donors=Donors(use="none"))
    kept = supplied(replace(given, terms=agreed), devices, WhatIf())
    assert {1: 0, 2: 0, 3: 0} == kept.as_donor_minor
