"""Is a device billed by what was done to it, whatever was quoted before?"""

from datetime import timedelta

import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Finding, Invoice, Job, Part
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    custody,
    findings,
    handing_back,
    invoicing,
    kitting,
    quoting,
    stock,
)
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.safety import log_pack
from turnscrew.web.records.services.trials import (
    TrialEnd,
    TrialPlan,
    end_trial,
    plan_trial,
)
from turnscrew.web.records.services.waste import Receipt
from web.counter.test_german_papers import words_of
from web.counter_case import signed_in

KEYS, GLASS, ASKED = 1, 8, 4
"""A device that goes at 94.75, one to mend, and one asked about, in the example."""

TRIAL = TrialPlan(60, "typing", "flat", 22, ago_min=240)
NOT_SHOWN = TrialEnd(60, "every key", "not shown", "no fault showed itself")
WRONG = {"part": "keys", "mode": "dirt below", "cause": "dirt", "agrees": "yes"}


@pytest.fixture
def quoted(sallowmere, lead, now):
    quoting.keep_quotes(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    return sallowmere


def keep_anew(batch, lead, now) -> None:
    quoting.keep_quotes(batch, reckoned(batch, now), by=lead, now=now)


def sent_home(job: Job, lead, now) -> None:
    job = Job.objects.get(pk=job.pk)
    for state in ("final-tested", "charged and clean", "packed"):
        to = Standing(state, "bench 1", lead.ref)
        custody.move(job, to, by=lead, now=now)
    handing_back.hand_back(
        job.batch, [job.line], taken_by="Wen Arkady", by=lead, now=now
    )


def billed(batch, lead, now) -> dict[int, int]:
    made: Invoice = invoicing.invoice(batch, by=lead, now=now)
    sums: dict[int, int] = {}
    for line in made.lines.all():
        sums[line.job.line] = sums.get(line.job.line, 0) + line.net_minor
    return sums


def test_no_fault_found_is_billed_as_that(quoted, lead, now) -> None:
    now += timedelta(hours=2)
    job = quoted.jobs.get(line=KEYS)
    plan_trial(job, TRIAL, by=lead, now=now)
    end_trial(job, NOT_SHOWN, by=lead, now=now)
    sent_home(job, lead, now)
    with pytest.raises(
        RefusedError, match="device 1: quoted as a repair, but no fault"
    ):
        invoicing.invoice(quoted, by=lead, now=now)

    keep_anew(quoted, lead, now)

    alone = quoted.jobs.get(line=KEYS).quotes.last()
    assert ("no_fault_found", alone.quote_minor) == (alone.code, 3280)
    assert {KEYS: alone.quote_minor} == billed(quoted, lead, now)


def test_what_rests_on_a_withdrawn_finding_is_not_billed(quoted, lead, now) -> None:
    job = quoted.jobs.get(line=KEYS)
    finding = job.findings.get(stage=Finding.SEEN)
    findings.withdraw_finding(finding, by=lead, now=now, words="the wrong device")
    note_finding(job, Finding.SEEN, by=lead, now=now, words="dust")
    note_finding(job, Finding.CONFIRMED, by=lead, now=now, words="dust", wrong=WRONG)
    sent_home(job, lead, now)
    with pytest.raises(RefusedError, match="but what was found was withdrawn"):
        invoicing.invoice(quoted, by=lead, now=now)

    keep_anew(quoted, lead, now)

    assert {KEYS: 0} == billed(quoted, lead, now)


def test_what_is_to_be_mended_is_no_donor(quoted, lead, now) -> None:
    with pytest.raises(RefusedError, match="device 1: found it to be mended"):
        kitting.declare_donors(
            quoted, [14, KEYS], reckoned(quoted, now), by=lead, now=now
        )

    assert "donor" not in quoted.jobs.values_list("state", flat=True)


def test_a_donor_pays_what_it_was_stripped_for_whatever_was_agreed(
    quoted, lead, now
) -> None:
    quoting.ask(quoted, reckoned(quoted, now), by=lead, now=now)
    quoting.give_answers(quoted, {ASKED: True}, name="Wen", by=lead, now=now)
    job = quoted.jobs.get(line=ASKED)
    note_finding(job, Finding.CONFIRMED, by=lead, now=now, code="T-LIQ")
    kitting.declare_donors(quoted, [ASKED], reckoned(quoted, now), by=lead, now=now)

    quote = job.quotes.last()
    assert "strip" == quote.code
    assert {ASKED: sum(row["net_minor"] for row in quote.charges)} == billed(
        quoted, lead, now
    )


def test_a_donor_by_a_slip_of_old_is_named_and_then_not_billed(
    quoted, lead, now
) -> None:
    Job.objects.filter(batch=quoted, line=KEYS).update(state="donor")
    with pytest.raises(RefusedError, match="device 1: quoted as a repair, but it was"):
        invoicing.invoice(quoted, by=lead, now=now)

    keep_anew(quoted, lead, now)

    assert {KEYS: 0} == billed(quoted, lead, now)


def test_what_was_asked_about_is_not_packed_before_the_answer(
    quoted, lead, now
) -> None:
    quoting.ask(quoted, reckoned(quoted, now), by=lead, now=now)
    job = quoted.jobs.get(line=ASKED)
    note_finding(job, Finding.CONFIRMED, by=lead, now=now, words="dust", wrong=WRONG)
    custody.move(job, Standing("quoted", "shelf", lead.ref), by=lead, now=now)

    with pytest.raises(RefusedError, match="answer: found none to what was asked"):
        sent_home(job, lead, now)


def test_one_that_left_unanswered_holds_up_no_invoice(quoted, lead, now) -> None:
    """As records of before may have it: nobody can answer for it any more."""
    quoting.ask(quoted, reckoned(quoted, now), by=lead, now=now)
    Job.objects.filter(batch=quoted, line=ASKED).update(state="handed back")
    answer = reckoned(quoted, now)
    kitting.declare_donors(quoted, [14], answer, by=lead, now=now)
    donor = quoted.jobs.get(line=14)
    for part in donor.data_parts.all():
        kitting.end_data_part(part, "destroyed", by=lead, now=now, verified_how="seen")
    log_pack("P-14", "taken out", by=lead, now=now, place="fire box", job=donor)
    handing_back.dispose(donor, by=lead, now=now, receipt=Receipt("Yard", "W-14"))

    sums = billed(quoted, lead, now)

    assert {ASKED, 14} == sums.keys()
    assert 0 == sums[ASKED]
    says = Invoice.objects.get().lines.get(job__line=ASKED).says
    assert "never answered by the customer, no charge" == says


def test_a_part_that_nobody_fitted_is_named_before_it_is_billed(
    quoted, lead, clock
) -> None:
    now, address = clock.at, f"/batches/{quoted.ref}/invoice/"
    job = quoted.jobs.get(line=KEYS)
    note_finding(
        job, Finding.CONFIRMED, by=lead, now=now, code="L-KBD", wrong=WRONG
    )  # fmt: skip
    sent_home(job, lead, now)
    says = "Charged, but no piece is written as fitted: 1: C-KB"

    assert says in signed_in(lead).get(address).content.decode()

    wish = job.quotes.last().charges
    for number in {row["part"] for row in wish if row["part"]}:
        part = Part.objects.get(number=number)
        n = sum(max(row["n"], 1) for row in wish if row["part"] == number)
        for _ in range(n):
            stock.take(part, job, by=lead, now=now)
    assert "no piece is written" not in signed_in(lead).get(address).content.decode()


def test_the_paper_says_why_a_device_is_at_no_charge(sallowmere, lead, clock) -> None:
    client = signed_in(lead)
    page = f"/batches/{sallowmere.ref}/approvals/"
    client.post(page, {"act": "ask"})
    clock.move_on(minutes=5)
    entered = {"act": "take", "name": "Wen Arkady", "yes": "12", "no": str(ASKED)}
    client.post(page, {**entered, "seen": 99_999_999})
    gone = {"state": "handed back", "main_state": "handed back"}
    Job.objects.filter(batch=sallowmere, line__in=[ASKED, 12]).update(**gone)
    made = invoicing.invoice(sallowmere, by=lead, now=clock.at)

    told = words_of(client.get(f"/money/{made.ref}/paper/").content)
    assert 1 == told.count("refused by the customer, no charge: 0.00")
    assert "116.12" in told
