"""Strokes at the bench tell minutes, standards, and times for the descriptions."""

import re
from datetime import timedelta

import pytest

from turnscrew.core.model.times import N_JOBS_MIN
from turnscrew.files.device_file import read_device
from turnscrew.web.records.models import Batch, Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.bench_record import bench_record
from turnscrew.web.records.queries.descriptions import newest
from turnscrew.web.records.queries.own_times import (
    fresh_times,
    own_times_record,
    taps_on_record,
)
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services.descriptions import keep_times
from turnscrew.web.records.services.refusal import RefusedError
from web.counter.worked import describe, kitted, taken, tell, work
from web.counter_case import signed_in

EACH_S = 20.0
"""Between two strokes of these made-up hands; only captive shares differ. [s]"""

TABLETS = (2, 3, 4, 5, 6, 9, 12)
"""Tablets of the example batch."""


@pytest.fixture
def described(sallowmere, lead, now) -> Batch:
    describe(sallowmere, lead, now)
    return sallowmere


def worked(batch, lines, by, other, now, seconds=EACH_S):
    at = now
    for line in lines:
        row = taken(kitted(batch, line, by, now), by, at, f"bench {line}")
        at = work(row, by, at + timedelta(seconds=30), other=other, seconds=seconds)
    return at


def shown(answer) -> str:
    told = re.sub("<[^>]+>", " ", answer.content.decode())
    return re.sub(r"\s+", " ", told)


def test_it_tells_nothing_before_the_first_stroke(lead, clock) -> None:
    page = shown(signed_in(lead).get("/own-times/"))

    assert "No stroke of a bench is on record yet." in page


def test_it_adds_the_minutes_up_by_job_person_and_work(
    described, lead, helper, now, clock
) -> None:
    worked(described, TABLETS[:1], lead, helper, now)

    record = own_times_record(lead, now.date())

    row = bench_runs.latest(Job.objects.get(batch=described, line=TABLETS[0]))
    n = row.strokes.count()
    # The first stroke of a day ends a time that nobody knows.
    wanted = (n - 1) * EACH_S / 60
    (job,) = record.jobs
    (one,) = record.people
    waits = sum(tap.wait_s for tap in taps_on_record() if tap.wait_s < EACH_S)
    assert job.minutes == pytest.approx(wanted - waits / 60)
    assert (job.minutes, job.minutes) == pytest.approx((one.today, one.week))
    assert job.minutes == pytest.approx(sum(minutes for _, minutes in record.by_work))
    assert {"opening", "refit", "tests", "looks and counts"} <= set(
        dict(record.by_work)
    )
    assert (n, 1) == (record.n_taps, record.n_unknown)


def test_the_promise_takes_its_spread_from_own_times(
    described, lead, helper, now, monkeypatch
) -> None:
    before = reckoned(described, now, is_planned=True).planned.spread
    assert ("terms, made wider", 0) == (before.known_by, before.n_jobs)

    monkeypatch.setattr("turnscrew.core.schedule.spread.ENOUGH", 1)
    at = worked(described, TABLETS[:1], lead, helper, now)
    at = worked(described, TABLETS[1:2], lead, helper, at, seconds=2 * EACH_S)
    after = reckoned(described, at, is_planned=True).planned.spread
    assert ("own times", 2) == (after.known_by, after.n_jobs)
    # What was done later is not known before.
    assert before == reckoned(described, now, is_planned=True).planned.spread


def test_the_plan_says_which_spread_it_takes(sallowmere, lead, helper, clock) -> None:
    page = signed_in(lead).get(f"/batches/{sallowmere.ref}/plan/").content.decode()
    words = (
        "Too few own times of like jobs (0 jobs): the figure of the terms made wider"
    )
    assert words in page


def test_a_time_far_out_is_listed_until_a_lead_says_why(
    described, lead, helper, now, clock
) -> None:
    row = taken(kitted(described, TABLETS[0], lead, now), lead, now, "bench 1")
    at = work(row, lead, now + timedelta(seconds=30), other=helper, seconds=EACH_S)
    late = taken(kitted(described, TABLETS[1], lead, at), lead, at, "bench 2")
    work(late, lead, at + timedelta(minutes=50), other=helper, seconds=EACH_S)
    clock.at = at
    client = signed_in(lead)
    assert "1 of 1 still to be explained" in shown(client.get("/own-times/"))

    (far,) = own_times_record(lead, now.date()).far
    assert "cut as a break" == far.one.kind
    assert 3000 == pytest.approx(far.one.seconds, abs=60)
    entered = {"act": "explain", "stroke": far.one.tap.number, "why": "fire drill"}
    assert 302 == client.post("/own-times/", entered).status_code
    page = shown(client.get("/own-times/"))
    assert "0 of 1 still to be explained" in page
    assert "fire drill; Imke Vasterling" in page
    assert 404 == signed_in(helper).post("/own-times/", entered).status_code


def test_it_shows_a_week_from_monday_and_a_day_alone(
    described, lead, helper, now
) -> None:
    worked(described, TABLETS[:1], lead, helper, now)
    worked(described, TABLETS[1:2], lead, helper, now + timedelta(days=1))

    (tuesday,) = own_times_record(lead, now.date() + timedelta(days=1)).people
    (next_week,) = own_times_record(lead, now.date() + timedelta(days=7)).people

    assert 0 < tuesday.today < tuesday.week
    assert (0, 0) == (next_week.today, next_week.week)


def test_it_shows_everybody_to_a_lead_and_to_others_their_own(
    described, lead, helper, desk, now, clock
) -> None:
    worked(described, TABLETS[:2], lead, helper, now)
    worked(described, TABLETS[2:4], helper, lead, now)

    def names(person):
        record = own_times_record(person, now.date())
        return {one.name for one in (*record.people, *record.standards)}

    assert {lead.name, helper.name} == names(lead)
    assert {helper.name} == names(helper)
    assert set() == names(desk)


def test_it_names_actions_by_their_element_of_work(
    described, lead, helper, now
) -> None:
    worked(described, TABLETS[:1], lead, helper, now)

    row = bench_runs.latest(Job.objects.get(batch=described, line=TABLETS[0]))
    device = read_device(row.description.text, revision=bench_runs.run_in(row).revision)
    taps = taps_on_record()
    actions = {tap.action for tap in taps}
    assert {"undo socket", "make socket"} <= actions
    assert any(action.startswith("lift ") for action in actions)
    soft = [name for name, joint in device.joints.items() if joint.soften]
    lines = bench_runs.run_in(row).lines
    heated = [one for one in lines if one.does == "undo" and one.name in soft]
    assert heated
    for line in heated:
        joint = device.joints[line.name]
        tap = taps[line.number]
        wanted_s = joint.soften.heat_s + joint.soften.wait_s + joint.power.wait_s
        assert wanted_s == tap.wait_s


def test_it_takes_a_stroke_back_without_calling_it_undoing(
    described, lead, helper, now
) -> None:
    row = taken(kitted(described, TABLETS[0], lead, now), lead, now)
    at = work(row, lead, now, other=helper, until=lambda line: line.number == 2)
    tell(row, lead, at + timedelta(seconds=5), "undo", 1, {})

    first, second, third = taps_on_record()

    assert (False, True, False) == (
        first.is_undone, second.is_undone, third.is_undone,
    )  # fmt: skip
    assert "take back" == third.action


def test_it_gives_no_standard_below_five_times(described, lead, helper, now) -> None:
    worked(described, TABLETS[:1], lead, helper, now)

    record = own_times_record(lead, now.date())

    assert () == record.standards
    assert record.n_too_few > 5


def test_it_gives_medians_by_model_and_action(
    described, lead, helper, now, clock
) -> None:
    worked(described, TABLETS[:5], lead, helper, now)

    record = own_times_record(lead, now.date())

    sockets = [row for row in record.standards if row.action == "undo socket"]
    assert all(row.standard.n >= 5 for row in record.standards)
    (row,) = sockets
    assert ("V80", lead.name) == (row.model, row.name)
    assert EACH_S == pytest.approx(row.standard.median_s)
    page = shown(signed_in(lead).get("/own-times/"))
    assert "V80, undo socket Imke Vasterling 20.0 20.0 to 20.0" in page


def test_it_offers_nothing_to_a_description_below_five_jobs(
    described, lead, helper, now, clock
) -> None:
    worked(described, TABLETS[: N_JOBS_MIN - 1], lead, helper, now)
    client = signed_in(lead)

    assert {} == fresh_times("V80")
    assert "Use these times" not in shown(client.get("/own-times/"))
    assert 404 == client.post("/own-times/", {"act": "use", "model": "V80"}).status_code


def test_it_puts_times_of_five_jobs_into_the_description(
    described, lead, helper, now, clock
) -> None:
    worked(described, TABLETS[:N_JOBS_MIN], lead, helper, now)
    before = newest("V80")
    stated = read_device(before.text)

    answer = signed_in(lead).post(
        "/own-times/", {"act": "use", "model": "V80"}, follow=True
    )

    after = newest("V80")
    device = read_device(after.text)
    assert "released as before" in shown(answer)
    assert (before.number + 1, "released", []) == (
        after.number, after.state, after.edited,
    )  # fmt: skip
    assert EACH_S == device.times["socket"].strip_s
    assert N_JOBS_MIN == device.times["socket"].n_jobs
    assert device.times["socket"].source.startswith("own; ")
    # 23 jobs stand behind the screws of this description, five here are fewer.
    assert stated.times["screw"] == device.times["screw"]
    assert (stated.parts, stated.joints) == (device.parts, device.joints)
    assert {} == fresh_times("V80")


def test_it_keeps_times_for_a_lead(described, lead, helper, now, clock) -> None:
    worked(described, TABLETS[:N_JOBS_MIN], lead, helper, now)

    answer = signed_in(helper).post("/own-times/", {"act": "use", "model": "V80"})

    assert 404 == answer.status_code
    assert 1 == newest("V80").number


def test_it_puts_the_median_beside_the_minutes_of_the_terms(
    described, lead, helper, now, clock
) -> None:
    worked(described, TABLETS[: N_JOBS_MIN - 1], lead, helper, now)
    client = signed_in(lead)
    page = shown(client.get("/own-times/"))
    assert "no median, own: median of 4 whole jobs; 5 are wanted" in page

    later = now + timedelta(hours=3)
    worked(described, TABLETS[N_JOBS_MIN - 1 : N_JOBS_MIN], lead, helper, later)

    (one,) = own_times_record(lead, now.date()).models
    assert 5 == one.minutes.n_jobs
    page = shown(client.get("/own-times/"))
    assert f"{one.minutes.minutes} min, own: median of 5 whole jobs" in page
    assert "Used in Sallowmere, first round of 2027: 28 min of the terms" in page


def test_it_counts_no_job_as_whole_that_is_still_open(
    described, lead, helper, now
) -> None:
    row = taken(kitted(described, TABLETS[0], lead, now), lead, now)
    work(row, lead, now, other=helper, until=lambda line: line.asks == "close")

    (one,) = own_times_record(lead, now.date()).models

    assert 0 == one.minutes.n_jobs


def test_it_refuses_times_of_what_nobody_described(lead, now) -> None:
    with pytest.raises(RefusedError, match="found none of X9"):
        keep_times("X9", {}, by=lead, now=now)


# --- a helper who learns ------------------------------------------------------


def test_passes_and_pieces_left_over_are_counted_at_the_bench(
    described, lead, helper, now, clock
) -> None:
    empty = bench_record(helper)
    assert (0, 0, 0, None) == (
        empty.n_supervised, empty.n_closed, empty.n_left_over, empty.pace,
    )  # fmt: skip
    at = worked(described, TABLETS[:2], lead, helper, now)
    at = worked(described, TABLETS[2:4], helper, lead, at, seconds=2 * EACH_S)

    counted = bench_record(helper)
    # The lead gave the second look in both jobs, which the helper closed.
    assert (2, 2, 0) == (counted.n_supervised, counted.n_closed, counted.n_left_over)
    # Every stroke took twice as long as the lead's: waits of the device make it less.
    assert 1.5 < counted.pace <= 2.5
    assert counted.n_actions > 0

    row = bench_runs.latest(Job.objects.get(batch=described, line=TABLETS[2]))
    stroke = row.strokes.filter(by=helper, act="answer").first()
    stroke.facts |= {"left": 3}
    stroke.save()
    client = signed_in(lead)
    address = f"/people/{helper.ref}/"
    page = shown(client.get(address))
    assert "Pieces left over, as told at counts 3" in page
    assert "of them supervised: somebody else looked too 2" in page
    entered = {"act": "sign_off", "skill": "glass"}
    assert 302 == client.post(address, entered).status_code
    given = helper.sign_offs.get(skill="glass")
    assert (2, 3) == (given.n_supervised, given.n_left_over)
