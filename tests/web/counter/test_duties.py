"""Are the duties on an institution's data answered, and is silence told as none?"""

import pytest
from django.test import Client

from turnscrew.web.records.models import Duty
from turnscrew.web.records.queries.duties import DUTIES
from web.counter_case import signed_in


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


def test_it_lists_the_points_of_the_law() -> None:
    # Regulation (EU) 2016/679, Article 28(3), points (a) to (h), read by letter.
    told = " ".join(DUTIES.values())

    assert [] == [x for x in "abcdefgh" if f"28(3)({x})" not in told]
    assert "28(9)" in DUTIES["contract"]
    assert "documented instructions" in DUTIES["instructions"]


def test_silence_is_told_on_the_customer_and_on_the_batch(counter, sallowmere) -> None:
    customer = f"/customers/{sallowmere.customer.ref}/"
    assert len(DUTIES) == counter.get(customer).content.decode().count(
        "<strong>not answered</strong>"
    )
    for code in DUTIES:
        page = counter.get(f"/batches/{sallowmere.ref}/").content.decode()
        told = page.split("duties on data without a yes: ")[1]
        assert f"{code}" in told
        assert customer in told.split("</p>")[0]
        entered = {
            "act": "answer", "code": code, "answer": "yes", "on": "2027-01-11",
            "words": "paper 4",
        }  # fmt: skip
        assert 302 == counter.post(customer, entered).status_code

    page = counter.get(f"/batches/{sallowmere.ref}/").content.decode()
    assert "duties on data without a yes" not in page
    assert "yes, 2027-01-11" in counter.get(customer).content.decode()


def test_an_answer_has_a_day_and_its_past_stays(counter, sallowmere, clock) -> None:
    customer = f"/customers/{sallowmere.customer.ref}/"
    entered = {"act": "answer", "code": "bound", "answer": "yes", "on": ""}
    assert 422 == counter.post(customer, entered).status_code
    tomorrow = {**entered, "on": "2027-02-02"}
    assert 422 == counter.post(customer, tomorrow).status_code
    assert not Duty.objects.exists()

    for answer in ("no", "yes"):
        told = {**entered, "answer": answer, "on": "2027-02-01"}
        assert 302 == counter.post(customer, told).status_code
    one = Duty.objects.get()
    assert ["yes", "no"] == [row.answer for row in one.history.order_by("-history_id")]
