"""Who may work on which device, with or without power, alone or at two benches?"""

from datetime import date, timedelta
from typing import Any

import pytest

from turnscrew.core.bench.owed import owed_after
from turnscrew.core.bench.state import WAY_BACK
from turnscrew.core.model.german import GERMAN
from turnscrew.core.model.phrasebook import Phrasebook
from turnscrew.web.records.models import (
    Allotment,
    Batch,
    BenchRun,
    BenchStroke,
    Description,
    Entry,
    Finding,
    Job,
    Part,
)
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.bench_page import job_state
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.queries.skills import skills_needed
from turnscrew.web.records.queries.tray import tray_of
from turnscrew.web.records.services import (
    bench,
    bench_places,
    custody,
    descriptions,
    stock,
)
from turnscrew.web.records.services.findings import note_finding
from turnscrew.web.records.services.refusal import RefusedError
from web.bench.case import (
    anew,
    became,
    head,
    in_turn,
    one,
    post,
    reasons,
    right_answer,
    standings,
    taken,
    told,
    work,
)
from web.browser.bench_case import kitted

KEYS, WINDOW, PACK, CAMERA = 18, 22, 24, 32
"""Lines of the example batch: keypad and window of a scanner, pack and camera."""


@pytest.fixture
def run(batch, lead, now) -> Any:
    return taken(kitted(batch, KEYS, lead, now), lead, now)


# --- who ------------------------------------------------------------------------------


def test_it_refuses_a_pack_to_somebody_without_the_sign_off(
    batch, at_helper, lead, now
) -> None:
    job = kitted(batch, PACK, lead, now)
    told_why = reasons(at_helper, f"jobs/{job.ref}/begin/", {"bench": "bench 2"})

    assert "holder: found nobody signed off for battery" in told_why
    assert "kitted" == Job.objects.get(pk=job.pk).state
    assert not job.runs.exists()


def test_it_refuses_a_line_that_only_a_lead_may_do(
    batch, at_helper, lead, helper, now
) -> None:
    run = taken(kitted(batch, PACK, lead, now), lead, now)
    line = work(run, lead, now, helper, lambda line: bool(line.sign_off))
    assert line is not None
    act, facts = right_answer(line, helper)
    stroke = one(run, line.number, act, facts=facts, after=head(run))
    told_back = became(at_helper, stroke)[0]

    assert "refused" == told_back["standing"]
    assert f"sign-off: found none for {line.sign_off}" in told_back["against"]
    assert "held" == told(run, lead, now, act, line.number, facts).standing


def test_it_refuses_a_draft_to_a_helper_unless_let_try(
    batch, at_helper, lead, helper, now
) -> None:
    job = kitted(batch, KEYS, lead, now)
    Description.objects.filter(model="R50").update(state=Description.DRAFT)
    description = Description.objects.get(model="R50")
    address = f"jobs/{job.ref}/begin/"

    assert "wanted it released" in reasons(at_helper, address, {"bench": "b"})
    descriptions.let_try(description, helper, by=lead)
    assert "path" == post(at_helper, address, {"bench": "b"})["kind"]
    assert helper.ref == Job.objects.get(pk=job.pk).holder


# --- a swollen pack -------------------------------------------------------------------


def test_it_does_not_begin_an_isolated_device(batch, at_lead, lead, now) -> None:
    job = kitted(batch, PACK, lead, now)
    custody.isolate(job, by=lead, now=now, reason="pack warm")
    told_why = reasons(at_lead, f"jobs/{job.ref}/begin/", {"bench": "b"})

    assert "isolated, pack warm" in told_why
    assert "isolated" == Job.objects.get(pk=job.pk).state
    assert not job.runs.exists()


def test_it_does_not_go_on_with_an_isolated_device(run, at_lead, lead, now) -> None:
    job = Job.objects.get(pk=run.job_id)
    custody.isolate(job, by=lead, now=now, reason="smells")

    assert "isolated, smells" in reasons(at_lead, f"jobs/{job.ref}/begin/", {})


@pytest.mark.parametrize("line", [10, 18, 33])
def test_it_does_not_begin_before_the_kit_is_there(batch, at_lead, line) -> None:
    job = Job.objects.get(batch=batch, line=line)
    told_why = reasons(at_lead, f"jobs/{job.ref}/begin/", {"bench": "b"})

    assert "state: found" in told_why
    assert "wanted it kitted" in told_why
    assert not job.runs.exists()


def test_it_gives_no_power_before_the_pack_is_changed(batch, lead, now) -> None:
    for line in (13, PACK):
        run = bench_runs.run_in(taken(kitted(batch, line, lead, now), lead, now))
        first = next(one.number for one in run.lines if one.phase == "work")
        before = [one for one in run.lines if one.number <= first]

        assert len(before) > 8
        assert not any(one.may_power for one in before)
        assert all("swollen" in one.power for one in before)
        assert any(one.may_power for one in run.lines[first + 1 :])


def test_it_says_from_when_a_sign_off_of_a_later_day_holds(batch, lead, now) -> None:
    job = kitted(batch, PACK, lead, now)
    lead.sign_offs.update(on=date(2027, 3, 1))

    with pytest.raises(RefusedError, match="battery; Imke Vasterling may from 01 Mar"):
        taken(job, lead, now)


@pytest.mark.parametrize(
    ("told", "german"),
    [
        (
            "holder: found nobody signed off for battery",
            "Halter: niemand gefunden mit Freigabe für battery",
        ),
        (
            "holder: found nobody signed off for battery; "
            "Imke Vasterling may from 01 Mar 2027 on",
            "Halter: niemand gefunden mit Freigabe für battery; "
            "Imke Vasterling darf ab 01. März 2027",
        ),
        (
            "device: found it isolated, pack swollen, hot, or its state not known, "
            "wanted it moved out first",
            "Gerät: abgesondert, Akku aufgebläht, heiss oder in unbekanntem Zustand, "
            "gesucht, dass es zuerst herausgestellt wird",
        ),
        (
            "test: found passed though the customer wants it not started, wanted not "
            "possible, because not allowed",
            "Prüfung: bestanden gefunden, obwohl der Kunde es nicht gestartet haben "
            "will, gesucht nicht möglich, weil nicht erlaubt",
        ),
    ],
)
def test_what_a_bench_is_refused_is_german_there(told, german) -> None:
    assert german == Phrasebook(GERMAN).says(told)


def test_it_gives_no_power_where_a_remark_says_the_pack_is_swollen(
    batch, lead, helper, now
) -> None:
    bulging = Job.objects.filter(batch=batch, line=CAMERA)
    bulging.update(remarks="case bulges at the back")
    job = kitted(batch, CAMERA, lead, now)
    with pytest.raises(RefusedError, match="signed off for battery"):
        taken(job, helper, now)
    run = bench_runs.run_in(taken(job, lead, now))
    first = next(one.number for one in run.lines if one.phase == "work")

    assert not any(one.may_power for one in run.lines[: first + 1])


def closed_up(row: Any, lead: Any, now: Any) -> Any:
    change = bench.Change("as it is", is_closing=True)
    return bench.plan_anew(row, change, by=lead, now=now, is_time_up=lambda: True)


def test_it_takes_no_test_as_passed_without_power(batch, lead, helper, now) -> None:
    row = taken(kitted(batch, PACK, lead, now), lead, now)
    work(row, lead, now, helper, lambda one: one.phase == "work")
    row = closed_up(row, lead, now)
    line = work(
        row, lead, now, helper, lambda one: one.asks == "test" and one.name != "adapter"
    )
    assert line is not None
    assert not line.may_power

    with pytest.raises(RefusedError, match="^power: found a test"):
        told(row, lead, now, "answer", line.number, {"answer": "passed"})
    facts = {"answer": "not possible", "reason": "no power"}
    assert "held" == told(row, lead, now, "answer", line.number, facts).standing


def test_an_adapter_is_tested_whatever_its_device_holds(
    batch, lead, helper, now
) -> None:
    row = closed_up(taken(kitted(batch, 13, lead, now), lead, now), lead, now)
    line = work(row, lead, now, helper, lambda one: one.name == "adapter")
    assert line is not None

    told_of = told(row, lead, now, "answer", line.number, {"answer": "passed"})
    assert "held" == told_of.standing


def test_nobody_passes_over_the_pack_that_lets_it_be_switched_on(
    batch, lead, helper, now
) -> None:
    row = taken(kitted(batch, PACK, lead, now), lead, now)
    line = work(row, lead, now, helper, lambda one: one.phase == "work")
    assert line is not None
    assert "pack" == line.frees

    with pytest.raises(RefusedError, match="lets it be powered again"):
        told(row, lead, now, "skip", line.number, {"reason": "no such part"})
    # Neither does it count that somebody asked about it.
    told(row, lead, now, "differs", line.number, {"what": "asked"})
    change = bench.Change("something else turned out")
    fresh = bench.plan_anew(row, change, by=lead, now=now, is_time_up=lambda: True)
    lines = bench_runs.run_in(fresh).lines
    fit = next(one.number for one in lines if one.frees)
    assert not any(one.may_power for one in lines[:fit])


def test_a_pack_that_will_not_come_keeps_power_off_to_the_end(
    batch, lead, helper, now
) -> None:
    row = taken(kitted(batch, PACK, lead, now), lead, now)
    line = work(
        row, lead, now, helper, lambda one: one.does == "lift" and "pack" == one.name
    )
    assert line is not None
    change = bench.Change("the pack will not come", stays=("pack",))
    fresh = bench.plan_anew(row, change, by=lead, now=now, is_time_up=lambda: True)

    lines = bench_runs.run_in(fresh).lines
    assert not any(one.frees for one in lines)
    assert not any(one.may_power for one in lines if one.name != "adapter")
    assert "number" not in [one.asks for one in lines]


def test_the_new_pack_is_not_taken_for_the_bad_one(batch, lead, helper, now) -> None:
    row = taken(kitted(batch, PACK, lead, now), lead, now)
    line = work(
        row, lead, now, helper, lambda one: one.phase == "refit" and one.does == "make"
    )
    assert line is not None
    change = bench.Change("the keys are dead too", code="T-KEY")
    fresh = bench.plan_anew(row, change, by=lead, now=now, is_time_up=lambda: True)

    lines = bench_runs.run_in(fresh).lines
    assert not any(one.does == "box" for one in lines)
    assert any(one.may_power for one in lines if one.asks == "test")


@pytest.mark.parametrize("is_by_code", [True, False])
def test_a_new_pack_that_is_bad_too_is_changed_once_more(
    batch, lead, helper, now, is_by_code
) -> None:
    row = taken(kitted(batch, PACK, lead, now), lead, now)
    work(row, lead, now, helper, lambda one: one.phase == "refit")
    later = now + timedelta(minutes=5)
    if is_by_code:
        change = bench.Change("the new one swells", code="T-BAT")
    else:
        words = "the new pack is swollen"
        note_finding(row.job, "seen", by=lead, now=later, words=words)
        change = bench.Change("the new one swells")
    fresh = bench.plan_anew(row, change, by=lead, now=later, is_time_up=lambda: True)

    lines = bench_runs.run_in(fresh).lines
    (fit,) = [one.number for one in lines if one.frees]
    assert any(one.does == "box" for one in lines[:fit])
    assert not any(one.may_power for one in lines[: fit + 1])
    assert any(one.may_power for one in lines[fit + 1 :])
    assert why_no_power(row.job, later)

    still_later = later + timedelta(minutes=5)
    work(fresh, lead, still_later, helper, lambda one: one.phase == "refit")
    assert not why_no_power(row.job, still_later)
    change = bench.Change("the keys are dead too", code="T-KEY")
    last = bench.plan_anew(
        fresh, change, by=lead, now=still_later, is_time_up=lambda: True
    )
    assert not any(one.frees for one in bench_runs.run_in(last).lines)
    work(last, lead, still_later, helper, lambda one: one.phase == "final")
    packs = Allotment.objects.filter(job=row.job, part__number="T-BT")
    assert ["used", "used"] == [one.state for one in packs]


def test_a_worn_pack_that_was_changed_and_swells_is_changed_once_more(
    batch, lead, helper, now
) -> None:
    """Nothing was freed by the first change: there was no danger then."""
    text = batch.terms_text
    worn = text.replace("parts: T-BT, skill: battery, hazard: pack", "parts: T-BT")
    assert worn != text
    Batch.objects.filter(pk=batch.pk).update(terms_text=worn)
    job = kitted(batch, PACK, lead, now)
    row = taken(job, lead, now)
    work(row, lead, now, helper, lambda one: one.phase == "refit")
    assert not why_no_power(row.job, now)
    later = now + timedelta(minutes=5)
    note_finding(row.job, "seen", by=lead, now=later, words="the new one swells")
    row = BenchRun.objects.get(pk=row.pk)
    change = bench.Change("the new one swells")
    fresh = bench.plan_anew(row, change, by=lead, now=later, is_time_up=lambda: True)

    lines = bench_runs.run_in(fresh).lines
    (fit,) = [one.number for one in lines if one.frees]
    assert any(one.does == "box" for one in lines[:fit])
    work(fresh, lead, later, helper, lambda one: one.phase == "refit")
    assert not why_no_power(fresh.job, later)


def test_whoever_works_on_after_the_pack_was_changed_needs_no_sign_off(
    batch, lead, helper, now
) -> None:
    row = taken(kitted(batch, PACK, lead, now), lead, now)
    assert {"battery"} == skills_needed(row.job, now)
    work(row, lead, now, helper, lambda one: one.phase == "refit")

    assert frozenset() == skills_needed(row.job, now + timedelta(minutes=1))


@pytest.mark.parametrize("remark", ["wet, coffee over the keys", "rinsed with water"])
def test_it_gives_no_power_where_a_remark_says_it_is_wet(
    batch, lead, now, remark
) -> None:
    """A part exchanged for another fault dries nothing."""
    Job.objects.filter(batch=batch, line=CAMERA).update(remarks=remark)
    run = bench_runs.run_in(taken(kitted(batch, CAMERA, lead, now), lead, now))

    assert not any(one.may_power for one in run.lines if one.name != "adapter")
    assert any("Liquid inside" in one.says for one in run.lines)


@pytest.mark.parametrize(
    ("remark", "told_of"),
    [
        ("smells of disinfectant", "gloves, keep apart until cleaned"),
        ("foreign thing rattles", "To be read by the lead before any work"),
    ],
)
def test_what_was_seen_on_arrival_is_read_first_at_the_bench(
    batch, lead, now, remark, told_of
) -> None:
    Job.objects.filter(batch=batch, line=CAMERA).update(remarks=remark)
    run = bench_runs.run_in(taken(kitted(batch, CAMERA, lead, now), lead, now))

    heeded = [one.says for one in run.lines if one.does == "heed"]
    assert any(told_of in words and remark in words for words in heeded)


def test_final_tests_left_unanswered_are_asked_on_the_next_path(
    batch, lead, helper, now
) -> None:
    row = taken(kitted(batch, KEYS, lead, now), lead, now)
    tests = [
        one.name
        for one in bench_runs.run_in(row).lines
        if one.phase == "final" and one.asks == "test" and one.name != "adapter"
    ]
    first, *rest = tests
    work(
        row, lead, now, helper,
        lambda one: one.phase == "final" and one.name == rest[0],
    )  # fmt: skip
    row = closed_up(row, lead, now)

    left = [one.name for one in bench_runs.run_in(row).lines if one.asks == "test"]

    assert rest == [name for name in left if name in tests]
    assert first not in left


def test_a_piece_told_missing_at_both_benches_is_missing_once(
    batch, lead, helper, at_lead, at_helper, now
) -> None:
    Description.objects.update(state=Description.RELEASED)
    run = taken(kitted(batch, KEYS, lead, now), lead, now)
    line = work(run, lead, now, helper, lambda one: one.moves == "taken" and one.n > 1)
    assert line is not None
    before = bench_runs.told(run).state.tray
    facts, at = {"what": "missing on arrival", "n": 1}, head(run)
    first = one(run, line.number, "differs", facts=facts, after=at)
    again = one(run, line.number, "differs", facts=facts, after=at)

    assert ["held"] == standings(at_lead, first, name="bench 1")
    assert ["agreed"] == standings(at_helper, again, name="bench 2")
    # Told by one that knew of the first, a second one is missing too.
    more = one(run, line.number, "differs", facts=facts, after=first["key"])
    assert ["held"] == standings(at_helper, more, name="bench 2")
    done = one(run, line.number, "done", after=more["key"])
    assert ["held"] == standings(at_lead, done, name="bench 1")
    tray = bench_runs.told(run).state.tray
    assert line.n - 2 == tray.get(line.letter, 0) - before.get(line.letter, 0)


def test_pieces_of_another_revision_are_asked_for_before_it_is_closed(
    batch, lead, helper, at_lead, now
) -> None:
    of_a = Job.objects.filter(batch=batch, model="L240", revision="A").order_by("line")
    job = kitted(batch, of_a.first().line, lead, now)
    taken(job, lead, now)
    fresh = anew(at_lead, job, why="nuts too", also_reach=["port nuts"])
    work(fresh, lead, now, helper, lambda one: one.phase in ("work", "refit"))
    letter = bench_runs.run_in(fresh).letters["port nuts"]
    assert bench_runs.told(fresh).state.tray[letter]

    other = anew(at_lead, job, why="revision B inside", revision="B")

    counted = [one for one in bench_runs.run_in(other).lines if one.asks == "count"]
    assert [(letter,)] == [
        one.compartments for one in counted if "another revision" in one.name
    ]


def test_whoever_lost_a_device_takes_it_back_counted_alone(
    batch, lead, helper, now
) -> None:
    row = taken(kitted(batch, KEYS, lead, now), lead, now)
    work(row, lead, now, helper, lambda one: one.phase == "work")
    job = Job.objects.get(pk=row.job_id)

    with pytest.raises(RefusedError, match="its tray is counted"):
        closed_up(row, helper, now)
    with pytest.raises(RefusedError, match="its tray is counted"):
        bench_places.park(job, by=helper, now=now, reason="evening")


def test_a_pack_found_bad_in_mid_work_keeps_power_off_on_the_old_path(
    batch, lead, helper, now
) -> None:
    row = taken(kitted(batch, CAMERA, lead, now), lead, now)
    work(row, lead, now, helper, lambda one: one.phase == "work")
    assert "" == job_state(row.job, "", now)["stop"]
    note_finding(row.job, "confirmed", by=lead, now=now, code="T-BAT")
    line = work(
        row, lead, now, helper, lambda one: one.asks == "test" and one.may_power
    )
    assert line is not None

    assert "pack swollen or not known" in job_state(row.job, "", now)["stop"]
    with pytest.raises(RefusedError, match="ask for a new path"):
        told(row, lead, now, "answer", line.number, {"answer": "passed"})
    change = bench.Change("its pack is swollen")
    fresh = bench.plan_anew(row, change, by=lead, now=now, is_time_up=lambda: True)
    assert "" == job_state(fresh.job, "", now)["stop"]


def test_it_asks_nobody_to_charge_a_swollen_pack_that_stays_in(
    batch, lead, now
) -> None:
    row = taken(kitted(batch, PACK, lead, now), lead, now)
    assert "charge" in [one.name for one in bench_runs.run_in(row).lines]
    row = closed_up(row, lead, now)

    assert "charge" not in [one.name for one in bench_runs.run_in(row).lines]


# --- the close gate -------------------------------------------------------------------


def test_it_opens_again_what_was_closed_by_mistake(
    run, batch, lead, helper, now
) -> None:
    line = work(run, lead, now, helper, lambda one: one.asks == "close")
    assert line is not None
    told(run, lead, now, "done", line.number)
    assert "closed" == Job.objects.get(pk=run.job_id).state
    told(run, lead, now, "undo", line.number)

    job = Job.objects.get(pk=run.job_id)
    assert "open" == job.state
    assert {} == tray_of(job)
    before = bench_runs.told(run).state.held[-1]
    told(run, lead, now, "undo", before.line)
    assert () == audited().breaks
    assert None is work(run, lead, now, helper)
    assert "charged and clean" == Job.objects.get(pk=run.job_id).state
    assert () == audited().breaks


# --- two benches ----------------------------------------------------------------------


def test_it_agrees_where_two_benches_told_the_same(run, at_lead, at_helper) -> None:
    assert ["held"] * 5 == standings(at_lead, *in_turn(run, range(5), ""))
    other = in_turn(run, range(3), "")
    assert ["agreed"] * 3 == standings(at_helper, *other, name="bench 2")

    assert 5 == bench_runs.told(run).state.at
    assert 8 == BenchStroke.objects.count()


def test_it_holds_what_goes_on_where_the_other_bench_stopped(
    run, at_lead, at_helper
) -> None:
    standings(at_lead, *in_turn(run, range(3), ""))
    other = in_turn(run, range(5), "")

    assert ["agreed"] * 3 + ["held"] * 2 == standings(at_helper, *other, name="b 2")
    assert 5 == bench_runs.told(run).state.at


def parted(run: Any, at_lead: Any, at_helper: Any) -> list[str]:
    """
    Let two benches part at the first fasteners that come out.

    The first takes them all; the second says that one was missing, takes the rest,
    does one more line, takes that back and does it again.
    """
    lines = bench_runs.run_in(run).lines
    at = next(one.number for one in lines if one.moves == "taken")
    assert lines[at].n > 1
    standings(at_lead, *in_turn(run, range(at + 3), ""), name="bench 1")
    first = in_turn(run, range(at), "")
    facts = {"what": "missing on arrival", "n": 1}
    differs = one(run, at, "differs", facts=facts, after=first[-1]["key"])
    rest = in_turn(run, range(at, at + 2), differs["key"])
    undo = one(run, at + 1, "undo", after=rest[-1]["key"])
    again = in_turn(run, range(at + 1, at + 2), undo["key"])
    sent = [*first, differs, *rest, undo, *again]
    for stroke in sent:
        stroke["key"] = stroke["key"].ljust(64, "-")
    told_back = standings(at_helper, *sent, name="bench 2")
    assert ["agreed"] * at == told_back[:at]
    assert "disputed" == told_back[at]
    assert "disputed" == told_back[at + 3]
    kept = BenchStroke.objects.filter(client_key__in=[one["key"] for one in sent])
    assert len(sent) == kept.count()
    return [one["key"] for one in sent]


@pytest.fixture
def two(run, at_lead, at_helper) -> list[str]:
    return parted(run, at_lead, at_helper)


def test_it_keeps_what_is_written_where_the_first_account_holds(
    run, two, at_lead
) -> None:
    before = bench_runs.told(run).state
    answer = post(at_lead, f"jobs/{run.job.ref}/settle/", {"is_theirs": False})

    assert [] == answer["disputed"]
    after = bench_runs.told(run).state
    assert (before.at, before.tray) == (after.at, after.tray)
    assert len(two) == BenchStroke.objects.filter(client_key__in=two).count()
    assert () == audited().breaks
    assert "wanted two" in reasons(at_lead, f"jobs/{run.job.ref}/settle/", {})


def test_it_writes_the_other_account_where_that_one_holds(
    run, two, at_lead, helper
) -> None:
    lines = bench_runs.run_in(run).lines
    at = next(one.number for one in lines if one.moves == "taken")
    answer = post(at_lead, f"jobs/{run.job.ref}/settle/", {"is_theirs": True})

    assert [] == answer["disputed"]
    state = bench_runs.told(run).state
    assert at + 2 == state.at
    taken_out = sum(one.n for one in lines[:at] if one.moves == "taken")
    more = sum(one.n for one in lines[at : at + 2] if one.moves == "taken")
    assert taken_out + more - 1 == sum(state.tray.values())
    assert sum(state.tray.values()) == sum(tray_of(run.job).values())
    held = BenchStroke.objects.filter(run=run, standing="held", act="differs")
    assert [helper.ref] == [one.by.ref for one in held]
    assert len(two) == BenchStroke.objects.filter(client_key__in=two).count()
    assert () == audited().breaks


def test_it_takes_back_an_undo_of_the_other_account_by_itself(
    run, at_lead, at_helper
) -> None:
    standings(at_lead, *in_turn(run, range(6), ""))
    first = in_turn(run, range(4), "")
    undo = one(run, 3, "undo", after=first[-1]["key"])
    told_back = standings(at_helper, *first, undo, name="bench 2")
    assert ["agreed"] * 4 + ["disputed"] == told_back
    post(at_lead, f"jobs/{run.job.ref}/settle/", {"is_theirs": True})

    assert 3 == bench_runs.told(run).state.at
    assert () == audited().breaks


def test_it_promises_the_last_piece_once_where_two_benches_were_apart(
    batch, lead, helper, now
) -> None:
    part = Part.objects.get(number="H-KP")
    stock.count(part, 1, by=lead, now=now, words="cycle count")
    first, second = (kitted(batch, line, lead, now) for line in (18, 19))
    Allotment.objects.filter(part=part).delete()
    Part.objects.filter(pk=part.pk).update(promised=0)
    for job, who in ((first, lead), (second, helper)):
        wish = stock.take(Part.objects.get(pk=part.pk), job, by=who, now=now)
        assert Allotment.USED == wish.state

    part.refresh_from_db()
    assert -1 == part.on_hand
    assert 1 == part.short
    used = Entry.objects.filter(journal="stock", verb="used", subject=part.ref)
    assert 2 == used.count()


def test_it_keeps_the_second_wish_for_the_last_piece_as_short(batch, lead, now) -> None:
    part = Part.objects.get(number="H-WN")
    stock.count(part, part.promised + 1, by=lead, now=now, words="cycle count")
    jobs = [Job.objects.get(batch=batch, line=line) for line in (16, 22)]
    wishes = [
        stock.promise(Part.objects.get(pk=part.pk), job, by=lead, now=now)
        for job in jobs
    ]

    assert [Allotment.PROMISED, Allotment.SHORT] == [one.state for one in wishes]
    assert 1 == Part.objects.get(pk=part.pk).promised
    assert () == audited().breaks


# --- a new path -----------------------------------------------------------------------


def letters_of(run: Any) -> dict[str, str]:
    return dict(bench_runs.run_in(run).letters)


def opened(run: Any, lead: Any, now: Any, helper: Any, n: int = 3) -> Any:
    """Work until some fasteners are out; give what lies in the tray."""
    until = [one.number for one in bench_runs.run_in(run).lines if one.moves][n - 1]
    work(run, lead, now, helper, lambda one: one.number > until)
    return dict(bench_runs.told(run).state.tray)


CHANGES: dict[str, dict[str, Any]] = {
    "must stay": {"why": "must stay", "stays": ["seal"]},
    "will not come": {"why": "will not come", "stays": ["next"]},
    "second fault": {"why": "also found", "code": "H-WIN"},
    "other revision": {"why": "revision K seen inside", "revision": "K"},
    "closed up": {"why": "closed up as it is", "is_closing": True},
    "more reached": {"why": "look at the board", "also_reach": ["board"]},
}


@pytest.mark.parametrize("kind", CHANGES)
def test_it_keeps_letters_and_tray_over_a_new_path(
    run, at_lead, lead, helper, now, kind
) -> None:
    tray, before = opened(run, lead, now, helper), letters_of(run)
    lines = bench_runs.run_in(run).lines
    undone = {one.name for one in lines[: bench_runs.told(run).state.at] if one.letter}
    ahead = next(
        one.name for one in lines[bench_runs.told(run).state.at :]
        if one.does in ("undo", "lift")
    )  # fmt: skip
    change = dict(CHANGES[kind])
    if "stays" in change:
        change["stays"] = [ahead]
    fresh = anew(at_lead, run.job, **change)
    after = bench_runs.run_in(fresh)

    assert {name: before[name] for name in undone} == {
        name: after.letters.get(name, before[name]) for name in undone
    }
    assert tray == dict(after.tray) == dict(bench_runs.told(fresh).state.tray)
    assert sum(tray.values()) == sum(tray_of(run.job).values())
    if after.status != "impossible":
        assert None is work(fresh, lead, now, helper)
        assert {} == tray_of(run.job)
    assert () == audited().breaks


def test_it_puts_the_parts_of_a_second_fault_into_the_work(
    run, at_lead, lead, helper, now
) -> None:
    opened(run, lead, now, helper)
    fresh = anew(at_lead, run.job, why="also found", code="H-WIN")
    confirmed = Finding.objects.filter(job=run.job, stage="confirmed")

    assert {"H-KPD", "H-WIN"} == set(confirmed.values_list("code", flat=True))
    spares = {one.spare for one in bench_runs.run_in(fresh).lines if one.spare}
    assert {"H-KP", "H-WN"} <= spares


def test_it_confirms_no_fault_by_a_path_that_was_refused(run, at_lead) -> None:
    for change in (
        {"why": "", "code": "H-WIN"},
        {"why": "seen", "code": "H-WIN", "revision": "Z"},
        {"why": "seen", "code": "X-NONE"},
    ):
        assert anew(at_lead, run.job, 409, **change)
    assert not run.job.findings.filter(stage="confirmed", code="H-WIN").exists()
    assert 1 == run.job.runs.count()


def test_it_asks_a_new_path_about_what_was_refitted_but_not_looked_at(
    run, at_lead, lead, helper, now
) -> None:
    def refitted_unseen() -> set[str]:
        state, lines = bench_runs.state_and_run(run)
        back = {one.name for one in lines.lines[: state.at] if one.does in WAY_BACK}
        return back & set(owed_after(bench_runs.held_lines(run)).looks)

    work(run, lead, now, helper, lambda line: bool(refitted_unseen()))
    unseen = refitted_unseen()
    fresh = anew(at_lead, run.job, why="closed up as it is", is_closing=True)
    asked = {
        name
        for one in bench_runs.run_in(fresh).lines
        if one.asks == "look"
        for name in one.names
    }

    assert unseen
    assert unseen <= asked


def test_it_writes_no_path_past_what_was_told_meanwhile(run, lead, helper, now) -> None:
    work(run, lead, now, helper, lambda one: one.phase == "opening")
    told_meanwhile: list[str] = []

    def is_time_up() -> bool:
        if not told_meanwhile:
            state = bench_runs.told(run).state
            stroke = told(run, lead, now, "done", state.at)
            told_meanwhile.append(stroke.client_key)
        return True

    change = bench.Change("look at the board", also_reach=("board",))
    with pytest.raises(RefusedError, match="told meanwhile"):
        bench.plan_anew(run, change, by=lead, now=now, is_time_up=is_time_up)
    assert told_meanwhile
    assert 1 == run.job.runs.count()
    bench.plan_anew(run, change, by=lead, now=now, is_time_up=is_time_up)
    assert 2 == run.job.runs.count()


def test_it_begins_once_where_two_began_at_one_moment(batch, lead, now) -> None:
    job = kitted(batch, KEYS, lead, now)
    rows: list[Any] = []

    def is_time_up() -> bool:
        if not rows:
            rows.append(taken(job, lead, now, "bench 2"))
        return True

    late = bench_places.take(
        job, by=lead, now=now, bench="bench 1", is_time_up=is_time_up
    )
    assert rows == [late]
    assert 1 == job.runs.count()


def test_it_is_begun_by_one_person_where_two_began_it_at_one_moment(
    batch, lead, helper, now
) -> None:
    helper.rights = helper.LEAD
    helper.save()
    job = kitted(batch, KEYS, lead, now)
    first: list[Any] = []

    def is_time_up() -> bool:
        if not first:
            first.append(taken(job, helper, now, "bench 2"))
        return True

    with pytest.raises(RefusedError, match="found somebody else, wanted you"):
        bench_places.take(job, by=lead, now=now, bench="bench 1", is_time_up=is_time_up)
    stands = Job.objects.get(pk=job.pk)
    assert (helper.ref, "bench 2, place 1") == (stands.holder, stands.place)


def test_devices_begun_at_one_moment_have_places_of_their_own(batch, lead, now) -> None:
    first, second = (kitted(batch, line, lead, now) for line in (KEYS, WINDOW))
    others: list[Any] = []

    def is_time_up() -> bool:
        if not others:
            others.append(taken(second, lead, now))
        return True

    bench_places.take(first, by=lead, now=now, bench="bench 1", is_time_up=is_time_up)

    places = {Job.objects.get(pk=job.pk).place for job in (first, second)}
    assert {"bench 1, place 1", "bench 1, place 2"} == places


# --- parking --------------------------------------------------------------------------


def test_it_parks_with_a_reason_and_goes_on_at_the_same_line(
    run, at_lead, lead, helper, now
) -> None:
    tray = opened(run, lead, now, helper)
    at, ref = bench_runs.told(run).state.at, run.job.ref

    assert "reason" in reasons(at_lead, f"jobs/{ref}/park/", {"reason": "  "})
    assert "open" == Job.objects.get(pk=run.job_id).state
    post(at_lead, f"jobs/{ref}/park/", {"reason": "part still to come"})
    job = Job.objects.get(pk=run.job_id)
    assert "parked open" == job.state
    assert now.date() + timedelta(days=1) == job.waits_until
    assert run.ref == post(at_lead, f"jobs/{ref}/begin/", {"bench": "b"})["ref"]
    job = Job.objects.get(pk=run.job_id)
    assert ("open", "bench 1, place 1") == (job.state, job.place)
    assert (at, tray) == (
        bench_runs.told(run).state.at, dict(bench_runs.told(run).state.tray)
    )  # fmt: skip


def test_it_finds_five_places_and_refuses_the_sixth(batch, at_lead, lead, now) -> None:
    lines = (18, 19, 22, 16, 50)
    runs = [taken(kitted(batch, line, lead, now), lead, now) for line in lines]
    places = [Job.objects.get(pk=run.job_id).place for run in runs]
    sixth = kitted(batch, 51, lead, now)

    assert [f"bench 1, place {n}" for n in range(1, 6)] == places
    parked = Job.objects.get(pk=runs[2].job_id)
    bench_places.park(parked, by=lead, now=now, reason="part still to come")
    told_why = reasons(at_lead, f"jobs/{sixth.ref}/begin/", {"bench": "bench 1"})
    assert "bench: found 5 devices on bench 1" in told_why
    assert "kitted" == Job.objects.get(pk=sixth.pk).state
    post(at_lead, f"jobs/{sixth.ref}/begin/", {"bench": "bench 2"})
    assert "bench 2, place 1" == Job.objects.get(pk=sixth.pk).place


def test_it_gives_the_place_that_was_freed_first(batch, lead, helper, now) -> None:
    runs = [taken(kitted(batch, n, lead, now), lead, now) for n in (18, 22)]
    work(runs[0], lead, now, helper, lambda one: one.phase == "final")
    third = taken(kitted(batch, 16, lead, now), lead, now)
    # Closed, but not yet tested, it still lies where it was.
    assert "bench 1, place 3" == Job.objects.get(pk=third.job_id).place
    work(runs[0], lead, now, helper)
    fourth = taken(kitted(batch, 19, lead, now), lead, now)

    assert "bench 1, place 1" == Job.objects.get(pk=fourth.job_id).place


def test_two_pages_of_one_bench_tell_the_same_thing_once(run, at_lead, lead) -> None:
    first, again = one(run, 0, after=""), one(run, 0, after="")
    assert ["held"] == standings(at_lead, first)
    assert ["agreed"] == standings(at_lead, again)
    # Either goes on from there; what does not fit is still shown beside it.
    assert ["held"] == standings(at_lead, one(run, 1, after=again["key"]))
    other = one(run, 0, "skip", facts={"reason": "later"}, after="")
    assert ["disputed"] == standings(at_lead, other)
    assert 1 == BenchStroke.objects.filter(standing=BenchStroke.DISPUTED).count()
    assert () == audited().breaks
