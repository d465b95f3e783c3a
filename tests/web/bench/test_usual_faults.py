"""Is a second fault looked for while the device is open, and a twin told apart?"""

from typing import Any

import pytest

from turnscrew.web.records.models import Job
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import anew, taken, told, work
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


# --- what a look finds ----------------------------------------------------------------


PACK = ("L240", 38, "L-BAT")
SEAL = ("R50", KEYS, "H-SEA")


@pytest.fixture
def looking(request, batch, lead, helper, now) -> Any:
    """Give a path that stands at the look for a usual fault, and its line."""
    model, number, code = request.param
    for job in Job.objects.filter(model=model).exclude(line=number)[:20]:
        note_finding(job, "confirmed", by=lead, now=now, code=code)
    run = taken(kitted(batch, number, lead, now), lead, now)
    line = work(run, lead, now, helper, lambda one: one.found == code)
    assert line is not None
    return run, line


def seen(job: Job) -> list[str]:
    rows = job.findings.filter(stage="seen", withdrawn_at=None, words__contains="look")
    return list(rows.values_list("code", flat=True))


@pytest.mark.parametrize("looking", [PACK], indirect=True)
def test_a_bad_pack_found_is_written_and_nothing_goes_on(
    looking, at_lead, lead, now
) -> None:
    run, line = looking
    assert "Swollen or unknown pack: never press" in line.if_found[0]
    assert not why_no_power(run.job, now)

    told(run, lead, now, "answer", line.number, {"answer": "no"})

    assert ["L-BAT"] == seen(run.job)
    assert "pack swollen or not known" == why_no_power(run.job, now)
    for act, facts in (("answer", {"answer": "yes"}), ("skip", {"reason": "later"})):
        with pytest.raises(RefusedError, match="found a danger at this line"):
            told(run, lead, now, act, line.number, facts)
    fresh = anew(at_lead, run.job, why="also found", code="L-BAT")
    assert ["pack"] == [one.frees for one in lines_of(fresh) if one.frees]


@pytest.mark.parametrize("looking", [PACK], indirect=True)
def test_only_somebody_signed_off_takes_a_bad_pack_back(
    looking, lead, helper, now
) -> None:
    run, line = looking
    for person, left in ((helper, ["L-BAT"]), (lead, [])):
        told(run, person, now, "answer", line.number, {"answer": "no"})
        told(run, person, now, "undo", line.number)
        assert left == seen(run.job)
    told(run, lead, now, "answer", line.number, {"answer": "yes"})


@pytest.mark.parametrize("looking", [SEAL], indirect=True)
def test_another_fault_found_is_written_and_may_be_put_right(
    looking, lead, now
) -> None:
    run, line = looking
    assert () == line.if_found
    told(run, lead, now, "answer", line.number, {"answer": "no"})
    told(run, lead, now, "answer", line.number, {"answer": "no"})
    assert ["H-SEA"] == seen(run.job)
    told(run, lead, now, "undo", line.number)
    assert [] == seen(run.job)

    told(run, lead, now, "answer", line.number, {"answer": "no"})
    told(run, lead, now, "answer", line.number, {"answer": "yes"})
    assert ["H-SEA"] == seen(run.job)
    assert () == audited().breaks
