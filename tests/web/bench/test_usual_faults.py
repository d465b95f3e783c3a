"""Is a second fault looked for while the device is open, and a twin told apart?"""

from typing import Any

import pytest

from turnscrew.web.records.models import Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services.findings import note_finding
from web.bench.case import anew, taken, told
from web.browser.bench_case import kitted

KEYS, TWIN, LONE = 18, 49, 22
"""Scanners of the example; the first two bear one serial."""


def lines_of(run: Any) -> list[Any]:
    return list(bench_runs.run_in(run).lines)


def asked(run: Any) -> list[Any]:
    return [line for line in lines_of(run) if line.name == "other faults"]


def words_of(run: Any) -> list[str]:
    return [words for line in asked(run) for words in line.points]


@pytest.fixture
def run(batch, lead, now) -> Any:
    return taken(kitted(batch, KEYS, lead, now), lead, now)


def test_the_usual_faults_of_the_model_are_asked_for_before_it_is_closed(run) -> None:
    lines = lines_of(run)
    at = lines.index(asked(run)[0])

    assert "work" == lines[at - 1].phase
    assert [line for line in lines[at:] if line.asks == "close"]
    assert 1 <= len(asked(run)) <= 3
    assert not [told for told in words_of(run) if "keypad worn" in told]


def test_each_is_answered_by_itself(run) -> None:
    assert len(asked(run)) > 1
    assert {1} == {len(line.points) for line in asked(run)}


def test_they_are_counted_from_what_was_found(run, batch, lead, now) -> None:
    others = Job.objects.filter(model="R50").exclude(line__in=[KEYS, LONE])
    jobs = list(others[:12])
    for job in jobs:
        note_finding(job, "confirmed", by=lead, now=now, code="H-SEA")
    again = taken(kitted(batch, LONE, lead, now), lead, now)

    first = words_of(again)[0]
    assert first.startswith("Without this fault: seal leaks, ")
    assert int(first.split(", ")[1].split()[0]) >= len(jobs)


def test_once_is_not_usual(run) -> None:
    told_of = [int(words.split(", ")[1].split()[0]) for words in words_of(run)]

    assert min(told_of) >= 2
    assert sorted(told_of, reverse=True) == told_of


def test_a_fault_found_now_comes_into_the_same_opening(run, lead, now, at_lead) -> None:
    line = next(one for one in asked(run) if "window" in one.points[0])
    for one in lines_of(run)[: line.number]:
        told(run, lead, now, "done" if one.asks == "done" else "answer", one.number,
             {} if one.asks == "done" else {"answer": "yes"})  # fmt: skip
    told(run, lead, now, "answer", line.number, {"answer": "no"})
    fresh = anew(at_lead, run.job, why="also found: window scratched", code="H-WIN")

    assert "H-WN" in {line.spare for line in lines_of(fresh)}
    assert not [told for told in words_of(fresh) if "window" in told]


def test_nothing_is_asked_where_it_is_closed_up(run, at_lead) -> None:
    fresh = anew(at_lead, run.job, why="closed up as it is", is_closing=True)

    assert not [line for line in lines_of(fresh) if line.name == "other faults"]


def test_a_twin_is_told_before_anything_is_opened(run, batch, lead, now) -> None:
    first = lines_of(run)[:6]
    words = [line.says for line in first if "is also on device" in line.says]

    assert 1 == len(words)
    assert f"device {TWIN}:" in words[0]
    assert run.job.asset_number in words[0]
    other = taken(kitted(batch, LONE, lead, now), lead, now)
    assert not [one for one in lines_of(other) if "is also on device" in one.says]
