"""Is a pack that may be swollen told before anything else, wherever a day begins?"""

import re

import pytest
from django.test import Client

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.queries.packs import CAUTION, packs_to_isolate
from turnscrew.web.records.services import custody
from web.counter_case import signed_in

PACKS = "Pack swollen or of unknown state, not isolated yet:"


@pytest.fixture
def counter(lead, clock) -> Client:
    return signed_in(lead)


def first_words(client: Client, address: str) -> str:
    page = client.get(address).content.decode()
    told = re.sub("<[^>]+>", " ", page.partition("</h1>")[2])
    return re.sub(r"\s+", " ", told).strip()


def test_today_names_them_before_all_else(counter, sallowmere, now) -> None:
    jobs = packs_to_isolate([sallowmere], now)

    assert 10 == len(jobs)
    named = ", ".join(f"{job.line} {job.model}" for job in jobs)
    assert PACKS in first_words(counter, "/")[: len(PACKS) + 20]
    assert named in first_words(counter, "/").replace(" ,", ",")


def test_it_is_silent_of_those_that_lie_apart(counter, sallowmere, lead, now) -> None:
    first, *rest = packs_to_isolate([sallowmere], now)
    custody.isolate(first, by=lead, now=now, reason="pack swollen")

    assert rest == packs_to_isolate([sallowmere], now)
    for job in rest:
        custody.isolate(job, by=lead, now=now, reason="pack swollen")
    assert PACKS not in first_words(counter, "/")


def test_the_bench_says_so_when_such_a_device_is_scanned(
    counter, sallowmere, now
) -> None:
    bad = packs_to_isolate([sallowmere], now)[0]
    good = sallowmere.jobs.exclude(
        pk__in=[job.pk for job in packs_to_isolate([sallowmere], now)]
    ).first()

    def told(job) -> str:
        return str(counter.get("/bench/find/", {"code": job.number}).json()["caution"])

    assert CAUTION == told(bad)
    assert "" == told(good)


def test_a_pack_that_waits_for_an_answer_is_still_named(
    counter, sallowmere, lead, now
) -> None:
    bad = packs_to_isolate([sallowmere], now)[0]
    waits = Standing(
        "awaiting answer", bad.place, bad.holder, now.date(), bad.main_state, "a yes"
    )
    custody.move(bad, waits, by=lead, now=now)

    assert bad in packs_to_isolate([sallowmere], now)
    told = counter.get("/bench/find/", {"code": bad.number}).json()["caution"]
    assert CAUTION == told


def test_its_own_page_asks_to_isolate_it_before_anything_else(
    counter, sallowmere, lead, now
) -> None:
    bad = packs_to_isolate([sallowmere], now)[0]
    address = f"/items/{bad.item.ref}/"
    headings = "<h2>Dangerous: isolate</h2>", "<h2>Which model and revision</h2>"

    page = counter.get(address).content.decode()
    assert page.index(headings[0]) < page.index(headings[1])
    assert 1 == page.count('id="isolate-form"')

    custody.isolate(bad, by=lead, now=now, reason="pack swollen")
    page = counter.get(address).content.decode()
    assert headings[0] not in page
    assert 1 == page.count('id="isolate-form"')
