"""Do faulty pieces go back to the supplier, and read as lost once their day passed?"""

from datetime import date, timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from PIL import Image

from turnscrew.core.ledger.balance import Balance
from turnscrew.web.records.models import (
    Entry,
    Lot,
    OrderLine,
    Part,
    PartPhoto,
    SupplierReturn,
)
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.supplier_page import return_sums, stand_of
from turnscrew.web.records.services import goods, stock, supplier
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.setting_right import RightReturn, correct_return
from web.counter_case import signed_in

MOST_QUERIES = 16
PAGE = "/stock/returns/"


def picture() -> bytes:
    file = BytesIO()
    Image.effect_noise((320, 240), 90).convert("RGB").save(file, "PNG")
    return file.getvalue()


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def glass(sallowmere) -> Part:
    return Part.objects.get(number="C-FN")


@pytest.fixture
def parcel(glass, lead, now) -> OrderLine:
    return stock.order(glass, 4, by=lead, now=now, cost_minor=2000)


def rejected(parcel, lead, now, send_by: date | None = None) -> SupplierReturn:
    told = goods.Parcel(
        3, "L1", "frame bent against the known one", goods.REJECTED,
        asked="exchange", send_by=send_by,
    )  # fmt: skip
    goods.goods_in(parcel, told, by=lead, now=now)
    return SupplierReturn.objects.latest("id")


def verbs(part: Part) -> list[str]:
    rows = Entry.objects.filter(journal="stock", subject=part.ref).order_by("sequence")
    return list(rows.values_list("verb", flat=True))


def test_it_begins_with_what_is_rejected_at_goods_in(
    counter, parcel, glass, clock
) -> None:
    entered = {
        "act": "book", "order": parcel.ref, "n": 3, "lot": "L1",
        "marks_seen": "frame bent", "outcome": "rejected", "asked": "credit",
        "send_by": "2027-02-10",
    }  # fmt: skip
    before = glass.on_hand
    assert 302 == counter.post("/stock/goods-in/", entered).status_code

    one = SupplierReturn.objects.get()
    glass.refresh_from_db()
    assert (3, "goods-in", "frame bent", "credit", date(2027, 2, 10)) == (
        one.n, one.stage, one.reason, one.asked, one.deadline,
    )  # fmt: skip
    # Three of four at 20.00 together.
    assert 1500 == one.expected_minor
    assert before == glass.on_hand
    assert ["compared", "faulty"] == verbs(glass)[-2:]
    assert () == audited().breaks
    page = counter.get(PAGE).content.decode()
    assert "to be sent back" in page
    assert "frame bent" in page


def test_it_takes_what_failed_at_first_use_off_the_shelf(
    counter, glass, sallowmere, clock
) -> None:
    job = sallowmere.jobs.get(line=4)
    photo = SimpleUploadedFile("fault.png", picture())
    entered = {
        "act": "begin", "number": "c-fn", "n": 2, "stage": "first use",
        "job": job.number, "reason": "dead line in the picture", "evidence": "",
        "photo": photo, "on_shelf": "on", "asked": "exchange",
        "deadline": "2027-02-20", "expected_minor": "12.50",
    }  # fmt: skip
    before = glass.on_hand
    assert 302 == counter.post(PAGE, entered).status_code

    glass.refresh_from_db()
    one = SupplierReturn.objects.get()
    assert before - 2 == glass.on_hand
    assert (job, 1250, "exchange") == (one.job, one.expected_minor, one.asked)
    shown = PartPhoto.objects.get()
    assert (one, "fault") == (shown.supplier_return, shown.side)
    answer = counter.get(f"/stock/part-photos/{shown.ref}/shown/")
    assert "image/webp" == answer["Content-Type"]
    assert shown.ref in counter.get(PAGE).content.decode()
    assert () == audited().breaks


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"evidence": ""}, "evidence: found none, wanted a photo, or in words"),
        ({"reason": ""}, "What is wrong with it"),
        ({"number": "NONE-1"}, "part: found no NONE-1"),
        ({"job": "270201056X"}, "device: found no 270201056X"),
    ],
)
def test_it_begins_nothing_that_nobody_can_prove(
    counter, glass, clock, changed, reason
) -> None:
    entered = {
        "act": "begin", "number": "C-FN", "n": 1, "stage": "first use",
        "reason": "bent", "evidence": "will not sit", "asked": "credit", **changed,
    }  # fmt: skip
    answer = counter.post(PAGE, entered)

    assert 422 == answer.status_code
    assert reason in answer.content.decode()
    assert "will not sit" in answer.content.decode() or "evidence" in changed
    assert not SupplierReturn.objects.exists()


def test_it_reads_as_a_loss_once_its_day_passed(parcel, lead, now, clock) -> None:
    one = rejected(parcel, lead, now, now.date() + timedelta(days=2))
    last_day, after = (now.date() + timedelta(days=n) for n in (2, 3))

    assert "to be sent back" == stand_of(one, last_day).stands
    assert stand_of(one, after).is_lost
    assert (1500, 0) == (
        return_sums(last_day).pending_minor,
        return_sums(last_day).lost_minor,
    )
    assert (0, 1500, 3) == (
        return_sums(after).pending_minor,
        return_sums(after).lost_minor,
        return_sums(after).n_lost,
    )
    supplier.send_back(one, credit_by=now.date() + timedelta(days=30), by=lead, now=now)
    one.refresh_from_db()
    assert "sent, exchange awaited" == stand_of(one, after).stands
    assert stand_of(one, now.date() + timedelta(days=31)).is_lost


def test_it_is_on_the_page_of_the_morning_while_a_day_nears(
    counter, parcel, lead, now, clock
) -> None:
    one = rejected(parcel, lead, now, now.date() + timedelta(days=20))
    link = f"#return-{one.ref}"
    assert link not in counter.get("/").content.decode()

    clock.move_on(days=13, hours=1)
    near = signed_in(lead).get("/").content.decode()
    assert link in near
    assert "to be sent back" in near
    clock.move_on(days=8)
    assert "loss: the day passed" in signed_in(lead).get("/").content.decode()


def test_a_missing_day_is_asked_for_every_morning(
    counter, parcel, lead, now, clock
) -> None:
    rejected(parcel, lead, now)

    assert "no deadline known" in counter.get("/").content.decode()


def test_it_keeps_credit_and_what_is_written_off(
    counter, parcel, lead, now, glass, clock
) -> None:
    one = rejected(parcel, lead, now, now.date())
    name = f"settle-{one.ref}"
    bare = {"act": name, "end": "credited", "minor": "", "why": ""}
    assert 422 == counter.post(PAGE, bare).status_code
    no_reason = {**bare, "end": "written off"}
    assert 422 == counter.post(PAGE, no_reason).status_code
    assert 302 == counter.post(PAGE, {**bare, "minor": "14.00"}).status_code

    one.refresh_from_db()
    assert ("credited", 1400, now.date()) == (one.end, one.credited_minor, one.ended_on)
    assert "credited" == verbs(glass)[-1]
    assert () == audited().breaks
    sums = return_sums(now.date())
    assert 0 < sums.n_ended == sums.n
    with pytest.raises(RefusedError, match="found credited already"):
        supplier.settle_return(one, "written off", by=lead, now=now, words="no")


def test_what_is_exchanged_comes_through_goods_in(
    parcel, lead, now, glass, clock
) -> None:
    one = rejected(parcel, lead, now)
    before = glass.on_hand
    supplier.settle_return(one, "exchanged", by=lead, now=now)

    new = OrderLine.objects.latest("id")
    glass.refresh_from_db()
    assert (3, 0, before) == (new.n_open, new.cost_minor, glass.on_hand)
    goods.goods_in(new, goods.Parcel(3, "", "alike", goods.ACCEPTED), by=lead, now=now)
    glass.refresh_from_db()
    assert before + 3 == glass.on_hand
    assert () == audited().breaks


def test_the_audit_finds_credit_that_no_entry_tells_of(parcel, lead, now) -> None:
    one = rejected(parcel, lead, now)
    SupplierReturn.objects.filter(pk=one.pk).update(end="credited", credited_minor=5)

    told = [str(one.where) for one in audited().breaks]
    assert [f"pieces owed on return {one.ref}", f"credit of return {one.ref}"] == told
    assert {} == Balance().at_supplier


def test_it_shows_no_amounts_to_the_helper(parcel, lead, helper, now, clock) -> None:
    one = rejected(parcel, lead, now)
    at_bench = signed_in(helper)
    page = at_bench.get(PAGE).content.decode()

    assert "15.00" not in page
    assert "to be sent back" in page or "no deadline known" in page
    entered = {"act": f"settle-{one.ref}", "end": "exchanged"}
    assert 404 == at_bench.post(PAGE, entered).status_code
    supplier.settle_return(one, "credited", by=lead, now=now, minor=1234)
    assert "12.34" not in at_bench.get("/stock/C-FN/").content.decode()


def test_it_asks_little_however_many_there_are(
    counter, glass, lead, now, clock
) -> None:
    counts = []
    for n in (2, 20):
        for _ in range(n):
            told = supplier.Faulty(1, supplier.FIRST_USE, "bent", "seen")
            supplier.begin_return(glass, told, by=lead, now=now)
        with CaptureQueriesContext(connection) as asked:
            assert 200 == counter.get(PAGE).status_code
        counts.append(len(asked))

    assert counts[0] == counts[1]
    assert counts[1] <= MOST_QUERIES


# --- goods-in ---------------------------------------------------------------


def test_pieces_without_marks_are_kept_by_photos_of_both_sides(
    counter, parcel, glass, clock
) -> None:
    entered = {
        "act": "book", "order": parcel.ref, "n": 4, "lot": "L2",
        "marks_seen": "looks alike", "outcome": "accepted", "no_marks": "on",
        "front": SimpleUploadedFile("f.png", picture()),
    }  # fmt: skip
    answer = counter.post("/stock/goods-in/", entered)
    page = answer.content.decode()
    assert 422 == answer.status_code
    assert "photos: found front of pieces without marks, wanted front and back" in page
    assert 'value="looks alike"' in page
    assert not Lot.objects.exists()
    assert not PartPhoto.objects.exists()

    both = {
        side: SimpleUploadedFile(f"{side}.png", picture()) for side in ("front", "back")
    }
    assert 302 == counter.post("/stock/goods-in/", {**entered, **both}).status_code
    lot = Lot.objects.get()
    assert ["front", "back"] == list(lot.photos.values_list("side", flat=True))


def test_something_else_than_a_photo_is_refused(parcel, lead, now) -> None:
    told = goods.Parcel(
        1, "", "alike", goods.ACCEPTED, photos={"front": b"no picture at all"}
    )
    with pytest.raises(RefusedError, match="front: photo: found something else"):
        goods.goods_in(parcel, told, by=lead, now=now)
    assert not Lot.objects.exists()


def test_the_first_piece_of_a_lot_proves_itself(
    counter, parcel, glass, lead, now
) -> None:
    goods.goods_in(
        parcel, goods.Parcel(4, "L3", "alike", goods.ACCEPTED), by=lead, now=now
    )
    lot = Lot.objects.get()
    assert "First use still to be written" in counter.get(
        "/stock/goods-in/"
    ).content.decode()  # fmt: skip
    entered = {"act": "use", "lot": lot.pk, "is_good": "no", "how": "no picture"}
    answer = counter.post("/stock/goods-in/", entered)
    assert (302, PAGE) == (answer.status_code, answer["Location"])
    assert 422 == counter.post("/stock/goods-in/", entered).status_code

    lot.refresh_from_db()
    assert ("failed", now.date()) == (lot.first_use, lot.first_used_on)
    assert "first use failed: no picture" in counter.get(
        f"/stock/{glass.number}/"
    ).content.decode()  # fmt: skip
    assert "first use" == verbs(glass)[-1]
    with pytest.raises(RefusedError, match="test: found nothing"):
        other = Lot.objects.create(
            part=glass, name="L4", n=1, outcome="accepted", received_on=now.date()
        )
        goods.write_first_use(other, is_good=True, by=lead, now=now, how=" ")


def test_a_known_one_is_there_to_compare_with(counter, parcel, glass) -> None:
    before = counter.get("/stock/goods-in/").content.decode()
    assert "No photo of a known one" in before
    entered = {
        "act": "known", "marks": "three dots beside the plug",
        "front": SimpleUploadedFile("f.png", picture()),
    }  # fmt: skip
    assert 302 == counter.post(f"/stock/{glass.number}/", entered).status_code

    page = counter.get("/stock/goods-in/").content.decode()
    photo = PartPhoto.objects.get()
    assert photo.is_known_good
    assert f"/stock/part-photos/{photo.ref}/small/" in page
    assert "Marks to find: three dots beside the plug" in page
    assert 404 == counter.get(f"/stock/part-photos/{photo.ref}/original/").status_code


def came(glass: Part, n: int, cost_minor: int, lead, now) -> OrderLine:
    line = stock.order(glass, n, by=lead, now=now, cost_minor=cost_minor)
    told = goods.Parcel(n, "L2", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, told, by=lead, now=now)
    return line


def begun(counter, n: int) -> SupplierReturn:
    entered = {
        "act": "begin", "number": "C-FN", "n": n, "stage": "first use",
        "reason": "dead", "evidence": "no light", "asked": "credit",
    }  # fmt: skip
    assert 302 == counter.post(PAGE, entered).status_code
    return SupplierReturn.objects.latest("id")


def test_the_credit_is_the_price_paid_not_that_of_the_list(
    counter, glass, lead, clock
) -> None:
    came(glass, 10, 7_000, lead, clock.at)

    # By hand: 7.00 each was paid, 9.80 is the price of the list.
    assert 1_400 == begun(counter, 2).expected_minor


def test_a_credit_reckoned_from_the_pieces_follows_them(
    counter, glass, lead, clock
) -> None:
    made = begun(counter, 5)
    assert 4_900 == made.expected_minor
    fewer = RightReturn(n=2)
    correct_return(made, fewer, by=lead, now=clock.at, words="two alone")

    made.refresh_from_db()
    assert 1_960 == made.expected_minor == return_sums(clock.at.date()).pending_minor
    agreed = RightReturn(expected_minor=1_500)
    correct_return(made, agreed, by=lead, now=clock.at, words="as agreed")
    correct_return(made, RightReturn(n=1), by=lead, now=clock.at, words="one alone")
    made.refresh_from_db()
    assert 1_500 == made.expected_minor


@pytest.mark.parametrize("is_retired", [False, True])
def test_what_is_bought_no_more_still_comes_in_exchange(
    is_retired, parcel, glass, lead, now
) -> None:
    one = rejected(parcel, lead, now)
    stock.keep_sold(glass, is_sold=False, now=now)
    # So it may stand in records that were written before.
    Part.objects.filter(pk=glass.pk).update(retired_on=now if is_retired else None)

    supplier.settle_return(one, "exchanged", by=lead, now=now)

    line = OrderLine.objects.latest("id")
    assert (glass, 3, 0) == (line.part, line.n, line.cost_minor)
    goods.goods_in(
        line, goods.Parcel(3, "L2", "as known", "accepted"), by=lead, now=now
    )
    glass.refresh_from_db()
    with pytest.raises(RefusedError):
        stock.order(glass, 1, by=lead, now=now, cost_minor=500)
    assert () == audited().breaks


def test_a_part_is_not_retired_while_its_pieces_are_asked_back(
    parcel, glass, lead, now
) -> None:
    one = rejected(parcel, lead, now)
    stock.count(glass, 0, by=lead, now=now, words="sold")

    with pytest.raises(RefusedError, match="returns: found 1 not ended, wanted none"):
        stock.retire(glass, by=lead, now=now, words="the model is gone")
    supplier.settle_return(one, "credited", minor=1500, by=lead, now=now)
    with pytest.raises(RefusedError) as told:
        stock.retire(glass, by=lead, now=now, words="the model is gone")
    assert "returns" not in str(told.value)
