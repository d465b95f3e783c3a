"""Does what a test found out of a danger hold at every bench, beyond the search?"""

import pytest

from turnscrew.core.reconcile.danger_words import WRITTEN_PACK, WRITTEN_WET
from turnscrew.web.records.queries.bench_runs import run_in
from turnscrew.web.records.queries.power_bars import (
    NO_POWER,
    holds_bad_pack,
    why_no_power,
)
from turnscrew.web.records.services import findings, people
from web.bench.case import taken
from web.bench.test_beside import diagnosis
from web.browser.bench_case import kitted
from web.counter_case import signed_in

SPEAK_FOR = [
    (9, {"look over": "gap or warm", "gap at the edge": "5 mm"}, "pack"),
    (36, {"look over": "liquid or smell", "board looked at": "residue"}, "liquid"),
]


@pytest.mark.parametrize(("line", "answers", "kind"), SPEAK_FOR)
def test_tests_that_speak_for_a_danger_keep_power_off_at_every_bench(
    batch, at_lead, lead, helper, now, line, answers, kind
) -> None:
    job = kitted(batch, line, lead, now)
    assert "" == why_no_power(job, now)
    for test, answer in answers.items():
        told = diagnosis(at_lead, job, test=test, answer=answer)
    assert NO_POWER[kind] == why_no_power(job, now)
    assert told["next"]["says"].startswith(f"No test, no power: {NO_POWER[kind]}")

    run = taken(job, lead, now)
    assert not any(one.may_power for one in run_in(run).lines if one.asks == "test")
    written = [one.words for one in job.findings.filter(result="", withdrawn_at=None)]
    assert 1 == sum("by its tests" in words for words in written)


def test_a_look_that_speaks_against_it_writes_nothing(batch, at_lead, lead, now):
    job = kitted(batch, 9, lead, now)
    diagnosis(at_lead, job, test="look over", answer="nothing seen")

    assert "" == why_no_power(job, now)
    assert not job.findings.filter(words__startswith="by its tests").exists()


@pytest.mark.parametrize(
    ("answers", "german"),
    [
        (SPEAK_FOR[0], "nach seinen Prüfungen ist der Akku vielleicht aufgebläht"),
        (SPEAK_FOR[1], "nach seinen Prüfungen Flüssigkeit im Gerät"),
    ],
)
def test_the_page_of_the_device_says_it_in_german(
    batch, at_lead, lead, now, answers, german
) -> None:
    line, told, _ = answers
    job = kitted(batch, line, lead, now)
    for test, answer in told.items():
        diagnosis(at_lead, job, test=test, answer=answer)
    people.speak_to(lead, "de", now=now)

    page = signed_in(lead).get(f"/items/{job.item.ref}/").content.decode()
    assert german in page
    assert WRITTEN_PACK.are_in(german) or WRITTEN_WET.are_in(german)


def test_whoever_may_takes_it_back(batch, at_lead, lead, now) -> None:
    job = kitted(batch, 9, lead, now)
    for test, answer in SPEAK_FOR[0][1].items():
        diagnosis(at_lead, job, test=test, answer=answer)
    assert holds_bad_pack(job, now)

    row = job.findings.get(words__startswith="by its tests")
    findings.withdraw_finding(row, by=lead, now=now, words="the pack is flat")
    assert not holds_bad_pack(job, now)
