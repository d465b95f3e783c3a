"""Does a batch bring, credit and cost just what its devices and pieces make?"""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from small_batch import PARTS, PEOPLE, line, terms
from turnscrew.core.model.quote import Charge, DecidedDevice, Decision, Work
from turnscrew.core.model.terms import Tax
from turnscrew.core.price.account import (
    Account,
    InvoiceItem,
    PartUse,
    account_of,
    billed,
    pay_minor,
)

UNDER = terms(
    taxes=(Tax("work", Decimal(20), ("labour",)), Tax("goods", Decimal(7), ("parts",)))
)
MENDED = (Charge("labour", "64 min of work", 5120, 1024, 64),)
# 10.00 and 30.00 with 30 % on top, and 7 % tax on each.
FAN = Charge("parts", "fan", 1300, 91, part="FAN")
KEYS = Charge("parts", "keys", 3900, 273, part="KEYS")


def device(number: int, code: str, *charges: Charge) -> DecidedDevice:
    return DecidedDevice(
        line=line(number), work=Work(receive=12, finish=14, strip=24), parts=(),
        decision=Decision(code, "", 0), charges=charges,
        skills=frozenset(), holds=(), past=None,
    )  # fmt: skip


def items_of(*devices: DecidedDevice, uses: tuple[PartUse, ...] = ()):
    return billed(devices, uses, UNDER, PARTS)


def test_a_mended_device_pays_its_lines_and_a_comeback_none() -> None:
    first, second = items_of(device(1, "go", *MENDED), device(2, "comeback", *MENDED))

    assert (MENDED, ()) == (first.charges, first.credits)
    assert ((), ()) == (second.charges, second.credits)


def test_a_strip_pays_its_receiving_alone() -> None:
    (item,) = items_of(device(3, "strip", *MENDED))

    # 12 min at 48.00 an hour with the mark-up on nothing: 9.60, 20 % of it 1.92.
    assert (Charge("labour", "diagnosis, 12 min", 960, 192, 12),) == item.charges


def test_a_donor_is_credited_what_its_part_was_billed_at() -> None:
    uses = (PartUse(1, "FAN", donor=3), PartUse(1, "PACK"), PartUse(1, "KEYS", 3))
    mended, strip = items_of(
        device(1, "go", *MENDED, FAN, KEYS), device(3, "strip"), uses=uses
    )

    assert () == mended.credits
    assert strip.credits == (
        Charge("parts", "credit: fan, used for device 1", -1300, -91, 1, "FAN"),
        Charge("parts", "credit: keys, used for device 1", -3900, -273, 1, "KEYS"),
    )


def test_what_a_comeback_used_earns_no_credit() -> None:
    uses = (PartUse(1, "FAN", donor=3), PartUse(2, "FAN", donor=3))
    items = items_of(
        device(1, "comeback", FAN), device(2, "go", FAN), device(3, "strip"), uses=uses
    )

    assert ["credit: fan, used for device 2"] == [one.says for one in items[2].credits]


def test_a_piece_that_nobody_pays_for_earns_no_credit() -> None:
    uses = tuple(PartUse(n, "FAN", donor=3) for n in (1, 2, 2, 9))
    *_, strip = items_of(
        device(1, "ask"), device(2, "go", FAN), device(3, "strip"), uses=uses
    )

    # Device 1 has no price yet, 2 pays for one of two, and 9 is not billed at all.
    assert ["credit: fan, used for device 2"] == [one.says for one in strip.credits]


def test_the_sums_of_a_batch_by_hand() -> None:
    uses = (PartUse(1, "FAN", donor=3), PartUse(1, "PACK"), PartUse(4, "FRAME"))
    items = items_of(
        device(1, "go", *MENDED, FAN),
        device(2, "no_fault_found", Charge("labour", "trial", 1200, 240, 15)),
        device(3, "strip"),
        device(4, "ask", Charge("parts", "glass", 5200, 364)),
        uses=uses,
    )
    account = account_of(items, uses, PARTS, 7000)

    assert account == Account(
        repairs_minor=5120 + 1300 + 5200,
        strip_diagnosis_minor=960,
        no_fault_found_minor=1200,
        donor_credit_minor=1300,
        tax_minor=1024 + 91 + 240 + 192 + 364 - 91,
        parts_cost_minor=2000 + 240,
        labour_minor=7000,
    )
    assert 13780 == account.total_minor
    assert 12480 == account.invoice_minor
    assert 12480 - 2240 - 7000 == account.margin_minor


def test_a_part_without_a_price_costs_and_credits_nothing() -> None:
    unpriced = {"FAN": PARTS["FAN"].__class__("FAN", "fan", "N")}
    uses = (PartUse(1, "FAN", donor=3), PartUse(1, "FAN"))
    free = Charge("parts", "fan", 0, part="FAN")
    devices = [device(1, "go", free), device(3, "strip")]
    _, item = billed(devices, uses, UNDER, unpriced)

    assert [0] == [one.net_minor for one in item.credits]
    assert 0 == account_of([item], uses, unpriced, 0).parts_cost_minor


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["go", "ask", "strip", "comeback", "no_fault_found"]),
            st.lists(st.integers(1, 99_999), max_size=4),
            st.lists(st.integers(1, 9_999), max_size=3),
        ),
        max_size=8,
    )
)
def test_nothing_is_lost_or_counted_twice(made) -> None:
    items = [
        InvoiceItem(
            device(number, code),
            tuple(Charge("parts", "", net, net // 5) for net in nets),
            tuple(Charge("parts", "", -net, -(net // 5)) for net in back),
        )
        for number, (code, nets, back) in enumerate(made, 1)
    ]
    account = account_of(items, (), PARTS, 0)

    lines = [net for _, nets, _ in made for net in nets]
    credits = [net for _, _, back in made for net in back]
    assert sum(lines) == account.total_minor
    assert sum(credits) == account.donor_credit_minor
    assert sum(lines) - sum(credits) == account.invoice_minor
    taxes = [net // 5 for net in lines], [net // 5 for net in credits]
    assert sum(taxes[0]) - sum(taxes[1]) == account.tax_minor

    def of(code: str) -> int:
        return sum(sum(nets) for one, nets, _ in made if one == code)

    assert of("strip") == account.strip_diagnosis_minor
    assert of("no_fault_found") == account.no_fault_found_minor


def test_pay_is_rounded_once_for_each_person() -> None:
    worked = {"lead": Fraction(1, 3), "helper": Fraction(100)}

    # A third of a minute at 27.00 an hour is .15, 100 min at 21.00 are 35.00.
    assert 15 + 3500 == pay_minor(worked, PEOPLE)
