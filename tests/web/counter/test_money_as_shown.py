"""Is money written as the page showed it, and never another sum with no word?"""

import re
from html import unescape

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import (
    Approval,
    Invoice,
    InvoiceLine,
    Job,
    Payment,
    Quote,
)
from turnscrew.web.records.queries.money_page import written_off_minor
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    custody,
    handing_back,
    invoicing,
    kitting,
    quoting,
)
from turnscrew.web.records.services.findings import note_finding
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


def test_the_prices_asked_are_those_of_the_message(
    client, sallowmere, lead, clock
) -> None:
    address = f"/batches/{sallowmere.ref}/approvals/"
    job = sallowmere.jobs.get(line=11)
    old = client.get(address).content.decode()
    note_finding(job, "confirmed", by=lead, now=clock.at, code="L-FAN")

    answer = client.post(address, sheet(old, "ask"))

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert re.search(
        r"device 11: found 144\.34 for [^<]*L-FAN[^<]* by now, wanted the 120\.40 for "
        r"[^<]* that the page showed", page,
    )  # fmt: skip
    assert not Approval.objects.filter(job__batch=sallowmere).exists()
    assert not Quote.objects.filter(job__batch=sallowmere).exists()
    assert 302 == client.post(address, sheet(page, "ask")).status_code
    assert [14_434] == [one.quote_minor for one in job.approvals.all()]


def test_what_is_not_to_be_asked_any_more_is_told(
    client, sallowmere, lead, clock
) -> None:
    address = f"/batches/{sallowmere.ref}/approvals/"
    lead.language = "de"
    lead.save()
    old = client.get(address).content.decode()
    job = sallowmere.jobs.get(line=12)
    note_finding(job, "confirmed", by=lead, now=clock.at, code="T-SPK")

    answer = client.post(address, sheet(old, "ask"))

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert "Gerät 12: jetzt hier ohne Angebot gefunden, gesucht die" in page


def test_the_quotes_kept_are_those_of_the_page(client, sallowmere, lead, clock) -> None:
    address = f"/batches/{sallowmere.ref}/"
    old = client.get(address).content.decode()
    job = sallowmere.jobs.get(line=38)
    for code in ("L-FAN", "L-BAT"):
        note_finding(job, "confirmed", by=lead, now=clock.at, code=code)

    answer = client.post(address, sheet(old, "quote"))

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert (
        "device 38: found 94.19 for L-FAN, L-BAT by now, wanted the 57.54 for L-FAN "
        "that the page showed"
    ) in page
    assert not job.quotes.exists()
    assert 302 == client.post(address, sheet(page, "quote")).status_code
    assert [9_419] == [one.quote_minor for one in job.quotes.all()]


WRONG = {"part": "keys", "mode": "dirt below", "cause": "dirt", "agrees": "yes"}
TO_THE_SHELF = (
    "kitted", "open", "tested open", "closed", "final-tested",
    "charged and clean", "packed",
)  # fmt: skip


def go_home(job, lead, now) -> None:
    """Mend a device without looking at it, and hand it back."""
    told = {"by": lead, "now": now}
    code = job.findings.filter(stage="seen").first().code
    note_finding(job, "confirmed", code=code, wrong=WRONG, **told)
    for state in TO_THE_SHELF:
        job = Job.objects.get(pk=job.pk)
        custody.move(job, Standing(state, "bench 1", lead.ref), **told)
    handing_back.hand_back(job.batch, [job.line], taken_by="W. Arkady", **told)


def test_the_devices_billed_are_those_of_the_page(
    client, sallowmere, lead, clock
) -> None:
    address = f"/batches/{sallowmere.ref}/invoice/"
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    go_home(sallowmere.jobs.get(line=1), lead, clock.at)
    old = client.get(address).content.decode()
    go_home(sallowmere.jobs.get(line=38), lead, clock.at)

    answer = client.post(address, sheet(old, "bill"))

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert "devices: found 1, 38 to bill by now, wanted 1 as the page showed" in page
    assert not Invoice.objects.exists()
    assert 302 == client.post(address, sheet(page, "bill")).status_code
    billed = InvoiceLine.objects.values_list("job__line", flat=True)
    assert {1, 38} == set(billed)


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_credits_billed_are_those_of_the_page(
    client, sallowmere, lead, clock, language
) -> None:
    address = f"/batches/{sallowmere.ref}/invoice/"
    lead.language = language
    lead.save()
    sent = sheet(client.get(address).content.decode(), "bill")

    answer = client.post(address, sent | {"n_credits_shown": "2"})

    told = {
        "en": "credits: found 0 on no invoice by now, wanted 2 as the page showed",
        "de": "Gutschriften: jetzt 0 auf keiner Rechnung, gesucht 2 wie auf der Seite",
    }
    assert 422 == answer.status_code
    assert told[language] in answer.content.decode()
