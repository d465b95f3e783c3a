"""Is nothing done at the bench that was refused, or that nobody answered yet?"""

from datetime import timedelta

import pytest
from pypdfium2 import PdfDocument

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Approval, BenchRun, Job
from turnscrew.web.records.queries import bench_page, bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.charges import agreed_quotes, charged_minor
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.today import overdue_waits
from turnscrew.web.records.services import custody, handing_back, invoicing, quoting
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import anew, post, reasons, taken, told, work
from web.browser.bench_case import kitted
from web.known_faults import all_is_known

KEYS = 18
"""A scanner that is in for its keys alone."""

BENCH = {"bench": "bench 1"}


@pytest.fixture
def quoted(batch, lead, clock) -> Job:
    job = kitted(batch, KEYS, lead, clock.at)
    now = clock.at
    quoting.keep_quotes(batch, reckoned(batch, now), by=lead, now=now, only=KEYS)
    clock.move_on(minutes=5)
    return job


@pytest.fixture
def opened(quoted, lead, helper, clock) -> Job:
    run = taken(quoted, lead, clock.at)
    work(run, lead, clock.at, helper, lambda line: line.phase == "work")
    clock.move_on(minutes=5)
    return Job.objects.get(pk=run.job_id)


def asked_on_the_pages(job: Job, at_lead, lead, clock) -> None:
    """Write a second fault and ask about it, not at the bench."""
    for code in ("H-KPD", "H-DSP"):
        note_finding(job, "confirmed", code=code, by=lead, now=clock.at)
    at_lead.post(f"/batches/{job.batch.ref}/approvals/", {"act": "ask"})
    clock.move_on(minutes=5)


def answered(job: Job, at_lead, clock, **lines: str) -> None:
    seen = Approval.objects.latest("pk").pk
    fields = {"act": "take", "name": "Ward", "yes": "", "no": "", "seen": seen}
    at_lead.post(f"/batches/{job.batch.ref}/approvals/", fields | lines)
    clock.move_on(minutes=5)


def spares_of(job: Job) -> set[str]:
    lines = bench_runs.run_in(bench_runs.latest(job)).lines
    return {line.spare for line in lines if line.phase == "work"}


def test_no_part_is_fitted_before_the_answer(
    opened, at_lead, lead, helper, clock
) -> None:
    asked_on_the_pages(opened, at_lead, lead, clock)

    with pytest.raises(RefusedError, match="answer: found none yet"):
        work(bench_runs.latest(opened), lead, clock.at, helper)

    assert not bench_runs.work_done(bench_runs.latest(opened))
    assert not opened.allotments.exists()
    asks = post(at_lead, f"jobs/{opened.ref}/anew/", {"why": "clip broke"})["asks"]
    assert "135.03 cu, ask the customer" in asks["says"]
    assert 1 == opened.runs.count()


def test_a_no_stops_the_bench_and_lets_it_be_closed_up(
    opened, at_lead, lead, helper, clock
) -> None:
    asked_on_the_pages(opened, at_lead, lead, clock)
    answered(opened, at_lead, clock, no=str(KEYS))
    stopped = Job.objects.get(pk=opened.pk)

    assert "parked open" == stopped.state
    assert "close it up as it is" in stopped.reason
    assert "no" == bench_page.job_state(stopped, "", clock.at)["waits_for"]
    asks = post(at_lead, f"jobs/{opened.ref}/anew/", {"why": "clip broke"})["asks"]
    assert "the customer said no" in asks["says"]
    post(at_lead, f"jobs/{opened.ref}/begin/", {**BENCH, "is_closing": True})
    assert "path" == post(
        at_lead, f"jobs/{opened.ref}/anew/", {"why": "clip broke"}
    )["kind"]  # fmt: skip
    assert set() == spares_of(opened)
    work(bench_runs.latest(opened), lead, clock.at, helper)
    assert "charged and clean" == Job.objects.get(pk=opened.pk).state


def test_a_yes_stops_the_bench_and_brings_a_path_with_the_new_part(
    opened, at_lead, lead, clock
) -> None:
    asked_on_the_pages(opened, at_lead, lead, clock)
    answered(opened, at_lead, clock, yes=str(KEYS))

    assert "the customer said yes: go on" == Job.objects.get(pk=opened.pk).reason
    post(at_lead, f"jobs/{opened.ref}/begin/", BENCH)
    assert {"H-KP", "H-DP"} <= spares_of(opened)


def test_what_hands_did_before_the_no_is_written_when_it_is_told_later(
    opened, at_lead, lead, helper, clock
) -> None:
    before = clock.at - timedelta(minutes=1)
    asked_on_the_pages(opened, at_lead, lead, clock)
    answered(opened, at_lead, clock, no=str(KEYS))
    run = bench_runs.latest(opened)
    line = bench_runs.run_in(run).lines[bench_runs.told(run).state.at]

    told(run, lead, before, "done", line.number)

    assert bench_runs.work_done(run)


def test_a_fault_found_on_the_pages_is_asked_about_before_a_new_path(
    opened, at_lead, lead, clock
) -> None:
    for code in ("H-KPD", "H-DSP"):
        note_finding(opened, "confirmed", code=code, by=lead, now=clock.at)

    asks = post(at_lead, f"jobs/{opened.ref}/anew/", {"why": "clip broke"})["asks"]

    assert "135.03 cu, ask the customer" in asks["says"]


@pytest.fixture
def by_hand(quoted, at_lead, lead, clock) -> Job:
    """Give a device that was opened by hand, and that more was found of."""
    to = Standing("open", "bench 1", lead.ref)
    custody.move(quoted, to, by=lead, now=clock.at)
    clock.move_on(minutes=5)
    asked_on_the_pages(quoted, at_lead, lead, clock)
    return Job.objects.get(pk=quoted.pk)


def test_one_opened_by_hand_is_not_begun_before_the_answer(by_hand, at_lead) -> None:
    assert "found none yet" in reasons(at_lead, f"jobs/{by_hand.ref}/begin/", BENCH)


def test_one_opened_by_hand_is_only_closed_up_after_a_no(
    by_hand, at_lead, lead, helper, clock
) -> None:
    answered(by_hand, at_lead, clock, no=str(KEYS))

    post(at_lead, f"jobs/{by_hand.ref}/begin/", BENCH)

    assert set() == spares_of(by_hand)
    work(bench_runs.latest(by_hand), lead, clock.at, helper)
    for state in ("tested open", "closed", "final-tested"):
        to = Standing(state, "bench 1", lead.ref)
        custody.move(by_hand, to, by=lead, now=clock.at)
    assert not by_hand.allotments.exists()


def second_fault(job: Job, at_lead, clock) -> None:
    """Tell a second fault at the bench, stop and ask."""
    body = {"why": "also found", "code": "H-DSP"}
    post(at_lead, f"jobs/{job.ref}/anew/", body)
    post(at_lead, f"jobs/{job.ref}/stop/", {})
    clock.move_on(minutes=5)


def closed_up(job: Job, at_lead, lead, helper, clock) -> None:
    post(at_lead, f"jobs/{job.ref}/begin/", {**BENCH, "is_closing": True})
    clock.move_on(minutes=5)
    work(bench_runs.latest(job), lead, clock.at, helper)


def sent_home(job: Job, lead, clock) -> Job:
    """Bring a device home whose faults a lead wrote in full."""
    all_is_known([job], by=lead, now=clock.at)
    wrong = {"part": "keypad", "mode": "worn", "cause": "wear", "agrees": "yes"}
    job.findings.filter(stage="confirmed", part="").update(**wrong)
    BenchRun.objects.update(rushed_s=None)
    to = Standing("packed", "bench 1", lead.ref)
    custody.move(job, to, by=lead, now=clock.at)
    handing_back.hand_back(job.batch, [job.line], taken_by="Wen", by=lead, now=clock.at)
    return Job.objects.get(pk=job.pk)


def billed(job: Job, lead, clock) -> list[tuple[str, int]]:
    made = invoicing.invoice(job.batch, by=lead, now=clock.at)
    assert made.total_minor == charged_minor(made)
    return list(made.lines.values_list("says", "net_minor"))


def test_what_was_refused_and_closed_up_is_neither_billed_nor_called_mended(
    opened, at_lead, lead, helper, clock
) -> None:
    second_fault(opened, at_lead, clock)
    answered(opened, at_lead, clock, no=str(KEYS))
    closed_up(opened, at_lead, lead, helper, clock)
    home = sent_home(opened, lead, clock)

    assert "not mended" == home.ended_as
    assert [("refused by the customer, no charge", 0)] == billed(home, lead, clock)
    note = at_lead.get(f"/batches/{home.batch.ref}/hand-back/{home.tranche.ref}/")
    text = PdfDocument(note.content)[0].get_textpage().get_text_range()
    assert "returned unrepaired" in " ".join(text.split())
    assert () == audited().breaks


def test_a_yes_that_comes_late_is_brought_before_somebody_and_not_billed(
    opened, at_lead, lead, helper, clock
) -> None:
    second_fault(opened, at_lead, clock)
    closed_up(opened, at_lead, lead, helper, clock)
    answered(opened, at_lead, clock, yes=str(KEYS))
    late = Job.objects.get(pk=opened.pk)

    assert "second look" == late.state
    assert "open it again" in late.reason
    assert [late] == overdue_waits(clock.at.date())
    home = sent_home(late, lead, clock)
    assert "not mended" == home.ended_as
    assert [("closed up as it is, no charge", 0)] == billed(home, lead, clock)


def test_after_a_late_yes_it_is_opened_again_mended_and_billed(
    opened, at_lead, lead, helper, clock
) -> None:
    second_fault(opened, at_lead, clock)
    closed_up(opened, at_lead, lead, helper, clock)
    answered(opened, at_lead, clock, yes=str(KEYS))
    to = Standing("open", "bench 1", lead.ref)
    custody.move(opened, to, by=lead, now=clock.at)
    anew(at_lead, opened, why="the customer said yes")
    clock.move_on(minutes=5)
    work(bench_runs.latest(opened), lead, clock.at, helper)
    home = sent_home(Job.objects.get(pk=opened.pk), lead, clock)

    assert "mended" == home.ended_as
    assert 135_03 == sum(net for _, net in billed(home, lead, clock))


def test_of_two_agreed_prices_that_of_what_was_fitted_is_billed(
    opened, at_lead, lead, helper, clock
) -> None:
    work(
        bench_runs.latest(opened), lead, clock.at, helper,
        lambda line: line.phase == "refit",
    )  # fmt: skip
    second_fault(opened, at_lead, clock)
    closed_up(opened, at_lead, lead, helper, clock)
    answered(opened, at_lead, clock, yes=str(KEYS))
    home = sent_home(Job.objects.get(pk=opened.pk), lead, clock)

    assert "mended" == home.ended_as
    assert 65_73 == sum(net for _, net in billed(home, lead, clock))


def test_what_goes_without_asking_gets_a_new_path_at_once(opened, at_lead) -> None:
    anew(at_lead, opened, why="clip broke")

    assert {"H-KP"} == spares_of(opened)


def test_one_opened_by_hand_can_be_closed_up_before_the_answer(
    by_hand, at_lead, lead, helper, clock
) -> None:
    tomorrow = clock.at.date() + timedelta(days=1)
    to = Standing("parked open", "bench 1", lead.ref, tomorrow, reason="answer awaited")
    custody.move(by_hand, to, by=lead, now=clock.at)
    parked = Job.objects.get(pk=by_hand.pk)
    assert "answer" == bench_page.job_state(parked, "", clock.at)["waits_for"]

    closed_up(parked, at_lead, lead, helper, clock)

    assert set() == spares_of(parked)
    for state in ("tested open", "closed", "final-tested"):
        to = Standing(state, "bench 1", lead.ref)
        custody.move(Job.objects.get(pk=parked.pk), to, by=lead, now=clock.at)


def test_of_two_prices_without_parts_the_lower_is_owed(
    opened, at_lead, lead, helper, clock
) -> None:
    """A second fault of labour alone: nothing shows that it was done."""
    batch = opened.batch
    batch.terms_text = batch.terms_text.replace("ask_limit: 95.00", "ask_limit: 67.00")
    batch.save()
    work(
        bench_runs.latest(opened), lead, clock.at, helper,
        lambda line: line.phase == "refit",
    )  # fmt: skip
    body = {"why": "also found", "code": "H-SEA"}
    post(at_lead, f"jobs/{opened.ref}/anew/", body)
    post(at_lead, f"jobs/{opened.ref}/stop/", {})
    clock.move_on(minutes=5)
    closed_up(Job.objects.get(pk=opened.pk), at_lead, lead, helper, clock)
    answered(opened, at_lead, clock, yes=str(KEYS))
    home = sent_home(Job.objects.get(pk=opened.pk), lead, clock)

    assert {6573} == {quote.quote_minor for quote in agreed_quotes([home])}
