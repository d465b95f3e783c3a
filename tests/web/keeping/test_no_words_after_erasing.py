"""Does nobody write of an erased customer's devices where others come first?"""

import pytest

from turnscrew.web.keeping import erasing
from turnscrew.web.keeping.tables import carried, rows_of
from turnscrew.web.records.models import Accessory, Donor, DonorPart, Finding, Part
from turnscrew.web.records.services import findings, kitting, setting_right, stock
from turnscrew.web.records.services.refusal import RefusedError
from web.keeping.names import names_everywhere

LATE = "Zzyxwort"


@pytest.fixture
def erased(sallowmere, lead, now):
    names_everywhere(sallowmere, by=lead, now=now)
    piece = DonorPart.objects.create(
        donor=Donor.objects.first(), part=Part.objects.last(), state=DonorPart.UNTESTED
    )
    order = stock.order(piece.part, 2, by=lead, now=now, cost_minor=9, batch=sallowmere)
    erasing.erase_customer(sallowmere.customer, by=lead, now=now)
    return piece, order


def withdrawn(batch, _piece, _order, **by_now) -> None:
    one = Finding.objects.filter(job__batch=batch, withdrawn_at=None)
    findings.withdraw_finding(one.exclude(code="L-BAT").first(), words=LATE, **by_now)


def accessory_right(batch, _piece, _order, **by_now) -> None:
    one = Accessory.objects.filter(batch=batch).exclude(job=None).first()
    right = setting_right.RightCount(one.n_in + 1, one.n_out + 1, one.n_explained)
    setting_right.correct_accessory(one, right, words=LATE, **by_now)


def piece_tested(_batch, piece, _order, **by_now) -> None:
    kitting.test_donor_part(piece, is_good=True, how=LATE, **by_now)


def order_right(_batch, _piece, order, **by_now) -> None:
    right = setting_right.RightOrder(n=1, cost_minor=9, expected_on=None)
    setting_right.correct_order(order, right, words=LATE, **by_now)


def named() -> list[str]:
    return [
        model._meta.db_table
        for model in carried(with_secrets=True).values()
        for row in rows_of(model, with_secrets=True)
        if any(LATE in words for words in row.values() if isinstance(words, str))
    ]


@pytest.mark.parametrize("act", [withdrawn, accessory_right, piece_tested])
def test_words_about_its_devices_are_refused(
    act, sallowmere, erased, lead, now
) -> None:
    with pytest.raises(RefusedError, match="found one erased"):
        act(sallowmere, *erased, by=lead, now=now)

    assert [] == named()


def test_an_order_is_set_right_without_its_words(sallowmere, erased, lead, now) -> None:
    order_right(sallowmere, *erased, by=lead, now=now)

    assert [] == named()
    erased[1].refresh_from_db()
    assert 1 == erased[1].n
