"""Does a day begin and end where the workshop is?"""

from datetime import UTC, date, datetime

import pytest

from turnscrew.web.records.models import Invoice
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import invoicing, kitting, quoting
from web.counter_case import signed_in


@pytest.fixture
def bill(sallowmere, lead, clock) -> Invoice:
    answer = reckoned(sallowmere, clock.at)
    told = {"by": lead, "now": clock.at}
    quoting.keep_quotes(sallowmere, answer, **told)
    kitting.declare_donors(sallowmere, [2], answer, **told)
    made = invoicing.invoice(sallowmere, **told)
    paid = made.owed_minor + 250
    invoicing.pay(made, paid, on=made.on, how="bank", **told)
    return made


def test_money_goes_back_on_the_day_that_the_page_offers(
    bill, lead, clock, settings
) -> None:
    settings.TIME_ZONE = "Europe/Zurich"
    # Half past midnight there, the day before in UTC.
    clock.at = datetime(2027, 2, 2, 23, 30, tzinfo=UTC)
    client = signed_in(lead)
    address = f"/money/{bill.ref}/"
    assert 'value="2027-02-03"' in client.get(address).content.decode()

    act = {"act": "pay_back", "minor": "2.00", "on": "2027-02-03", "how": "bank"}
    assert 302 == client.post(address, act).status_code


def test_what_is_isolated_in_the_evening_waits_until_tomorrow(
    sallowmere, lead, clock, settings
) -> None:
    settings.TIME_ZONE = "America/Los_Angeles"
    # Half past five in the afternoon there, the next day in UTC.
    clock.at = datetime(2027, 2, 3, 1, 30, tzinfo=UTC)
    job = sallowmere.jobs.first()
    act = {"act": "isolate", "reason": "hot"}
    page = f"/items/{job.item.ref}/"

    assert 302 == signed_in(lead).post(page, act).status_code

    job.refresh_from_db()
    assert date(2027, 2, 3) == job.waits_until
