"""Does nobody give a device back without reading what was passed over?"""

import pytest
from django.test import Client

from turnscrew.core.bench.run import Line
from turnscrew.web.records.models import Job
from turnscrew.web.records.queries.paper_beside import beside_of
from turnscrew.web.records.services import handing_back, people
from web.bench.case import taken, told, work
from web.bench.test_evidence_page import half_of, paper
from web.browser.bench_case import kitted
from web.counter.test_note_as_signed import note_of
from web.counter_case import signed_in

KEYS = 18
"""Line of the example batch with worn keys of a scanner."""


@pytest.fixture
def job(batch, lead, helper, now, clock) -> Job:
    clock.move_on(hours=1)
    job = kitted(batch, KEYS, lead, now)
    run = taken(job, lead, now)

    def goes_back(line: Line) -> bool:
        return line.moves == "refitted" and line.n > 1

    line = work(run, lead, now, helper, goes_back)
    assert line is not None
    facts = {"what": "left out", "n": 1, "reason": "part still to come"}
    told(run, lead, now, "differs", line.number, facts)
    assert work(run, lead, now, helper, lambda one: one.does == "clean") is not None
    work(run, lead, now, helper)
    Job.objects.filter(pk=job.pk).update(state="packed")
    return Job.objects.get(pk=job.pk)


def pages(client: Client, job: Job) -> list[str]:
    addresses = f"/items/{job.item.ref}/", f"/batches/{job.batch.ref}/hand-back/"
    return [client.get(address).content.decode() for address in addresses]


def test_the_device_and_the_hand_back_name_it(job, lead, now) -> None:
    for page in pages(signed_in(lead), job):
        assert "Passed over" in page
        assert "left out: 1 × " in page
        assert "part still to come" in page
    people.speak_to(lead, "de", now=now)
    for page in pages(signed_in(lead), job):
        assert "Übergangen" in page
        assert "weggelassen: 1 × " in page
        assert "Teil kommt noch" in page


def test_the_evidence_names_it(job, batch, lead, now) -> None:
    half = half_of(paper(lead, batch, "evidence.pdf"), KEYS)

    assert "passed over left out: 1 ×" in half
    assert "part still to come" in half
    people.speak_to(lead, "de", now=now)
    pages = paper(lead, batch, "evidence.pdf")
    told = " ".join(page.get_textpage().get_text_bounded() for page in pages)
    german = " ".join(told.split())
    assert "übergangen weggelassen: 1 ×" in german
    assert "Teil kommt noch" in german


def test_the_note_that_is_signed_names_it(job, batch, lead, now) -> None:
    job.runs.update(rushed_s=None)
    tranche = handing_back.hand_back(batch, [KEYS], taken_by="Q. Rook", by=lead,
                                     now=now)  # fmt: skip
    note = note_of(signed_in(lead), batch, tranche)

    assert f"Passed over at the bench no. what why {KEYS} left out: 1 ×" in note
    assert "part still to come" in note
    people.speak_to(lead, "de", now=now)
    note = note_of(signed_in(lead), batch, tranche)
    assert f"Am Arbeitsplatz übergangen Nr. was warum {KEYS} weggelassen: 1 ×" in note
    assert "Teil kommt noch" in note


def test_the_evidence_of_a_time_knows_what_was_told_by_then(job, batch, now) -> None:
    assert [KEYS] == list(beside_of("evidence.pdf", batch, now).passed_over)
    before = job.runs.get().at.replace(year=2026)
    assert {} == beside_of("evidence.pdf", batch, before, past_time=True).passed_over
