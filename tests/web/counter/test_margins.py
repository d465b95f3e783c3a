"""Does the page of money tell what work earns and what promises may still cost?"""

import re
from datetime import date, datetime, timedelta

import pytest

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    DataPart,
    DonorPart,
    Job,
    OrderLine,
    Part,
    Person,
)
from turnscrew.web.records.queries import margins
from turnscrew.web.records.queries.batch_page import order_needs
from turnscrew.web.records.queries.own_times import own_times_record
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.services import (
    booking,
    custody,
    goods,
    handing_back,
    invoicing,
    kitting,
    quoting,
    stock,
    waste,
)
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.safety import log_pack
from web.counter.worked import describe, kitted, taken, work
from web.counter_case import signed_in
from web.known_faults import all_is_known

STRIPS = (2, 6, 14, 17, 21, 34, 35, 45)
"""Devices of the example batch that are not worth mending."""

MINUTES = 40.0
"""Minutes of hands on each tablet; the lead of the example is paid 27.00 an hour."""

AFTER = ("closed", "final-tested", "charged and clean", "packed")


@pytest.fixture(autouse=True)
def forget_minutes() -> None:
    margins._kept.clear()


def shown(answer) -> str:
    assert 200 == answer.status_code
    told = re.sub("<[^>]+>", " ", answer.content.decode())
    return re.sub(r"\s+", " ", told)


def quoted(batch: Batch, lead: Person, now: datetime) -> None:
    quoting.keep_quotes(batch, reckoned(batch, now), by=lead, now=now)


def home(batch: Batch, lead: Person, now: datetime) -> None:
    """Bring the whole example batch back to its owner, as agreed, and bill it."""
    by = {"by": lead, "now": now}
    answer = reckoned(batch, now)
    quoting.keep_quotes(batch, answer, **by)
    quoting.ask(batch, answer, **by)
    asked = batch.jobs.filter(state="awaiting answer").values_list("line", flat=True)
    quoting.give_answers(batch, dict.fromkeys(asked, True), name="desk", **by)
    kitting.declare_donors(batch, STRIPS, answer, **by)
    for piece in DonorPart.objects.all():
        kitting.test_donor_part(piece, is_good=True, how="known good", **by)
    answer = reckoned(batch, now)
    needs = [need.number for need in order_needs(batch, answer)]
    kitting.place_order(batch, needs, **by)
    kitting.allot(batch, reckoned(batch, now), **by)
    for order in OrderLine.objects.all():
        parcel = goods.Parcel(order.n, "", "alike", goods.ACCEPTED)
        goods.goods_in(order, parcel, **by)
    lines = list(batch.jobs.exclude(line__in=STRIPS).values_list("line", flat=True))
    all_is_known(batch.jobs.filter(line__in=lines), **by)
    for state in ("kitted", "open", "tested open", *AFTER):
        custody.move_several(batch, lines, Standing(state, "bench 1", lead.ref), **by)
        if state == "kitted":
            kitting.fit_several(batch, lines, **by)
    handing_back.hand_back(batch, lines, taken_by="the desk", with_strays=True, **by)
    invoicing.invoice(batch, **by)
    for part in DataPart.objects.all():
        kitting.end_data_part(part, end="destroyed", verified_how="seen", **by)
    for line in STRIPS:
        receipt, job = (
            waste.Receipt("Wolder Yard", f"W-{line}"),
            batch.jobs.get(line=line),
        )
        log_pack("its pack", "taken out", place="fire box", job=job, **by)
        handing_back.dispose(job, receipt=receipt, **by)


def test_it_says_that_nothing_is_known_yet(lead, clock) -> None:
    page = shown(signed_in(lead).get("/money/"))

    assert "Promises None is open." in page
    assert "No job has ended since 1 Feb 2026." in page


def test_it_adds_up_the_golden_money_of_the_example(
    sallowmere, lead, now, hands, clock
) -> None:
    home(sallowmere, lead, now)
    page = shown(signed_in(lead).get("/money/"))
    assert "0 of 63 jobs can be reckoned." in page
    assert "63 jobs left out, not taken as zero: 63 without minutes, 4 without" in page
    assert "kinds that earn least" not in page

    hands.update({job.ref: 30.0 for job in sallowmere.jobs.all()})

    earned = margins.work_earned(now)

    # The invented demo batch: 3,818.78 charged; parts bought 914.60, and 106.60
    # credited for donors' pieces, which the users of those pieces bear.
    rows = earned.kinds.rows
    assert 381_878 == sum(row.revenue_minor for row in rows)
    assert 91_460 + 10_660 == sum(row.parts_minor for row in rows)
    # Half an hour at 27.00 each; device 56 came back free and is no job of its own.
    assert 59 == earned.kinds.n
    assert 59 * 1_350 == sum(row.labour_minor for row in rows)
    # The earlier jobs of the example come from before the records.
    assert 4 == earned.kinds.n_left_out
    assert {"revenue": 4, "minutes": 4} == dict(earned.kinds.missing)
    assert (1_350,) == earned.comeback_costs_minor
    sums = {name: sum(r.profit_minor for r in told.rows) for name, told in earned.by}
    assert {sum(row.profit_minor for row in rows)} == set(sums.values())


@pytest.fixture
def spoken(sallowmere, lead, now, hands) -> Batch:
    """Give the example batch with three tablets home, their minutes known."""
    quoted(sallowmere, lead, now)
    kitting.allot(sallowmere, reckoned(sallowmere, now), by=lead, now=now)
    kitting.fit_several(sallowmere, (3, 5), by=lead, now=now)
    for line in (3, 5, 9):
        given_back(sallowmere.jobs.get(line=line), now)
        hands[sallowmere.jobs.get(line=line).ref] = MINUTES
    return sallowmere


@pytest.fixture
def hands(lead, monkeypatch) -> dict[str, float]:
    """Let the minutes of jobs be told without strokes; the lead did them all."""
    told: dict[str, float] = {}
    monkeypatch.setattr(
        margins,
        "_minutes_on_record",
        lambda: margins._Minutes(told, {lead.ref: sum(told.values())}),
    )
    return told


def given_back(job: Job, now: datetime) -> None:
    Job.objects.filter(pk=job.pk).update(
        state="handed back", ended_as="mended", closed_on=now.date()
    )


def kinds_of(earned: margins.WorkEarned):
    return {row.key: row for row in earned.kinds.rows}


def test_it_reckons_each_kind_as_by_hand(spoken, lead, now, clock) -> None:
    earned = margins.work_earned(now)

    row = kinds_of(earned)["V80", "T-SPK"]
    job = spoken.jobs.get(line=3)
    uses = job.allotments.filter(state="used").select_related("part")
    parts = sum(use.part.cost_minor for use in uses)
    charged = sum(one["net_minor"] for one in job.quotes.last().charges)
    assert 0 < parts < charged
    # 40 minutes at 27.00 an hour.
    assert (charged, parts, 1_800, 0) == (
        row.revenue_minor, row.parts_minor, row.labour_minor, row.rework_minor,
    )  # fmt: skip
    assert charged - parts - 1_800 == row.profit_minor
    # Parts were charged for device 9, and nobody told that they were fitted.
    camera = kinds_of(earned)["V80", "T-CAM"]
    assert (0, 1) == (camera.n, camera.n_left_out)
    assert 1 == dict(earned.kinds.missing)["cost of parts"]

    page = shown(signed_in(lead).get("/money/"))
    assert "The kinds that earn least a job" in page
    assert "An hour of hands is taken at 27.00: the mean pay" in page
    assert "1 without cost of parts" in page
    # A fault of a job from before the records has its words from the terms of today.
    assert "L240 L-FAN fan worn 0 1 not known" in page
    assert "V80 T-CAM camera dead 0 1 not known" in page


def test_it_takes_the_minutes_of_strokes_at_a_bench(
    sallowmere, lead, helper, now
) -> None:
    describe(sallowmere, lead, now)
    row = taken(kitted(sallowmere, 5, lead, now), lead, now)
    at = work(row, lead, now, other=helper)
    work(taken(kitted(sallowmere, 9, lead, at), lead, at), helper, at, other=lead)
    for line in (5, 9):
        given_back(sallowmere.jobs.get(line=line), now)

    told = margins._minutes_on_record()

    record = own_times_record(lead, now.date())
    assert {one.job.ref: one.minutes for one in record.jobs} == pytest.approx(
        told.by_job
    )
    one, other = told.by_person[lead.ref], told.by_person[helper.ref]
    # Pay of the two in the example: 27.00 and 21.00 an hour.
    mean = (one * 2_700 + other * 2_100) / (one + other)
    assert margins.work_earned(now).hour_minor == pytest.approx(mean, abs=0.5)


def test_it_takes_the_price_of_an_hour_where_no_pay_is_known(
    spoken, lead, now, clock
) -> None:
    Person.objects.update(pay_minor=0)

    page = shown(signed_in(lead).get("/money/"))

    assert 4_800 == margins.work_earned(now).hour_minor
    assert "taken at 48.00: the price of an hour in the newest terms" in page
    assert "labour looks dearer than it is" in page


def test_a_part_without_a_cost_leaves_its_job_out(spoken, now) -> None:
    uses = Allotment.objects.filter(job__batch=spoken, job__line=3, state="used")
    Part.objects.filter(pk__in=uses.values("part")).update(cost_minor=None)

    earned = margins.work_earned(now)

    row = kinds_of(earned)["V80", "T-SPK"]
    assert (0, 1) == (row.n, row.n_left_out)


def test_a_job_that_goes_back_as_it_came_earned_nothing(spoken, now) -> None:
    Job.objects.filter(batch=spoken, line=5).update(state="returned unrepaired")

    row = kinds_of(margins.work_earned(now))["V80", "T-ANT"]

    assert (1, 0) == (row.n, row.revenue_minor)
    assert row.profit_minor < 0


def later_quote(job: Job, now: datetime, code: str = "ask") -> int:
    """Quote a job anew at twice the price; give what the quote before it said."""
    last = job.quotes.last()
    dearer = [{**row, "net_minor": 2 * row["net_minor"]} for row in last.charges]
    job.quotes.create(
        at=now, code=code, reason="dearer", quote_minor=2 * last.quote_minor,
        charges=[*dearer, dearer[-1]],
    )  # fmt: skip
    return sum(row["net_minor"] for row in last.charges)


def test_it_reckons_with_what_was_agreed_and_not_with_the_last_quote(
    spoken, now
) -> None:
    job = spoken.jobs.get(line=3)
    agreed = later_quote(job, now)

    row = kinds_of(margins.work_earned(now))["V80", "T-SPK"]

    assert (1, agreed) == (row.n, row.revenue_minor)
    invoicing.invoice(spoken, by=Person.objects.first(), now=now)
    row = kinds_of(margins.work_earned(now))["V80", "T-SPK"]
    assert (1, agreed) == (row.n, row.revenue_minor)


def test_it_says_where_no_quote_was_agreed(spoken, lead, now, clock) -> None:
    spoken.jobs.get(line=3).quotes.update(code="ask")

    earned = margins.work_earned(now)

    row = kinds_of(earned)["V80", "T-SPK"]
    assert (0, 1) == (row.n, row.n_left_out)
    assert 1 == dict(earned.kinds.missing)["an agreed quote"]
    page = shown(signed_in(lead).get("/money/"))
    assert "1 without an agreed quote" in page
    assert "Revenue is what was billed, and until then what was agreed" in page


def test_what_was_refused_earned_nothing(spoken, now) -> None:
    job = spoken.jobs.get(line=3)
    minor = job.quotes.get().quote_minor
    job.quotes.update(code="ask")
    job.approvals.create(quote_minor=minor, asked_at=now, answer="no")

    row = kinds_of(margins.work_earned(now))["V80", "T-SPK"]

    assert (1, 0) == (row.n, row.revenue_minor)


@pytest.fixture
def back_again(spoken, lead, now, hands) -> Job:
    """Give the tablet of line 3 that came back free, mended a second time."""
    first = spoken.jobs.get(line=3)
    note_finding(first, "confirmed", by=lead, now=now, code="T-SPK")
    later = now + timedelta(days=20)
    said = booking.Booking("second round", later.date(), spoken.terms_text,
                           spoken.customer)  # fmt: skip
    batch = booking.book(said, by=lead, now=later)
    line = BatchLine(
        1, first.serial, "V80", first.asset_number, first.revision, found=("T-SPK",)
    )
    booking.receive(batch, [line], by=lead, now=later)
    quoted(batch, lead, later)
    job = batch.jobs.get()
    hands[job.ref] = 60.0
    part = Part.objects.get(number="T-SP")
    stock.take(part, job, by=lead, now=later)
    given_back(job, later)
    return Job.objects.get(pk=job.pk)


def test_a_comeback_costs_the_job_it_came_back_from(back_again, spoken, now) -> None:
    earned = margins.work_earned(now + timedelta(days=21))

    assert spoken.jobs.get(line=3) == back_again.comeback_of
    # An hour at 27.00 and the speaker.
    wanted = Part.objects.get(number="T-SP").cost_minor + 2_700
    row = kinds_of(earned)["V80", "T-SPK"]
    assert (1, wanted) == (row.n, row.rework_minor)
    assert (wanted,) == earned.comeback_costs_minor


def test_a_comeback_still_here_has_no_known_cost(back_again, now) -> None:
    Job.objects.filter(pk=back_again.pk).update(closed_on=None, state="open")

    earned = margins.work_earned(now + timedelta(days=21))

    row = kinds_of(earned)["V80", "T-SPK"]
    assert (0, 1) == (row.n, row.n_left_out)
    # Device 56 of the example is the other one that is still here.
    assert 2 == dict(earned.kinds.missing)["cost of a comeback"]
    assert () == earned.comeback_costs_minor


def test_a_comeback_of_a_comeback_costs_the_first_job(back_again, hands, now) -> None:
    later = now + timedelta(days=40)
    third = Job.objects.get(pk=back_again.pk)
    third.pk, third.ref, third.number, third.line = None, "third", "third", 900
    third.comeback_of, third.closed_on = back_again, later.date()
    third.save()
    third.quotes.create(at=later, code="comeback", reason="again", quote_minor=0)
    hands["third"] = 20.0

    row = kinds_of(margins.work_earned(later))["V80", "T-SPK"]

    # 60 and 20 minutes at 27.00 an hour, and one speaker.
    speaker = Part.objects.get(number="T-SP").cost_minor
    assert (1, 2_700 + 900 + speaker) == (row.n, row.rework_minor)


def test_it_counts_comebacks_of_jobs_that_are_not_on_record(
    back_again, lead, clock
) -> None:
    Job.objects.filter(pk=back_again.pk).update(comeback_of=None)
    clock.move_on(days=21)

    page = shown(signed_in(lead).get("/money/"))

    assert "1 such device came back from a job that is not on record" in page


def test_it_expects_comebacks_and_sets_money_aside(
    back_again, spoken, lead, clock
) -> None:
    clock.move_on(days=30)
    earned = margins.work_earned(clock.at)

    told = margins.promises_open(clock.at, 90, earned)

    # By hand, on 3 March: of the three tablets of 1 February one was used after 20
    # days, two ran 30; the one given again on 21 February ran 10. Of those from before
    # the records one ran 14 days in them; another had come back as they began.
    assert 20 + 2 * 30 + 10 + 14 == told.days_run
    assert (5, 1) == (told.n_promises, told.n_comebacks)
    assert [("2027-02", 3)] == [(one.month, one.n_open) for one in told.months]
    (cost,) = earned.comeback_costs_minor
    assert told.total.expected * cost == pytest.approx(told.provision.expected_minor)
    page = shown(signed_in(lead).get("/money/"))
    assert "Few data: 1 comeback in 5 promises so far, so the range is wide." in page
    assert "the mean of comebacks whose cost is known, 1 of them" in page
    assert f"{told.total.low} to {told.total.high}" in page


def test_unknown_is_said_on_the_first_day(sallowmere, lead, clock) -> None:
    page = shown(signed_in(lead).get("/money/"))

    # Jobs from before the records are watched from their first day in them only.
    assert "Unknown: no promise has run for a day yet" in page
    assert "Provision: unknown." in page
    assert "2026-11 1 unknown unknown" in page


def test_the_promise_of_each_batch_counts(spoken, lead, now) -> None:
    terms = spoken.terms_text.replace("promise_days: 90", "promise_days: 10")
    Batch.objects.filter(pk=spoken.pk).update(terms_text=terms)
    then = now + timedelta(days=12)

    told = margins.promises_open(then, 90, margins.work_earned(then))

    assert date(2027, 2, 13) == then.date()
    # Those from before the records run for 90 days; one of them was used already.
    assert [("2026-11", 1)] == [(one.month, one.n_open) for one in told.months]


def test_it_keeps_minutes_until_another_job_ends(
    sallowmere, lead, helper, now, monkeypatch
) -> None:
    describe(sallowmere, lead, now)
    row = taken(kitted(sallowmere, 5, lead, now), lead, now)
    until = work(row, lead, now, other=helper, until=lambda line: line.number == 5)
    read, n_reads = margins._read_minutes, []
    monkeypatch.setattr(margins, "_read_minutes", lambda: n_reads.append(1) or read())

    assert {} == margins._minutes_on_record().by_job
    given_back(row.job, now)
    before = margins._minutes_on_record()
    assert before == margins._minutes_on_record()
    assert [1] == n_reads

    # Opened again: nobody tells of a device that has left.
    Job.objects.filter(pk=row.job_id).update(state="open")
    work(row, lead, until, other=helper, until=lambda line: line.number == 9)
    given_back(row.job, now)
    after = margins._minutes_on_record()
    assert [1, 1] == n_reads
    assert before.by_job[row.job.ref] < after.by_job[row.job.ref]


@pytest.mark.parametrize(("rights", "is_shown"), [("helper", False), ("desk", True)])
def test_it_is_for_those_with_money_alone(
    rights, is_shown, spoken, helper, desk, clock
) -> None:
    answer = signed_in({"helper": helper, "desk": desk}[rights]).get("/money/")

    assert (200 if is_shown else 404) == answer.status_code
    assert is_shown == (b"What work earns" in answer.content)
