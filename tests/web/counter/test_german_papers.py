"""Do the papers of a batch follow the language of whoever prints them?"""

import re
from collections.abc import Iterator

import pypdfium2
import pytest
from django.test import Client
from django.utils import translation

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Entry
from turnscrew.web.records.queries.papers import TITLES
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    custody,
    handing_back,
    invoicing,
    kitting,
    people,
    quoting,
)
from web.counter_case import signed_in
from web.known_faults import all_is_known


@pytest.fixture
def german(lead, helper, clock, sallowmere, now) -> Iterator[Client]:
    people.speak_to(lead, "de", now=now)
    yield signed_in(lead)
    # The framework keeps the language of the last page for the next test.
    translation.deactivate()


def words_of(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        texts = [page.get_textpage().get_text_range() for page in document]
    return " ".join(" ".join(texts).split())


def test_every_paper_of_the_page_is_german(german, sallowmere, lead, now) -> None:
    page = f"/batches/{sallowmere.ref}/papers/"
    names = set(re.findall(r"papers/([\w.-]+)", german.get(page).content.decode()))
    assert len(TITLES) < len(names)
    silent = set()
    for name in names:
        answer = german.get(f"{page}{name}")
        if answer.status_code == 404:
            silent.add(name)
            continue
        content = answer.content
        is_pdf = name.endswith(".pdf")
        told = words_of(content) if is_pdf else content.decode()

        assert "„" not in told, name
        assert "Seite 1 von" in told if is_pdf else "Alle 8:" in told, name
    # What has nothing to say in one language has nothing to say in the other.
    people.speak_to(lead, "en", now=now)
    english = signed_in(lead)
    assert silent == {n for n in names if english.get(f"{page}{n}").status_code == 404}
    assert len(TITLES) <= len(names - silent)


def test_whoever_speaks_english_prints_in_english(german, sallowmere, helper) -> None:
    address = f"/batches/{sallowmere.ref}/papers/kit-lists.pdf"

    assert "Teile für Gerät" in words_of(german.get(address).content)
    assert "Kit for device" in words_of(signed_in(helper).get(address).content)


def test_nothing_is_written_down_for_a_language(german, sallowmere) -> None:
    before = Entry.objects.count()
    german.get(f"/batches/{sallowmere.ref}/papers/receipt.pdf")

    assert before == Entry.objects.count()


def test_the_message_to_send_is_shown_in_german(german, sallowmere) -> None:
    told = german.get(f"/batches/{sallowmere.ref}/approvals/").content.decode()

    assert "Für die folgenden (von 60, erhalten am Mo 1. Feb. 2027)" in told


def test_an_invoice_on_record_is_german_with_the_same_amount(
    german, sallowmere, lead, clock
) -> None:
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    kitting.declare_donors(sallowmere, [2], answer, by=lead, now=clock.at)
    bill = invoicing.invoice(sallowmere, by=lead, now=clock.at)
    told = words_of(german.get(f"/money/{bill.ref}/paper/").content)

    assert f"Rechnung {bill.number}" in told
    assert f"zu zahlen {bill.owed_minor // 100},{bill.owed_minor % 100:02d}" in told
    assert "Zu zahlen bis 3. März 2027." in told
    assert "„" not in told


def test_the_note_of_a_tranche_is_german(german, sallowmere, lead, clock) -> None:
    job = sallowmere.jobs.get(line=7)
    all_is_known([job], by=lead, now=clock.at)
    for state in ("quoted", "final-tested", "packed"):
        custody.move(job, Standing(state, "bench 1", lead.ref), by=lead, now=clock.at)
    tranche = handing_back.hand_back(
        sallowmere, [7], taken_by="Office", by=lead, now=clock.at
    )
    address = f"/batches/{sallowmere.ref}/hand-back/{tranche.ref}/"
    told = words_of(german.get(address).content)

    assert "Zurückgegeben am 1. Feb. 2027 an Office für" in told
    assert "7: adapter: NICHT ALS TAUGLICH ZURÜCKGEGEBEN (nicht angesehen" in told
    assert "1 adapter, 1 sleeve" in told
    assert "2: V80 TV8-28132, angenommen" in told
    assert "„" not in told
