"""Is what came and is gone again wanted anew, with its whole lead and its price?"""

from datetime import date, timedelta

import pytest
from django.test import Client

from turnscrew.web.records.models import OrderLine, Part
from turnscrew.web.records.queries.batch_page import OrderNeed, order_needs
from turnscrew.web.records.queries.donor_supply import meant_for
from turnscrew.web.records.queries.free_stock import free_for
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import goods, kitting, stock, supplier
from web.counter_case import signed_in

PART = "H-DP"
"""One is wanted, for device 60; its lead is 6 days, its price 41.00."""


@pytest.fixture
def counter(lead, clock) -> Client:
    return signed_in(lead)


def need_of(batch, now, number: str = PART) -> OrderNeed | None:
    needs = order_needs(batch, reckoned(batch, now))
    return next((one for one in needs if one.number == number), None)


def placed(batch, lead, now, number: str = PART) -> OrderLine:
    kitting.allot(batch, reckoned(batch, now), by=lead, now=now)
    return kitting.place_order(batch, [number], by=lead, now=now)[0]


def came(line: OrderLine, n: int, lead, now) -> Part:
    parcel = goods.Parcel(n, "L1", "as the known one", goods.ACCEPTED)
    goods.goods_in(line, parcel, by=lead, now=now)
    return Part.objects.get(pk=line.part_id)


def test_a_piece_that_went_back_is_ordered_again(
    counter, sallowmere, lead, clock
) -> None:
    line = placed(sallowmere, lead, clock.at)
    assert (0, 1) == (need_of(sallowmere, clock.at).n_left, line.n)
    later = clock.move_on(days=7)
    part = came(line, 1, lead, later)
    assert need_of(sallowmere, later) is None
    faulty = supplier.Faulty(1, "on the shelf", "torn", "seen", is_on_shelf=True)
    supplier.begin_return(part, faulty, by=lead, now=later)

    need = need_of(sallowmere, later)

    assert (1, 0, 1, 4_100) == (
        need.n_needed, need.n_ordered, need.n_left, need.cost_minor,
    )  # fmt: skip
    page = counter.get(f"/batches/{sallowmere.ref}/order/").content.decode()
    assert "All of it is ordered." not in page


def test_what_is_ordered_again_takes_its_whole_lead(sallowmere, lead, clock) -> None:
    first = placed(sallowmere, lead, clock.at)
    later = clock.move_on(days=7)
    part = came(first, 1, lead, later)
    stock.move_by_hand(part, "lost", 1, by=lead, now=later, words="trodden on")

    again = placed(sallowmere, lead, later)

    # By hand: 6 workshop days after Monday 8 February.
    assert date(2027, 2, 16) == again.expected_on
    assert 6 == reckoned(sallowmere, later).batch.parts[PART].lead_days


def test_what_is_still_to_come_is_told_by_its_parcel(sallowmere, lead, clock) -> None:
    line = placed(sallowmere, lead, clock.at)
    OrderLine.objects.filter(pk=line.pk).update(
        expected_on=clock.at.date() + timedelta(days=1)
    )

    assert 1 == reckoned(sallowmere, clock.at).batch.parts[PART].lead_days


def test_a_pack_half_come_leaves_nothing_to_order(sallowmere, lead, clock) -> None:
    Part.objects.filter(number=PART).update(pack=10)
    line = placed(sallowmere, lead, clock.at)
    assert 10 == line.n
    part = came(line, 4, lead, clock.move_on(days=7))
    assert 4 == part.on_hand

    assert need_of(sallowmere, clock.at) is None


def test_the_headline_sums_what_is_left_to_order(
    counter, sallowmere, lead, clock
) -> None:
    address = f"/batches/{sallowmere.ref}/order/"
    assert "322.00 cu; without donors 433.00" in counter.get(address).content.decode()
    placed(sallowmere, lead, clock.at)

    page = counter.get(address).content.decode()

    assert "281.00 cu; without donors 392.00" in page


def test_what_lacks_beside_a_parcel_is_ordered_in_its_own_time(
    sallowmere, lead, clock
) -> None:
    before = need_of(sallowmere, clock.at, "H-KP")
    line = placed(sallowmere, lead, clock.at, "H-KP")
    assert line.n > 1
    OrderLine.objects.filter(pk=line.pk).update(
        n=1, expected_on=clock.at.date() + timedelta(days=1)
    )

    after = need_of(sallowmere, clock.at, "H-KP")

    assert (1, line.n - 1) == (after.n_ordered, after.n_left)
    assert before.latest == after.latest


def test_what_came_counts_the_same_looked_back_at(sallowmere, lead, clock) -> None:
    line = placed(sallowmere, lead, clock.at)
    part = came(line, 1, lead, clock.move_on(days=7))
    kitting.fit(sallowmere.jobs.get(line=60), by=lead, now=clock.move_on(days=1))

    now = free_for(sallowmere, meant_for(sallowmere), None)[part.pk]

    assert 1 == now == free_for(sallowmere, (), clock.at)[part.pk]
