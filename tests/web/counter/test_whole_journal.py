"""Can every entry about a device or a part be read, by those whom it is for?"""

import pytest

from turnscrew.web.records.models import Invoice, Part
from turnscrew.web.records.services.journal import append
from web.counter_case import signed_in


@pytest.fixture
def worked_long(sallowmere, lead, now):
    """Give a device with many more entries than its page shows."""
    job = sallowmere.jobs.first()
    for n in range(230):
        append("bench", "action", job.ref, by=lead, now=now, facts={"step": n})
    return job


def test_a_page_leads_to_all_that_happened(worked_long, lead) -> None:
    client = signed_in(lead)
    page = client.get(f"/items/{worked_long.item.ref}/").content.decode()
    address = f"/journal/{worked_long.ref}/"
    assert f'<a href="{address}">All 23' in page

    first = client.get(address).content.decode()
    second = client.get(f"{address}?page=2").content.decode()

    assert "Page 1 of 2" in first
    assert "?page=2" in first
    assert "received" in second
    assert "step 0" in second
    assert "step 229" in first
    assert "All 23" not in first


@pytest.mark.parametrize("asked", ["0", "3", "-1", "x", "9999999", "1e3"])
def test_it_has_no_page_beyond_the_last(worked_long, lead, asked) -> None:
    address = f"/journal/{worked_long.ref}/"
    assert 404 == signed_in(lead).get(address, {"page": asked}).status_code


def test_it_is_there_for_those_it_is_for(sallowmere, lead, helper, now) -> None:
    part = Part.objects.first()
    append("stock", "counted", part.ref, by=lead, now=now, facts={"n": 1})
    bill = Invoice.objects.create(
        batch=sallowmere, number="2027-1", on=now.date(), due_on=now.date(),
        net_minor=0, tax_minor=0, owed_minor=0,
    )  # fmt: skip
    append("money", "invoiced", bill.ref, by=lead, now=now, facts={"minor": 0})
    append("bench", "signed off", helper.ref, by=lead, now=now, facts={"skill": "x"})

    assert 200 == signed_in(helper).get(f"/journal/{part.ref}/").status_code
    assert 404 == signed_in(helper).get(f"/journal/{bill.ref}/").status_code
    assert 200 == signed_in(lead).get(f"/journal/{bill.ref}/").status_code
    assert 404 == signed_in(lead).get(f"/journal/{helper.ref}/").status_code
