"""Does a path written on the way lead to the end and forget nothing that is owed?"""

import pytest

from turnscrew.web.records.models import Description, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from web.bench.case import anew, taken, work
from web.browser.bench_case import kitted

WINDOW, LAPTOP = 22, 1
"""A scanner in for its window, and a laptop, of the example batch."""


@pytest.mark.parametrize("line", [WINDOW, 7, 31])
@pytest.mark.parametrize("is_closing", [True, False])
def test_no_second_close_gate_stands_where_nothing_was_opened_again(
    batch, at_lead, lead, helper, now, line, is_closing
) -> None:
    job = kitted(batch, line, lead, now)
    run = taken(job, lead, now)
    work(run, lead, now, helper, lambda one: one.phase == "final")
    assert "closed" == Job.objects.get(pk=job.pk).state

    revision = Job.objects.get(pk=job.pk).revision
    change = {"is_closing": True} if is_closing else {"revision": revision}
    last = anew(at_lead, job, why="looked once more", **change)
    assert not [one for one in bench_runs.run_in(last).lines if one.asks == "close"]
    work(last, lead, now, helper)

    assert "charged and clean" == Job.objects.get(pk=job.pk).state
    assert () == audited().breaks


def test_it_lies_as_it_was_turned_last(batch, lead, now) -> None:
    run = bench_runs.run_in(taken(kitted(batch, WINDOW, lead, now), lead, now))

    [*_, turn] = [one for one in run.lines if one.does == "turn"]
    behind = {one.posture for one in run.lines[turn.number + 1 :]}
    assert {turn.posture} == behind
    assert turn.name == turn.posture


def test_screws_taken_by_one_revision_go_back_by_another_as_they_came(
    batch, at_lead, lead, helper, now
) -> None:
    for row in Description.objects.filter(model="L240"):
        tail = "        key tail:   {socket: {n_contacts: 30}}"
        assert tail in row.text
        screw = "{screw: {drive: H0, thread: M2x0.4, length_mm: 6.0}}"
        row.text = row.text.replace(tail, f"        rim screws: {screw}\n{tail}")
        row.save()
    job = kitted(batch, LAPTOP, lead, now)
    run = taken(job, lead, now)
    shown = {one.name for one in bench_runs.run_in(run).lines}
    assert "B" == bench_runs.run_in(run).revision
    assert "rim screws" in shown
    work(run, lead, now, helper, lambda one: one.phase == "work")

    last = anew(at_lead, job, why="seen inside", revision="A")
    kinds = set(bench_runs.run_in(last).fasteners.values())
    assert {"H0, M2x0.4, 6 mm"} <= kinds
    work(last, lead, now, helper)

    assert "charged and clean" == Job.objects.get(pk=job.pk).state
    assert () == audited().breaks
