"""Is a job closed over what was said, seen and wrong, and are shares told by count?"""

import re
from datetime import date, timedelta

import pytest
from django.test import Client

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Finding, Job
from turnscrew.web.records.queries.agreement import agreement_by_site
from turnscrew.web.records.queries.closing import CAUSES
from turnscrew.web.records.queries.no_fault_found import not_found_by_model
from turnscrew.web.records.services import custody, findings
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in
from web.known_faults import WRONG, all_is_known

GLASS = {"part": "front glass", "mode": "cracked", "cause": "drop or knock"}


@pytest.fixture
def counter(lead, helper, clock) -> Client:
    return signed_in(lead)


@pytest.fixture
def job(sallowmere, lead, clock) -> Job:
    """Give a device whose final tests are done."""
    one = sallowmere.jobs.get(line=2)
    for state in ("quoted", "final-tested"):
        Job.objects.filter(pk=one.pk).update(state=state, main_state=state)
    one.refresh_from_db()
    return one


def pack(job: Job, lead, clock) -> None:
    to = Standing("packed", "bench 1", lead.ref)
    custody.move(Job.objects.get(pk=job.pk), to, by=lead, now=clock.at)


def shown(answer) -> str:
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", answer.content.decode()))


def test_it_names_the_stage_that_is_missing(job, lead, clock) -> None:
    job.findings.all().delete()
    Job.objects.filter(pk=job.pk).update(reported="")

    with pytest.raises(RefusedError) as refused:
        pack(job, lead, clock)

    assert (
        "said: found nothing, wanted what the customer said, or that nothing was",
        "seen: found nothing, wanted what was seen",
        "confirmed: found nothing, wanted part, mode and cause",
    ) == refused.value.reasons


@pytest.mark.parametrize("missing", ["part", "mode", "cause"])
def test_it_names_the_field_that_is_missing(job, lead, clock, missing) -> None:
    wrong = {**GLASS, missing: ""}
    findings.note_finding(
        job, "confirmed", by=lead, now=clock.at, code="T-GLS", wrong=wrong
    )
    with pytest.raises(RefusedError, match=rf"T-GLS: wanted {missing} too"):
        pack(job, lead, clock)

    # The bench writes a code alone; the whole of it is added beside.
    findings.note_finding(
        job, "confirmed", by=lead, now=clock.at, code="T-GLS", wrong=GLASS
    )
    pack(job, lead, clock)


def test_words_alone_do_at_intake_and_not_at_the_end(counter, job, lead, clock) -> None:
    entered = {"act": "find", "stage": "confirmed", "said": "it was the glass"}
    assert 302 == counter.post(f"/items/{job.item.ref}/", entered).status_code

    with pytest.raises(RefusedError, match="wanted part, mode, cause too"):
        pack(job, lead, clock)

    assert 302 == counter.post(f"/items/{job.item.ref}/", entered | GLASS).status_code
    with pytest.raises(RefusedError, match="it was the glass: wanted part"):
        pack(job, lead, clock)
    words = Finding.objects.get(job=job, words="it was the glass", part="")
    findings.withdraw_finding(words, by=lead, now=clock.at, words="written again")
    pack(job, lead, clock)
    page = counter.get(f"/items/{job.item.ref}/").content.decode()
    assert "part front glass, mode cracked, cause drop or knock" in page


def test_it_knows_the_causes_and_no_other(counter, job) -> None:
    entered = {"act": "find", "stage": "confirmed", "part": "glass", "mode": "cracked"}
    answer = counter.post(f"/items/{job.item.ref}/", entered | {"cause": "bad luck"})

    assert 422 == answer.status_code
    assert "not known after looking" in CAUSES
    with pytest.raises(RefusedError, match="cause: found bad luck, wanted one of wear"):
        findings.confirm_several(
            job.batch, [2], GLASS | {"cause": "bad luck"}, by=job.findings.first().by,
            now=job.findings.first().at,
        )  # fmt: skip


def test_several_of_one_kind_are_written_at_once(counter, job) -> None:
    page = f"/batches/{job.batch.ref}/"
    entered = {"act": "confirm", "lines": "2, 4, 6", "code": "T-GLS", "agrees": "yes"}
    assert 422 == counter.post(page, entered | GLASS | {"lines": "2, 99"}).status_code
    assert not Finding.objects.filter(stage=Finding.CONFIRMED, part="front glass")

    assert 302 == counter.post(page, entered | GLASS).status_code

    told = Finding.objects.filter(part="front glass", mode="cracked")
    assert {2, 4, 6} == set(told.values_list("job__line", flat=True))


def test_agreement_is_counted_by_place(counter, sallowmere, lead, clock) -> None:
    night = list(sallowmere.jobs.filter(site="Night team")[:7])
    said = ["yes", "yes", "yes", "yes", "no", "nothing said", ""]
    for job, agrees in zip(night, said, strict=True):
        wrong = GLASS | {"agrees": agrees}
        findings.note_finding(job, "confirmed", by=lead, now=clock.at, wrong=wrong)
    stores = sallowmere.jobs.filter(site="Stores")[0]
    findings.note_finding(stores, "confirmed", by=lead, now=clock.at, wrong=WRONG)

    by_site = {one.site: one for one in agreement_by_site(sallowmere.customer)}

    one = by_site["Night team"]
    # By hand: four of the five that were judged.
    assert (4, 1, 1, 1, 0.8) == (
        one.n_yes, one.n_no, one.n_nothing_said, one.n_not_judged, one.share,
    )  # fmt: skip
    assert by_site["Stores"].share is None
    page = shown(counter.get(f"/customers/{sallowmere.customer.ref}/"))
    assert "Night team 4 1 80" in page
    assert "Stores 1 0 too few" in page
    assert "A job agrees where whoever confirmed the fault wrote" in page


def test_a_second_fault_nobody_named_makes_it_a_no(sallowmere, lead, clock) -> None:
    job = sallowmere.jobs.get(line=2)
    for agrees in ("yes", "no"):
        wrong = GLASS | {"agrees": agrees}
        findings.note_finding(job, "confirmed", by=lead, now=clock.at, wrong=wrong)

    [one] = [
        one
        for one in agreement_by_site(sallowmere.customer)
        if one.site == job.site and one.n_judged
    ]
    assert (0, 1) == (one.n_yes, one.n_no)


def ended(batch, n: int, ended_as: str, day: date, item=None) -> Job:
    like = batch.jobs.filter(model="R50")[n]
    return Job.objects.create(
        batch=batch, item=item or like.item, line=800 + n, number=f"E{n}-{day}",
        state="handed back", model="R50", place="customer", holder="customer",
        ended_as=ended_as, closed_on=day,
    )  # fmt: skip


def test_no_fault_found_and_back_are_counted_by_model(
    counter, sallowmere, lead
) -> None:
    others = not_found_by_model(sallowmere.customer)
    before = next(one for one in others if one.model == "R50")
    long_ago = sallowmere.received - timedelta(days=61)
    soon = sallowmere.received - timedelta(days=60)
    for n in range(5):
        ended(sallowmere, n, "no fault found", soon if n < 2 else long_ago)

    told = {one.model: one for one in not_found_by_model(sallowmere.customer)}

    one = told["R50"]
    # Each is here again since the day it was received: two within 60 days, three not.
    assert (before.n_ended + 5, before.n_not_found + 5) == (
        one.n_ended, one.n_not_found,
    )  # fmt: skip
    assert 2 == one.n_back - before.n_back
    assert one.share_back == one.n_back / one.n_not_found
    page = shown(counter.get(f"/customers/{sallowmere.customer.ref}/fleet/"))
    assert f"R50 {one.n_ended} {one.n_not_found} " in page
    assert "No share is told below five jobs." in page


def test_it_tells_no_share_of_a_handful(counter, sallowmere) -> None:
    told = not_found_by_model(sallowmere.customer)

    assert all(one.share is None for one in told if one.n_ended < 5)
    assert all(one.share_back is None for one in told if one.n_not_found < 5)
    assert any(one.n_not_found < 5 for one in told)


def test_a_trial_makes_the_job_end_without_a_fault(sallowmere, lead, clock) -> None:
    from turnscrew.web.records.services import handing_back  # noqa: PLC0415

    job = sallowmere.jobs.get(line=10)
    all_is_known([job], by=lead, now=clock.at)
    for state in ("quoted", "final-tested", "packed"):
        custody.move(job, Standing(state, "bench 1", lead.ref), by=lead, now=clock.at)
    handing_back.hand_back(sallowmere, [10], taken_by="Office", by=lead, now=clock.at)

    assert "no fault found" == Job.objects.get(pk=job.pk).ended_as
