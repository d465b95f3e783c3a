"""Is a yes taken for the price that was seen, and for no other?"""

import re

import pytest

from turnscrew.web.records.models import Approval, Batch, Job
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import handing_back, people, quoting
from web.counter_case import signed_in

DEARER = 25_000


@pytest.fixture
def asked(sallowmere, lead, clock) -> Job:
    """Give a device that the customer was asked about."""
    answer = reckoned(sallowmere, clock.at)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
    quoting.ask(sallowmere, answer, by=lead, now=clock.at)
    return sallowmere.jobs.exclude(approvals=None).order_by("line").first()


def ask_dearer(job: Job, clock) -> Approval:
    return Approval.objects.create(job=job, quote_minor=DEARER, asked_at=clock.at)


def seen_in(html: str) -> str:
    found = re.search(r'name="seen" value="(\d+)"', html) or re.search(
        r'name="seen"[^>]* value="(\d+)"', html
    )
    assert found is not None
    return found[1]


def test_a_contact_is_shown_the_new_price_before_a_yes_counts(
    sallowmere, asked, lead, client, clock
) -> None:
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=clock.at)
    address = f"/answer/{people.contact_address(link)}/"
    html = client.get(address).content.decode()
    assert 1 == html.count(f'name="line-{asked.line}" value="yes"')
    yes = {f"line-{asked.line}": "yes", "seen": seen_in(html)}
    dearer = ask_dearer(asked, clock)

    refused = client.post(address, yes)

    html = refused.content.decode()
    assert 422 == refused.status_code
    assert f"device {asked.line}: found it asked about at another price" in html
    assert not asked.approvals.exclude(answer="").exists()
    # The old question is not shown beside the new one.
    assert 1 == html.count(f'name="line-{asked.line}" value="yes"')
    assert "250.00" in html
    assert 302 == client.post(address, yes | {"seen": seen_in(html)}).status_code
    dearer.refresh_from_db()
    assert (Approval.YES, "Wen Arkady") == (dearer.answer, dearer.answered_by)


@pytest.mark.parametrize(
    "sent", [{}, {"seen": ""}, {"seen": "1e9"}, {"seen": "9" * 40}]
)
def test_an_answer_from_nowhere_counts_for_nothing(
    sallowmere, asked, lead, client, clock, sent
) -> None:
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=clock.at)
    address = f"/answer/{people.contact_address(link)}/"

    refused = client.post(address, {f"line-{asked.line}": "yes", **sent})

    assert 422 == refused.status_code
    assert not asked.approvals.exclude(answer="").exists()


def test_the_counter_shows_the_new_price_too(
    sallowmere: Batch, asked, lead, clock
) -> None:
    client = signed_in(lead)
    page = f"/batches/{sallowmere.ref}/approvals/"
    html = client.get(page).content.decode()
    reply = {
        "act": "take", "name": "Wen Arkady", "yes": str(asked.line), "no": "",
        "seen": seen_in(html),
    }  # fmt: skip
    ask_dearer(asked, clock)

    refused = client.post(page, reply)

    html = refused.content.decode()
    assert 422 == refused.status_code
    assert "asked anew" in html
    assert not asked.approvals.exclude(answer="").exists()
    # What was typed is still there, and counts for what is shown now.
    assert 302 == client.post(page, reply | {"seen": seen_in(html)}).status_code
    assert ["", "yes"] == list(asked.approvals.values_list("answer", flat=True))


def test_nothing_is_asked_of_what_has_gone_back(
    sallowmere, asked, lead, client, clock
) -> None:
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=clock.at)
    address = f"/answer/{people.contact_address(link)}/"
    seen = seen_in(client.get(address).content.decode())
    handing_back.return_unrepaired(
        asked, reason="taken away", by=lead, now=clock.at, taken_by="Wen Arkady"
    )

    html = client.get(address).content.decode()
    late = client.post(address, {f"line-{asked.line}": "yes", "seen": seen})

    assert f'name="line-{asked.line}"' not in html
    assert 422 == late.status_code
    assert ("returned unrepaired", {""}) == (
        Job.objects.get(pk=asked.pk).state,
        set(asked.approvals.values_list("answer", flat=True)),
    )
    page = signed_in(lead).get(f"/batches/{sallowmere.ref}/approvals/")
    assert "left unanswered" in page.content.decode()


def test_an_answer_against_one_given_meanwhile_is_told_and_the_others_are_kept(
    sallowmere, asked, lead, client, clock
) -> None:
    link = people.invite(sallowmere, "Wen Arkady", by=lead, now=clock.at)
    address = f"/answer/{people.contact_address(link)}/"
    seen = seen_in(client.get(address).content.decode())
    others = sallowmere.jobs.exclude(approvals=None).exclude(pk=asked.pk)
    other = others.order_by("line").first()
    quoting.give_answers(
        sallowmere, {asked.line: True}, name="Mirel Ondine", by=lead, now=clock.at
    )
    sent = {f"line-{asked.line}": "no", f"line-{other.line}": "no", "seen": seen}

    refused = client.post(address, sent)

    html = refused.content.decode()
    assert 422 == refused.status_code
    assert f"device {asked.line}: found it answered yes already" in html
    assert f'name="line-{other.line}" value="no" checked' in html
    assert not other.approvals.exclude(answer="").exists()
    assert 302 == client.post(address, sent | {f"line-{asked.line}": ""}).status_code
    assert "no" == other.approvals.last().answer
    # Sent twice is answered once.
    assert 302 == client.post(address, sent | {f"line-{asked.line}": ""}).status_code
    assert 1 == other.approvals.exclude(answer="").count()
