"""Does nothing pass a limit, and is an unclear limit asked about?"""

from decimal import Decimal

import pytest

from small_batch import batch, line, terms
from turnscrew.core.model.terms import Tax, Terms
from turnscrew.core.price.limits import Running, running_sums, unclear_limits
from turnscrew.flows.batch.decisions import decided_devices

TAX = (Tax("all", Decimal(20)),)
# A worn fan: 56 min at 48.00 an hour and a part at 10.00 x 1.30, before tax.
FAN_MINOR = 4480 + 1300


def decided(under: Terms, n: int = 1) -> tuple:
    given = batch(*(line(i + 1, "FAN") for i in range(n)), terms=under)
    return decided_devices(given, {}, lambda _line: None)


@pytest.mark.parametrize(
    ("facts", "told"),
    [
        ({}, ""),
        ({"taxes": TAX}, "with or without tax: ask"),
        ({"taxes": TAX, "limits_with_tax": False}, ""),
        ({"taxes": TAX, "limits_with_tax": True}, ""),
        ({"limit_currency": "kr"}, "limits are in kr and the prices in cu: ask"),
        ({"limit_currency": "cu"}, ""),
        ({"taxes": TAX, "ask_limit_minor": None}, ""),
        ({"taxes": TAX, "ask_limit_minor": None, "day_limit_minor": 1}, "without tax"),
    ],
)
def test_it_asks_about_a_limit_that_is_not_clear(facts, told) -> None:
    under = terms(**facts)

    assert told in unclear_limits(under)
    assert bool(told) == bool(unclear_limits(under))
    if told and under.ask_limit_minor is not None:
        (device,) = decided(under)
        assert ("ask", unclear_limits(under)) == (
            device.decision.code, device.decision.reason,
        )  # fmt: skip


@pytest.mark.parametrize(
    ("with_tax", "limit_minor", "code"),
    [
        # 57.80 before tax are 69.36 with it, each line rounded by itself.
        (False, FAN_MINOR, "go"),
        (False, FAN_MINOR - 1, "ask"),
        (True, FAN_MINOR, "ask"),
        (True, 6936, "go"),
        (True, 6935, "ask"),
    ],
)
def test_tax_counts_against_a_limit_as_was_said(with_tax, limit_minor, code) -> None:
    under = terms(taxes=TAX, limits_with_tax=with_tax, ask_limit_minor=limit_minor)
    (device,) = decided(under)

    assert code == device.decision.code
    flips = device.decision.flips_at_minor
    assert flips is not None
    # Held against the quote before tax, the figure tells which way it goes.
    assert (code == "go") == (FAN_MINOR <= flips)


def test_the_running_sum_keeps_to_the_cap_and_is_told() -> None:
    under = terms(batch_limit_minor=2 * FAN_MINOR + 100)
    devices = decided(under, 3)

    assert ["go", "go", "ask"] == [device.decision.code for device in devices]
    (running,) = running_sums(devices, under)
    assert Running("the batch", 2 * FAN_MINOR, 2 * FAN_MINOR + 100) == running
    assert 100 == running.left_minor


def test_a_cap_with_tax_is_filled_by_amounts_with_tax() -> None:
    under = terms(
        taxes=TAX,
        limits_with_tax=True,
        batch_limit_minor=2 * 6936,
        day_limit_minor=6936,
    )
    devices = decided(under, 3)

    assert ["go", "ask", "ask"] == [device.decision.code for device in devices]
    assert [6936, 6936] == [one.taken_minor for one in running_sums(devices, under)]
    assert devices[1].decision.flips_at_minor == 0
    assert "69.36 of 69.36 taken" in devices[1].decision.reason


def test_without_a_cap_the_sum_is_told_all_the_same() -> None:
    devices = decided(terms(), 2)

    (running,) = running_sums(devices, terms())
    assert (2 * FAN_MINOR, None) == (running.taken_minor, running.left_minor)
