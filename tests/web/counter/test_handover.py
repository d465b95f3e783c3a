"""An open device passes on by its counted tray, or lies covered over the night."""

import re
from datetime import timedelta

import pytest
from django.test import Client

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Batch, Description, Entry, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.handover_page import open_jobs, tray_written
from turnscrew.web.records.services import bench_recording, booking, custody, people
from turnscrew.web.records.services.bench import Told
from turnscrew.web.records.services.refusal import RefusedError
from web.conftest import person
from web.counter.worked import describe, kitted, taken, tell, work
from web.counter_case import signed_in

LINE = 8
"""A Pellorin of the example batch with a fan that is worn."""


@pytest.fixture
def described(sallowmere, lead, now) -> Batch:
    describe(sallowmere, lead, now)
    return sallowmere


@pytest.fixture
def opened(described, lead, helper, now) -> Job:
    """Give a device with its loose screws in the tray, held by the lead."""
    job = kitted(described, LINE, lead, now)
    row = taken(job, lead, now)
    work(row, lead, now, other=helper, until=lambda line: line.phase == "work")
    return Job.objects.get(pk=job.pk)


def counts(job: Job, **other: int) -> dict[str, int]:
    """Give what is entered when every compartment holds what is written."""
    told = {f"n{at}": one.n for at, one in enumerate(tray_written(job))}
    return {**told, **other}


def page_of(client: Client) -> str:
    answer = client.get("/handover/")
    assert 200 == answer.status_code
    return answer.content.decode()


def shown(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", page))


def test_it_tells_how_an_open_device_lies(opened, helper, clock) -> None:
    page = shown(page_of(signed_in(helper)))

    assert "1 device lies open: cover or close each before you leave" in page
    assert opened.number in page
    assert "held by Imke Vasterling" in page
    for one in tray_written(opened):
        assert f"{one.where}: {one.n} × {one.kind}" in page
    # The description names a compartment for some joints of this model.
    assert any(one.kept_in for one in tray_written(opened))
    state, run = bench_runs.state_and_run(bench_runs.latest(opened))
    assert run.lines[state.at].says in page
    assert run.lines[state.at - 1].says in page
    assert state.tray and len(tray_written(opened)) == len(state.tray)


def test_it_is_read_counted_and_refused_in_german(opened, helper, now) -> None:
    people.speak_to(helper, "de", now=now)
    client = signed_in(helper)
    page = shown(page_of(client))
    first = tray_written(opened)[0]

    assert "bench 1, Platz 1: " in page
    assert f"Gezählt in Fach {first.place}, " in page
    assert "compartment" not in page
    told = client.post(
        "/handover/",
        {**counts(opened, n0=first.n - 1), "act": f"take-{opened.ref}"},
    ).content.decode()
    assert f"Fach {first.place}, " in told
    assert f"gefunden {first.n - 1}, gesucht {first.n} wie eingetragen" in told
    assert "compartment" not in told


def test_it_says_what_is_off_and_what_is_apart(opened, lead, now) -> None:
    (one,) = open_jobs(lead, now)
    state, run = bench_runs.state_and_run(bench_runs.latest(opened))

    assert set(one.told.off) | set(one.told.unplugged) <= state.off
    line = run.lines[state.at]
    assert (line.n_off, line.n_unplugged) == (
        len(one.told.off), len(one.told.unplugged),
    )  # fmt: skip
    assert one.told.off and one.told.unplugged
    assert one.told.is_at_safe_stop == bool(line.stop)
    assert one.told.n_to_stop == line.to_stop


def test_it_passes_a_device_on_when_every_count_is_right(
    opened, lead, helper, clock
) -> None:
    client = signed_in(helper)

    answer = client.post(
        "/handover/", {"act": f"take-{opened.ref}", **counts(opened)}, follow=True
    )

    assert "yours now" in shown(answer.content.decode())
    job = Job.objects.get(pk=opened.pk)
    assert (helper.ref, opened.state, opened.place) == (
        job.holder,
        job.state,
        job.place,
    )
    entry = Entry.objects.filter(journal="bench", subject=job.ref).last()
    assert (entry.author, entry.verb) == (helper.ref, "action")
    assert '"does": "handover"' in entry.facts.replace('":"', '": "')
    assert not audited().breaks


def test_it_names_the_compartment_that_is_not_as_written(
    opened, lead, helper, clock
) -> None:
    first, second = tray_written(opened)[:2]
    before = Entry.objects.count()
    wrong = counts(opened, n0=first.n + 1, n1=second.n - 1)

    answer = signed_in(helper).post(
        "/handover/", {"act": f"take-{opened.ref}", **wrong}
    )

    page = shown(answer.content.decode())
    assert 422 == answer.status_code
    assert f"compartment {first.place}, {first.kind}: found {first.n + 1}" in page
    assert f"compartment {second.place}, {second.kind}: found {second.n - 1}" in page
    assert f'value="{first.n + 1}"' in answer.content.decode()
    assert lead.ref == Job.objects.get(pk=opened.pk).holder
    assert before == Entry.objects.count()


def test_it_accepts_nothing_without_every_compartment_counted(
    opened, lead, helper, clock
) -> None:
    entered = counts(opened)
    del entered["n0"]

    answer = signed_in(helper).post(
        "/handover/", {"act": f"take-{opened.ref}", **entered}
    )

    assert 422 == answer.status_code
    assert lead.ref == Job.objects.get(pk=opened.pk).holder


def test_it_only_confirms_the_tray_of_who_holds_it(opened, lead, clock) -> None:
    moves = Entry.objects.filter(journal="custody").count()

    answer = signed_in(lead).post(
        "/handover/", {"act": f"take-{opened.ref}", **counts(opened)}, follow=True
    )

    assert "you hold it already" in shown(answer.content.decode())
    assert moves == Entry.objects.filter(journal="custody").count()
    last = Entry.objects.filter(journal="bench").last()
    assert "handover" in last.facts and "false" in last.facts


def test_it_looks_into_an_empty_tray_too(described, lead, helper, now, clock) -> None:
    job = kitted(described, LINE, lead, now)
    taken(job, lead, now)
    client = signed_in(helper)

    wrong = client.post("/handover/", {"act": f"take-{job.ref}", "n0": 1})
    right = client.post("/handover/", {"act": f"take-{job.ref}", "n0": 0})

    assert (422, 302) == (wrong.status_code, right.status_code)
    assert "nothing in it: found 1, wanted 0" in shown(wrong.content.decode())
    assert helper.ref == Job.objects.get(pk=job.pk).holder


def test_it_offers_no_battery_job_to_who_has_no_sign_off(
    described, lead, helper, now, clock
) -> None:
    job = battery_job(described, lead, now)
    taken(job, lead, now)
    act = f"take-{job.ref}"

    page = page_of(signed_in(helper))
    answer = signed_in(helper).post("/handover/", {"act": act, "n0": 0})

    assert "only battery" in shown(page)
    assert f'value="{act}"' not in page
    assert 404 == answer.status_code
    assert lead.ref == Job.objects.get(pk=job.pk).holder
    assert f'value="{act}"' in page_of(signed_in(lead))

    booking.sign_off(helper, "battery", by=lead, now=now, on=now.date())
    assert f'value="{act}"' in page_of(signed_in(helper))


def battery_job(batch: Batch, lead: Person, now) -> Job:
    booking.sign_off(lead, "battery", by=lead, now=now, on=now.date())
    found = Job.objects.filter(
        batch=batch, findings__code="L-BAT", model="L240", state="received"
    )
    return kitted(batch, found.order_by("line")[0].line, lead, now)


def test_it_offers_no_draft_to_who_may_not_work_from_it(
    described, lead, helper, now, clock
) -> None:
    job = kitted(described, LINE, lead, now)
    row = taken(job, lead, now)
    Description.objects.filter(pk=row.description_id).update(state="draft")
    other = person("other", "Wilm Tarrant", Person.HELPER)

    assert f'value="take-{job.ref}"' not in page_of(signed_in(other))

    Description.objects.filter(pk=row.description_id).update(may_try=other)
    assert f'value="take-{job.ref}"' in page_of(signed_in(other))


def test_it_doubts_what_was_told_just_before(opened, lead, now) -> None:
    row = bench_runs.latest(opened)
    last = row.strokes.last().told_at

    (soon,) = open_jobs(lead, last + timedelta(minutes=4))
    (later,) = open_jobs(lead, last + timedelta(minutes=6))

    assert any("within five minutes" in words for words in soon.told.in_doubt)
    assert not any("within five minutes" in words for words in later.told.in_doubt)


def test_it_doubts_a_slip_that_nobody_put_right(opened, lead, helper, now) -> None:
    row = bench_runs.latest(opened)
    at = work(
        row, lead, now, other=helper,
        until=lambda line: line.asks == "look" and not line.found,
    )  # fmt: skip
    state, _ = bench_runs.state_and_run(row)
    wrong = {"answer": "no", "other": helper.ref}
    tell(row, lead, at, "answer", state.at, wrong)

    (one,) = open_jobs(lead, at + timedelta(hours=1))
    assert any(f"not put right: line {state.at + 1}" in d for d in one.told.in_doubt)

    facts = {"answer": "yes", "other": helper.ref, "signed": True}
    tell(row, lead, at, "answer", state.at, facts)
    (one,) = open_jobs(lead, at + timedelta(hours=1))
    assert not any("not put right" in words for words in one.told.in_doubt)


def test_it_counts_down_until_all_are_covered(
    described, lead, helper, now, clock
) -> None:
    jobs = [kitted(described, line, lead, now) for line in (1, LINE)]
    for job in jobs:
        taken(job, lead, now)
    client = signed_in(lead)
    assert "2 devices lie open" in shown(page_of(client))

    for job, left in zip(jobs, ("1 device lies open", "Every open"), strict=True):
        entered = {"act": f"cover-{job.ref}", "reason": "going home"}
        assert 302 == client.post("/handover/", entered).status_code
        assert left in shown(page_of(client))

    parked = Job.objects.get(pk=jobs[0].pk)
    assert ("parked open", lead.ref) == (parked.state, parked.holder)


def test_it_makes_nobody_a_holder_who_only_covers(opened, lead, helper, clock) -> None:
    entered = {"act": f"cover-{opened.ref}", "reason": "going home"}
    assert 302 == signed_in(helper).post("/handover/", entered).status_code

    job = Job.objects.get(pk=opened.pk)
    assert ("parked open", lead.ref) == (job.state, job.holder)


def test_it_opens_a_covered_device_again_for_who_takes_it(
    opened, lead, helper, clock
) -> None:
    signed_in(lead).post(
        "/handover/", {"act": f"cover-{opened.ref}", "reason": "going home"}
    )
    signed_in(helper).post(
        "/handover/", {"act": f"take-{opened.ref}", **counts(opened)}
    )

    job = Job.objects.get(pk=opened.pk)
    assert ("open", helper.ref) == (job.state, job.holder)


def waiting(job: Job, state: str, by: Person, now) -> Job:
    """Let an open device wait until tomorrow, with whoever has it open."""
    tomorrow = now.date() + timedelta(days=1)
    to = Standing(state, job.place, by.ref, tomorrow, job.main_state, "flux on it")
    custody.move(job, to, by=by, now=now)
    return Job.objects.get(pk=job.pk)


@pytest.mark.parametrize("waits", ["", "soaking", "parked open"])
def test_no_page_gives_an_open_device_away_uncounted(
    opened, lead, helper, now, clock, waits
) -> None:
    job = waiting(opened, waits, lead, now) if waits else opened
    client = signed_in(helper)
    entered = {"act": "move", "state": "open", "place": "bench 2", "holder": helper.ref}
    several = entered | {"lines": str(job.line)}

    alone = client.post(f"/items/{job.item.ref}/", entered)
    together = client.post(f"/batches/{job.batch.ref}/", several)

    for answer in (alone, together):
        assert 422 == answer.status_code
        assert "wanted it taken over on the page Handover" in answer.content.decode()
    now_it = Job.objects.get(pk=job.pk)
    assert (job.state, lead.ref) == (now_it.state, now_it.holder)


def test_its_holder_moves_an_open_device_and_anybody_isolates_it(
    opened, lead, helper, clock
) -> None:
    address = f"/items/{opened.item.ref}/"
    entered = {"act": "move", "state": "open", "place": "bench 2", "holder": lead.ref}

    assert 302 == signed_in(helper).post(address, entered).status_code
    assert "bench 2" == Job.objects.get(pk=opened.pk).place

    isolate = {"act": "isolate", "reason": "hot"}
    assert 302 == signed_in(helper).post(address, isolate).status_code
    job = Job.objects.get(pk=opened.pk)
    assert ("isolated", helper.ref) == (job.state, job.holder)


def test_what_soaks_open_passes_on_counted_and_soaks_on(
    opened, lead, helper, now, clock
) -> None:
    job = waiting(opened, "soaking", lead, now)
    client, act = signed_in(helper), f"take-{job.ref}"
    row = bench_runs.latest(job)
    at = row.strokes.last().told_at + timedelta(hours=1)
    clock.at = at

    assert "1 device lies open" not in shown(page_of(client))
    wrong = counts(job, n0=tray_written(job)[0].n + 1)
    assert 422 == client.post("/handover/", {"act": act, **wrong}).status_code
    answer = client.post("/handover/", {"act": act, **counts(job)})

    assert 302 == answer.status_code
    taken_over = Job.objects.get(pk=job.pk)
    assert ("soaking", helper.ref) == (taken_over.state, taken_over.holder)
    assert (job.waits_until, job.reason) == (taken_over.waits_until, taken_over.reason)
    # Whoever had it open, and passed it on, tells nothing more of it.
    state, _ = bench_runs.state_and_run(row)
    with pytest.raises(RefusedError, match="found somebody else since"):
        tell(row, lead, at + timedelta(minutes=1), "done", state.at, {})


def test_it_counts_what_a_recording_took_out(
    sallowmere, lead, helper, now, clock
) -> None:
    job = kitted(sallowmere, LINE, lead, now)
    row = bench_recording.begin(job, by=lead, now=now, bench="bench 1")
    facts = {"removal": "joint", "kind": "screw", "name": "base screws", "n": 7}
    told = Told("a-first-key", row.ref, "record", 0, now, facts)
    bench_recording.tell(told, by=lead, now=now)
    client, act = signed_in(helper), f"take-{job.ref}"

    assert "7 × screw, base screws" in shown(page_of(client))
    assert 422 == client.post("/handover/", {"act": act, "n0": 6}).status_code
    assert 302 == client.post("/handover/", {"act": act, "n0": 7}).status_code
    assert helper.ref == Job.objects.get(pk=job.pk).holder


def test_it_shows_the_desk_but_hands_it_nothing(opened, desk, clock) -> None:
    page = page_of(signed_in(desk))

    assert opened.number in page
    assert "take-" not in page
    assert "cover-" not in page


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_it_gives_the_sheet_to_sign(opened, helper, clock, size) -> None:
    answer = signed_in(helper).get(f"/handover/sheet-{size}.pdf")

    assert "application/pdf" == answer["Content-Type"]
    assert answer.content.startswith(b"%PDF")


def test_who_isolates_an_open_device_counts_its_tray_before_it_comes_out(
    opened, lead, helper, clock
) -> None:
    for one in (lead, helper):
        booking.sign_off(one, "battery", by=lead, now=clock.at, on=clock.at.date())
    address, client = f"/items/{opened.item.ref}/", signed_in(helper)
    client.post(address, {"act": "isolate", "reason": "label torn off"})
    out = {
        "act": "move", "state": "open", "place": "bench 2", "holder": helper.ref,
    }  # fmt: skip

    refused = client.post(address, out)
    assert 422 == refused.status_code
    assert "wanted it taken over on the page Handover" in shown(
        refused.content.decode()
    )
    clock.move_on(minutes=5)
    job = Job.objects.get(pk=opened.pk)
    act = {"act": f"take-{job.ref}", **counts(job)}
    assert 302 == client.post("/handover/", act).status_code
    assert 302 == client.post(address, out).status_code
    job = Job.objects.get(pk=opened.pk)
    assert ("open", helper.ref) == (job.state, job.holder)


def test_who_had_it_open_takes_it_out_again_at_once(opened, lead, clock) -> None:
    booking.sign_off(lead, "battery", by=lead, now=clock.at, on=clock.at.date())
    address, client = f"/items/{opened.item.ref}/", signed_in(lead)
    client.post(address, {"act": "isolate", "reason": "label torn off"})
    out = {"act": "move", "state": "open", "place": "bench 1", "holder": lead.ref}

    assert 302 == client.post(address, out).status_code
    assert "open" == Job.objects.get(pk=opened.pk).state


def test_there_is_a_sheet_to_sign_only_with_something_on_it(helper, sallowmere) -> None:
    assert "Sheet to sign" not in signed_in(helper).get("/handover/").content.decode()
