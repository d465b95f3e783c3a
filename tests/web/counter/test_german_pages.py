"""Does the counter speak German to whoever chose it, and change nothing for that?"""

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import read_mo
from babel.messages.pofile import read_po
from django.test import Client
from django.utils import translation

from turnscrew.web.counter.templatetags import reads
from turnscrew.web.records.models import Job, Person
from turnscrew.web.records.services import people
from turnscrew.web.records.services.refusal import RefusedError

WEB = Path(people.__file__).parents[2]
MESSAGES = WEB / "locale" / "de" / "LC_MESSAGES"
TRANSLATED = re.compile(r'{% translate "((?:[^"\\]|\\.)*)"|:_\("([^"]*)"\)')


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    """Let a page that was asked for in German change nothing for the tests after it."""
    with translation.override("en"):
        yield


@pytest.fixture
def german(lead, clock, sallowmere, now) -> Client:
    people.speak_to(lead, "de", now=now)
    client = Client()
    client.force_login(lead.user)
    return client


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("/", ["Heute, Montag, 1. Feb. 2027", "Lose im Haus", '<html lang="de">']),
        ("/handover/", ["Übergabe", "Kein Gerät liegt offen"]),
        ("/find/?code=none", ["Suchen"]),
        ("/account/", ["Passwort setzen", "Sprache", "Zweiter Faktor"]),
    ],
)
def test_it_speaks_german(german, address, words) -> None:
    told = german.get(address).content.decode()

    assert [] == [one for one in words if one not in told]


def test_it_speaks_german_of_a_device(german) -> None:
    job = Job.objects.get(line=18)
    told = german.get(f"/items/{job.item.ref}/").content.decode()

    assert "Gefährlich: absondern" in told
    assert "Seine ganze Geschichte" in told


def test_it_asks_a_stranger_in_the_language_of_the_browser(client, db) -> None:
    told = client.get("/sign-in/", headers={"accept-language": "de"})

    assert "Anmelden" in told.content.decode()


def test_it_is_chosen_on_the_account_page(german, lead) -> None:
    german.post("/account/", {"act": "language", "language": "en"})

    assert "en" == Person.objects.get(pk=lead.pk).language
    assert "Today" in german.get("/").content.decode()


def test_it_refuses_a_language_it_does_not_have(lead, now) -> None:
    with pytest.raises(RefusedError, match="found xx, wanted en, de"):
        people.speak_to(lead, "xx", now=now)


def test_it_writes_amounts_as_german_does() -> None:
    with translation.override("de"):
        told = reads.money(371218)

    assert "3.712,18" == told
    assert "3,712.18" == reads.money(371218)


def test_it_has_german_for_every_text_of_its_pages() -> None:
    with (MESSAGES / "django.po").open("rb") as file:
        known = {str(one.id) for one in read_po(file, locale="de") if one.string}
    texts = {
        (found[1] or found[2]).replace('\\"', '"')
        for page in (WEB / "templates").glob("*/*.html")
        for found in TRANSLATED.finditer(page.read_text("utf-8"))
    }

    assert set() == texts - known
    assert len(texts) > 100


def strings_in(catalogue: Catalog) -> dict[tuple[str, ...], tuple[str, ...]]:
    """Give every text, with its plural where it has one, and its German."""

    def whole(words: Any) -> tuple[str, ...]:
        return (words,) if isinstance(words, str) else tuple(words)

    return {whole(one.id): whole(one.string) for one in catalogue if one.id}


def test_it_was_compiled_from_what_is_written() -> None:
    with (MESSAGES / "django.po").open("rb") as file:
        written = strings_in(read_po(file, locale="de"))
    compiled = io.BytesIO((MESSAGES / "django.mo").read_bytes())

    assert written == strings_in(read_mo(compiled))
