"""Is a customer's list kept as it was meant, or refused with the reason?"""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.records.models import ListedRow
from web.conftest import SALLOWMERE
from web.counter_case import signed_in

LIST = (SALLOWMERE / "customer-list.csv").read_text("utf-8")
PLAIN = LIST.replace(LIST.splitlines()[0], "A,B,C,D,E")
NO_UTF_8 = "file: found letters that are not written as UTF-8"


def file(content: bytes, name: str = "list.csv") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content)


@pytest.fixture
def client(lead, clock) -> Client:
    return signed_in(lead)


REFUSED = [
    ({"pasted": LIST.splitlines()[0]}, "table: found a heading alone"),
    (
        {"pasted": PLAIN, "serial": "D", "asset": "D"},
        "heading: found D said of two columns, wanted one alone",
    ),
    (
        {"pasted": LIST, "asset": "Zz"},
        "heading: found no Zz in the table, wanted one of",
    ),
    ({"pasted": LIST, "file": file(LIST.encode())}, "found a file and pasted rows"),
    ({"file": file(LIST.replace("S", "Ü").encode("cp1252"))}, NO_UTF_8),
    ({"file": file(LIST.encode("utf-16-le"))}, NO_UTF_8),
]


@pytest.mark.parametrize(("entered", "told"), REFUSED)
def test_the_list_before_stays_if_the_new_one_is_refused(
    entered, told, client, sallowmere
) -> None:
    rows = ListedRow.objects.filter(batch=sallowmere, until=None)
    n = rows.count()
    for sent in entered.values():
        if not isinstance(sent, str):
            sent.seek(0)

    address = f"/batches/{sallowmere.ref}/list/"
    answer = client.post(address, {"act": "keep", **entered})

    assert 422 == answer.status_code
    assert told in answer.content.decode()
    assert n == rows.count() > 0


@pytest.mark.parametrize(
    "entered",
    [
        {"pasted": PLAIN, "serial": "D", "asset": "e"},
        {"file": file(LIST.encode("utf-16"))},
        {"file": file(LIST.encode("utf-8-sig"))},
    ],
)
def test_a_list_whose_headings_are_said_is_kept(entered, client, sallowmere) -> None:
    address = f"/batches/{sallowmere.ref}/list/"
    answer = client.post(address, {"act": "keep", **entered})

    assert 302 == answer.status_code
    rows = ListedRow.objects.filter(batch=sallowmere, until=None)
    assert len(LIST.strip().splitlines()) - 1 == rows.count()


def test_what_is_refused_of_headings_has_its_german() -> None:
    book = Phrasebook(GERMAN_COUNTER)
    for words in (
        "heading: found D said of two columns, wanted one alone",
        "heading: found no Zz in the table, wanted one of A, B, C",
    ):
        assert book.says(words).startswith("Überschrift: ")


@pytest.mark.parametrize(
    ("language", "words", "twice"),
    [
        ("en", "the number of row 6 again", "a number twice on the list: rows 6, 62"),
        (
            "de", "noch einmal die Nummer von Zeile 6",
            "eine Nummer zweimal auf der Liste: Zeilen 6, 62",
        ),
    ],
)  # fmt: skip
def test_a_row_that_stands_twice_is_told_as_such(
    language, words, twice, client, sallowmere, lead
) -> None:
    address = f"/batches/{sallowmere.ref}/list/"
    rows = LIST.strip().splitlines()
    client.post(address, {"act": "keep", "pasted": "\n".join([*rows, rows[5]])})
    lead.language = language
    lead.save()

    page = client.get(address).content.decode()

    (told,) = [line for line in page.split("<li>") if "62:" in line[:12]]
    assert words in told
    assert twice in page
