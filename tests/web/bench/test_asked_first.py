"""Is a written yes asked for beside the price, before anybody stands at the label?"""

from datetime import datetime, timedelta

import pytest

from turnscrew.core.bench.run import Line
from turnscrew.web.records.models import Job, Person, WrittenYes
from turnscrew.web.records.queries import bench_page, bench_runs
from turnscrew.web.records.queries.asked_first import asked_first
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.written_yes import Agreed, write_yes
from web.bench.case import taken, told, work
from web.browser.bench_case import kitted


def test_it_is_asked_for_with_the_approvals(at_lead, batch) -> None:
    page = at_lead.get(f"/batches/{batch.ref}/approvals/").content.decode()

    (one,) = asked_first(batch)
    bearing = batch.jobs.filter(model="R50").values_list("line", flat=True)
    assert ("R50", "tamper label") == (one.model, one.cover)
    assert sorted(bearing) == list(one.lines)
    assert "R50, tamper label: customer agrees in writing first" in page


def test_it_is_not_asked_of_what_has_gone(batch) -> None:
    batch.jobs.filter(model="R50").update(state="handed back")

    assert [] == asked_first(batch)


@pytest.fixture
def device(batch) -> Job:
    return batch.jobs.filter(model="R50").order_by("line")[0]


def agree(at_lead, batch, **more: str):
    entered = {"act": "agree", "cover": "tamper label", "name": "Wren Tolliver"}
    return at_lead.post(f"/batches/{batch.ref}/approvals/", entered | more)


def test_a_yes_is_written_with_who_and_when(at_lead, batch, device, now) -> None:
    day = now.date()
    done = agree(at_lead, batch, lines=str(device.line), day=day.isoformat())
    page = at_lead.get(f"/batches/{batch.ref}/approvals/").content.decode()

    assert 302 == done.status_code
    (one,) = asked_first(batch)
    assert device.line not in one.lacking
    assert len(one.lines) == len(one.lacking) + 1
    assert f"Device {device.line}: yes of Wren Tolliver" in page
    assert () == audited().breaks


def test_a_yes_is_refused_with_every_reason(at_lead, batch, device, now) -> None:
    late = now.date() + timedelta(1)
    known = batch.jobs.exclude(model="R50").first()
    lines = f"{device.line}, {known.line}"
    done = agree(at_lead, batch, lines=lines, day=late.isoformat(), name=" x")
    page = done.content.decode()

    assert 422 == done.status_code
    assert f"line: found {known.line}, wanted one that waits for a yes" in page
    assert f"day: found {late}, wanted {now.date()} or earlier" in page
    assert not WrittenYes.objects.exists()
    day = now.date().isoformat()
    assert 302 == agree(at_lead, batch, lines=str(device.line), day=day).status_code
    # A second yes to the same would leave open which one holds.
    assert 422 == agree(at_lead, batch, lines=str(device.line), day=day).status_code


def said_at_label(job: Job, by: Person, now: datetime) -> str:
    """Give the last caution where the label of a device is crossed."""
    run = taken(job, by, now, f"bench {job.line}").run
    (crossed,) = (
        one
        for one in run["lines"]
        if (one["does"], one["name"]) == ("undo", "tamper label")
    )
    return str(crossed["cautions"][-1])


def test_the_bench_says_at_the_label_whether_there_is_a_yes(batch, lead, now) -> None:
    with_yes, without = (
        kitted(batch, line, lead, now, is_agreed=False) for line in (18, 19)
    )
    agreed = Agreed("tamper label", "Wren Tolliver", now.date())
    write_yes(batch, [with_yes.line], agreed, by=lead, now=now)

    yes, none = (said_at_label(job, lead, now) for job in (with_yes, without))
    assert f"Agreed in writing on {now.date()}." == yes
    assert "No yes in writing when this path was written: ask for it first." == none


def is_yes(line: Line) -> bool:
    return line.kind == "yes in writing"


def test_nobody_goes_past_the_label_before_the_yes_is_on_record(
    at_lead, batch, lead, helper, now, clock
) -> None:
    job = kitted(batch, 19, lead, now, is_agreed=False)
    run = taken(job, lead, now)
    line = work(run, lead, now, helper, until=is_yes)
    assert line is not None
    assert "the customer's yes in writing for tamper label is on record" in line.points
    crossed = bench_runs.run_in(run).lines[line.number + 1]
    assert ("undo", "tamper label") == (crossed.does, crossed.name)

    wanted = "yes in writing: found none for tamper label, wanted it written on"
    with pytest.raises(RefusedError, match=wanted):
        told(run, lead, now, "answer", line.number, {"answer": "yes"})
    with pytest.raises(RefusedError, match="line: found line"):
        told(run, lead, now, "done", crossed.number)
    assert ["tamper label"] == bench_page.run_short(run)["not_agreed"]
    # That there is none is no answer to the label; the line stays.
    told(run, lead, now, "answer", line.number, {"answer": "no"})

    agreed = Agreed("tamper label", "Wren Tolliver", now.date())
    write_yes(batch, [job.line], agreed, by=lead, now=now)
    assert [] == bench_page.run_short(run)["not_agreed"]
    told(run, lead, now, "answer", line.number, {"answer": "yes"})
    told(run, lead, now, "done", crossed.number)


def test_with_a_reason_a_label_is_crossed_without_a_yes(
    batch, lead, helper, now
) -> None:
    # It was broken when it came, say: that is no look, and is told as such.
    job = kitted(batch, 19, lead, now, is_agreed=False)
    run = taken(job, lead, now)
    line = work(run, lead, now, helper, until=is_yes)
    assert line is not None
    told(run, lead, now, "skip", line.number, {"reason": "was broken when it came"})
    told(run, lead, now, "done", line.number + 1)


def test_a_yes_written_wrongly_is_withdrawn_and_may_be_written_anew(
    at_lead, batch, device, now
) -> None:
    day = now.date().isoformat()
    address = f"/batches/{batch.ref}/approvals/"
    agree(at_lead, batch, lines=str(device.line), day=day)
    entered = {"act": "unsay", "line": device.line, "cover": "tamper label"}

    assert 422 == at_lead.post(address, {**entered, "why": " "}).status_code
    done = at_lead.post(address, {**entered, "why": "it was of another device"})
    assert 302 == done.status_code
    (one,) = asked_first(batch)
    assert one.lacking == one.lines
    # The form is gone with the last yes that holds.
    assert "unsay" not in at_lead.get(address).content.decode()
    agree(at_lead, batch, lines=str(device.line), day=day)
    assert 2 == WrittenYes.objects.filter(job=device).count()
    assert () == audited().breaks
