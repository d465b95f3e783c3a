"""More is wrong inside than was agreed: is it asked before work goes on?"""

from datetime import timedelta
from typing import Any

import pytest

from turnscrew.web.records.models import (
    Approval,
    Entry,
    Finding,
    Job,
    Part,
    Quote,
)
from turnscrew.web.records.queries import bench_page, bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.charges import agreed_quotes
from turnscrew.web.records.queries.permission import permission_refusal
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.today import overdue_waits
from turnscrew.web.records.services import bench_places, quoting, stop_and_ask
from turnscrew.web.records.services.findings import withdraw_finding
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import anew, post, reasons, taken, work
from web.browser.bench_case import kitted

KEYS, DISPLAY = 18, "H-DSP"
"""A scanner that is in for its keys alone, and what is found of it inside."""

CAMERA, GLASS = 32, "T-GLS"
"""A tablet that is in for its camera, and what makes it not worth mending."""

BENCH = {"bench": "bench 1"}


@pytest.fixture
def job(batch, lead, helper, now) -> Job:
    run = taken(kitted(batch, KEYS, lead, now), lead, now)
    work(run, lead, now, helper, lambda line: line.phase == "work")
    return Job.objects.get(pk=run.job_id)


@pytest.fixture
def asked(job, at_lead) -> Any:
    body = {"why": "also found: display dead", "code": DISPLAY}
    return post(at_lead, f"jobs/{job.ref}/anew/", body)["asks"]


@pytest.fixture
def parked(job, asked, at_lead) -> Job:
    post(at_lead, f"jobs/{job.ref}/stop/", {})
    return Job.objects.get(pk=job.pk)


def answered(job: Job, lead, now, *, is_yes: bool) -> None:
    quoting.give_answers(
        job.batch, {job.line: is_yes}, name="Ward sister", by=lead, now=now
    )


def lines_of(job: Job) -> list[Any]:
    return list(bench_runs.run_in(bench_runs.latest(job)).lines)


def test_a_dearer_fault_is_not_worked_on_before_a_yes(job, asked) -> None:
    quote = job.quotes.last()

    assert asked["is_for_customer"]
    assert "keypad worn + display dead: 135.03 cu, ask the customer" == asked["says"]
    assert ("ask", 135_03) == (quote.code, quote.quote_minor)
    assert 1 == job.runs.count()
    assert Finding.objects.filter(job=job, stage="confirmed", code=DISPLAY).exists()


def test_stopping_parks_it_and_asks_with_the_new_amount(parked, now) -> None:
    asked = Approval.objects.get(job=parked)

    assert "parked open" == parked.state
    assert now.date() + timedelta(days=1) == parked.waits_until
    assert "display dead" in parked.reason
    assert (Approval.PENDING, 135_03) == (asked.answer, asked.quote_minor)
    assert Entry.objects.filter(subject=parked.ref, verb="asked").exists()
    assert "answer" == bench_page.job_state(parked, "", now)["waits_for"]
    assert () == audited().breaks


def test_standing_open_for_more_than_a_day_is_told(parked, now) -> None:
    assert not overdue_waits(now.date())
    assert [parked] == overdue_waits(now.date() + timedelta(days=1))


def test_a_fault_that_makes_it_not_worth_mending_goes_to_the_lead(
    batch, at_lead, lead, helper, now
) -> None:
    run = taken(kitted(batch, CAMERA, lead, now), lead, now)
    work(run, lead, now, helper, lambda line: line.phase == "work")
    address, body = f"jobs/{run.job.ref}", {"why": "found", "code": GLASS}
    asked = post(at_lead, f"{address}/anew/", body)["asks"]
    assert not asked["is_for_customer"]
    assert "140.28 cu, not worth mending" in asked["says"]
    post(at_lead, f"{address}/stop/", {})

    job = Job.objects.get(pk=run.job_id)
    assert ("parked open", asked["says"]) == (job.state, job.reason)
    assert not job.approvals.exists()


def test_a_fault_within_what_was_agreed_goes_on_at_once(job, at_lead) -> None:
    body = {"why": "also found: window scratched", "code": "H-WIN"}

    assert "path" == post(at_lead, f"jobs/{job.ref}/anew/", body)["kind"]


def test_it_is_not_gone_on_with_before_the_answer(parked, at_lead) -> None:
    address = f"jobs/{parked.ref}/begin/"

    assert "wanted the customer's yes" in reasons(at_lead, address, BENCH)
    assert "parked open" == Job.objects.get(pk=parked.pk).state


def test_a_yes_brings_a_path_with_the_new_part(parked, at_lead, lead, now) -> None:
    later = now + timedelta(hours=2)
    answered(parked, lead, later, is_yes=True)
    woken = Job.objects.get(pk=parked.pk)
    assert "said yes" in woken.reason
    assert [woken] == overdue_waits(now.date())
    post(at_lead, f"jobs/{parked.ref}/begin/", BENCH)

    assert Job.objects.get(pk=parked.pk).state in {"open", "tested open"}
    assert {"H-KP", "H-DP"} <= {line.spare for line in lines_of(parked)}
    assert () == audited().breaks


def test_a_no_lets_it_be_closed_up_and_nothing_else(parked, at_lead, lead, now) -> None:
    answered(parked, lead, now, is_yes=False)
    woken = Job.objects.get(pk=parked.pk)
    assert "close it up as it is" in woken.reason
    assert "no" == bench_page.job_state(woken, "", now)["waits_for"]
    assert "found no" in reasons(at_lead, f"jobs/{parked.ref}/begin/", BENCH)
    post(at_lead, f"jobs/{parked.ref}/begin/", {**BENCH, "is_closing": True})

    run = bench_runs.latest(parked)
    assert "the customer said no" in run.why
    assert "parked open" != Job.objects.get(pk=parked.pk).state
    assert not [line for line in lines_of(parked) if line.phase == "work"]


def test_what_was_agreed_goes_on_once_what_was_refused_is_withdrawn(
    batch, job, at_lead, lead, clock
) -> None:
    quoting.keep_quotes(batch, reckoned(batch, clock.at), by=lead, now=clock.at)
    address = f"jobs/{job.ref}"
    clock.move_on(minutes=5)
    post(at_lead, f"{address}/anew/", {"why": "found", "code": DISPLAY})
    post(at_lead, f"{address}/stop/", {})
    clock.move_on(minutes=5)
    answered(job, lead, clock.at, is_yes=False)
    display = Finding.objects.get(job=job, code=DISPLAY)
    withdraw_finding(display, by=lead, now=clock.at, words="left as it is")
    clock.move_on(minutes=5)
    quoting.keep_quotes(batch, reckoned(batch, clock.at), by=lead, now=clock.at)
    parked = Job.objects.get(pk=job.pk)

    assert ("go", 65_73) == (job.quotes.last().code, job.quotes.last().quote_minor)
    assert "" == bench_page.job_state(parked, "", clock.at)["waits_for"]
    post(at_lead, f"{address}/begin/", BENCH)
    assert Job.objects.get(pk=job.pk).state in {"open", "tested open"}
    spares = {line.spare for line in lines_of(job)}
    assert ("H-KP" in spares, "H-DP" in spares) == (True, False)


def test_it_can_be_closed_up_while_nobody_answers(parked, at_lead, now) -> None:
    post(at_lead, f"jobs/{parked.ref}/begin/", {**BENCH, "is_closing": True})

    assert "no answer yet" in bench_runs.latest(parked).why
    assert "parked open" != Job.objects.get(pk=parked.pk).state
    woken = Job.objects.get(pk=parked.pk)
    assert not bench_page.job_state(woken, "", now)["waits_for"]


def test_nobody_else_writes_a_path_for_it(parked, helper, now) -> None:
    row = bench_runs.latest(parked)
    same = stop_and_ask.go_on(
        row, is_closing=True, by=helper, now=now, is_time_up=lambda: True
    )

    assert row == same


def test_a_yes_to_less_does_not_hold_for_more(parked, lead, now) -> None:
    answered(parked, lead, now, is_yes=True)
    stands = parked.approvals.last()
    stands.quote_minor -= 1
    stands.save()

    with pytest.raises(RefusedError, match="a yes to less"):
        bench_places.take(
            parked, by=lead, now=now, bench="bench 1", is_time_up=lambda: True
        )


def test_nothing_is_asked_where_nothing_changed(job, at_lead) -> None:
    assert "nothing to ask" in reasons(at_lead, f"jobs/{job.ref}/stop/", {})
    assert not job.approvals.exists()


def test_asking_again_asks_once(parked, at_lead) -> None:
    post(at_lead, f"jobs/{parked.ref}/stop/", {})

    assert 1 == parked.approvals.count()


def cost(number: str, minor: int | None) -> None:
    part = Part.objects.get(number=number)
    part.cost_minor = minor
    part.save()


def test_what_has_no_price_waits_for_the_lead_and_is_billed_once_it_has_one(
    job, at_lead, lead, helper, clock
) -> None:
    known = Part.objects.get(number="H-DP").cost_minor
    cost("H-DP", None)
    address, page = f"jobs/{job.ref}", f"/batches/{job.batch.ref}/approvals/"
    asks = post(at_lead, f"{address}/anew/", {"why": "found", "code": DISPLAY})["asks"]
    says = "keypad worn + display dead: no price known, ask the lead"
    assert (says, False) == (asks["says"], asks["is_for_customer"])
    post(at_lead, f"{address}/stop/", {})
    parked = Job.objects.get(pk=job.pk)
    assert ("parked open", says) == (parked.state, parked.reason)
    assert "price" == bench_page.job_state(parked, "", clock.at)["waits_for"]
    assert "quote: found no price" in reasons(at_lead, f"{address}/begin/", BENCH)

    clock.move_on(minutes=5)
    cost("H-DP", known)
    at_lead.post(page, {"act": "ask"})

    assert 135_03 == job.approvals.get().quote_minor
    assert "answer" == bench_page.job_state(parked, "", clock.at)["waits_for"]
    answered(parked, lead, clock.at, is_yes=True)
    post(at_lead, f"{address}/begin/", BENCH)
    work(bench_runs.latest(job), lead, clock.at, helper)
    (agreed,) = agreed_quotes([Job.objects.get(pk=job.pk)])
    assert 135_03 == net_minor(agreed)


def test_a_yes_to_a_price_is_none_to_what_has_no_price(parked, lead, now) -> None:
    answered(parked, lead, now, is_yes=True)
    parked.quotes.filter(code="ask").update(quote_minor=None, charges=[])

    assert [] == agreed_quotes([parked])
    assert "found no price" in permission_refusal(parked, "open")


def net_minor(quote: Quote) -> int:
    return sum(row["net_minor"] for row in quote.charges)


@pytest.mark.parametrize("n", [1, 2, 9, 60])
@pytest.mark.parametrize("n_letters", [4, 66, 500])
def test_a_reason_holds_what_fits_and_counts_the_rest(n, n_letters) -> None:
    faults = [chr(0x100 + k) * n_letters for k in range(n)]
    told = stop_and_ask.joined(faults)

    assert len(told) <= stop_and_ask.MOST_OF_FAULTS
    assert told.startswith(faults[0][:150])
    *named, last = told.split(" + ")
    n_more = int(last.removesuffix(" more")) if last.endswith("more") else 0
    assert n == len(named) + (n_more or 1)


COMEBACK, FAN = 56, "L-FAN"
"""A laptop that came back within its promise, and what else is found of it inside."""


def test_a_no_to_what_a_comeback_has_besides_lets_it_go_on(
    batch, at_lead, lead, helper, now
) -> None:
    job = kitted(batch, COMEBACK, lead, now)
    quoting.keep_quotes(batch, reckoned(batch, now), by=lead, now=now, only=COMEBACK)
    run = taken(job, lead, now)
    work(run, lead, now, helper, lambda line: line.phase == "work")
    address = f"jobs/{run.job.ref}"
    asks = post(at_lead, f"{address}/anew/", {"why": "found", "code": FAN})["asks"]
    assert "ask the customer" in asks["says"]
    post(at_lead, f"{address}/stop/", {})
    job = Job.objects.get(pk=run.job_id)
    assert "answer" == bench_page.job_state(job, "", now)["waits_for"]

    answered(job, lead, now + timedelta(minutes=5), is_yes=False)
    woken = Job.objects.get(pk=job.pk)
    assert "the customer said no to the rest: the comeback goes on" == woken.reason
    assert not bench_page.job_state(woken, "", now)["waits_for"]
    post(at_lead, f"{address}/begin/", BENCH)

    assert Job.objects.get(pk=job.pk).state in {"open", "tested open"}
    spares = {line.spare for line in lines_of(job)}
    assert "C-KBA" in spares
    assert "C-FN" not in spares
    assert "no to the rest" in bench_runs.latest(job).why
    assert () == audited().breaks


@pytest.mark.parametrize("said", ["no", "nothing", "not asked"])
def test_what_is_closed_up_as_it_is_comes_to_its_end(
    job, asked, at_lead, lead, helper, now, said
) -> None:
    if said == "not asked":
        anew(at_lead, job, why="closed up as it is", is_closing=True)
    else:
        post(at_lead, f"jobs/{job.ref}/stop/", {})
        if said == "no":
            answered(Job.objects.get(pk=job.pk), lead, now, is_yes=False)
        post(at_lead, f"jobs/{job.ref}/begin/", {**BENCH, "is_closing": True})

    work(bench_runs.latest(job), lead, now + timedelta(minutes=5), helper)

    assert "charged and clean" == Job.objects.get(pk=job.pk).state
    assert not Job.objects.get(pk=job.pk).allotments.filter(state="used").exists()
    assert () == audited().breaks


def test_a_yes_that_was_none_stops_the_bench(
    parked, at_lead, lead, helper, now
) -> None:
    answered(parked, lead, now + timedelta(minutes=5), is_yes=True)
    post(at_lead, f"jobs/{parked.ref}/begin/", BENCH)
    job = Job.objects.get(pk=parked.pk)
    assert job.state in {"open", "tested open"}

    later = now + timedelta(minutes=9)
    quoting.correct_answer(
        job, is_yes=False, name="Ward", by=lead, now=later, words="of another device"
    )

    stopped = Job.objects.get(pk=parked.pk)
    assert ("parked open", "the customer said no: close it up as it is") == (
        stopped.state, stopped.reason
    )  # fmt: skip
    assert "no" == bench_page.job_state(stopped, "", later)["waits_for"]
    post(at_lead, f"jobs/{parked.ref}/begin/", {**BENCH, "is_closing": True})
    work(bench_runs.latest(parked), lead, later + timedelta(minutes=5), helper)
    assert "charged and clean" == Job.objects.get(pk=parked.pk).state
