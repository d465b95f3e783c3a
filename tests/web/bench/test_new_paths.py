"""Does a path written on the way lead to the end and forget nothing that is owed?"""

import pytest

from turnscrew.core.bench.owed import owed_after
from turnscrew.core.bench.run import Line
from turnscrew.core.bench.state import WAY_BACK
from turnscrew.web.records.models import BenchRun, Description, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services import booking
from web.bench.case import anew, taken, told, work
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


def rest_of(row: BenchRun) -> set[tuple[str, str]]:
    """Give what is still given back, set and tested after closing."""
    state, run = bench_runs.state_and_run(row)
    return {
        (one.does, one.says)
        for one in run.lines[state.at :]
        if one.phase == "final" and one.does in ("give back", "set", "test")
    }


@pytest.mark.parametrize("line", [5, 9, 18])
@pytest.mark.parametrize("phase", ["close", "final"])
def test_what_was_taken_out_is_given_back_whatever_path_is_written(
    batch, at_lead, lead, helper, now, line, phase
) -> None:
    job = kitted(batch, line, lead, now)
    run = taken(job, lead, now)
    work(run, lead, now, helper, lambda one: one.phase == phase)
    owed = rest_of(run)
    assert "give back" in {does for does, _ in owed}

    last = anew(at_lead, job, why="looked once more", is_closing=True)

    assert owed <= rest_of(last)


def test_power_is_taken_off_before_anything_else_on_a_new_path(
    batch, at_lead, lead, helper, now
) -> None:
    job = kitted(batch, 3, lead, now)
    run = taken(job, lead, now)
    work(run, lead, now, helper, lambda one: one.does == "test open")
    told(run, lead, now, "answer", bench_runs.told(run).state.at, {"answer": "failed"})

    last = anew(at_lead, job, why="closed up as it is", is_closing=True)
    first, *others = bench_runs.run_in(last).lines
    assert ("power off", "Take the power off again; adapter out.") == (
        first.does, first.says
    )  # fmt: skip
    assert not [one for one in others if one.does == "power off"]
    # Once it was told, the next path does not ask again.
    told(last, lead, now, "done", 0, {})
    again = anew(at_lead, job, why="once more", is_closing=True)
    assert "power off" not in {one.does for one in bench_runs.run_in(again).lines}


def test_what_was_not_looked_at_is_asked_however_often_paths_change(
    batch, at_lead, lead, helper, now
) -> None:
    job = kitted(batch, 18, lead, now)
    run = taken(job, lead, now)
    device = bench_runs.run_in(run)
    lifted = [one.name for one in device.lines if one.does == "lift"]

    def owed() -> set[str]:
        left = owed_after(bench_runs.held_lines(run))
        looked, counted = (
            {name for one in device.lines if one.asks == asks for name in one.names}
            for asks in ("look", "count")
        )
        return {*left.looks} & looked | {*left.counts} & counted

    def is_back(line: Line) -> bool:
        off = bench_runs.told(run).state.off
        return line.phase == "refit" and bool(owed()) and lifted[0] not in off

    assert work(run, lead, now, helper, is_back)
    left = owed()
    deeper = anew(at_lead, job, why="also found", also_reach=[lifted[0]])
    assert "optimal" == bench_runs.run_in(deeper).status
    last = anew(at_lead, job, why="closed up as it is", is_closing=True)
    asked = {name for one in bench_runs.run_in(last).lines for name in one.names}

    assert left
    assert left <= asked


@pytest.mark.parametrize("when", ["box", "work"])
def test_a_bad_pack_that_is_out_is_boxed_and_never_laid_in_again(
    batch, at_lead, lead, helper, now, when
) -> None:
    for person in (lead, helper):
        booking.sign_off(person, "battery", by=lead, now=now, on=now.date())
    job = kitted(batch, 57, lead, now)
    run = taken(job, lead, now)
    is_there = (lambda one: one.does == "box") if when == "box" else (
        lambda one: one.phase == "work"
    )  # fmt: skip
    assert work(run, lead, now, helper, is_there)

    last = anew(at_lead, job, why="closed up as it is", is_closing=True)
    lines = bench_runs.run_in(last).lines
    boxes = [one for one in lines if one.does == "box"]
    assert (1 if when == "box" else 0) == len(boxes)
    assert not [one.says for one in lines if one.name in ("battery", "battery plug")
                and one.does in WAY_BACK]  # fmt: skip
    [left] = [one for one in lines if one.does == "leave out"]
    assert "Battery is not laid in again: it stays in the fire box." in left.says
    assert not any(one.may_power for one in lines if not one.name == "adapter")

    work(last, lead, now, helper, lambda one: one.name == "pieces of the pack")
    state, run = bench_runs.state_and_run(last)
    line = run.lines[state.at]
    for letter in line.compartments:
        n = bench_runs.told(last).state.tray[letter]
        facts = {"what": "left out", "n": n, "letter": letter, "reason": "no pack"}
        told(last, lead, now, "differs", line.number, facts)
    work(last, lead, now, helper)
    assert "charged and clean" == Job.objects.get(pk=job.pk).state
    assert () == audited().breaks
