"""Is every stroke written once or refused in words, and nothing lost beside it?"""

import json
from datetime import datetime, timedelta
from typing import Any

import pytest
from django.test import Client

from turnscrew.core.model.job_state import Standing
from turnscrew.web.records.models import BenchStroke, Entry, Job, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.services import bench_places, custody, people, photos
from web.bench.case import (
    AT,
    anew,
    became,
    in_turn,
    one,
    post,
    reasons,
    standings,
    taken,
    work,
)
from web.browser.bench_case import kitted
from web.counter_case import signed_in
from web.photos.conftest import board, written

LIMIT_BYTES = 70_000


@pytest.fixture
def run(batch, lead, now) -> Any:
    return taken(kitted(batch, 18, lead, now), lead, now)


@pytest.fixture
def beside(run, batch, lead, now) -> Any:
    """Give the run of another device on the same bench."""
    return taken(kitted(batch, 22, lead, now), lead, now)


# --- once ----------------------------------------------------------------------------


def test_it_writes_the_same_key_once_in_one_message(at_lead, run) -> None:
    stroke = one(run)

    assert ["held", "held"] == standings(at_lead, stroke, stroke)
    assert 1 == BenchStroke.objects.filter(client_key=stroke["key"]).count()
    assert 1 == Entry.objects.filter(journal="bench", verb="action").count()


def test_it_writes_the_same_key_once_in_two_messages(at_lead, run) -> None:
    stroke = one(run)
    first, second = became(at_lead, stroke), became(at_lead, stroke)

    assert first == second
    assert 1 == BenchStroke.objects.count()


def test_it_does_not_take_the_key_of_another_device_for_its_own(
    at_lead, run, beside
) -> None:
    stroke = one(run)
    other = {**stroke, "run": beside.ref}
    held, refused = became(at_lead, stroke, other)

    assert "held" == held["standing"]
    assert "refused" == refused["standing"]
    assert "key" in refused["against"]


# --- by a clock that is wrong ---------------------------------------------------------


def told_by_clock(client: Client, stroke: Any, sent_at: datetime) -> BenchStroke:
    (told,) = became(client, stroke, sent_at=sent_at.isoformat())
    assert "held" == told["standing"], told
    return BenchStroke.objects.get(client_key=stroke["key"])


@pytest.mark.parametrize(
    "began", ["1970-01-01T00:00:00Z", "2027-02-01T06:00:00Z", "2031-07-01T00:00:00Z"]
)
def test_it_dates_what_a_wrong_clock_told_by_how_long_it_waited(
    at_lead, run, clock, began
) -> None:
    there = datetime.fromisoformat(began)
    clock.at += timedelta(hours=2)
    stroke = one(run, at=there.isoformat())

    kept = told_by_clock(at_lead, stroke, there + timedelta(minutes=90))

    assert clock.at - timedelta(minutes=90) == kept.told_at


def test_it_dates_nothing_before_its_path_or_after_now(at_lead, run, clock) -> None:
    """The clock was set between telling and sending."""
    clock.at += timedelta(hours=2)
    early, late = one(run, at="1970-01-01T00:00:00Z"), one(run, 1, at="2099" + AT[4:])

    assert run.at == told_by_clock(at_lead, early, clock.at).told_at
    assert clock.at == told_by_clock(at_lead, late, clock.at).told_at


def test_a_slow_clock_does_not_open_a_parked_device(at_lead, run, lead, clock) -> None:
    job = Job.objects.get(pk=run.job_id)
    custody.move(job, Standing("open", job.place, lead.ref), by=lead, now=clock.at)
    bench_places.park(job, by=lead, now=clock.at + timedelta(hours=1), reason="night")
    clock.at += timedelta(hours=3)

    (told,) = became(at_lead, one(run, at=AT), sent_at=AT)

    assert "refused" == told["standing"]
    assert "found it parked" in told["against"]


@pytest.mark.parametrize("far", ["1899-12-31T23:59:59Z", "2200-01-01T00:00:00Z"])
def test_it_takes_no_time_that_no_clock_can_mean(at_lead, run, far) -> None:
    (told,) = became(at_lead, one(run, at=far))

    assert "refused" == told["standing"]
    assert f"at: found '{far}', wanted" in told["against"]
    (told,) = became(at_lead, one(run, at="2199-12-31T23:59:59Z"))
    assert "held" == told["standing"]


# --- refused with a reason, and the others kept ---------------------------------------

DEEP = "[" * 100_000

WRONG_BODIES = (
    "", "{", "[]", "null", "3", '"a"', DEEP, b"\xff\xfe\x00", '{"strokes": 3}',
    '{"strokes": [], "bench": 3}', '{"strokes": {}}', '{"bench": "b"}',
    json.dumps({"bench": "b" * 41, "strokes": []}),
)  # fmt: skip


@pytest.mark.parametrize("body", WRONG_BODIES, ids=range(len(WRONG_BODIES)))
def test_it_refuses_a_message_that_is_none(at_lead, run, body) -> None:
    assert reasons(at_lead, "tell/", body, 422)


def test_it_refuses_too_many_strokes_at_once(at_lead, run) -> None:
    body = {"bench": "b", "strokes": [one(run, line) for line in range(201)]}

    assert "200" in reasons(at_lead, "tell/", body, 422)
    assert 0 == BenchStroke.objects.count()


def test_it_writes_nobodys_work_under_the_name_of_somebody_else(
    at_lead, run, lead, helper
) -> None:
    theirs = {"bench": "b", "strokes": [one(run), one(run, 1, who=helper.ref)]}

    assert "told by" in reasons(at_lead, "tell/", theirs)
    assert 0 == BenchStroke.objects.count()
    assert ["held"] == [
        told["standing"] for told in became(at_lead, one(run, who=lead.ref))
    ]


WRONG_STROKES: dict[str, Any] = {
    "unknown run": {"run": "0" * 16},
    "no run": {"run": "../.."},
    "run of another type": {"run": 7},
    "unknown act": {"act": "explode"},
    "act of a recording": {"act": "record"},
    "line below": {"line": -1},
    "line above": {"line": 99_999},
    "line far above": {"line": 10**30},
    "line of another type": {"line": "zero"},
    "short key": {"key": "short"},
    "long key": {"key": "k" * 65},
    "key of another type": {"key": ["k"]},
    "key with NUL": {"key": "key\0with-nul"},
    "after with NUL": {"after": "key\0with-nul"},
    "no time": {"at": "yesterday"},
    "time without a zone": {"at": "2027-02-01T09:00:00"},
    "time beyond the calendar": {"at": "9999-12-31T23:59:59-14:00"},
    "time before the calendar": {"at": "0001-01-01T00:00:00+14:00"},
    "facts of another type": {"facts": 3},
    "facts in facts": {"facts": {"n": {"n": 1}}},
    "fact that is a share": {"facts": {"n": 1.5}},
    "fact that is no number": {"facts": {"n": float("nan")}},
    "fact beyond all numbers": {"facts": {"n": 10**40}},
    "70 kB of facts": {"facts": {"reason": "x" * LIMIT_BYTES}},
    "70 kB of facts, many": {"facts": {f"n{n}": n for n in range(7_000)}},
    "NUL in a fact": {"facts": {"reason": "a\0b"}},
    "NUL in the name of a fact": {"facts": {"a\0b": 1}},
    "half a letter in a fact": {"facts": {"reason": "\ud800"}},
    "one thing in place of a stroke": None,
}


@pytest.mark.parametrize("wrong", WRONG_STROKES)
def test_it_refuses_one_stroke_and_keeps_those_of_other_devices(
    at_lead, run, beside, wrong
) -> None:
    change = WRONG_STROKES[wrong]
    bad = 3 if change is None else one(run) | change
    told = became(at_lead, one(beside, 0), bad, one(beside, 1))
    good, refused, later = told

    assert ["held", "held"] == [good["standing"], later["standing"]]
    assert "refused" == refused["standing"]
    assert refused["against"]
    assert 2 == BenchStroke.objects.count()
    assert not BenchStroke.objects.filter(run=run).exists()


def test_it_refuses_what_follows_of_a_device_and_keeps_the_others(
    at_lead, run, beside
) -> None:
    first = in_turn(run, range(2), "")
    slip = one(run, 9, after=first[-1]["key"])
    later = in_turn(run, range(2, 4), slip["key"])
    others = in_turn(beside, range(3), "")
    sent = [first[0], others[0], first[1], slip, others[1], *later, others[2]]
    told = became(at_lead, *sent)

    assert [
        "held", "held", "held", "refused", "held", "refused", "refused", "held",
    ] == [one["standing"] for one in told]  # fmt: skip
    assert "what came before it" in told[5]["against"]
    assert "line: found line 10, wanted line 3" == told[3]["against"]
    assert [one["key"] for one in sent] == [one["key"] for one in told]


def test_it_refuses_what_follows_a_stroke_that_cannot_be_read(at_lead, run) -> None:
    bad = one(run, facts={"n": [1]})

    assert ["refused", "refused"] == standings(at_lead, bad, one(run, 1))


def test_it_keeps_beside_the_new_path_what_came_for_the_old_one(
    at_lead, run, batch
) -> None:
    standings(at_lead, *in_turn(run, range(3), ""))
    fresh = anew(at_lead, run.job, why="closed up as it is", is_closing=True)
    late = became(at_lead, one(run, 3, after=BenchStroke.objects.last().client_key))

    assert "disputed" == late[0]["standing"]
    assert "path: found an older one" in late[0]["against"]
    assert 0 == fresh.strokes.count()
    assert 4 == BenchStroke.objects.count()


def test_it_refuses_a_second_look_by_nobody_who_works_here(
    at_lead, run, lead, helper, now
) -> None:
    line = work(run, lead, now, helper, lambda line: line.second_look)
    assert line is not None
    after = BenchStroke.objects.last().client_key
    for other in ("", lead.ref, "nobody", "0" * 16):
        facts = {"answer": "yes", "other": other, "signed": True}
        stroke = one(run, line.number, "answer", facts=facts, after=after)
        told = became(at_lead, stroke)[0]

        assert "refused" == told["standing"], other
        assert "second look" in told["against"]
    facts = {"answer": "yes", "other": helper.ref, "signed": True}
    stroke = one(run, line.number, "answer", facts=facts, after=after)
    assert ["held"] == standings(at_lead, stroke)


def test_a_photo_of_another_device_shows_nothing_of_this_one(
    at_lead, run, beside, lead, helper, now
) -> None:
    line = work(run, lead, now, helper, lambda line: line.wants_photo)
    assert line is not None
    picture = written(board(), "JPEG", quality=80)
    mine, other = (
        photos.add_photo(one.job, picture, by=lead, now=now) for one in (run, beside)
    )
    by = {"other": helper.ref} if line.second_look else {}
    for facts in ({}, {"photo": other.ref}, {"photo": "nothing"}):
        after = BenchStroke.objects.filter(run=run).last().client_key
        whole = {"answer": "yes", **by, **facts}
        stroke = one(run, line.number, "answer", facts=whole, after=after)
        told = became(at_lead, stroke)[0]

        assert "refused" == told["standing"], facts
        assert "photo: found no" in told["against"]
    after = BenchStroke.objects.filter(run=run).last().client_key
    whole = {"answer": "yes", **by, "photo": mine.ref}
    stroke = one(run, line.number, "answer", facts=whole, after=after)
    assert ["held"] == standings(at_lead, stroke)

    entry = Entry.objects.filter(subject=run.job.ref, verb="tested").last()
    assert mine.ref == json.loads(entry.facts)["photo"]


def test_a_new_path_remembers_how_many_photos_were_asked_for(
    at_lead, run, lead, helper, now
) -> None:
    whole = sum(one.wants_photo for one in bench_runs.run_in(run).lines)
    line = work(run, lead, now, helper, lambda line: line.wants_photo)
    work(run, lead, now, helper, lambda one: one.number > line.number)
    assert 1 == bench_runs.n_photos(run)

    fresh = bench_runs.run_in(anew(at_lead, run.job, why="screw missing"))

    assert whole - 1 == sum(one.wants_photo for one in fresh.lines)


@pytest.mark.parametrize(
    ("address", "status"),
    [("begin/", 422), ("anew/", 422), ("record/", 422), ("settle/", 422),
     ("park/", 422), ("diagnosis/", 422)],
)  # fmt: skip
@pytest.mark.parametrize("body", ["{", "[]", DEEP, b"\xff\xfe\x00"])
def test_it_refuses_what_is_no_message_of_a_device(
    at_lead, run, address, status, body
) -> None:
    assert reasons(at_lead, f"jobs/{run.job.ref}/{address}", body, status)


ODD: tuple[Any, ...] = ("", "a\0b", 3, None, [], {}, ["\0"], "x" * 5000, "\ud800")


@pytest.mark.parametrize("odd", ODD, ids=range(len(ODD)))
def test_it_takes_odd_words_for_none_or_says_what_is_wrong(
    at_lead, run, batch, odd
) -> None:
    ref = run.job.ref
    wishes = {
        "anew/": ("why", "stays", "also_reach", "revision", "code"),
        "park/": ("reason",),
        "diagnosis/": ("test", "answer"),
        "begin/": ("bench",),
    }
    for address, names in wishes.items():
        for name in names:
            body = json.dumps({"why": "odd", name: odd})
            answer = at_lead.post(
                f"/bench/jobs/{ref}/{address}", body, content_type="application/json"
            )
            assert answer.status_code in {200, 409, 422}, (address, name)
    for body in ({"job": odd}, {"bench": odd}, {"layer": odd, "bench": "b"}):
        answer = at_lead.post(
            "/bench/hand/", json.dumps(body), content_type="application/json"
        )
        assert answer.status_code in {200, 404, 409, 422}, body


def test_it_finds_a_device_by_number_and_serial_alone(at_lead, run) -> None:
    job = run.job
    for code in (job.number, f"*{job.number}*", job.serial, job.serial.lower()):
        answer = at_lead.get("/bench/find/", {"code": code})
        assert 200 == answer.status_code, code
        assert job.ref == answer.json()["ref"] or code.upper() == job.serial
    for code in ("", "nothing", "a\0b", "%", "x" * 5000):
        answer = at_lead.get("/bench/find/", {"code": code})
        assert 404 == answer.status_code
        assert "wanted one that is here" in answer.json()["reasons"][0]


def test_it_finds_a_serial_with_small_letters_by_its_label(at_lead, run, batch) -> None:
    other = batch.jobs.exclude(pk=run.job_id).first()
    Job.objects.filter(pk=run.job_id).update(serial="pf2-xk7a")
    Job.objects.filter(pk=other.pk).update(serial="Pf2-Xk7A")

    def found(code: str) -> str:
        return at_lead.get("/bench/find/", {"code": code}).json()["ref"]

    assert run.job.ref == found("pf2-xk7a")
    assert other.ref == found("Pf2-Xk7A")
    assert found("PF2-XK7A") in {run.job.ref, other.ref}
    assert 404 == at_lead.get("/bench/find/", {"code": "pf2_xk7a"}).status_code


# --- rights ---------------------------------------------------------------------------


def addresses(run: Any) -> tuple[tuple[str, str], ...]:
    job = f"jobs/{run.job.ref}/"
    posts = ("begin/", "anew/", "record/", "turn-round/", "settle/", "park/")
    return (
        ("get", "state/"), ("get", f"runs/{run.ref}/"), ("get", "join/"),
        ("get", f"find/?code={run.job.number}"), ("post", "tell/"), ("post", "hand/"),
        *(("post", job + one) for one in posts), ("get", job + "diagnosis/"),
        ("post", job + "diagnosis/"),
    )  # fmt: skip


def test_it_is_not_there_for_desk_and_strangers(run, desk, clock, lead) -> None:
    gone = signed_in(lead)
    people.add_person("second", "Odo Brandt", Person.LEAD, now=clock())
    people.let_go(lead, now=clock())
    for client in (Client(), signed_in(desk), gone):
        for method, address in addresses(run):
            answer = getattr(client, method)(
                f"/bench/{address}", **({"data": "{}", "content_type":
                "application/json"} if method == "post" else {})
            )  # fmt: skip
            assert 404 == answer.status_code, address
    assert 0 == BenchStroke.objects.count()


def test_it_shows_the_page_to_nobody_who_is_not_signed_in(run, desk, clock) -> None:
    for address in ("", "worker.js", "letters.otf"):
        assert 404 == Client().get(f"/bench/{address}").status_code, address
        answer = signed_in(desk).get(f"/bench/{address}")
        text = answer.content.decode("latin-1")
        assert run.job.serial not in text
        assert "Vasterling" not in text
        # Nothing on it is for whoever works at no bench.
        assert (404 if not address else 200) == answer.status_code


def test_it_takes_the_other_method_nowhere(at_lead, run) -> None:
    for method, address in addresses(run):
        if address.endswith("diagnosis/"):
            continue
        other = at_lead.post if method == "get" else at_lead.get
        assert 405 == other(f"/bench/{address}").status_code, address


def test_it_knows_no_run_or_device_by_another_name(at_lead, run) -> None:
    for address in ("runs/0000000000000000/", "runs/x/", "jobs/x/diagnosis/"):
        assert 404 == at_lead.get(f"/bench/{address}").status_code
    for address in ("begin/", "anew/", "settle/", "park/", "record/", "turn-round/"):
        answer = at_lead.post(
            f"/bench/jobs/0000000000000000/{address}", "{}",
            content_type="application/json",
        )  # fmt: skip
        assert 404 == answer.status_code


def test_it_tells_a_bench_of_people_who_may_look_alone(
    at_lead, run, desk, helper, lead
) -> None:
    told = at_lead.get("/bench/state/", {"bench": "bench 1\0" + "x" * 99}).json()

    assert {lead.ref, helper.ref} == {one["ref"] for one in told["people"]}
    shown = {"ref": lead.ref, "name": lead.name, "rights": Person.LEAD}
    assert shown | {"language": "en"} == told["person"]
    assert post(at_lead, "hand/", {"job": run.job.ref, "bench": "b"}) == {}
