"""Is what was entered for something that is not to be done any more told, and kept?"""

import re
from html import unescape

import pytest

from turnscrew.web.records.models import Description, Entry, WrittenYes
from turnscrew.web.records.queries.asked_first import asked_first
from turnscrew.web.records.queries.descriptions import newest
from turnscrew.web.records.services import descriptions
from turnscrew.web.records.services.written_yes import Agreed, write_yes
from web.counter.worked import describe
from web.counter_case import signed_in

TOLD = "found this not to be done any more, wanted the page looked at"
MODEL = "/descriptions/R50/"


def sheet(client, address: str, act: str) -> dict[str, str]:
    """Give the hidden fields of a form as a browser sends them."""
    page = client.get(address).content.decode()
    form = page.split(f'id="{act}-form"')[1].split("</form>")[0]
    hidden = re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form)
    return {name: unescape(value) for name, value in hidden}


@pytest.fixture(autouse=True)
def described(sallowmere, lead, clock) -> None:
    describe(sallowmere, lead, clock.at)


@pytest.fixture
def tried(described) -> Description:
    Description.objects.filter(model="R50").update(state=Description.TRIED)
    return newest("R50")


def test_what_somebody_did_meanwhile_is_told_on_the_page(tried, lead, clock) -> None:
    client = signed_in(lead)
    sent = sheet(client, MODEL, "release")
    descriptions.release(tried, by=lead)
    n = Entry.objects.count()

    answer = client.post(MODEL, sent)

    assert 422 == answer.status_code
    page = answer.content.decode()
    assert TOLD in page
    assert "<h1>R50</h1>" in page
    assert n == Entry.objects.count()


def test_what_was_typed_for_it_is_not_lost(sallowmere, lead, clock) -> None:
    client, address = signed_in(lead), f"/batches/{sallowmere.ref}/approvals/"
    sent = sheet(client, address, "agree")
    for one in asked_first(sallowmere):
        agreed = Agreed(one.cover, "Wren Tolliver", clock.at.date())
        write_yes(sallowmere, one.lacking, agreed, by=lead, now=clock.at)
    n = WrittenYes.objects.count()
    typed = {"name": "Wen <Arkady>", "lines": "1-60", "cover": "tamper label"}

    lead.language = "de"
    lead.save()
    answer = client.post(address, sent | typed)

    assert 422 == answer.status_code
    page = answer.content.decode()
    assert "nicht mehr zu tun gefunden" in page
    assert "<td>Wen &lt;Arkady&gt;</td>" in page
    assert "<td>1-60</td>" in page
    assert sent["once"] not in page
    assert n == WrittenYes.objects.count()


def test_pressed_twice_it_was_done_once(tried, lead) -> None:
    client = signed_in(lead)
    sent = sheet(client, MODEL, "release")

    answers = [client.post(MODEL, sent, follow=True) for _ in range(2)]

    assert [200, 200] == [one.status_code for one in answers]
    assert "sent twice: written once" in answers[1].content.decode()


def test_what_no_page_showed_is_not_there(tried, lead) -> None:
    client = signed_in(lead)

    assert 404 == client.post(MODEL, {"act": "no such act"}).status_code
