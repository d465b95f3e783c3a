"""Is a device that is recorded while it is opened held to the rules of any other?"""

import json
from typing import Any

import pytest

from turnscrew.web.records.models import BenchRun, Description, Entry, Job
from turnscrew.web.records.queries import bench_page, bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import custody, descriptions
from turnscrew.web.records.services.findings import note_finding
from web.bench.case import became, one, post, reasons, taken
from web.browser.bench_case import kitted

LINES = (10, 16, 18)
"""Scanners of the example batch."""

BENCH = {"bench": "bench 1"}


@pytest.fixture
def job(batch, lead, now) -> Job:
    Description.objects.filter(model="R50").update(state=Description.WITHDRAWN)
    return kitted(batch, LINES[0], lead, now)


def test_one_in_isolation_is_not_opened_to_record_it(job, at_lead, lead, now) -> None:
    custody.isolate(job, by=lead, now=now, reason="pack swollen and hot")

    told = reasons(at_lead, f"jobs/{job.ref}/record/", BENCH)

    assert "found it isolated, pack swollen and hot, wanted it moved out" in told
    job.refresh_from_db()
    assert ("isolated", False) == (job.state, job.runs.exists())


def test_one_of_which_nobody_decided_about_data_is_not_opened(job, at_lead) -> None:
    Job.objects.filter(pk=job.pk).update(data_class="", data_decision="")

    told = reasons(at_lead, f"jobs/{job.ref}/record/", BENCH)

    assert "found nothing said of data of persons, wanted a decision" in told
    assert "kitted" == Job.objects.get(pk=job.pk).state


def recorded(client: Any, job: Job, n: int) -> BenchRun:
    """Record an opening with some screws, and give the way back."""
    told = post(client, f"jobs/{job.ref}/record/", BENCH)
    run = BenchRun.objects.get(ref=told["ref"])
    for at, facts in enumerate((
        {"removal": "joint", "kind": "screw", "name": "base screws", "n": n},
        {"removal": "part", "kind": "cover", "name": "base"},
    )):  # fmt: skip
        [came] = became(client, one(run, at, "record", facts=facts))
        assert "held" == came["standing"], came
    back = post(client, f"jobs/{job.ref}/turn-round/", {})
    return BenchRun.objects.get(ref=back["ref"])


def test_the_way_back_counts_what_came_out_of_this_very_device(
    batch, job, at_lead, lead, now
) -> None:
    for line, n in zip(LINES, (4, 4, 3), strict=True):
        this = job if line == LINES[0] else kitted(batch, line, lead, now)
        back = recorded(at_lead, this, n)

        assert [n] == list(bench_runs.run_in(back).tray.values())
        taken = Entry.objects.get(subject=this.ref, verb="taken")
        assert n == json.loads(taken.facts)["n"]
    assert () == audited().breaks


def test_what_was_recorded_names_the_person_at_the_bench(
    batch, job, at_lead, lead, now
) -> None:
    recorded(at_lead, job, 4)
    descriptions.correct_fact("R50", "parts.base.spare", "H-WN", by=lead, now=now)
    other = taken(kitted(batch, LINES[1], lead, now), lead, now, "bench 2")
    shown = json.dumps(at_lead.get(f"/bench/runs/{other.ref}/").json()["lines"])

    assert f"How known: seen, {lead.name}, " in shown
    assert lead.ref not in shown


def test_its_way_back_keeps_to_the_same_rules(
    job, at_lead, at_helper, lead, now
) -> None:
    told = post(at_lead, f"jobs/{job.ref}/record/", BENCH)
    run = BenchRun.objects.get(ref=told["ref"])
    facts = {"removal": "joint", "kind": "screw", "name": "base screws", "n": 4}
    became(at_lead, one(run, 0, "record", facts=facts))
    state = bench_page.job_state(Job.objects.get(pk=job.pk), "", now)
    assert "" == state["stop"]

    assert "take it over" in reasons(at_helper, f"jobs/{job.ref}/turn-round/", {})
    note_finding(job, "seen", by=lead, now=now, words="pack swollen")
    state = bench_page.job_state(Job.objects.get(pk=job.pk), "", now)
    assert state["stop"].startswith("Known of it: pack swollen")
    custody.isolate(Job.objects.get(pk=job.pk), by=lead, now=now, reason="hot")
    assert "found it isolated" in reasons(at_lead, f"jobs/{job.ref}/turn-round/", {})
