"""Is every wrong entry set right by a new one, and does the audit stay whole?"""

import pytest
from django.test import Client

from turnscrew.web.records.convert import ledger_entry
from turnscrew.web.records.models import (
    Entry,
    OrderLine,
    Part,
    SupplierReturn,
    Waste,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import booking, goods, stock, supplier, waste
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.setting_right import (
    RightCount,
    RightOrder,
    correct_accessory,
    correct_order,
)
from web.counter_case import signed_in


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def glass(sallowmere) -> Part:
    return Part.objects.get(number="C-FN")


def facts_of(verb: str) -> dict:
    return dict(ledger_entry(Entry.objects.get(verb=verb)).facts)


def test_a_wrong_order_is_set_right(counter, glass, lead, clock) -> None:
    line = stock.order(glass, 40, by=lead, now=clock.at, cost_minor=20000)
    first = Entry.objects.get(verb="ordered")
    address = f"/stock/{glass.number}/"
    entered = {
        "act": "order_right", "row": line.pk, "n": 4, "minor": "20.00",
        "why": "a nought too many",
    }  # fmt: skip
    assert 302 == counter.post(address, entered).status_code
    again = counter.post(address, entered)
    assert 422 == again.status_code
    assert "found what stands there" in again.content.decode()

    line.refresh_from_db()
    entry = Entry.objects.get(verb="order corrected")
    assert (4, 2000) == (line.n, line.cost_minor)
    assert (first.sequence, lead.ref, "a nought too many") == (
        entry.corrects, entry.author, entry.words.text,
    )  # fmt: skip
    facts = facts_of("order corrected")
    assert (40, 20000, 4, 2000) == (
        facts["n was"], facts["minor was"], facts["n"], facts["minor"],
    )  # fmt: skip
    shown = counter.get(address).content.decode()
    assert "n was 40" in shown
    assert "minor was 200.00" in shown
    assert () == audited().breaks


def test_an_order_is_called_off_but_not_below_what_came(
    glass, lead, counter, clock
) -> None:
    by = {"by": lead, "now": clock.at}
    line = stock.order(glass, 4, cost_minor=2000, **by)
    parcel = goods.Parcel(1, "L1", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, parcel, **by)
    with pytest.raises(RefusedError, match="found 0, wanted 1 or more, as they came"):
        correct_order(line, RightOrder(n=0), words="twice", **by)
    with pytest.raises(RefusedError, match="why: found nothing"):
        correct_order(line, RightOrder(n=2), words=" ", **by)

    other = stock.order(glass, 4, cost_minor=2000, **by)
    correct_order(other, RightOrder(n=0), words="written twice", **by)
    assert OrderLine.objects.filter(pk=other.pk).exists()
    assert "called off" in counter.get(f"/stock/{glass.number}/").content.decode()
    assert () == audited().breaks


def test_a_wrong_accessory_is_set_right(counter, sallowmere, lead, clock) -> None:
    by = {"by": lead, "now": clock.at}
    job = sallowmere.jobs.get(line=4)
    one = booking.bring_accessory(sallowmere, job, "stylus", 3, **by)
    address = f"/batches/{sallowmere.ref}/accessories/"
    entered = {
        "act": "accessory_right", "row": one.pk, "n_in": 1, "why": "one, not three",
    }  # fmt: skip
    assert 302 == counter.post(address, entered).status_code

    one.refresh_from_db()
    assert (1, 1) == (one.n_in, one.n_here)
    facts = facts_of("accessory corrected")
    assert (-2, 1, 3) == (facts["n"], facts["in"], facts["in was"])
    assert "one, not three" in counter.get(address).content.decode()
    with pytest.raises(RefusedError, match="left here: found -1, wanted 0 or more"):
        correct_accessory(one, RightCount(n_out=2), words="went", **by)
    assert () == audited().breaks


def test_a_wrong_return_is_set_right_with_what_it_took(
    counter, glass, lead, clock
) -> None:
    by = {"by": lead, "now": clock.at}
    stock.move_stock(glass, "found", 5, words="counted", **by)
    before = glass.on_hand
    told = supplier.Faulty(
        3, supplier.ON_SHELF, "frame bent", "seen by eye", is_on_shelf=True
    )
    row = supplier.begin_return(glass, told, **by)
    entered = {
        "act": "return_right", "row": row.ref, "n": 1, "reason": "frame cracked",
        "why": "two are good",
    }  # fmt: skip
    assert 302 == counter.post("/stock/returns/", entered).status_code

    row.refresh_from_db()
    glass.refresh_from_db()
    assert (1, "frame cracked", before - 1) == (row.n, row.reason, glass.on_hand)
    entry = Entry.objects.get(verb="return corrected")
    # Words of people can be erased, so they stand among the words.
    assert "two are good (reason was: frame bent)" == entry.words.text
    assert 3 == facts_of("return corrected")["pieces was"]
    assert () == audited().breaks

    gone = {"act": "return_right", "row": row.ref, "n": 0, "why": "all are good"}
    assert 302 == counter.post("/stock/returns/", gone).status_code
    row.refresh_from_db()
    glass.refresh_from_db()
    assert (SupplierReturn.TAKEN_BACK, before) == (row.end, glass.on_hand)
    assert "taken back" in counter.get("/stock/returns/").content.decode()
    assert () == audited().breaks


def test_a_parcel_wrongly_rejected_may_come_in_after_all(
    counter, glass, lead, clock
) -> None:
    by = {"by": lead, "now": clock.at}
    line = stock.order(glass, 4, cost_minor=2000, **by)
    parcel = goods.Parcel(3, "L1", "bent", goods.REJECTED)
    goods.goods_in(line, parcel, **by)
    row = SupplierReturn.objects.get()
    over = {"act": "return_right", "row": row.ref, "n": 5, "why": "more"}
    assert 422 == counter.post("/stock/returns/", over).status_code
    less = {"act": "return_right", "row": row.ref, "n": 1, "why": "only one is bent"}
    assert 302 == counter.post("/stock/returns/", less).status_code

    line.refresh_from_db()
    assert (1, 3) == (line.n_rejected, line.n_open)
    assert () == audited().breaks


def test_a_wrong_end_of_a_return_is_opened_again(counter, glass, lead, clock) -> None:
    by = {"by": lead, "now": clock.at}
    told = supplier.Faulty(2, supplier.FIRST_USE, "dead", "no picture")
    row = supplier.begin_return(glass, told, **by)
    supplier.settle_return(row, "credited", minor=990, **by)
    entered = {
        "act": "return_right", "row": row.ref, "is_open_again": "on",
        "why": "credit was of another",
    }  # fmt: skip
    assert 302 == counter.post("/stock/returns/", entered).status_code
    row.refresh_from_db()
    assert ("", 0) == (row.end, row.credited_minor)
    assert ("credited", -990) == (
        facts_of("return corrected")["end was"], facts_of("return corrected")["minor"],
    )  # fmt: skip
    assert () == audited().breaks

    supplier.settle_return(row, "credited", minor=909, **by)
    assert () == audited().breaks


def test_a_wrong_line_of_waste_is_set_right(counter, sallowmere, lead, clock) -> None:
    by = {"by": lead, "now": clock.at}
    one = waste.throw_away(waste.Scrap("glass", 800, "front"), **by)
    entered = {
        "act": "waste_right", "row": one.ref, "kind": "board", "mass_g": 80,
        "why": "a nought too many",
    }  # fmt: skip
    assert 302 == counter.post("/stock/waste/", entered).status_code
    one.refresh_from_db()
    assert ("board", 80) == (one.kind, one.mass_g)
    facts = facts_of("waste corrected")
    assert (-720, 800, "glass") == (
        facts["g"], facts["mass was"], facts["kind was"],
    )  # fmt: skip
    assert "a nought too many" in counter.get("/stock/waste/").content.decode()
    assert () == audited().breaks


def test_waste_that_went_keeps_its_old_receipt_in_words(
    counter, sallowmere, lead, clock
) -> None:
    by = {"by": lead, "now": clock.at}
    one = waste.throw_away(waste.Scrap("glass", 100), **by)
    waste.let_go([one.ref], waste.Receipt("Wolder Yard", "W-1"), **by)
    entered = {
        "act": "waste_right", "row": one.ref, "receipt": "W-7", "why": "misread",
    }  # fmt: skip
    assert 302 == counter.post("/stock/waste/", entered).status_code
    one.refresh_from_db()
    assert "W-7" == one.receipt
    entry = Entry.objects.get(verb="waste corrected")
    assert "misread (receipt was: W-1)" == entry.words.text

    never = {"act": "waste_right", "row": one.ref, "is_taken_back": "on", "why": "no"}
    assert 302 == counter.post("/stock/waste/", never).status_code
    assert "never thrown away" in counter.get("/stock/waste/").content.decode()
    assert Waste.objects.filter(pk=one.pk).exists()
    assert () == audited().breaks


def test_a_used_part_is_retired_and_not_removed(counter, glass, lead, clock) -> None:
    address = f"/stock/{glass.number}/"
    gone = {"act": "retire", "is_retired": 0, "reason": "model is gone"}
    if glass.on_hand:
        held = counter.post(address, gone)
        assert 422 == held.status_code
        assert "on hand" in held.content.decode()
        stock.count(glass, 0, by=lead, now=clock.at, words="sold")
    assert 302 == counter.post(address, gone).status_code

    glass.refresh_from_db()
    assert clock.at.date() == glass.retired_on
    assert "Retired" in counter.get(address).content.decode()
    with pytest.raises(RefusedError, match="found retired on 2027-02-01"):
        stock.order(glass, 1, by=lead, now=clock.at, cost_minor=1)
    assert "<h2>Retired</h2>" in counter.get("/stock/").content.decode()
    again = {"act": "retire", "is_retired": 1, "reason": "one came back"}
    assert 302 == counter.post(address, again).status_code
    glass.refresh_from_db()
    assert glass.retired_on is None
    assert () == audited().breaks
