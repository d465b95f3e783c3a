"""Is every device decided and quoted, or asked about with the reason?"""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from small_batch import PARTS, TERMS, batch, line, terms
from turnscrew.core.batch.question import WhatIf
from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.past_job import PastJob
from turnscrew.core.model.quote import Agreed, Charge, DecidedDevice, Decision
from turnscrew.core.model.terms import Donors
from turnscrew.flows.batch.decisions import decided_devices
from turnscrew.flows.batch.supply import supplied


def decided(**part: Any) -> DecidedDevice:
    """Decide a device with a worn fan, the part changed as said."""
    parts = PARTS | {"FAN": replace(PARTS["FAN"], **part)}
    given = batch(line(1, "FAN"), parts=parts)
    (device,) = decided_devices(given, {}, no_minutes)
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
    devices = decided_devices(given, {}, no_minutes)

    # A value nobody gave is asked for and is no estimate.
    assert [True, False, False] == [one.decision.is_estimate for one in devices]
    assert "ask the list price and age" in devices[2].decision.reason
    asked = [any("estimate" in hold.says for hold in one.holds) for one in devices]
    assert [True, False, False] == asked


def test_a_device_is_worth_as_a_donor_what_others_would_buy() -> None:
    # Two want a fan that is not on the shelf; the third has a good one, at 10.00, and
    # its keys are wanted by nobody.
    given = batch(line(1, "FAN"), line(2, "FAN"), line(3, "BAT"))
    devices = decided_devices(given, {}, no_minutes)
    supply = supplied(given, devices, WhatIf())

    assert {1: 0, 2: 0, 3: 1000} == supply.as_donor_minor
    agreed = replace(TERMS, donors=Donors(use="none"))
    kept = supplied(replace(given, terms=agreed), devices, WhatIf())
    assert {1: 0, 2: 0, 3: 0} == kept.as_donor_minor


def back_again(found: str, **facts) -> tuple[BatchInput, DecidedDevice]:
    """A device mended for its keys within the promise, and what is decided of it."""
    keys = PastJob(
        family="N", end="mended", confirmed="KBD", serial="A001", parts=("KEYS",),
        day=date(2026, 12, 26), findings=(("function check-out", "passed"),),
    )  # fmt: skip
    given = batch(line(1, found), past=(keys,), **facts)
    return given, decided_devices(given, {}, no_minutes)[0]


def test_what_a_comeback_has_besides_is_charged_alone() -> None:
    given, alone = back_again("KBD")
    _, both = back_again("KBD+FAN")

    assert ("comeback", 0) == (alone.decision.code, alone.decision.quote_minor)
    # 14 minutes at 48.00 an hour and a fan at 10.00 with 30 % on it; opened anyway.
    assert ("ask", 1120 + 1300) == (both.decision.code, both.decision.quote_minor)
    assert ("KEYS", "FAN") == both.parts
    free, *charged = [charge.says for charge in both.charges]
    assert "64 min of work on the comeback, no charge" == free
    assert ["14 min of work", "fan"] == charged
    assert alone.work.mending == 64
    assert "FAN beside a comeback at no charge, class part: " in both.decision.reason
    # Asked whatever it costs: the limits would let it go, and the value would strip it.
    model = replace(TERMS.models["N"], worth={"1": 100})
    poor = replace(TERMS, models={**TERMS.models, "N": model})
    assert "ask" == back_again("KBD+FAN", terms=poor)[1].decision.code
    assert "go" == decided().decision.code


def test_a_no_to_the_rest_leaves_the_comeback() -> None:
    given, both = back_again("KBD+FAN")
    [left] = decided_devices(given, {}, no_minutes, what_if=WhatIf(answers={1: False}))
    [agreed] = decided_devices(given, {}, no_minutes, what_if=WhatIf(answers={1: True}))

    assert ("comeback", ("KBD",), ("KEYS",)) == (
        left.decision.code, left.line.found, left.parts
    )  # fmt: skip
    assert both == agreed


def test_a_no_takes_no_danger_away() -> None:
    given, _ = back_again("KBD+BAT+FAN")
    [left] = decided_devices(given, {}, no_minutes, what_if=WhatIf(answers={1: False}))

    assert ("ask", ("KBD", "BAT")) == (left.decision.code, left.line.found)
    assert {"battery"} == left.skills


def test_a_rest_without_a_price_stops_the_quote_alone() -> None:
    fan = replace(PARTS["FAN"], cost_minor=None)
    _, both = back_again("KBD+FAN", parts={**PARTS, "FAN": fan})

    assert ("ask", None) == (both.decision.code, both.decision.quote_minor)
    assert both.decision.reason.startswith("no quote yet: the cost of FAN")
    assert () == both.charges


def no_minutes(_line: BatchLine) -> None:
    """No path: the terms tell the minutes of opening."""


def as_told(**told: Any) -> tuple[str, str]:
    """Decide a device with a worn fan, which goes without asking by its figures."""
    given = batch(line(1, "FAN"))
    (device,) = decided_devices(given, {}, no_minutes, what_if=WhatIf(**told))
    assert (device.decision.code == "go") is (device.decision.flips_at_minor == 9500)
    return device.decision.code, device.decision.reason


def test_people_settle_what_the_figures_let_go() -> None:
    code, reason = as_told()
    assert ("go", "within both limits") == (code, reason)

    no = ("ask", "the customer said no to a dearer quote: ask again")
    assert no == as_told(said_no=frozenset({1}))
    waits = ("ask", "the customer was asked, and has not answered yet")
    assert waits == as_told(waiting=frozenset({1}))
    # Of both the no came first: it was asked about again since.
    assert no == as_told(said_no=frozenset({1}), waiting=frozenset({1}))
    assert (code, reason) == as_told(said_no=frozenset({2}), waiting=frozenset({2}))


def test_what_is_asked_about_anyway_keeps_its_reason() -> None:
    parts = PARTS | {"FAN": replace(PARTS["FAN"], cost_minor=None)}
    given = batch(line(1, "FAN"), parts=parts)
    for told in ({}, {"said_no": frozenset({1})}, {"waiting": frozenset({1})}):
        (device,) = decided_devices(given, {}, no_minutes, what_if=WhatIf(**told))
        assert "no quote yet: the cost of FAN is not known" in device.decision.reason


def test_what_was_agreed_is_kept_only_where_it_differs() -> None:
    given = batch(line(1, "FAN"))
    (now,) = decided_devices(given, {}, no_minutes)

    then = replace(now.decision, reason="as agreed in May")

    def agreed(was: Decision, charges: tuple[Charge, ...]) -> DecidedDevice:
        told = WhatIf(as_agreed={1: Agreed(was, charges)})
        (device,) = decided_devices(given, {}, no_minutes, what_if=told)
        return device

    assert now == agreed(then, now.charges)
    cheaper = agreed(replace(then, quote_minor=100), now.charges)
    assert (100, then.reason) == (cheaper.decision.quote_minor, cheaper.decision.reason)
    (first, *rest) = now.charges
    otherwise = (replace(first, says="as it was called then"), *rest)
    assert replace(now, decision=then, charges=otherwise) == agreed(then, otherwise)
    # What a comeback costs is nothing, whatever lines it was once agreed with.
    free = replace(then, code="comeback", quote_minor=0)
    assert free == agreed(free, now.charges).decision


def test_what_was_taken_as_a_donor_is_a_strip_whatever_it_would_cost() -> None:
    given = replace(
        batch(line(1, "FAN"), line(2, "FAN"), line(3, "NFF")),
        pieces_left={1: ("KEYS",), 3: ("KEYS",)},
    )

    taken, other, trial = decided_devices(given, {}, no_minutes)

    assert ("strip", "taken as a donor") == (
        taken.decision.code, taken.decision.reason,
    )  # fmt: skip
    assert ["go", "no_fault_found"] == [one.decision.code for one in (other, trial)]
