"""Does no test that a lock bars ever pass, at the bench, on the page and on paper?"""

import pytest

from turnscrew.core.bench.run import Line
from turnscrew.web.records.models import BenchRun, Job
from turnscrew.web.records.queries.bench_runs import run_in
from turnscrew.web.records.queries.paper_beside import beside_of
from turnscrew.web.records.queries.sheet_told import sheets_of
from turnscrew.web.records.services import locks
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import taken, told, work
from web.browser.bench_case import kitted
from web.counter_case import signed_in


@pytest.fixture
def job(batch, lead, now, clock) -> Job:
    """Give a handheld whose final tests are told at the bench."""
    return kitted(batch, 18, lead, now)


def is_final_test(line: Line) -> bool:
    return line.phase == "final" and line.asks == "test"


def barred(run: BenchRun) -> list[Line]:
    return [one for one in run_in(run).lines if is_final_test(one)]


@pytest.mark.parametrize("lock", ["locked", "enrolled"])
def test_a_test_of_a_locked_device_cannot_have_passed(
    job, lead, helper, now, lock
) -> None:
    locks.note_lock(job, lock, by=lead, now=now)
    run = taken(job, lead, now)
    line = work(run, lead, now, helper, until=is_final_test)
    assert line is not None
    with pytest.raises(RefusedError, match="wanted not possible, because locked"):
        told(run, lead, now, "answer", line.number, {"answer": "passed"})

    facts = {"answer": "not possible", "reason": "locked"}
    told(run, lead, now, "answer", line.number, facts)
    [sheet] = sheets_of(Job.objects.get(pk=job.pk))
    says = {one.says for one in barred(run)}
    answers = {one.answer for one in sheet.sheet.lines if one.says in says}
    assert {"not possible"} == answers


def test_what_passed_before_the_lock_was_known_stands_as_not_possible(
    job, batch, lead, helper, now
) -> None:
    run = taken(job, lead, now)
    work(run, lead, now, helper)
    says = {line.says for line in barred(run)}
    assert says

    locks.note_lock(Job.objects.get(pk=job.pk), "locked", by=lead, now=now)

    page = signed_in(lead).get(f"/items/{job.item.ref}/").content.decode()
    assert "not possible" in page
    paper = beside_of("evidence.pdf", batch, now)
    outcomes = {one.outcome for one in paper.tests[18] if one.says in says}
    assert {"not possible"} == outcomes
    assert all("locked" in one.reason for one in paper.tests[18] if one.says in says)

    locks.note_lock(Job.objects.get(pk=job.pk), "neither", by=lead, now=now)
    paper = beside_of("evidence.pdf", batch, now)
    assert "passed" in {one.outcome for one in paper.tests[18] if one.says in says}


def test_the_page_of_a_locked_device_tells_what_can_be_tested(job, lead, clock) -> None:
    locks.note_lock(job, "locked", by=lead, now=clock.at)

    page = signed_in(lead).get(f"/items/{job.item.ref}/checks/").content.decode()

    assert "never try a password" in page
    assert "stand as not possible because locked" in page
