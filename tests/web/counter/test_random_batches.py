"""Can every page of a batch drawn at random be read, in both languages?"""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from random_batches import BROKEN, drawn_batch
from turnscrew.files.batch_folder import read_batch_folder
from turnscrew.web.records.models import Batch
from turnscrew.web.records.services import booking
from web.conftest import sallowmere_contents
from web.counter.test_whole_batch import Counter, at
from web.counter.two_languages import texts_of

HOUSE = ("/", "/stock/", "/stock/order/", "/money/", "/handover/", "/comebacks/")
NOTHING = ("nothing to print on it now", "darauf gibt es jetzt nichts zu drucken")
"""What is said where a paper would be empty."""


@pytest.fixture
def counter(lead, helper, clock) -> Counter:
    return Counter(lead)


def received(seed: int, lead, clock) -> Batch:
    """Receive some devices of the example, changed at random."""
    contents = sallowmere_contents()
    whole = read_batch_folder(contents)
    drawn, _ = drawn_batch(whole, seed)
    return booking.load_folder(
        replace(drawn, terms=whole.terms),
        contents["terms.yaml"].decode(),
        by=lead,
        now=clock.at,
    )


def kept(lead, clock, **known) -> Batch:
    """Receive the first device of the example alone."""
    contents = sallowmere_contents()
    whole = read_batch_folder(contents)
    alone = replace(whole, lines=(replace(whole.lines[0], **known),))
    terms_text = contents["terms.yaml"].decode()
    return booking.load_folder(alone, terms_text, by=lead, now=clock.at)


def pages_of(counter: Counter, batch: Batch) -> Iterator[tuple[str, list[str]]]:
    """Follow every link from the batch to its pages and its devices."""
    seen, todo = set(), [at(batch), *HOUSE]
    while todo:
        address = todo.pop()
        if address in seen:
            continue
        seen.add(address)
        answer = counter.client.get(address)
        assert answer.status_code in (200, 404), address
        if "html" not in answer["Content-Type"]:
            continue
        page = answer.content.decode()
        if answer.status_code == 404:
            assert any(words in page for words in NOTHING), address
        yield address, texts_of(page)
        links = re.findall(r'href="(/[^"#]*)"', page.replace("&amp;", "&"))
        todo += [link for link in links if link.startswith((at(batch), "/items/"))]


@pytest.mark.parametrize(("seed", "acts"), [(1, 0), (2, 1), (3, 2), (4, 3), (31, 3)])
def test_every_page_is_there_and_holds_whole_sentences(
    counter, lead, clock, seed, acts
) -> None:
    batch = received(seed, lead, clock)
    doings = (("", "quote"), ("approvals/", "ask"), ("", "kit"))
    for page, act in doings[:acts]:
        counter.client.post(at(batch, page), {"act": act})

    for address, texts in pages_of(counter, batch):
        assert [] == [text for text in texts if BROKEN.search(text)], address
    lead.language = "de"
    lead.save()
    for address, texts in pages_of(counter, batch):
        assert [] == [text for text in texts if "„" in text], address


def test_a_paper_with_nothing_on_it_leads_back_to_the_list(
    counter, lead, clock
) -> None:
    batch = kept(lead, clock, found=("L-KBD",))

    answer = counter.client.get(at(batch, "papers/donor-cards.pdf"))

    assert 404 == answer.status_code
    page = answer.content.decode()
    assert f"Donor cards: {NOTHING[0]}" in page
    assert "papers/day-sheet-lead.pdf" in page
    no_paper = counter.client.get(at(batch, "papers/no-such.pdf"))
    assert 404 == no_paper.status_code
    assert NOTHING[0] not in no_paper.content.decode()


def test_a_plan_without_jobs_names_no_day(counter, lead, clock) -> None:
    batch = kept(lead, clock, found=())

    page = " ".join(texts_of(counter.reads(at(batch, "plan/"))))

    assert "None late; no job planned" in page
    assert "too late already" not in page
