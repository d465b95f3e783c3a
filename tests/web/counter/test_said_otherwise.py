"""Is it told what a new folder says otherwise than the records?"""

import re
from dataclasses import replace
from decimal import Decimal
from html import unescape

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile as File
from django.test import Client

from turnscrew.core.model.german import GERMAN_COUNTER
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.core.model.spare_part import PriceBreak
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.records.models import Customer, Part, Person
from turnscrew.web.records.queries.descriptions import newest
from turnscrew.web.records.queries.said_otherwise import said_otherwise
from turnscrew.web.records.services import descriptions
from web.conftest import SALLOWMERE, sallowmere_contents
from web.counter_case import signed_in

CHANGES = [
    ("terms.yaml", b"first round of 2027", b"second round of 2027"),
    ("terms.yaml", b"[Office, Sallowmere]", b"[New Street 5]"),
    ("terms.yaml", b"2026-09-14", b"2027-02-10"),
    ("people.yaml", b"21.00", b"99.00"),
    ("parts.csv", b"9.80,5,3", b"19.80,12,3"),
]
TOLD = [
    "customer, address: found New Street 5, kept Office, Sallowmere as on record",
    "customer, contract: found data terms signed 2027-02-10, "
    "kept data terms signed 2026-09-14 as on record",
    "person helper, pay: found 99.00, kept 21.00 as on record",
    "part C-FN, cost: found 19.80, kept 9.80 as on record",
    "part C-FN, lead days: found 12, kept 5 as on record",
]


@pytest.fixture
def client(sallowmere, lead, clock) -> Client:
    return signed_in(lead)


def test_the_same_folder_says_nothing_otherwise(sallowmere) -> None:
    assert [] == said_otherwise(read_batch_folder(sallowmere_contents()))


def test_each_thing_said_otherwise_is_told_with_what_was_kept(sallowmere) -> None:
    told = read_batch_folder(sallowmere_contents())
    fan = replace(
        told.parts["C-FN"], pack=5, breaks=(PriceBreak(10, 900),), supplier="Mill Lane",
        is_sold_no_more=True, revisions=("A",), reorder_point=2, cost_minor=None,
    )  # fmt: skip
    Part.objects.filter(number="C-FN").update(reorder_point=1)
    helper = replace(told.people["helper"], minutes_a_day=300, pace=Decimal("1.20"))
    other = replace(
        told, parts={**told.parts, "C-FN": fan},
        people={**told.people, "helper": helper},
    )  # fmt: skip

    lines = said_otherwise(other)

    fields = [line.partition(":")[0].rpartition(", ")[2] for line in lines]
    assert fields == [
        "minutes a day", "pace", "revisions", "pack", "breaks", "supplier",
        "reorder point", "sold no more",
    ]  # fmt: skip
    assert "part C-FN, breaks: found 10: 9.00, kept none as on record" in lines
    german = Phrasebook(GERMAN_COUNTER)
    assert [] == [line for line in lines if "„" in german.says(line)]


def test_the_page_tells_it_once_the_folder_came_in(client, clock) -> None:
    contents = dict(sallowmere_contents())
    for name, old, new in CHANGES:
        assert old in contents[name]
        contents[name] = contents[name].replace(old, new)
    chosen = [File(name, content) for name, content in contents.items()]

    page = client.post("/batches/", {"act": "load", "chosen": chosen}, follow=True)

    text = unescape(page.content.decode())
    assert "60 devices received" in text
    assert TOLD == re.findall(r'role="status">([^<]+ as on record)<', text)
    assert "Office\nSallowmere" == Customer.objects.get().address
    assert 980 == Part.objects.get(number="C-FN").cost_minor
    assert 2100 == Person.objects.get(key="helper").pay_minor


@pytest.fixture
def described(sallowmere, lead, now, clock) -> None:
    terms = read_batch_folder(sallowmere_contents()).terms
    descriptions.keep_of_folder(whole_folder(), terms, by=lead, now=now)


def whole_folder() -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(SALLOWMERE.iterdir())}


def next_batch(**more: bytes) -> list[File]:
    contents = {**whole_folder(), **more}
    terms = contents["terms.yaml"].replace(b"first round", b"next round")
    return [File(k, v) for k, v in {**contents, "terms.yaml": terms}.items()]


def test_a_next_batch_brings_no_withdrawn_description_back(
    described, client, lead
) -> None:
    descriptions.withdraw(newest("V80"), by=lead)

    sent = {"act": "load", "chosen": next_batch()}
    page = unescape(client.post("/batches/", sent, follow=True).content.decode())

    assert newest("V80") is None
    assert "description V80: found one, kept it withdrawn as on record" in page
    assert "description R50" not in page


def test_a_next_batch_undoes_no_caution(described, client, lead, now) -> None:
    caution = "clip at the left is sharp"
    descriptions.correct_fact("R50", "parts.battery.caution", caution, by=lead, now=now)
    table = "grondle-r50.faults.yaml"
    known = whole_folder()[table]

    sent = {"act": "load", "chosen": next_batch(**{table: known + b"# anew\n"})}
    page = unescape(client.post("/batches/", sent, follow=True).content.decode())

    kept, line = newest("R50"), (
        "description R50: found other in battery, the fault table; "
        "kept version 2 as on record"
    )  # fmt: skip
    assert (2, True) == (kept.number, caution in kept.text)
    assert line in page
    german = Phrasebook(GERMAN_COUNTER).says(line)
    assert german.startswith("Beschreibung R50: gefunden anders in")
    assert german.endswith("der Fehlertabelle; es bleibt Version 2 wie eingetragen")


def test_it_is_told_where_a_batch_is_booked_by_its_terms(client) -> None:
    terms = sallowmere_contents()["terms.yaml"].decode()
    sent = {
        "act": "book", "name": "Second", "received": "2027-02-15",
        "terms": terms.replace("[Office, Sallowmere]", "[New Street 5]"),
    }  # fmt: skip

    page = client.post("/batches/", sent, follow=True).content.decode()

    assert TOLD[0] in page
