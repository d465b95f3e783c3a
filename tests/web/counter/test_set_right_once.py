"""Does what hangs on a wrong movement of pieces follow it, once and not twice?"""

import pytest
from django.test import Client

from turnscrew.core.model.calendar import Calendar
from turnscrew.web.records.models import (
    Allotment,
    DonorPart,
    Entry,
    Job,
    OrderLine,
    Part,
    SupplierReturn,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.order_today import leads_seen
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.supplier_page import lots_not_used
from turnscrew.web.records.services import (
    goods,
    kitting,
    movement_back,
    stock,
    supplier,
)
from turnscrew.web.records.services.handing_back import closing_refusals
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.setting_right import (
    RightOrder,
    RightReturn,
    correct_order,
    correct_return,
)
from web.counter_case import signed_in


@pytest.fixture
def told(lead, clock) -> dict:
    return {"by": lead, "now": clock.at}


@pytest.fixture
def counter(lead, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def fan(sallowmere) -> Part:
    return Part.objects.get(number="C-FN")


def newest(verb: str, part: Part) -> int:
    rows = Entry.objects.filter(journal="stock", verb=verb, subject=part.ref)
    return rows.order_by("-sequence")[0].sequence


def on_hand(part: Part) -> int:
    return Part.objects.get(pk=part.pk).on_hand


def faulty(part: Part, told: dict) -> SupplierReturn:
    """Send two fans back that lay on the shelf."""
    seen = supplier.Faulty(
        2, supplier.ON_SHELF, "dead", "seen by eye", supplier.EXCHANGE, is_on_shelf=True
    )
    return supplier.begin_return(part, seen, **told)


def test_what_did_not_come_is_still_on_order(counter, fan, told) -> None:
    line = stock.order(fan, 10, cost_minor=2000, **told)
    ten = goods.Parcel(10, "L1", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, ten, **told)
    entered = {"act": "correct", "sequence": newest("received", fan), "why": "one came"}

    assert 302 == counter.post(f"/stock/{fan.number}/", entered).status_code

    line.refresh_from_db()
    assert (0, 10) == (line.n_received, line.n_open)
    one = goods.Parcel(1, "L1", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, one, **told)
    correct_order(line, RightOrder(n=1), words="no more to come", **told)
    assert 0 == OrderLine.objects.get(pk=line.pk).n_open
    assert () == audited().breaks


def test_what_takes_another_back_is_not_taken_back(counter, fan, told) -> None:
    line = stock.order(fan, 10, cost_minor=2000, **told)
    ten = goods.Parcel(10, "L1", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, ten, **told)
    movement_back.correct(fan, newest("received", fan), words="none came", **told)
    entered = {"act": "correct", "sequence": newest("lost", fan), "why": "they did"}

    answer = counter.post(f"/stock/{fan.number}/", entered)

    assert 422 == answer.status_code
    assert "found one that takes another back" in answer.content.decode()
    assert 10 == OrderLine.objects.get(pk=line.pk).n_open


@pytest.mark.parametrize(
    ("is_wanted", "has_left", "wanted"),
    [(True, False, "promised"), (False, False, "released"), (True, True, "released")],
)
def test_the_wish_of_what_was_not_used_waits_again(
    sallowmere, fan, told, clock, is_wanted, has_left, wanted
) -> None:
    job = sallowmere.jobs.get(line=8)
    wish = stock.promise(fan, job, **told) if is_wanted else None
    clock.move_on(minutes=5)
    told = told | {"now": clock.at}
    used = stock.take(fan, job, **told)
    assert wish in (None, used)
    if has_left:
        Job.objects.filter(pk=job.pk).update(state="handed back")
    before = on_hand(fan)

    movement_back.correct(fan, newest("used", fan), words="put back", **told)

    used.refresh_from_db()
    assert (wanted, None, before + 1) == (used.state, used.used_at, on_hand(fan))
    assert [] == [one for one in audited().breaks if "part" in one.where]


def test_what_a_donor_did_not_give_is_still_its_own(sallowmere, fan, told) -> None:
    stock.count(fan, 0, words="an empty box", **told)
    now = told["now"]
    kitting.declare_donor(
        sallowmere.jobs.get(line=14), reckoned(sallowmere, now), **told
    )
    piece = DonorPart.objects.get(part=fan)
    wish = stock.want(fan, sallowmere.jobs.get(line=8), **told)
    kitting.test_donor_part(piece, is_good=True, how="runs", **told)
    kitting.fit(wish.job, **told)

    movement_back.correct(fan, newest("used", fan), words="it is still in", **told)

    wish.refresh_from_db()
    piece.refresh_from_db()
    assert (Allotment.PROMISED, piece) == (wish.state, wish.donor_part)
    assert (DonorPart.GOOD, 0) == (piece.state, on_hand(fan))
    kitting.fit(wish.job, **told)
    assert 0 == on_hand(fan)
    assert () == audited().breaks


def test_nothing_comes_back_to_the_shelf_twice(fan, told) -> None:
    before = on_hand(fan)
    row = faulty(fan, told)
    movement_back.correct(fan, newest("returned", fan), words="were good", **told)
    assert before == on_hand(fan)

    correct_return(row, RightReturn(n=0), words="were good", **told)

    assert before == on_hand(fan)
    with pytest.raises(RefusedError, match="found one taken back already"):
        movement_back.correct(fan, newest("returned", fan), words="again", **told)
    assert () == audited().breaks


def test_an_exchange_opened_again_is_called_off(fan, told) -> None:
    row = faulty(fan, told)
    supplier.settle_return(row, "exchanged", **told)
    swap = OrderLine.objects.get(part=fan)
    assert (2, 0) == (swap.n_open, swap.cost_minor)

    again = RightReturn(is_open_again=True)
    correct_return(row, again, words="it was credited", **told)

    swap.refresh_from_db()
    assert swap.is_called_off
    supplier.settle_return(row, "credited", minor=500, **told)
    assert 0 == sum(one.n_open for one in fan.orders.all())
    assert () == audited().breaks


def test_an_exchange_that_came_in_is_not_opened_again(fan, told) -> None:
    row = faulty(fan, told)
    supplier.settle_return(row, "exchanged", **told)
    swap = OrderLine.objects.get(part=fan)
    goods.goods_in(swap, goods.Parcel(1, "L2", "as known", goods.ACCEPTED), **told)

    with pytest.raises(RefusedError, match="exchange: found 1 come in already"):
        correct_return(
            row, RightReturn(is_open_again=True), words="it was credited", **told
        )

    row.refresh_from_db()
    assert ("exchanged", 1) == (row.end, OrderLine.objects.get(pk=swap.pk).n_open)


def test_an_order_set_right_leaves_its_receipt_to_be_taken_back(fan, told) -> None:
    line = stock.order(fan, 10, cost_minor=2000, **told)
    ten = goods.Parcel(10, "L1", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, ten, **told)
    line.refresh_from_db()
    correct_order(line, RightOrder(cost_minor=2100), words="typed wrong", **told)

    movement_back.correct(fan, newest("received", fan), words="none came", **told)

    assert 10 == OrderLine.objects.get(pk=line.pk).n_open
    corrected = Entry.objects.get(
        journal="stock", sequence=newest("order corrected", fan)
    )
    assert newest("ordered", fan) == corrected.corrects
    assert () == audited().breaks


def test_storage_that_was_not_exchanged_keeps_nothing_open(sallowmere, told) -> None:
    part = Part.objects.get(number="C-SD")
    job = sallowmere.jobs.filter(model="L240").first()
    stock.promise(part, job, **told)
    kitting.fit(job, **told)
    assert [""] == [one.end for one in job.data_parts.all()]
    assert any(fit.is_fact for fit in part.fits.all())

    movement_back.correct(part, newest("used", part), words="another one", **told)

    assert ["kept in"] == [one.end for one in job.data_parts.all()]
    assert not any(fit.is_fact for fit in part.fits.all())
    assert not [why for why in closing_refusals(sallowmere) if "with data" in why]
    assert () == audited().breaks


def test_a_fit_is_proven_by_another_device_of_the_kind(sallowmere, told) -> None:
    part = Part.objects.get(number="C-SD")
    first, second = sallowmere.jobs.filter(model="L240", revision="A")[:2]
    for job in (first, second):
        stock.move_by_hand(part, "found", 1, words="in a drawer", **told)
        kitting.take_and_fit(part, job, **told)
    (fit,) = part.fits.all()
    assert first == fit.job
    used = Entry.objects.filter(journal="stock", verb="used", subject=part.ref)

    wrong = used.order_by("sequence")[0].sequence
    movement_back.correct(part, wrong, words="another one", **told)

    (fit,) = part.fits.all()
    assert (second, True) == (fit.job, fit.is_fact)


def test_the_lot_of_a_receipt_taken_back_never_came(fan, told, clock) -> None:
    Part.objects.filter(pk=fan.pk).update(supplier="Wolder Parts")
    fan.refresh_from_db()
    line = stock.order(fan, 10, cost_minor=2000, **told)
    told = told | {"now": clock.move_on(days=7)}
    parcel = goods.Parcel(4, "L1", "as the known one", goods.ACCEPTED)
    right, wrong = (goods.goods_in(line, parcel, **told) for _ in range(2))
    second = newest("received", fan)
    assert {"Wolder Parts": 5} == leads_seen(Calendar())

    movement_back.correct(fan, second, words="told twice", **told)

    right.refresh_from_db()
    wrong.refresh_from_db()
    assert ("accepted", "taken back") == (right.outcome, wrong.outcome)
    assert [right] == lots_not_used()
    came = Entry.objects.filter(verb="received", facts__contains=line.ref)
    first = came.order_by("sequence")[0].sequence
    movement_back.correct(fan, first, words="nor that", **told)
    assert {} == leads_seen(Calendar())


def test_nobody_is_asked_to_call_off_what_is_called_off(counter, fan, told) -> None:
    row = faulty(fan, told)
    supplier.settle_return(row, "exchanged", **told)
    entered = {
        "act": "return_right", "row": row.ref, "is_open_again": "on", "why": "credited",
    }  # fmt: skip

    page = counter.post("/stock/returns/", entered, follow=True).content.decode()

    assert OrderLine.objects.get(part=fan).is_called_off
    assert "call the order of the exchange off" not in page
