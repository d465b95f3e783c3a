"""Is nothing undone, doubled or billed that two people, two forms or a no left open?"""

from datetime import timedelta

import pypdfium2
import pytest

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Approval, Batch, Customer, Job, OrderLine
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.order_today import order_today
from turnscrew.web.records.queries.packs import packs_to_isolate
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.skills import skills_held
from turnscrew.web.records.services import (
    booking,
    custody,
    customers,
    findings,
    handing_back,
    invoicing,
    kitting,
    quoting,
    safety,
)
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in


def test_a_question_leaves_what_is_isolated_where_it_is(
    sallowmere, lead, clock, now
) -> None:
    line = min(device.name for device in reckoned(sallowmere, now).pending)
    job = sallowmere.jobs.get(line=line)
    custody.isolate(job, by=lead, now=now, reason="hot and hissing")

    signed_in(lead).post(f"/batches/{sallowmere.ref}/approvals/", {"act": "ask"})

    job.refresh_from_db()
    assert Approval.objects.filter(job=job, answer="").exists()
    assert ("isolated", "hot and hissing") == (job.state, job.reason)


def test_a_donor_whose_pack_swells_is_isolated(sallowmere, lead, now) -> None:
    answer = reckoned(sallowmere, now)
    strip = next(d for d in answer.devices if d.decision.code == "strip")
    job = sallowmere.jobs.get(line=strip.name)
    kitting.declare_donor(job, answer, by=lead, now=now)
    page = f"/items/{job.item.ref}/"

    signed_in(lead).post(page, {"act": "isolate", "reason": "it swells"})

    job.refresh_from_db()
    assert "isolated" == job.state
    with pytest.raises(RefusedError, match="wanted one of"):
        custody.move(job, Standing("kitted", "bench", lead.ref), by=lead, now=now)
    states = signed_in(lead).get(page).context["forms"]["move"].fields["state"].choices
    assert "donor" in dict(states)
    custody.move(job, Standing("donor", "shelf", lead.ref), by=lead, now=now)
    job.refresh_from_db()
    assert "donor" == job.state


def test_a_gap_written_meanwhile_is_not_written_over(
    sallowmere, lead, helper, now
) -> None:
    flat = packs_to_isolate([sallowmere], now)
    job = next(one for one in sallowmere.jobs.all() if one not in flat)
    page = f"/items/{job.item.ref}/checks/"
    one, other = signed_in(lead), signed_in(helper)
    form = one.get(page).context["forms"]["condition"]
    seen = {name: form[name].value() or "" for name in form.fields}
    pieces = {name: 0 for name in form.fields if not name.startswith("gap")}

    other.post(page, {"act": "condition", **seen, **pieces, "gap_mm": "3.0"})
    refused = one.post(page, {"act": "condition", **seen, **pieces})

    job.refresh_from_db()
    assert 422 == refused.status_code
    assert "written meanwhile" in refused.content.decode()
    assert 3 == job.gap_mm
    assert job in packs_to_isolate([sallowmere], now)


def test_the_newest_word_on_a_sign_off_counts(helper, lead, clock, now) -> None:
    booking.sign_off(helper, "batteries", by=lead, now=now, on=now.date())
    assert "batteries" in skills_held(helper.ref, now)

    booking.sign_off(
        helper, "batteries", by=lead, now=now, on=now.date(), until=now.date()
    )
    clock.move_on(days=1)

    assert "batteries" not in skills_held(helper.ref, clock.at)


def test_what_is_ordered_is_not_ordered_again(sallowmere, lead, now) -> None:
    number = order_today(now).due[0].part.number
    kitting.place_together([number], by=lead, now=now)
    before = OrderLine.objects.count()

    with pytest.raises(RefusedError, match="wanted one still to be ordered"):
        kitting.place_together([number], by=lead, now=now)
    assert before == OrderLine.objects.count()


def test_an_invoice_is_printed_again_as_it_was_sent(
    sallowmere, lead, clock, now
) -> None:
    answer = reckoned(sallowmere, now)
    quoting.keep_quotes(sallowmere, answer, by=lead, now=now)
    kitting.declare_donors(sallowmere, [2], answer, by=lead, now=now)
    made = invoicing.invoice(sallowmere, by=lead, now=now)

    def words() -> str:
        sent = signed_in(lead).get(f"/money/{made.ref}/paper/")
        pages = pypdfium2.PdfDocument(sent.content)
        return "\n".join(one.get_textpage().get_text_range() for one in pages)

    before = words()
    clock.move_on(days=1)
    customers.keep_customer_data(
        sallowmere.customer, now=clock.at, name="Other House", address="New Road 1",
        contract="", tax_number="T-999", keep_months=36,
    )  # fmt: skip

    assert sallowmere.name in before
    assert before == words()


def test_a_device_refused_before_any_work_is_billed_nothing(
    sallowmere, lead, clock, now
) -> None:
    one, page = signed_in(lead), f"/batches/{sallowmere.ref}/approvals/"
    one.post(page, {"act": "ask"})
    line = Approval.objects.filter(answer="").order_by("job__line").first().job.line
    one.post(page, {"act": "take", "name": "desk", "no": str(line), "seen": "99999"})
    job = sallowmere.jobs.get(line=line)
    custody.move(job, Standing("final-tested", "bench", lead.ref), by=lead, now=now)
    findings.note_finding(job, "seen", by=lead, now=now, words="as told")
    code = job.findings.filter(stage="seen").exclude(code="").first().code
    wrong = {"part": "p", "mode": "m", "cause": "wear", "agrees": "yes"}
    findings.note_finding(job, "confirmed", by=lead, now=now, code=code, wrong=wrong)
    custody.move(job, Standing("packed", "shelf", lead.ref), by=lead, now=now)
    handing_back.hand_back(sallowmere, [line], taken_by="desk", by=lead, now=now)

    made = invoicing.invoice(sallowmere, by=lead, now=now)

    told = [(row.says, row.net_minor) for row in made.lines.filter(job=job)]
    assert [("refused by the customer, no charge", 0)] == told


def test_what_was_mended_for_somebody_else_is_no_comeback(
    sallowmere, lead, clock, now
) -> None:
    answer = reckoned(sallowmere, now)
    device = next(d for d in answer.devices if d.past)
    job = sallowmere.jobs.get(line=device.name)
    theirs = Customer.objects.create(name="Other House")
    past = Job.objects.filter(serial=job.serial).exclude(pk=job.pk)
    Batch.objects.filter(jobs__in=past).update(customer=theirs)

    assert () == reckoned(sallowmere, now).by_name[device.name].past


@pytest.mark.parametrize("way", ["finding", "log", "incident"])
def test_a_pack_written_to_be_bad_anywhere_is_isolated_first(
    sallowmere, lead, now, way
) -> None:
    flat = packs_to_isolate([sallowmere], now)
    job = next(one for one in sallowmere.jobs.all() if one not in flat)
    if way == "finding":
        findings.note_finding(job, "seen", by=lead, now=now, words="pack is swollen")
    elif way == "log":
        safety.log_pack("P-1", "warm", by=lead, now=now, place="inside", job=job)
    else:
        safety.report_incident(
            "near miss", "its pack was smoking", by=lead, now=now, job=job
        )

    assert job in packs_to_isolate([sallowmere], now)
    assert "pack swollen or not known" == why_no_power(job, now)


def test_a_new_pack_that_swells_too_keeps_power_off_again(
    sallowmere, lead, now, monkeypatch
) -> None:
    job = packs_to_isolate([sallowmere], now)[0]
    fitted_at = now + timedelta(hours=1)
    monkeypatch.setattr(bench_runs, "freed_at", lambda job: {"pack": fitted_at})
    assert not why_no_power(job, fitted_at)

    later = fitted_at + timedelta(hours=1)
    words = "new pack is swollen too"
    findings.note_finding(job, "seen", by=lead, now=later, words=words)

    assert "pack swollen or not known" == why_no_power(job, later)


@pytest.mark.parametrize(
    "stages",
    [["seen"], ["seen", "seen"], ["seen", "confirmed"], ["confirmed"]],
)
@pytest.mark.parametrize("last", ["seen", "confirmed"])
def test_a_pack_found_bad_after_the_work_is_a_new_one(
    sallowmere, lead, now, monkeypatch, stages, last
) -> None:
    """Whoever writes it, and at whatever stage it was known before."""
    flat = packs_to_isolate([sallowmere], now)
    job = next(one for one in sallowmere.jobs.all() if one not in flat)
    for stage in stages:
        findings.note_finding(job, stage, by=lead, now=now, code="T-BAT")
    monkeypatch.setattr(bench_runs, "freed_at", lambda job: {"pack": now})
    assert not why_no_power(job, now)

    later = now + timedelta(hours=1)
    findings.confirm_known(job, ["T-BAT"], by=lead, now=later)
    # The first fault found inside confirms those that were seen: that is no news.
    assert not why_no_power(job, later) or "confirmed" in stages
    findings.note_finding(job, last, by=lead, now=later, code="T-BAT")

    assert "pack swollen or not known" == why_no_power(job, later)
