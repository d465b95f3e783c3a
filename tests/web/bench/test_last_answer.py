"""Can the last answer of a device be taken back, and is what went on told so?"""

import pytest
from django.test import Client

from turnscrew.web.records.models import Job
from turnscrew.web.records.queries.bench_page import bench_state
from turnscrew.web.records.services import bench_places
from web.bench.case import head, post, reasons, taken, told, work
from web.browser.bench_case import kitted


@pytest.fixture
def done(batch, lead, helper, now) -> Job:
    job = kitted(batch, 18, lead, now)
    run = taken(job, lead, now)
    bench_places.in_hand("bench 1", job, layer="", by=lead, now=now)
    work(run, lead, now, helper)
    return Job.objects.get(pk=job.pk)


def found(client: Client, job: Job) -> dict[str, str]:
    return client.get("/bench/find/", {"code": job.number}).json()


def test_the_bench_keeps_the_device_whose_last_line_it_answered(
    done, lead, helper, now
) -> None:
    def here(name: str) -> list[str]:
        return [job["ref"] for job in bench_state(name, lead, now)["jobs"]]

    assert "charged and clean" == done.state
    assert [done.ref] == here("bench 1")
    assert [] == here("bench 2")
    run = done.runs.get()
    told(run, lead, now, "undo", len(run.run["lines"]) - 1)
    assert "closed" == Job.objects.get(pk=done.pk).state
    assert head(run)
    work(run, lead, now, helper)
    Job.objects.filter(pk=done.pk).update(state="packed")
    assert [] == here("bench 1")


def test_a_device_that_went_on_is_not_opened_in_silence(done, at_lead) -> None:
    wanted = "wanted it on a bench: move it back on its page first"

    assert (
        f"state: found charged and clean, {wanted}" == found(at_lead, done)["not_begun"]
    )
    Job.objects.filter(pk=done.pk).update(state="packed")
    assert f"state: found packed, {wanted}" == found(at_lead, done)["not_begun"]
    assert f"found packed, {wanted}" in reasons(at_lead, f"jobs/{done.ref}/begin/", {})


def test_it_says_before_what_would_be_refused(batch, at_lead, lead, now) -> None:
    early = Job.objects.get(batch=batch, line=1)
    ready = kitted(batch, 18, lead, now)

    why = found(at_lead, early)["not_begun"]
    assert f"state: found {early.state}, wanted it kitted or further" == why
    assert why == reasons(at_lead, f"jobs/{early.ref}/begin/", {})
    assert "" == found(at_lead, ready)["not_begun"]
    post(at_lead, f"jobs/{ready.ref}/begin/", {"bench": "bench 1"})
    assert "" == found(at_lead, ready)["not_begun"]
