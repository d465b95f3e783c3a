"""What stands beside the path: finding the fault, the camera, the first opening."""

from datetime import timedelta
from typing import Any

import pytest
from django.core import signing
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from turnscrew.core.model.job_state import Standing
from turnscrew.files.device_file import read_device
from turnscrew.web.records.models import (
    Batch,
    BenchRun,
    BenchStroke,
    Description,
    Finding,
    Job,
    KnownGood,
    Person,
    Photo,
)
from turnscrew.web.records.queries import bench_recordings, bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.descriptions_page import model_record
from turnscrew.web.records.queries.power_bars import why_no_power
from turnscrew.web.records.services import custody, findings, people
from web.bench.case import became, one, post, reasons, standings, taken, told, work
from web.browser.bench_case import kitted
from web.photos.conftest import board, written

WITH_TAPE, WITHOUT = 18, 19
"""Scanners of two revisions with the same fault."""

KEYS, WINDOW, ADAPTER, CAMERA, UPPER_CASE, FRONT = 18, 22, 20, 9, 1, 40


@pytest.fixture
def job(batch, lead, now) -> Job:
    return kitted(batch, KEYS, lead, now)


# --- finding the fault ----------------------------------------------------------------


def diagnosis(client: Client, job: Job, **answer: str) -> Any:
    address = f"jobs/{job.ref}/diagnosis/"
    if answer:
        return post(client, address, answer)
    return client.get(f"/bench/{address}").json()


def test_it_says_what_is_known_and_what_is_tested_next(batch, at_lead) -> None:
    told = diagnosis(at_lead, Job.objects.get(batch=batch, line=KEYS))

    assert ["said: number keys worn"] == told["known"]
    assert told["likely"][0].startswith("keypad worn ")
    following = told["next"]
    assert following["name"]
    assert following["says"]
    assert following["answers"] or following["unit"]
    assert isinstance(following["known_good"], list)


def test_it_reads_other_words_as_a_sign_or_leaves_them_to_be_asked(
    batch, at_lead
) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    job.reported = "number keys are worn badly; all quite strange; 404"
    job.save()
    told = diagnosis(at_lead, job)

    read, strange, number = told["known"]
    assert read.startswith(
        "said: number keys are worn badly; read as number keys worn, "
    )
    assert " % by " in read
    assert "said, in no words of the table: all quite strange" == strange
    assert "said, in no words of the table: 404" == number
    assert told["likely"][0].startswith("keypad worn ")


def test_it_uses_nothing_that_was_withdrawn_from_the_known_good_set(
    batch, at_lead, now
) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    job.reported = "will not charge"
    job.save()
    before = diagnosis(at_lead, job, test="look over", answer="nothing seen")
    assert "other cradle" == before["next"]["name"]
    assert "cradle with its adapter" in before["next"]["known_good"][0]

    for what, fits in (("Cradle with its adapter", "R50"), ("battery", "V80")):
        KnownGood.objects.create(what=what, fits=fits, withdrawn_on=now.date())
    after = diagnosis(at_lead, job)
    assert "other cradle" != after["next"]["name"]


def test_the_key_ties_the_set_to_the_table_and_its_day_counts(
    batch, at_lead, now
) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    job.reported = "will not charge"
    job.save()
    before = diagnosis(at_lead, job, test="look over", answer="nothing seen")
    assert "not in the workshop's known-good set" in before["next"]["known_good"][0]
    page = at_lead.get("/stock/known-good/").content.decode()
    assert "ties to nothing in the set" in page

    one = KnownGood.objects.create(
        what="Dock 7", fits="R50", verified_on=now.date(), verified_with="GR5-1"
    )
    tie = {"act": "tie", "which": one.pk, "key": "cradle"}
    assert 302 == at_lead.post("/stock/known-good/", tie).status_code
    after = diagnosis(at_lead, job)
    assert "verified 2027-02-01 on GR5-1" in after["next"]["known_good"][0]
    assert "not in the workshop" not in after["next"]["known_good"][0]
    assert "<td>Dock 7" in at_lead.get("/stock/known-good/").content.decode()

    # One key stands for one thing.
    two = KnownGood.objects.create(what="Dock 8", fits="R50")
    again = at_lead.post("/stock/known-good/", tie | {"which": two.pk})
    assert 422 == again.status_code
    assert "tied to Dock 7 already" in again.content.decode()

    KnownGood.objects.filter(pk=one.pk).update(withdrawn_on=now.date())
    assert "other cradle" != diagnosis(at_lead, job)["next"]["name"]


def test_it_takes_readings_by_their_limits_and_unit(batch, at_lead) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    diagnosis(at_lead, job, test="cradle volts", answer="5.01 V")
    diagnosis(at_lead, job, test="battery ohms", answer="260 mΩ")
    told = diagnosis(at_lead, job)
    assert {"cradle volts: 5.01 V", "battery ohms: 260 mΩ"} <= set(told["known"])

    address = f"jobs/{job.ref}/diagnosis/"
    for test, answer, wanted in (
        ("cradle volts", "5.01", "no unit"),
        ("cradle volts", "5010 mV", "the unit mV"),
        ("cradle volts", "five", "wanted a reading"),
        ("keys", "some mised", "some missed"),
        ("keys", "works", "wanted"),
        ("no such test", "passed", "unknown test"),
        ("", "passed", "found no answer"),
        ("keys", "", "found no answer"),
    ):
        body = {"test": test, "answer": answer}
        assert wanted in reasons(at_lead, address, body), body
    seen = Finding.objects.filter(job=job, stage="seen").exclude(words="")
    assert 2 == seen.count()


def test_what_cannot_be_tested_here_is_not_advised_again(batch, at_lead) -> None:
    job = Job.objects.get(batch=batch, line=ADAPTER)
    advised: list[str] = []
    while (following := diagnosis(at_lead, job)["next"])["without"]:
        assert following["name"] not in advised
        advised.append(following["name"])
        diagnosis(at_lead, job, test=following["name"], answer=following["without"][-1])

    assert len(advised) > 3
    assert [] == following["without"]


def test_it_refuses_a_reading_beyond_what_can_come_up(batch, at_lead) -> None:
    job = Job.objects.get(batch=batch, line=ADAPTER)
    address = f"jobs/{job.ref}/diagnosis/"
    for value in ("-19.5 V", "45 V"):
        body = {"test": "adapter volts", "answer": value}
        told_why = reasons(at_lead, address, body)
        assert "wanted nothing beyond" in told_why
        assert "reversed or far too high" in told_why


def test_it_ends_where_a_repair_made_it_work(batch, at_lead) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    told = diagnosis(at_lead, job, test="change keypad", answer="works")

    assert "It works: confirm the fault, then go on." == told["next"]["says"]
    # What does not work after all can be told.
    assert ("check-out", ["still at fault"]) == (
        told["next"]["name"], told["next"]["answers"]
    )  # fmt: skip
    # The bench asks for every one of them.
    assert set(told["next"]) == set(diagnosis(at_lead, job)["next"])


def test_answers_that_clash_are_named_among_what_is_known(batch, at_lead) -> None:
    job = Job.objects.get(batch=batch, line=ADAPTER)
    diagnosis(at_lead, job, test="other adapter", answer="charges now")
    told = diagnosis(at_lead, job, test="other adapter", answer="as before")

    clash = (
        "These two speak against each other, and both are kept: "
        "other adapter: charges now / other adapter: as before."
    )
    assert clash == told["known"][-1]
    assert clash not in told["next"]["why"]


@pytest.mark.parametrize("name", ["change storage", "check-out"])
def test_the_last_word_counts_where_it_worked_for_a_while(batch, at_lead, name) -> None:
    job = Job.objects.get(batch=batch, line=ADAPTER)
    diagnosis(at_lead, job, test=name, answer="works")
    told = diagnosis(at_lead, job, test="check-out", answer="still at fault")
    assert told["likely"]
    assert told["next"]["name"] not in ("", name)

    tested = diagnosis(at_lead, job, test="test image", answer="fails")
    assert told["likely"] != tested["likely"]
    ended = diagnosis(at_lead, job, test="check-out", answer="works")
    assert "It works: confirm the fault, then go on." == ended["next"]["says"]
    silent = diagnosis(at_lead, job, test="look over", answer="not tried")
    assert ended["next"] == silent["next"]


@pytest.mark.parametrize(
    ("words", "result"),
    [
        ("keys", ""), ("look over", "dented corner"), ("cradle volts", "5.1"),
        ("change keypad", "mended"), ("check-out", "ok"),
    ],
)  # fmt: skip
def test_what_is_written_of_a_test_in_other_words_shuts_no_search(
    batch, at_lead, lead, now, words, result
) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    before = diagnosis(at_lead, job)
    find = {"act": "find", "stage": "seen", "said": words, "result": result}
    assert 302 == at_lead.post(f"/items/{job.item.ref}/", find).status_code
    after = diagnosis(at_lead, job)

    said = f"said, in no words of the table: {words} {result}".strip()
    assert [*before["known"], said] == after["known"]
    assert before["likely"] == after["likely"]
    assert before["next"]["name"] == after["next"]["name"]


@pytest.mark.parametrize(
    ("reported", "why", "caution"),
    [
        ("will not charge, pack is swollen", "pack swollen or not known", "Swollen or"),
        ("will not charge, coffee ran into it", "liquid got in", "Liquid inside"),
    ],
)
def test_no_test_is_advised_while_something_keeps_power_off(
    batch, at_lead, reported, why, caution
) -> None:
    Job.objects.filter(batch=batch, line=KEYS).update(reported=reported)
    job = Job.objects.get(batch=batch, line=KEYS)
    following = diagnosis(at_lead, job)["next"]

    assert following["says"].startswith(f"No test, no power: {why}")
    assert [] == following["answers"] == following["without"]
    assert [caution] == [one[: len(caution)] for one in following["cautions"]]


def test_an_isolated_device_is_met_with_its_caution(batch, at_lead, lead, now) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    to = Standing(
        "isolated", "box", lead.ref, until=now.date(), reason="pack swollen, gap 4 mm"
    )
    custody.move(job, to, by=lead, now=now)
    told = at_lead.get("/bench/find/", {"code": job.number}).json()

    assert "Swollen or unknown pack: never press" in told["caution"]
    following = diagnosis(at_lead, job)["next"]
    assert following["says"].startswith("No test, no power: pack swollen")


def test_liquid_told_of_is_gone_once_somebody_writes_it_dry_inside(
    batch, at_lead, lead, now
) -> None:
    Job.objects.filter(batch=batch, line=KEYS).update(reported="fell in the toilet")
    job = Job.objects.get(batch=batch, line=KEYS)
    assert why_no_power(job, now).startswith("liquid got in")

    findings.note_finding(job, Finding.SEEN, by=lead, now=now, words="dry inside")
    assert "" == why_no_power(job, now)
    assert diagnosis(at_lead, job)["next"]["answers"]
    later = now + timedelta(minutes=5)
    findings.note_finding(
        job, Finding.SEEN, by=lead, now=later, words="liquid inside after all"
    )
    assert why_no_power(job, later).startswith("liquid got in")


def test_it_confirms_a_fault_by_its_code(batch, at_lead) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    diagnosis(at_lead, job, test="H-WIN", answer="confirmed")

    confirmed = Finding.objects.filter(job=job, stage="confirmed", code="H-WIN")
    assert confirmed.exists()
    body = {"test": "X-NONE", "answer": "confirmed"}
    assert "code" in reasons(at_lead, f"jobs/{job.ref}/diagnosis/", body)


def test_it_goes_on_after_answers_that_hardly_go_together(batch, at_lead) -> None:
    job = Job.objects.get(batch=batch, line=KEYS)
    for test, answer in (
        ("keys", "all count"), ("look over", "display cracked"),
        ("picture", "right"), ("change keypad", "still at fault"),
        ("change display", "still at fault"), ("switch on", "starts and stays on"),
        ("check-out", "still at fault"),
    ):  # fmt: skip
        told = diagnosis(at_lead, job, test=test, answer=answer)
    assert told["next"]["says"]


def test_it_says_where_there_is_no_fault_table(batch, at_lead) -> None:
    Description.objects.filter(model="R50").update(faults_text="")
    job = Job.objects.get(batch=batch, line=KEYS)
    address = f"/bench/jobs/{job.ref}/diagnosis/"
    answer = at_lead.get(address)

    assert 409 == answer.status_code
    assert "fault table: found none of R50" in answer.json()["reasons"][0]


# --- the camera -----------------------------------------------------------------------


@pytest.fixture
def camera(at_lead) -> str:
    told = at_lead.get("/bench/join/", {"bench": "bench 1"}).json()
    assert told["svg"].startswith("<svg")
    return str(told["address"]).partition("testserver")[2]


def photo(name: str = "a.jpg", content: bytes = b"") -> SimpleUploadedFile:
    sent = content or written(board(), "JPEG", quality=80)
    return SimpleUploadedFile(name, sent, content_type="image/jpeg")


def take_in_hand(at_lead: Client, job: Job, layer: str = "Undo the latch.") -> None:
    body = {"bench": "bench 1", "job": job.ref, "layer": layer}
    post(at_lead, "hand/", body)


def test_it_joins_a_phone_that_waits_for_a_device(camera) -> None:
    answer = Client().get(camera)

    assert 200 == answer.status_code
    assert "No device in hand" in answer.content.decode()
    answer = Client().post(camera, {"photo": photo(), "key": "k" * 32})
    assert 422 == answer.status_code
    assert "found none in hand" in answer.content.decode()


def test_it_keeps_a_photo_once_for_the_device_in_hand(
    camera, job, at_lead, lead
) -> None:
    take_in_hand(at_lead, job)
    phone = Client()
    assert f"Device {job.line}" in phone.get(camera).content.decode()
    for _ in range(2):
        answer = phone.post(camera, {"photo": photo(), "key": "k" * 32})
        assert 200 == answer.status_code
        assert f"Kept for device {job.line}" in answer.content.decode()

    kept = Photo.objects.get()
    assert (job.pk, "Undo the latch.", lead.pk) == (
        kept.job_id,
        kept.caption,
        kept.by_id,
    )
    told = at_lead.get("/bench/state/", {"bench": "bench 1"}).json()["photo"]
    assert kept.ref == told["ref"]
    assert None is at_lead.get("/bench/state/", {"bench": "b 2"}).json()["photo"]


def test_a_photo_of_one_device_is_not_kept_for_another(
    camera, job, at_lead, batch, lead, now
) -> None:
    take_in_hand(at_lead, job)
    page = Client().get(camera).content.decode()
    assert f'name="device" value="{job.ref}"' in page
    other = kitted(batch, WINDOW, lead, now)
    take_in_hand(at_lead, other)

    sent = {"photo": photo(), "key": "k" * 32, "device": job.ref}
    answer = Client().post(camera, sent)

    assert 422 == answer.status_code
    assert f"wanted device {other.line}, in hand" in answer.content.decode()
    assert not Photo.objects.exists()
    sent |= {"photo": photo(), "device": other.ref}
    assert 200 == Client().post(camera, sent).status_code
    assert other.pk == Photo.objects.get().job_id


def test_it_speaks_as_whoever_joined_it_reads(camera, job, at_lead, lead) -> None:
    Person.objects.filter(pk=lead.pk).update(language="de")
    take_in_hand(at_lead, job)

    page = Client().get(camera).content.decode()
    kept = Client().post(camera, {"photo": photo(), "key": "k" * 32}).content.decode()

    assert 'lang="de"' in page
    assert f"Gerät {job.line}" in page
    assert "auf dem Telefon bleibt nichts" in page
    assert f"Behalten für Gerät {job.line}: scharf und hell genug" in kept


def test_it_refuses_what_is_no_photo(
    camera, job, at_lead, settings, batch, lead, now
) -> None:
    take_in_hand(at_lead, job)
    phone = Client()
    for content in (b"no picture at all", written(board(), "JPEG")[:400]):
        answer = phone.post(camera, {"photo": photo(content=content)})
        assert 422 == answer.status_code
        assert "photo: found" in answer.content.decode()
    answer = phone.post(camera, {})
    assert "photo: found none" in answer.content.decode()
    settings.UPLOAD_LIMIT_BYTES = 10_000
    answer = phone.post(camera, {"photo": photo(), "key": "a\0b"})
    assert answer.status_code in {413, 422}
    assert 0 == Photo.objects.count()


def test_it_refuses_the_key_of_another_photo(
    camera, job, at_lead, batch, lead, now
) -> None:
    take_in_hand(at_lead, job)
    Client().post(camera, {"photo": photo(), "key": "k" * 32})
    take_in_hand(at_lead, kitted(batch, WINDOW, lead, now))
    answer = Client().post(camera, {"photo": photo(), "key": "k" * 32})

    assert 422 == answer.status_code
    assert 1 == Photo.objects.count()


def test_it_is_not_there_for_a_token_that_does_not_hold(
    camera, job, at_lead, helper, lead, clock, monkeypatch
) -> None:
    take_in_hand(at_lead, job)
    token = camera.rstrip("/").rpartition("/")[2]
    other = signing.TimestampSigner(salt="other").sign_object({"bench": "b", "by": "x"})
    for forged in ("x", token[:-1] + ("A" if token[-1] != "A" else "B"), other, "::"):
        assert 404 == Client().get(f"/bench/camera/{forged}/").status_code, forged
    at = signing.time.time()
    monkeypatch.setattr(signing.time, "time", lambda: at + 13 * 3600)
    assert 404 == Client().get(camera).status_code
    monkeypatch.setattr(signing.time, "time", lambda: at)
    assert 200 == Client().get(camera).status_code
    people.add_person("second", "Odo Brandt", Person.LEAD, now=clock())
    people.let_go(lead, now=clock())
    assert 404 == Client().get(camera).status_code
    answer = Client().post(camera, {"photo": photo(), "key": "k" * 32})
    assert 404 == answer.status_code
    assert 0 == Photo.objects.count()


# --- the first opening ----------------------------------------------------------------


@pytest.fixture
def recording(batch, at_lead, job) -> BenchRun:
    Description.objects.filter(model="R50").update(state=Description.WITHDRAWN)
    return begun(at_lead, job)


def begun(client: Client, job: Job) -> BenchRun:
    told = post(client, f"jobs/{job.ref}/record/", {"bench": "bench 1"})
    assert "recording" == told["kind"]
    return BenchRun.objects.get(ref=told["ref"])


def record(client: Client, run: BenchRun, **facts: Any) -> dict[str, str]:
    sent = one(run, run.strokes.count(), "record", facts=facts)
    return dict(became(client, sent)[0])


def joint(client: Client, run: BenchRun, name: str, kind: str, **more: Any) -> None:
    told = record(client, run, removal="joint", kind=kind, name=name, **more)
    assert "held" == told["standing"], told


def part(client: Client, run: BenchRun, name: str, kind: str, **more: Any) -> None:
    told = record(client, run, removal="part", kind=kind, name=name, **more)
    assert "held" == told["standing"], told


def opening(client: Client, run: BenchRun, length: str = "9") -> None:
    joint(client, run, "latch joint 1", "latch")
    part(client, run, "door 1", "door")
    joint(client, run, "screw joint 1", "screw", n=4, length_mm=length, drive="H0")
    part(client, run, "cover 1", "cover")


def test_it_records_counts_amends_and_takes_back(recording, at_lead) -> None:
    run = recording
    joint(at_lead, run, "screw joint 1", "screw")
    assert "held" == record(at_lead, run, of="screw joint 1", more=3)["standing"]
    assert 4 == bench_recordings.told_of(run)[0].n
    record(at_lead, run, of="screw joint 1", n=6, length_mm="8.5", drive="H0")
    kept = bench_recordings.opening_of(run).removals[0]
    assert (6, 8.5) == (kept.n, kept.length_mm)
    standings(at_lead, one(run, 3, "undo"))
    kept = bench_recordings.opening_of(run).removals[0]
    assert (4, None) == (kept.n, kept.length_mm)
    assert ["held"] * 2 == standings(at_lead, one(run, 4, "undo"), one(run, 5, "undo"))
    refused = became(at_lead, one(run, 6, "undo"))[0]
    assert "undo: found nothing recorded" in refused["against"]
    assert () == audited().breaks


WRONG_RECORDS: tuple[tuple[dict[str, Any], str], ...] = (
    ({"of": "nothing", "more": 1}, "found more of nothing"),
    ({"removal": "joint", "kind": "screw", "name": "screw joint 1"}, "twice"),
    ({"of": "screw joint 1", "length_mm": "long"}, "wanted millimetres"),
    ({"of": "screw joint 1", "length_mm": "nan"}, "length"),
    ({"of": "screw joint 1", "length_mm": "1e9"}, "length"),
    ({"of": "screw joint 1", "length_mm": "-3"}, "length"),
    ({"of": "screw joint 1", "drive": "a big one"}, "drive"),
    ({"of": "screw joint 1", "n": -1}, "n"),
    ({"of": "screw joint 1", "n": 501}, "n"),
    ({"of": "screw joint 1", "more": 100_000}, "n"),
    ({"of": "screw joint 1", "more": -9}, "n"),
    ({"removal": "joint", "kind": "clip", "name": ""}, "name"),
    ({"removal": "joint", "kind": "clip", "name": "a\nb"}, "name"),
    ({"removal": "part", "kind": "fan"}, "name"),
)


@pytest.mark.parametrize("index", range(len(WRONG_RECORDS)))
def test_it_refuses_what_could_not_stand_in_a_description(
    recording, at_lead, index
) -> None:
    facts, words = WRONG_RECORDS[index]
    joint(at_lead, recording, "screw joint 1", "screw")
    told = record(at_lead, recording, **facts)

    assert "refused" == told["standing"]
    assert words in told["against"]
    assert 1 == recording.strokes.count()


def test_it_takes_no_act_of_a_path_into_a_recording(recording, at_lead) -> None:
    for act in ("done", "answer", "differs", "skip"):
        told = became(at_lead, one(recording, 0, act))[0]
        assert "act: found" in told["against"]
    ref = recording.job.ref
    body = {"why": "must stay", "stays": ["seal"]}
    assert "recording" in reasons(at_lead, f"jobs/{ref}/anew/", body)
    assert "accounts" in reasons(at_lead, f"jobs/{ref}/settle/", {})


def test_it_turns_round_only_what_was_recorded(
    recording, at_lead, batch, lead, now
) -> None:
    address = f"jobs/{recording.job.ref}/turn-round/"
    assert "found nothing undone" in reasons(at_lead, address, {})
    shut = kitted(batch, WINDOW, lead, now)
    assert "recording: found none" in reasons(
        at_lead, f"jobs/{shut.ref}/turn-round/", {}
    )
    joint(at_lead, recording, "latch joint 1", "latch")
    assert "path" == post(at_lead, address, {})["kind"]
    assert "recording: found none" in reasons(at_lead, address, {})
    late = became(at_lead, one(recording, 1, "undo"))[0]
    assert "has ended" in late["against"]


def test_it_refits_what_a_half_finished_recording_undid(
    recording, at_lead, lead, helper, now
) -> None:
    opening(at_lead, recording)
    told = post(at_lead, f"jobs/{recording.job.ref}/turn-round/", {})
    back = BenchRun.objects.get(ref=told["ref"])

    assert back.description is not None
    device = read_device(back.description.text)
    assert {"latch joint 1", "screw joint 1"} == set(device.joints)
    assert 4 == device.joints["screw joint 1"].n_pieces
    assert None is work(back, lead, now, helper)
    assert "charged and clean" == Job.objects.get(pk=recording.job_id).state
    assert () == audited().breaks


def test_it_asks_the_second_recording_for_doubts_and_shows_a_contradiction(
    recording, at_lead, batch, lead, helper, now
) -> None:
    opening(at_lead, recording)
    told = post(at_lead, f"jobs/{recording.job.ref}/turn-round/", {})
    work(BenchRun.objects.get(ref=told["ref"]), lead, now, helper)
    second = begun(at_lead, kitted(batch, WINDOW, lead, now))
    whole = at_lead.get(f"/bench/runs/{second.ref}/").json()

    assert ["latch joint 1", "door 1", "screw joint 1", "cover 1"] == [
        one["name"] for one in whole["known"]
    ]
    asked = {(doubt["of"], doubt["fact"]) for doubt in whole["doubts"]}
    assert ("screw joint 1", "length_mm") in asked
    opening(at_lead, second, length="6")
    post(at_lead, f"jobs/{second.job.ref}/turn-round/", {})
    page = at_lead.get("/descriptions/R50/").content.decode()
    assert "9" in page
    assert "6 mm" in page
    assert "screw joint 1" in page
    assert BenchStroke.objects.filter(run=second).count() == 4


def test_what_one_revision_alone_has_contradicts_no_other(
    batch, at_lead, lead, helper, now
) -> None:
    described = Description.objects.get(model="R50")
    seal = "        front seal:  {seal: {groove"
    tape = "        door tape: {bond: {kind: tape}, holds: battery door to back half}\n"
    Description.objects.filter(pk=described.pk).update(
        text=described.text.replace(seal, tape + seal)
    )
    for line in (WITH_TAPE, WITHOUT):
        run = taken(kitted(batch, line, lead, now), lead, now, f"bench {line}")
        names = {one.name for one in bench_runs.run_in(run).lines}
        assert (line == WITH_TAPE) == ("door tape" in names)
        work(run, lead, now, helper, until=lambda line: line.phase == "work")

    record = model_record("R50")

    assert 2 == record.n_openings
    assert () == record.contradictions


def test_it_begins_no_recording_of_a_device_on_a_path(
    batch, at_lead, job, lead, now
) -> None:
    taken(job, lead, now)

    assert "path: found one" in reasons(at_lead, f"jobs/{job.ref}/record/", {})


@pytest.mark.parametrize("typed", ["züp-7", "ZÜP-7"])
def test_a_serial_with_an_umlaut_is_found_in_small_letters_too(
    batch, at_lead, typed
) -> None:
    Job.objects.filter(batch=batch, line=KEYS).update(serial="ZÜP-7")

    told = at_lead.get("/bench/find/", {"code": typed}).json()
    assert KEYS == told["line"]


def test_what_was_fitted_and_failed_on_the_path_is_known_to_the_search(
    batch, at_lead, lead, helper, now
) -> None:
    job = kitted(batch, CAMERA, lead, now)
    black = {"test": "photo of the card", "answer": "black or blurred"}
    diagnosis(at_lead, job, test="look over", answer="nothing seen")
    assert "change camera" == diagnosis(at_lead, job, **black)["next"]["name"]
    now += timedelta(hours=1)
    run = taken(job, lead, now)
    work(run, lead, now, helper, until=lambda line: line.asks == "test")

    fitted = diagnosis(at_lead, job)
    assert "fitted at the bench: change camera" in fitted["known"]
    assert "change camera" != fitted["next"]["name"]
    assert "camera dead" not in fitted["likely"][0]

    for name in ("touch and picture", "photo"):
        test = work(run, lead, now, helper, until=lambda line, name=name: (
            line.kind == "test" and line.name == name
        ))  # fmt: skip
        told(run, lead, now, "answer", test.number, {"answer": "failed"})
        failed = diagnosis(at_lead, job)
        assert [*fitted["known"], f"failed after the work: {name}"] == failed["known"]
        assert fitted["likely"] != failed["likely"]
        told(run, lead, now, "answer", test.number, {"answer": "passed"})
        assert fitted["known"] == diagnosis(at_lead, job)["known"]


def test_a_piece_for_another_revision_is_the_same_exchange(
    batch, at_lead, lead, helper, now
) -> None:
    job = kitted(batch, UPPER_CASE, lead, now)
    run = taken(job, lead, now)
    work(run, lead, now, helper, until=lambda line: line.phase == "refit")

    known = diagnosis(at_lead, job)["known"]
    assert ["fitted at the bench: change upper case"] == [
        one for one in known if one.startswith("fitted")
    ]


def test_what_is_off_is_not_opened_again(batch, at_lead, lead, helper, now) -> None:
    job = kitted(batch, CAMERA, lead, now)
    diagnosis(at_lead, job, test="look over", answer="nothing seen")
    told_first = {"test": "photo of the card", "answer": "black or blurred"}
    shut = diagnosis(at_lead, job, **told_first)["next"]
    assert ("change camera", True) == (shut["name"], "frame bond" in shut["opens"])
    run = taken(job, lead, now)
    work(run, lead, now, helper, until=lambda line: line.phase == "work")

    lies_open = diagnosis(at_lead, job)["next"]
    assert "change camera" == lies_open["name"]
    assert [] == lies_open["opens"]


@pytest.mark.parametrize(
    ("revision", "action"), [("2", "change front"), ("1", "give up")]
)
def test_giving_up_costs_what_this_very_device_is_worth_mending_for(
    batch, at_lead, revision, action
) -> None:
    Job.objects.filter(batch=batch, line=FRONT).update(revision=revision)
    job = Job.objects.get(batch=batch, line=FRONT)

    assert action == diagnosis(at_lead, job)["next"]["says"]
    Batch.objects.filter(pk=batch.pk).update(
        terms_text=batch.terms_text.replace("worth_ratio: 0.55", "worth_ratio: null")
    )
    unknown = diagnosis(at_lead, Job.objects.get(pk=job.pk))
    assert "give up" == unknown["next"]["says"]
