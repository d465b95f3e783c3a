"""Does what the customer allows with the data of a device reach the bench?"""

from datetime import timedelta

import pytest

from turnscrew.core.bench.run import Line
from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.records.models import BenchRun, Job
from turnscrew.web.records.queries.bench_diagnosis import diagnosis_of
from turnscrew.web.records.queries.bench_runs import run_in
from turnscrew.web.records.queries.data_terms import (
    ACCOUNT,
    ALLOWED,
    MADE_FROM_OUTSIDE,
    NO_START,
    NOT_ALLOWED,
    TEST_IMAGE,
)
from turnscrew.web.records.services.bench import Change, plan_anew
from turnscrew.web.records.services.custody import DataTerms, decide_data
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import taken, told, work
from web.browser.bench_case import kitted


@pytest.fixture
def job(batch, lead, now, clock) -> Job:
    return kitted(batch, 18, lead, now)


def decide(job: Job, allowed: str, lead, now, *, holds: str = "P", **more) -> None:
    terms = DataTerms(allowed, "Wen Arkady", **more)
    decide_data(job, holds, terms, by=lead, now=now)


def powers(line: Line) -> bool:
    return line.asks == "test" and (
        line.does == "test open" or line.name not in MADE_FROM_OUTSIDE
    )


@pytest.mark.parametrize("allowed", [TEST_IMAGE, ACCOUNT, NO_START])
def test_it_stands_before_the_first_line(job, lead, now, allowed) -> None:
    decide(job, allowed, lead, now)

    lines = run_in(taken(job, lead, now)).lines

    says = f"Data: {dict(ALLOWED)[allowed]}."
    assert says in [line.says for line in lines if line.phase == "before"]
    assert () == tuple(Phrasebook(GERMAN).unsaid(says))


def test_what_must_not_be_started_has_no_power_at_any_line(job, lead, now) -> None:
    decide(job, NO_START, lead, now)

    lines = run_in(taken(job, lead, now)).lines

    assert not any(line.may_power for line in lines)
    assert {f"May run: no: {NOT_ALLOWED}."} == {
        line.power.removesuffix(" Pack is live.") for line in lines
    }
    assert () == tuple(Phrasebook(GERMAN).unsaid(lines[0].power))


def test_no_test_that_starts_it_can_have_passed(job, lead, helper, now) -> None:
    decide(job, NO_START, lead, now)
    run = taken(job, lead, now)
    line = work(run, lead, now, helper, until=powers)
    assert line is not None

    with pytest.raises(RefusedError, match="not possible, because not allowed"):
        told(run, lead, now, "answer", line.number, {"answer": "passed"})

    facts = {"answer": "not possible", "reason": "not allowed"}
    told(run, lead, now, "answer", line.number, facts)


def test_a_new_path_still_keeps_it_off(job, lead, helper, now) -> None:
    decide(job, NO_START, lead, now)
    run = taken(job, lead, now)
    work(run, lead, now, helper, until=lambda line: line.phase == "opening")

    anew = plan_anew(
        BenchRun.objects.get(pk=run.pk), Change("a clip is broken"), by=lead, now=now,
        is_time_up=lambda: False,
    )  # fmt: skip

    assert not any(line.may_power for line in run_in(anew).lines)


def test_a_device_that_holds_no_data_is_started_whatever_was_said(
    job, lead, now
) -> None:
    decide(job, NO_START, lead, now, holds="N")

    lines = run_in(taken(job, lead, now)).lines

    assert any(line.may_power for line in lines)
    assert not any(line.says.startswith("Data:") for line in lines)


def test_a_permission_that_has_ended_lets_nobody_begin(job, lead, now) -> None:
    decide(job, TEST_IMAGE, lead, now, until=now.date())

    with pytest.raises(RefusedError, match="found a permission for its data that end"):
        taken(job, lead, now + timedelta(days=1))

    decide(job, TEST_IMAGE, lead, now + timedelta(days=1))
    assert taken(job, lead, now + timedelta(days=1))


def test_the_next_test_is_told_with_it(batch, lead, now, clock) -> None:
    laptop = batch.jobs.filter(model="L240").first()
    before = diagnosis_of(laptop, lambda: True)["next"]["cautions"]
    assert "Data: must not be started." not in before

    decide(laptop, NO_START, lead, now)

    told = diagnosis_of(laptop, lambda: True)["next"]["cautions"]
    assert "Data: must not be started." == told[0]
