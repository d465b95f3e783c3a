"""Descriptions come in, are tried, released, corrected and withdrawn."""

import html
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import translation

from turnscrew.core.bench.run import Line
from turnscrew.files.device_file import read_device
from turnscrew.web.records.models import Batch, BenchRun, Description, Person
from turnscrew.web.records.queries import bench_runs
from turnscrew.web.records.queries.audit import audited
from turnscrew.web.records.queries.descriptions import may_work_from, newest
from turnscrew.web.records.queries.rebuilds import rebuilds_of, recorders_of
from turnscrew.web.records.services import bench, bench_recording, descriptions, people
from turnscrew.web.records.services.bench import Told
from turnscrew.web.records.services.refusal import RefusedError
from web.conftest import person
from web.counter.worked import describe, kitted, taken, text_of, work
from web.counter_case import signed_in

LINE = 38
"""A Pellorin of the example batch with a fan that is worn."""

SMALL = """\
device: Small box
parts:
  bottom: {is: frame, fixed: yes}
  lid: {is: cover}
joints:
  lid screws: {holds: lid to bottom, screw: {drive: H1, length_mm: 4}, n: 4}
"""


@pytest.fixture
def described(sallowmere, lead, now) -> Batch:
    describe(sallowmere, lead, now)
    return sallowmere


def shown(answer) -> str:
    told = re.sub("<[^>]+>", " ", answer.content.decode())
    return re.sub(r"\s+", " ", told)


def edited(client: Client, model: str, text: str, written_from: int = 1, **more: str):
    entered = {"act": "edit", "text": text, "written_from": written_from, **more}
    return client.post(f"/descriptions/{model}/", entered, follow=True)


def test_it_lists_the_version_worked_from(described, lead, helper, clock) -> None:
    descriptions.let_try(newest("R50"), helper, by=lead)

    page = shown(signed_in(helper).get("/descriptions/"))

    assert re.search(r"L240 1 released Imke Vasterling 1 Feb 2027", page)
    assert re.search(
        r"R50 1 tried by another Imke Vasterling 1 Feb 2027 Joss Harrowell", page
    )


def test_it_takes_a_description_in_with_its_fault_table(lead, clock) -> None:
    device, faults = (
        SimpleUploadedFile(name, text_of(name).encode())
        for name in ("pellorin-l240.device.yaml", "pellorin-l240.faults.yaml")
    )
    entered = {"act": "bring", "model": "L240", "file": device, "faults": faults}

    answer = signed_in(lead).post("/descriptions/", entered, follow=True)

    kept = Description.objects.get()
    assert "L240: version 1, released" in shown(answer)
    assert kept.text == text_of("pellorin-l240.device.yaml")
    assert kept.faults_text == text_of("pellorin-l240.faults.yaml")


def test_it_names_every_problem_of_a_file_and_keeps_its_text(lead, clock) -> None:
    wrong = SMALL.replace("is: cover", "is: coverr").replace("H1", "Q9")
    file = SimpleUploadedFile("small.device.yaml", wrong.encode())
    entered = {"act": "bring", "model": "BOX", "file": file}

    answer = signed_in(lead).post("/descriptions/", entered)

    page = answer.content.decode()
    assert 422 == answer.status_code
    assert "description:4:" in page and "coverr" in page
    assert "description:6:" in page and "Q9" in page
    assert 'value="BOX"' in page
    assert "screw: {drive: Q9, length_mm: 4}" in page.split("<textarea")[1]
    assert not Description.objects.exists()


def test_it_refuses_a_file_that_is_no_text(lead, clock) -> None:
    file = SimpleUploadedFile("small.device.yaml", b"device: \xff\xfe")
    entered = {"act": "bring", "model": "BOX", "file": file}

    answer = signed_in(lead).post("/descriptions/", entered)

    assert 422 == answer.status_code
    assert "small.device.yaml:1:9" in answer.content.decode()


def test_it_lets_no_helper_bring_in_more_than_a_draft(helper, clock) -> None:
    text = f"{SMALL}release: released\n"
    entered = {"act": "bring", "model": "BOX", "text": text}

    signed_in(helper).post("/descriptions/", entered)

    assert "draft" == newest("BOX").state


def test_it_shows_the_desk_but_takes_nothing_from_it(described, desk, clock) -> None:
    client = signed_in(desk)
    entered = {"act": "bring", "model": "BOX", "text": SMALL}

    assert 200 == client.get("/descriptions/L240/").status_code
    assert 404 == client.post("/descriptions/", entered).status_code
    assert 404 == edited(client, "L240", SMALL).status_code


def test_it_gives_back_every_text_as_it_came(described, helper, clock) -> None:
    version = newest("V80")

    answer = signed_in(helper).get(f"/descriptions/text/{version.ref}.device.yaml")

    assert text_of("tavistle-v80.device.yaml") == answer.content.decode()
    assert 'filename="V80-1.device.yaml"' in answer["Content-Disposition"]


def test_it_lets_only_what_was_changed_fall_back(described, helper, clock) -> None:
    text = newest("L240").text
    old = "length_mm: 4.0, head: pan, head_mm: 3.8, stack: [rubber sleeve]"
    assert 1 == text.count(old)
    changed = text.replace(old, old.replace("4.0", "4.5"))

    answer = edited(signed_in(helper), "L240", changed.replace("\n", "\r\n"))

    version = newest("L240")
    assert changed == version.text
    assert (2, "released", ["fan screws"]) == (
        version.number, version.state, version.edited,
    )  # fmt: skip
    assert "changed: fan screws" in shown(answer)
    assert "Draft again, edited since it was tried: fan screws" in shown(answer)


def test_it_keeps_no_version_twice(described, lead, clock) -> None:
    text = newest("L240").text

    answer = edited(signed_in(lead), "L240", text.replace("\n", "\r\n"))

    assert "nothing new in it, version 1 stands" in shown(answer)
    assert 1 == Description.objects.filter(model="L240").count()


SCREWS = "length_mm: 4.0, head: pan, head_mm: 3.8, stack: [rubber sleeve]"


def of_another(by: Person, now) -> Description:
    """Let another change the screws of the fan while a page shows version 1."""
    text = newest("L240").text.replace(SCREWS, SCREWS.replace("4.0", "4.5"))
    return descriptions.bring("L240", text, by=by, now=now).description


def field_of(page: str, name: str) -> str:
    return html.unescape(re.search(rf'value="([^"]*)"[^>]* id="edit-{name}"', page)[1])


def test_it_sends_the_text_with_the_version_it_is_from(
    described, lead, helper, now, clock
) -> None:
    of_another(lead, now)

    page = signed_in(helper).get("/descriptions/L240/").content.decode()

    assert "2" == field_of(page, "written_from")


def test_it_undoes_nobody_s_change_by_an_old_page(
    described, lead, helper, now, clock
) -> None:
    mine = newest("L240").text.replace("# Places", "# All my places", 1)
    theirs = of_another(lead, now)

    answer = edited(signed_in(helper), "L240", mine)

    page = answer.content.decode()
    told = "found version 2 by Imke Vasterling, other in fan screws, wanted that put"
    assert (422, theirs) == (answer.status_code, newest("L240"))
    assert told in shown(answer)
    assert "# All my places" in page.split('id="edit-text"')[1].split("</textarea>")[0]
    assert "1" == field_of(page, "written_from")


def test_it_takes_the_text_once_it_is_written_from_the_newest(
    described, lead, helper, now, clock
) -> None:
    mine = of_another(lead, now).text.replace("# Places", "# All my places", 1)

    answer = edited(signed_in(helper), "L240", mine, written_from=2)

    assert 200 == answer.status_code
    assert (3, mine) == (newest("L240").number, newest("L240").text)


def test_it_says_that_the_fault_table_came_anew(
    described, lead, helper, now, clock
) -> None:
    first = newest("L240")
    table = first.faults_text + "# counted anew\n"
    descriptions.bring("L240", first.text, by=lead, now=now, faults_text=table)

    answer = edited(
        signed_in(helper), "L240", first.text, faults_text=first.faults_text
    )

    assert "other in the fault table, wanted" in shown(answer)
    assert table == newest("L240").faults_text


def test_it_brings_no_withdrawn_text_back_by_an_old_page(
    described, lead, helper, now, clock
) -> None:
    second = of_another(lead, now)
    descriptions.withdraw(second, by=lead)
    mine = second.text.replace("# Places", "# All my places", 1)

    answer = edited(signed_in(helper), "L240", mine, written_from=2)

    assert "found version 1 by Imke Vasterling" in shown(answer)
    assert 1 == newest("L240").number


def test_it_says_it_in_german_too(described, lead, helper, now, clock) -> None:
    of_another(lead, now)
    people.speak_to(helper, "de", now=now)

    with translation.override("en"):
        told = shown(edited(signed_in(helper), "L240", SMALL))

    assert "gefunden Version 2 von Imke Vasterling" in told
    assert "Geschrieben aus Version" in told


def test_it_keeps_lines_on_what_was_edited_for_a_lead(
    described, lead, helper, now
) -> None:
    text = newest("L240").text.replace("# Places", "# All places", 1)
    kept = descriptions.bring("L240", text, by=lead, now=now)
    Description.objects.filter(pk=kept.description.pk).update(edited=["fan plug"])
    job = kitted(described, LINE, lead, now)

    run = bench_runs.run_in(taken(job, helper, now))

    by_lead = {line.name for line in run.lines if line.sign_off == "lead"}
    assert "fan plug" in {line.name for line in run.lines}
    assert {"fan plug"} == by_lead & {"fan plug", "fan", "fan screws"}


def test_it_notes_what_a_person_corrects_of_a_recording(
    sallowmere, lead, helper, now, clock
) -> None:
    draft = recorded(sallowmere, lead, now)
    assert "as recorded" in draft.text
    client = signed_in(helper)

    entered = {"act": "correct", "where": "joints.base screws.n", "value": "9"}
    answer = client.post("/descriptions/L240/", entered, follow=True)

    after = newest("L240")
    joint = read_device(after.text).joints["base screws"]
    assert "version 2, draft; changed: base screws" in shown(answer)
    assert 9 == joint.n_pieces
    assert ("told", helper.ref) == (joint.origin.how, joint.origin.by)
    untouched = read_device(after.text).parts["lower cover"]
    assert "seen" == untouched.origin.how


def recorded(batch: Batch, by: Person, now) -> Description:
    job = kitted(batch, LINE, by, now)
    row = bench_recording.begin(job, by=by, now=now, bench="bench 1")
    told = [
        {"removal": "joint", "kind": "screw", "name": "base screws", "n": 7},
        {"removal": "part", "kind": "cover", "name": "lower cover"},
    ]
    for at, facts in enumerate(told):
        stroke = Told(f"recorded-{at}", row.ref, "record", 0, now, facts)
        bench_recording.tell(stroke, by=by, now=now)
    bench_recording.turn_round(job, by=by, now=now, is_time_up=lambda: True)
    return newest(batch.jobs.get(line=LINE).model)


@pytest.mark.parametrize(
    ("where", "value", "told"),
    [
        ("joints.no such.n", "9", "wanted joints of base screws"),
        ("joints.base screws.n", "many", "found many"),
        ("joints.base screws.n", "[", "found"),
        ("joints.base screws.n", "null", "found null"),
    ],
)
def test_it_refuses_a_correction_that_cannot_stand(
    sallowmere, lead, now, clock, where, value, told
) -> None:
    recorded(sallowmere, lead, now)
    entered = {"act": "correct", "where": where, "value": value}

    answer = signed_in(lead).post("/descriptions/L240/", entered)

    assert 422 == answer.status_code
    assert told in shown(answer)
    assert 1 == Description.objects.count()


def test_it_asks_for_what_the_next_device_must_show(
    sallowmere, lead, now, clock
) -> None:
    recorded(sallowmere, lead, now)

    page = shown(signed_in(lead).get("/descriptions/L240/"))

    assert "How long is base screws under the head?" in page
    assert "joints.base screws" in page
    assert "1 opening on record" in page
    assert 10 >= len(re.findall(r"\?", page.split("Debt list")[0]))


def test_it_lets_a_helper_work_by_a_lead_s_word_alone(
    described, lead, helper, clock
) -> None:
    Description.objects.filter(model="L240").update(state="draft")
    version, client = newest("L240"), signed_in(lead)
    assert may_work_from(version, helper)
    assert (
        404
        == signed_in(helper)
        .post("/descriptions/L240/", {"act": "let_try", "who": helper.ref})
        .status_code
    )

    client.post("/descriptions/L240/", {"act": "let_try", "who": helper.ref})

    assert "" == may_work_from(newest("L240"), helper)


def drafted(model: str) -> Description:
    Description.objects.filter(model=model).update(state="draft", tried_by=None)
    return newest(model)


def test_it_is_tried_by_another_after_a_clean_rebuild(
    described, lead, helper, now, clock
) -> None:
    descriptions.let_try(drafted("L240"), helper, by=lead)
    job = kitted(described, LINE, lead, now)

    work(taken(job, helper, now), helper, now, other=lead)

    version = newest("L240")
    assert ("tried by another", helper) == (version.state, version.tried_by)
    page = signed_in(lead).post("/descriptions/L240/", {"act": "release"}, follow=True)
    assert "version 1 released" in shown(page)
    assert ("released", lead) == (newest("L240").state, newest("L240").released_by)


def test_it_tells_where_the_rebuilder_asked_and_how_long_it_took(
    described, lead, helper, now, clock
) -> None:
    descriptions.let_try(drafted("L240"), helper, by=lead)
    asked: list[str] = []

    def asks_twice(line: Line):
        if line.does != "undo" or len(asked) == 2:
            return None
        asked.append(line.name)
        return "differs", {"what": "asked"}

    row = taken(kitted(described, LINE, lead, now), helper, now)
    work(row, helper, now, other=lead, first=asks_twice, seconds=21.0)

    (one,) = rebuilds_of("L240")
    lines = [line for line in bench_runs.run_in(row).lines if line.phase != "final"]
    assert (1, 0, 0, 2, 0) == (
        one.version, one.n_left_over, one.n_wrong_place, one.n_questions, one.n_stops,
    )  # fmt: skip
    assert "; ".join(f"undo {name}" for name in asked) == one.asked_at
    # The first tap of a day and the last one, just told, have no time before them; two
    # questions took a tap's time each.
    taps = len(lines) - 2 + 2
    assert taps * 21 / 60 == pytest.approx(one.minutes, abs=0.51)
    assert sum(line.seconds for line in lines) / 60 == pytest.approx(
        one.said_min, abs=0.51
    )
    page = shown(signed_in(lead).get("/descriptions/L240/"))
    assert f"Joss Harrowell 1 Feb 2027 0 0 2: {one.asked_at} 0 {one.minutes}" in page
    assert "tried by another" == newest("L240").state
    assert () == audited().breaks


def test_it_counts_a_new_path_as_a_stop_of_the_rebuild(
    described, lead, helper, now, clock
) -> None:
    descriptions.let_try(drafted("L240"), helper, by=lead)
    row = taken(kitted(described, LINE, lead, now), helper, now)
    at = work(row, helper, now, other=lead, until=lambda line: line.phase == "refit")
    change = bench.Change("screw missing")
    again = bench.plan_anew(row, change, by=helper, now=at, is_time_up=lambda: True)

    work(again, helper, at, other=lead)

    (one,) = rebuilds_of("L240")
    assert (1, 0) == (one.n_stops, one.n_questions)


def test_it_proves_nothing_by_who_brought_it_in(described, lead, helper, now) -> None:
    drafted("L240")
    job = kitted(described, LINE, lead, now)

    work(taken(job, lead, now), lead, now, other=helper)

    assert "draft" == newest("L240").state


def test_it_proves_nothing_by_one_part_done_by_a_recorder(
    described, lead, helper, now
) -> None:
    descriptions.let_try(drafted("L240"), helper, by=lead)
    job = kitted(described, LINE, lead, now)
    row = taken(job, helper, now)
    work(row, lead, now, other=helper, until=lambda line: line.phase == "work")

    work(row, helper, now, other=lead)

    assert "draft" == newest("L240").state


def proud(line: Line):
    is_so = any("stands proud" in point for point in line.points)
    return ("answer", {"answer": "no"}) if is_so else None


def beside(line: Line):
    is_so = line.asks == "look" and line.name == "bench"
    return ("answer", {"answer": "no"}) if is_so else None


@pytest.mark.parametrize("slip", [proud, beside])
def test_it_is_a_draft_again_after_a_rebuild_that_went_wrong(
    described, lead, helper, now, slip
) -> None:
    Description.objects.filter(model="L240").update(state="tried by another")
    descriptions.let_try(newest("L240"), helper, by=lead)
    told: list[str] = []

    def once(line: Line):
        said = slip(line)
        # Who is asked to look a second time tells the slip too.
        if said is None or told:
            return None
        told.append(line.says)
        other = {"other": lead.ref} if line.second_look else {}
        return said[0], {**said[1], **other}

    job = kitted(described, LINE, lead, now)
    work(taken(job, helper, now), helper, now, other=lead, first=once)

    assert told
    assert ("draft", None) == (newest("L240").state, newest("L240").tried_by)


def test_it_keeps_an_old_release_whatever_a_rebuild_shows(
    described, lead, helper, now
) -> None:
    job = kitted(described, LINE, lead, now)

    work(taken(job, helper, now), helper, now, other=lead, first=proud_once())

    assert "released" == newest("L240").state


def proud_once():
    told: list[int] = []

    def once(line: Line):
        if told or beside(line) is None:
            return None
        told.append(line.number)
        return beside(line)

    return once


def test_it_clears_what_was_edited_by_a_rebuild_with_the_lead_at_those_lines(
    described, lead, helper, now
) -> None:
    Description.objects.filter(model="L240").update(edited=["fan plug"])
    job = kitted(described, LINE, lead, now)
    row = taken(job, helper, now)
    with pytest.raises(RefusedError, match="sign-off: found none for lead"):
        work(row, helper, now, other=lead)

    is_for_lead = {line.number for line in bench_runs.run_in(row).lines
                   if line.sign_off == "lead"}  # fmt: skip
    while not bench_runs.state_and_run(row)[0].is_done(bench_runs.run_in(row)):
        work(row, helper, now, other=lead, until=lambda one: one.number in is_for_lead)
        work(
            row,
            lead,
            now,
            other=helper,
            until=lambda one: one.number not in is_for_lead,
        )

    assert ("released", []) == (newest("L240").state, newest("L240").edited)


def test_it_counts_recorders_of_the_model_too(sallowmere, lead, helper, now) -> None:
    recorded(sallowmere, lead, now)
    way_back = BenchRun.objects.get(kind="path")

    assert frozenset({lead.ref}) == recorders_of(way_back)

    work(way_back, helper, now, other=lead)
    # Put back by another, but opened by who recorded it: not by the text alone.
    assert "draft" == newest("L240").state


def test_it_releases_nothing_that_was_not_tried(described, lead, clock) -> None:
    drafted("L240")

    assert "Release it" not in shown(signed_in(lead).get("/descriptions/L240/"))
    with pytest.raises(RefusedError, match="wanted it tried by another"):
        descriptions.release(newest("L240"), by=lead)


def test_it_releases_nothing_with_a_joint_that_holds_nothing(lead, now) -> None:
    text = SMALL.replace("holds: lid to bottom, ", "") + "release: draft\n"
    descriptions.bring("BOX", text, by=lead, now=now)
    Description.objects.update(state="tried by another")

    with pytest.raises(RefusedError, match="lid screws"):
        descriptions.release(newest("BOX"), by=lead)


def test_it_withdraws_a_version_and_says_what_is_worked_from(
    described, lead, now, clock
) -> None:
    text = newest("L240").text.replace("# Places", "# All places", 1)
    second = descriptions.bring("L240", text, by=lead, now=now).description
    client = signed_in(lead)

    entered = {"act": "withdraw", "version": second.ref}
    answer = client.post("/descriptions/L240/", entered, follow=True)
    assert "version 2 withdrawn; worked from now: version 1" in shown(answer)

    entered = {"act": "withdraw", "version": newest("L240").ref}
    answer = client.post("/descriptions/L240/", entered, follow=True)
    assert "nobody works from a description of this model" in shown(answer)
    assert "Version 2: withdrawn" in shown(client.get("/descriptions/L240/"))


def test_it_keeps_release_and_withdrawal_for_a_lead(described, helper, clock) -> None:
    client = signed_in(helper)
    Description.objects.filter(model="L240").update(state="tried by another")

    for act in ("release", "withdraw", "let_try"):
        answer = client.post("/descriptions/L240/", {"act": act})
        assert 404 == answer.status_code, act


@pytest.mark.parametrize("name", ["command-card", "length-scale", "emergency-card"])
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_it_gives_the_cards_of_the_bench(desk, clock, name, size) -> None:
    answer = signed_in(desk).get(f"/descriptions/papers/{name}-{size}.pdf")

    assert "application/pdf" == answer["Content-Type"]
    assert answer.content.startswith(b"%PDF")


def test_it_starts_no_work_of_a_helper_on_a_draft(described, lead, helper, now) -> None:
    drafted("L240")
    job = kitted(described, LINE, lead, now)

    with pytest.raises(RefusedError, match="wanted it released"):
        bench.begin(job, by=helper, now=now, place=lambda: "b", is_time_up=lambda: True)


def test_it_lets_who_left_try_nothing(described, lead, clock) -> None:
    gone = person("gone", "Wilm Tarrant", Person.HELPER)
    Person.objects.filter(pk=gone.pk).update(has_left=True)

    entered = {"act": "let_try", "who": gone.ref}
    answer = signed_in(lead).post("/descriptions/L240/", entered)

    assert 422 == answer.status_code
    assert newest("L240").may_try is None
