"""Who may still tell of a device, and were its tests made or only ticked?"""

from datetime import timedelta
from typing import Any

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import BenchRun, Description, Entry, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.handover_page import key_of, tray_written
from turnscrew.web.records.services import (
    bench,
    bench_places,
    custody,
    findings,
    handing_back,
    handover,
)
from turnscrew.web.records.services.handover import EMPTY
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import (
    anew,
    head,
    one,
    post,
    reasons,
    right_answer,
    standings,
    taken,
    told,
    work,
)
from web.browser.bench_case import kitted

KEYS = 18
"""Line of the example batch with worn keys of a scanner."""


@pytest.fixture
def run(batch, lead, now) -> Any:
    return taken(kitted(batch, KEYS, lead, now), lead, now)


def test_no_new_path_takes_a_device_out_of_isolation(
    run, lead, helper, now, clock, at_helper
) -> None:
    work(run, lead, now, helper)
    job = Job.objects.get(pk=run.job_id)
    custody.isolate(job, by=lead, now=now + timedelta(minutes=5), reason="hot")
    Description.objects.update(state=Description.RELEASED)
    clock.move_on(minutes=10)
    asked = {"why": "look once more", "also_reach": [run.goal["work"][0]["reach"]]}

    told_why = reasons(at_helper, f"jobs/{job.ref}/anew/", asked)

    assert "found it isolated, hot, wanted it moved out first" in str(told_why)
    job.refresh_from_db()
    assert ("isolated", lead.ref) == (job.state, job.holder)
    assert run == bench_runs.latest(job)


def test_what_is_undone_late_is_undone_where_it_lies_apart(
    run, lead, helper, now
) -> None:
    """Its last test was taken back before it was isolated, and was told after that."""
    work(run, lead, now, helper)
    job = Job.objects.get(pk=run.job_id)
    custody.isolate(job, by=helper, now=now + timedelta(minutes=5), reason="hot")
    last = len(bench_runs.run_in(run).lines) - 1
    stroke = bench.Told("late-key", run.ref, "undo", last, now, {}, head(run))

    later = now + timedelta(minutes=10)
    assert "held" == bench.tell(stroke, by=lead, now=later).standing

    job.refresh_from_db()
    assert ("isolated", "closed") == (job.state, job.main_state)
    moves = Entry.objects.filter(journal="custody", verb="moved", subject=job.ref)
    assert later == moves.latest("sequence").at
    assert () == audited().breaks


def test_it_goes_on_with_a_parked_device_only_when_it_is_taken_up(
    run, lead, helper, now
) -> None:
    line = work(run, lead, now, helper, lambda one: one.asks == "close")
    job = Job.objects.get(pk=run.job_id)
    later = now + timedelta(minutes=5)
    bench_places.park(job, by=lead, now=later, reason="end of the day")
    with pytest.raises(RefusedError, match="found it parked"):
        told(run, lead, later, "done", line.number)
    # What was told before it was covered counts, however late it comes in.
    stroke = bench.Told("late-key", run.ref, "done", line.number, now, {}, head(run))
    assert "held" == bench.tell(stroke, by=lead, now=later).standing

    work(run, lead, later, helper)
    assert "charged and clean" == Job.objects.get(pk=run.job_id).state


def test_it_takes_nothing_more_from_whom_it_was_taken_over(
    batch, lead, helper, now
) -> None:
    Description.objects.update(state=Description.RELEASED)
    run = taken(kitted(batch, KEYS, helper, now), helper, now)
    line = work(run, helper, now, lead, lambda one: one.moves == "taken")
    later = now + timedelta(minutes=5)
    counted = {key_of(one): one.n for one in tray_written(run.job) or (EMPTY,)}
    handover.take_over(run.job, counted, by=lead, now=later)

    with pytest.raises(RefusedError, match="wanted you: take it over"):
        told(run, helper, later, "done", line.number)
    assert "held" == told(run, lead, later, "done", line.number).standing
    # Told before it passed on: kept beside the other, for somebody to say which holds.
    early = bench.Told("early-key", run.ref, "differs", line.number, now,
                       {"what": "missing on arrival", "n": 1}, "another")  # fmt: skip
    assert "disputed" == bench.tell(early, by=helper, now=later).standing


def test_it_takes_the_last_answer_back_into_closed(run, lead, helper, now) -> None:
    work(run, lead, now, helper)
    assert "charged and clean" == Job.objects.get(pk=run.job_id).state
    n = len(bench_runs.run_in(run).lines)
    told(run, lead, now, "undo", n - 1)

    assert "closed" == Job.objects.get(pk=run.job_id).state
    work(run, lead, now, helper)
    assert "charged and clean" == Job.objects.get(pk=run.job_id).state
    assert () == audited().breaks


def test_what_was_told_before_it_was_isolated_leaves_it_there(
    run, lead, helper, now
) -> None:
    """The close was told away from the network, then it was isolated at the counter."""
    line = work(run, lead, now, helper, lambda one: one.asks == "close")
    job = Job.objects.get(pk=run.job_id)
    custody.isolate(job, by=helper, now=now + timedelta(minutes=5), reason="hot")
    late = now + timedelta(minutes=10)
    # Looked at once more: that does not make it isolated any later.
    custody.isolate(job, by=helper, now=late, reason="still hot")
    stroke = bench.Told("late-key", run.ref, "done", line.number, now, {}, head(run))

    assert "held" == bench.tell(stroke, by=lead, now=late).standing
    job.refresh_from_db()
    assert ("isolated", "closed", helper.ref) == (job.state, job.main_state, job.holder)
    told_then = now + timedelta(minutes=7)
    stroke = bench.Told(
        "later-key", run.ref, "undo", line.number, told_then, {}, head(run)
    )
    with pytest.raises(RefusedError, match="found it isolated"):
        bench.tell(stroke, by=lead, now=late)


def test_who_might_then_is_asked_of_what_is_told_late(batch, lead, helper, now) -> None:
    """A pack told to be bad after the close makes nobody's close undone."""
    Description.objects.update(state=Description.RELEASED)
    run = taken(kitted(batch, KEYS, helper, now), helper, now)
    line = work(run, helper, now, lead, lambda one: one.asks == "close")
    told_at = now + timedelta(seconds=1)
    later = now + timedelta(minutes=5)
    words = "the pack is swollen"
    findings.note_finding(run.job, "seen", by=lead, now=later, words=words)
    stroke = bench.Told(
        "late-key", run.ref, "done", line.number, told_at, {}, head(run)
    )

    assert "held" == bench.tell(stroke, by=helper, now=later).standing
    assert "closed" == Job.objects.get(pk=run.job_id).state


def test_it_tells_nothing_more_of_a_device_that_has_left(
    run, lead, helper, now
) -> None:
    work(run, lead, now, helper)
    later = now + timedelta(hours=1)
    n = len(bench_runs.run_in(run).lines) - 1
    job = Job.objects.get(pk=run.job_id)
    custody.enter(job, Standing("handed back", "", ""), by=lead, now=later)

    with pytest.raises(RefusedError, match="found it handed back, wanted one that is"):
        told(run, lead, later + timedelta(minutes=1), "undo", n)
    change = bench.Change("look once more")
    with pytest.raises(RefusedError, match="found it handed back, wanted one that is"):
        bench.plan_anew(run, change, by=lead, now=later, is_time_up=lambda: True)

    month = later + timedelta(days=30)
    custody.enter(job, Standing("promise over", "", ""), by=lead, now=month)
    with pytest.raises(RefusedError, match="found it promise over"):
        told(run, lead, later + timedelta(minutes=1), "undo", n)


def test_it_shows_and_sets_aside_what_was_told_of_an_older_path(
    run, at_lead, at_helper, lead, helper, now
) -> None:
    line = work(run, lead, now, helper, lambda one: one.moves == "taken")
    late = one(run, line.number, "done", after=head(run))
    anew(at_lead, run.job, why="label screw will not come", stays=["label screw"])
    assert ["disputed"] == standings(at_helper, late, name="bench 2")

    state = at_lead.get("/bench/state/?bench=bench%201").json()
    (job,) = [one for one in state["jobs"] if one["ref"] == run.job.ref]
    (apart,) = job["run"]["disputed"]
    assert (run.ref, line.says) == (apart["run"], apart["says"])
    address = f"jobs/{run.job.ref}/settle/"
    assert "an older path" in reasons(at_lead, address, {"is_theirs": True})
    assert [] == post(at_lead, address, {"is_theirs": False})["disputed"]
    assert () == audited().breaks


def test_it_keeps_its_posture_over_two_new_paths(
    run, at_lead, lead, helper, now
) -> None:
    work(run, lead, now, helper, lambda one: one.posture == "nose up" and one.moves)
    before = [one.posture for one in bench_runs.run_in(run).lines]
    at = bench_runs.told(run).state.at
    assert before[at - 1] not in {"", before[0]}
    for _ in range(2):
        anew(at_lead, run.job, why="closed up as it is", is_closing=True)
        fresh = bench_runs.run_in(bench_runs.latest(run.job))
        assert before[at - 1] == fresh.posture


# --- tests that were only ticked ------------------------------------------------------


def handed_back(job: Job, by: Any, now: Any) -> None:
    handing_back.hand_back(job.batch, [job.line], taken_by="porter", by=by, now=now)


def test_it_shows_a_lead_final_tests_that_were_only_ticked(
    run, lead, helper, now, at_lead, at_helper
) -> None:
    work(run, lead, now, helper)
    job = Job.objects.get(pk=run.job_id)
    item = f"/items/{job.item.ref}/"
    assert BenchRun.objects.get(pk=run.pk).rushed_s == 0
    assert "only ticked" in at_lead.get("/").content.decode()
    assert "Rushed: all final tests were answered in 0 s" in shown(at_lead, item)
    assert "Looked into it" not in shown(at_helper, item)
    refused = at_helper.post(item, {"act": "rushed", "reason": "mine"})
    assert 404 == refused.status_code

    Job.objects.filter(pk=job.pk).update(state="packed")
    with pytest.raises(RefusedError, match="answered in 0 s, wanted a lead who looked"):
        handed_back(job, lead, now)
    Job.objects.filter(pk=job.pk).update(state=job.state)
    at_lead.post(item, {"act": "rushed", "reason": "tested again by me"})
    assert "Looked into by Imke Vasterling" in shown(at_lead, item)
    assert "only ticked" not in at_lead.get("/").content.decode()
    assert () == audited().breaks


def test_it_marks_no_sheet_that_took_its_time(run, lead, helper, now, at_lead) -> None:
    at = now
    while (line := work(run, lead, at, helper, lambda one: True)) is not None:
        at += timedelta(seconds=20)
        act, facts = right_answer(line, helper)
        told(run, lead, at, act, line.number, facts)

    assert BenchRun.objects.get(pk=run.pk).rushed_s is None
    item = shown(at_lead, f"/items/{Job.objects.get(pk=run.job_id).item.ref}/")
    assert "Tests at the bench" in item
    assert '<a href="#tests">at the bench, see below</a>' in item
    assert "Rushed" not in item


def shown(client, address) -> str:
    return client.get(address).content.decode()


def test_nobody_else_goes_on_while_it_waits_open(run, lead, helper, now) -> None:
    """It soaks: its pieces lie in the tray of whoever opened it."""
    work(run, lead, now, helper, lambda one: one.phase == "refit")
    job = Job.objects.get(pk=run.job_id)
    to = Standing("soaking", job.place, lead.ref, now.date(), job.main_state, "rinsed")
    custody.move(job, to, by=lead, now=now)
    Description.objects.update(state=Description.RELEASED)

    with pytest.raises(RefusedError, match="take it over on the page Handover"):
        taken(job, helper, now)
