"""Is what one press wrote written once, however often the button is pressed?"""

import re
from datetime import timedelta
from pathlib import Path

import pytest
from django.core.cache import caches

import turnscrew.web
from turnscrew.web.records.models import Entry, Job, Part, SafetyCheck
from turnscrew.web.records.services import people, sent_sheets, stock
from web.counter_case import signed_in

ADDRESS = "/stock/C-FN/"
PAGES = Path(turnscrew.web.__file__).parent / "templates" / "counter"


def sheet(client, address: str, act: str) -> dict[str, str]:
    """Give the hidden fields of a form as a browser sends them."""
    page = client.get(address).content.decode()
    form = page.split(f'id="{act}-form"')[1].split("</form>")[0]
    once = re.search(r'name="once" value="(\w+)"', form)
    return {"act": act, "once": once[1]}


@pytest.fixture
def client(sallowmere, lead, clock):
    return signed_in(lead)


def test_pieces_that_came_are_counted_once(client) -> None:
    before = Part.objects.get(number="C-FN").on_hand
    sent = sheet(client, ADDRESS, "move") | {
        "verb": "received",
        "n": "5",
        "why": "a box",
    }

    first, second = (client.post(ADDRESS, sent, follow=True) for _ in range(2))

    assert 200 == first.status_code
    assert "sent twice: written once" in second.content.decode()
    assert before + 5 == Part.objects.get(number="C-FN").on_hand
    # On a page shown anew, or with another number, it is meant.
    client.post(ADDRESS, sent | {"n": "1"})
    client.post(
        ADDRESS,
        sheet(client, ADDRESS, "move") | {"verb": "received", "n": "5", "why": "a box"},
    )
    assert before + 11 == Part.objects.get(number="C-FN").on_hand


def test_what_was_refused_may_be_sent_again(client) -> None:
    sent = sheet(client, ADDRESS, "move") | {"verb": "lost", "n": "900000", "why": ""}
    n = Entry.objects.count()

    answers = [client.post(ADDRESS, sent) for _ in range(2)]

    assert [422, 422] == [one.status_code for one in answers]
    assert n == Entry.objects.count()


def test_a_device_is_received_once(client, sallowmere) -> None:
    address = f"/batches/{sallowmere.ref}/receive/"
    n = Job.objects.count()
    sent = sheet(client, address, "one") | {
        "model": "R50", "serial": "GR5-00001", "lock": "not looked",
    }  # fmt: skip

    codes = [client.post(address, sent).status_code for _ in range(2)]

    assert [302, 302] == codes
    assert n + 1 == Job.objects.count()


def test_what_broke_off_may_be_sent_again(client, monkeypatch) -> None:
    sent = sheet(client, ADDRESS, "move") | {"verb": "found", "n": "2", "why": "a box"}
    before = Part.objects.get(number="C-FN").on_hand

    def breaks(*_given, **_told):
        raise OSError("no space left")

    with monkeypatch.context() as broken:
        broken.setattr(stock, "move_by_hand", breaks)
        with pytest.raises(OSError, match="no space"):
            client.post(ADDRESS, sent)
    assert 302 == client.post(ADDRESS, sent).status_code

    assert before + 2 == Part.objects.get(number="C-FN").on_hand


def test_a_check_of_the_list_is_written_once(client) -> None:
    people.begin_safety()
    page = client.get("/safety/").content.decode()
    row = page.split('name="act" value="check"')[1].split("</form>")[0]
    hidden = dict(re.findall(r'name="(once|kind)" value="(\w+)"', row))
    sent = {"act": "check", "reading": "1.2 MΩ", "result": "failed"} | hidden

    codes = [client.post("/safety/", sent).status_code for _ in range(2)]

    assert [302, 302] == codes
    assert 1 == SafetyCheck.objects.count()


@pytest.mark.parametrize("page", sorted(PAGES.glob("*.html")), ids=lambda one: one.stem)
def test_every_button_of_a_list_knows_its_page(page) -> None:
    text = page.read_text()

    assert text.count('name="act"') == text.count('name="once"')


def test_what_keeps_them_apart_stands_beside_the_records(client, lead, clock) -> None:
    # Another server has another memory, and the same records.
    sent = sheet(client, ADDRESS, "move") | {
        "verb": "received", "n": "5", "why": "a box",
    }  # fmt: skip
    before = Part.objects.get(number="C-FN").on_hand
    client.post(ADDRESS, sent)
    caches["default"].clear()

    other = signed_in(lead).post(ADDRESS, sent, follow=True)
    assert "sent twice: written once" in other.content.decode()
    assert before + 5 == Part.objects.get(number="C-FN").on_hand


def test_a_sheet_that_is_being_written_is_not_called_written(sallowmere, now) -> None:
    assert sent_sheets.taken_up("a", now)
    assert not sent_sheets.taken_up("a", now + timedelta(seconds=1))
    assert not sent_sheets.is_written("a")
    # The server that took it up stopped amid it.
    later = now + timedelta(minutes=6)
    assert sent_sheets.taken_up("a", later)
    sent_sheets.written("a")
    assert sent_sheets.is_written("a")
    assert not sent_sheets.taken_up("a", later + timedelta(minutes=59))
    assert sent_sheets.taken_up("a", later + timedelta(minutes=61))
    sent_sheets.let_go("a")
    assert sent_sheets.taken_up("a", later + timedelta(minutes=61))
