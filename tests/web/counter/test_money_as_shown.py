"""Is money written as the page showed it, and never another sum with no word?"""

import re
from html import unescape

import pytest

from turnscrew.web.records.models import Invoice, Payment
from turnscrew.web.records.queries.money_page import written_off_minor
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import invoicing, kitting, quoting
from web.counter_case import signed_in


def sheet(page: str, act: str) -> dict[str, str]:
    """Give the hidden fields of a form as a browser sends them."""
    form = page.split(f'id="{act}-form"')[1].split("</form>")[0]
    hidden = re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', form)
    return {name: unescape(value) for name, value in hidden}


@pytest.fixture
def client(lead, clock):
    return signed_in(lead)


@pytest.fixture
def bill(sallowmere, lead, clock) -> Invoice:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    kitting.declare_donors(sallowmere, [2], answer, by=lead, now=clock.at)
    return invoicing.invoice(sallowmere, by=lead, now=clock.at)


def test_the_rest_that_is_given_up_is_the_one_that_was_shown(
    client, bill, lead, clock
) -> None:
    address = f"/money/{bill.ref}/"
    invoicing.pay(bill, 100, on=bill.on, how="bank", by=lead, now=clock.at)
    sent = sheet(client.get(address).content.decode(), "write_off")
    owed_minor = bill.owed_minor - 100
    wrong, words = Payment.objects.get(), "it bounced"
    invoicing.correct_payment(wrong, None, by=lead, now=clock.at, words=words)

    answer = client.post(address, sent | {"reason": "a small rest"})

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert (
        f"found {(owed_minor + 100) / 100:.2f} owed by now, wanted the "
        f"{owed_minor / 100:.2f} that the page showed"
    ) in page
    assert 'value="a small rest"' in page
    assert 0 == written_off_minor(bill)
    again = sheet(page, "write_off") | {"reason": "a small rest"}
    assert 302 == client.post(address, again).status_code
    assert owed_minor + 100 == written_off_minor(bill)
