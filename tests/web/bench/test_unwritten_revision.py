"""Does work go on where a device is of a revision that nobody described?"""

from typing import Any

import pytest

from turnscrew.core.model.job_state import BENCH_DONE
from turnscrew.web.records.models import Job
from turnscrew.web.records.queries import bench_page, bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.descriptions import device_in, newest, revisions_of
from web.bench.case import anew, taken, work
from web.browser.bench_case import kitted


@pytest.fixture
def run(batch, lead, helper, now) -> Any:
    job = Job.objects.filter(batch=batch, model="L240", line__gte=1).order_by("line")
    lying = taken(kitted(batch, job[5].line, lead, now), lead, now)
    work(lying, lead, now, helper, lambda line: line.number >= 8)
    return lying


@pytest.fixture
def fresh(run, at_lead) -> Any:
    why = "revision not described: another connector"
    return anew(at_lead, run.job, why=why, is_undescribed=True)


def test_it_goes_on_along_a_copy_with_all_that_was_done(run, fresh) -> None:
    before, after = bench_runs.told(run).state, bench_runs.told(fresh).state
    job = Job.objects.get(pk=run.job_id)

    assert "unwritten 1" == job.revision
    assert (before.off, before.tray) == (after.off, after.tray)
    assert (
        bench_runs.run_in(run).letters.items()
        <= bench_runs.run_in(fresh).letters.items()
    )
    assert () == audited().breaks


def test_the_copy_is_the_revision_it_was_worked_as(run, fresh) -> None:
    old = device_in(run.description, run.job.revision)
    copy = device_in(newest("L240"), "unwritten 1")

    assert old.joints == copy.joints
    assert old.parts == copy.parts


def test_it_is_flagged_to_be_written_up_and_the_rest_stays_proven(
    run, fresh, at_lead
) -> None:
    kept = newest("L240")

    assert run.description.pk != kept.pk
    assert run.description.state == kept.state
    assert "not written up yet" in kept.text
    assert run.job.number in kept.text
    for address in ("/descriptions/", "/descriptions/L240/"):
        page = at_lead.get(address).content.decode()
        assert "to be written up: unwritten 1" in page.lower()


def test_the_next_device_of_the_kind_finds_it_by_name(run, fresh, now) -> None:
    state = bench_page.job_state(Job.objects.get(pk=run.job_id), "", now)
    assert "unwritten 1" in state["revisions"]
    assert "unwritten 1" in revisions_of(newest("L240"))


def test_a_second_unknown_one_gets_its_own(run, fresh, at_lead) -> None:
    anew(at_lead, run.job, why="revision not described: another part",
         is_undescribed=True)  # fmt: skip

    assert "unwritten 2" == Job.objects.get(pk=run.job_id).revision
    assert {"unwritten 1", "unwritten 2"} <= set(revisions_of(newest("L240")))


def test_it_can_be_brought_to_its_end(run, fresh, lead, helper, now) -> None:
    work(fresh, lead, now, helper)

    assert Job.objects.get(pk=run.job_id).state in BENCH_DONE
    assert () == audited().breaks
