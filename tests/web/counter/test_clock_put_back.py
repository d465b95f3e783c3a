"""Does a clock that was put back hide what is on record, dangers first?"""

import html
from datetime import datetime, timedelta

import pytest
from django.db.models import F

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import Batch, Finding, Job, Part
from turnscrew.web.records.queries.batch_input import what_stands
from turnscrew.web.records.queries.packs import packs_to_isolate
from turnscrew.web.records.queries.paper_beside import beside_of
from turnscrew.web.records.queries.permission import missing_yes
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.queries.reckoning import reckoned
from turnscrew.web.records.queries.skills import skill_refusal
from turnscrew.web.records.services import arrival, custody, people, quoting
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.refusal import RefusedError
from web.counter_case import signed_in

ALERT = "The clock is not right, or was not"


@pytest.fixture
def swollen(sallowmere, lead, clock) -> Job:
    """Give a tablet whose pack was seen swollen an hour after this one."""
    job = sallowmere.jobs.get(line=40)
    clock.move_on(hours=1)
    note_finding(
        job, Finding.SEEN, code="T-BAT", words="case gap 5 mm, pack swollen and warm",
        by=lead, now=clock.at,
    )  # fmt: skip
    return job


def put_back(clock) -> None:
    clock.move_on(hours=-1)


def page(client, address: str) -> str:
    return html.unescape(client.get(address).content.decode())


def test_a_swollen_pack_is_told_of_whatever_the_clock_says(
    swollen, sallowmere, lead, helper, clock
) -> None:
    put_back(clock)

    assert "pack swollen or not known" == why_no_power(swollen)
    assert swollen in packs_to_isolate([sallowmere], clock.at)
    assert "battery" in skill_refusal(swollen, "open", helper.ref, clock.at)
    assert "isolate it, pack may" in page(
        signed_in(lead), f"/items/{swollen.item.ref}/"
    )
    found = signed_in(lead).get(f"/bench/find/?code={swollen.number}").json()
    assert "isolate it first" in found["caution"]


def test_a_bench_is_judged_by_all_there_is_unless_it_tells_late(
    swollen, lead, helper, clock
) -> None:
    to = Standing("open", "bench 1, place 1", helper.ref)

    def why_not(known_at: datetime) -> str:
        with pytest.raises(RefusedError) as told:
            custody.move(swollen, to, by=lead, now=clock.at, known_at=known_at)
        return str(told.value)

    assert "battery" not in why_not(clock.at - timedelta(minutes=10))
    put_back(clock)
    assert "signed off for battery" in why_not(clock.at)
    assert "signed off for battery" in why_not(clock.at - timedelta(seconds=4))


def test_quotes_and_answers_stay_as_they_are(swollen, sallowmere, lead, clock) -> None:
    asked = quoting.ask_all(sallowmere, by=lead, now=clock.at)
    clock.move_on(minutes=5)
    line = asked[0].job.line
    quoting.give_answers(
        sallowmere, {line: True}, name="Ottilie Brandreth", by=lead, now=clock.at
    )
    before = decided(sallowmere, clock)
    answers = what_stands(sallowmere, clock.at).answers
    assert {line: True} == answers

    clock.move_on(hours=-1)

    assert answers == what_stands(sallowmere, clock.at).answers
    assert before == decided(sallowmere, clock)


def test_what_was_agreed_stands_by_what_was_found_for_it(
    sallowmere, lead, clock
) -> None:
    job = sallowmere.jobs.get(line=1)
    clock.move_on(hours=1)
    note_finding(job, Finding.SEEN, code="L-FAN", by=lead, now=clock.at)
    clock.move_on(minutes=-55)
    quoting.ask_all(sallowmere, by=lead, now=clock.at)
    clock.move_on(minutes=2)
    quoting.give_answers(
        sallowmere, {1: True}, name="Ottilie Brandreth", by=lead, now=clock.at
    )
    agreed = job.quotes.last()
    begun = {"state": "open", "main_state": "open", "holder": lead.ref}
    Job.objects.filter(pk=job.pk).update(**begun)
    Part.objects.exclude(cost_minor=None).update(cost_minor=F("cost_minor") + 500)

    for later in (0, 3):
        clock.move_on(hours=later)
        answer = reckoned(sallowmere, clock.at)
        assert agreed.quote_minor == answer.by_name[1].decision.quote_minor
        quoting.keep_quotes(sallowmere, answer, by=lead, now=clock.at)
        assert agreed == job.quotes.last()
        assert "" == missing_yes(read_anew(job))


def test_a_danger_told_anew_counts_though_the_clock_stands_before_the_last_look(
    sallowmere, lead, clock
) -> None:
    job = sallowmere.jobs.get(line=40)
    told = [
        (0, "liquid got in at the vents", True),
        (60, "dry inside", False),
        (-30, "liquid got in below the keys", True),
        (1, "dry inside", False),
    ]
    for minutes, words, is_barred in told:
        clock.move_on(minutes=minutes)
        note_finding(job, Finding.SEEN, words=words, by=lead, now=clock.at)
        assert is_barred is bool(why_no_power(read_anew(job))), words
    times = list(job.findings.order_by("id").values_list("at", flat=True))
    assert sorted(times) == times


def read_anew(job: Job) -> Job:
    return Job.objects.get(pk=job.pk)


def decided(batch: Batch, clock) -> dict[int, tuple[str, int | None]]:
    return {
        one.name: (one.decision.code, one.decision.quote_minor)
        for one in reckoned(batch, clock.at).devices
    }


def test_papers_lose_nothing(sallowmere, lead, clock) -> None:
    job = sallowmere.jobs.get(line=40)
    clock.move_on(hours=1)
    scratch = arrival.Damage("front", "scratch", 10, 10, "long, old")
    arrival.mark_damage(job, scratch, by=lead, now=clock.at)
    put_back(clock)

    told = beside_of("receipt.pdf", sallowmere, clock.at)
    assert "front: scratch" in told.condition[40]
    then = beside_of("receipt.pdf", sallowmere, clock.at, past_time=True)
    assert 40 not in then.condition


def test_an_earlier_moment_is_shown_as_it_was(swollen, sallowmere, clock) -> None:
    earlier = clock.at - timedelta(minutes=30)
    then = reckoned(sallowmere, earlier, past_time=True)

    assert "T-BAT" not in then.by_name[swollen.line].line.found
    assert "T-BAT" in reckoned(sallowmere, clock.at).by_name[swollen.line].line.found


def test_the_first_page_says_that_the_clock_is_not_right(
    swollen, lead, clock, now
) -> None:
    assert ALERT not in page(signed_in(lead), "/")

    put_back(clock)
    told = page(signed_in(lead), "/")
    assert ALERT in told
    assert "Is it behind, set it right before you go on" in told

    people.speak_to(lead, "de", now=now)
    assert "Die Uhr geht nicht richtig" in page(signed_in(lead), "/")

    clock.move_on(hours=1)
    assert "Die Uhr geht nicht richtig" not in page(signed_in(lead), "/")
