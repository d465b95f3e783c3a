"""Is a database that is busy or full told in words, with what was entered kept?"""

from typing import Any

import pytest
from django.db import OperationalError

from turnscrew.core.model.german import GERMAN, GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.records.models import SentSheet
from turnscrew.web.records.services import descriptions
from turnscrew.web.records.trouble import _SAYINGS, storage_words
from web.counter.test_pressed_twice import sheet
from web.counter_case import signed_in


@pytest.mark.parametrize(
    ("says", "told"),
    [
        ("database is locked", "records: found busy for 20 s"),
        ("database or disk is full", "records: found no room left"),
        ("attempt to write a readonly database", "records: found read-only"),
    ],
)
def test_a_page_that_writes_says_it_and_keeps_what_was_entered(
    lead, clock, monkeypatch, says, told
) -> None:
    def fail(*_: Any, **__: Any) -> None:
        raise OperationalError(says)

    monkeypatch.setattr(descriptions, "newest", fail)
    text = "device: Small box\nparts: {lid: {is: cover}, tub: {fixed: yes}}\n"
    entered = {"act": "bring", "model": "BOX", "text": text}

    answer = signed_in(lead).post("/descriptions/", entered)

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert told in page and "nothing of this was written" in page
    assert "device: Small box" in page.split("<textarea")[1]


def test_a_sheet_that_cannot_be_taken_up_is_refused_in_words(
    sallowmere, lead, clock, monkeypatch
) -> None:
    def fail(*_: Any, **__: Any) -> None:
        raise OperationalError("database is locked")

    client = signed_in(lead)
    entered = sheet(client, "/stock/C-FN/", "move") | {
        "verb": "received", "n": "5", "why": "a box",
    }  # fmt: skip
    monkeypatch.setattr(SentSheet.objects, "create", fail)
    answer = client.post("/stock/C-FN/", entered)

    assert 422 == answer.status_code
    assert "records: found busy for 20 s" in answer.content.decode()
    monkeypatch.undo()
    assert 302 == client.post("/stock/C-FN/", entered).status_code


@pytest.mark.parametrize("book", [GERMAN, GERMAN_COUNTER])
@pytest.mark.parametrize("says", ["locked", "full", "readonly", "open", "malformed"])
def test_it_is_said_in_german(book, says) -> None:
    signs = next(one for one, _ in _SAYINGS if any(says in sign for sign in one))
    words = storage_words(OperationalError(signs[0]))

    assert words is not None
    german = Phrasebook(book).says(words)
    assert german.startswith("Aufzeichnungen: ")
    assert "„" not in german
